package guide

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// pdfOf writes pages, all on one paper, as PDF.
func pdfOf(pages []*list, on paper, name string) ([]byte, error) {
	w := pdfWriter{Fpdf: fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: on.w, Ht: on.h}})}
	w.SetCatalogSort(true)
	w.SetCompression(true)
	w.SetCreationDate(noDate)
	w.SetModificationDate(noDate)
	w.SetProducer("placketeer", false)
	w.SetTitle(inPlane(name)+": marking guide", true)
	w.SetAutoPageBreak(false, 0)
	w.SetLineJoinStyle("round")
	for i, data := range fontData {
		w.AddUTF8FontFromBytes(fontFamily, fontStyles[i], data)
	}
	for _, l := range pages {
		w.AddPage()
		w.face, w.ink = faceKey{}, nil
		for n := range l.items {
			w.item(&l.items[n])
		}
	}
	var out bytes.Buffer
	if err := w.Output(&out); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	if err := undate(out.Bytes()); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	return out.Bytes(), nil
}

// fontFamily is what a file calls the type faces.
const fontFamily = "Go"

var fontStyles = [2]string{"", "B"}

// pdfWriter remembers what it has set on the page, so as not to repeat it.
type pdfWriter struct {
	*fpdf.Fpdf
	face faceKey
	ink  *pen
}

// faceKey is a type face in a size, in millimetres.
type faceKey struct {
	size float64
	bold bool
}

func (w *pdfWriter) item(i *item) {
	x, y := i.pts[0].x, i.pts[0].y
	if i.pen == nil {
		if face := (faceKey{i.size, i.bold}); w.face != face {
			w.face = face
			w.SetFont(fontFamily, fontStyles[at(i.bold)], i.size/pointSize)
		}
		w.SetTextColor(int(i.grey), int(i.grey), int(i.grey))
		if i.up {
			w.TransformBegin()
			w.TransformRotate(90, x, y)
			defer w.TransformEnd()
		}
		w.Text(x, y, i.text)
		return
	}
	how := "D"
	if i.pen.fill {
		how = "F"
	}
	if w.ink != i.pen {
		w.ink = i.pen
		grey := int(i.pen.grey)
		if i.pen.fill {
			w.SetFillColor(grey, grey, grey)
		} else {
			w.SetDrawColor(grey, grey, grey)
			w.SetLineWidth(i.pen.width)
			w.SetDashPattern(i.pen.dash, 0)
		}
	}
	if i.r > 0 {
		w.Circle(x, y, i.r, how)
		return
	}
	w.MoveTo(x, y)
	for _, p := range i.pts[1:] {
		w.LineTo(p.x, p.y)
	}
	if i.loop {
		w.ClosePath()
	}
	w.DrawPath(how)
}

// noDate is the date fpdf is told to write: left alone it writes the time,
// and it cannot be told to write none.
var noDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

var errDates = errors.New("its dates are not where they were expected")

// undate blanks both dates where fpdf wrote them. The same plan shall give
// the same bytes, and a date that is not true says nothing. Nothing moves, so
// the cross-reference table holds.
func undate(pdf []byte) error {
	day := noDate.Format("20060102150405")
	dates := []byte("/CreationDate (D:" + day + ")\n/ModDate (D:" + day + ")\n")
	from := bytes.LastIndex(pdf, dates) // behind the pages: no text is taken for it
	if from < 0 {
		return errDates
	}
	for i := range dates[:len(dates)-1] {
		pdf[from+i] = ' '
	}
	return nil
}

// inPlane replaces the letters beyond U+FFFF, which fpdf cannot write into a
// title.
func inPlane(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return '?'
		}
		return r
	}, s)
}
