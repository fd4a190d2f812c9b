package guide

import (
	"fmt"
	"image/color"
	"strings"
	"sync"

	"github.com/tdewolff/canvas"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"placketeer/catalog/text"
)

// faces are the embedded type faces, and what they have set so far. They are
// not safe for use by two at once.
type faces struct {
	font  [2]*canvas.Font // regular, bold
	face  map[faceKey]*canvas.FontFace
	lines map[lineKey]*canvas.Text
}

type faceKey struct {
	size float64
	bold bool
	grey uint8
}

type lineKey struct {
	text string
	faceKey
}

// shelf keeps faces between drawings: reading a font costs more than
// setting a page of text.
var shelf = sync.Pool{New: func() any {
	f := &faces{face: map[faceKey]*canvas.FontFace{}, lines: map[lineKey]*canvas.Text{}}
	for i, data := range [][]byte{goregular.TTF, gobold.TTF} {
		font, err := canvas.LoadFont(data, 0, [...]canvas.FontStyle{canvas.FontRegular, canvas.FontBold}[i])
		if err != nil {
			panic(fmt.Sprintf("embedded font: %v", err))
		}
		f.font[i] = font
	}
	return f
}}

func at(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// of is a face. Sizes are in millimetres.
func (f *faces) of(k faceKey) *canvas.FontFace {
	face := f.face[k]
	if face == nil {
		face = f.font[at(k.bold)].Face(k.size/pointSize, color.RGBA{k.grey, k.grey, k.grey, 255})
		f.face[k] = face
	}
	return face
}

// set is a line of text ready to draw.
func (f *faces) set(s string, k faceKey) *canvas.Text {
	key := lineKey{s, k}
	t := f.lines[key]
	if t == nil {
		if len(f.lines) > 4096 {
			clear(f.lines)
		}
		t = canvas.NewTextLine(f.of(k), s, canvas.Left)
		f.lines[key] = t
	}
	return t
}

func (f *faces) width(s string, size float64, bold bool) float64 {
	return f.set(s, faceKey{size: size, bold: bold}).Width
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
		if f.font[0].SFNT.GlyphIndex(r) == 0 {
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
	var lines []string
	line := ""
	for _, w := range strings.Fields(f.printable(s)) {
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
