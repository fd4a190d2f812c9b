package rules

import (
	"strconv"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

const (
	lineBulletin = "thread maker's bulletin on buttonsew, buttonholes and bartacks: cycles of 8, 16 and 32 stitches"
)

var sewnRules = []*Rule{
	{
		Name: "shank-rigid", Severity: Conflict,
		Rests: []string{"closure.*.notion.kind", "closure.*.notion.shank", "closure.*.over", "cloth.*.pressed", "cloth.*.thickness"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			n := &x.C.Notion
			if n.Kind != catalog.Button && n.Kind != catalog.TackButton || !n.Shank.Has() || x.K.Loop.Needed {
				return Numbers{}
			}
			return atLeast(n.Shank.V, x.K.Over.Pressed)
		},
		Title:   "a rigid shank must be as long as the layers that button over it",
		Figure:  "shank",
		Formula: "shank ≥ the pressed thickness of the layers with the hole (conflict below), ≥ their thickness lying free (caution below); over it by more than {slack}: note. Under a loop there is only its cord: shank ≥ its thickness (caution below)",
		Limits:  []plan.Threshold{plan.ShankSlackLimit},
		Why:     "On a shank that is too short the button will not close, or pulls a dimple into the front and wears the hole.",
		Sources: []string{
			"mending guides and IASRI e-course: the shank is the thickness of the cloth that laps over it, a little more rather than less",
			memory + ": 1/8 in more is allowed",
		},
		Ours: "the pressed thickness as the hard limit, since lofty cloth gives a little; {slack} as too long",
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Button && n.Kind != catalog.TackButton || !n.Shank.Has() {
				return
			}
			o, sh := &x.K.Over, n.Shank.V
			path := x.notionPath("shank", n.Shank.From)
			switch l := &x.K.Loop; {
			case l.Needed: // no layer lies under it but the loop
				if sh < l.Cord {
					have, need := x.ThinShort(sh, l.Cord)
					x.report(Caution, path, atLeast(sh, l.Cord), "the shank is %s long, and the cord of its loop %s thick: the button sits on the loop and pulls at it; take a thinner cord or a longer shank", have, need.For(x.at("notion.shank"))).Line("the shank, %s, is shorter than its loop's cord is thick, %s", have, need)
				}
			case sh < o.Pressed:
				have, need := x.ThinShort(sh, o.Pressed)
				x.report(Conflict, path, atLeast(sh, o.Pressed).on(o.PressedBasis(), plan.NotionBasis(x.C, x.C.Notion.Shank, "shank")), "the shank is %s long, but the layers that go under the button are %s%s even pressed down, %s lying free: take a longer shank, or a button sewn through with a thread shank", have, need.For(x.at("notion.shank")), x.guessPressed(o), x.sayThin(o.Thick)).Line("the shank, %s, is shorter than the layers, %s", have, x.estimate(o.Pressed, o.PressedBasis().Tol, o.Estimated && !o.SampledPressed()))
			case sh < o.Thick:
				have, need := x.ThinShort(sh, o.Thick)
				x.report(Caution, path, atLeast(sh, o.Thick), "the shank is %s long, less than the %s%s of the layers that go under the button: it will pull a dimple; button a sample", have, need.For(x.at("notion.shank")), x.guess(o)).Line("the shank, %s, is short for layers of %s: it will pull a dimple", have, x.free(o))
			case sh > o.Thick+plan.ShankSlack:
				have, limit := x.ThinOver(sh, o.Thick+plan.ShankSlack)
				x.report(Note, path, atMost(sh, o.Thick+plan.ShankSlack), "the shank is %s long, over %s for layers of %s%s: the button will hang; set the shank through an eyelet, or take a shorter one", have, limit.For(x.at("notion.shank")), x.sayThin(o.Thick), x.guess(o)).Line("the shank, %s, is long for layers of %s: the button will hang", have, x.free(o))
			}
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			if x.C.Use == "" || x.C.Notion.Shank.From == catalog.Given {
				return nil
			}
			now, o := &x.C.Notion, x.K.Over.Thick
			if x.K.Loop.Needed {
				o = x.K.Loop.Cord
			}
			var out []Change
			for _, n := range x.G.Catalog.Notions {
				if n.Kind != now.Kind || n.Name == now.Name || plan.ForBacking(n) || n.Shank.Has() && (n.Shank.V < o || n.Shank.V > o+plan.ShankSlack) {
					continue
				}
				d := plan.AcrossOf(n) - plan.AcrossOf(now)
				cost := 2*d.Abs().MM() + 2
				if n.Shank.Has() {
					cost -= 2
				}
				out = append(out, Change{With: x.use(n.Name), Says: "use " + n.Name, Cost: cost})
			}
			return cheapest(out, 8)
		},
	},
	{
		Name: "shank-thread", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the thread shank must lift the button over the layers",
		Formula: "thread_shank ≥ the thickness of the layers with the hole, lofty ones pressed (caution below), ≤ their thickness lying free + {allowed} (note above)",
		Limits:  []plan.Threshold{plan.ShankAllowLimit, plan.ShankShortLimit},
		Why:     "A button sewn flat on a thick front pulls it into a dimple; on a shank that is too long it hangs and twists off.",
		Sources: []string{
			"mending guides and IASRI e-course: thread shank = thickness of the cloth that laps over it, a little more rather than less",
			memory + ": 1/8 in more is allowed",
		},
		Ours: "{wound} short is let pass: nobody winds a shank finer than that",
		Check: func(x *Context) {
			g := x.C.ThreadShank
			if !g.Has() || !x.K.Sewing.Sewn || x.C.Notion.Shank.Has() || x.C.Notion.Kind == catalog.Snap || x.C.Notion.Kind == catalog.Hook {
				return
			}
			o := &x.K.Over
			least := o.UnderFoot()
			switch {
			case g.V < least-plan.ShankShort:
				have, need := x.ThinShort(g.V, least)
				x.report(Caution, x.at("thread_shank"), atLeast(g.V, least), "a thread shank of %s is shorter than the layers over it, %s%s: wind it %s long", have, need.For(x.at("thread_shank")), x.guess(o), measure.TextThinSpan(least, o.Thick+plan.ShankAllow, x.U)).Line("a thread shank of %s is short for layers of %s: wind it longer", have, need)
			case g.V > o.Thick+plan.ShankAllow:
				have, limit := x.ThinOver(g.V, o.Thick+plan.ShankAllow)
				x.report(Note, x.at("thread_shank"), atMost(g.V, o.Thick+plan.ShankAllow), "a thread shank of %s is longer than usual, %s for these layers: the button will hang", have, limit.For(x.at("thread_shank"))).Line("a thread shank of %s is long, over %s: the button will hang", have, limit)
			}
		},
		Touches: []string{"closure.*.thread_shank"},
		Propose: func(x *Context, f *Finding) []Change {
			l := x.K.Over.UnderFoot().RoundUp(mm / 2)
			return []Change{{With: x.setMM("thread_shank", l), Says: "wind a thread shank of " + l.TextThinLeast(x.U), Cost: 1}}
		},
	},
	{
		Name: "backing-button", Severity: Caution,
		Task:    NoTask,
		At:      AtTable,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "on heavy cloth a small button behind takes the pull",
		Formula: "backing button = {half} of the button's ligne, in the nearest size that is sold, on cloth of {heavy} or more (coat cloth: {heavy coat}); as large as the button itself: caution",
		Why:     "The thread of a heavy button cuts through the cloth; a flat button behind spreads the pull.",
		Sources: []string{
			"repair guide for coats: an 18 ligne backing button for a 36 ligne coat button",
			"Sewing Handicraft for Girls: a small flat button under the cloth of coats and jackets",
		},
		Limits: []plan.Threshold{plan.BackingLimit, plan.HeavyLimit, plan.HeavyCoatLimit, plan.BackingOffLimit},
		Ours:   "{off} off the half is let pass without a word; on sale are the flat buttons of the catalogue and the usual lignes, which are common practice, no source",
		Check: func(x *Context) {
			s := &x.K.Sewing
			if x.C.Notion.Kind != catalog.Button || x.C.Notion.Shank.Has() {
				return
			}
			d := plan.AcrossOf(&x.C.Notion)
			half, sold := plan.BackingShare.Of(d), s.BackingSold
			if !x.C.Backing.Has() {
				if s.Suggested {
					l, each := Ligne(sold), "it"
					for i := range x.K.Sizes {
						if n, known := x.K.Fasteners(i); !known || n != 1 {
							each = "each"
						}
					}
					x.report(Note, x.notionWord(""), Numbers{}, "heavy cloth: a flat backing button of %s ligne, %s, behind %s takes the pull, about half the size of the button; backing = \"%sL\" puts it on the list", l, x.say(sold), each, l).Line("a flat backing button behind %s takes the pull", each)
				}
				return
			}
			b := x.C.Backing.V
			switch {
			case b >= d && sold == 0:
				have, need := x.Apart(b, d)
				x.report(Caution, x.at("backing"), atMost(b, half), "the backing button, %s, is as large as the button, %s: it shows and makes a lump, and none that is smaller is sold: leave it out", have, need).Line("the backing button, %s, is as large as the button: leave it out", have)
			case b >= d:
				have, need := x.Apart(b, d)
				x.report(Caution, x.at("backing"), atMost(b, half), "the backing button, %s, is as large as the button, %s: it shows and makes a lump; take one of %s ligne, %s", have, need, Ligne(sold), x.say(sold)).Line("the backing button, %s, is as large as the button: take %s ligne", have, Ligne(sold))
			case s.Backing == sold: // of the sizes on sale none is nearer to the half
			default:
				n := Numbers{}
				switch off := plan.BackingOff.Of(half); {
				case b < half-off:
					n = atLeast(b, half)
				case b > half+off:
					n = atMost(b, half)
				default:
					return
				}
				x.report(Note, x.at("backing"), n, "a backing button of %s ligne, %s, is meant; half of this button is %s ligne, %s", Ligne(b), x.say(b), Ligne(half), x.say(half)).Line("a backing button of %s ligne; half of this button is %s ligne", Ligne(b), Ligne(half))
			}
		},
		Touches: []string{"closure.*.backing"},
		Propose: func(x *Context, f *Finding) []Change {
			b := x.K.Sewing.BackingSold
			if b == 0 {
				return []Change{{With: x.takeOut("backing"), Says: "leave the backing button out", Cost: 1}}
			}
			return []Change{{With: set(x, "backing", Ligne(b)+"L"), Says: "take a backing button of " + Ligne(b) + " ligne", Cost: 1}}
		},
	},
	{
		Name: "button-swing", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the machine's needle must reach both holes of a pair",
		Figure:  "gap of the button's holes",
		Formula: "swing min ≤ hole_gap ≤ swing max; outside, or without a button setting: sew it by hand",
		Why:     "The needle comes down on the button itself, breaks, and pieces fly.",
		Sources: []string{"household machine manual, p. 89: swing for sewing buttons 3.5 mm, adjustable 2.5 to 4.5 mm"},
		Check: func(x *Context) {
			n, m := &x.C.Notion, &x.G.Machine
			if s := &x.K.Sewing; n.Kind != catalog.Button || n.Shank.Has() || s.ByHand && !s.OffSwing && x.C.SewnBy != "machine" {
				return
			}
			swings := m.Swing.Min.Has() || m.Swing.Max.Has()
			switch {
			case !swings && x.C.SewnBy == "machine":
				x.report(Caution, x.at("sewn_by"), Numbers{}, "this machine has no button setting (a swing): sew the buttons on by hand").Line("the machine has no button setting: sew the buttons on by hand")
			case swings && n.HoleGap.Has() && !plan.SwingReaches(m.Swing, n.HoleGap.V):
				nums := atLeast(n.HoleGap.V, m.Swing.Min.V)
				gap, _ := x.ThinApart(n.HoleGap.V, m.Swing.Min.V)
				if plan.FitOf(n.HoleGap.V, m.Swing.Min.V, m.Swing.Max.V) == plan.TooThick {
					nums = atMost(n.HoleGap.V, m.Swing.Max.V)
					gap, _ = x.ThinApart(n.HoleGap.V, m.Swing.Max.V)
				}
				x.report(Caution, x.notionPath("hole_gap", n.HoleGap.From), nums, "the holes lie %s apart%s, outside the machine's swing of %s: sew the buttons on by hand",
					gap, fromMemory(n, n.HoleGap), measure.TextThinSpan(m.Swing.Min.V, m.Swing.Max.V, x.U)).Line("its holes lie %s apart, off the machine's swing: sew it on by hand", gap)
			}
		},
		Touches: []string{"closure.*.sewn_by"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: set(x, "sewn_by", "hand"), Says: "sew the buttons on by hand", Cost: 1}}
		},
	},
	{
		Name: "button-thread", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsThread | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the thread that sews the button on must suit the cloth",
		Formula: "{threads}; the most is for the machine: by hand thicker thread goes",
		Limits:  []plan.Threshold{plan.ButtonThreadBands},
		Why:     "A heavy front hangs on a few stitches: fine thread breaks, thick thread will not go through the holes twice.",
		Sources: []string{lineBulletin + "; Tex 21–27 light, 40 medium, 60–80 heavy", "Text-Book on Domestic Art: by hand coarse cotton or linen"},
		Ours:    "the limits round the bulletin's single figures",
		Check: func(x *Context) {
			s, t := &x.K.Sewing, &x.K.Thread
			if !s.Sewn || s.ButtonTex == 0 {
				return
			}
			path := x.at("button_thread")
			if x.C.ButtonThread == "" {
				path = whole("thread." + s.ButtonName)
			}
			nums, says := noLess(s.ButtonTex, t.ButtonMin, "Tex"), "is too thin"
			switch {
			case s.ButtonTex < t.ButtonMin:
			case s.ButtonTex > t.ButtonMax && !s.ByHand: // by hand no needle of a machine has to take it
				nums.Need, nums.Margin, says = float64(t.ButtonMax), float64(t.ButtonMax-s.ButtonTex), "is too thick"
			default:
				return
			}
			x.report(Caution, path, nums, "%s %s for sewing buttons on %s; usual is %s to %s", s.ButtonTex, says, x.K.Needle.Cloth(), t.ButtonMin, t.ButtonMax).Line("%s %s for the buttons here; usual is %s to %s", s.ButtonTex, says, t.ButtonMin, t.ButtonMax)
		},
		Touches: []string{"thread.*"},
		Propose: func(x *Context, f *Finding) []Change {
			s, t := &x.K.Sewing, &x.K.Thread
			var out []Change
			for _, th := range x.G.Catalog.Threads {
				if th.Tex.Has() && th.Tex.V >= t.ButtonMin && th.Tex.V <= t.ButtonMax {
					cost := float64(th.Tex.V-s.ButtonTex) / 10
					out = append(out, Change{With: x.G.Replace("thread", s.ButtonName, th.Name), Says: "sew the buttons on with " + th.Name, Cost: max(cost, -cost)})
				}
			}
			return cheapest(out, 6)
		},
	},
	{
		Name: "button-stitches", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a button wants enough stitches for its cloth",
		Formula: "light: {few} for a shank or two holes, {usual} for four; medium and heavy {usual}; very heavy {many}",
		Limits:  []plan.Threshold{plan.FewStitchesLimit, plan.StitchesLimit, plan.ManyStitchesLimit},
		Why:     "Too few stitches and the button is lost; it is the first thing to go on a work coat.",
		Sources: []string{lineBulletin},
		Others:  "Army repair, TM 10-8400-201-23: 20 to 24; household machines: 8 to 10 for each pair of holes, so four holes take it twice",
		Check: func(x *Context) {
			g, s := x.C.ButtonStitches, &x.K.Sewing
			if x.C.Notion.Kind != catalog.Button || !g.Has() || g.V >= s.Stitches {
				return
			}
			x.report(Caution, x.at("button_stitches"), noLess(g.V, s.Stitches, "stitches"),
				"%d stitches are few for %s: %d are usual; sew each pair of holes over twice", g.V, x.K.Needle.Cloth(), s.Stitches).Line("%d stitches are few for %s: %d are usual", g.V, x.K.Needle.Cloth(), s.Stitches)
		},
		Touches: []string{"closure.*.button_stitches"},
		Propose: func(x *Context, f *Finding) []Change {
			n := x.K.Sewing.Stitches
			return []Change{{With: set(x, "button_stitches", n), Says: "sew " + strconv.Itoa(n) + " stitches", Cost: 1}}
		},
	},
	{
		Name: "fly-front", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "how a fly front hides its holes",
		Formula: "holes in the fly, along it; fly stitched {stitched} from the front edge; one tack between each two holes",
		Limits:  []plan.Threshold{plan.FlyLimit},
		Why:     "Holes cut through the front would show, and a fly that is not tacked gapes between the buttons.",
		Sources: []string{"Butterick's text on coats and jackets: fly facing stitched 1/4 in from the front edge, holes in the facing, tacked between the holes"},
		Check: func(x *Context) {
			s := &x.K.Sewing
			if s.FlyStitched == 0 {
				return
			}
			path := x.at("stand.construction")
			tacks := "tack it to the front midway between the holes"
			if s.FlyTacks > 0 {
				tacks = "tack it to the front midway between each two holes, " + text.Count(s.FlyTacks, "tack") + " on " + text.Count(s.FlyTacks+1, "hole")
			}
			x.report(Note, path, Numbers{}, "sew and open the holes in the fly alone, before it is joined, and list only its layers in over; stitch it %s from the front edge; %s", x.say(s.FlyStitched), tacks).Line("sew and open the holes in the fly before it is joined")
		},
	},
	{
		Name: "fly-hole", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the holes of a fly lie along it",
		Formula: "construction = \"fly\": direction = \"along\"; holes across it end short of the stitching, {stitched} from the edge (note), or reach it (caution)",
		Limits:  []plan.Threshold{plan.FlyLimit},
		Why:     "A hole across a fly runs into the stitching that holds it, {stitched} from the edge, where the fly is narrow.",
		Sources: []string{
			"common practice, no source: holes along the fly",
			"a page on bought coats and a textbook: covered, holes across a fly serve as well",
			"Butterick's text on coats and jackets: facing stitched 1/4 in from the front edge",
		},
		Check: func(x *Context) {
			s := &x.K.Sewing
			if s.FlyStitched == 0 {
				return
			}
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" || h.Direction != "across" {
				return
			}
			if st := &x.K.Stand; st.Known && st.Have-h.Beyond-(h.Stitched-h.Length)/2 > s.FlyStitched {
				x.report(Note, x.at("direction"), Numbers{}, "the holes of a fly usually lie along it; covered, holes across serve as well, and these end short of its stitching, %s from the edge", x.say(s.FlyStitched)).Line("holes of a fly usually lie along it; across serves as well")
			} else {
				x.report(Caution, x.at("direction"), Numbers{}, "holes across a fly run into its stitching, %s from the edge: set them along the fly", x.say(s.FlyStitched)).Line("holes across run into the fly's stitching, %s from the edge", x.say(s.FlyStitched))
			}
		},
		Touches: []string{"closure.*.direction"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: set(x, "direction", "along"), Says: "set the holes along the fly", Cost: 1}}
		},
	},
}

// Ligne is a diameter in whole or half ligne, without the unit.
func Ligne(d measure.Length) string {
	return text.Number(d.RoundNearest(measure.Ligne / 2).Lignes())
}

// fromMemory marks a figure of the stock that is from memory.
func fromMemory(n *catalog.Notion, m catalog.Measured) string {
	if m.From == catalog.Stock && n.Sure == "memory" {
		return " (from memory: measure it)"
	}
	return ""
}
