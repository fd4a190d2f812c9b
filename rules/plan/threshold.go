package plan

import (
	"fmt"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// Threshold is a figure by which a rule decides, with what it rests on. The
// rule's texts have its name in braces, {rim}, and are made from it.
type Threshold struct {
	Name   string
	Ground Ground
	is     sort
	n, of  int64                     // of a length its nanometres, of a share its parts
	in     measure.Unit              // of its source
	unit   string                    // of a number
	words  func(measure.Unit) string // of several figures
	// Figure is the figure itself: mm, g/m², °C, N, a count, a share.
	Figure float64
}

// sort is what sort of figure a threshold is. Thresholds are plain values, that
// lie ready in the program.
type sort uint8

const (
	length sort = iota
	thin
	number
	weight
	heat
	force
	share
	words
)

// String is the figure as it is printed, in its own unit first.
func (t Threshold) String() string { return t.Text(measure.NoUnit) }

// Text is the same in a unit that is asked for.
func (t Threshold) Text(u measure.Unit) string {
	switch l := measure.Length(t.n); t.is {
	case length:
		return l.Text(inOwn(t.in, u))
	case thin:
		return l.TextThin(u)
	case weight:
		return measure.AreaWeight(t.Figure).Text(inOwn(measure.MM, u))
	case heat:
		return measure.Temperature(t.Figure).TextMost(inOwn(measure.MM, u))
	case force:
		return measure.Force(t.Figure).Text(inOwn(t.in, u))
	case share:
		return Ratio{t.n, t.of}.String()
	case words:
		return t.words(u)
	}
	s := text.Number(t.Figure)
	if t.unit != "" {
		s += " " + t.unit
	}
	return s
}

// inOwn is the unit of a source where no other is asked for.
func inOwn(own, u measure.Unit) measure.Unit {
	if u.Is(measure.NoUnit) {
		return own
	}
	return u
}

// Called is the threshold by name, with its figure where it is one.
func (t Threshold) Called(u measure.Unit) string {
	if t.Figure == 0 {
		return t.Name
	}
	return t.Name + " " + t.Text(u)
}

// Inches is a length whose source has it in inches.
func Inches(name string, l measure.Length, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: length, n: int64(l), in: measure.In, Figure: l.MM()}
}

// Metric is a length whose source has it in millimetres.
func Metric(name string, l measure.Length, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: length, n: int64(l), in: measure.MM, Figure: l.MM()}
}

// Thin is a thickness of cloth, a stitch or a gap at the needle.
func Thin(name string, l measure.Length, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: thin, n: int64(l), Figure: l.MM()}
}

// Number is a figure that is no length, with its unit, "" for a count.
func Number(name string, n float64, unit string, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: number, unit: unit, Figure: n}
}

// Weight is a weight of cloth.
func Weight(name string, w measure.AreaWeight, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: weight, Figure: w.GSM()}
}

// Heat is a heat of an iron.
func Heat(name string, t measure.Temperature, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: heat, Figure: t.C()}
}

// Force is a pull, in the unit of its source.
func Force(name string, f measure.Force, own measure.Unit, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: force, in: own, Figure: float64(f)}
}

// Ratio is a share as a fraction, so that a part of a length is exact.
type Ratio struct{ Num, Den int64 }

// Of is that share of a length.
func (r Ratio) Of(l measure.Length) measure.Length {
	return l * measure.Length(r.Num) / measure.Length(r.Den)
}

func (r Ratio) String() string { return fmt.Sprintf("%d/%d", r.Num, r.Den) }

// Share is a share of something as a threshold: 3/4.
func Share(name string, r Ratio, g Ground) Threshold {
	return Threshold{Name: name, Ground: g, is: share, n: r.Num, of: r.Den, Figure: float64(r.Num) / float64(r.Den)}
}

// Words are figures that are more than one: the bands of a table.
func Words(name string, g Ground, says func(measure.Unit) string) Threshold {
	return Threshold{Name: name, Ground: g, is: words, words: says}
}
