package rules

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules/plan"
	"placketeer/spacing"
)

// The changes that rules propose. Each comes from the rule's formula turned
// round, or from the catalogue, and is only a candidate: whoever shows one
// has planned the garment with it first.
//
// The cost of a change is about the millimetres it moves, by our own scale:
// a needle or a marking step costs 1 or 2, another size of the same button
// twice the difference in width, another make 8 more, another way of working
// 10 to 45, another cloth 80.

// sortChanges puts the smallest change first; equal ones by their words.
func sortChanges(cs []Change) {
	slices.SortStableFunc(cs, CompareChanges)
}

func CompareChanges(a, b Change) int {
	return cmp.Or(
		cmp.Compare(len(a.With), len(b.With)),
		cmp.Compare(a.Cost, b.Cost),
		slices.Compare(a.With, b.With),
	)
}

func cheapest(cs []Change, n int) []Change {
	sortChanges(cs)
	return cs[:min(n, len(cs))]
}

// key is the --with key of a value of the closure looked at.
func (x *Context) key(k string) string { return "closure." + x.C.Name + "." + k }

// sized is KEY=VALUE for a length that may be given by size, each made from
// what the size has now.
func (x *Context) sized(key string, s catalog.Sized, now func(size int) measure.Length, next func(measure.Length) measure.Length) string {
	if len(s) < 2 {
		return x.key(key) + "=" + next(now(0)).Exact(x.U)
	}
	table := map[string]any{}
	for i, size := range x.G.Sizes {
		table[size] = next(now(i)).Exact(x.U)
	}
	return x.key(key) + "=" + source.Text(table)
}

// proposeStand widens the stand to its usual width, in the way the file
// gives it.
func proposeStand(x *Context, f *Finding) []Change {
	s, st := &x.K.Stand, &x.C.Stand
	var out []Change
	for i, want := range []measure.Length{s.Usual, max(s.Full, s.Usual), max(s.Least, quarter+plan.BeyondCentre)} {
		want = want.RoundUp(plan.HoleStep(x.U))
		cost := (want-s.Have).MM()*2 + float64(i)
		if want <= s.Have {
			continue
		}
		edge := want + s.Column // from the centre line
		switch {
		case x.C.Flap.Has():
			w := x.C.Flap.Width.V - s.Have + want
			out = append(out, Change{With: []string{x.key("flap.width") + "=" + w.Exact(x.U)}, Says: "make the flap " + x.len(w) + " wide", Cost: cost})
		case st.Band.Has() && s.From == x.path("stand.band"):
			with := []string{x.key("stand.band") + "=" + (2 * want).Exact(x.U)}
			says := "make the band " + x.len(2*want) + " wide"
			if st.Extension.Has() && s.Construction == "folded" {
				ext := plan.Band{Width: 2 * want, TurnUnder: s.TurnUnder, Cloth: plan.ShellThickness(x.K)}.Extension().RoundUp(plan.HoleStep(x.U))
				with = append(with, x.key("stand.extension")+"="+ext.Exact(x.U))
				says += " and draft " + x.len(ext) + " beyond the centre line"
			}
			out = append(out, Change{With: with, Says: says, Cost: cost})
		case st.Finished.Has():
			with := []string{x.key("stand.finished") + "=" + edge.Exact(x.U)}
			says := "make the finished stand " + x.len(edge)
			if ext := edge + s.Seam; st.Extension.Has() && s.Construction != "folded" && st.Extension.V < ext {
				ext = ext.RoundUp(plan.HoleStep(x.U))
				with = append(with, x.key("stand.extension")+"="+ext.Exact(x.U))
				says += " and draft " + x.len(ext) + " beyond the centre line"
			}
			out = append(out, Change{With: with, Says: says, Cost: cost})
		case st.Extension.Has():
			ext := edge + s.Seam
			if s.Construction == "folded" {
				ext = plan.Band{Width: 2 * edge, TurnUnder: s.TurnUnder, Cloth: plan.ShellThickness(x.K)}.Extension()
			}
			ext = ext.RoundUp(plan.HoleStep(x.U))
			out = append(out, Change{
				With: []string{x.key("stand.extension") + "=" + ext.Exact(x.U)},
				Says: "draft " + x.len(ext) + " beyond the centre line, for a stand of " + x.len(want), Cost: cost,
			})
		}
	}
	return out
}

const otherMake = 8 // ours: another make of button is a larger change than another size

// proposeSmaller offers the next smaller and thinner notions of the same
// kind in the catalogue, nearest first.
func proposeSmaller(x *Context, f *Finding) []Change {
	now := plan.ShapeOf(&x.C.Notion)
	d, pass := now.Across(), now.Passing()
	return x.otherNotions(12, func(s plan.Shape) bool {
		return s.Across() <= d && s.Passing() <= pass && (s.Across() < d || s.Passing() < pass)
	})
}

// proposeFitting offers the notions that are no larger and whose hole is no
// longer than that, or that need no wider stand than that; a limit of 0 is
// none.
func proposeFitting(x *Context, passing, stand measure.Length) []Change {
	now := plan.ShapeOf(&x.C.Notion)
	d, pass := now.Across(), now.Passing()
	return x.otherNotions(8, func(s plan.Shape) bool {
		return s.Across() <= d && s.Passing() <= pass && (passing == 0 || s.Passing() <= passing) && (stand == 0 || plan.StandLeast(s.Across()) <= stand)
	})
}

// otherNotions are the notions of the same kind whose shape will do, the
// nearest in size first.
func (x *Context) otherNotions(most int, will func(plan.Shape) bool) []Change {
	now := plan.ShapeOf(&x.C.Notion)
	d, pass := now.Across(), now.Passing()
	type near struct {
		n    *catalog.Notion
		cost float64
	}
	var found []near
	for _, n := range x.G.Catalog.Notions {
		if n.Kind != x.C.Notion.Kind || n.Name == x.C.Notion.Name {
			continue
		}
		s := plan.ShapeOf(n)
		if !will(s) {
			continue
		}
		cost := 2*(d-s.Across()).Abs().MM() + (pass - s.Passing()).Abs().MM()
		if !sameMake(n.Name, x.C.Notion.Name) {
			cost += otherMake
		}
		found = append(found, near{n, cost})
	}
	slices.SortFunc(found, func(a, b near) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), strings.Compare(a.n.Name, b.n.Name))
	})
	out := make([]Change, 0, min(most, len(found)))
	for _, f := range found[:min(most, len(found))] {
		out = append(out, Change{With: []string{x.key("use") + "=" + f.n.Name}, Says: "use " + f.n.Name, Cost: f.cost})
	}
	return out
}

func sameMake(a, b string) bool { return make_(a) == make_(b) }

// make_ is a notion's name without its size: horn of horn-40.
func make_(name string) string {
	if i := strings.LastIndexByte(name, '-'); i >= 0 {
		return name[:i]
	}
	return name
}

// proposeThinner offers what makes the stack of a finding thinner: a layer
// of interfacing or a doubled layer left out, a thinner cloth of the garment
// as facing, a thinner interfacing, at last another cloth of the same family.
func proposeThinner(x *Context, f *Finding) []Change {
	var out []Change
	for _, side := range []struct {
		key    string
		layers []plan.Layer
	}{{"over", x.K.Over.Layers}, {"under", x.K.Under.Layers}} {
		if f.Path() != "" && f.Path() != x.path(side.key) && !(side.key == "over" && plan.SameLayers(x.C.Over, x.C.Under)) {
			continue
		}
		names := make([]string, len(side.layers))
		count, cloths := map[string]int{}, 0
		for i := range side.layers {
			names[i] = side.layers[i].Layer.Name
			count[names[i]]++
			if side.layers[i].Layer.Cloth != nil {
				cloths++
			}
		}
		put := func(names []string, says string, cost float64) {
			with := []string{x.key(side.key) + "=" + LayerList(names)}
			// Layers that both stacks share are thinned in both.
			if side.key == "over" && plan.SameLayers(x.C.Over, x.C.Under) && x.G.Stated(x.path("under")) {
				with = append(with, x.key("under")+"="+LayerList(names))
			}
			out = append(out, Change{With: with, Says: says, Cost: cost})
		}
		seen := map[string]bool{}
		for i := len(side.layers) - 1; i >= 0; i-- {
			l := &side.layers[i]
			if seen[names[i]] || len(names) < 2 {
				continue
			}
			seen[names[i]] = true
			less := slices.Delete(slices.Clone(names), i, i+1)
			switch {
			case l.Layer.Interfacing != nil:
				put(less, "leave the interfacing "+names[i]+" out there", 20)
			case count[names[i]] > 1 && cloths > 2: // two are a cloth and its facing
				put(less, "trim one layer of "+names[i]+" away there", 10)
			}
			if i == 0 || l.Layer.Cloth == nil {
				continue
			}
			for k, c := range x.G.Cloths {
				if t := plan.LayerOf(x.G, catalog.Layer{Cloth: c}); t.Thick < l.Thick {
					thin := slices.Clone(names)
					thin[i] = x.G.ClothNames[k]
					put(thin, "make the inner layer of "+thin[i]+" instead of "+names[i], 25+t.Thick.MM())
				}
			}
		}
		for i := range side.layers {
			l := &side.layers[i]
			if in := l.Layer.Interfacing; in != nil {
				out = append(out, proposeInterfacing(x, source.Join("interfacing", names[i]), func(n *catalog.Interfacing) bool {
					return n.Fixing == in.Fixing && plan.LayerOf(x.G, catalog.Layer{Interfacing: n}).Thick < l.Thick
				})...)
				break
			}
		}
		if cl := Shell(layersOf(side.layers)); cl != nil {
			out = append(out, proposeCloth(x, cl)...)
		}
	}
	return cheapest(out, 24)
}

func layersOf(ps []plan.Layer) []catalog.Layer {
	out := make([]catalog.Layer, len(ps))
	for i := range ps {
		out[i] = ps[i].Layer
	}
	return out
}

// LayerList is a list of layers as --with takes it.
func LayerList(names []string) string {
	list := make([]any, len(names))
	for i, n := range names {
		list[i] = n
	}
	return source.Text(list)
}

// proposeCloth offers thinner cloths of the same family.
func proposeCloth(x *Context, now *catalog.Cloth) []Change {
	name, thick := x.G.NameOf(now), plan.LayerOf(x.G, catalog.Layer{Cloth: now}).Thick
	if name == "" {
		return nil
	}
	var out []Change
	for _, c := range x.G.Catalog.Cloths {
		if t := plan.LayerOf(x.G, catalog.Layer{Cloth: c}).Thick; c.Kind == now.Kind && t < thick && t > 0 {
			out = append(out, Change{With: x.G.Swap("cloth", name, c.Name), Says: "make " + name + " of " + c.Name, Cost: 80 + (thick - t).MM()})
		}
	}
	return cheapest(out, 3)
}

// proposeInterfacing offers other interfacings of the catalogue in place of
// the one whose table the path is in.
func proposeInterfacing(x *Context, path string, will func(*catalog.Interfacing) bool) []Change {
	for i, name := range x.G.InterfNames {
		table := source.Join("interfacing", name)
		if path != table && !strings.HasPrefix(path, table+".") {
			continue
		}
		now := x.G.Interfacings[i]
		var out []Change
		for _, c := range x.G.Catalog.Interfacings {
			if c.Name == now.Name || c.Kind == "stay-tape" || !will(c) {
				continue
			}
			cost := 5 + math.Abs(c.Weight.V.GSM()-now.Weight.V.GSM())/20
			if c.Fixing != now.Fixing {
				cost += 5
			}
			out = append(out, Change{With: x.G.Swap("interfacing", name, c.Name), Says: "use " + c.Name + " as " + name, Cost: cost})
		}
		return cheapest(out, 6)
	}
	return nil
}

// proposeSupport puts an interfacing that the garment has under the
// outermost layer.
func proposeSupport(x *Context) []Change {
	var out []Change
	for i, name := range x.G.InterfNames {
		var with []string
		for _, side := range []struct {
			key    string
			layers []catalog.Layer
		}{{"over", x.C.Over}, {"under", x.C.Under}} {
			if side.key == "under" && !x.G.Stated(x.path("under")) {
				continue
			}
			names := make([]string, 0, len(side.layers)+1)
			for j, l := range side.layers {
				if names = append(names, l.Name); j == 0 {
					names = append(names, name)
				}
			}
			with = append(with, x.key(side.key)+"="+LayerList(names))
		}
		out = append(out, Change{With: with, Says: "put " + name + " under it", Cost: 4 + float64(i)})
	}
	return append(out, Change{With: []string{x.key("reinforced") + "=true"}, Says: "reinforce it in another way, and say so", Cost: 15})
}

func proposeNeedle(x *Context) []Change {
	var out []Change
	n := &x.K.Needle
	for _, s := range plan.NeedleSizes {
		if s == n.NM || s < plan.NeedleStep(n.Min, -1) || s > plan.NeedleStep(n.Max, 1) {
			continue
		}
		out = append(out, Change{
			With: []string{x.key("needle") + "=" + s.String()}, Says: "use needle " + s.String(),
			Cost: math.Abs(float64(plan.SizeIndex(s) - plan.SizeIndex(n.NM))),
		})
	}
	sortChanges(out)
	return out
}

func proposeThread(x *Context) []Change {
	if !x.K.Thread.Given {
		return nil
	}
	var out []Change
	for _, t := range x.G.Catalog.Threads {
		if !t.Tex.Has() || t.Fibre != x.K.Thread.Fibre || t.Tex.V == x.K.Thread.Tex {
			continue
		}
		out = append(out, Change{
			With: x.G.Swap("thread", x.K.Thread.Name, t.Name), Says: "sew with " + t.Name,
			Cost: 2 + math.Abs(float64(t.Tex.V-x.K.Thread.Tex))/10,
		})
	}
	return cheapest(out, 8)
}

// endNow is where the first or last fastener of a size lies now, from the
// top or the end.
func (x *Context) endNow(key string) func(int) measure.Length {
	return func(i int) measure.Length {
		first, last := plan.Ends(x.G, x.C, x.K, i)
		if key == "first" {
			return first.Min
		}
		return x.C.Run.Length.At(i).V - last.Max
	}
}

// proposeEnd moves the first or last fastener as far from its end as it must
// be.
func proposeEnd(x *Context, key string, s catalog.Sized) []Change {
	says := map[string]string{"first": " below the top", "last": " above the end"}[key]
	reach := map[string]measure.Length{"first": x.K.Reach.Up, "last": x.endReach()}[key]
	d := plan.AcrossOf(&x.C.Notion)
	var out []Change
	for i, want := range []measure.Length{max(endLeast, d/2, reach), max(d+plan.FirstBelowNeck, reach)} {
		want = want.RoundUp(x.C.Run.Step.Or(plan.HoleStep(x.U)))
		out = append(out, Change{
			With: []string{x.sized("run."+key, s, x.endNow(key), func(now measure.Length) measure.Length { return max(now, want) })},
			Says: "set the " + key + " " + x.len(want) + says, Cost: want.MM()/4 + float64(i),
		})
	}
	return out
}

// proposeRun offers other counts, steps, gap limits, ends and anchors: of
// each the smallest move that gives every size a layout. Only what takes
// part in the clash is moved; the length of the run and its clear zones are
// the garment's own and stay.
func proposeRun(x *Context, f *Finding) []Change {
	r := runChanges{x: x, problems: make([]spacing.Problem, len(x.K.Sizes)), part: map[spacing.Constraint]bool{}}
	touching := f.Rule == "rims-touch"
	for i := range r.problems {
		r.problems[i] = plan.ProblemOf(x.G, x.C, x.K, i)
		if touching {
			least := max(x.K.Reach.Up+x.K.Reach.Down, 2*x.K.Reach.Rim)
			r.problems[i].Gap.Min = max(r.problems[i].Gap.Min, least)
		}
		if i > 0 && plan.SameForAll(&x.C.Run) {
			r.problems = r.problems[:1]
			break
		}
	}
	zones := false
	for i := range r.problems {
		if _, err := spacing.Solve(r.problems[i]); err != nil {
			if clash, ok := err.(*spacing.Clash); ok {
				for _, c := range clash.Constraints {
					c.Name = ""
					r.part[c] = true
					zones = zones || c.Kind == spacing.KindClear
				}
			}
		}
	}
	r.counts()
	r.steps()
	r.gaps()
	r.ends("first", spacing.KindFirst, x.C.Run.First)
	r.ends("last", spacing.KindLast, x.C.Run.Last)
	r.anchors()
	if r.in(spacing.KindMatch) {
		r.add(30, "let the gaps leave the repeat of "+x.C.Run.Match, x.key("run.match")+"=")
	}
	if zones || touching {
		if x.K.Hole.Needed && x.K.Hole.Kind != "loop" && x.K.Hole.Direction == "along" {
			r.add(12, "set the holes across", x.key("direction")+"=across")
		}
		r.out = append(r.out, cheapest(proposeSmaller(x, f), 6)...)
	}
	return r.out
}

// runChanges collects changes to a run.
type runChanges struct {
	x        *Context
	problems []spacing.Problem // one for each size, or one for all
	part     map[spacing.Constraint]bool
	out      []Change
}

func (r *runChanges) in(k spacing.Kind) bool { return r.part[spacing.Constraint{Kind: k}] }

func (r *runChanges) add(cost float64, says string, with ...string) {
	r.out = append(r.out, Change{With: with, Says: says, Cost: cost})
}

// holds says whether every size has a layout when its problem is changed so.
func (r *runChanges) holds(change func(*spacing.Problem)) bool {
	for i := range r.problems {
		p := r.problems[i]
		p.Anchors = slices.Clone(p.Anchors)
		change(&p)
		if p.Run <= 0 || p.First.Min < 0 || p.Last.Max > p.Run || p.Gap.Min < 0 {
			return false
		}
		if n, err := spacing.Counts(p); err != nil || len(n) == 0 {
			return false
		}
	}
	return true
}

const moves = 16 // ours: how many steps a run's limits are moved at most

// smallest is the smallest number of steps up to moves that gives every size
// a layout, 0 if none does.
func (r *runChanges) smallest(change func(p *spacing.Problem, by measure.Length)) (int, measure.Length) {
	step := r.problems[0].Step
	for n := 1; n <= moves; n++ {
		by := measure.Length(n) * step
		if r.holds(func(p *spacing.Problem) { change(p, by) }) {
			return n, by
		}
	}
	return 0, 0
}

// counts offers the nearest counts below and above that every size has a
// layout for, or, where each size has its own, one or two more or fewer.
func (r *runChanges) counts() {
	x, run := r.x, &r.x.C.Run
	if !r.in(spacing.KindCount) || len(run.Count) == 0 {
		return
	}
	if len(run.Count) > 1 {
		r.countsBySize()
		return
	}
	have := map[int]int{} // count to how many sizes have it
	for _, p := range r.problems {
		p.CountMin, p.CountMax = 0, 0
		counts, err := spacing.Counts(p)
		if err != nil {
			return
		}
		for _, n := range counts {
			have[n]++
		}
	}
	now := run.Count[0]
	below, above := 0, 0
	for n, sizes := range have {
		switch {
		case sizes < len(r.problems):
		case n < now.Min:
			below = max(below, n)
		case n > now.Max && (above == 0 || n < above):
			above = n
		}
	}
	for _, n := range []int{below, above} {
		if n < 1 || n > 200 {
			continue
		}
		d := float64(min((now.Min-n)*(now.Min-n), (now.Max-n)*(now.Max-n)))
		if now.Min == now.Max {
			r.add(10*d, "use "+strconv.Itoa(n), x.key("run.count")+"="+strconv.Itoa(n))
		} else {
			lo, hi := min(now.Min, n), max(now.Max, n)
			r.add(10*d, "use "+strconv.Itoa(lo)+" to "+strconv.Itoa(hi), x.key("run.count")+"="+source.Text(map[string]any{"min": int64(lo), "max": int64(hi)}))
		}
	}
}

func (r *runChanges) countsBySize() {
	x, run := r.x, &r.x.C.Run
	for _, d := range []int{-1, 1, -2, 2} {
		table := map[string]any{}
		good := true
		for i, size := range x.G.Sizes {
			c := run.Count[i]
			c.Min, c.Max = c.Min+d, c.Max+d
			good = good && c.Min > 0
			table[size] = int64(c.Min)
			if c.Min != c.Max {
				table[size] = map[string]any{"min": int64(c.Min), "max": int64(c.Max)}
			}
		}
		i := 0
		if !good || !r.holds(func(p *spacing.Problem) {
			p.CountMin, p.CountMax = run.Count[i].Min+d, run.Count[i].Max+d
			i++
		}) {
			continue
		}
		says := map[int]string{-2: "two fewer", -1: "one fewer", 1: "one more", 2: "two more"}[d]
		r.add(10*float64(d*d), "use "+says+" in every size", x.key("run.count")+"="+source.Text(table))
	}
}

func (r *runChanges) steps() {
	if !r.in(spacing.KindStep) {
		return
	}
	x, now := r.x, r.problems[0].Step
	finest := sixteenth
	if x.U == measure.MM {
		finest = mm
	}
	for step := now / 2; step >= finest; step /= 2 {
		if r.holds(func(p *spacing.Problem) { p.Step = step }) {
			r.add(2, "mark to "+x.Fine(step), x.key("run.step")+"="+step.Exact(x.U))
			return
		}
	}
	if now > finest && r.holds(func(p *spacing.Problem) { p.Step = finest }) {
		r.add(3, "mark to "+x.Fine(finest), x.key("run.step")+"="+finest.Exact(x.U))
	}
}

func (r *runChanges) gaps() {
	x, run := r.x, &r.x.C.Run
	if r.in(spacing.KindGapMin) && run.GapMin.Has() {
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Gap.Min -= by }); by > 0 {
			r.add(2+by.MM(), "let gaps be "+x.len(by)+" narrower", x.sized("run.gap.min", run.GapMin, func(i int) measure.Length { return run.GapMin.At(i).V }, func(l measure.Length) measure.Length { return (l - by).RoundDown(plan.HoleStep(x.U)) }))
		}
	}
	if r.in(spacing.KindGapMax) && run.GapMax.Has() {
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Gap.Max += by }); by > 0 {
			r.add(2+by.MM(), "let gaps be "+x.len(by)+" wider", x.sized("run.gap.max", run.GapMax, func(i int) measure.Length { return run.GapMax.At(i).V }, func(l measure.Length) measure.Length { return (l + by).RoundUp(plan.HoleStep(x.U)) }))
		}
	}
}

func (r *runChanges) ends(key string, kind spacing.Kind, s catalog.Sized) {
	x := r.x
	if !r.in(kind) || x.C.Run.FirstMax.Has() && key == "first" || x.C.Run.LastMax.Has() && key == "last" {
		return
	}
	least := max(endLeast, plan.AcrossOf(&x.C.Notion)/2)
	now := x.endNow(key)
	for _, dir := range []measure.Length{-1, 1} {
		_, by := r.smallest(func(p *spacing.Problem, by measure.Length) {
			by *= dir
			if key == "first" {
				p.First.Min, p.First.Max = p.First.Min+by, p.First.Max+by
			} else {
				p.Last.Min, p.Last.Max = p.Last.Min-by, p.Last.Max-by
			}
		})
		if by == 0 {
			continue
		}
		to := now(0) + dir*by
		if to < least {
			continue
		}
		way := "farther from the "
		if dir < 0 {
			way = "nearer the "
		}
		way += map[string]string{"first": "top", "last": "end"}[key]
		r.add(3+by.MM(), "set the "+key+" "+x.len(by)+" "+way, x.sized("run."+key, s, now, func(l measure.Length) measure.Length { return l + dir*by }))
	}
}

func (r *runChanges) anchors() {
	x := r.x
	for i := range x.C.Run.Anchors {
		a := &x.C.Run.Anchors[i]
		if !r.part[spacing.Constraint{Kind: spacing.KindAnchor, Index: i}] || a.Name == "" {
			continue
		}
		key := "run.anchor." + a.Name + "."
		within := func(k int) measure.Length { w := a.Within.At(k); return w.Or(plan.AnchorWithin) }
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Anchors[i].Within += by }); by > 0 {
			r.add(4+by.MM(), "let "+a.Name+" be "+x.len(by)+" farther from a fastener", x.sized(key+"within", a.Within, within, func(l measure.Length) measure.Length { return (l + by).RoundUp(plan.HoleStep(x.U)) }))
		}
		// An anchor moved farther than its own leeway would be another place.
		for _, dir := range []measure.Length{-1, 1} {
			n, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Anchors[i].At += dir * by })
			if n == 0 || by > within(0) || a.At.At(0).V+dir*by <= 0 {
				continue
			}
			way := "lower"
			if dir < 0 {
				way = "higher"
			}
			r.add(4+by.MM(), "move "+a.Name+" "+x.len(by)+" "+way, x.sized(key+"at", a.At, func(k int) measure.Length { return a.At.At(k).V }, func(l measure.Length) measure.Length { return l + dir*by }))
		}
	}
}

// ProposeAny are changes of every sort to a closure, for a finding whose own
// rule has nothing that works, and for pairs.
func ProposeAny(x *Context, f *Finding) []Change {
	var out []Change
	add := func(cost float64, says string, with ...string) {
		out = append(out, Change{With: with, Says: says, Cost: cost})
	}
	// What was asked for and could be left to be worked out.
	for _, g := range []struct {
		given     bool
		key, says string
	}{
		{x.C.HoleLen.Has(), "hole_length", "the length of the hole"},
		{x.C.Needle.Has(), "needle", "the needle"},
		{x.C.Stitch.Has(), "stitch", "the stitch"},
		{x.C.Stand.Strip.Has(), "stand.strip", "the width of the strip"},
		{x.C.Loop.Has(), "loop", "the length of the loop"},
		{x.C.PunchHole.Has(), "punch", "the punched hole"},
		{x.C.Backing.Has(), "backing", "the backing button"},
		{x.C.Hole != "", "hole", "the kind of hole"},
		{x.C.Direction != "", "direction", "the direction of the holes"},
		{x.C.Rule != "", "hole_rule", "the rule for the hole"},
	} {
		if g.given {
			add(5, "leave "+g.says+" to be worked out", x.key(g.key)+"=")
		}
	}
	if h := &x.K.Hole; h.Needed {
		if h.Direction == "across" {
			add(12, "set the holes along the edge", x.key("direction")+"=along")
		} else {
			add(12, "set the holes across", x.key("direction")+"=across")
		}
		if h.Worked() {
			add(40, "work the holes by hand", x.key("hole")+"=hand")
			add(45, "make bound holes", x.key("hole")+"=bound")
		}
	}
	if x.C.Notion.Kind != catalog.Zip {
		now := plan.ShapeOf(&x.C.Notion)
		d, pass := now.Across(), now.Passing()
		out = append(out, x.otherNotions(6, func(s plan.Shape) bool { return s.Across() < d || s.Passing() < pass })...)
		out = append(out, x.otherNotions(4, func(s plan.Shape) bool { return s.Across() > d || s.Passing() > pass })...)
		out = append(out, proposeStand(x, f)...)
	}
	if strip := &x.K.Support; strip.Needed && strip.Given {
		l := strip.Usual.RoundUp(plan.HoleStep(x.U) * 2)
		add((l-strip.Strip).Abs().MM()/4, "cut the strip "+x.len(l)+" wide", x.key("stand.strip")+"="+l.Exact(x.U))
	}
	out = append(out, cheapest(proposeThinner(x, &Finding{}), 6)...)
	out = append(out, proposeNeedle(x)...)
	out = append(out, proposeThread(x)...)
	slices.SortStableFunc(out, func(a, b Change) int {
		return cmp.Or(cmp.Compare(a.Cost, b.Cost), CompareChanges(a, b))
	})
	out = slices.CompactFunc(out, func(a, b Change) bool { return slices.Equal(a.With, b.With) })
	return out[:min(len(out), 40)]
}
