package search

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// priced gives what a garment uses prices, packs and spools, the same for all
// that has one name.
func priced(g *catalog.Garment) {
	sell := func(e *catalog.Entry) uint32 {
		h := fnv.New32a()
		h.Write([]byte(e.Name))
		n := h.Sum32()
		if n%5 > 0 {
			e.Price = catalog.Opt[float64]{V: float64(n%997) / 100, From: catalog.Stock}
		}
		e.Pack = catalog.Opt[int]{V: 1 + int(n/7%12), From: catalog.Stock}
		e.Supplier = []string{"", "Quay (invented)", "Slip (invented)"}[n/11%3]
		e.Currency = []string{"EUR", "EUR", "SEK"}[n/13%3]
		return n
	}
	for i := range g.Closures {
		sell(&g.Closures[i].Notion.Entry)
	}
	for _, th := range g.Threads {
		n := sell(&th.Entry)
		if !th.Metres.Has() {
			th.Metres = catalog.Opt[float64]{V: float64(50 + n%200), From: catalog.Stock}
		}
	}
	for _, in := range g.Interfacings {
		sell(&in.Entry)
	}
}

// sort is what is bought, apart from where it is for.
func sortOf(kind plan.GoodKind, name string, size measure.Length, g *plan.Good) string {
	switch kind {
	case plan.GoodNeedle, plan.GoodHandNeedle, plan.GoodSealant:
		name = string(g.ID)
	case plan.GoodThread:
		name = fmt.Sprint(name, g.Tex, g.Fibre)
	case plan.GoodInterfacing:
		name = fmt.Sprint(name, g.Width, g.Shrink)
	}
	return fmt.Sprint(kind, "|", name, "|", size)
}

// What is ordered for many garments covers what each of them uses, in packs,
// spools and lengths that are sold; and ordering together never costs more
// than ordering for each by itself.
func TestOrderCovers(t *testing.T) {
	t.Parallel()
	orders, items, saved := 0, 0, 0
	for seed := range garments() / 3 {
		rnd := rand.New(rand.NewPCG(seed, 77))
		var batches []work.Batch
		for n := range uint64(2 + rnd.IntN(4)) {
			g, err := catalog.Read("random.toml", []byte(dressed(anyGarment(t, seed*7+n%3), seed+n%2)), catalog.Options{})
			if err != nil {
				continue
			}
			priced(g)
			b := work.Batch{Plan: rules.Plan(g), Garments: make([]int, len(g.Sizes))}
			for s := range b.Garments {
				b.Garments[s] = rnd.IntN(40)
			}
			if b.Total() > 0 {
				batches = append(batches, b)
			}
		}
		if len(batches) < 2 {
			continue
		}
		orders++
		u := []measure.Unit{measure.In, measure.MM}[seed%2]
		all, err := work.NewPurchase(batches, u)
		if err != nil {
			t.Fatal(err)
		}
		// As many as each garment takes, times how many are made.
		pieces, lengths, areas := map[string]int{}, map[string]measure.Length{}, map[string]float64{}
		for _, b := range batches {
			fasteners := map[string]int{} // as the plan has them, closure by closure
			for i := range b.Plan.Closures {
				k := &b.Plan.Closures[i]
				for s, n := range b.Garments {
					each, _ := k.Fasteners(s)
					fasteners[k.Closure.Notion.Name] += n * (each + k.Closure.Spare)
				}
			}
			buy, _ := bought(b.Plan)
			for _, g := range buy {
				key := sortOf(g.Kind, g.Name, g.Size, g)
				once := true
				for s, n := range b.Garments {
					pieces[key] += n * (g.N[s] + g.Spare[s])
					lengths[key] += measure.Length(n) * g.Len[s]
					if g.Kind == plan.GoodFastener {
						fasteners[g.Name] -= n * (g.N[s] + g.Spare[s])
					}
					if g.Kind != plan.GoodInterfacing {
						continue
					}
					for _, p := range g.Cut[s] {
						areas[key] += float64(n*p.N) * p.Width.MM() * p.Length.MM()
					}
				}
				for _, p := range g.Swatches {
					areas[key] += float64(p.N) * p.Width.MM() * p.Length.MM()
				}
				if g.Shared() {
					pieces[key] = max(pieces[key], g.Once)
				} else if once {
					pieces[key] += g.Once
				}
			}
			for name, left := range fasteners {
				if left != 0 {
					t.Errorf("seed %d: %d of %s are not on the list of goods", seed, left, name)
				}
			}
		}
		for _, it := range all.Items {
			items++
			key := sortOf(it.Kind, it.Good.Name, it.Good.Size, it.Good)
			switch a := &it.Amount; it.Kind {
			case plan.GoodThread:
				if it.Buy > 0 {
					lengths[key] -= measure.Length(it.Buy) * it.Good.Spool
				} else {
					lengths[key] -= a.Length
				}
			case plan.GoodLoopCord:
				lengths[key] -= a.Buy
			case plan.GoodInterfacing:
				if !a.Known || !a.Fits {
					areas[key] = 0
					continue
				}
				areas[key] -= a.Buy.MM() * it.Good.Width.MM() * (1 - it.Good.Shrink/100)
				if a.Buy%plan.GoodsStep(u) != 0 {
					t.Errorf("seed %d: %s of goods is not cut so", seed, a.Buy.Text(u))
				}
			case plan.GoodCord:
				pieces[key] = 0
			default:
				if it.Why != "none that is sold is long enough" {
					pieces[key] -= it.Buy
				} else {
					pieces[key] = 0
				}
			}
			if pack := it.Good.Pack; it.Buy%pack != 0 || it.Packs*pack != it.Buy {
				t.Errorf("seed %d: %d of %s in %d packs of %d", seed, it.Buy, it.What, it.Packs, pack)
			}
		}
		for key, left := range pieces {
			if left > 0 {
				t.Errorf("seed %d: %d too few of %s", seed, left, key)
			}
		}
		for key, left := range lengths {
			if left > 0 {
				t.Errorf("seed %d: %s too little of %s", seed, left.Text(u), key)
			}
		}
		for key, left := range areas {
			if left > 1 {
				t.Errorf("seed %d: %.0f mm2 too little of %s", seed, left, key)
			}
		}
		apart := map[string]int64{}
		for n := range batches {
			one, err := work.NewPurchase(batches[n:n+1], u)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range one.Costs {
				apart[m.Currency] += m.Cents
			}
		}
		for _, m := range all.Costs {
			if round := int64(len(all.Items)); m.Cents > apart[m.Currency]+round { // each sum is rounded to a hundredth
				t.Errorf("seed %d: together %d %s, apart %d", seed, m.Cents, m.Currency, apart[m.Currency])
			}
			if m.Cents < apart[m.Currency] {
				saved++
			}
		}
		// What the garments use is never worth more than what is bought.
		used := map[string]int64{}
		for n := range batches {
			for _, m := range all.EachOf(n) {
				used[m.Currency] += m.Cents * int64(batches[n].Total())
			}
		}
		for _, m := range all.Costs {
			if slack := int64(len(batches) * 4000); used[m.Currency] > m.Cents+slack {
				t.Errorf("seed %d: the garments use %d %s, and %d are bought", seed, used[m.Currency], m.Currency, m.Cents)
			}
		}
		if t.Failed() {
			for _, b := range batches {
				t.Log(b.Garments, "of", b.Plan.Garment.Name)
			}
			t.FailNow()
		}
	}
	if orders*2 < int(garments()/3) || items < orders*5 || saved*4 < orders {
		t.Errorf("%d orders of %d things, %d of them cheaper together: too few to tell", orders, items, saved)
	}
}

// Very many are pooled in a moment, and what is more than can be told is
// refused and not told wrong.
func TestOrderOfVeryMany(t *testing.T) {
	text := `garment = "Coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
[interfacing.front]
use = "weft-fusible-medium"
[[closure]]
name = "front"
use = "horn-30"
over = ["shell", "front", "shell"]
pieces = 100
[closure.run]
length = 6000
count = 60
`
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := rules.Plan(g)
	many, err := work.NewPurchase([]work.Batch{{Plan: p, Garments: []int{catalog.MaxMade}}}, measure.MM)
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range many.Items {
		if it.Kind == plan.GoodFastener && it.Buy != 60*100*catalog.MaxMade {
			t.Errorf("%d of %s", it.Buy, it.What)
		}
		if it.Kind == plan.GoodInterfacing && it.Amount.Length < 6*measure.Metre*100*catalog.MaxMade/40 {
			t.Errorf("%s of %s", it.Amount.Length.Text(measure.MM), it.What)
		}
	}
	var all []work.Batch
	for range 2000 {
		all = append(all, work.Batch{Plan: p, Garments: []int{catalog.MaxMade}})
	}
	if _, err := work.NewPurchase(all, measure.MM); err == nil || !strings.Contains(err.Error(), "more than can be ordered at once") {
		t.Errorf("an order without measure: %v", err)
	}
}
