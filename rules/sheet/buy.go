package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// Buy is what to buy for one garment, of the size that needs most, and for
// the whole range, one garment of every size.
type Buy struct {
	Garments    int         `json:"garments"` // in the range
	Notions     []BuyNotion `json:"notions"`
	Interfacing []BuyInterf `json:"interfacing"`
	Thread      []BuyThread `json:"thread"`
	Cost        Cost        `json:"cost"`
	Unpriced    []string    `json:"unpriced"` // notions without a price, so not in the cost
}

// Cost is money, in whatever the catalogue's prices are.
type Cost struct {
	Garment *float64 `json:"garment"`
	Range   *float64 `json:"range"`
}

// Amount is how many of a notion to buy.
type Amount struct {
	Needed int      `json:"needed"` // without spares
	Spare  int      `json:"spare"`
	Packs  int      `json:"packs"`
	Pieces int      `json:"pieces"` // in those packs
	Cost   *float64 `json:"cost"`
}

// BuyNotion is a fastener to buy.
type BuyNotion struct {
	Notion   string   `json:"notion"`
	Kind     string   `json:"kind"`
	About    string   `json:"about"`
	Closures []string `json:"closures"`
	Lengths  []MM     `json:"lengths_mm"` // zips: one a size, 0 where none sold is long enough
	Pack     int      `json:"pack"`
	Price    *float64 `json:"price"` // of one piece
	Garment  Amount   `json:"garment"`
	Range    Amount   `json:"range"`
	Known    bool     `json:"known"` // false: a closure does not say how many
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
}

// BuyPiece is a kind of strip or patch.
type BuyPiece struct {
	Closure string `json:"closure"`
	Kind    string `json:"kind"` // strip or patch
	Width   MM     `json:"width_mm"`
	Length  MM     `json:"length_mm"`
	Pieces  int    `json:"pieces"`
}

// BuyThread is thread used for holes and for sewing fasteners on.
type BuyThread struct {
	Thread   string   `json:"thread"` // of the catalogue, or in words
	Name     string   `json:"name"`   // in the garment file
	Tex      float64  `json:"tex"`
	Fibre    string   `json:"fibre"`
	Closures []string `json:"closures"`
	Garment  MM       `json:"garment_mm"`
	Range    MM       `json:"range_mm"`
	Spool    *MM      `json:"spool_mm"`
	Spools   *int     `json:"spools"` // for the range
}

// buy works out what to buy. It adds up what the plan holds; the figures are
// the plan's.
func (s *Garment) buy() Buy {
	b := Buy{Garments: len(s.picked), Notions: []BuyNotion{}, Interfacing: []BuyInterf{}, Thread: []BuyThread{}, Unpriced: []string{}}
	s.buyNotions(&b)
	s.buyInterfacing(&b)
	s.buyThread(&b)
	return b
}

// wanted is a notion while it is counted.
type wanted struct {
	BuyNotion
	sizes []int // needed, by size
	spare int   // a garment
}

func (s *Garment) buyNotions(b *Buy) {
	var all []*wanted
	add := func(key, name, kind string, e *catalog.Entry, k *plan.Closure, spare int) *wanted {
		i := slices.IndexFunc(all, func(w *wanted) bool { return w.Notion == key })
		if i < 0 {
			w := &wanted{BuyNotion: BuyNotion{Notion: key, Kind: kind, Closures: []string{}, Lengths: []MM{}, Pack: 1, Known: true}, sizes: make([]int, len(s.picked))}
			if e != nil {
				w.About, w.Pack = e.About, max(1, e.Pack.Or(1))
				if e.Price.Has() {
					w.Price = finite(e.Price.V)
				}
			}
			all = append(all, w)
			i = len(all) - 1
		}
		w := all[i]
		w.Closures = append(w.Closures, name)
		w.spare += spare
		for j, size := range s.picked {
			n, known := k.Fasteners(size)
			w.sizes[j] += n
			w.Known = w.Known && known
		}
		return w
	}
	for i := range s.plan.Closures {
		k := &s.plan.Closures[i]
		c := k.Closure
		key := c.Notion.Name
		if c.Use == "" {
			key += " (" + c.Name + ")"
		}
		w := add(key, c.Name, c.Notion.Kind, &c.Notion.Entry, k, c.Spare)
		if c.Notion.Kind == catalog.Zip {
			for _, size := range s.picked {
				w.Lengths = append(w.Lengths, MM(k.Zip.Sizes[size].Length))
			}
		}
		if d := k.Sewing.Backing; d > 0 && k.Sewing.Sewn {
			name, e := s.backing(d)
			add(name, c.Name, "backing button", e, k, 0)
		}
	}
	var one, all1 float64
	priced := false
	for _, w := range all {
		most, sum := 0, 0
		for _, n := range w.sizes {
			most, sum = max(most, n), sum+n
		}
		w.Garment = w.amount(most, w.spare)
		w.Range = w.amount(sum, w.spare*len(s.picked))
		if w.Price == nil {
			b.Unpriced = append(b.Unpriced, w.Notion)
		} else {
			priced = true
			one, all1 = one+*w.Garment.Cost, all1+*w.Range.Cost
		}
		b.Notions = append(b.Notions, w.BuyNotion)
	}
	if priced {
		b.Cost = Cost{finite(round(one, 2)), finite(round(all1, 2))}
	}
}

func (w *wanted) amount(n, spare int) Amount {
	a := Amount{Needed: n, Spare: spare, Packs: plan.Packs(n+spare, w.Pack)}
	a.Pieces = a.Packs * w.Pack
	if w.Price != nil {
		a.Cost = finite(round(*w.Price*float64(a.Pieces), 2))
	}
	return a
}

// backing is a backing button of that width: one of the catalogue where it
// has one.
func (s *Garment) backing(d measure.Length) (string, *catalog.Entry) {
	name := "backing-" + itoa(int(d.RoundNearest(measure.Ligne)/measure.Ligne))
	if n := s.plan.Garment.Catalog.Notion(name); n != nil {
		return name, &n.Entry
	}
	return fmt.Sprintf("backing button, %.0f ligne", d.Lignes()), nil
}

func (s *Garment) buyInterfacing(b *Buy) {
	g := s.plan.Garment
	for n, it := range g.Interfacings {
		var mine []int
		for i := range s.plan.Closures {
			if s.plan.Closures[i].Support.Needed && s.plan.Closures[i].Support.Interfacing == it {
				mine = append(mine, i)
			}
		}
		if len(mine) == 0 {
			continue
		}
		out := BuyInterf{Interfacing: or(it.Name, g.InterfNames[n]), Name: g.InterfNames[n], Pieces: []BuyPiece{}, Shrink: it.Shrink.Or(0), Fits: true}
		var every []plan.CutPiece
		most, mostLen := -1, measure.Length(-1)
		for _, size := range s.picked {
			pieces := s.pieces(mine, size)
			every = append(every, pieces...)
			var need measure.Length
			if it.Width.Has() {
				l := plan.Lay(it.Width.V, out.Shrink, pieces)
				out.Fits = out.Fits && l.Fits
				need = l.Need
			}
			if need > mostLen {
				most, mostLen = size, need
			}
		}
		if most >= 0 {
			out.Size = g.Sizes[most]
			for j, p := range s.pieces(mine, most) {
				kind := "strip"
				if s.plan.Closures[mine[j]].Patch(most) {
					kind = "patch"
				}
				out.Pieces = append(out.Pieces, BuyPiece{p.Name, kind, MM(p.Width), MM(p.Length), p.N})
			}
		}
		if it.Width.Has() {
			out.Goods = ref(it.Width.V)
			if out.Fits && most >= 0 {
				out.Garment = ref(mostLen)
				all := plan.Lay(it.Width.V, out.Shrink, every).Need
				out.Range = ref(all)
				step := 10 * measure.Centimetre
				if s.unit == measure.In {
					step = measure.Yard / 8
				}
				out.GarmentBuy, out.RangeBuy = ref(mostLen.RoundUp(step)), ref(all.RoundUp(step))
			}
		}
		b.Interfacing = append(b.Interfacing, out)
	}
}

func (s *Garment) pieces(closures []int, size int) []plan.CutPiece {
	var out []plan.CutPiece
	for _, i := range closures {
		out = append(out, s.plan.StripPieces(i, size))
	}
	return out
}

func (s *Garment) buyThread(b *Buy) {
	g := s.plan.Garment
	var sums [][]measure.Length
	for i := range s.plan.Closures {
		k := &s.plan.Closures[i]
		t := &k.Thread
		if t.Tex <= 0 {
			continue
		}
		each := make([]measure.Length, len(s.picked))
		var sum measure.Length
		for j, size := range s.picked {
			each[j] = k.ThreadFor(size)
			sum += each[j]
		}
		if sum == 0 {
			continue
		}
		out := BuyThread{Thread: t.Tex.String() + " " + t.Fibre, Name: t.Name, Tex: t.Tex.Tex(), Fibre: t.Fibre}
		if th := g.ThreadNamed(t.Name); th != nil {
			out.Thread = or(th.Name, out.Thread)
			if th.Metres.Has() {
				out.Spool = ref(measure.FromMM(th.Metres.V * 1000))
			}
		}
		at := slices.IndexFunc(b.Thread, func(x BuyThread) bool { return x.Name == out.Name && x.Thread == out.Thread })
		if at < 0 {
			b.Thread = append(b.Thread, out)
			sums = append(sums, make([]measure.Length, len(s.picked)))
			at = len(b.Thread) - 1
		}
		b.Thread[at].Closures = append(b.Thread[at].Closures, k.Closure.Name)
		for j := range each {
			sums[at][j] += each[j]
		}
	}
	for i := range b.Thread {
		t := &b.Thread[i]
		var sum measure.Length
		for _, l := range sums[i] {
			sum += l
		}
		t.Garment, t.Range = MM(slices.Max(sums[i])), MM(sum)
		if t.Spool != nil && *t.Spool > 0 {
			n := int((sum + measure.Length(*t.Spool) - 1) / measure.Length(*t.Spool))
			t.Spools = &n
		}
	}
	slices.SortStableFunc(b.Thread, func(a, c BuyThread) int { return cmp.Or(strings.Compare(a.Name, c.Name)) })
}
