package work

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Line is one line of what to buy: one thing, or a zip in several lengths.
type Line struct {
	plan.Goods
	Kind plan.GoodKind
	What string   // what to ask for
	For  []string // which closures, in their order
	Jobs []plan.Job
}

// Lines are what to buy for a garment, in words, and what is only suggested.
// A drawcord that a rule forbids is not among them.
func Lines(p *rules.Planned) (buy, suggested []*Line) {
	var banned []int
	for i := range p.Garment.Cords {
		if cordBanned(p, i) {
			banned = append(banned, i)
		}
	}
	keys := map[string]*Line{}
	for _, g := range p.Goods(banned...) {
		l := keys[lineKey(p, g)]
		if l == nil {
			l = &Line{Kind: g.Kind, What: whatOf(p, g), For: []string{}}
			keys[lineKey(p, g)] = l
			if g.Suggested {
				suggested = append(suggested, l)
			} else {
				buy = append(buy, l)
			}
		}
		l.Goods = append(l.Goods, g)
		for _, u := range g.Uses {
			if u.Closure != -1 && !slices.Contains(l.For, p.Garment.Closures[u.Closure].Name) {
				l.For = append(l.For, p.Garment.Closures[u.Closure].Name)
			}
			if !slices.Contains(l.Jobs, u.Job) {
				l.Jobs = append(l.Jobs, u.Job)
			}
		}
		for _, i := range g.Cords {
			l.For = append(l.For, p.Garment.Cords[i].Name)
		}
	}
	for _, l := range buy {
		slices.SortStableFunc(l.Jobs, func(a, b plan.Job) int { return slices.Index(jobOrder, a) - slices.Index(jobOrder, b) })
	}
	return buy, suggested
}

// jobOrder is the work that takes thread, in the order it is told.
var jobOrder = []plan.Job{plan.JobHoles, plan.JobFasten, plan.JobZip, plan.JobLoops, plan.JobEdge, plan.JobTacks, plan.JobBaste}

// lineKey tells lines apart: zips of one sort are one line.
func lineKey(p *rules.Planned, g *plan.Good) string {
	if c := closureOf(p, g); g.Kind == plan.GoodFastener && c.Notion.Kind == catalog.Zip {
		return string(plan.FastenerID(c, 0))
	}
	return string(g.ID)
}

// closureOf is the first closure that a fastener or backing button is for.
func closureOf(p *rules.Planned, g *plan.Good) *catalog.Closure {
	if g.Kind != plan.GoodFastener && g.Kind != plan.GoodBacking {
		return nil
	}
	return &p.Garment.Closures[g.Index]
}

// whatOf is what to ask for.
func whatOf(p *rules.Planned, g *plan.Good) string {
	switch g.Kind {
	case plan.GoodFastener:
		if c := closureOf(p, g); c.Use == "" {
			return g.Name + " (" + c.Name + ")"
		}
	case plan.GoodBacking:
		if g.Name == "" {
			return "flat button, " + rules.Ligne(g.Size) + " ligne"
		}
	case plan.GoodNeedle:
		return g.Needle.String() + " " + g.Point
	case plan.GoodHandNeedle:
		return g.Hand.Kind + " " + strconv.Itoa(g.Hand.Number)
	case plan.GoodThread:
		if g.Name == "" {
			return g.Tex.String() + " " + g.Fibre
		}
	case plan.GoodLoopCord:
		if g.Name == "" {
			return "cord for loops"
		}
	case plan.GoodSealant:
		return "sealant for cut edges"
	}
	return g.Name
}

// cordBanned says whether a rule forbids a drawcord altogether.
func cordBanned(p *rules.Planned, i int) bool {
	for k := range p.Findings {
		if f := &p.Findings[k]; f.Rule == "safety-cord-top" && f.Severity == rules.Conflict && f.Path() == rules.CordPath(i, "at") {
			return true
		}
	}
	return false
}

// Entry is the catalogue entry of a line, or nil.
func (l *Line) Entry() *catalog.Entry { return l.Goods[0].Entry }

// Counted says whether the line is a fastener or a backing button, which
// prices and packs are kept of.
func (l *Line) Counted() bool { return l.Kind == plan.GoodFastener || l.Kind == plan.GoodBacking }

// Price is the price of one piece, and whether there is one.
func (l *Line) Price() (float64, bool) {
	if e := l.Entry(); e != nil && e.Price.Has() {
		return e.Price.V, true
	}
	return 0, false
}

// ZipLengths are the lengths of a zip to buy in those sizes, closure by
// closure; nil for anything else. 0 stands where none sold is long enough.
func (l *Line) ZipLengths(p *rules.Planned, sizes []int) (closures []int, lengths [][]measure.Length) {
	for i := range p.Closures {
		k := &p.Closures[i]
		if !k.Zip.Needed || !slices.ContainsFunc(l.Goods, func(g *plan.Good) bool {
			return slices.ContainsFunc(g.Uses, func(u plan.GoodUse) bool { return u == plan.GoodUse{Closure: i, Job: plan.JobZip} }) && g.Kind == plan.GoodFastener
		}) {
			continue
		}
		row := make([]measure.Length, len(sizes))
		for j, s := range sizes {
			row[j] = k.Zip.Sizes[s].Buy
		}
		closures, lengths = append(closures, i), append(lengths, row)
	}
	return closures, lengths
}

// Sold is a length of goods or cord as it is asked for in a shop: 7/8 yd, or
// 80 cm.
func Sold(l measure.Length, u measure.Unit) string {
	if u.Is(measure.In) {
		return strings.TrimSuffix((l/36).ShortPlace(measure.In), " in") + " yd"
	}
	return text.Number(l.MM()/10) + " cm"
}

// Taken is a length of goods or cord that is used, in the unit in which it is
// sold: 13/16 yd, or 76.2 cm. It is never less than the length.
func Taken(l measure.Length, u measure.Unit) string {
	if u.Is(measure.In) {
		return strings.TrimSuffix((l/36).ShortLeast(u), " in") + " yd"
	}
	return text.Number(math.Ceil(l.MM())/10) + " cm"
}

// jobsInWords are what a thread is used for, in words.
func jobsInWords(jobs []plan.Job) string {
	words := make([]string, 0, len(jobs))
	for _, j := range jobOrder {
		if slices.Contains(jobs, j) {
			words = append(words, string(j))
		}
	}
	return text.And(words...)
}

// buy are the tasks of buying what the list has.
func (w *planner) buy() {
	buy, suggested := Lines(w.p)
	var needles []*Line
	for _, l := range buy {
		switch l.Kind {
		case plan.GoodFastener:
			w.buyFastener(l)
		case plan.GoodBacking:
			w.buyBacking(l)
		case plan.GoodLoopCord:
			w.buyLoopCord(l)
		case plan.GoodCord:
			w.buyCord(l)
		case plan.GoodThread:
			w.buyThread(l)
		case plan.GoodSealant:
			w.order(l, "", "Buy a sealant for the cut edges of the holes of the %s.", text.And(l.For...))
		case plan.GoodNeedle, plan.GoodHandNeedle:
			needles = append(needles, l)
			if l == buy[len(buy)-1] || !isNeedle(buy[slices.Index(buy, l)+1]) {
				w.buyNeedles(needles)
			}
		case plan.GoodInterfacing:
			w.buyInterfacing(l)
		}
	}
	for _, more := range Uncounted(w.p, w.sizes, w.len) {
		w.add(StageBuy, "", "Buy %s.", more)
	}
	if len(suggested) != 0 {
		var parts []string
		for _, l := range suggested {
			g := l.Goods[0]
			parts = append(parts, fmt.Sprintf("%s %s of %s ligne (backing = \"%sL\")", text.And(l.For...), w.howMany(l), rules.Ligne(g.Size), rules.Ligne(g.Size)))
		}
		w.add(StageBuy, "", "Worth having on heavy cloth, but not bought until the file asks for them: flat backing buttons, %s.", strings.Join(parts, "; "))
	}
	w.tell(StageBuy, rules.TaskBuyCloth)
}

func isNeedle(l *Line) bool { return l.Kind == plan.GoodNeedle || l.Kind == plan.GoodHandNeedle }

// order adds the task of buying a line.
func (w *planner) order(l *Line, closure, format string, args ...any) *Task {
	t := w.add(StageBuy, closure, format, args...)
	for _, g := range l.Goods {
		t.Buys = append(t.Buys, g.ID)
	}
	return t
}

// only is the closure of a line that is for one alone, else "".
func (l *Line) only() string {
	if len(l.For) == 1 {
		return l.For[0]
	}
	return ""
}

// howMany is how many pieces of a line one garment takes, by size where that
// differs.
func (w *planner) howMany(l *Line) string {
	return w.bySize(func(s int) string {
		a := l.Amount(w.u, plan.One(l.Goods[0], s))
		if !a.Known {
			return "as many as the layout takes"
		}
		parts := []string{strconv.Itoa(a.Needed)}
		if a.Once > 0 {
			parts = append(parts, strconv.Itoa(a.Once)+" to test")
		}
		if a.Spare > 0 {
			parts = append(parts, strconv.Itoa(a.Spare)+" spare")
		}
		says := text.And(parts...)
		if pack := l.Goods[0].Pack; pack > 1 {
			says += ", " + piecesOf(a.Packs, "pack") + " of " + strconv.Itoa(pack)
		}
		return says
	})
}

// Uncounted is what to buy that no list of goods counts: leather for the
// patches over the ends of cords, cut from a scrap, and tape for the seams of
// cloth that leaks at every needle hole, as long as seams that no closure has.
func Uncounted(p *rules.Planned, sizes []int, say func(measure.Length) string) []string {
	var out []string
	patches := 0
	for _, z := range sizes {
		n := 0
		for i := range p.Closures {
			n += p.Closures[i].Patched(z)
		}
		patches = max(patches, n)
	}
	if patches > 0 {
		out = append(out, fmt.Sprintf("leather or firm cloth for %d patches over the ends of cords, %s × %s each", patches, say(plan.PatchWide), say(plan.PatchLong)))
	}
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Settled == "" && f.Rule == "seam-seal" {
			return append(out, "seam tape, "+say(plan.SeamTape)+" wide, as long as the seams that are taped")
		}
	}
	return out
}

func (w *planner) buyFastener(l *Line) {
	c := closureOf(w.p, l.Goods[0])
	if c.Notion.Kind != catalog.Zip {
		buy := "for the " + text.And(l.For...) + ", " + w.called(c) + ": " + w.howMany(l)
		if c.Use == "" {
			buy = text.Plural(c.Notion.Kind) + " for the " + text.And(l.For...) + ": " + w.howMany(l)
			if l.only() == text.Plural(c.Notion.Kind) {
				buy = l.only() + ": " + w.howMany(l)
			}
		}
		if h := &w.p.Closures[c.Index].Hardware; h.Needed && h.Packing > 0 {
			buy += "; washers or a patch to pack each by " + h.Packing.TextThin(w.u)
		}
		t := w.listed(StageBuy, l.only(), "Buy the fasteners", buy, "Buy "+buy+".")
		for _, g := range l.Goods {
			t.Buys = append(t.Buys, g.ID)
		}
		for _, name := range l.For {
			w.take(t, name, rules.TaskBuy, rules.TaskBuySafely)
		}
		return
	}
	closures, _ := l.ZipLengths(w.p, w.sizes)
	for _, i := range closures {
		k := &w.p.Closures[i]
		c := k.Closure
		name := ""
		if c.Use != "" {
			name = ", " + c.Notion.Name
		}
		t := w.add(StageBuy, c.Name, "Buy the zip%s%s", of(c), name).bySizes(w, ":", func(s int) string { return w.zipText(k, s) })
		t.Buys = k.FastenerIDs(w.sizes)
		w.nominal(t, k)
		w.take(t, c.Name, rules.TaskBuy, rules.TaskBuySafely)
	}
}

// nominal says once what is to know of zips that are sold by length: the
// length marked is nominal. What is cut off is told where it is done.
func (w *planner) nominal(t *Task, k *plan.Closure) {
	c, z := k.Closure, &k.Zip
	listed := len(c.Notion.Lengths) != 0
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; f.Rule == "zip-shorten" && f.Closure == c.Name && f.Settled == "" {
			w.taken[f] = true
			if !listed && !z.Sizes[max(slices.Index(w.g.Sizes, f.Size), 0)].Given {
				w.care(t, "No lengths are listed: ask what it is sold in, and shorten a longer one at the "+z.End+".")
			}
		}
	}
	var as []int // sizes whose zip is as long as the opening
	for n, s := range w.sizes {
		if q := &z.Sizes[s]; !q.Given && q.Length != 0 && q.CutOff == 0 {
			as = append(as, n)
		}
	}
	switch {
	case len(as) == 0 || !listed:
	case len(as) == len(w.sizes):
		w.care(t, "It is just as long as what it closes: measure that first, a zip may be shorter than marked.")
	default:
		w.care(t, w.sizeNames(as)+": it is just as long as what it closes: measure that first, a zip may be shorter than marked.")
	}
}

// zipText is the zip of one size as it is bought.
func (w *planner) zipText(k *plan.Closure, size int) string {
	z, c := &k.Zip.Sizes[size], k.Closure
	if z.Buy == 0 {
		return "none on sale is long enough"
	}
	says := w.len(z.Buy)
	if len(c.Notion.Lengths) == 0 && !z.Given {
		says += " at least"
	}
	if z.Given && z.Buy != z.Length {
		says += ", since " + w.len(z.Length) + " is not sold"
	}
	if c.Pieces > 1 {
		says = strconv.Itoa(c.Pieces) + " of " + says
	}
	if c.Spare > 0 {
		says += " and " + strconv.Itoa(c.Spare) + " spare"
	}
	return says
}

func (w *planner) buyBacking(l *Line) {
	g := l.Goods[0]
	name := ""
	if g.Name != "" {
		name = g.Name + ", "
	}
	asked := ""
	if g.Asked > 0 {
		asked = " (" + rules.Ligne(g.Asked) + " ligne is not sold)"
	}
	w.order(l, l.only(), "Buy for the %s, flat backing buttons, %s%s ligne, %s%s: %s.", text.And(l.For...), name, rules.Ligne(g.Size), w.len(g.Size), asked, w.howMany(l))
}

func (w *planner) buyLoopCord(l *Line) {
	g := l.Goods[0]
	name := ""
	if g.Name != "" {
		name = ", " + g.Name
	}
	if g.Size != 0 {
		name += ", " + w.len(g.Size) + " thick"
	}
	w.order(l, l.only(), "Buy cord for the loops of the %s%s: %s.", text.And(l.For...), name, w.bySize(func(s int) string {
		a := l.Amount(w.u, plan.One(g, s))
		if !a.Known {
			return "as much as the layout takes"
		}
		return Sold(a.Buy, w.u) + "; " + a.Length.TextLeast(w.u) + " is needed"
	}))
}

func (w *planner) buyCord(l *Line) {
	for _, says := range l.Drawcords(w.p) {
		w.order(l, "", "Buy %s.", says)
	}
}

// Drawcords are the drawcords of a line, or what holds in their place, in words.
func (l *Line) Drawcords(p *rules.Planned) []string {
	var out []string
	for _, i := range l.Goods[0].Cords {
		c := &p.Garment.Cords[i]
		switch {
		case c.Instead == "snaps":
			out = append(out, fmt.Sprintf("snaps for the %s, in place of its cord, as many as hold it in; a [[closure]] of their own plans them", c.At))
		case c.Instead != "":
			out = append(out, fmt.Sprintf("%s for the %s, in place of its cord: as long as the channel is drawn in, and the seams", c.Instead, c.At))
		default:
			what := "a " + cordAt(p.Garment, c)
			if c.Use != "" {
				what = c.Use + " for the " + cordAt(p.Garment, c)
			}
			out = append(out, what+", as long as its channel and the free ends")
		}
	}
	return out
}

func (w *planner) buyThread(l *Line) {
	g := l.Goods[0]
	most := func(say func(a plan.GoodAmount) string) string {
		_, a := l.Most(w.u, w.sizes)
		switch {
		case a.Length == 0 && !a.Known:
			return "as much as the layout takes"
		case !a.Known:
			return say(a) + " or more"
		}
		return say(a)
	}
	amount := most(func(a plan.GoodAmount) string {
		s := Metres(a.Length, w.u)
		if a.Spools > 0 {
			s = piecesOf(a.Spools, "spool") + " of " + Spool(g.Spool, w.u) + "; " + s
		}
		return s
	})
	name := l.What
	if g.Own != "" && g.Own != name {
		name = g.Own + ", " + name
	}
	if g.Name != "" {
		name += ", " + g.Tex.String()
	}
	if strings.HasSuffix(g.Fibre, " gimp") || g.Own == "gimp" {
		w.order(l, l.only(), "Gimp for the holes of the %s: %s, %s a garment.", text.And(l.For...), name, amount)
		return
	}
	seams := ", a shade darker than the cloth"
	if !strings.HasSuffix(g.Fibre, " twist") && !strings.HasSuffix(g.Own, "twist") {
		seams = w.once(", other seams not counted", "")
	}
	w.order(l, "", "Thread for %s: %s, %s a garment%s.", jobsInWords(l.Jobs), name, amount, seams)
}

func (w *planner) buyNeedles(lines []*Line) {
	t := w.add(StageBuy, "", "%s.", Needles(lines))
	for _, l := range lines {
		for _, g := range l.Goods {
			t.Buys = append(t.Buys, g.ID)
		}
	}
}

func (w *planner) buyInterfacing(l *Line) {
	g := l.Goods[0]
	size, a := l.Most(w.u, w.sizes)
	if size == -1 {
		return
	}
	name := ""
	if l.What != g.Own {
		name = ", " + l.What
	}
	switch {
	case g.Waits != "":
		w.order(l, "", "Buy for the %s interfacing%s: not before %s is settled.", g.Own, name, g.Waits)
	case !a.Known:
		var parts []string
		for _, p := range slices.Concat(g.Cut[size], g.Swatches) {
			if p.N != 0 {
				parts = append(parts, fmt.Sprintf("%d of %s × %s", p.N, w.len(p.Width), w.len(p.Length)))
			}
		}
		w.order(l, "", "Buy for the %s interfacing%s: enough for %s; the file does not say how wide it is.", g.Own, name, text.And(parts...))
	case !a.Fits:
		w.order(l, "", "Buy for the %s interfacing%s: wider goods than %s, or its pieces must be joined.", g.Own, name, w.len(g.Width))
	default:
		w.order(l, "", "Buy for the %s interfacing%s, %s wide: %s; %s is needed.", g.Own, name, w.len(g.Width), Sold(a.Buy, w.u), a.Length.TextLeast(w.u))
	}
}

// Needles are the lines of needles in one text.
func Needles(lines []*Line) string {
	var machine, hand []string
	for _, l := range lines {
		if l.Kind == plan.GoodHandNeedle {
			hand = append(hand, l.What)
		} else {
			machine = append(machine, l.What)
		}
	}
	says := ""
	if len(machine) != 0 {
		says = "Needles, two of each at least: " + text.And(machine...)
	}
	switch {
	case len(hand) == 0:
	case says == "":
		says = "Needles for sewing by hand: " + text.And(hand...)
	default:
		says += "; for sewing by hand " + text.And(hand...)
	}
	return says
}
