package guide

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"
	"slices"
	"strings"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/pdf"
	"github.com/tdewolff/canvas/renderers/rasterizer"
	"github.com/tdewolff/canvas/renderers/svg"
	"github.com/tdewolff/font"
)

// to draws everything on a canvas of that height, moved by dx and dy. Before
// and after are called round each run of things of one class.
func (l *list) to(r canvas.Renderer, high, dx, dy float64, each func(i *item, begin bool)) {
	var last *item
	for n := range l.items {
		i := &l.items[n]
		if each != nil && (last == nil || last.class != i.class || !slices.Equal(last.data, i.data)) {
			if last != nil {
				each(last, false)
			}
			each(i, true)
		}
		last = i
		i.to(r, high, dx, dy, l.faces)
	}
	if each != nil && last != nil {
		each(last, false)
	}
}

func (i *item) to(r canvas.Renderer, high, dx, dy float64, f *faces) {
	at := func(p pt) (x, y float64) { return p.x + dx, high - p.y - dy }
	x, y := at(i.pts[0])
	if i.pen == nil {
		m := canvas.Identity.Translate(x, y)
		if i.up {
			m = m.Rotate(90)
		}
		r.RenderText(f.set(i.text, faceKey{i.size, i.bold, i.grey}), m)
		return
	}
	var path *canvas.Path
	m := canvas.Identity
	if i.r > 0 {
		path = canvas.Circle(i.r)
		m = m.Translate(x, y)
	} else {
		path = &canvas.Path{}
		path.MoveTo(x, y)
		for _, p := range i.pts[1:] {
			path.LineTo(at(p))
		}
		if i.loop {
			path.Close()
		}
	}
	s := canvas.DefaultStyle
	grey := canvas.Paint{Color: color.RGBA{i.pen.grey, i.pen.grey, i.pen.grey, 255}}
	if i.pen.fill {
		s.Fill = grey
	} else {
		s.Fill = canvas.Paint{}
		s.Stroke, s.StrokeWidth = grey, i.pen.width
		s.StrokeJoiner = canvas.RoundJoin
		for _, d := range i.pen.dash {
			s.Dashes = append(s.Dashes, d/i.pen.width) // counted in widths of the line
		}
	}
	r.RenderPath(path, s, m)
}

// pdfOf writes pages, all on one paper, as PDF.
func pdfOf(pages []*list, on paper, name string) ([]byte, error) {
	var out bytes.Buffer
	o := pdf.DefaultOptions
	var r *pdf.PDF
	for i, l := range pages {
		if i == 0 {
			r = pdf.New(&out, on.w, on.h, &o)
			r.SetInfo(plain(name)+": marking guide", "", "", "", "placketeer")
		} else {
			r.NewPage(on.w, on.h)
		}
		l.to(r, on.h, 0, 0, nil)
	}
	if err := r.Close(); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	b, err := steadyPDF(out.Bytes())
	if err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	return b, nil
}

// plain keeps what a PDF title carries safely: letters whose code holds no
// line end.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		for _, b := range []rune{r & 0xff, r >> 8 & 0xff} {
			if b == '\r' || b == '\n' {
				return '?'
			}
		}
		if r > 0xffff {
			return '?'
		}
		return r
	}, s)
}

// svgOf writes one drawing as SVG. Each kind of thing is a group with its
// class and data; the faces are embedded with the letters that are used.
func svgOf(l *list, w, h float64, name string) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	r := svg.New(&out, w, h, &svg.Options{SizeUnits: "mm"})
	out.WriteString("<title>")
	xml.EscapeText(&out, []byte(name))
	out.WriteString("</title>\n<style>")
	if err := l.fonts(&out); err != nil {
		return nil, err
	}
	out.WriteString("</style>\n")
	fmt.Fprintf(&out, `<rect width="%s" height="%s" fill="#fff"/>`, num(w), num(h))
	l.to(r, h, 0, 0, func(i *item, begin bool) {
		if !begin {
			out.WriteString("</g>\n")
			return
		}
		out.WriteString(`<g class="`)
		xml.EscapeText(&out, []byte(i.class))
		for n := 0; n+1 < len(i.data); n += 2 {
			out.WriteString(`" ` + i.data[n] + `="`)
			xml.EscapeText(&out, []byte(i.data[n+1]))
		}
		out.WriteString(`">`)
	})
	if err := r.Close(); err != nil {
		return nil, fmt.Errorf("write the SVG: %w", err)
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// fonts embeds the letters that are used.
func (l *list) fonts(out *bytes.Buffer) error {
	for n, bold := range []bool{false, true} {
		letters := map[rune]bool{}
		for i := range l.items {
			if t := &l.items[i]; t.pen == nil && t.bold == bold {
				for _, r := range t.text {
					letters[r] = true
				}
			}
		}
		if len(letters) == 0 {
			continue
		}
		f := l.faces.font[n]
		ids := []uint16{0}
		for r := range letters {
			ids = append(ids, f.SFNT.GlyphIndex(r))
		}
		slices.Sort(ids)
		sub, err := f.SFNT.Subset(slices.Compact(ids), font.SubsetOptions{Tables: font.KeepMinTables})
		if err != nil {
			return fmt.Errorf("embed the font: %w", err)
		}
		data := sub.Write()
		steadyFont(data)
		fmt.Fprintf(out, "@font-face{font-family:%s;font-weight:%d;src:url(data:font/ttf;base64,%s)}\n",
			f.Name(), f.Style().CSS(), base64.StdEncoding.EncodeToString(data))
	}
	return nil
}

const (
	bandRows  = 256
	maxPixels = 100_000_000
)

// pngOf draws a picture, grey, at so many dots an inch, in bands so that a
// large one needs little memory.
func pngOf(l *list, w, h float64, dpi int) ([]byte, error) {
	perMM := float64(dpi) / 25.4
	wide, high := int(math.Ceil(w*perMM)), int(math.Ceil(h*perMM))
	if wide*high > maxPixels {
		return nil, fmt.Errorf("at %d dots an inch the picture has %d × %d dots, more than %d million: draw one size or one closure, or take fewer dots", dpi, wide, high, maxPixels/1_000_000)
	}
	picture := image.NewGray(image.Rect(0, 0, wide, high))
	band := image.NewRGBA(image.Rect(0, 0, wide, min(bandRows, high)))
	rows := band.Bounds().Dy()
	for top := 0; top < high; top += rows {
		for i := range band.Pix {
			band.Pix[i] = 0xff
		}
		r := rasterizer.FromImage(band, canvas.DPMM(perMM), canvas.LinearColorSpace{})
		from, to := float64(top)/perMM, float64(top+rows)/perMM
		for n := range l.items {
			if i := &l.items[n]; i.box.y1 >= from-1 && i.box.y0 <= to+1 {
				i.to(r, float64(rows)/perMM, 0, -from, l.faces)
			}
		}
		r.Close()
		for y := top; y < min(top+rows, high); y++ {
			src := band.Pix[(y-top)*band.Stride:]
			dst := picture.Pix[y*picture.Stride : y*picture.Stride+wide]
			for x := range dst {
				dst[x] = src[4*x]
			}
		}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return nil, fmt.Errorf("write the PNG: %w", err)
	}
	return withDots(out.Bytes(), dpi), nil
}

// withDots says in a PNG how many dots a metre has: the pHYs chunk, behind
// the header.
func withDots(b []byte, dpi int) []byte {
	const header = 8 + 25
	dots := uint32(math.Round(float64(dpi) / 0.0254))
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, dots)
	chunk = binary.BigEndian.AppendUint32(chunk, dots)
	chunk = append(chunk, 1)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return slices.Concat(b[:header], chunk, b[header:])
}
