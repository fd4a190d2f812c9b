package sheet

import (
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// picture is the run of a closure drawn to scale, an upright line for each
// size in a drawing of its own, so that they find room on a narrow screen.
type picture struct {
	Title   string
	W, H    string // of each drawing
	Lines   []upright
	Zones   bool // a zone or an anchor is in it, so the key names them
	Anchors bool
}

type upright struct {
	ID             string
	Title, Desc    string
	X, Top, Bottom string
	Name           string
	Count          string
	Dots           []dot
	Zones          []band
	Anchors        []band
}

type dot struct{ X, Y, R, LabelX, LabelY, Label, X1, Y1, X2, Y2 string }

type band struct{ X, Y, W, H, LabelX, LabelY, Name string }

const (
	pictureHigh  = 300.0 // of the longest run
	pictureLeft  = 28.0  // of the line, for the names of zones
	pictureRight = 54.0  // of it, for the places
	pictureAbove = 34.0
	pictureMost  = 8 // drawings of one closure
)

func at(f float64) string {
	if f < 0.05 && f > -0.05 {
		f = 0
	}
	return strconv.FormatFloat(f, 'f', 1, 64)
}

// picture draws a closure, nil where there is nothing to draw.
func (s *Garment) picture(closure int, id string) *picture {
	c, k := &s.Closures[closure], &s.plan.Closures[closure]
	var cols []column
	for _, z := range alike(c.Sizes) {
		if z.Laid && z.Count > 0 && z.Run != nil && len(cols) < pictureMost {
			cols = append(cols, z)
		}
	}
	if len(cols) == 0 {
		return nil
	}
	longest, out := MM(0), MM(0)
	for _, z := range cols {
		longest = max(longest, *z.Run)
		for _, r := range z.Rows {
			out = max(out, r)
		}
	}
	// A short run is drawn no larger than three times its size.
	scale := min(pictureHigh/float64(longest), 3*3.78/float64(measure.Millimetre))
	rim := float64(k.Reach.Rim) * scale
	side := max(10, rim, float64(out)*scale+rim)
	x := pictureLeft + side
	p := &picture{Title: text.Safe(c.Name + ": the run to scale"), W: at(x + side + pictureRight), H: at(pictureAbove + float64(longest)*scale + 10)}
	for n, z := range cols {
		y := func(l MM) float64 { return pictureAbove + float64(l)*scale }
		name := z.name
		if text.Width(name) > 14 {
			first, _, _ := strings.Cut(name, ",")
			name = first + " and on"
		}
		u := upright{ID: id + "-" + itoa(n), X: at(x), Top: at(y(0)), Bottom: at(y(*z.Run)), Name: text.Safe(name), Count: text.Count(z.Count, "centre")}
		for i, pos := range z.Positions {
			offsets := []float64{0}
			if i < len(z.Rows) {
				offsets = []float64{-float64(z.Rows[i]) * scale, float64(z.Rows[i]) * scale}
			}
			for o, off := range offsets {
				d := dot{X: at(x + off), Y: at(y(pos)), R: at(max(rim, 1.5)), LabelX: at(x + side + 4), LabelY: at(y(pos) + 3.5)}
				if o == len(offsets)-1 {
					d.Label = measure.Length(pos).ShortPlace(s.unit)
				}
				if h := c.Hole; h != nil && h.Beyond != nil {
					beyond, inside := float64(*h.Beyond)*scale, float64(*h.Inside)*scale
					d.X1, d.Y1, d.X2, d.Y2 = at(x+off-inside), d.Y, at(x+off+beyond), d.Y
					if h.Direction == "along" {
						d.X1, d.Y1, d.X2, d.Y2 = d.X, at(y(pos)-beyond), d.X, at(y(pos)+inside)
					}
				}
				u.Dots = append(u.Dots, d)
			}
		}
		run := &s.plan.Garment.Closures[closure].Run
		for _, zone := range run.Clears {
			from, to := MM(zone.From.At(z.index).V), min(MM(zone.To.At(z.index).V), *z.Run)
			u.Zones = append(u.Zones, band{X: at(x - side), Y: at(y(from)), W: at(2 * side), H: at(max(float64(to-from)*scale, 1)), LabelX: at(x - side - 3), LabelY: at(y(from) + 9), Name: text.Safe(zone.Name)})
			p.Zones = true
		}
		for _, a := range run.Anchors {
			u.Anchors = append(u.Anchors, band{X: at(x - side), Y: at(y(MM(a.At.At(z.index).V))), W: at(2 * side), LabelX: at(x - side - 3), LabelY: at(y(MM(a.At.At(z.index).V)) + 3), Name: text.Safe(a.Name)})
			p.Anchors = true
		}
		var at []string
		for _, pos := range z.Positions {
			at = append(at, measure.Length(pos).ShortPlace(s.unit))
		}
		u.Title = p.Title
		if z.name != "" {
			u.Title = text.Safe(c.Name + ", " + z.name + ": the run to scale")
		}
		u.Desc = text.Safe("Centres at " + strings.Join(at, ", ") + " from the top of a run of " + measure.Length(*z.Run).ShortPlace(s.unit) + ".")
		p.Lines = append(p.Lines, u)
	}
	return p
}
