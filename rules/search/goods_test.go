package search

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
	"placketeer/rules/work"
)

// garments is how many random garments a law is tried on: 60, or 20 000 in
// the long run. Half of them are of one maker, half of the other.
func garments() uint64 { return uint64(many(60, 20_000)) }

// dressed adds to a random garment what the list of goods depends on: threads
// for each job, backing buttons, finishes, lengths of zips, spares, cords.
func dressed(text string, seed uint64) string {
	d := draw{rnd: rand.New(rand.NewPCG(seed, 6))}
	d.inch = strings.Contains(text, `units = "in"`)
	var threads strings.Builder
	for _, job := range []string{"button", "buttonhole", "topstitch", "basting", "gimp"} {
		if d.chance(25) && !strings.Contains(text, "[thread."+job+"]") {
			fmt.Fprintf(&threads, "[thread.%s]\nuse = %q\n", job, d.of("polyester-tex-40", "core-tex-60", "topstitch-tex-120", "cotton-50-3", "polyester-tex-270"))
			if d.chance(40) {
				fmt.Fprintf(&threads, "metres = %d\n", 10+d.up(500))
			}
		}
	}
	parts := strings.Split(text, "[[closure]]\n")
	parts[0] += threads.String()
	for i := 1; i < len(parts); i++ {
		var b strings.Builder
		line := func(format string, args ...any) {
			key, _, _ := strings.Cut(format, " ")
			if !strings.Contains("\n"+parts[i], "\n"+key+" = ") {
				fmt.Fprintf(&b, format+"\n", args...)
			}
		}
		d.maybe(line, 30, "backing = %s", d.of(`"16L"`, `"18L"`, `"23L"`, `"12 mm"`, `"41L"`))
		d.maybe(line, 30, "spare = %d", 1+d.up(3))
		d.maybe(line, 40, "hole_finish = %q", d.of("overcast", "sealed", "twice", "corded"))
		d.maybe(line, 30, "sewn_by = %q", d.of("hand", "machine"))
		d.maybe(line, 20, "cord = %s", d.length(2, 7))
		if strings.Contains(parts[i], "-separating\"") || strings.Contains(parts[i], "-closed\"") {
			d.maybe(line, 50, "zip_length = %s", d.length(100, 900))
		}
		if at := strings.Index(parts[i], "\n") + 1; at > 0 {
			parts[i] = parts[i][:at] + b.String() + parts[i][at:]
		}
	}
	text = strings.Join(parts, "[[closure]]\n")
	for i := range d.up(3) {
		text += fmt.Sprintf("[[cord]]\nname = \"cord%d\"\nat = %q\n", i, d.of("hood", "neck", "waist", "hem"))
		if d.chance(60) {
			text += "use = \"cord-3mm\"\n"
		}
	}
	return text
}

// Law 6: what is bought covers what is used, in sizes that are sold; what is
// bought is used.
func TestWhatIsBoughtIsUsed(t *testing.T) {
	t.Parallel()
	kinds := map[plan.GoodKind]int{}
	read := 0
	wrong := map[uint64][]string{}
	var mu sync.Mutex
	trial.Each(garments()/2, func(seed uint64) {
		for _, made := range []func() (*catalog.Garment, string){
			func() (*catalog.Garment, string) {
				text := dressed(anyGarment(t, seed), seed)
				g, err := catalog.Read("random.toml", []byte(text), catalog.Options{})
				if err != nil {
					return nil, text
				}
				return g, text
			},
			func() (*catalog.Garment, string) {
				_, text, opts := random(t, seed, 5)
				more := dressed(string(text), seed)
				g, err := catalog.Read("coat.toml", []byte(more), opts)
				if err != nil {
					return nil, more
				}
				return g, more
			},
		} {
			g, text := made()
			if g == nil {
				continue
			}
			p := rules.Plan(g)
			buy, suggested := bought(p)
			order := work.Order(p, "")
			faults := lawSix(p, buy, suggested, order)
			for i, size := range g.Sizes {
				if i < 3 && size != "" {
					faults = append(faults, counts(p, buy, i, work.Order(p, size))...)
				}
			}
			if len(g.Sizes) == 1 {
				faults = append(faults, counts(p, buy, 0, order)...)
			}
			mu.Lock()
			read++
			for _, x := range buy {
				kinds[x.Kind]++
			}
			kinds["suggested"] += len(suggested)
			if len(faults) > 0 {
				if len(wrong) < 3 {
					faults = append(faults, text)
				}
				wrong[seed] = append(wrong[seed], faults...)
			}
			mu.Unlock()
		}
	})
	for n, seed := range slices.Sorted(maps.Keys(wrong)) {
		if n == 10 {
			t.Errorf("and %d more", len(wrong)-n)
			break
		}
		t.Errorf("seed %d: %s", seed, strings.Join(wrong[seed], "\n"))
	}
	if read*3 < int(garments())*2 {
		t.Errorf("only %d of %d garments could be read", read, garments())
	}
	for _, k := range []plan.GoodKind{
		plan.GoodFastener, plan.GoodBacking, plan.GoodInterfacing, plan.GoodThread, plan.GoodLoopCord, plan.GoodCord,
		plan.GoodNeedle, plan.GoodHandNeedle, plan.GoodSealant, "suggested",
	} {
		if kinds[k] < 3 {
			t.Errorf("only %d of %q among the random garments: the law is hardly tried", kinds[k], k)
		}
	}
	t.Logf("%d garments, %v", read, kinds)
}

// bought is the list of goods as the papers have it.
func bought(p *rules.Planned) (buy, suggested plan.Goods) {
	lines, worth := work.Lines(p)
	for _, l := range lines {
		buy = append(buy, l.Goods...)
	}
	for _, l := range worth {
		suggested = append(suggested, l.Goods...)
	}
	return buy, suggested
}

var (
	needleSaid  = regexp.MustCompile(`(?:needle|put in) (\d+/\d+|NM \d+)`)
	threadSaid  = regexp.MustCompile(`Tex \d+(?:\.\d+)?`)
	backingSaid = regexp.MustCompile(`backing button of (\S+) ligne behind`)
	behindSaid  = regexp.MustCompile(`behind each that fastens, (\d+) in all`)
	madeSaid    = regexp.MustCompile(`^(?:Sew|Set) the .*\((\d+)[:)]`)
	oneSaid     = regexp.MustCompile(`^(?:Sew the (?:\w+ )?(?:button|toggle|hook|snap|frog) |Set the (?:\w+ )?(?:snap|tack button|cap|stud|rivet)\b)`)
)

// lawSix are the faults of a list of goods against the tasks of a garment.
func lawSix(p *rules.Planned, buy, suggested plan.Goods, tasks []work.Task) (faults []string) {
	fail := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	used, ordered, buying := map[plan.GoodID]bool{}, map[plan.GoodID]bool{}, ""
	for _, t := range tasks {
		for _, id := range t.Buys {
			ordered[id] = true
		}
		if t.Stage == work.StageBuy {
			buying += t.Do + "\n"
		}
		for _, id := range t.Uses {
			used[id] = true
			if buy.Find(id) == nil {
				fail("%q uses %q, which is not bought", t.Do, id)
			}
		}
	}
	for _, t := range tasks {
		if t.Stage == work.StageBuy || t.Stage == work.StageSettle {
			continue
		}
		for _, m := range needleSaid.FindAllStringSubmatch(t.Do, -1) {
			if !strings.Contains(buying, m[1]) {
				fail("%q: needle %s is not bought", t.Do, m[1])
			}
		}
		for _, m := range threadSaid.FindAllString(t.Do, -1) {
			if !strings.Contains(buying, m) {
				fail("%q: thread of %s is not bought", t.Do, m)
			}
		}
		for _, m := range backingSaid.FindAllStringSubmatch(t.Do, -1) {
			if !strings.Contains(buying, "flat backing buttons, ") || !strings.Contains(buying, m[1]+" ligne") {
				fail("%q: its backing buttons are not bought", t.Do)
			}
		}
	}
	every := make([]int, len(p.Garment.Sizes))
	for i := range every {
		every[i] = 1
	}
	u := p.Garment.Units
	for i, x := range buy {
		if slices.ContainsFunc(buy[:i], func(y *plan.Good) bool { return y.ID == x.ID }) {
			fail("%q is on the list twice", x.ID)
		}
		if !used[x.ID] {
			fail("%q is bought and not used", x.ID)
		}
		if !ordered[x.ID] {
			fail("%q is on the list and on no task of buying", x.ID)
		}
		if x.Suggested {
			fail("%q is only suggested and is bought", x.ID)
		}
		if says := unsold(p, x); says != "" {
			fail("%q: %s", x.ID, says)
		}
		a := x.Amount(u, every)
		if a.Pieces%x.Pack != 0 || a.Pieces < a.Needed+a.Spare+a.Once || a.Buy < a.Length && a.Buy > 0 {
			fail("%q: %+v", x.ID, a)
		}
		if step := plan.GoodsStep(u); (x.Kind == plan.GoodInterfacing || x.Kind == plan.GoodLoopCord) && a.Buy%step != 0 {
			fail("%q is sold in %s, not in %s", x.ID, step, a.Buy)
		}
		if x.Spool > 0 && a.Buy != x.Spool*measure.Length(a.Spools) {
			fail("%q: %s in %d spools of %s", x.ID, a.Buy, a.Spools, x.Spool)
		}
	}
	for id := range ordered {
		if buy.Find(id) == nil {
			fail("%q is bought and is not on the list", id)
		}
	}
	for _, x := range suggested {
		if !x.Suggested || used[x.ID] || ordered[x.ID] {
			fail("%q is suggested, and bought or used all the same", x.ID)
		}
	}
	for i := range p.Closures {
		k := &p.Closures[i]
		if k.Needle.Given && k.Needle.Use == k.Needle.NM && k.Needle.Max > 0 && finds(p, k, rules.Conflict, "needle-cloth") {
			fail("%s: the work is done with needle %s, which is refused", k.Closure.Name, k.Needle.NM)
		}
	}
	return faults
}

// finds says whether one of those rules found something on a closure.
func finds(p *rules.Planned, k *plan.Closure, least rules.Severity, names ...string) bool {
	return slices.ContainsFunc(p.Findings, func(f rules.Finding) bool {
		return f.Closure == k.Closure.Name && f.Severity >= least && slices.Contains(names, f.Rule)
	})
}

// unsold says why a good is in no size that is sold, "" where it is, or where
// a finding names it.
func unsold(p *rules.Planned, x *plan.Good) string {
	switch x.Kind {
	case plan.GoodFastener:
		k := &p.Closures[x.Index]
		sold := k.Closure.Notion.Lengths
		switch {
		case k.Closure.Notion.Kind != catalog.Zip:
			return ""
		case x.Size == 0:
			if !finds(p, k, rules.Caution, "zip-length", "zip-sold") {
				return "no length of it is sold, and nothing says so"
			}
		case len(sold) > 0 && !slices.Contains(sold, x.Size):
			return "it is not sold in " + x.Size.String()
		case len(sold) == 0 && !x.Least:
			return "nobody lists its lengths"
		}
	case plan.GoodBacking:
		lignes := x.Size.Lignes()
		if slices.ContainsFunc(plan.LignesSold, func(l int) bool { return float64(l) == lignes }) {
			return ""
		}
		if !slices.ContainsFunc(p.Garment.Catalog.Notions, func(n *catalog.Notion) bool {
			return n.Kind == catalog.Button && n.Diameter.V == x.Size && !n.Shank.Has() && (n.Shape == "" || n.Shape == "flat") && n.Thickness.V < n.Diameter.V/2
		}) {
			return fmt.Sprintf("nobody sells a flat button of %v ligne", lignes)
		}
	case plan.GoodNeedle:
		if _, err := measure.ParseNeedleSize(x.Needle.String()); err != nil {
			return "no such needle is made"
		}
	case plan.GoodInterfacing:
		if a := x.Amount(p.Garment.Units, make([]int, len(x.N))); !a.Fits && a.Known {
			return "its swatches do not fit its goods"
		}
	}
	return ""
}

// counts are the faults of the fasteners of one size: what is sewn and set is
// what is bought.
func counts(p *rules.Planned, buy plan.Goods, size int, tasks []work.Task) (faults []string) {
	made := map[plan.GoodID]int{}
	for _, t := range tasks {
		if m := madeSaid.FindStringSubmatch(t.Do); (m != nil || oneSaid.MatchString(t.Do)) && t.Stage != work.StageBuy {
			n := 1 // of one no number is said
			if m != nil {
				n, _ = strconv.Atoi(m[1])
			}
			behind := n // backing buttons, of a double front fewer
			if m := behindSaid.FindStringSubmatch(t.Do); m != nil {
				behind, _ = strconv.Atoi(m[1])
			}
			for _, id := range t.Uses {
				if x := buy.Find(id); x != nil && (x.Kind == plan.GoodFastener || x.Kind == plan.GoodBacking) && !strings.Contains(t.Do, "Sew the holes") {
					if x.Kind == plan.GoodBacking {
						made[id] += behind
						continue
					}
					made[id] += n
				}
			}
		}
	}
	for id, n := range made {
		if x := buy.Find(id); x.N[size] != n {
			faults = append(faults, fmt.Sprintf("%q in size %q: %d are sewn on or set, %d are bought", id, p.Garment.Sizes[size], n, x.N[size]))
		}
	}
	return faults
}

// The law is not kept by a list with one thing less, nor with one more.
func TestLawSixCanFail(t *testing.T) {
	p := rules.Plan(loaded(t, "pilot-coat", "closure.front.backing=20L"))
	buy, suggested := bought(p)
	tasks := work.Order(p, "")
	if faults := lawSix(p, buy, suggested, tasks); len(faults) > 0 || len(buy) < 6 || len(suggested) != 1 {
		t.Fatal(len(buy), len(suggested), faults)
	}
	for i, x := range buy {
		if faults := lawSix(p, slices.Delete(slices.Clone(buy), i, i+1), suggested, tasks); len(faults) == 0 {
			t.Errorf("the law does without %q", x.ID)
		}
		more := *x
		more.ID += " as well"
		if faults := lawSix(p, append(slices.Clone(buy), &more), suggested, tasks); len(faults) == 0 {
			t.Errorf("the law does not mind %q", more.ID)
		}
	}
	if faults := lawSix(p, append(slices.Clone(buy), suggested...), nil, tasks); len(faults) == 0 {
		t.Error("the law lets a suggestion be bought")
	}
}

// loaded is a demo garment.
func loaded(t *testing.T, name string, with ...string) *catalog.Garment {
	t.Helper()
	g := trial.Load(t, "../../testdata/garments/"+name+".toml", with...)
	return g
}
