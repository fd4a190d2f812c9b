package guide

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"placketeer/catalog/text"
)

// fontData are the embedded type faces, regular and bold.
var fontData = [2][]byte{goregular.TTF, gobold.TTF}

// fonts are the type faces, read once.
var fonts = sync.OnceValue(func() (out [2]*sfnt.Font) {
	for i, data := range fontData {
		f, err := sfnt.Parse(data)
		if err != nil {
			panic(fmt.Sprintf("embedded font: %v", err))
		}
		out[i] = f
	}
	return out
})

// faces measure and draw letters. They keep what they have read of the fonts
// and are not safe for use by two at once.
type faces struct {
	buf     sfnt.Buffer
	letters map[letter]*glyph
}

type letter struct {
	r    rune
	bold bool
}

// glyph is a letter in ems: its width, and its outlines, y downwards from
// the baseline.
type glyph struct {
	wide  float64
	loops [][]pt
	drawn bool // loops are read
}

// shelf keeps faces between drawings.
var shelf = sync.Pool{New: func() any { return &faces{letters: map[letter]*glyph{}} }}

func at(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// glyph is a letter of a face, or what the face shows for one it lacks.
func (f *faces) glyph(l letter) *glyph {
	g := f.letters[l]
	if g == nil {
		face, n := fonts()[at(l.bold)], f.index(l)
		em := face.UnitsPerEm()
		wide, err := face.GlyphAdvance(&f.buf, n, fixed.I(int(em)), font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("embedded font, %q: %v", l.r, err))
		}
		g = &glyph{wide: float64(wide) / 64 / float64(em)}
		f.letters[l] = g
	}
	return g
}

// index is the letter's place in its face, 0 where there is none.
func (f *faces) index(l letter) sfnt.GlyphIndex {
	n, err := fonts()[at(l.bold)].GlyphIndex(&f.buf, l.r)
	if err != nil {
		panic(fmt.Sprintf("embedded font, %q: %v", l.r, err))
	}
	return n
}

// outline is a letter's outlines with its curves as short lines, which miss
// them by less than a two-thousandth of an em.
func (f *faces) outline(l letter) [][]pt {
	g := f.glyph(l)
	if g.drawn {
		return g.loops
	}
	g.drawn = true
	face := fonts()[at(l.bold)]
	em := face.UnitsPerEm()
	segments, err := face.LoadGlyph(&f.buf, f.index(l), fixed.I(int(em)), nil)
	if err != nil {
		panic(fmt.Sprintf("embedded font, %q: %v", l.r, err))
	}
	to := func(p fixed.Point26_6) pt {
		return pt{float64(p.X) / 64 / float64(em), float64(p.Y) / 64 / float64(em)}
	}
	var loop []pt
	end := func() {
		if len(loop) > 2 {
			g.loops = append(g.loops, loop)
		}
		loop = nil
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			end()
			loop = append(loop, to(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			loop = append(loop, to(s.Args[0]))
		case sfnt.SegmentOpQuadTo: // TrueType has no other curve
			a, b, c := loop[len(loop)-1], to(s.Args[0]), to(s.Args[1])
			// n chords miss a quadratic by its second difference over 4 n².
			n := max(1, math.Ceil(math.Sqrt(math.Hypot(a.x-2*b.x+c.x, a.y-2*b.y+c.y)*2000/4)))
			for i := 1.0; i <= n; i++ {
				t, u := i/n, 1-i/n
				loop = append(loop, pt{u*u*a.x + 2*u*t*b.x + t*t*c.x, u*u*a.y + 2*u*t*b.y + t*t*c.y})
			}
		}
	}
	end()
	return g.loops
}

// width is how wide a line of text is set, in the unit of the size.
func (f *faces) width(s string, size float64, bold bool) float64 {
	w := 0.0
	for _, r := range s {
		w += f.glyph(letter{r, bold}).wide
	}
	return w * size
}

// printable is s on one line, without what a printer or viewer would obey,
// and with a question mark for what the faces have no letter for.
func (f *faces) printable(s string) string {
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] > 0x7e {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	return strings.Map(func(r rune) rune {
		if f.index(letter{r: r}) == 0 {
			return '?'
		}
		return r
	}, text.Safe(s))
}

// cut shortens s to a width.
func (f *faces) cut(s string, st style, width float64) string {
	s = f.printable(s)
	if f.width(s, st.size, st.bold) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && f.width(string(r)+"…", st.size, st.bold) > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// wrap breaks s between words into lines of a width.
func (f *faces) wrap(s string, st style, width float64) []string {
	var lines, words []string
	for _, w := range strings.Fields(f.printable(s)) {
		if n := len(words) - 1; n >= 0 && together(words[n], w) && f.width(words[n]+" "+w, st.size, st.bold) <= width {
			words[n] += " " + w
			continue
		}
		words = append(words, w)
	}
	line := ""
	for _, w := range words {
		w = f.cut(w, st, width)
		if next := strings.TrimLeft(line+" "+w, " "); f.width(next, st.size, st.bold) <= width {
			line = next
			continue
		}
		lines = append(lines, line)
		line = w
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// together says whether a line is not broken between two words: within a
// length, and round the sign of what is set.
func together(a, b string) bool {
	if a == "=" || strings.HasSuffix(a, " =") || b == "=" {
		return true
	}
	if c := a[len(a)-1]; c < '0' || c > '9' {
		return false
	}
	switch strings.TrimRight(b, ".,;:)") {
	case "in", "mm", "cm", "yd", "m":
		return true
	}
	return b[0] >= '0' && b[0] <= '9' && strings.Contains(b, "/")
}
