package plan

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/spacing"
)

// A search plans one garment many times with a few values changed. What the
// changes cannot reach need not be worked out again.

// Touch is how much of a closure's plan a change can alter.
type Touch uint8

const (
	Untouched Touch = iota // nothing of it
	Touched                // anything, but the run is laid out by the same wishes
	Rerun                  // anything
)

// TouchAll is that much in every closure of a garment.
func TouchAll(g *catalog.Garment, t Touch) []Touch {
	out := make([]Touch, len(g.Closures))
	for i := range out {
		out[i] = t
	}
	return out
}

// TouchOne is that much in closure i, and what it comes to in the others of
// its opening, whose pieces they share.
func TouchOne(g *catalog.Garment, i int, t Touch) []Touch {
	out := make([]Touch, len(g.Closures))
	out[i] = t
	spread(g, out)
	return out
}

// spread touches what shares an opening with what is touched.
func spread(g *catalog.Garment, touch []Touch) {
	for i := range touch {
		if touch[i] == Untouched {
			continue
		}
		for j := range touch {
			if touch[j] == Untouched && g.Closures[i].OpeningName() == g.Closures[j].OpeningName() {
				touch[j] = Touched
			}
		}
	}
}

// Touches is what changes can alter in each closure of g, the garment with
// the changes.
func Touches(g *catalog.Garment, with []catalog.With) []Touch {
	out := make([]Touch, len(g.Closures))
	raise := func(t Touch) {
		for i := range out {
			out[i] = max(out[i], t)
		}
	}
	for _, w := range with {
		p, ok := source.ParsePath(w.Key)
		if !ok || len(p) == 0 {
			return TouchAll(g, Rerun)
		}
		switch p[0].Key {
		case "closure":
			i, t := touchedBy(g, p)
			if i == -1 {
				return TouchAll(g, Rerun)
			}
			out[i] = max(out[i], t)
		case "thread", "interfacing", "machine":
			raise(Touched)
		case "cloth":
			raise(Touched)
			for i := range out {
				if g.Closures[i].Run.Match != "" {
					out[i] = Rerun // the repeat may be another
				}
			}
		default:
			return TouchAll(g, Rerun)
		}
	}
	spread(g, out)
	return out
}

// touchedBy is the closure that a path leads into, and what it alters there;
// -1 where that is not all of it.
func touchedBy(g *catalog.Garment, p source.Path) (int, Touch) {
	if len(p) < 3 {
		return -1, Rerun
	}
	t := Touched
	switch p[2].Key {
	case "name", "opening", "behind":
		return -1, Rerun // the others may lie otherwise
	case "run", "rows", "lap", "where":
		t = Rerun
	}
	for i := range g.Closures {
		if g.Closures[i].Name == p[1].Key {
			return i, t
		}
	}
	return -1, Rerun
}

// Again is the plan of g, of which only what is touched differs from the
// garment of p. The rest is taken over from p.
func (p *Plan) Again(g *catalog.Garment, touch []Touch) *Plan {
	q := New(g, p.bare)
	p.again(q, touch)
	return q
}

// AgainIn is Again in the room of a plan that nobody looks at any more.
func (p *Plan) AgainIn(q *Plan, g *catalog.Garment, touch []Touch) {
	room := q.Closures[:0]
	*q = Plan{Garment: g, bare: p.bare}
	q.Closures = slices.Grow(room, len(g.Closures))[:len(g.Closures)]
	clear(q.Closures)
	p.again(q, touch)
}

// again fills the plan of a garment.
func (p *Plan) again(q *Plan, touch []Touch) {
	g := q.Garment
	q.tries = p.tries
	for i := range q.Closures {
		if touch[i] == Untouched {
			q.Closures[i] = p.Closures[i]
			q.Closures[i].Closure = &g.Closures[i]
			continue
		}
		if q.runs = p.runs; touch[i] == Rerun {
			q.runs = nil
		}
		q.Work(i)
	}
	q.runs = nil
	for i := range q.Closures {
		if touch[i] != Untouched {
			q.layPieces(i)
		}
	}
}

// Redo works closure i out again after its fastener was changed in place, for
// a search over many fasteners. Its layers stay.
func (p *Plan) Redo(i int) {
	k := &p.Closures[i]
	*k = Closure{Over: k.Over, Under: k.Under}
	p.WorkOn(i)
	for j := range p.Closures {
		if p.same(i, j) {
			p.layPieces(j)
		}
	}
}

// Tries holds a search over many plans to a number of places that the
// layouts of its runs try, as spacing.MaxTries counts them.
type Tries struct {
	Most  int
	Tried int // until now
}

// Out says whether that many were tried: what is planned then counts for
// nothing.
func (t *Tries) Out() bool { return t.Tried >= t.Most }

// Hold lets the layout of one run in one size try what is left, and counts it.
func (t *Tries) Hold(p *spacing.Problem) {
	if t != nil {
		p.Most, p.Tried = max(1, t.Most-t.Tried), &t.Tried
	}
}

// Within holds the layouts of a plan, and of those made again from it, to a
// number of places.
func (p *Plan) Within(t *Tries) { p.tries = t }
