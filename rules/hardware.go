package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// eachSide looks at every stack that the hardware is set through.
func (x *Context) eachSide(do func(s *plan.GripSide, path string)) {
	h := &x.K.Hardware
	for i := range h.Sides[:h.Count] {
		s := &h.Sides[i]
		do(s, x.path(s.Key))
	}
}

// notionPath is where a figure of the notion stands in the file: in the
// closure's own table, or at the name of the catalogue entry.
func (x *Context) notionPath(key string, from catalog.Origin) place {
	if from == catalog.Given {
		return x.at("notion." + key)
	}
	if x.C.Use != "" {
		return x.at("use")
	}
	return x.at("notion")
}

// notionWord is the same for a word, or for the notion as a whole where key
// is "".
func (x *Context) notionWord(key string) place {
	switch {
	case x.C.Use != "":
		return x.at("use")
	case key == "":
		return x.at("notion")
	}
	return x.at("notion." + key)
}

func (x *Context) gripPath() place {
	g := &x.C.Notion.Grip
	return x.notionPath("grip", max(g.Min.From, g.Max.From))
}

// by says that a stack was estimated.
func GripSideBy(s *plan.GripSide, u measure.Unit) string {
	return known(s.Sampled, s.Estimated, s.Pressed, s.Tol, u)
}

// stackWords is a side as a message begins with it.
func GripSideStackWords(s *plan.GripSide) string {
	switch {
	case s.Both:
		return "all the layers together"
	case s.Key == "over":
		return "the layers"
	}
	return "the layers underneath"
}

// PostWord is what a maker calls the part that goes through.
func PostWord(attach string) string {
	switch attach {
	case "tack":
		return "nail"
	case "prong":
		return "prong"
	case "semi-tubular", "solid":
		return "shank"
	case "eyelet":
		return "barrel"
	}
	return "post"
}

// GripRange is the grip range in words, with what it rests on.
func (x *Context) GripRange() string {
	h, n := &x.K.Hardware, &x.C.Notion
	from := ""
	switch {
	case h.GripGround == plan.Memory:
		from = ", a figure from memory (ask its maker)"
	case h.GripGround == plan.Read:
		from = ", as the file says"
	case n.File != "":
		from = " by its entry in the catalogue"
	case h.GripGround == plan.Derived:
		from = ", worked out from its post"
	case n.Sure == "second-hand":
		from = " by its maker's list, as quoted"
	default:
		from = " by its published list"
	}
	return x.gripSpan() + from
}

// gripSpan is the grip range alone.
func (x *Context) gripSpan() string {
	h := &x.K.Hardware
	switch {
	case h.GripMin == 0:
		return "up to " + h.GripMax.TextThin(x.U)
	case h.GripMax == 0:
		return h.GripMin.TextThin(x.U) + " or more"
	}
	return measure.TextThinSpan(h.GripMin, h.GripMax, x.U)
}

// gripLimit is the grip range of a finding, which says by itself that a
// figure is from memory.
func (x *Context) gripLimit() string {
	if x.K.Hardware.GripGround == plan.Memory {
		return x.gripSpan()
	}
	return x.GripRange()
}

// suits says whether another notion of the catalogue would take the stack.
func (x *Context) suits(n *catalog.Notion) bool {
	h := &x.K.Hardware
	thin, thick := h.Stack()
	if n.Grip.Min.Has() || n.Grip.Max.Has() {
		return plan.FitOf(thin, n.Grip.Min.V, n.Grip.Max.V) == plan.Fits && plan.FitOf(thick, n.Grip.Min.V, n.Grip.Max.V) == plan.Fits
	}
	lo, hi, rule, _ := plan.PostRange(plan.AttachOf(n), thin, thick, n.PostWidth.V, x.U)
	return rule != "" && n.Post.Has() && n.Post.V >= lo && n.Post.V <= hi
}

// otherHardware are the notions of the catalogue of the same sort that would
// take a stack that is too thick or too thin for this one, nearest first.
func (x *Context) otherHardware(fit plan.Fit) []Change {
	now := &x.C.Notion
	if x.C.Use == "" || now.Post.From == catalog.Given || now.Grip.Min.From == catalog.Given || now.Grip.Max.From == catalog.Given {
		return nil
	}
	var out []Change
	for _, n := range x.G.Catalog.Notions {
		if n.Kind != now.Kind || n.Name == now.Name || plan.AttachOf(n) != plan.AttachOf(now) || n.EyeletKind != now.EyeletKind || n.Spring != now.Spring || !x.suits(n) {
			continue
		}
		if now.Post.Has() && n.Post.Has() && (fit == plan.TooThick && n.Post.V <= now.Post.V || fit == plan.TooThin && n.Post.V >= now.Post.V) {
			continue // another make's figures, not another post
		}
		cost := 2*math.Abs((plan.AcrossOf(n)-plan.AcrossOf(now)).MM()) + math.Abs((n.Post.V - now.Post.V).MM())
		if n.File != now.File {
			cost++ // another maker's
		}
		if n.Sure == "memory" && now.Sure != "memory" {
			cost += 2
		}
		out = append(out, Change{With: x.use(n.Name), Says: "use " + n.Name, Cost: cost})
	}
	return cheapest(out, 6)
}

// nearestHardware is the first of them in words, or "".
func (x *Context) nearestHardware(fit plan.Fit) later {
	return x.later(func(x *Context) string {
		if cs := x.otherHardware(fit); len(cs) > 0 {
			return " (" + cs[0].use() + " would fit)"
		}
		return ""
	})
}

// packing are the keys that packed touches.
var packing = []string{"closure.*.packing", "closure.*.over", "closure.*.under", "closure.*.measured"}

// packing is the packing, in all, that makes a stack at least and at most so
// thick, and from and to where it may lie.
func (x *Context) packing(least, most measure.Length) (add, lo, hi measure.Length) {
	h := &x.K.Hardware
	thin, thick := h.Stack()
	lo, hi = h.Packing+least-thin, h.Packing+most-thick
	if add = lo.RoundUp(mm / 10); add > hi {
		add = lo.RoundUp(mm / 100)
	}
	return add, lo, hi
}

// packIt says so, where there is one.
func (x *Context) packIt(least, most measure.Length) any {
	add, lo, hi := x.packing(least, most)
	if hi < add {
		return "" // it is too thick on the other side already
	}
	s := x.Within(add, lo, hi)
	s.u = x.U.Or(measure.MM)
	b := s.Bounding(x.at("packing"))
	b[0] = b[0].in("; or pack it with ", " of washer or patch in all")
	return b
}

// gripMost is the thickest that is gripped.
func (x *Context) gripMost() measure.Length {
	return cmp.Or(x.K.Hardware.GripMax, measure.MaxLength)
}

// packed are the changes that make a stack thicker: washers or a patch, and
// one more layer of the innermost cloth.
func (x *Context) packed(least, most measure.Length) []Change {
	h := &x.K.Hardware
	var out []Change
	if add, lo, hi := x.packing(least, most); add > h.Packing && add <= hi {
		out = append(out, Change{
			With: x.setMM("packing", add),
			Says: "pack it with washers or a patch, " + add.TextWithin(lo, hi, x.U.Or(measure.MM)) + " in all", Cost: 3,
		})
	}
	for _, s := range h.Sides[:h.Count] {
		layers, key := x.C.Over, s.Key
		if key == "under" {
			layers = x.C.Under
		}
		var names []string
		last := ""
		for _, l := range layers {
			names = append(names, l.Name)
			if l.Cloth != nil {
				last = l.Name
			}
		}
		if last != "" {
			out = append(out, Change{
				With: append(x.G.Unsampled(x.C.Index), x.setNames(key, append(names, last))...),
				Says: "put one more layer of " + last + " behind it", Cost: 6,
			})
		}
	}
	return out
}

// unpacked is the change of a packing that makes a stack at most so thick.
func (x *Context) unpacked(most measure.Length) []Change {
	h := &x.K.Hardware
	_, thick := h.Stack()
	switch less := (h.Packing + most - thick).RoundDown(mm / 10); {
	case h.Packing == 0 || less < 0 || less >= h.Packing:
		return nil
	case less == 0:
		return []Change{{With: x.takeOut("packing"), Says: "set it without packing", Cost: 2}}
	default:
		return []Change{{With: x.setMM("packing", less), Says: "pack it with less, " + less.TextThin(x.U.Or(measure.MM)) + " in all", Cost: 2}}
	}
}

const (
	memory     = "from memory"
	armySnap   = "US Army TM 10-8400-203-23, repair of individual equipment, 21-7"
	makerClip1 = "Semi-Tubular Rivets, Design Considerations, a rivet maker's bulletin: 55 % of the shank's width"
	makerClip2 = "a second rivet maker's answers: 50 to 55 % for a hollow end, about 100 % for a solid one"
	makerClip3 = "a third rivet maker's note on clinch allowance: 50 to 70 %"
)

var hardwareRules = []*Rule{
	{
		Name: "hardware-grip", Severity: Conflict,
		Rests: []string{"closure.*.notion.grip", "closure.*.notion.kind", "closure.*.packing", "closure.*.under", "cloth.*.thickness"},
		Task:  TaskSet,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			h := &x.K.Hardware
			if !h.Needed || !h.GripGiven {
				return Numbers{}
			}
			thin, thick := h.Stack()
			n := Numbers{}
			if h.GripMax > 0 {
				n = atMost(thick, h.GripMax)
			}
			if lo := atLeast(thin, h.GripMin); !n.Compared || lo.Share() < n.Share() {
				n = lo
			}
			return n
		},
		Title:   "the pressed layers must lie in the hardware's grip range",
		Figure:  "layers pressed together",
		Formula: "grip min ≤ the layers' pressed thickness + packing ≤ grip max; tack and rivet: the layers it is set on, snap and eyelet: both sides",
		Why:     "A post too short does not lock and pulls out; one too long bends, dents the cap or leaves the button turning.",
		Sources: []string{
			"a snap maker's page on its components: too short will not hold, too long deforms stud or socket; posts are matched to the thickness",
			"A-A-55223 (1993), plastic fastener: range stated for compressed material, 0.010 to 0.050 in",
			"trimmings wholesaler on tack buttons, rivets and snaps: on thin cloth add a packing washer or extra layers",
		},
		Others: "a leather-craft page counts the stack as a third to two thirds of a rivet's height over all, cap included",
		Check: func(x *Context) {
			h := &x.K.Hardware
			if !h.Needed || !h.GripGiven {
				return
			}
			// Where one side is too thick and the other too thin, no post suits both:
			// what is said goes for one side alone.
			word := PostWord(h.Attach)
			longer, shorter, a := "take a longer one", "a shorter "+word, "take a longer "+word
			thick, thin := false, false
			x.eachSide(func(s *plan.GripSide, _ string) {
				fit := plan.FitOf(s.Pressed, h.GripMin, h.GripMax)
				thick, thin = thick || fit == plan.TooThick, thin || fit == plan.TooThin
			})
			if thick && thin {
				longer, shorter, a = "take a longer "+word+" on that side", shorter+" on that side", "a longer "+word+" on that side"
			}
			x.eachSide(func(s *plan.GripSide, path string) {
				name := x.C.Notion.Name
				switch plan.FitOf(s.Pressed, h.GripMin, h.GripMax) {
				case plan.TooThick:
					have, _ := x.ThinOver(s.Pressed, h.GripMax)
					x.report(Conflict, x.gripPath(), atMost(s.Pressed, h.GripMax).on(x.gripBasis(s, (*plan.Stack).PressedBasis, x.C.Notion.Grip.Max)...),
						"%s press down to %s%s, but %s grips %s: the %s is too short to lock; %s%s or fewer layers",
						GripSideStackWords(s), have, GripSideBy(s, x.U), name, x.gripLimit(), word, longer, x.nearestHardware(plan.TooThick)).Line("%s pressed; it grips %s: %s", have, x.later((*Context).gripSpan), a)
				case plan.TooThin:
					have, _ := x.ThinShort(s.Pressed, h.GripMin)
					x.report(Conflict, x.gripPath(), atLeast(s.Pressed, h.GripMin).on(x.gripBasis(s, (*plan.Stack).LooseBasis, x.C.Notion.Grip.Min)...),
						"%s press down to %s%s, but %s grips %s: it will sit loose or crooked; take %s%s%s",
						GripSideStackWords(s), have, GripSideBy(s, x.U), name, x.gripLimit(), shorter, x.nearestHardware(plan.TooThin), x.packIt(h.GripMin, x.gripMost())).Line("%s pressed; it grips %s: a shorter %s, or pack it", have, x.later((*Context).gripSpan), word)
				}
			})
		},
		Touches: slices.Concat(anotherNotion, packing),
		Propose: func(x *Context, f *Finding) []Change {
			fit := plan.TooThick
			if f.Have < f.Need {
				fit = plan.TooThin
			}
			out := x.otherHardware(fit)
			if h := &x.K.Hardware; fit == plan.TooThin {
				out = append(out, x.packed(h.GripMin, x.gripMost())...)
			} else {
				out = append(out, x.unpacked(h.GripMax)...)
			}
			sortChanges(out)
			return out
		},
	},
	{
		Name: "hardware-post", Severity: Conflict,
		Rests: []string{"closure.*.notion.attach", "closure.*.notion.kind", "closure.*.notion.post", "closure.*.over", "closure.*.under", "cloth.*.kind", "cloth.*.thickness"},
		Task:  TaskSet,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			h := &x.K.Hardware
			if !h.Needed || h.GripGiven || h.Post == 0 {
				return Numbers{}
			}
			_, thick := h.Stack()
			return atLeast(h.Post, thick)
		},
		Title:   "without a grip range, the post must suit the pressed layers",
		Formula: "hollow-ended rivet: stack + {hollow least} to {hollow most} of the shank's width; solid: stack + the whole of it, to {solid stack} × stack + {solid width} × width; double-cap: stack to stack + {cap}; tack nail: stack + {nail least} to {nail most}; prong: stack + {prong least} to {prong most}; snap post: stack + {post least} to {post most}",
		Limits:  plan.PostLimits,
		Why:     "What stands out must be enough to roll over, curl or lock, and not more than it can use up.",
		Sources: []string{
			makerClip1, makerClip2, makerClip3,
			"a bag-trade guide to double-cap rivets: the stack, at most 1/8 in (3 mm) more",
			"tack nails 2 mm or more inside the head, prongs 1.5 to 2 mm, snap posts about 1/8 in: from memory",
			"a nail of 8 mm in two or three layers of 13 oz denim: common practice, no source",
		},
		Ours:   "only a post that is no longer than the pressed stack is a conflict; outside a range it is a caution, and the ranges about the figures from memory are ours",
		Others: "a rivet maker: double-cap post = stack + 1/16 to 1/8 in; a craft page: a quarter to a third of the post shows; choose a stock length equal to or slightly under the computed one (third rivet maker)",
		Check: func(x *Context) {
			h := &x.K.Hardware
			if !h.Needed || h.GripGiven || h.Post == 0 {
				return
			}
			thin, thick := h.Stack()
			if thick == 0 {
				return // no layers to hold
			}
			path, word := x.notionPath("post", x.C.Notion.Post.From), PostWord(h.Attach)
			by, sides := "", h.Sides[:h.Count]
			for i := range sides {
				by = cmp.Or(by, GripSideBy(&sides[i], x.U))
			}
			pressing := func(a, b plan.GripSide) int { return cmp.Compare(a.Pressed, b.Pressed) }
			thickest, thinnest := slices.MaxFunc(sides, pressing), slices.MinFunc(sides, pressing)
			pressed := func(l measure.Length, s *plan.GripSide) Said { return x.estimate(l, s.Tol, s.Estimated && !s.Sampled) }
			switch {
			case h.Post <= thick && h.Attach != "double-cap" || h.Post < thick:
				need := thick
				switch {
				case h.PostRule != "":
					need = h.PostMin
				case h.Attach != "double-cap": // as long as the layers is not longer than they: by what can be told
					need += measure.Millimetre / 10
				}
				have, stack := x.ThinShort(h.Post, thick)
				want := x.Least(need).Thin().For(x.at("notion.post")).in("it must be at least ", " long")
				if h.PostRule != "" {
					want = want.in("it should be about ", "")
				}
				x.report(Conflict, path, atLeast(h.Post, thick).on(x.pressedBasis(&thickest, (*plan.Stack).PressedBasis)...).on(plan.NotionBasis(x.C, x.C.Notion.Post, "post"), x.setBasis(), x.rivetBasis(thick)), "the %s is %s long, but the layers press down to %s%s: nothing is left to lock it; %s%s",
					word, have, stack, by, want, x.nearestHardware(plan.TooThick)).Line("the %s, %s, is no longer than the layers pressed, %s", word, have, pressed(thick, &thickest))
			case h.PostRule == "":
			case h.Post < h.PostMin:
				have, _ := x.ThinShort(h.Post, h.PostMin)
				x.report(Caution, path, atLeast(h.Post, h.PostMin), "the %s is %s long, a little short: for layers that press down to %s%s it should be %s, %s%s: make a test set",
					word, have, x.sayThin(thick), by, measure.TextThinSpan(h.PostMin, max(h.PostMin, h.PostMax), x.U), h.PostRule, x.nearestHardware(plan.TooThick)).Line("a %s of %s is short for %s: usual is %s", word, have, pressed(thick, &thickest), x.later(func(*Context) string { return measure.TextThinSpan(h.PostMin, max(h.PostMin, h.PostMax), x.U) }))
			case h.Post > h.PostMax:
				have, _ := x.ThinOver(h.Post, h.PostMax)
				x.report(Caution, path, atMost(h.Post, h.PostMax), "the %s is %s long, too long: for layers that press down to %s%s it should be %s, %s%s%s; make a test set",
					word, have, x.sayThin(thin), by, measure.TextThinSpan(min(h.PostMin, h.PostMax), h.PostMax, x.U), h.PostRule, x.nearestHardware(plan.TooThin), x.packIt(thin+h.Post-h.PostMax, thick+h.Post-h.PostMin)).Line("a %s of %s is long for %s: usual is %s", word, have, pressed(thin, &thinnest), x.later(func(*Context) string { return measure.TextThinSpan(min(h.PostMin, h.PostMax), h.PostMax, x.U) }))
			}
		},
		Touches: slices.Concat(anotherNotion, packing),
		Propose: func(x *Context, f *Finding) []Change {
			h := &x.K.Hardware
			fit := plan.TooThick
			if f.Have > f.Need {
				fit = plan.TooThin
			}
			out := x.otherHardware(fit)
			if x.C.Notion.Post.From == catalog.Given && h.PostRule != "" && h.PostMin <= h.PostMax {
				p := ((h.PostMin + h.PostMax) / 2).RoundNearest(mm / 10)
				out = append(out, Change{With: x.setMM("notion.post", p), Says: "take one with " + p.TextThin(x.U) + " of " + PostWord(h.Attach), Cost: math.Abs((p - h.Post).MM())})
			}
			if h.PostRule != "" && h.Post > h.PostMax {
				thin, thick := h.Stack()
				out = append(out, x.packed(thin+h.Post-h.PostMax, thick+h.Post-h.PostMin)...)
			}
			sortChanges(out)
			return out
		},
	},
	{
		Name: "hardware-hole", Severity: Conflict,
		Rests:   []string{"closure.*.into", "closure.*.notion.attach", "closure.*.notion.kind", "closure.*.notion.post_width", "closure.*.punch", "cloth.*.kind"},
		Task:    TaskSet,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the punched hole must suit the barrel and what it is punched in",
		Formula: "cloth and webbing: hole < the barrel's width, which is forced through; rigid parts: shank + {rigid least} to {rigid most}; leather: no published rule; prongs: no hole at all; a tack button's nail is pushed through from underneath",
		Why:     "In cloth a hole as wide as the barrel lets the hardware work loose and tear out; in a rigid part a tight hole splits it.",
		Sources: []string{
			armySnap + ": hole smaller than the barrel, which is forced through; the same for eyelet and washer in webbing",
			"US Army FM 10-16, chapter 12: a tack is pushed through from the under side, with light taps",
			"a fastener maker's answers: hole 0.010 to 0.015 in over the shank, for rigid parts",
			"leather-craft notes on snaps: practice punches two numbers under the book's hole",
		},
		Others: "another rivet maker bores 1.15 × the shank in rigid parts; if a hole in cloth came out too wide, stitch round it before setting (FAA parachute rigger handbook)",
		Limits: []plan.Threshold{plan.RigidLeastLimit, plan.RigidMostLimit, plan.PunchLimit},
		Ours:   "in cloth a hole under {punch} of the barrel is a caution: the yarns tear instead of giving way",
		Check: func(x *Context) {
			h := &x.K.Hardware
			if !h.Needed || !x.C.PunchHole.Has() {
				return
			}
			hole, path := x.C.PunchHole.V, x.at("punch")
			if h.Attach == "prong" {
				x.report(Caution, path, Numbers{}, "prongs bite through the cloth by themselves: punch no hole").Line("prongs bite through by themselves: punch no hole")
				return
			}
			if h.Barrel == 0 {
				return
			}
			word := PostWord(h.Attach)
			lo, hi, known := plan.PunchRange(h.Into, h.Barrel)
			have, want := x.Apart(hole, h.Barrel)
			switch {
			case !known:
				advice := "punch a scrap of the same leather first"
				if n := x.C.Notion.Hole; n.Has() {
					advice = "its maker says " + x.len(n.V) + "; " + advice
				}
				x.report(Note, path, Numbers{}, "there is no published rule for holes in leather, such as %s for a %s of %s: %s", have, word, want, advice).Line("no rule is known for leather: punch a scrap of the same leather first")
			case h.Into == "rigid" && hole < h.Barrel:
				x.report(Conflict, path, atLeast(hole, h.Barrel).on(x.barrelBasis()...), "the hole, %s, is smaller than the %s, %s: in a rigid part make it %s", have, word, want, x.span(path, lo, hi)).Line("a hole of %s is too small in a rigid part: make %s", have, x.span(path, lo, hi))
			case h.Into == "rigid" && hole < lo:
				x.report(Caution, path, atLeast(hole, lo), "the hole, %s, is tight for a %s of %s in a rigid part: make it %s", have, word, want, x.span(path, lo, hi)).Line("a hole of %s is tight in a rigid part: make %s", have, x.span(path, lo, hi))
			case h.Into == "rigid" && hole > hi:
				x.report(Caution, path, atMost(hole, hi), "the hole, %s, is wide for a %s of %s in a rigid part: make it %s", have, word, want, x.span(path, lo, hi)).Line("a hole of %s is wide in a rigid part: make %s", have, x.span(path, lo, hi))
			case h.Into == "rigid":
			case hole >= hi:
				x.report(Conflict, path, atMost(hole, hi).on(x.barrelBasis()...),
					"the hole, %s, is not smaller than the %s, %s: in %s it must be, so that the %s is forced through; punch %s, or stitch round the hole to make it smaller", have, word, want, h.Into, word, x.Most(x.smallPunch()).For(path)).Line("a hole of %s is too wide for a %s of %s: punch %s", have, word, want, x.Most(x.smallPunch()))
			case hole < lo:
				punch := x.span(path, lo, hi-1)
				x.report(Caution, path, atLeast(hole, lo), "the hole, %s, is under half the %s, %s: the cloth tears when it is forced; punch %s", have, word, want, punch).Line("a hole of %s tears the cloth: punch %s", have, punch)
			}
		},
		Touches: []string{"closure.*.punch"},
		Propose: func(x *Context, f *Finding) []Change {
			h := &x.K.Hardware
			p := x.smallPunch()
			if h.Into == "rigid" {
				p = ((h.HoleMin + h.HoleMax) / 2).RoundNearest(mm / 10)
			}
			if p == 0 {
				return nil
			}
			return []Change{{With: x.setMM("punch", p), Says: "punch " + p.TextThin(x.U), Cost: 1}}
		},
	},
	{
		Name: "edge-near", Severity: Conflict,
		Rests: []string{"closure.*.edge", "closure.*.notion"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			if !x.C.Edge.Has() || x.C.Notion.Kind == catalog.Hook || x.C.Notion.Kind == catalog.Zip {
				return Numbers{}
			}
			return atLeast(x.C.Edge.V, x.K.Reach.Rim)
		},
		Title:   "a fastener must stay clear of the edge",
		Figure:  "centre to the edge",
		Formula: "centre to the finished edge (edge) ≥ half the widest part (conflict below), ≥ half of it + {rim} (caution below)",
		Limits:  []plan.Threshold{plan.RimLimit},
		Why:     "A rim or flange over the edge catches and lifts, and one at the very edge has no doubled cloth under it to hold on to.",
		Sources: []string{
			"IASRI e-course: a button's centre at least half its diameter from an edge, on double cloth",
			"Sew Today, 2019, placing buttons and buttonholes: rim at least 3 mm inside the finished edge",
			"flange of hardware 3 mm inside the edge: from memory",
		},
		Ours: "the {rim} for hardware",
		Check: func(x *Context) {
			if !x.C.Edge.Has() || x.C.Notion.Kind == catalog.Hook || x.C.Notion.Kind == catalog.Zip {
				return
			}
			rim, e := x.K.Reach.Rim, x.C.Edge.V
			switch {
			case e < rim:
				have, need := x.Short(e, rim)
				x.report(Conflict, x.at("edge"), atLeast(e, rim).on(plan.RoundBasis(x.C), plan.BasisOf(x.C.Edge, x.key("edge"))), "the centre lies %s from the edge, but the %s is %s from centre to rim: it hangs over; set it at least %s in", have, text.One(x.C.Notion.Kind), need.For(x.at("edge")), x.Least((rim+plan.RimClear).RoundUp(plan.HoleStep(x.U))).For(x.at("edge"))).Line("%s from the edge, but the rim reaches %s: it hangs over", have, need)
			case e < rim+plan.RimClear:
				have, need := x.Short(e, rim+plan.RimClear)
				x.report(Caution, x.at("edge"), atLeast(e, rim+plan.RimClear), "the centre lies %s from the edge; %s keeps the %s %s inside it", have, need.For(x.at("edge")), text.One(x.C.Notion.Kind), x.say(plan.RimClear)).Line("the centre lies %s from the edge; %s keeps the rim inside", have, need)
			}
		},
		Touches: []string{"closure.*.edge"},
		Propose: func(x *Context, f *Finding) []Change {
			e := (x.K.Reach.Rim + plan.RimClear).RoundUp(plan.HoleStep(x.U))
			return []Change{{With: x.setLength("edge", e), Says: "set it " + x.up(e) + " from the edge", Cost: (e - x.C.Edge.V).MM()}}
		},
	},
	{
		Name: "hardware-layers", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "hardware wants at least two layers and a support",
		Formula: "layers of cloth and interfacing ≥ {layers} (spur grommet ≥ {spur}); an interfacing or a patch behind it on cloth below {heavy} (coat cloth: {heavy coat})",
		Limits:  []plan.Threshold{plan.LayersLimit, plan.SpurLimit, plan.HeavyLimit, plan.HeavyCoatLimit},
		Why:     "The pull of every opening goes through a few yarns at the barrel: a single or soft layer tears out.",
		Sources: []string{
			"sewing and design professionals' standards, p. 25: cloth under snaps and hooks reinforced on the wrong side, usually with interfacing",
			"US Army TM 10-1670-201-23: add a patch of the same material inside before a snap is set again",
			"boating magazine on spur grommets: about three layers of canvas",
			"at least two layers and a stabiliser for snaps: from memory",
		},
		Ours: "heavy cloth in two layers is taken to support itself",
		Check: func(x *Context) {
			h := &x.K.Hardware
			if !h.Needed {
				return
			}
			r := x.C.Reinforce
			if r.Has() && !r.V {
				x.report(Caution, x.at("reinforced"), Numbers{}, "the %s is set on cloth that is not reinforced: put interfacing or a patch of the same cloth behind it", text.One(x.C.Notion.Kind)).Line("put interfacing or a patch behind the %s", text.One(x.C.Notion.Kind))
				return
			}
			x.eachSide(func(s *plan.GripSide, path string) {
				switch {
				case s.Layers < h.LayersLeast:
					x.report(Caution, whole(path), noLess(s.Layers, h.LayersLeast, "layers"),
						"the %s goes through %s only; it wants at least %d: add a facing or a patch behind it", text.One(x.C.Notion.Kind), text.Count(s.Layers, "layer"), h.LayersLeast).Line("only %s under the %s; at least %d: add a facing", text.Count(s.Layers, "layer"), text.One(x.C.Notion.Kind), h.LayersLeast)
				case !s.Interf && !r.V && h.Packing == 0 && !x.bare(): // of which interfacing-none speaks
					if cl, _ := plan.ClassOf(x.K); !cl.Heavy() && plan.IntoOf(x.C) == "cloth" {
						x.report(Caution, whole(path), Numbers{}, "nothing stiffens the %s cloth under the %s: put interfacing or a patch behind it, or write reinforced = true", cl.Name, text.One(x.C.Notion.Kind)).Line("put interfacing or a patch behind the %s", text.One(x.C.Notion.Kind))
					}
				}
			})
		},
		Touches: slices.Concat(packing, []string{"closure.*.reinforced"}),
		Propose: func(x *Context, f *Finding) []Change {
			out := []Change{{With: set(x, "reinforced", true), Says: "reinforce the cloth behind it with a patch", Cost: 4}}
			thin, _ := x.K.Hardware.Stack()
			return append(out, x.packed(thin, measure.MaxLength)...)
		},
	},
	{
		Name: "hardware-step", Severity: Conflict,
		Rests:   []string{"closure.*.notion.attach", "closure.*.notion.grip", "closure.*.notion.kind", "closure.*.thickness_step"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "hardware must not straddle a change of thickness",
		Figure:  "change of thickness",
		Formula: "thickness_step ≤ {step}; over the width of the grip range: conflict",
		Why:     "One setting of the tool presses one thickness: on a seam's step one side is crushed and the other stays open.",
		Sources: []string{memory + ": snap setters' practice"},
		Ours:    "{step} as a step that cloth takes up",
		Limits:  []plan.Threshold{plan.StepLimit},
		Check: func(x *Context) {
			h, st := &x.K.Hardware, x.C.ThicknessStep
			if !h.Needed || !st.Has() || st.V <= plan.StepFelt {
				return
			}
			if room := h.GripMax - h.GripMin; h.GripGiven && h.GripMin > 0 && h.GripMax > 0 && st.V > room {
				have, limit := x.ThinOver(st.V, room)
				g := &x.C.Notion.Grip
				x.report(Conflict, x.at("thickness_step"), atMost(st.V, room).on(plan.NotionBasis(x.C, g.Min, "grip"), plan.NotionBasis(x.C, g.Max, "grip"), plan.BasisOf(st, x.key("thickness_step")), x.setBasis()), "the thickness changes by %s under the %s, more than its whole grip range spans, %s: no setting fits both sides; move it off the seam", have, text.One(x.C.Notion.Kind), limit.For(x.at("thickness_step"))).Line("the thickness changes by %s there, its grip takes %s: move it", have, limit)
				return
			}
			x.report(Caution, x.at("thickness_step"), atMost(st.V, plan.StepFelt), "the thickness changes by %s under the %s: move it off the seam, or fill the low side with a patch", x.sayThin(st.V), text.One(x.C.Notion.Kind)).Line("the thickness changes by %s under it: move it off the seam", x.sayThin(st.V))
		},
		Touches: []string{"closure.*.thickness_step"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: set(x, "thickness_step", 0), Says: "move it off the seam", Cost: 5}}
		},
	},
	{
		Name: "hardware-test-set", Severity: Note,
		Task:    TaskTestSet,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "always set one in scrap first",
		Formula: "a scrap of the very same layers, pressed as the tool presses them",
		Why:     "No chart knows your cloth and your tool. A set part cannot be used again, and a spoiled one leaves a hole.",
		Sources: []string{
			armySnap + ": clinched securely, cloth not cut, at most three splits in a snap's barrel; no split in an eyelet with its washer",
			"US Army TM 55-1680-317-23&P: an eyelet sits tight and cannot be turned by hand",
			"FAA parachute rigger handbook: no edge left that can snag",
			"a jeans maker's repair page: a set tack button cannot be used again",
			"a bag-trade guide to double-cap rivets: too long dents the cap, too short falls out",
			"a sewing page on plastic snaps, 2013: the cap's point is pressed through before it is set",
			"common practice, no source: plastic is pressed with pliers, a nail and prongs have no barrel, many heads of tack buttons swivel",
		},
		Check: func(x *Context) {
			h := &x.K.Hardware
			if !h.Needed {
				return
			}
			path := x.notionWord("")
			x.report(Note, path, Numbers{}, "make a test set in scrap first: %s", x.later(testSet)).Line("%s", x.later(testSetShort))
		},
	},
}

// smallPunch is the hole to punch in cloth.
func (x *Context) smallPunch() measure.Length {
	h := &x.K.Hardware
	if n := x.C.Notion.Hole; n.Has() && n.V < h.Barrel && n.V >= h.Barrel/2 {
		return n.V
	}
	return plan.Scale(h.Barrel, plan.UsualPunch).RoundDown(mm / 10)
}

// pressedBasis is what a pressed stack rests on, packing included: one that is
// held against a most. Against a least, of says how it may be thicker.
func (x *Context) pressedBasis(s *plan.GripSide, of func(*plan.Stack) plan.Basis) []plan.Basis {
	stack := &x.K.Over
	if s.Under {
		stack = &x.K.Under
	}
	out := []plan.Basis{of(stack)}
	if s.Both {
		out = append(out, of(&x.K.Over))
	}
	if x.C.Packing.Has() {
		out = append(out, plan.BasisOf(x.C.Packing, x.key("packing")))
	}
	return out
}

// rivetBasis is what it rests on that a post as long as the stack is too short:
// of a rivet on its kind, for one with two caps is not.
func (x *Context) rivetBasis(thick measure.Length) plan.Basis {
	if x.C.Notion.Kind != catalog.Rivet || x.K.Hardware.Post < thick {
		return plan.Basis{}
	}
	return plan.NotionWord(x.C, "kind")
}

// gripBasis is what a pressed stack and the limit of the grip that it is held
// against rest on.
func (x *Context) gripBasis(s *plan.GripSide, of func(*plan.Stack) plan.Basis, limit catalog.Measured) []plan.Basis {
	return append(x.pressedBasis(s, of), plan.NotionBasis(x.C, limit, "grip"), x.setBasis())
}

// barrelBasis is what a punched hole and the barrel it is held against rest on.
func (x *Context) barrelBasis() []plan.Basis {
	return []plan.Basis{plan.NotionBasis(x.C, x.C.Notion.PostWidth, "post_width"), plan.BasisOf(x.C.PunchHole, x.key("punch")), x.setBasis()}
}

// RigidPlay is how much wider than the shank a hole in a rigid part is, as its
// source has it.
func RigidPlay(u measure.Unit) string {
	least, most := plan.RigidLeastLimit.Figure, plan.RigidMostLimit.Figure
	if u.IsAlone() && u.Is(measure.MM) {
		return fmt.Sprintf("%.2f to %.2f mm", least, most)
	}
	return fmt.Sprintf("%.3f to %.3f in", least/measure.Inch.MM(), most/measure.Inch.MM())
}
