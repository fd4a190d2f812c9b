package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// isKnit says whether a cloth is a knit.
func isKnit(c *catalog.Cloth) bool {
	switch c.Kind {
	case "jersey", "fleece", "corduroy-knit":
		return true
	}
	return c.Weave == "knit"
}

var snapRules = []*Rule{
	{
		Name: "snap-cap", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the cap must belong to the working parts",
		Figure:  "cap",
		Formula: "caps min ≤ diameter of the cap ≤ caps max: the range of caps that its maker gives for the working parts",
		Why:     "A cap outside the range of its socket will not close over it or comes off. The cap's size does not tell the holding set.",
		Sources: []string{"a snap maker's note on S-spring snaps: one set of working parts takes caps of 10 mm or more, another caps of 11 to 15 mm"},
		Check: func(x *Context) {
			n := &x.C.Notion
			lo, hi := n.Caps.Min.V, n.Caps.Max.V
			fit := plan.FitOf(n.Diameter.V, lo, hi)
			if n.Kind != catalog.Snap || fit == plan.Fits {
				return
			}
			nums, says := atLeast(n.Diameter.V, lo), x.len(lo)+" or more"
			switch {
			case lo == 0:
				says = "up to " + x.len(hi)
			case hi != 0:
				says = measure.TextSpan(lo, hi, x.U)
			}
			if fit == plan.TooThick {
				nums = atMost(n.Diameter.V, hi)
			}
			x.report(Caution, x.notionPath("diameter", n.Diameter.From), nums, "a cap of %s does not go with these working parts, which take %s: ask for the set that belongs to the cap", x.say(n.Diameter.V), says).Line("a cap of %s; these parts take %s: ask for their cap", x.say(n.Diameter.V), says)
		},
	},
	{
		Name: "snap-knit", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "in a knit, take a snap with prongs",
		Formula: "jersey, fleece and other knits: prongs, not a single post",
		Why:     "A single post makes one hole that runs and stretches; five prongs share the pull.",
		Sources: []string{"a pattern maker's guide to snaps on jersey: one post against five prongs"},
		Check: func(x *Context) {
			if x.C.Notion.Kind != catalog.Snap || plan.AttachOf(&x.C.Notion) != "post" {
				return
			}
			for _, ls := range [2][]catalog.Layer{x.C.Over, x.C.Under} {
				for _, l := range ls {
					if l.Cloth != nil && isKnit(l.Cloth) {
						x.report(Caution, x.notionWord("attach"), Numbers{}, "%s is a knit, and this snap has a single post: take one with prongs, or put a firm woven patch on both sides", l.Name).Line("%s is a knit: take a snap with prongs, or patch both sides", l.Name)
						return
					}
				}
			}
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			if x.C.Use == "" {
				return nil
			}
			return x.nearestUse(func(n *catalog.Notion) bool {
				return n.Kind == catalog.Snap && plan.AttachOf(n) == "prong" && x.suits(n)
			}, diameterOf)
		},
	},
	{
		Name: "snap-locking", Severity: Conflict,
		Rests:   []string{"closure.*.notion.spring", "closure.*.quick_opening"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no locking snap where it must open at once",
		Formula: "spring = \"locking\" with quick_opening = true: conflict; on a child's garment: caution",
		Why:     "A locking snap opens from one side only. Whoever is caught in the garment cannot tear it open.",
		Sources: []string{"US Navy aviation training manual: the three-way locking snap is not used where quick opening is needed"},
		Ours:    "a child's garment counts as one that somebody else may have to open",
		Check: func(x *Context) {
			if x.C.Notion.Spring != "locking" {
				return
			}
			switch {
			case x.C.QuickOpening.V:
				x.report(Conflict, x.notionWord("spring"), Numbers{}.on(plan.NotionWord(x.C, "spring")), "this snap locks and opens from one side only, but the closure must open at once: take a ring or S spring").Line("this snap locks: take a ring or S spring, which opens at once")
			case x.G.Wearer == "child" || x.G.Wearer == "infant":
				x.report(Caution, x.notionWord("spring"), Numbers{}, "this snap locks and opens from one side only: on a child's garment take one that pulls open").Line("this snap locks: for a child take one that pulls open")
			}
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			if x.C.Use == "" {
				return nil
			}
			return x.nearestUse(func(n *catalog.Notion) bool {
				return n.Kind == catalog.Snap && (n.Spring == "ring" || n.Spring == "s") && plan.AttachOf(n) == plan.AttachOf(&x.C.Notion) && x.suits(n)
			}, diameterOf)
		},
	},
	{
		Name: "snap-sewn-size", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a large sewn snap drags thin cloth",
		Formula: "sewn snap over {big}: only on heavy cloth",
		Limits:  []plan.Threshold{plan.SewnSnapLimit},
		Why:     "The snap holds harder than the cloth: it drags the front and tears its stitches out.",
		Sources: []string{"sewing notes on sewn snaps: 7 to 14 mm in general; larger for heavier cloth, up to 30 mm at the top of heavy wool coats; a large one drags thin cloth"},
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Snap || n.Attach != "sewn" || n.Spring == "magnet" || n.Diameter.V <= plan.SewnSnapBig {
				return
			}
			if cl, _ := plan.ClassOf(x.K); !cl.Heavy() {
				x.report(Caution, x.notionPath("diameter", n.Diameter.From), atMost(n.Diameter.V, plan.SewnSnapBig),
					"a sewn snap of %s drags %s cloth: take one of %s", x.say(n.Diameter.V), cl.Name, measure.TextSpan(plan.SewnSnapSmall, plan.SewnSnapBig, x.U)).Line("a sewn snap of %s drags %s cloth: take %s", x.say(n.Diameter.V), cl.Name, x.later(func(x *Context) string { return measure.TextSpan(plan.SewnSnapSmall, plan.SewnSnapBig, x.U) }))
			}
		},
		Touches: anotherNotion,
		Propose: proposeSmaller,
	},
	{
		Name: "snap-magnet", Severity: Caution,
		Task:    TaskBuy,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "magnets keep away from implants and from children's mouths",
		Formula: "spring = \"magnet\"",
		Why:     "Magnets disturb pacemakers and other implants, and swallowed magnets do grave harm. No public figure tells how strong a closure magnet should be.",
		Sources: []string{
			memory + ": usual caution of makers of magnetic closures",
			"16 CFR 1262 covers loose magnets of toys, jewellery and the like, not a magnet held fast in a coat: used as a caution only",
		},
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Spring != "magnet" && !n.Magnet.V {
				return
			}
			says, line := "sew each magnet in a closed pocket of its own, and try the hold on the real layers, with "+x.K.Over.Thick.TextThin(x.U)+" between", "a magnet can disturb a pacemaker: ask the wearer, try the hold"
			if x.G.Wearer == "child" || x.G.Wearer == "infant" {
				says, line = "better take another closure for a child: magnets that come out and are swallowed injure the bowel", "take another closure for a child: swallowed magnets injure"
			}
			x.report(Caution, x.notionWord("spring"), Numbers{}, "a magnet in a front can disturb pacemakers and other implants: ask the wearer; %s", says).Line("%s", line)
		},
	},
}
