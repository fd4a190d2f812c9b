package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

func zipClass(number float64) int {
	for i, c := range plan.ZipClasses {
		if number <= c.Hi {
			return i
		}
	}
	return len(plan.ZipClasses) - 1
}

// eachZip looks at the zip of every size, with the context's size set.
func (x *Context) eachZip(do func(i int, s *plan.ZipSize)) {
	for i := range x.K.Zip.Sizes {
		s := &x.K.Zip.Sizes[i]
		if s.Need != 0 {
			x.Size = s.Size
			do(i, s)
		}
	}
	x.Size = ""
}

// zipLengthPath is the place of the length of zip given for a size.
func (x *Context) zipLengthPath(size string) string { return x.path(x.zipLengthKey(size)) }

// zipLengthKey is its key, below that of the closure.
func (x *Context) zipLengthKey(size string) string {
	if len(x.C.ZipLength) > 1 && size != "" {
		return "zip_length." + size
	}
	return "zip_length"
}

// Shorten says how a zip is shortened.
func (x *Context) Shorten(cut measure.Length) string {
	if cut < plan.ZipAsItIs {
		return "leave it as it is: it is only " + x.len(cut) + " longer"
	}
	if x.K.Zip.End == "top" {
		return "take " + x.len(cut) + " off at the top with new stops there, never at the pin and box"
	}
	return "shorten it by " + x.len(cut) + " at the bottom with a new stop"
}

// shortenAt is Shorten in a few words.
func (x *Context) shortenAt(cut measure.Length) string {
	if cut < plan.ZipAsItIs {
		return ": leave it"
	}
	return ": shorten it at the " + x.K.Zip.End
}

// zipsLine says which zips to buy, one length for each size, and which of
// them are longer than their openings.
func (x *Context) zipsLine() string {
	z, listed := &x.K.Zip, len(x.C.Notion.Lengths) != 0
	var lengths []measure.Length
	var cut []string
	sizes, whole := map[measure.Length][]string{}, 0
	for i := range z.Sizes {
		s := &z.Sizes[i]
		if s.Need == 0 || s.Given || listed && s.Length == 0 {
			continue
		}
		l := s.Length
		if !listed {
			l = s.Need
		}
		if sizes[l] == nil {
			lengths = append(lengths, l)
		}
		sizes[l] = append(sizes[l], s.Size)
		if s.CutOff >= plan.ZipAsItIs {
			cut = append(cut, s.Size)
		} else {
			whole++
		}
	}
	words := make([]string, len(lengths))
	for i, l := range lengths {
		if words[i] = x.len(l); len(lengths) > 1 {
			words[i] += " for " + text.And(sizes[l]...)
		}
	}
	head, tail := "buy a zip of ", ""
	switch {
	case !listed:
		head, tail = "ask for a zip of ", ", or shorten one at the "+z.End
	case whole == 0:
		tail = "; shorten at the " + z.End
	case len(cut) > 0:
		tail = "; shorten " + strings.Join(cut, ", ") + " at the " + z.End
	}
	for _, line := range [...]string{
		head + strings.Join(words, ", ") + tail,
		head + strings.Join(words, ", "),
		head + measure.TextSpan(slices.Min(lengths), slices.Max(lengths), x.U) + " by size" + tail,
		head + measure.TextSpan(slices.Min(lengths), slices.Max(lengths), x.U) + " by size",
	} {
		if line = OneUnit(line); text.Width(line) <= LineWidth {
			return line
		}
	}
	return head + "a length for each size"
}

var zipRules = []*Rule{
	{
		Name: "zip-top", Severity: Caution,
		Task:    TaskZip,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the top of a zip lies a little below the neck edge",
		Formula: "front: run.first, the top stop below the neck edge, ≥ {least}; {top} where it is not given",
		Limits:  []plan.Threshold{plan.ZipTopLeastLimit, plan.ZipTopLimit},
		Why:     "The seam that finishes the neck, and the foot that sews it, need room above the stop; a slider that stands above the edge catches the chin.",
		Sources: []string{
			"a costume maker's page, 2015: top of the chain about 1/2 in below the neck edge; at a collar edge, concealed, about 1/4 in",
			"Japanese dressmaking page quoting a textbook: 0.7 cm for a concealed zip, a hook above it",
		},
		Ours: "{least} as the least; no source speaks of the lower end",
		Check: func(x *Context) {
			if z := &x.K.Zip; !z.Needed || z.Where != "front" || !x.C.Run.First.Has() {
				return
			}
			x.eachZip(func(i int, s *plan.ZipSize) {
				if s.Top < plan.ZipTopLeast {
					if s.Top == 0 {
						at, need := x.sizePath("first", x.C.Run.First, s.Size), x.Least(plan.ZipTopLeast)
						x.report(Caution, at, atLeast(s.Top, plan.ZipTopLeast), "the top stop lies on the neck edge: the neck seam and its foot need %s or more below it", need.For(at)).Line("the top stop lies on the neck edge; the seam needs %s", need)
						return
					}
					have, need := x.Short(s.Top, plan.ZipTopLeast)
					at := x.sizePath("first", x.C.Run.First, s.Size)
					x.report(Caution, at, atLeast(s.Top, plan.ZipTopLeast), "the top stop lies %s below the neck edge: the neck seam and its foot need %s or more", have, need.For(at)).Line("the top stop lies %s below the neck edge; the seam needs %s", have, need)
				}
			})
		},
		Touches: []string{"closure.*.run.first"},
		Propose: func(x *Context, f *Finding) []Change {
			l := plan.UsualZipTop(x.U)
			return []Change{{With: x.setLength("run.first", l), Says: "begin the zip " + x.len(l) + " below the neck edge", Cost: 1}}
		},
	},
	{
		Name: "zip-chin", Severity: Note,
		Task:    TaskZip,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a guard over the top of a child's zip",
		Formula: "front zip of a garment for a child or an infant: soft cloth between the closed slider and the chin",
		Why:     "Whoever pulls the zip up does not feel where the chin is: skin is caught between slider and teeth.",
		Sources: []string{"common practice, no source: a fold of soft cloth at the top of the tape, or the facing drawn over it; EN 14682 is about cords and says nothing of it"},
		Check: func(x *Context) {
			if z := &x.K.Zip; !z.Needed || z.Where != "front" || x.G.Wearer != "child" && x.G.Wearer != "infant" {
				return
			}
			x.report(Note, x.at(""), Numbers{}, "sew a chin guard, a fold of soft cloth that covers the closed slider, into the top of the zip: a child's skin is caught between slider and teeth").Line("sew a chin guard, a fold of soft cloth, into the top of the zip")
		},
	},
	{
		Name: "zip-length", Severity: Conflict,
		Lenient: []string{"short"},
		Rests:   []string{"closure.*.notion.kind", "closure.*.notion.lengths", "closure.*.run", "closure.*.zip_length"},
		Task:    TaskBuy,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the zip must be as long as its finished opening",
		Figure:  "zip",
		Formula: "need = run.length, the finished opening, less run.first and run.last if given; zip_length ≥ need: short by more than {short} conflict, by less caution; without zip_length, some length on sale ≥ need",
		Why:     "A zip cannot be let out. A longer one is shortened: one that comes apart at the top only, since the pin and box cannot be moved; a closed one at the bottom.",
		Sources: []string{
			"from memory: chain as long as the finished opening, shortened from the top, never at the box and pin",
			"ASTM D3657-03: teeth come in whole pitches, and a stated length is nominal, within limits that widen on the minus side with length",
			"trade article on zips: a closed zip is measured from the slider's top to the bottom stop, an open one to the bottom of the box",
		},
		Limits: []plan.Threshold{plan.ZipShortLimit},
		Ours:   "{short} as what cloth can be eased in: less is in the zip's favour",
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed {
				return
			}
			x.eachZip(func(i int, s *plan.ZipSize) {
				switch {
				case !s.Given && s.Length == 0:
					have, need := x.Short(s.Longest, s.Need)
					x.report(Conflict, x.sizePath("length", x.C.Run.Length, s.Size), atLeast(s.Longest, s.Need).on(x.soldBasis(), plan.ZipNeedBasis(x.C, i)), "take another zip, or have one of %s made: the longest that %s is sold in is %s", need, x.C.Notion.Name, have).Line("the opening takes %s, but the longest zip sold is %s", need, have)
				case s.Given && s.Length < s.Need-plan.ZipShort:
					have, need := x.Short(s.Length, s.Need)
					x.report(Conflict, whole(x.zipLengthPath(s.Size)), atLeast(s.Length, s.Need).on(plan.BasisOf(x.C.ZipLength.At(i), x.key(x.zipLengthKey(s.Size))), plan.ZipNeedBasis(x.C, i)), "%sa zip of %s is too short for an opening of %s", x.sold(s), have, need.For(whole(x.zipLengthPath(s.Size)))).Line("a zip of %s is too short for an opening of %s", have, need)
				case s.Given && s.Length < s.Need:
					have, need := x.Short(s.Length, s.Need)
					x.report(Caution, whole(x.zipLengthPath(s.Size)), atLeast(s.Length, s.Need), "%sa zip of %s is a little short for an opening of %s, and may be shorter than marked: else ease the cloth in", x.sold(s), have, need.For(whole(x.zipLengthPath(s.Size)))).Line("a zip of %s is a little short for %s: ease the cloth in", have, need)
				}
			})
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.zip_length"}),
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			for i := range x.K.Zip.Sizes {
				s := &x.K.Zip.Sizes[i]
				if s.Size != f.Size {
					continue
				}
				if s.Given {
					fit, _ := plan.NearestZip(x.C.Notion.Lengths, s.Need)
					if fit == 0 && len(x.C.Notion.Lengths) == 0 {
						fit = s.Need.RoundUp(in / 2)
					}
					if fit != 0 {
						out = append(out, Change{With: x.setSold(x.zipLengthKey(s.Size), fit), Says: "buy the zip of " + fit.TextPlace(x.U.Or(x.unitFor(fit))), Cost: (fit - s.Length).MM() / 10})
					} else {
						out = append(out, x.zipsOf(s, s.Need)...)
					}
					continue
				}
				out = append(out, x.otherZips(func(n *catalog.Notion) bool {
					fit, _ := plan.NearestZip(n.Lengths, s.Need)
					return fit != 0
				})...)
			}
			return out
		},
	},
	{
		Name: "zip-sold", Severity: Caution,
		Task:    TaskBuy,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the zip must be sold in that length",
		Formula: "zip_length among the lengths the catalogue lists",
		Why:     "A length that is not sold means waiting for a special order or shortening a longer one.",
		Sources: []string{"the lengths of the catalogue entry"},
		Check: func(x *Context) {
			if !x.K.Zip.Needed || !x.C.ZipLength.Has() {
				return
			}
			for i := range x.K.Zip.Sizes {
				s := &x.K.Zip.Sizes[i]
				if s.Listed {
					continue
				}
				x.Size = s.Size
				if s.Buy != 0 {
					x.report(Caution, whole(x.zipLengthPath(s.Size)), Numbers{}, "%s is not sold in %s: buy %s, and %s", x.C.Notion.Name, x.say(s.Length), x.say(s.Buy), x.Shorten(max(s.Buy-s.Need, 0))).Line("the zip is not sold in %s: buy %s", x.say(s.Length), x.say(s.Buy))
				} else {
					n := Numbers{}
					if s.Length > s.Longest {
						n = atMost(s.Length, s.Longest)
					}
					x.report(Caution, whole(x.zipLengthPath(s.Size)), n, "%s is not sold in %s: the longest is %s", x.C.Notion.Name, x.say(s.Length), x.say(s.Longest)).Line("the zip is not sold in %s: the longest is %s", x.say(s.Length), x.say(s.Longest))
				}
				if len(x.C.ZipLength) == 1 {
					break
				}
			}
			x.Size = ""
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.zip_length"}),
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			for i := range x.K.Zip.Sizes {
				s := &x.K.Zip.Sizes[i]
				if s.Size != f.Size {
					continue
				}
				want := max(s.Length, s.Need)
				if fit, _ := plan.NearestZip(x.C.Notion.Lengths, want); fit != 0 {
					out = append(out, Change{With: x.setSold(x.zipLengthKey(s.Size), fit), Says: "buy the zip of " + fit.TextPlace(x.U.Or(x.unitFor(fit))), Cost: 1})
					continue
				}
				out = append(out, x.zipsOf(s, want)...)
			}
			return out
		},
	},
	{
		Name: "zip-shorten", Severity: Note,
		Task:    TaskBuy,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "which length to buy, and where to shorten it",
		Formula: "the shortest length on sale that is at least the opening; separating and two-way: shorten at the top, never at the pin and box; closed: at the bottom",
		Why:     "Cut the pin end and the zip will never start again.",
		Sources: []string{
			"from memory: shortened from the top, never at the box and pin",
			"ASTM D3657-03: a stated length is nominal and may run short",
		},
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed {
				return
			}
			x.eachZip(func(i int, s *plan.ZipSize) {
				path := whole(x.zipLengthPath(s.Size))
				if !s.Given {
					path = x.sizePath("length", x.C.Run.Length, s.Size)
				}
				switch {
				case s.Given && (s.CutOff == 0 || !s.Listed) || s.Length == 0: // zip-sold says it of one that is not sold
				case s.Given:
					x.report(Note, path, atMost(s.Length, s.Need), "the zip, %s, is longer than its opening, %s: %s", x.say(s.Length), x.say(s.Need), x.Shorten(s.CutOff)).Line("a zip of %s for an opening of %s%s", x.say(s.Length), x.say(s.Need), x.shortenAt(s.CutOff))
				case len(x.C.Notion.Lengths) == 0:
					x.report(Note, path, Numbers{}, "the opening takes a zip of %s: no lengths are listed, so ask what it is sold in; a longer one: shorten it at the %s", x.say(s.Need), z.End).Line("%s", x.later((*Context).zipsLine))
				case s.CutOff == 0:
					x.report(Note, path, Numbers{}, "buy the zip of %s: it is as long as the opening; measure it first, a zip may be shorter than marked", x.say(s.Length)).Line("%s", x.later((*Context).zipsLine))
				default:
					x.report(Note, path, Numbers{}, "the opening takes a zip of %s: buy %s, and %s", x.say(s.Need), x.say(s.Length), x.Shorten(s.CutOff)).Line("%s", x.later((*Context).zipsLine))
				}
			})
		},
	},
	{
		Name: "zip-opening", Severity: Caution,
		Task:    TaskZip,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "an opening that must come apart needs a separating zip",
		Formula: "front, by where or by a run over {run}: separating or two-way; pocket, cuff, fly: closed; a shorter run without where: asked for",
		Limits:  []plan.Threshold{plan.ShortRunLimit},
		Why:     "A coat whose zip is closed at the bottom must be put on over the head; a pocket's zip that comes apart loses its slider.",
		Sources: []string{"NAVEDTRA 14218, chapter 10: separating zips for openings that must spread wide, such as jackets and legs, non-separating for small openings"},
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Zip || n.Opening == "" {
				return
			}
			z := &x.K.Zip
			switch {
			case z.Where == "front" && !z.Open:
				says := ""
				if x.C.Where == "" {
					says = ", and a run as long as this counts as a front"
				}
				x.report(Caution, x.notionWord("opening"), Numbers{}, "this zip is closed at the bottom: a front that opens all the way needs a separating one (a coverall or an anorak does not)%s", says).Line("a front that opens all the way needs a zip that comes apart")
			case plan.SmallZip(z.Where) && z.Open:
				x.report(Note, x.notionWord("opening"), Numbers{}, "a %s is a small opening: a closed zip is enough, and cannot come apart", z.Where).Line("a closed zip is enough for a %s and cannot come apart", z.Where)
			case !z.WhereSaid && x.C.Run.Length.Has():
				x.report(Note, x.at("run.length"), Numbers{}, "say where this zip is (where = \"pocket\", \"cuff\", \"front\" …): a short opening may be either, and a front needs one that comes apart").Line("say where this zip is: where = \"pocket\", \"cuff\" or \"front\"")
			}
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.where"}),
		Propose: func(x *Context, f *Finding) []Change {
			return x.zipsLike(func(n *catalog.Notion) bool { return (n.Opening == "closed") == x.K.Zip.Open })
		},
	},
	{
		Name: "zip-number", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a zip's number and the width of its teeth must go together",
		Formula: "number ≤ closed chain in mm ≤ number + {over}; numbers are whole, 1 to {made}",
		Limits:  []plan.Threshold{plan.ChainOverLimit, plan.ZipMadeLimit},
		Why:     "The number is not the width: a 3 measures up to {over} more by make. A mismatch is a slip of the pen or another make's slider.",
		Sources: []string{
			"trade article on zips: a 3 measures 4 mm (coil, metal) or 4.5 mm (moulded); numbers made 3, 4, 5, 7, 8, 10",
			"another trade page: number = closed width in mm, 3 to 10",
			"a chain maker's page: coil from 2 to 25",
		},
		Others: "NAVEDTRA 14218 numbers zips 0 (light) to 4 (heavy): another scale altogether",
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Zip || !n.Number.Has() {
				return
			}
			if !plan.ZipNumberMade(n.Number.V) {
				x.report(Caution, x.notionPath("number", n.Number.From), Numbers{}, "there is no zip number %g: 3, 4, 5, 7, 8 and 10 are usual", n.Number.V).Line("there is no zip number %g: 3, 4, 5, 7, 8 and 10 are usual", n.Number.V)
				return
			}
			if !n.Chain.Has() || n.File == "" && n.Number.From == catalog.Stock && n.Chain.From == catalog.Stock {
				return // of one entry of the built-in catalogue
			}
			c := n.Chain.V
			path := x.notionPath("chain", n.Chain.From)
			switch lo := measure.FromMM(n.Number.V); {
			case c == lo && n.Chain.From == catalog.Given:
				x.report(Note, path, Numbers{}, "the teeth measure %s, just the number: other makes of number %g measure up to %s; take slider and stops from the same make", x.say(c), n.Number.V, x.say(lo+plan.ChainOver)).Line("teeth of %s: take slider and stops of the same make", x.say(c))
			case c < lo-n.Chain.Tol:
				x.report(Caution, path, atLeast(c, lo), "the teeth measure %s, less than number %g has, %s: measure again, closed, at the widest", x.say(c), n.Number.V, measure.TextSpan(lo, lo+plan.ChainOver, x.U)).Line("the teeth measure %s, less than a number %g: measure again", x.say(c), n.Number.V)
			case c > lo+plan.ChainOver+n.Chain.Tol:
				x.report(Caution, path, atMost(c, lo+plan.ChainOver), "the teeth measure %s, more than number %g has, %s: measure again, closed, at the widest", x.say(c), n.Number.V, measure.TextSpan(lo, lo+plan.ChainOver, x.U)).Line("the teeth measure %s, more than a number %g: measure again", x.say(c), n.Number.V)
			}
		},
	},
	{
		Name: "zip-group", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "at a limit the size groups in mm and in inches disagree",
		Formula: "slider mouth: {groups}",
		Limits:  []plan.Threshold{plan.ZipGroupBands},
		Why:     "The limits in mm and in inches are not equal. State which system you used when you order sliders.",
		Sources: []string{"ASTM D3657-03, table 1"},
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed || !x.C.Notion.Slider.Has() || z.Group == z.GroupInch {
				return
			}
			own, other := fmt.Sprintf("%.2f mm", x.C.Notion.Slider.V.MM()), fmt.Sprintf("%.4f in", x.C.Notion.Slider.V.In())
			mouth := own + " (" + other + ")"
			switch {
			case x.U.IsAlone() && x.U.Is(measure.In):
				own, mouth = other, other
			case x.U.IsAlone():
				mouth = own
			}
			x.report(Note, x.notionPath("slider", x.C.Notion.Slider.From), Numbers{}, "a slider mouth of %s is size %s by the limits in mm, but %s by those in inches: say which when you order", mouth, z.Group, z.GroupInch).Line("a slider mouth of %s: say size %s by mm or %s by inches", own, z.Group, z.GroupInch)
		},
	},
	{
		Name: "zip-use", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the zip must suit the cloth",
		Formula: "{numbers}; on light cloth a front may take a {front}; a pocket, cuff or fly may take one class less. One class off: note; more: caution",
		Limits:  []plan.Threshold{plan.ZipNumberBands, plan.ZipFrontLimit},
		Why:     "A light zip bursts on a heavy coat; a heavy one drags a light front into waves.",
		Sources: []string{
			"pattern maker's guide to zips: 2–3 dresses and trousers, 4–5 denim and bags, 8 leather, jackets, coats, 10 outdoor gear",
			"a zip maker: 3 and 5 light clothing, 10 heavy jackets and bags",
			"police directive for a leather jacket: no. 7",
			"cloth weights by number: " + memory,
		},
		Ours: "one class off as a note, more as a caution",
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed || z.Number == 0 {
				return
			}
			gsm, leather := plan.HeaviestGSM(x.K)
			if gsm == 0 && !leather {
				return // no cloth to suit
			}
			off, says := 0, "light"
			nums := Numbers{Have: z.Number, Need: z.NumberMin, Margin: z.Number - z.NumberMin, Unit: "no.", Compared: true}
			switch {
			case z.Number < z.NumberMin:
				off = zipClass(z.NumberMin) - zipClass(z.Number)
			case z.Number > z.NumberMax:
				off, says = zipClass(z.Number)-zipClass(z.NumberMax), "heavy"
				nums.Need, nums.Margin = z.NumberMax, z.NumberMax-z.Number
			default:
				return
			}
			sev := Note
			if off > 1 {
				sev = Caution
			}
			what := "cloth of " + measure.AreaWeight(gsm).Text(x.U)
			if leather {
				what = "leather"
			}
			hi := min(z.NumberMax, plan.ZipNumberSold)
			x.report(sev, x.notionPath("number", x.C.Notion.Number.From), nums, "number %g is %s for %s: %g to %g are usual here", z.Number, says, what, z.NumberMin, hi).Line("number %g is %s for %s: %g to %g are usual", z.Number, says, what, z.NumberMin, hi)
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			z := &x.K.Zip
			return x.zipsLike(func(n *catalog.Notion) bool {
				return n.Opening == x.C.Notion.Opening && n.Number.Has() && n.Number.V >= z.NumberMin && n.Number.V <= z.NumberMax
			})
		},
	},
	{
		Name: "zip-fly", Severity: Conflict,
		Rests: []string{"closure.*.flap", "closure.*.lap", "closure.*.notion.chain", "closure.*.notion.kind", "closure.*.notion.number", "closure.*.stand"},
		Task:  TaskZip,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			if z := &x.K.Zip; z.Needed {
				if cover, by := x.P.Cover(x.C.Index); by != -1 {
					return atLeast(cover, z.Half)
				}
			}
			return Numbers{}
		},
		Title:   "a flap over a zip must cover its teeth and its stitching",
		Figure:  "flap past the middle of the zip",
		Formula: "a fly, a flap of its own, or the lap of another closure of the opening: middle of the teeth to its edge ≥ half the chain (conflict below: teeth show), + {past teeth}, and ≥ one tape + {past tape} (caution below); a tape is counted from its outer edge to the middle of the teeth",
		Why:     "A flap too narrow lets wind and teeth through; one that ends on the tape has its stitching catch in the zip.",
		Sources: []string{
			"geometry of chain and tape",
			"police directive for a leather jacket: storm flap 2 1/2 in from the zip's tape to its outer edge",
		},
		Others: memory + ": a flap covers the chain by 20 mm or more on each side",
		Limits: []plan.Threshold{plan.FlyPastLimit, plan.FlyTapeLimit},
		Ours:   "{past teeth} and {past tape}",
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed {
				return
			}
			cover, by := x.P.Cover(x.C.Index)
			if by == -1 {
				return
			}
			at := whole(x.P.Closures[by].Stand.From)
			if x.G.Closures[by].Flap.Has() {
				at = place{by, "flap.width"}
			}
			b := *x
			b.C, b.K = &x.G.Closures[by], &x.P.Closures[by]
			guess, flap := b.guessFolds(), b.flap()
			switch {
			case cover < z.Half:
				have, need := x.Short(cover, z.Half)
				basis := plan.StandBasis(&x.G.Closures[by], &x.P.Closures[by])
				if f := &x.G.Closures[by].Flap; f.Has() { // wherever its fasteners stand
					basis = plan.BasisOf(f.Width, catalog.Key("closure", x.G.Closures[by].Name, "flap", "width"))
				}
				x.report(Conflict, at, atLeast(cover, z.Half).on(plan.ChainBasis(x.C), basis), "the %s reaches %s past the middle of the zip%s, but its teeth reach %s and show: to clear the tape too, %s", flap, have, guess, need, x.covers(by, z.FlyUsual.RoundUp(plan.HoleStep(x.U)))).Line("the %s reaches %s past the zip; its teeth reach %s and show", flap, have, need)
			case cover < z.FlyLeast:
				have, need := x.Short(cover, z.FlyLeast)
				x.report(Caution, at, atLeast(cover, z.FlyLeast), "the %s reaches %s past the middle of the zip%s, and hides the teeth only just; %s covers them: to clear the tape too, %s", flap, have, guess, need, x.covers(by, z.FlyUsual.RoundUp(plan.HoleStep(x.U)))).Line("the %s reaches only %s past the zip's middle; %s hides it", flap, have, need)
			case cover < z.FlyUsual:
				have, need := x.Short(cover, z.FlyUsual)
				x.report(Caution, at, atLeast(cover, z.FlyUsual), "the %s reaches %s past the middle of the zip%s: it hides the teeth but ends on the tape; %s clears it: %s", flap, have, guess, need, x.covers(by, z.FlyUsual)).Line("the %s ends on the zip's tape, at %s; %s clears it", flap, have, need)
			}
		},
		Touches: []string{"closure.*.flap.width", "closure.*.stand.finished", "closure.*.stand.band", "closure.*.stand.extension"},
		Propose: func(x *Context, f *Finding) []Change {
			w := x.K.Zip.FlyUsual.RoundUp(plan.HoleStep(x.U))
			_, by := x.P.Cover(x.C.Index)
			y := *x // the closure that covers it
			y.C, y.K = &x.G.Closures[by], &x.P.Closures[by]
			switch {
			case y.C.Flap.Has():
				return []Change{{With: y.setLength("flap.width", w), Says: "make the " + y.flap() + " " + x.up(w) + " from the middle of the zip", Cost: 2}}
			case y.standKey() == "stand.finished":
				return []Change{{With: y.setLength("stand.finished", w), Says: "make the " + y.flap() + " " + x.up(w) + " from the middle of the zip", Cost: 2}}
			case y.standKey() == "stand.band":
				b := y.standAt("stand.band", w-y.K.Stand.Column).Least(x.U)
				return []Change{{With: y.setLength("stand.band", b), Says: "make the band of the " + y.flap() + " " + x.up(b) + " wide", Cost: 2}}
			case y.standKey() == "stand.extension":
				e := y.standAt("stand.extension", w-y.K.Stand.Column).Least(x.U)
				return []Change{{With: y.setLength("stand.extension", e), Says: "draft the " + y.flap() + " " + x.up(e) + " beyond the middle of the zip", Cost: 2}}
			}
			return nil
		},
	},
	{
		Name: "zip-tape", Severity: Note,
		Task:    TaskZip,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "where the zip's tape lies on the seam allowance",
		Formula: "stitching at least {stitching} from the teeth; the folded edge {fold} from them, so that the slider cannot rub it; tape's edge inside the cut edge by seam − tape + half the chain + {fold}",
		Limits:  []plan.Threshold{plan.ZipStitchLimit, plan.ZipFoldLimit, plan.SeamLimit},
		Why:     "Most tapes are narrower than a seam allowance of {seam}: laid edge to edge, the stitching runs onto the teeth.",
		Sources: []string{
			"tape widths of the catalogue; a tape's width is stated for one side (trade forum)",
			"US Army TM 10-8400-203-23: zips re-set with a lockstitch, 6 to 8 stitches an inch; p. 79: stitching at least 1/4 in from the inner edge of the chain",
			"NAVEDTRA 14218: enough between chain and fold that the slider cannot rub it, no figure",
			"Threads, 2008, on leather: about 8 stitches an inch, no second row over the first",
		},
		Ours: "{fold} from the fold to the teeth",
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed || z.Tape == 0 || !x.C.Stand.Seam.Has() || z.TapeIn <= 0 {
				return
			}
			pitch := Pitch(6, 8, x.U)
			if x.K.HolesStay() {
				pitch = "about " + Pitch(8, 8, x.U) + ", once: the holes stay"
			}
			cut := "the cut edge"
			if _, by := x.P.Cover(x.C.Index); by != -1 && !x.G.Closures[by].Flap.Has() {
				cut += " of the front that lies under" // the other one goes on past the teeth
			}
			x.report(Note, x.at("stand.seam"), Numbers{}, "the tape is %s wide, the seam allowance %s: lay the tape's edge %s inside %s, so that the fold lies %s from the teeth, and stitch %s from them, %s",
				x.say(z.Tape), x.say(x.C.Stand.Seam.V), x.say(z.TapeIn), cut, x.say(z.Fold-z.Half), x.say(z.Stitched), pitch).Line("lay the tape %s inside the cut edge; stitch %s from the teeth", x.say(z.TapeIn), x.say(z.Stitched))
		},
	},
}

// flap is what lies over a zip in words: a fly, or the lap of the closure.
func (x *Context) flap() string {
	if x.K.Stand.Construction == "fly" && !x.C.Flap.Has() {
		return "fly"
	}
	return "flap"
}

// covers says what to write for closure by to reach so far past the middle of
// the zip.
func (x *Context) covers(by int, reach measure.Length) together {
	y := *x
	y.C, y.K = &x.G.Closures[by], &x.P.Closures[by]
	want := reach - y.K.Stand.Column // from the line of the holes
	if y.C.Flap.Has() {
		want = reach - y.C.Flap.Inset.V
	}
	return y.widen(want)
}

// zipsOf offers other zips that are sold as long as wanted, with that length.
func (x *Context) zipsOf(s *plan.ZipSize, want measure.Length) []Change {
	var out []Change
	for _, ch := range x.otherZips(func(n *catalog.Notion) bool { fit, _ := plan.NearestZip(n.Lengths, want); return fit != 0 }) {
		fit, _ := plan.NearestZip(x.G.Catalog.Notion(ch.use()).Lengths, want)
		ch.With = append(ch.With, x.setSold(x.zipLengthKey(s.Size), fit)...)
		ch.Says += " of " + fit.TextPlace(x.U.Or(x.unitFor(fit)))
		out = append(out, ch)
	}
	return out
}

// sold says first which length to buy.
func (x *Context) sold(s *plan.ZipSize) string {
	fit, longest := plan.NearestZip(x.C.Notion.Lengths, s.Need)
	switch {
	case fit != 0:
		return "buy the one of " + fit.TextPlace(x.U.Or(x.unitFor(fit))) + ": "
	case longest != 0:
		return "take another zip, the longest of this on sale is " + longest.TextPlace(x.unitFor(longest)) + ": "
	}
	return "buy one of " + x.Least(s.Need).String() + ": "
}

// soldBasis is what the lengths that a zip is sold in rest on.
func (x *Context) soldBasis() plan.Basis {
	return plan.Basis{Ground: plan.ListGround(&x.C.Notion.Entry, "lengths"), Key: x.key("notion.lengths")}
}

// otherZips are the other zips of the catalogue that ok says yes to, nearest
// in number first. A front is offered only zips that come apart.
func (x *Context) otherZips(ok func(*catalog.Notion) bool) []Change {
	closed := x.C.Notion.Opening == "closed" && !plan.MustPart(x.G, x.C)
	return x.zipsLike(func(n *catalog.Notion) bool { return (n.Opening == "closed") == closed && ok(n) })
}

func (x *Context) zipsLike(ok func(*catalog.Notion) bool) []Change {
	if x.C.Use == "" {
		return nil
	}
	now := &x.C.Notion
	var out []Change
	for _, n := range x.G.Catalog.Notions {
		if n.Kind != catalog.Zip || n.Name == now.Name || !ok(n) {
			continue
		}
		cost := 2 * math.Abs(n.Number.V-now.Number.V)
		if n.ZipKind != now.ZipKind {
			cost += 3
		}
		if n.Opening != now.Opening {
			cost += 2
		}
		out = append(out, Change{With: x.use(n.Name), Says: "use " + n.Name, Cost: cost})
	}
	return cheapest(out, 6)
}

// Pitch is how many stitches an inch has, as the trade counts them; in
// millimetres alone how long they are.
func Pitch(least, most int, u measure.Unit) string {
	if u.IsAlone() && u.Is(measure.MM) {
		long, short := measure.Inch/measure.Length(least), measure.Inch/measure.Length(most)
		if least == most {
			return "stitches of " + long.ShortThin(u)
		}
		return "stitches of " + measure.TextThinSpan(short, long, u)
	}
	if least == most {
		return fmt.Sprintf("%d stitches an inch", least)
	}
	return fmt.Sprintf("%d to %d stitches an inch", least, most)
}
