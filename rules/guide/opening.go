package guide

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// opening is an opening in one size, or in several that come out the same.
type opening struct {
	p       *rules.Planned
	members []int // the closures that close it, by index
	index   int   // of the first size
	sizes   []string
	pieces  []plan.Piece
	side    string // only this side is drawn
}

// shows says whether a piece is drawn: a flap lies on the over side.
func (o *opening) shows(pc *plan.Piece) bool {
	return o.side == "" || (o.side == "under") == (pc.Side == plan.Under)
}

// closure is the first closure of the opening.
func (o *opening) closure() *catalog.Closure { return o.p.Closures[o.members[0]].Closure }

// size is a closure's layout.
func (o *opening) size(closure int) *plan.Size { return &o.p.Closures[closure].Sizes[o.index] }

// brief is the run up to which an opening is labelled more briefly, to share
// a page.
const brief = 8 * 25.4

func (o *opening) run() float64 { return o.closure().Run.Length.At(o.index).V.MM() }

func (o *opening) small() bool { return o.run() <= brief }

// short says whether it is a flap, a cuff or a tab, which begins at its own
// top and not at the neck.
func (o *opening) short() bool {
	c := o.closure()
	return plan.IsShort(c, c.Run.Length.At(o.index).V)
}

// sizeWords names the sizes: "size M", "sizes S and M", "all sizes".
func (o *opening) sizeWords() string {
	switch {
	case len(o.sizes) == 1 && o.sizes[0] == "":
		return ""
	case len(o.sizes) > 1 && len(o.sizes) == len(o.p.Garment.Sizes):
		return "all sizes"
	case len(o.sizes) == 1:
		return "size " + o.sizes[0]
	}
	return "sizes " + text.And(o.sizes...)
}

// names are those of its closures.
func (o *opening) names() []string {
	var out []string
	for _, i := range o.members {
		out = append(out, o.p.Closures[i].Closure.Name)
	}
	return out
}

func (o *opening) name() string {
	s := text.And(o.names()...)
	if w := o.sizeWords(); w != "" {
		s += ", " + w
	}
	if n := o.closure().Pieces; n > 1 {
		s += ", " + pieceWords(n)
	}
	return s
}

// pieceWords say of how many pieces a drawing is the pattern: of a pair one is
// the mirror image of the other.
func pieceWords(n int) string {
	switch {
	case n == 2:
		return "2 pieces, one turned over"
	case n%2 == 0:
		return fmt.Sprintf("%d pieces, half of them turned over", n)
	}
	return fmt.Sprintf("%d pieces", n)
}

// fronts says whether it joins the wearer's right and left.
func (o *opening) fronts() bool {
	name := o.pieces[0].Piece
	return name == "right front" || name == "left front"
}

// called is a piece by its name, as a list has it: right front, the cloth
// beneath the flap.
func (o *opening) called(pc *plan.Piece) string {
	name := work.Called(o.p, o.members[0], pc)
	if strings.Count(name, "the ") == 1 {
		return strings.TrimPrefix(name, "the ")
	}
	return name
}

// flapped says whether a flap of its own lies over it.
func (o *opening) flapped() bool {
	return slices.ContainsFunc(o.pieces, func(pc plan.Piece) bool { return pc.Side == plan.Flap })
}

// lost says whether the file leaves the edge of the opening no place.
func (o *opening) lost() bool {
	i := o.p.Lap(o.members[0])
	return i >= 0 && o.p.Closures[i].Stand.Lost
}

// rightOver says whether the wearer's right side lies on top.
func (o *opening) rightOver() bool { return o.p.Garment.Over(o.closure()) == "right" }

// chosen are the openings and sizes asked for, those that come out the same
// in several sizes once.
func chosen(p *rules.Planned, o Options) ([]*opening, error) {
	g := p.Garment
	if o.Closure != "" && !slices.ContainsFunc(g.Closures, func(c catalog.Closure) bool { return c.Name == o.Closure }) {
		var names []string
		for i := range g.Closures {
			names = append(names, g.Closures[i].Name)
		}
		return nil, text.NoSuchError("the garment", "closure", o.Closure, names)
	}
	for _, size := range o.Sizes {
		if !slices.Contains(g.Sizes, size) {
			return nil, text.NoSuchError("the garment", "size", size, g.Sizes)
		}
	}
	var out []*opening
	lengths := false
	for _, all := range g.Openings() {
		if o.Closure != "" && !slices.ContainsFunc(all.Closures, func(i int) bool { return g.Closures[i].Name == o.Closure }) {
			continue
		}
		var own []*opening
	sizes:
		for j, size := range g.Sizes {
			fresh := &opening{p: p, members: all.Closures, index: j, sizes: []string{size}, pieces: p.PiecesOf(all.Closures[0], j), side: o.Side}
			if len(fresh.pieces) == 0 {
				continue
			}
			lengths = true
			if len(o.Sizes) > 0 && !slices.Contains(o.Sizes, size) {
				continue
			}
			for _, q := range own {
				if q.same(fresh) {
					q.sizes = append(q.sizes, size)
					continue sizes
				}
			}
			own = append(own, fresh)
		}
		out = append(out, own...)
	}
	if !lengths {
		return nil, fmt.Errorf("there is nothing to draw: give the length of a run, like closure.%s.run.length", firstName(g, o.Closure))
	}
	// One size after another, the openings of each in the file's order.
	slices.SortStableFunc(out, func(a, b *opening) int { return a.index - b.index })
	return out, nil
}

func firstName(g *catalog.Garment, closure string) string {
	if closure == "" && len(g.Closures) > 0 {
		return g.Closures[0].Name
	}
	return closure
}

// same says whether another size of the opening is drawn as this one is.
func (o *opening) same(q *opening) bool {
	if !slices.EqualFunc(o.pieces, q.pieces, func(a, b plan.Piece) bool {
		return a.Finished == b.Finished && a.Cloth == b.Cloth &&
			slices.Equal(a.Lines, b.Lines) && slices.Equal(a.Areas, b.Areas) && slices.Equal(a.Parts, b.Parts)
	}) {
		return false
	}
	for _, i := range o.members {
		k := &o.p.Closures[i]
		at := func(x catalog.Sized) bool { return x.At(o.index).V == x.At(q.index).V }
		for _, a := range k.Closure.Run.Anchors {
			if !at(a.At) || !at(a.Within) {
				return false
			}
		}
		if o.size(i).Solved != q.size(i).Solved {
			return false
		}
		if z := k.Zip.Sizes; len(z) > 0 && z[o.index].Length != z[q.index].Length {
			return false
		}
	}
	return true
}

// panels draws the pieces, those whose edge looks to the viewer's right
// first: the wearer's right lies on the viewer's left. below says whether the
// long lines are named at their lower ends too.
func (o *opening) panels(f *faces, below bool) []*panel {
	var out []*panel
	for _, sign := range []float64{1, -1} {
		for i := range o.pieces {
			if o.sign(&o.pieces[i]) == sign && o.shows(&o.pieces[i]) {
				out = append(out, o.draw(&o.pieces[i], f, below))
			}
		}
	}
	return out
}

// sign is 1 for a piece whose edge looks to the viewer's right.
func (o *opening) sign(pc *plan.Piece) float64 {
	if (pc.Side != plan.Under) == o.rightOver() {
		return 1
	}
	return -1
}
