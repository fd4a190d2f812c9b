package desk

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// sarifSchema says where the schema of the OASIS standard is, version 2.1.0.
const sarifSchema = "SARIF_SCHEMA"

// All garments there are here, with faults, with changes and with what is
// settled, are valid by the schema of the standard.
func TestSARIFIsValid(t *testing.T) {
	name := os.Getenv(sarifSchema)
	if name == "" && os.Getenv("CI") == "" {
		t.Skipf("%s does not say where the schema of SARIF 2.1.0 is", sarifSchema)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%s: %v", sarifSchema, err)
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(data)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("sarif.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	folders, err := filepath.Glob("../../testdata/rules/*")
	if err != nil {
		t.Fatal(err)
	}
	results, fixes, settled := 0, 0, 0
	for _, d := range append(folders, "../../testdata/garments", "../../testdata/pieces", "../../testdata/plan", "../../testdata/fixes") {
		got := runIn(t, "", nil, "check", d, "--format", "sarif")
		if got.code > ExitConflict {
			t.Fatalf("%s: code %d: %s", d, got.code, got.err)
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(got.out))
		if err != nil {
			t.Fatalf("%s: %v", d, err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", d, err)
		}
		log := sarifOf(t, got)
		results += len(log)
		for _, r := range log {
			fixes += len(r.Fixes)
			settled += len(r.Suppressions)
		}
	}
	if results < 300 || fixes < 100 || settled < 1 {
		t.Errorf("%d results, %d fixes, %d settled: that proves little", results, fixes, settled)
	}
	broken := strings.Replace(runIn(t, coat, nil, "check", "-", "--format", "sarif").out, `"level": "`, `"level": "very `, 1)
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(broken))
	if err != nil {
		t.Fatal(err)
	}
	if schema.Validate(v) == nil {
		t.Error("the schema takes a level that the standard has not")
	}
}

type sarifResult struct {
	RuleID    string
	Level     string
	Locations []struct {
		PhysicalLocation *struct {
			ArtifactLocation struct{ URI string }
			Region           struct{ StartLine, StartColumn int }
		}
	}
	Fixes []struct {
		Description     struct{ Text string }
		ArtifactChanges []struct {
			ArtifactLocation struct{ URI string }
			Replacements     []sarifReplacement
		}
	}
	Suppressions []struct{ Kind, Justification string }
}

type sarifReplacement struct {
	DeletedRegion   struct{ StartLine, StartColumn, EndLine, EndColumn int }
	InsertedContent struct{ Text string }
}

func sarifOf(t *testing.T, got ran) []sarifResult {
	t.Helper()
	var log struct {
		Runs []struct{ Results []sarifResult }
	}
	if err := json.Unmarshal([]byte(got.out), &log); err != nil || len(log.Runs) != 1 {
		t.Fatalf("code %d, %v: %s%s", got.code, err, got.out, got.err)
	}
	return log.Runs[0].Results
}

// replaced is a text with the replacements made as the standard says: each
// region is one of the text as it was, its columns are characters, and the end
// column stands behind what is deleted.
func replaced(t *testing.T, text string, rs []sarifReplacement) string {
	t.Helper()
	lines := strings.SplitAfter(text, "\n")
	offset := func(line, column int) int {
		at := 0
		for _, l := range lines[:line-1] {
			at += len(l)
		}
		return at + len(string([]rune(lines[line-1])[:column-1]))
	}
	type cut struct {
		from, to int
		text     string
	}
	var cuts []cut
	for _, r := range rs {
		d := r.DeletedRegion
		cuts = append(cuts, cut{offset(d.StartLine, d.StartColumn), offset(d.EndLine, d.EndColumn), r.InsertedContent.Text})
	}
	slices.SortStableFunc(cuts, func(a, b cut) int { return b.from - a.from })
	for i, c := range cuts {
		if i > 0 && c.to > cuts[i-1].from {
			t.Fatalf("regions lie over one another: %+v", rs)
		}
		text = text[:c.from] + c.text + text[c.to:]
	}
	return text
}

// A fix, made by whoever reads the log and knows nothing of garments, gives
// the findings that the same change with --with gives.
func TestSARIFFixesMend(t *testing.T) {
	type brief struct{ Rule, Severity, Closure, Size string }
	found := func(got ran) []brief {
		t.Helper()
		var all []struct{ Findings []brief }
		if err := json.Unmarshal([]byte(got.out), &all); err != nil || len(all) != 1 {
			t.Fatalf("code %d: %s", got.code, got.err)
		}
		fs := all[0].Findings // which stand by their places
		slices.SortFunc(fs, func(a, b brief) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
		return fs
	}
	type fix struct{ With []string }
	tried := 0
	for _, name := range []string{"watch-coat", "pilot-coat", "canvas-jacket", "slipway-gilet"} {
		name = "../../testdata/garments/" + name + ".toml"
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{string(data), strings.TrimRight(string(data), "\n")} {
			var all []struct{ Findings []struct{ Fixes []fix } }
			if err := json.Unmarshal([]byte(runIn(t, text, nil, "check", "-", "--as", name, "--format", "json").out), &all); err != nil {
				t.Fatal(err)
			}
			var withs []fix
			for _, f := range all[0].Findings {
				withs = append(withs, f.Fixes...)
			}
			i := 0
			for _, r := range sarifOf(t, runIn(t, text, nil, "check", "-", "--as", name, "--format", "sarif")) {
				for _, x := range r.Fixes {
					c := x.ArtifactChanges[0]
					if c.ArtifactLocation.URI != name {
						t.Errorf("the file is %q", c.ArtifactLocation.URI)
					}
					args := []string{"check", "-", "--as", name, "--format", "json"}
					mended := found(runIn(t, replaced(t, text, c.Replacements), nil, args...))
					for _, w := range withs[i].With {
						args = append(args, "--with", w)
					}
					if want := found(runIn(t, text, nil, args...)); !slices.Equal(mended, want) {
						t.Errorf("%s, %s: %v, with %v it is %v", r.RuleID, x.Description.Text, mended, withs[i].With, want)
					}
					i++
					tried++
				}
			}
			if i != len(withs) {
				t.Errorf("%s: %d fixes, not %d", name, i, len(withs))
			}
		}
	}
	if tried < 10 {
		t.Errorf("only %d fixes", tried)
	}
}

// What a sample has settled is suppressed, with the reason; names of files are
// references, and a change of the command line has no place in one.
func TestSARIFSays(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a coat ü%.toml")
	settled := coat + "[[settled]]\nrule = \"stack-bulky\"\nclosure = \"front\"\nbecause = \"sample <sewn>\"\nhave = \"5.2 mm\"\nneed = \"4 mm\"\n"
	if err := os.WriteFile(name, []byte(strings.Replace(settled, `use = "melton"`, "use = \"melton\"\nthickness = \"2.6 mm\"", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	var why []string
	for _, r := range sarifOf(t, runIn(t, "", nil, "check", name, "--format", "sarif")) {
		p := r.Locations[0].PhysicalLocation
		if !strings.HasPrefix(p.ArtifactLocation.URI, "file:///") || !strings.HasSuffix(p.ArtifactLocation.URI, "/a%20coat%20%C3%BC%25.toml") {
			t.Errorf("a reference %q", p.ArtifactLocation.URI)
		}
		for _, s := range r.Suppressions {
			why = append(why, r.RuleID+": "+s.Kind+": "+s.Justification)
		}
	}
	if !slices.Equal(why, []string{"stack-bulky: inSource: sample <sewn>"}) {
		t.Errorf("suppressed: %q", why)
	}
	for _, r := range sarifOf(t, runIn(t, coat, nil, "check", "-", "--format", "sarif")) {
		if r.Locations[0].PhysicalLocation != nil || r.Fixes != nil {
			t.Errorf("the standard input has a place: %+v", r)
		}
	}
	for _, r := range sarifOf(t, runIn(t, coat, nil, "check", "-", "--as", "coat.toml", "--with", "closure.front.stand.finished=3/8 in", "--format", "sarif")) {
		if uri := r.Locations[0].PhysicalLocation.ArtifactLocation.URI; uri != "coat.toml" {
			t.Errorf("%s stands in %q", r.RuleID, uri)
		}
	}
}
