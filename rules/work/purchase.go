package work

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Batch is a garment, or a variant of it, of which so many of each size are
// made.
type Batch struct {
	Plan     *rules.Planned
	Garments []int // one for each size
}

// Total is how many are made in all.
func (b *Batch) Total() int {
	n := 0
	for _, x := range b.Garments {
		n += x
	}
	return n
}

// Purchase is what to buy for several batches together.
type Purchase struct {
	Batches []Batch
	Units   measure.Unit
	Items   []*Item // by supplier, those without one last, then as the list of goods
	Costs   []Money // of all items, one for each currency
	Each    [][]Money
}

// Money is an amount in a currency, in hundredths; "" is a currency that no
// catalogue names.
type Money struct {
	Currency string
	Cents    int64
}

// Item is one thing to buy, for all that is made.
type Item struct {
	Kind     plan.GoodKind
	What     string
	Trade    catalog.Entry // article, supplier, colour, price, pack
	Currency string        // of the price
	Good     *plan.Good    // the first of its goods: sizes, spools, widths
	For      []string      // garments and closures
	Amount   plan.GoodAmount
	Buy      int // pieces or spools in the packs that are sold; 0: sold by length, or not known
	Packs    int
	Price    float64 // of one piece, spool or metre; see Priced
	Priced   bool
	Cost     Money
	Why      string // why it costs nothing here; "" where it has a cost

	batches []plan.Batch
	of      []int // places of the batches
}

// mostLength is the most of one thing that is ordered: above it lengths would
// no longer be told right.
const mostLength = 4e18 // nanometres

// NewPurchase pools what the batches take. Lengths are rounded to what shops
// cut in u. The error is of an order that is too large to be told.
func NewPurchase(batches []Batch, u measure.Unit) (*Purchase, error) {
	p := &Purchase{Batches: batches, Units: u, Each: make([][]Money, len(batches))}
	index := map[string]*Item{}
	for n := range batches {
		b := &batches[n]
		lines, _ := Lines(b.Plan)
		for _, l := range lines {
			for _, g := range l.Goods {
				k := itemKey(b.Plan, g)
				it := index[k]
				if it == nil {
					it = &Item{Kind: g.Kind, What: whatOf(b.Plan, g), Trade: tradeOf(b.Plan, g), Good: g}
					it.Currency = cmp.Or(it.Trade.Currency, b.Plan.Garment.Currency)
					index[k] = it
					p.Items = append(p.Items, it)
				}
				it.add(b, n, g, l)
			}
		}
	}
	for _, it := range p.Items {
		if err := it.pool(u); err != nil {
			return nil, err
		}
		p.Costs = plus(p.Costs, it.Cost)
	}
	p.Items = slices.DeleteFunc(p.Items, (*Item).nothing)
	for n := range batches {
		for _, it := range p.Items {
			p.Each[n] = plus(p.Each[n], it.each(n, batches[n].Total()))
		}
	}
	slices.SortStableFunc(p.Items, func(a, b *Item) int {
		if x, y := a.Trade.Supplier, b.Trade.Supplier; x != y {
			if x == "" || y == "" {
				return cmp.Compare(y, x)
			}
			return cmp.Compare(x, y)
		}
		return cmp.Or(
			cmp.Compare(a.order(), b.order()), cmp.Compare(a.What, b.What),
			cmp.Compare(a.Trade.Article, b.Trade.Article), cmp.Compare(a.Trade.Colour, b.Trade.Colour), cmp.Compare(a.Good.Size, b.Good.Size),
		)
	})
	return p, nil
}

// order is the place of the sort of thing in the list of goods.
func (it *Item) order() int { return plan.KindOrder(it.Kind) }

// itemKey tells apart what is bought: two goods of the same key are the same
// thing on a shelf.
func itemKey(p *rules.Planned, g *plan.Good) string {
	t := tradeOf(p, g)
	what := t.File + "\x00" + t.Name
	switch c := closureOf(p, g); {
	case g.Kind == plan.GoodFastener && c.Use == "":
		n := c.Notion
		what = fmt.Sprintf("own %+v", n)
	case g.Kind == plan.GoodThread:
		what += fmt.Sprint("\x00", g.Tex, g.Fibre, g.Spool)
	case g.Kind == plan.GoodInterfacing:
		what += fmt.Sprint("\x00", g.Width, g.Shrink)
		if t.Name == "" {
			what += fmt.Sprintf("own %s %+v", g.Own, *p.Garment.Interfacings[g.Index])
		}
	case g.Kind == plan.GoodCord:
		if t.Name == "" {
			what += "\x00" + p.Garment.File + "\x00" + g.Name
		}
	case g.Kind == plan.GoodNeedle, g.Kind == plan.GoodHandNeedle, g.Kind == plan.GoodSealant:
		what += "\x00" + string(g.ID)
	}
	return fmt.Sprintf("%s\x00%s\x00%d\x00%q\x00%q\x00%q\x00%v\x00%d\x00%s", g.Kind, what, g.Size, t.Article, t.Supplier, t.Colour, t.Price, g.Pack, cmp.Or(t.Currency, p.Garment.Currency))
}

// tradeOf is what a catalogue, or the garment file, says of buying a good.
func tradeOf(p *rules.Planned, g *plan.Good) catalog.Entry {
	switch {
	case g.Entry != nil:
		return *g.Entry
	case g.Kind == plan.GoodInterfacing:
		return p.Garment.Interfacings[g.Index].Entry
	case g.Kind == plan.GoodThread:
		if th := p.Garment.ThreadNamed(g.Own); th != nil {
			return th.Entry
		}
	}
	return catalog.Entry{}
}

// add counts a good of a batch.
func (it *Item) add(b *Batch, n int, g *plan.Good, l *Line) {
	it.batches = append(it.batches, plan.Batch{Good: g, Garments: b.Garments})
	it.of = append(it.of, n)
	closures := l.For
	if len(l.Goods) > 1 { // zips of several lengths: those of this one
		closures = nil
		for _, u := range g.Uses {
			closures = append(closures, b.Plan.Garment.Closures[u.Closure].Name)
		}
	}
	says := b.Plan.Garment.Title()
	if len(closures) != 0 {
		says += " (" + strings.Join(closures, ", ") + ")"
	}
	if !slices.Contains(it.For, says) {
		it.For = append(it.For, says)
	}
}

// pool works out how much to buy and what it costs.
func (it *Item) pool(u measure.Unit) error {
	var length float64
	for _, b := range it.batches {
		for s, n := range b.Garments {
			length += float64(n) * float64(b.Good.Len[s])
			if it.Kind != plan.GoodInterfacing {
				continue
			}
			for _, p := range b.Good.Cut[s] {
				length += float64(n) * float64(p.N) * float64(p.Length)
			}
		}
	}
	if length > mostLength {
		return fmt.Errorf("%s: that is more than can be ordered at once: %.0f km", it.What, length/1e12)
	}
	it.Amount = plan.Pooled(u, it.batches)
	it.Price, it.Priced = it.Trade.Price.V, it.Trade.Price.Has()
	var units float64
	a, missing := &it.Amount, ""
	if it.Unlaid() {
		missing = "no size is laid out"
	}
	waits := ""
	for _, b := range it.batches {
		waits = cmp.Or(waits, b.Good.Waits)
	}
	switch it.Kind {
	case plan.GoodThread:
		if a.Spools != 0 {
			it.Packs = plan.Packs(a.Spools, it.Good.Pack)
			it.Buy = it.Packs * it.Good.Pack
		} else if a.Length != 0 {
			missing = "the length on a spool is not said (metres)"
		}
		units = float64(it.Buy)
	case plan.GoodInterfacing, plan.GoodLoopCord:
		switch {
		case waits != "":
			missing = "not before " + waits + " is settled"
		case !a.Known && it.Kind == plan.GoodInterfacing:
			missing = "its width is not said"
		case !a.Fits:
			missing = "the goods are narrower than a piece"
		}
		units = a.Buy.MM() / 1000
	case plan.GoodCord:
		missing = "the file does not say how long its channel is"
	default:
		it.Buy, it.Packs = a.Pieces, a.Packs
		units = float64(it.Buy)
	}
	if it.Kind == plan.GoodFastener && it.Good.Index >= 0 && it.Good.Size == 0 && it.isZip() {
		missing = "none that is sold is long enough"
	}
	switch {
	case missing != "":
		it.Why, it.Priced = missing, false
		it.Buy, it.Packs = 0, 0
	case !it.Priced:
		it.Why = "no price"
	default:
		it.Cost = Money{it.Currency, cents(it.Price * units)}
	}
	return nil
}

// nothing says whether no size that is made takes any of it.
func (it *Item) nothing() bool {
	a := &it.Amount
	return a.Known && a.Fits && a.Needed+a.Spare+a.Once == 0 && a.Length == 0
}

// isZip says whether the thing is a zip.
func (it *Item) isZip() bool {
	return slices.ContainsFunc(it.Good.Uses, func(u plan.GoodUse) bool { return u.Job == plan.JobZip })
}

// AtLeast says whether it may take more: something does not say how many.
func (it *Item) AtLeast() bool {
	return !it.Amount.Known && it.Kind != plan.GoodInterfacing && it.Kind != plan.GoodCord
}

// Unlaid says whether it is a thread or a cord of which no size is laid out, so
// that nothing at all is known of how much it takes.
func (it *Item) Unlaid() bool {
	return !it.Amount.Known && it.Amount.Length == 0 && (it.Kind == plan.GoodThread || it.Kind == plan.GoodLoopCord)
}

// Of are the places of the batches that take it, in their order.
func (it *Item) Of() []int { return slices.Compact(slices.Clone(it.of)) }

// each is what one garment of a batch uses of it, in money: by use, not by
// pack.
func (it *Item) each(batch, total int) Money {
	if !it.Priced || total == 0 {
		return Money{}
	}
	var sum float64
	for i, b := range it.batches {
		if it.of[i] != batch {
			continue
		}
		pieces, length := b.Used()
		switch it.Kind {
		case plan.GoodThread:
			sum += it.Price * float64(length) / float64(it.Good.Spool)
		case plan.GoodInterfacing, plan.GoodLoopCord:
			sum += it.Price * length.MM() / 1000
		default:
			sum += it.Price * float64(pieces)
		}
	}
	return Money{it.Currency, cents(sum / float64(total) * eachFine)}
}

// eachFine is how much finer the cost of a garment is counted before it is told,
// so that many small sums do not drift.
const eachFine = 10_000

func cents(x float64) int64 { return int64(math.Round(x * 100)) }

// plus adds an amount to those of the other currencies: two are never added.
func plus(sums []Money, m Money) []Money {
	if m.Cents == 0 {
		return sums
	}
	for i := range sums {
		if sums[i].Currency == m.Currency {
			sums[i].Cents += m.Cents
			return sums
		}
	}
	sums = append(sums, m)
	sort.Slice(sums, func(i, j int) bool { return sums[i].Currency < sums[j].Currency })
	return sums
}

// EachOf is the cost of one garment of a batch by use, one for each currency.
func (p *Purchase) EachOf(batch int) []Money {
	out := slices.Clone(p.Each[batch])
	for i := range out {
		out[i].Cents = (out[i].Cents + eachFine/2) / eachFine
	}
	return out
}

// CostOf is the cost of some items, one for each currency.
func CostOf(items []*Item) []Money {
	var out []Money
	for _, it := range items {
		out = plus(out, it.Cost)
	}
	return out
}

// Suppliers are the items of each supplier, those without one last.
func (p *Purchase) Suppliers() [][]*Item {
	var out [][]*Item
	for i, it := range p.Items {
		if i == 0 || it.Trade.Supplier != p.Items[i-1].Trade.Supplier {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], it)
	}
	return out
}
