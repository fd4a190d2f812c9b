package rules

import (
	"fmt"
	"math"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// Thread diameter over blade.
const (
	ratioLow, ratioHigh, ratioMost = plan.RatioLow, plan.RatioHigh, plan.RatioMost
)

var needleRules = []*Rule{
	{
		Name: "needle-cloth", Severity: Conflict,
		Rests: []string{"closure.*.needle", "cloth.*.kind", "cloth.*.weight"},
		Task:  NoTask,
		Reads: ReadsNeedle | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			n := &x.K.Needle
			c := n.Charted
			if !n.Given || c.Least == 0 {
				return Numbers{}
			}
			if _, firm := x.needleByWeight(); !firm || plan.StepsOutside(n.NM, n.Min, n.Max) == 0 {
				return Numbers{}
			}
			if n.NM-c.Least < c.Most-n.NM {
				return noLess(n.NM, c.Least, "NM")
			}
			return noMore(n.NM, c.Most, "NM")
		},
		Title:   "the needle must suit the cloth and the stack",
		Formula: "{ranges}; by weight: {classes}. One size up at the lower end over {thick} pressed. Outside: caution. Thinner or thicker than any published chart lists for the kind ({charted}): conflict; by charts of their own: " + text.And(plan.SpecialKinds()...),
		Limits:  []plan.Threshold{plan.NeedleBands, plan.ClassBounds, plan.ThickStackLimit, plan.ChartedBands},
		Why:     "A thin needle bends in thick cloth, strikes the plate and breaks, and pieces fly; a thick one leaves holes.",
		Sources: []string{
			"common ground of twelve published charts (machine manuals, needle makers, industrial table): light 65–80, medium 75–90, heavy 90–100 (100–110 for coats in industry), very heavy 110 or more",
			"household machine manual, p. 40: denim, corduroy and tweed 90/14 to 100/16; thin needles in thick cloth may bend or break",
			"industrial needle table, 2013: denim light 70–90, medium 100–110, heavy 110–140; coats 100–110",
			"extension leaflet on fake fur: 100/16; canvas merchant's catalogue, 2023: waxed canvas 100, denim point; four sewing pages: fleece 80/12 to 90/14",
			"weight classes for cloth in general, and of denim: from memory; for coat cloth: menswear magazine's guide; boiled wool: from memory",
		},
		Ours: "{thick} as the stack that asks for a thicker needle; where fewer than three charts name a kind, nothing is a conflict, nor where the next weight class would take the needle and the weight between the two is from memory",
		Check: func(x *Context) {
			n := &x.K.Needle
			if !n.Given {
				return
			}
			off := plan.StepsOutside(n.NM, n.Min, n.Max)
			if off == 0 {
				return
			}
			sev, need := Caution, n.Min
			most := n.Max
			basis := plan.Basis{Ground: plan.Published, Key: x.path("needle")}
			if byWeight, firm := x.needleByWeight(); n.Charted.Outside(n.NM) && firm {
				sev, need, most = Conflict, n.Charted.Least, n.Charted.Most
				basis = basis.And(byWeight)
			}
			nums := noLess(n.NM, need, "NM")
			says, thin := "is too thin for "+n.Cloth()+" in this stack: it may bend and break", "thin"
			if off > 0 {
				nums.Need, nums.Margin, thin = float64(most), float64(most-n.NM), "thick"
				says = "is too thick for " + n.Cloth() + ": it leaves holes"
			}
			x.report(sev, x.at("needle"), nums.on(basis), "needle %s %s; use %s", n.NM, says, x.needles()).Line("needle %s is too %s for %s: %s", n.NM, thin, n.Cloth(), x.needleSpan())
		},
		Touches: []string{"closure.*.needle"},
		Propose: func(x *Context, f *Finding) []Change { return proposeNeedle(x) },
	},
	{
		Name: "needle-thread", Severity: Conflict,
		Lenient: []string{"off"},
		Rests:   []string{"closure.*.needle", "thread.*.fibre", "thread.*.tex"},
		Task:    NoTask,
		Reads:   ReadsNeedle | ReadsThread | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			n := &x.K.Needle
			if n.NM == 0 {
				return Numbers{}
			}
			r := round3(n.Ratio)
			return Numbers{Have: r, Need: ratioMost, Margin: ratioMost - r, Unit: "of the blade", Compared: true}
		},
		Title:   "the thread must lie in the needle's groove",
		Formula: "thread diameter ÷ blade: {thin} to {groove} good, outside: caution; over {groove} even if the thread is {off} thinner than its Tex says: conflict. Diameter in mm = 0.0392 √Tex for polyester, 0.0374 √Tex for cotton, 0.0431 √Tex for nylon",
		Why:     "A thread too thick for the groove rubs, frays and breaks; one too thin makes slack loops and skipped stitches.",
		Sources: []string{
			"needle maker, choosing the right needle: thread about 40 % of the blade",
			"spun polyester thread maker's table, Ne 60/2 to 12/4: thread 24 to 40 % of the blade",
			"Peirce's cotton yarn, 1.1 cm³/g",
		},
		Limits: []plan.Threshold{plan.RatioLowLimit, plan.RatioHighLimit, plan.DiameterLimit},
		Ours:   "{off} as the ± of a diameter worked out from Tex: what cotton and polyester differ by",
		Check: func(x *Context) {
			n := &x.K.Needle
			if n.NM == 0 {
				return
			}
			path := x.at("needle")
			if !n.Given {
				path = x.at("thread")
			}
			blade := n.NM.BladeMM()
			r := round3(n.Ratio)
			switch {
			case r > ratioHigh:
				sev := Caution
				if r > ratioMost {
					sev = Conflict
				}
				n := Numbers{Have: r, Need: ratioHigh, Margin: ratioHigh - r, Unit: "of the blade", Compared: true, Tol: round3(r * plan.DiameterOff / (1 + plan.DiameterOff))}
				if sev == Conflict {
					n = n.on(x.threadBasis())
				}
				x.report(sev, path, n,
					"%s, %s thick, is too thick for needle %s: use %sa finer thread", x.K.Thread.Tex, x.thread(), x.K.Needle.NM, x.needleOver()).Line("%s is thick for %s: %sfiner thread", x.K.Thread.Tex, x.K.Needle.NM, x.needleOver())
			case r < ratioLow:
				x.report(Caution, path, Numbers{Have: r, Need: ratioLow, Margin: r - ratioLow, Unit: "of the blade", Compared: true},
					"%s, %s thick, is too thin for needle %s (blade %s): use %sa thicker thread", x.K.Thread.Tex, x.thread(), n.NM, Blade(blade, x.U), x.needleUnder()).Line("%s is thin for %s: %sthicker thread", x.K.Thread.Tex, n.NM, x.needleUnder())
			}
		},
		Touches: []string{"closure.*.needle", "thread.*"},
		Propose: func(x *Context, f *Finding) []Change { return append(proposeNeedle(x), proposeThread(x)...) },
	},
	{
		Name: "needle-machine", Severity: Conflict,
		Rests: []string{"closure.*.needle", "machine.needle_max"},
		Task:  NoTask,
		Reads: ReadsNeedle | ReadsThread | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			if m := x.G.Machine.NeedleMax; m.Has() {
				return noMore(x.K.Needle.NM, m.V, "NM")
			}
			return Numbers{}
		},
		Title:   "the machine must take the needle",
		Formula: "needle ≤ the thickest the machine takes (needle_max)",
		Why:     "A needle too thick for the hook and the plate strikes metal.",
		Sources: []string{"the machine's manual"},
		Check: func(x *Context) {
			if m := x.G.Machine.NeedleMax; m.Has() && x.K.Needle.NM > m.V {
				x.report(Conflict, x.at("needle"), noMore(x.K.Needle.NM, m.V, "NM").on(x.machineGround(m.From, "needle_max")),
					"needle %s is thicker than the machine takes, %s", x.K.Needle.NM, x.needleMost(m.V)).Line("needle %s is thicker than the machine takes, %s", x.K.Needle.NM, x.needleMost(m.V))
			}
		},
		Touches: []string{"closure.*.needle"},
		Propose: func(x *Context, f *Finding) []Change { return proposeNeedle(x) },
	},
	{
		Name: "needle-point", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNeedle,
		Room:    noRoom,
		Title:   "the point must suit the cloth",
		Formula: "woven, also where it stretches: universal; denim, duck, canvas, waxed cotton, stretch denim too: jeans; knit, fleece: ballpoint; fine or coated: sharp; real leather: leather",
		Why:     "A cutting point weakens woven cloth; a universal point in dense duck goes in crooked; a sharp one cuts the loops of a knit.",
		Sources: []string{"Threads magazine, Sewing-Machine Needles: An Overview"},
		Check: func(x *Context) {
			_, cloth := plan.ClassOf(x.K)
			want := plan.PointFor(cloth)
			if x.C.Point == "" || x.C.Point == want {
				return
			}
			bad := x.C.Point == "leather" || want == "leather" || (want == "ballpoint") != (x.C.Point == "ballpoint" || x.C.Point == "light-ball")
			sev := Note
			if bad {
				sev = Caution
			}
			x.report(sev, x.at("point"), Numbers{}, "a %s point is meant; for this cloth a %s point is usual", x.C.Point, want).Line("a %s point; for this cloth a %s point is usual", x.C.Point, want)
		},
		Touches: []string{"closure.*.point"},
		Propose: func(x *Context, f *Finding) []Change {
			_, cloth := plan.ClassOf(x.K)
			p := plan.PointFor(cloth)
			return []Change{{With: set(x, "point", p), Says: "use a " + p + " point", Cost: 1}}
		},
	},
}

// thread is the thread's diameter in words.
func (x *Context) thread() string { return x.K.Thread.Diameter.TextThin(x.U) }

func round3(f float64) float64 { return math.Round(f*1000) / 1000 }

// needle is a size of needle to write.
func (x *Context) needle(n measure.NeedleSize) bounded { return bound(n, float64(n), x.at("needle")) }

// threads says whether the thread goes with a needle.
func (x *Context) threads(s measure.NeedleSize) bool {
	r := round3(x.K.Thread.Diameter.MM() / s.BladeMM())
	return r >= ratioLow && r <= ratioHigh
}

// needles are the sizes that cloth, thread and machine all take, and where
// there are none those for the cloth.
func (x *Context) needles() fmt.Stringer {
	n := &x.K.Needle
	lo, hi := x.needlesOf(x.threads)
	if lo == 0 {
		return x.later(func(x *Context) string {
			return n.Min.String() + " to " + n.Max.String() + ", and a thread that goes with it"
		})
	}
	return sizes{x.needle(lo), x.needle(hi).notOver()}
}

// needlesOf are the ends of the sizes that suit the cloth, that the machine
// takes, and that are among those wanted; 0 where there is none.
func (x *Context) needlesOf(wanted func(measure.NeedleSize) bool) (lo, hi measure.NeedleSize) {
	for _, s := range plan.NeedleSizes {
		if x.takes(s) && wanted(s) {
			if lo == 0 {
				lo = s
			}
			hi = s
		}
	}
	return lo, hi
}

// needleSpan is the same in one line; where no needle goes with the thread,
// those that suit the cloth.
func (x *Context) needleSpan() fmt.Stringer {
	lo, hi := x.needlesOf(x.threads)
	if lo == 0 {
		lo, hi = x.K.Needle.Min, x.K.Needle.Max
	}
	return sizes{x.needle(lo), x.needle(hi).notOver()}
}

// needleMost is the thickest needle that the machine takes, to write where
// cloth and thread take it too.
func (x *Context) needleMost(m measure.NeedleSize) any {
	if x.takes(m) && x.threads(m) {
		return x.needle(m).notOver()
	}
	return m
}

// sizes is a range of sizes to stay in.
type sizes [2]bounded

func (s sizes) String() string {
	if s[0].figure == s[1].figure {
		return s[0].String()
	}
	return s[0].String() + " to " + s[1].String()
}

// takes says whether cloth and machine take a needle.
func (x *Context) takes(s measure.NeedleSize) bool {
	n, m := &x.K.Needle, x.G.Machine.NeedleMax
	return s >= n.Min && s <= n.Max && (!m.Has() || s <= m.V)
}

// needleOver offers the thinnest needle on sale that the thread goes with, where
// cloth and machine take it.
func (x *Context) needleOver() any {
	for _, s := range plan.NeedleSizes {
		if x.takes(s) && x.threads(s) {
			return x.needle(s).in("", " or thicker, or ")
		}
	}
	return ""
}

// needleUnder offers the thickest one.
func (x *Context) needleUnder() any {
	for _, s := range slices.Backward(plan.NeedleSizes) {
		if x.takes(s) && x.threads(s) {
			return x.needle(s).notOver().in("a needle up to ", ", or ")
		}
	}
	return ""
}

// needleByWeight is what it rests on that the needle is outside the band of its
// cloth: on nothing where it is outside those of all weights, else on the
// weight. It is not firm where the weight that parts its class from the next is
// from memory.
func (x *Context) needleByWeight() (b plan.Basis, firm bool) {
	_, cl := plan.ClassOf(x.K)
	any, firm := plan.OtherClass(x.K.Needle.Class, cl, x.K.Needle.NM)
	if !any {
		return plan.Basis{}, true
	}
	return plan.Basis{Ground: plan.FigureGround(cl.Weight.From, &cl.Entry), Key: catalog.Key("cloth", x.G.NameOf(cl), "weight")}, firm
}

// threadBasis is what thread and needle rest on: those that the file does not
// name were chosen for it.
func (x *Context) threadBasis() plan.Basis {
	b := plan.Basis{Ground: plan.Published, Key: x.key("thread")}
	if !x.K.Needle.Given {
		b = b.And(plan.Basis{Ground: plan.Default, Key: x.key("needle")})
	}
	th := x.G.ThreadNamed(x.K.Thread.Name)
	if th == nil {
		return b.And(plan.Basis{Ground: plan.Default, Key: x.key("thread")})
	}
	key := func(s string) string { return catalog.Key("thread", x.K.Thread.Name, s) }
	b = b.And(plan.Basis{Ground: plan.FigureGround(th.Tex.From, &th.Entry), Key: key("tex")})
	if th.Fibre != "" {
		b = b.And(plan.Basis{Ground: plan.WordGround(&th.Entry, "fibre"), Key: key("fibre")})
	}
	return b
}

var threadRules = []*Rule{
	{
		Name: "thread-cloth", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsThread,
		Room:    noRoom,
		Title:   "the thread must suit the cloth",
		Formula: "seam and buttonhole: {threads}",
		Limits:  []plan.Threshold{plan.ThreadBands},
		Why:     "Fine thread breaks under a heavy front; thick thread will not settle in light cloth.",
		Sources: []string{
			"sewing teachers' thread chart: light T-10 to 24, medium T-27 to 35, heavy T-40 to 90",
			"IASRI e-course: Tex 60 general seaming of heavy cloth, 100 load seams",
			"thread maker's bulletin on buttonsew and buttonholes: heavy cloth Tex 60 to 80 for buttons",
		},
		Check: func(x *Context) {
			t := &x.K.Thread
			if !t.Given || (t.Tex >= t.Min && t.Tex <= t.Max) {
				return
			}
			nums := noLess(t.Tex, t.Min, "Tex")
			says := "is thin"
			if t.Tex > t.Max {
				nums.Need, nums.Margin, says = float64(t.Max), float64(t.Max-t.Tex), "is thick"
			}
			x.report(Caution, whole(source.Join("thread", t.Name)), nums, "%s %s for %s; usual is %s to %s", t.Tex, says, x.K.Needle.Cloth(), t.Min, t.Max).Line("%s %s for %s; usual is %s to %s", t.Tex, says, x.K.Needle.Cloth(), t.Min, t.Max)
		},
		Touches: []string{"thread.*"},
		Propose: func(x *Context, f *Finding) []Change { return proposeThread(x) },
	},
	{
		Name: "stitch-length", Severity: Conflict,
		Rests:   []string{"closure.*.stitch", "machine.stitch_max"},
		Task:    NoTask,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "the stitch must suit the cloth and the machine",
		Figure:  "stitch",
		Formula: "{stitches}; never over the machine's longest (stitch_max)",
		Limits:  []plan.Threshold{plan.StitchBands},
		Why:     "Short stitches cut heavy cloth and crawl over bulk; long ones gape.",
		Sources: []string{
			"thread maker's stitches-per-inch table: denim 7–8, jackets 8–10, shirts 10–14",
			"teaching chart: heavy coating 9 stitches an inch, 3 mm",
			"shop catalogues: household machines sew up to 4 mm",
			"Threads magazine, 2008: leather about 8 an inch; extension leaflet on fake fur: 8 to 10; sewing pages: fleece 3 to 3.5 mm",
		},
		Check: func(x *Context) {
			s := &x.K.Stitch
			if !s.Given {
				return
			}
			if m := x.G.Machine.StitchMax; m.Has() && s.Length > m.V {
				have, limit := x.ThinOver(s.Length, m.V)
				x.report(Conflict, x.at("stitch"), atMost(s.Length, m.V).on(x.machineBasis(m, "stitch_max"), plan.BasisOf(x.C.Stitch, x.key("stitch"))), "a stitch of %s is longer than the machine sews, %s", have, limit.For(x.at("stitch"))).Line("a stitch of %s is longer than the machine sews, %s", have, limit)
				return
			}
			if s.Length < s.Min || s.Length > s.Max {
				n := atLeast(s.Length, s.Min)
				if s.Length > s.Max {
					n = atMost(s.Length, s.Max)
				}
				usual := fmt.Stringer(x.span(x.at("stitch"), s.Min, min(s.Max, x.G.Machine.StitchMax.Or(s.Max))).Thin())
				if m := x.G.Machine.StitchMax; m.Has() && m.V < s.Min { // which sews none of them
					usual = x.later(func(x *Context) string { return measure.TextThinSpan(x.K.Stitch.Min, x.K.Stitch.Max, x.U) })
				}
				x.report(Caution, x.at("stitch"), n, "a stitch of %s is outside the usual %s for %s", x.sayThin(s.Length), usual, x.K.Needle.Cloth()).Line("a stitch of %s; for %s %s is usual", x.sayThin(s.Length), x.K.Needle.Cloth(), usual)
			}
		},
		Touches: []string{"closure.*.stitch"},
		Propose: func(x *Context, f *Finding) []Change {
			l := (x.K.Stitch.Min + x.K.Stitch.Max) / 2
			if m := x.G.Machine.StitchMax; m.Has() {
				l = min(l, m.V)
			}
			l = l.RoundDown(mm / 2)
			return []Change{{With: x.setMM("stitch", l), Says: "sew with a stitch of " + l.TextThin(x.U), Cost: 1}}
		},
	},
}

func proposeNeedle(x *Context) []Change {
	var out []Change
	n := &x.K.Needle
	for _, s := range plan.NeedleSizes {
		if s == n.NM || s < n.Min || s > n.Max {
			continue
		}
		out = append(out, Change{
			With: set(x, "needle", s.String()), Says: "use needle " + s.String(),
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
	another := x.G.Replacing("thread", x.K.Thread.Name)
	for _, t := range x.G.Catalog.Threads {
		if !t.Tex.Has() || t.Fibre != x.K.Thread.Fibre || t.Tex.V == x.K.Thread.Tex {
			continue
		}
		out = append(out, Change{
			With: another(t.Name), Says: "sew with " + t.Name,
			Cost: 2 + math.Abs(float64(t.Tex.V-x.K.Thread.Tex))/10,
		})
	}
	return cheapest(out, 8)
}

// Blade is how thick a blade or a thread is, as needles are numbered.
func Blade(mm float64, u measure.Unit) string {
	if u.Or(measure.MM).Is(measure.In) {
		return fmt.Sprintf("%.3f in", mm/measure.Inch.MM())
	}
	return fmt.Sprintf("%.2f mm", mm)
}
