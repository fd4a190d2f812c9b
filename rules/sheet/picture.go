package sheet

import (
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// picture is the run of a closure drawn to scale, an upright line for each
// size in a drawing of its own, so that they find room on a narrow screen.
type picture struct {
	Title   string
	W, H    string // of each drawing
	Lines   []upright
	Zones   bool // a zone or an anchor is in it, so the key names them
	Anchors bool
	Show    bool // a fastener is for show
	Inner   bool // one lies on the inside
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

type dot struct {
	X, Y, R, LabelX, LabelY, Label string
	X1, Y1, X2, Y2                 string // the hole, "" where there is none
	Show                           bool
}

type band struct{ X, Y, W, H, LabelX, LabelY, Name string }

const (
	pictureHigh  = 300.0 // of the longest run
	pictureLeft  = 28.0  // of the line, for the names of zones
	pictureRight = 54.0  // of it, for the places
	pictureAbove = 34.0
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
		if z.Laid && z.Count > 0 && z.Run != nil {
			cols = append(cols, z)
		}
	}
	if len(cols) == 0 {
		return nil
	}
	longest, out := MM(0), MM(0)
	for _, z := range cols {
		longest = max(longest, *z.Run)
		for i := range z.Positions {
			for _, q := range s.closed(closure, z.index, i+1) {
				out = max(out, q.out, -q.out)
			}
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
		for i := range z.Positions {
			outermost := -1
			for _, q := range s.closed(closure, z.index, i+1) {
				d := dot{X: at(x + float64(q.out)*scale), Y: at(y(q.at)), R: at(max(rim, 1.5)), LabelX: at(x + side + 4), LabelY: at(y(q.at) + 3.5), Show: q.show}
				if q.hole {
					d.X1, d.Y1 = at(x+float64(q.from.Out)*scale), at(y(q.from.At))
					d.X2, d.Y2 = at(x+float64(q.to.Out)*scale), at(y(q.to.At))
				}
				if q.inner {
					d.R = at(max(rim/2, 1))
				}
				p.Show = p.Show || q.show
				p.Inner = p.Inner || q.inner
				if outermost < 0 || q.out > 0 {
					outermost = len(u.Dots)
				}
				u.Dots = append(u.Dots, d)
			}
			if outermost >= 0 {
				u.Dots[outermost].Label = measure.Length(z.Positions[i]).ShortPlace(s.unit)
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
		u.Desc = text.Safe("Centres at " + strings.Join(at, ", ") + " from the top of a run of " + measure.Length(*z.Run).ShortPlace(s.unit) + "." + s.rolesText(closure, z.index))
		p.Lines = append(p.Lines, u)
	}
	return p
}

// lying is a fastener of a closed opening as it is seen, with its hole.
type lying struct {
	out, at  MM
	hole     bool
	from, to PointOut // of the cut
	show     bool
	inner    bool // it is on the inside
}

// closed are the fasteners in one place of a closure as they lie when it is
// closed, seen on the piece that lies over.
func (s *Garment) closed(closure, size, number int) []lying {
	var out []lying
	find := func(x MM) *lying {
		for i := range out {
			if out[i].out == x && !out[i].inner {
				return &out[i]
			}
		}
		return nil
	}
	pcs := s.plan.PiecesOf(closure, size)
	for i := range pcs {
		for j := range pcs[i].Parts {
			q := &pcs[i].Parts[j]
			if int(q.Closure) != closure || int(q.Number) != number || q.Kind == plan.CordPart || q.Kind == plan.BackingPart {
				continue
			}
			l := lying{out: MM(q.Centre.Out), at: MM(q.Centre.At), show: q.Role == plan.Show, inner: q.Role == plan.Inner}
			if pcs[i].Side == plan.Under {
				l.out = -l.out // as it comes to lie
			}
			if l.inner {
				if q.Kind != plan.HolePart {
					out = append(out, l)
				}
				continue
			}
			if q.Kind == plan.HolePart && q.Cut > 0 {
				bar := (q.Stitched - q.Cut) / 2
				l.hole = true
				l.from, l.to = pointOut(plan.Point{Out: q.OutFrom + bar, At: q.Centre.At}), pointOut(plan.Point{Out: q.OutTo - bar, At: q.Centre.At})
				if s.plan.Closures[closure].Hole.Direction == "along" {
					l.from, l.to = pointOut(plan.Point{Out: q.Centre.Out, At: q.From + bar}), pointOut(plan.Point{Out: q.Centre.Out, At: q.To - bar})
				}
			}
			switch f := find(l.out); {
			case f == nil:
				out = append(out, l)
			case l.hole:
				f.hole, f.from, f.to = true, l.from, l.to
			}
		}
	}
	return out
}

// rolesText names the rows for show and the inner one.
func (s *Garment) rolesText(closure, size int) string {
	says := ""
	for n := range s.plan.Closures[closure].Sizes[size].Positions {
		if what := s.role(closure, size, n); what != "" && what != "works" {
			says += " Row " + itoa(n+1) + ": " + what + "."
		}
	}
	return says
}
