package trial

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// Maker writes random garments.
type Maker struct {
	*rand.Rand
	strings.Builder
	MM    bool     // lengths are in mm, not in inches
	Sizes []string // of the garment; none or one: lengths are the same for all
}

// New is a maker whose garments depend on the seed and the stream alone.
func New(seed, stream uint64) *Maker { return &Maker{Rand: rand.New(rand.NewPCG(seed, stream))} }

// Add writes a line.
func (m *Maker) Add(format string, args ...any) { fmt.Fprintf(m, format+"\n", args...) }

// Chance is true so often: 0 never, 1 always.
func (m *Maker) Chance(p float64) bool { return m.Float64() < p }

// One is one of the words.
func (m *Maker) One(words ...string) string { return words[m.IntN(len(words))] }

// Length is one between lo and hi mm, to a step in the garment's units.
func (m *Maker) Length(lo, hi float64) string {
	x := lo + m.Float64()*(hi-lo)
	if m.MM {
		return fmt.Sprintf("\"%.1f mm\"", x)
	}
	return fmt.Sprintf("\"%d/16 in\"", max(1, int(x/25.4*16)))
}

// Sized is a length, one for each size or for all.
func (m *Maker) Sized(lo, hi float64) string {
	if len(m.Sizes) < 2 || m.Chance(0.4) {
		return m.Length(lo, hi)
	}
	parts := make([]string, len(m.Sizes))
	for i, s := range m.Sizes {
		parts[i] = s + " = " + m.Length(lo, hi)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// Begin writes the name of a garment and its units.
func (m *Maker) Begin() {
	m.Reset()
	m.MM, m.Sizes = m.Chance(0.5), nil
	units := "in"
	if m.MM {
		units = "mm"
	}
	m.Add("garment = \"Quay coat %d (invented)\"\nunits = %q", m.IntN(1000), units)
}

// SomeSizes writes two of the sizes, or more.
func (m *Maker) SomeSizes(names ...string) {
	m.Sizes = names[:2+m.IntN(len(names)-1)]
	m.Add("[sizes]\nnames = [\"%s\"]", strings.Join(m.Sizes, `", "`))
}
