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
	says   func() string
	// Figure is the figure itself: mm, g/m², °C, N, a count, a share.
	Figure float64
}

// String is the figure as it is printed, in its own unit first.
func (t Threshold) String() string { return t.says() }

// Called is the threshold by name, with its figure where it is one.
func (t Threshold) Called() string {
	if t.Figure == 0 {
		return t.Name
	}
	return t.Name + " " + t.String()
}

// Inches is a length whose source has it in inches.
func Inches(name string, l measure.Length, g Ground) Threshold {
	return Threshold{name, g, func() string { return l.Text(measure.In) }, l.MM()}
}

// Metric is a length whose source has it in millimetres.
func Metric(name string, l measure.Length, g Ground) Threshold {
	return Threshold{name, g, func() string { return l.Text(measure.MM) }, l.MM()}
}

// Thin is a thickness of cloth, a stitch or a gap at the needle.
func Thin(name string, l measure.Length, g Ground) Threshold {
	return Threshold{name, g, l.TextThin, l.MM()}
}

// Number is a figure that is no length, with its unit, "" for a count.
func Number(name string, n float64, unit string, g Ground) Threshold {
	return Threshold{name, g, func() string {
		s := text.Number(n)
		if unit != "" {
			s += " " + unit
		}
		return s
	}, n}
}

// Weight is a weight of cloth.
func Weight(name string, w measure.AreaWeight, g Ground) Threshold {
	return Threshold{name, g, func() string { return w.Text(measure.MM) }, w.GSM()}
}

// Heat is a heat of an iron.
func Heat(name string, t measure.Temperature, g Ground) Threshold {
	return Threshold{name, g, func() string { return t.TextMost(measure.MM) }, t.C()}
}

// Force is a pull, in the unit of its source.
func Force(name string, f measure.Force, u measure.Unit, g Ground) Threshold {
	return Threshold{name, g, func() string { return f.Text(u) }, float64(f)}
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
	return Threshold{name, g, r.String, float64(r.Num) / float64(r.Den)}
}

// Words are figures that are more than one: the bands of a table.
func Words(name string, g Ground, says func() string) Threshold {
	return Threshold{name, g, says, 0}
}
