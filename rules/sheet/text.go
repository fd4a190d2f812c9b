package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/source"
	"placketeer/rules"
)

// writeText writes for a terminal.
func writeText(sheets []*Garment, o Options, k kind) string {
	t := &text{o: o}
	for i, s := range sheets {
		if i > 0 {
			t.line("")
		}
		t.check(s)
	}
	return t.String()
}

type text struct {
	strings.Builder
	o Options
}

func (t *text) line(format string, args ...any) {
	fmt.Fprintf(t, format, args...)
	t.WriteByte('\n')
}

func (t *text) check(s *Garment) {
	for _, f := range merge(s) {
		t.line("%s: %s: %s [%s]", f.pos, f.Severity, source.Safe(f.Message), f.Rule)
		for _, x := range f.Fixes {
			t.line("  try: %s", source.Safe(x.Says))
		}
	}
	t.line("%s: %s", source.Safe(s.Garment), s.Verdict)
}

// merge puts findings that say the same of several sizes together.
func merge(s *Garment) []Finding {
	var out []Finding
	for _, f := range s.Findings {
		i := slices.IndexFunc(out, func(g Finding) bool {
			return g.Rule == f.Rule && g.Severity == f.Severity && g.Closure == f.Closure && g.Message == f.Message
		})
		if i < 0 {
			f.sizes = nil
			out = append(out, f)
			i = len(out) - 1
		}
		if f.Size != "" {
			out[i].sizes = append(out[i].sizes, f.Size)
		}
	}
	return out
}

var _ = rules.Note
