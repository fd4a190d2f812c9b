package rules

import (
	"slices"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/source"
)

// What the file and its variants have alike is one entry, with the names of those
// that have it where not all do; of the changes those stay that help in all, and
// where none does, each with its variant. What is settled for nothing is told only
// where no variant needs it.
func TestWhatVariantsShare(t *testing.T) {
	fix := func(says, key string, lines ...string) Fix {
		f := Fix{Says: says, With: []catalog.With{catalog.Set(key, says)}, Clears: true, TOML: lines}
		for _, l := range lines {
			f.Lines = append(f.Lines, source.Edit{Text: l})
		}
		return f
	}
	found := func(rule string, sev Severity, fixes ...Fix) Finding {
		return Finding{Rule: rule, Severity: sev, format: rule, Stuck: "nothing found", Fixes: fixes}
	}
	of := func(variant string, fs ...Finding) *Planned {
		return &Planned{Plan: Plan(mustRead(t, variant)).Plan, Findings: fs}
	}
	narrow, drop := fix("narrow", "a", "a = 1"), fix("drop", "b")
	settled := SettledRule.Name
	file := of("", found("one", Note), found("two", Caution, narrow, drop), found("all", Conflict, narrow), found(settled, Note), found("apart", Note, narrow))
	long := of("long", found("two", Caution, drop, narrow), found("all", Conflict, drop, narrow), found("apart", Note, drop))
	short := of("short", found("all", Conflict, narrow), found(settled, Note))
	es := GatherAll([]*Planned{file, long, short}, func(string) bool { return true })
	var got []string
	for _, e := range es {
		got = append(got, e.Rule)
	}
	// The gravest first, else in the order found; settled for nothing in two of three.
	if want := []string{"all", "two", "one", "apart"}; !slices.Equal(got, want) {
		t.Fatalf("%v, want %v", got, want)
	}
	says := func(e Entry) (out []string) {
		for _, f := range e.Fixes {
			out = append(out, f.Says)
		}
		return out
	}
	for i, want := range []struct {
		in, fixes []string
		stuck     string
	}{
		{nil, []string{"narrow"}, ""}, // all have it: no names
		{[]string{"", "long"}, []string{"narrow", "drop"}, ""},
		{[]string{""}, nil, "nothing found"},
		{[]string{"", "long"}, []string{"narrow, in the file itself", "drop, in long"}, ""},
	} {
		if e := es[i]; !slices.Equal(e.In, want.in) || !slices.Equal(says(e), want.fixes) || e.Stuck != want.stuck {
			t.Errorf("%s: in %q, %q, %q; want %+v", e.Rule, e.In, says(e), e.Stuck, want)
		}
	}
	if f := es[0].Fixes[0]; !slices.Equal(f.TOML, []string{"a = 1"}) || len(f.Lines) != 1 {
		t.Errorf("written twice: %q", f.TOML)
	}
	// What settles nothing in any of them is told, and what no change helps stays so.
	if es := GatherAll([]*Planned{short, short}, func(string) bool { return true }); len(es) != 2 || es[1].Rule != settled || es[1].Stuck != "nothing found" || es[0].Stuck != "" {
		t.Errorf("%+v", es)
	}
	// Of one file alone nothing is said of variants.
	if es := GatherAll([]*Planned{file}, func(string) bool { return true }); len(es) != 5 || es[0].In != nil {
		t.Errorf("%d entries, in %q", len(es), es[0].In)
	}
	// Alike but for one line more in a variant: both are written.
	more := fix("narrow", "a", "a = 1", "[variant.long]")
	both := GatherAll([]*Planned{of("long", found("all", Conflict, narrow)), of("short", found("all", Conflict, more))}, func(string) bool { return true })
	if f := both[0].Fixes[0]; !slices.Equal(f.TOML, []string{"a = 1", "[variant.long]"}) || len(f.Lines) != 2 {
		t.Errorf("%q, %d lines", f.TOML, len(f.Lines))
	}
	// A line that is taken out stands in no text.
	less := fix("narrow", "a", "a = 1")
	less.Lines = append(less.Lines, source.Edit{Text: ""})
	both = GatherAll([]*Planned{of("long", found("all", Conflict, narrow)), of("short", found("all", Conflict, less))}, func(string) bool { return true })
	if f := both[0].Fixes[0]; !slices.Equal(f.TOML, []string{"a = 1"}) || len(f.Lines) != 2 {
		t.Errorf("%q, %d lines", f.TOML, len(f.Lines))
	}
}

func mustRead(t *testing.T, variant string) *catalog.Garment {
	t.Helper()
	g, err := edgeGarment(edgeCoat, "garment=Slip coat", "")
	if err != nil {
		t.Fatal(err)
	}
	g.Variant = variant
	return g
}
