package work

import (
	"placketeer/rules"
	"placketeer/rules/plan"
)

// lap is the working of which side lies over; it stands with the first closure
// of an opening.
func (w *working) lap() {
	o := w.opening()
	if says := o.overSays(); o.front && o.first == w.x.C.Index && says != "" && o.any(plan.Over) != nil {
		st := w.say(TopicLap, "lap-side", "%s", says)
		if g := w.x.G; g.CutFor == "" && !o.lapOver() {
			st.Default = "it was not said for whom it is cut, women's was taken; set cut_for, or closure." + w.x.C.Name + ".lap_over"
		}
	}
}

// Over says which side lies over at the opening of closure i, "" where neither
// does, or where another closure holds its pieces.
func Over(p *rules.Planned, i int) string {
	o := openingOf(p, i)
	if o.first != i || !o.front || o.any(plan.Over) == nil {
		return ""
	}
	return o.overSays()
}

// lapOver says whether the file says which side lies over.
func (o *opening) lapOver() bool {
	for _, i := range o.members {
		if o.p.Garment.Closures[i].LapOver != "" {
			return true
		}
	}
	return false
}

// overSays says which side lies over, "" where none does.
func (o *opening) overSays() string {
	c := o.p.Closures[o.first].Closure
	over, under := o.p.Garment.Over(c), "left"
	if over == "left" {
		under = "right"
	}
	switch {
	case !o.meets():
		return "the " + over + " front lies over the " + under
	case o.flap != nil:
		return "the flap goes on the " + over + " front and lies over the " + under
	}
	return ""
}

// OverSide is the side of the wearer that lies on top at closure i, right or
// left; "" where neither does.
func OverSide(p *rules.Planned, i int) string {
	o := openingOf(p, i)
	if !o.front || o.overSays() == "" {
		return ""
	}
	return o.p.Garment.Over(o.p.Closures[o.first].Closure)
}
