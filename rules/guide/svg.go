package guide

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"placketeer/catalog/text"
)

// svgOf writes one drawing as SVG, in millimetres. Each kind of thing is a
// group with its class and data; the faces are embedded with the letters that
// are used.
func svgOf(l *list, w, h float64, name string) []byte {
	var s svgWriter
	s.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	fmt.Fprintf(&s, `<svg xmlns="http://www.w3.org/2000/svg" width="%[1]smm" height="%[2]smm" viewBox="0 0 %[1]s %[2]s" font-family="%[3]s,sans-serif" stroke-linejoin="round">`,
		short(w), short(h), fontFamily)
	s.WriteString("\n<title>")
	s.text(name)
	s.WriteString("</title>\n<style>")
	s.fonts(l)
	s.WriteString("text{white-space:pre}</style>\n")
	fmt.Fprintf(&s, `<rect width="%s" height="%s" fill="#fff"/>`+"\n", short(w), short(h))
	for n := range l.items {
		i := &l.items[n]
		if n == 0 || i.class != l.items[n-1].class || !slices.Equal(i.data, l.items[n-1].data) {
			if n > 0 {
				s.WriteString("</g>\n")
			}
			s.group(i)
		}
		s.item(i, l.faces)
	}
	if len(l.items) > 0 {
		s.WriteString("</g>\n")
	}
	s.WriteString("</svg>\n")
	return s.Bytes()
}

type svgWriter struct{ bytes.Buffer }

// text writes words as XML.
func (s *svgWriter) text(words string) {
	xml.EscapeText(s, []byte(text.Safe(words))) // a Buffer gives no errors
}

// point writes a place behind a command.
func (s *svgWriter) point(command string, p pt) {
	s.WriteString(command + short(p.x) + " " + short(p.y))
}

// group begins a group.
func (s *svgWriter) group(i *item) {
	s.WriteString(`<g class="`)
	s.text(i.class)
	for n := 0; n+1 < len(i.data); n += 2 {
		s.WriteString(`" ` + i.data[n] + `="`)
		s.text(i.data[n+1])
	}
	s.WriteString(`">`)
}

func (s *svgWriter) item(i *item, f *faces) {
	if i.pen == nil {
		x, y := short(i.pts[0].x), short(i.pts[0].y)
		fmt.Fprintf(s, `<text x="%s" y="%s" font-size="%s"`, x, y, short(i.size))
		if i.bold {
			s.WriteString(` font-weight="700"`)
		}
		if i.grey > 0 {
			s.WriteString(` fill="` + hex(i.grey) + `"`)
		}
		if i.up {
			fmt.Fprintf(s, ` transform="rotate(-90 %s %s)"`, x, y)
		}
		// The length keeps the words in their place in a viewer that takes
		// another face.
		fmt.Fprintf(s, ` textLength="%s" lengthAdjust="spacingAndGlyphs">`, short(f.width(i.text, i.size, i.bold)))
		s.text(i.text)
		s.WriteString(`</text>`)
		return
	}
	s.WriteString(`<path d="`)
	if c, r := i.pts[0], short(i.r); i.r > 0 {
		// two half circles
		half := "A" + r + " " + r + " 0 01"
		s.point("M", pt{c.x - i.r, c.y})
		s.point(half, pt{c.x + i.r, c.y})
		s.point(half, pt{c.x - i.r, c.y})
	} else {
		for n, p := range i.pts {
			s.point([]string{"M", "L"}[min(n, 1)], p)
		}
	}
	if i.loop || i.r > 0 {
		s.WriteString("z")
	}
	if i.pen.fill {
		s.WriteString(`" fill="` + hex(i.pen.grey) + `"/>`)
		return
	}
	s.WriteString(`" fill="none" stroke="` + hex(i.pen.grey) + `" stroke-width="` + short(i.pen.width))
	for n, d := range i.pen.dash {
		s.WriteString([]string{`" stroke-dasharray="`, " "}[min(n, 1)] + short(d))
	}
	s.WriteString(`"/>`)
}

func hex(grey uint8) string { return fmt.Sprintf("#%02[1]x%02[1]x%02[1]x", grey) }

// short is a length to a hundredth of a micrometre, as short as that goes.
func short(mm float64) string {
	return strconv.FormatFloat(math.Round(mm*1e5)/1e5, 'f', -1, 64)
}

// fonts embeds the letters that are used.
func (s *svgWriter) fonts(l *list) {
	for n, weight := range []int{400, 700} {
		used := map[rune]bool{}
		for i := range l.items {
			if t := &l.items[i]; t.pen == nil && at(t.bold) == n {
				for _, r := range t.text {
					used[r] = true
				}
			}
		}
		if len(used) == 0 {
			continue
		}
		letters := make([]rune, 0, len(used))
		for r := range used {
			letters = append(letters, r)
		}
		slices.Sort(letters)
		data := fpdf.UTF8CutFont(fontData[n], string(letters))
		sumUp(data)
		fmt.Fprintf(s, "@font-face{font-family:%s;font-weight:%d;src:url(data:font/ttf;base64,%s)}\n",
			fontFamily, weight, base64.StdEncoding.EncodeToString(data))
	}
}

// sumUp makes the words of a font add up to what the head table of the
// OpenType specification says: fpdf forgets to carry.
func sumUp(font []byte) {
	const adjustment, want = 8, 0xB1B0AFBA
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		entry := font[12+16*i:]
		if string(entry[:4]) == "head" {
			head := font[binary.BigEndian.Uint32(entry[8:]):]
			binary.BigEndian.PutUint32(head[adjustment:], 0)
			binary.BigEndian.PutUint32(head[adjustment:], want-checksum(font))
		}
	}
}

// checksum adds up a font's words.
func checksum(font []byte) uint32 {
	var sum uint32
	for ; len(font) >= 4; font = font[4:] {
		sum += binary.BigEndian.Uint32(font)
	}
	for i, c := range font {
		sum += uint32(c) << (24 - 8*i)
	}
	return sum
}
