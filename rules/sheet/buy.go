package sheet

import (
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// Buy is what to buy for one garment, of the size that needs most, and for
// the whole range, one garment of every size.
type Buy struct {
	Garments    int           `json:"garments"` // in the range
	Notions     []BuyNotion   `json:"notions"`
	Interfacing []BuyInterf   `json:"interfacing"`
	Thread      []BuyThread   `json:"thread"`
	Cord        []BuyCord     `json:"cord"`
	Needles     []BuyNeedle   `json:"needles"`
	Sundries    []BuySundry   `json:"sundries"`
	Suggested   []BuySuggests `json:"suggested"` // neither ordered nor priced
	Cost        Cost          `json:"cost"`
	Unpriced    []string      `json:"unpriced"` // notions without a price, so not in the cost
}

// Cost is money, in the currency of the prices; null where they are in several
// currencies, which are never added.
type Cost struct {
	Currency *string `json:"currency"` // null: no catalogue names it

	Garment *float64 `json:"garment"`
	Range   *float64 `json:"range"`
}

// Amount is how many of a notion to buy.
type Amount struct {
	Needed int      `json:"needed"` // without spares
	Spare  int      `json:"spare"`
	Test   int      `json:"test"` // sets that are tried in scrap, once
	Packs  int      `json:"packs"`
	Pieces int      `json:"pieces"` // in those packs
	Cost   *float64 `json:"cost"`
}

// BuyNotion is a fastener to buy.
type BuyNotion struct {
	Notion   string   `json:"notion"`
	Kind     string   `json:"kind"`
	About    string   `json:"about"`
	Article  *string  `json:"article"` // the supplier's number
	Supplier *string  `json:"supplier"`
	Colour   *string  `json:"colour"`
	Closures []string `json:"closures"`
	Lengths  []MM     `json:"lengths_mm"` // zips: one a size for each closure, 0 where none sold is long enough
	Pack     int      `json:"pack"`
	Price    *float64 `json:"price"` // of one piece
	Currency *string  `json:"currency"`
	Garment  Amount   `json:"garment"`
	Range    Amount   `json:"range"`
	Known    bool     `json:"known"` // false: a closure does not say how many

	line *work.Line
}

// BuyInterf is interfacing to buy.
type BuyInterf struct {
	Interfacing string     `json:"interfacing"`
	Name        string     `json:"name"` // in the garment file
	Goods       *MM        `json:"goods_width_mm"`
	Shrink      float64    `json:"shrink_percent"`
	Pieces      []BuyPiece `json:"pieces"` // of one garment
	Size        string     `json:"size"`   // that needs most
	Garment     *MM        `json:"garment_mm"`
	GarmentBuy  *MM        `json:"garment_buy_mm"` // rounded up to 1/8 yd or 10 cm, as shops cut it
	Range       *MM        `json:"range_mm"`
	RangeBuy    *MM        `json:"range_buy_mm"`
	Fits        bool       `json:"fits"`

	differ bool   // the sizes do not all take as much
	waits  string // the rule that must be settled before it is known how much
}

// BuyPiece is a kind of strip or patch, or a swatch for the test.
type BuyPiece struct {
	Closure string `json:"closure"` // of a swatch what it is for
	Kind    string `json:"kind"`    // strip, patch or swatch
	Width   MM     `json:"width_mm"`
	Length  MM     `json:"length_mm"`
	Pieces  int    `json:"pieces"`
}

// BuyThread is thread for the jobs that the checklist has.
type BuyThread struct {
	Thread   string   `json:"thread"` // of the catalogue, or in words
	Name     string   `json:"name"`   // in the garment file
	Tex      float64  `json:"tex"`
	Fibre    string   `json:"fibre"`
	Closures []string `json:"closures"`
	Jobs     []string `json:"jobs"`
	Garment  MM       `json:"garment_mm"`
	Range    MM       `json:"range_mm"`
	Known    bool     `json:"known"` // false: a closure does not say how many holes or fasteners
	Spool    *MM      `json:"spool_mm"`
	Spools   *int     `json:"spools"` // for the range
}

// BuyCord is cord: for loops, or a drawcord, whose length the file does not
// say.
type BuyCord struct {
	Cord       string   `json:"cord"`
	Kind       string   `json:"kind"`
	For        []string `json:"for"` // closures, or the garment's cords
	Thickness  *MM      `json:"thickness_mm"`
	Garment    *MM      `json:"garment_mm"`
	GarmentBuy *MM      `json:"garment_buy_mm"` // rounded up to 1/8 yd or 10 cm, as shops cut it
	Range      *MM      `json:"range_mm"`
	RangeBuy   *MM      `json:"range_buy_mm"`

	line *work.Line
}

// BuyNeedle is a needle that some task uses.
type BuyNeedle struct {
	Needle   string   `json:"needle"`
	Kind     string   `json:"kind"` // needle or hand needle
	Closures []string `json:"closures"`
	Jobs     []string `json:"jobs"`
	Pieces   int      `json:"pieces"`

	line *work.Line
}

// BuySundry is anything else.
type BuySundry struct {
	What     string   `json:"what"`
	Closures []string `json:"closures"`
	Pieces   int      `json:"pieces"`
}

// BuySuggests is something that nobody asked for.
type BuySuggests struct {
	What     string   `json:"what"`
	Kind     string   `json:"kind"`
	Size     MM       `json:"size_mm"`
	Closures []string `json:"closures"`
	Garment  int      `json:"garment"` // pieces
	Set      []string `json:"set"`     // what to write in the file: KEY=VALUE
}

// buy puts the list of goods into the tables.
func (s *Garment) buy() Buy {
	b := Buy{
		Garments: len(s.picked), Notions: []BuyNotion{}, Interfacing: []BuyInterf{}, Thread: []BuyThread{}, Cord: []BuyCord{},
		Needles: []BuyNeedle{}, Sundries: []BuySundry{}, Suggested: []BuySuggests{}, Unpriced: []string{},
	}
	every := make([]int, len(s.plan.Garment.Sizes)) // one garment of each size
	for _, i := range s.picked {
		every[i] = 1
	}
	lines, suggested := work.Lines(s.plan)
	var one, all float64
	var currencies []string
	for _, l := range lines {
		g := l.Goods[0]
		size, a := l.Most(s.unit, s.picked)
		r := l.Amount(s.unit, every)
		switch l.Kind {
		case plan.GoodFastener, plan.GoodBacking:
			n := s.buyNotion(l, a, r)
			if n.Price == nil {
				b.Unpriced = append(b.Unpriced, n.Notion)
			} else {
				if c := deref(n.Currency); !slices.Contains(currencies, c) {
					currencies = append(currencies, c)
				}
				one, all = one+*n.Garment.Cost, all+*n.Range.Cost
			}
			b.Notions = append(b.Notions, n)
		case plan.GoodInterfacing:
			b.Interfacing = append(b.Interfacing, s.buyInterf(l, size, a, r))
		case plan.GoodThread:
			t := BuyThread{
				Thread: l.What, Name: g.Own, Tex: g.Tex.Tex(), Fibre: g.Fibre, Closures: l.For, Jobs: jobs(l),
				Garment: MM(a.Length), Range: MM(r.Length), Known: r.Known,
			}
			if g.Spool > 0 {
				t.Spool, t.Spools = ref(g.Spool), &r.Spools
			}
			b.Thread = append(b.Thread, t)
		case plan.GoodLoopCord, plan.GoodCord:
			c := BuyCord{Cord: l.What, Kind: string(l.Kind), For: l.For, Thickness: some(g.Size), line: l}
			if r.Known {
				c.Garment, c.GarmentBuy, c.Range, c.RangeBuy = ref(a.Length), ref(a.Buy), ref(r.Length), ref(r.Buy)
			}
			b.Cord = append(b.Cord, c)
		case plan.GoodNeedle, plan.GoodHandNeedle:
			b.Needles = append(b.Needles, BuyNeedle{l.What, string(l.Kind), l.For, jobs(l), r.Pieces, l})
		default:
			b.Sundries = append(b.Sundries, BuySundry{l.What, l.For, r.Pieces})
		}
	}
	for _, l := range suggested {
		g := l.Goods[0]
		_, a := l.Most(s.unit, s.picked)
		x := BuySuggests{What: l.What, Kind: string(l.Kind), Size: MM(g.Size), Closures: l.For, Garment: a.Needed, Set: []string{}}
		for _, name := range l.For {
			x.Set = append(x.Set, "closure."+name+".backing="+rules.Ligne(g.Size)+"L")
		}
		b.Suggested = append(b.Suggested, x)
	}
	if len(currencies) == 1 {
		b.Cost = Cost{word(currencies[0]), finite(round(one, 2)), finite(round(all, 2))}
	}
	return b
}

// jobs are the jobs of a line.
func jobs(l *work.Line) []string {
	out := make([]string, len(l.Jobs))
	for i, j := range l.Jobs {
		out[i] = string(j)
	}
	return out
}

func (s *Garment) buyNotion(l *work.Line, one, all plan.GoodAmount) BuyNotion {
	g := l.Goods[0]
	n := BuyNotion{Notion: l.What, Kind: string(l.Kind), Closures: l.For, Lengths: []MM{}, Pack: g.Pack, Known: one.Known, line: l}
	if l.Kind == plan.GoodFastener {
		n.Kind = s.plan.Garment.Closures[g.Index].Notion.Kind
	}
	if e := l.Entry(); e != nil {
		n.About, n.Article, n.Supplier, n.Colour = e.About, word(e.Article), word(e.Supplier), word(e.Colour)
	}
	if price, ok := l.Price(); ok {
		n.Price, n.Currency = finite(price), word(or(l.Entry().Currency, s.plan.Garment.Currency))
	}
	_, lengths := l.ZipLengths(s.plan, s.picked)
	for _, row := range lengths {
		n.Lengths = append(n.Lengths, mms(row)...)
	}
	amount := func(a plan.GoodAmount) Amount {
		out := Amount{Needed: a.Needed, Spare: a.Spare, Test: a.Once, Packs: a.Packs, Pieces: a.Pieces}
		if n.Price != nil {
			out.Cost = finite(round(*n.Price*float64(a.Pieces), 2))
		}
		return out
	}
	n.Garment, n.Range = amount(one), amount(all)
	return n
}

func (s *Garment) buyInterf(l *work.Line, size int, one, all plan.GoodAmount) BuyInterf {
	g := l.Goods[0]
	out := BuyInterf{Interfacing: l.What, Name: g.Own, Goods: some(g.Width), Shrink: g.Shrink, Pieces: []BuyPiece{}, Fits: one.Fits, waits: g.Waits}
	if size >= 0 {
		out.Size = s.plan.Garment.Sizes[size]
		for _, p := range g.Cut[size] {
			i := slices.IndexFunc(s.plan.Closures, func(k plan.Closure) bool { return k.Closure.Name == p.Name })
			kind := "strip"
			if i >= 0 && s.plan.Closures[i].Patch(size) {
				kind = "patch"
			}
			out.Pieces = append(out.Pieces, BuyPiece{p.Name, kind, MM(p.Width), MM(p.Length), p.N})
		}
		for _, p := range g.Swatches {
			out.Pieces = append(out.Pieces, BuyPiece{p.Name, "swatch", MM(p.Width), MM(p.Length), p.N})
		}
	}
	if one.Known && one.Fits {
		out.Garment, out.GarmentBuy = ref(one.Length), ref(one.Buy)
		out.Range, out.RangeBuy = ref(all.Length), ref(all.Buy)
		out.differ = slices.ContainsFunc(s.picked, func(i int) bool { return l.Amount(s.unit, plan.One(g, i)).Length != one.Length })
	}
	return out
}

// zipLengths are the lengths of a zip to buy in words, a text a closure.
func (s *Garment) zipLengths(n *BuyNotion) []string {
	closures, lengths := n.line.ZipLengths(s.plan, s.picked)
	var out []string
	for i, row := range lengths {
		where := ""
		if len(closures) > 1 {
			where = " for the " + s.plan.Closures[closures[i]].Closure.Name
		}
		parts := work.BySize(s.plan.Garment, s.picked, func(j int) string {
			if row[j] == 0 {
				return "none long enough"
			}
			return s.len(MM(row[j])).Text
		})
		sep := ": "
		if len(parts) > 1 { // each begins with its sizes
			sep = ", "
		}
		name := n.alone()
		if strings.HasPrefix(name, "your own") {
			name = text.Capital(name)
		}
		out = append(out, name+" to buy"+where+sep+strings.Join(parts, "; "))
	}
	return out
}

// alone is a notion by its name, without the closures that stand beside it in
// the table.
func (n *BuyNotion) alone() string {
	return strings.TrimSuffix(n.Notion, " ("+strings.Join(n.Closures, ", ")+")")
}

// rest is what to buy beside notions, interfacing and thread, in words. What
// is only suggested is said by its finding.
func (s *Garment) rest() []string {
	b := &s.Buy
	var out []string
	for i := range b.Cord {
		c := &b.Cord[i]
		if c.Kind == string(plan.GoodCord) {
			for _, says := range c.line.Drawcords(s.plan) {
				named := slices.ContainsFunc(s.plan.Garment.Cords, func(c catalog.GarmentCord) bool { return c.Use != "" && strings.HasPrefix(says, c.Use+" ") })
				if !named { // a name of the catalogue stays as it is
					says = text.Capital(says)
				}
				out = append(out, says)
			}
			continue
		}
		says := "Cord for the loops of the " + text.And(c.For...)
		if c.Cord != string(plan.GoodLoopCord) {
			says += ", " + c.Cord
		}
		if c.Garment != nil {
			says += ": " + s.goods(c.Garment, c.GarmentBuy).Text
			if b.Garments > 1 {
				says += "; for the range " + s.goods(c.Range, c.RangeBuy).Text
			}
		}
		out = append(out, says)
	}
	for _, more := range work.Uncounted(s.plan, s.picked, func(l measure.Length) string { return l.Short(s.unit) }) {
		out = append(out, text.Capital(more))
	}
	var needles []*work.Line
	for i := range b.Needles {
		needles = append(needles, b.Needles[i].line)
	}
	if len(needles) > 0 {
		out = append(out, work.Needles(needles))
	}
	for i := range b.Sundries {
		out = append(out, b.Sundries[i].What+", for the "+text.And(b.Sundries[i].Closures...))
	}
	return out
}
