package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// Nothing here says that a garment complies with anything: the findings name
// the rule that binds, or that is only borrowed, and leave the rest to the
// law where the garment is sold and to an accredited laboratory.

// lawFirst ends what a person can settle: what to change stands before it.
// labFirst ends what a force, lead or nickel decides.
const (
	lawFirst = "the law where it is sold decides"
	labFirst = "before you sell it or give it away, ask an accredited laboratory; " + lawFirst
)

// Gauge says whether a part fits the small-parts cylinder.
type Gauge int8

// The answers. GaugeTry: it is too close to say; gauge the real part.
const (
	GaugeNo Gauge = iota
	GaugeTry
	GaugeFits
)

// GaugeDisc says whether a disc d across and t high fits the cylinder.
func GaugeDisc(d, t measure.Length) Gauge {
	switch {
	case d > plan.GaugeBore:
		return GaugeNo
	case d == plan.GaugeBore || t > plan.GaugeShallow:
		return GaugeTry
	}
	return GaugeFits
}

// GaugeRod says whether a rod of that length, d thick, fits the cylinder: for
// sure where both together are at most its depth, never where it is longer
// than the cylinder's diagonal.
func GaugeRod(length, d measure.Length) Gauge {
	switch {
	case d > plan.GaugeBore || length > plan.RodMost:
		return GaugeNo
	case length+d <= plan.GaugeDeep:
		return GaugeFits
	}
	return GaugeTry
}

// gaugeOf says whether a fastener fits the cylinder when it comes off whole.
func gaugeOf(n *catalog.Notion) Gauge {
	switch n.Kind {
	case catalog.Zip:
		return GaugeNo
	case catalog.Toggle, catalog.Hook, catalog.Frog:
		if n.Kind == catalog.Frog {
			return GaugeDisc(n.Knot.V, n.Knot.V)
		}
		return GaugeRod(max(n.Length.V, n.Width.V), max(min(n.Length.V, n.Width.V), n.Thickness.V, n.Diameter.V))
	}
	return GaugeDisc(max(plan.AcrossOf(n), n.Head.V), n.Thickness.V+n.Shank.V)
}

// UseAbuseSpan are the sections of 16 CFR part 1500 whose use-and-abuse tests are
// for a label from so many months to so many, none over 96; of several, the most
// stringent applies. The tests are for toys and other articles: garment
// laboratories borrow their figures.
func UseAbuseSpan(from, to int) []string {
	var out []string
	above := -1
	for _, s := range [...]struct {
		to   int
		says string
	}{
		{plan.AbuseFirst, "16 CFR 1500.51"}, {plan.AbuseSecond, "16 CFR 1500.52"}, {plan.AbuseThird, "16 CFR 1500.53"},
	} {
		if from <= s.to && to > above {
			out = append(out, s.says)
		}
		above = s.to
	}
	return out
}

// ToyPull is the pull of EN 71-1 for a part whose largest accessible dimension
// is that: 50 N to 6 mm, 90 N above. It binds toys, dress-up clothes among
// them; garments borrow it.
func ToyPull(largest measure.Length) measure.Force {
	if largest <= plan.SmallPart {
		return plan.ToyPullSmall
	}
	return plan.ToyPullLarge
}

// PartPull is the pull of CEN/TS 17394-1:2021 for a button on clothing to 36
// months: 50 N under 6 mm, 70 N from there, as a test house tells it. It binds
// no more than the standard does, but it is about garments; ok is false for
// older children, of whom it says nothing here.
func PartPull(across measure.Length, months int) (f measure.Force, ok bool) {
	switch {
	case months > plan.ClothingMonths:
		return 0, false
	case across < plan.SmallPart:
		return plan.PartPullSmall, true
	}
	return plan.PartPullLarge, true
}

// usPull is the borrowed pull of 16 CFR 1500.51 to .53, from memory but for
// the first.
func usPull(months int) measure.Force {
	if months <= plan.AbuseFirst {
		return plan.PullFirst
	}
	return plan.PullLater
}

// NickelOver says whether a nickel release, µg/cm² a week, is over entry 27 of
// annex XVII of REACH: 0.5 for parts that touch the skin directly and long,
// 0.2 for posts in pierced parts of the body.
func NickelOver(release float64, pierced bool) bool {
	if pierced {
		return release >= plan.NickelPost
	}
	return release > plan.NickelSkin
}

// LeadLimit is the limit, parts per million, for a child's product: 100 in an
// accessible material, 90 in paint. Electroplate is not paint.
func LeadLimit(coating string) float64 {
	if coating == "painted" {
		return plan.LeadPaint
	}
	return plan.LeadMost
}

// MagnetHazard says whether a loose magnet that fits the small-parts cylinder
// is a hazard by 16 CFR 1262: a flux index, kG² mm², of 50 or more. A snap
// sewn into a coat is outside that rule: it is a caution only.
func MagnetHazard(fits bool, index float64) bool { return fits && index >= plan.FluxHazard }

// Answer is yes, no, or not to be said.
type Answer int8

// The answers.
const (
	No Answer = iota
	Yes
	Unsure
)

// InfantGarment says whether nightwear of that size in months, in one piece or
// two, with that length (of the longer part), is an infant garment by 16 CFR
// 1615. Between 64.8 cm and 25.75 in the printed text contradicts itself.
func InfantGarment(months, parts int, length measure.Length) Answer {
	switch {
	case months > plan.InfantMonths:
		return No
	case parts == 2 && length <= plan.InfantOfTwo:
		return Yes
	case parts == 2:
		return No
	case length <= plan.InfantOne:
		return Yes
	case length <= plan.InfantOneIn:
		return Unsure
	}
	return No
}

// CordCase is a drawcord and the child it is for.
type CordCase struct {
	Market   string         // us, eu
	Size     float64        // us: the size, 2 for 2T; 0 where it is not known
	Height   measure.Length // eu: of the child; 0 where it is not known
	Age      float64        // years, where size or height are not known
	At       string         // hood, neck, waist, hem, sleeve
	FreeEnd  measure.Length // outside the channel, garment open flat
	DrawnIn  measure.Length // the same, garment drawn in to fit
	Ends     string         // plain, knot, toggle, lock, none
	Loop     measure.Length // round a loop
	Untacked bool           // known not to be stitched down
	Units    measure.Unit   // that its lengths are printed in first
	Instead  bool           // something else closes there: there is no cord
}

// CordFault is what a rule has against a drawcord.
type CordFault struct {
	Rule   string
	Says   string
	Banned bool           // the rule allows no cord there at all
	Limit  measure.Length // of a length that is over
	Key    string         // of the value it is about
	Ask    bool           // it has a figure of its own, which is not known here
}

const (
	usCords = "16 CFR 1120 (ASTM F1816-97)"
	euCords = "EN 14682"
)

// youngWords are the age and the height to which the EU's stricter half goes.
var youngWords = fmt.Sprintf("%d years or %d cm", plan.CordYoung, plan.CordYoungHeight/measure.Centimetre)

// EndsOff says what is taken off the free ends of a cord.
func EndsOff(c *catalog.GarmentCord) string {
	switch c.Ends {
	case "toggle", "knot":
		return "take the " + c.Ends + "s off its ends"
	case "lock":
		return "take the lock off its ends"
	}
	return "take the knots and toggles off its ends"
}

// young says whether the EU's stricter half applies: to 7 years or 134 cm.
func (c *CordCase) young() bool {
	if c.Height > 0 {
		return c.Height <= plan.CordYoungHeight
	}
	return c.Age <= plan.CordYoung
}

// usSize is the US size, or the age in its place.
func (c *CordCase) usSize() float64 {
	if c.Size > 0 {
		return c.Size
	}
	return c.Age
}

// Faults are what the rules of the market have against the cord.
func (c *CordCase) Faults() []CordFault {
	top := c.At == "hood" || c.At == "neck"
	if c.Instead {
		return nil
	}
	tied := c.Ends == "knot" || c.Ends == "toggle" || c.Ends == "lock"
	var out []CordFault
	if c.Market == "eu" {
		if c.Height == 0 && c.Age > plan.CordOldest {
			return nil
		}
		switch {
		case top && c.young():
			return []CordFault{{Rule: euCords, Says: "no cord at hood or neck up to " + youngWords, Banned: true, Key: "at"}}
		case top && c.FreeEnd > 0:
			out = append(out, CordFault{Rule: euCords, Says: fmt.Sprintf("no free ends at hood or neck from %d to %d years", plan.CordYoung, plan.CordOldest), Key: "free_end"})
		case (c.At == "hem" || c.At == "sleeve") && c.FreeEnd > 0:
			out = append(out, CordFault{Rule: euCords, Says: "figures of its own for cords at the " + c.At + ", and none to hang out at the ankle", Key: "free_end", Ask: true})
		case !top && c.At == "waist" && c.FreeEnd > plan.CordFreeEU:
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "free ends at the waist at most " + plan.CordFreeEU.TextMost(c.Units) + ", open flat", Limit: plan.CordFreeEU, Key: "free_end"})
		}
		if c.At == "waist" && c.DrawnIn > plan.CordDrawnEU {
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "free ends at the waist at most " + plan.CordDrawnEU.TextMost(c.Units) + ", drawn in", Limit: plan.CordDrawnEU, Key: "drawn_in"})
		}
		if top && c.Loop > plan.CordLoopEU {
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "a loop at the hood at most " + plan.CordLoopEU.TextMost(c.Units) + " round", Limit: plan.CordLoopEU, Key: "loop"})
		}
		if tied && c.FreeEnd > 0 {
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "no knots or toggles on free ends", Key: "ends"})
		}
		if c.Untacked {
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "the cord tacked midway", Key: "tacked"})
		}
		return out
	}
	size := c.usSize()
	switch {
	case top && size <= plan.CordTopSize:
		says := fmt.Sprintf("no drawstring at hood or neck in sizes %dT to %d", plan.CordLeastSize, plan.CordTopSize)
		if size < plan.CordLeastSize {
			says += ", and it is no safer for a younger child"
		}
		return []CordFault{{Rule: usCords, Says: says, Banned: true, Key: "at"}}
	case top:
		return []CordFault{{Says: "outside the sizes of " + usCords + fmt.Sprintf(", %dT to %d", plan.CordLeastSize, plan.CordTopSize) + ", but a cord there can catch at any age", Key: "at"}}
	case c.At == "sleeve" || size > plan.CordLowSize:
		return nil
	}
	for2T := ""
	if size < plan.CordLeastSize {
		for2T = fmt.Sprintf(" from size %dT", plan.CordLeastSize) + ", the more so below it"
	}
	if c.FreeEnd > plan.CordFreeUS {
		out = append(out, CordFault{Rule: usCords, Says: "free ends at most " + plan.CordFreeUS.TextMost(c.Units) + " outside the channel" + for2T, Limit: plan.CordFreeUS, Key: "free_end"})
	}
	if tied && c.FreeEnd > 0 {
		out = append(out, CordFault{Rule: usCords, Says: "no knots or toggles on free ends" + for2T, Key: "ends"})
	}
	if c.Untacked {
		out = append(out, CordFault{Rule: usCords, Says: "a cord of one piece stitched down midway" + for2T, Key: "tacked"})
	}
	return out
}

// IsChild says whether the rules for children are looked at.
func IsChild(g *catalog.Garment) bool { return g.Wearer == "child" || g.Wearer == "infant" }

// market is the market of a garment: the US where it does not say.
func market(g *catalog.Garment) string {
	if g.Market == "eu" {
		return "eu"
	}
	return "us"
}

// sizeNumber is the number in the name of a size, 2 of 2T, or 0.
func sizeNumber(s string) float64 {
	n, err := strconv.ParseFloat(strings.TrimSuffix(s, "T"), 64)
	if err != nil {
		return 0
	}
	return max(0, n)
}

// underThree is the height, cm, of a child of 3 years, from memory.
const underThree = 98

// youngest is the age, in years, of the youngest child that a garment is for:
// its own age, or its smallest size by number or height.
func youngest(g *catalog.Garment) float64 {
	if g.Age.Has() {
		return g.Age.V
	}
	from := 3.0
	if g.Wearer == "infant" {
		from = 0
	}
	for _, s := range g.Sizes {
		n := sizeNumber(s)
		if n >= 2 && n < 3 || n >= 44 && n < underThree {
			from = min(from, 2)
		}
	}
	return from
}

// ages are those, in months, of the youngest and the oldest child that a
// garment is for: its own age, or its sizes by number, 2T for the third year.
// Without either an infant's is to 36 months, a child's to 14 years.
func ages(g *catalog.Garment) (from, to int) {
	from = int(youngest(g) * 12)
	if g.Age.Has() {
		return from, from
	}
	to = 14 * 12
	if g.Wearer == "infant" {
		to = 36
	}
	oldest := 0
	for _, s := range g.Sizes {
		if n := sizeNumber(s); n >= 1 && n <= 20 {
			oldest = max(oldest, int(n*12)+11)
		}
	}
	if oldest > 0 {
		to = max(from, oldest)
	}
	return from, to
}

// isInfant says whether it may be worn under 3 years.
func isInfant(g *catalog.Garment) bool { return youngest(g) < plan.InfantUnder }

// cordCase is the strictest case of a cord among the sizes of the garment.
func cordCase(g *catalog.Garment, c *catalog.GarmentCord) CordCase {
	out := CordCase{
		Market: market(g), Units: g.Units, Age: plan.CordUnknownAge, Height: g.Height.V, At: c.At,
		FreeEnd: c.FreeEnd.V, DrawnIn: c.DrawnIn.V, Ends: c.Ends, Loop: c.Loop.V,
		Untacked: c.Tacked.Has() && !c.Tacked.V,
		Instead:  c.Instead != "",
	}
	if g.Age.Has() {
		out.Age = g.Age.V
	}
	for _, s := range g.Sizes {
		n := sizeNumber(s)
		switch {
		case out.Market == "eu" && n >= 44 && n <= 200:
			h := measure.FromMM(n * 10)
			out.Height = min(cmp.Or(out.Height, h), h)
		case out.Market == "us" && n >= 1 && n <= 20:
			// A size inside 2T to 12 binds the whole range.
			if out.Size < plan.CordLeastSize {
				out.Size = n
			} else if n >= plan.CordLeastSize {
				out.Size = min(out.Size, n)
			}
		}
	}
	return out
}

func CordPath(i int, key string) string { return source.Join(source.Item("cord", i), key) }

// metal says whether a fastener has metal that may touch the skin.
func metal(n *catalog.Notion) bool {
	if n.ZipKind == "metal" || n.Coating == "plated" || n.Kind == catalog.TackButton || n.Kind == catalog.Rivet {
		return true
	}
	for _, m := range [...]string{"brass", "steel", "zinc", "nickel", "copper", "metal", "iron", "bronze", "pewter", "silver"} {
		if strings.Contains(n.Material, m) {
			return true
		}
	}
	return false
}

// SetWithTool says whether a fastener is set by striking or pressing.
func SetWithTool(n *catalog.Notion) bool { return plan.SetWithTool(n) }

var safetyRules = []*Rule{
	{
		Name: "safety-market", Severity: Note,
		Task:    TaskSell,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "safety rules differ by where a child's garment is sold",
		Formula: "wearer = child or infant: market says whose rules are named; where it is not said, those of the US",
		Why:     "A hood cord that one market forbids by age another forbids by size.",
		Sources: []string{
			"16 CFR 1120, for the US",
			"EN 14682 as Tukes, the Finnish authority, explains it, for the EU",
		},
		garment: true,
		Check: func(x *Context) {
			if IsChild(x.G) && x.G.Market == "" {
				x.report(Note, whole("wearer"), Numbers{}, "it is not said where this is sold: the rules named are those of the US; write market = \"eu\" for those of the EU").Line("say where it is sold (market): these are the rules of the US")
			}
		},
	},
	{
		Name: "safety-cord-top", Severity: Conflict,
		Rests:   []string{FileSays, "age", "cord.*.at", "height", "wearer"},
		Task:    TaskSell,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no cord at the hood or neck of a young child's garment",
		Formula: "US: none in sizes {least size}T to {top size}, nor below; EU: none to {young} or {height}, from there to {oldest} no free ends and no loop over {loop} round",
		Limits:  plan.CordTopLimits,
		Why:     "The cord can catch in a slide, a lift or a door and tighten round the neck.",
		Sources: []string{
			"16 CFR 1120 and ASTM F1816-97: children's upper outerwear",
			"EN 14682, as Tukes, the Finnish authority, explains it",
			"EN 14682:2007, laboratory's note, superseded by the edition of 2014: loop 15 cm, no knots or toggles, tacked midway",
		},
		Ours:    "a cord that the rule of the market forbids is a conflict, since the garment may not be sold with it; the others are cautions. The strictest of the sizes counts, and where neither age nor size is known a child of {unknown}",
		garment: true,
		Check:   func(x *Context) { cordFaults(x, true) },
		Touches: plainCord,
		Propose: proposeCord,
	},
	{
		Name: "safety-cord-low", Severity: Caution,
		Task:    TaskSell,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "cords at waist and hem: short, plain, stitched down",
		Formula: "US, sizes {least size}T to {low size}, and borrowed below: free ends at most {us end} outside the channel, no knots or toggles on them, a cord of one piece stitched down; EU, 2007 edition: free ends at the waist at most {eu end} open flat (free_end) and {eu drawn in} drawn in to fit (drawn_in; hem and sleeve have figures of their own), no knots or toggles, tacked midway",
		Limits:  plan.CordLowLimits,
		Why:     "A long end with a toggle can catch in a closing door.",
		Sources: []string{
			"16 CFR 1120 and ASTM F1816-97: children's upper outerwear",
			"EN 14682:2007, laboratory's note, superseded by the edition of 2014: 14 cm open flat, 28 cm drawn in",
		},
		Others:  "A cord that draws wholly back into its channel is exempt in the US.",
		garment: true,
		Check:   func(x *Context) { cordFaults(x, false) },
		Touches: plainCord,
		Propose: proposeCord,
	},
	{
		Name: "safety-small", Severity: Caution,
		Task:    TaskBuySafely,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a fastener that comes off must not be a choking hazard",
		Formula: "small-parts cylinder {bore} across, {shallow} to {deep} deep: a disc up to {bore} across fits; a rod fits for sure where length + thickness ≤ {deep}, never over {rod}; under {infant}: caution",
		Limits:  plan.GaugeLimits,
		Why:     "Children under three put everything into the mouth.",
		Sources: []string{
			"16 CFR 1501.4, figure 1: the cylinder; its bore and depth from memory",
			"16 CFR 1501.3(d): children's clothing and accessories such as buttons are exempt",
			"EN 71-1, annex A.36: takes the cylinder of the US rule for toys",
			"CEN/TS 17394-1: what buttons of children's clothing must hold",
			"geometry: discs and rods in a cylinder",
		},
		Others: "16 CFR 1501 is often quoted against buttons; it exempts them. Buyers' own standards do apply it.",
		Check: func(x *Context) {
			if !IsChild(x.G) {
				return
			}
			g := gaugeOf(&x.C.Notion)
			if g == GaugeNo {
				return
			}
			sev := Note
			if isInfant(x.G) {
				sev = Caution
			}
			fits := "fits"
			if g == GaugeTry {
				fits = "may fit"
			}
			rule := "16 CFR 1501 exempts buttons and the like on children's clothing, but it is a choking concern all the same"
			if market(x.G) == "eu" {
				rule = "CEN/TS 17394 is about what children's clothing must hold, EN 71-1 only about toys"
			}
			x.report(sev, x.at("use"), Numbers{}, "the %s %s the small-parts cylinder if it comes off: take a larger one, or fix each well and pull at it; %s; %s", text.One(x.C.Notion.Kind), fits, rule, lawFirst).Line("small part: a larger one, or fix each well and pull at it")
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			for _, n := range x.G.Catalog.Notions {
				if n.Kind == x.C.Notion.Kind && gaugeOf(n) == GaugeNo {
					out = append(out, Change{With: x.use(n.Name), Says: "use " + n.Name + ", too large for the cylinder", Cost: (plan.AcrossOf(n) - plan.AcrossOf(&x.C.Notion)).MM()})
				}
			}
			return cheapest(out, 6)
		},
	},
	{
		Name: "safety-pull", Severity: Caution,
		Task:    TaskBuySafely,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a child's fasteners must hold a pull",
		Formula: "tested holding force (pull) ≥ the figure borrowed for the age: US {us first} to {first}, {us later} to {third}, of the ages that the sizes span the largest; EU, clothing to {clothing}: {eu small} under {small} across, {eu large} from there; older, the toy figure: {toy small} to {small}, {toy large} above",
		Limits:  plan.PullLimits,
		Why:     "What comes off in the hand goes into the mouth.",
		Sources: []string{
			"16 CFR 1500.50 to 1500.53, use and abuse of toys and other articles, by age, the most stringent where a label spans several: 10 lbf on seams read, 15 lbf from memory",
			"CEN/TS 17394-1:2021 with EN 17394-2:2020, test house's bulletin of 2021: buttons of clothing to 36 months, 70 N, 50 N from 3 to under 6 mm",
			"EN 71-1, laboratory's summary: 50 N to 6 mm, 90 N above",
			"EN 17394-2:2020 and CEN/TS 17394-3:2021: how buttons and press fasteners of children's clothing are tested",
			"ASTM D7142 and D7842: how snaps and attached buttons are pulled; methods without a limit",
		},
		Others: "The trade also pulls 70 N for adults, 90 N for children, or 17 lbf for 10 s; a military tack button takes 60 lbf. They are not the same test.",
		Check: func(x *Context) {
			if !IsChild(x.G) || x.C.Notion.Kind == catalog.Zip {
				return
			}
			n := &x.C.Notion
			toy := ToyPull(max(plan.AcrossOf(n), n.Thickness.V))
			need, rule, asks := toy, "EN 71-1", "laboratories borrow"
			if part, ok := PartPull(plan.AcrossOf(n), int(youngest(x.G)*12)); ok && market(x.G) == "eu" {
				need, asks = part, "clothing to 36 months goes by CEN/TS 17394-1, "+part.Text(x.U)+"; laboratories also borrow"
			}
			if market(x.G) == "us" {
				from, to := ages(x.G)
				sections := UseAbuseSpan(from, to)
				if len(sections) == 0 {
					return
				}
				// The pull grows with age: the oldest has the most stringent.
				need, rule = usPull(to), text.And(sections...)
			}
			borrowed := need
			if market(x.G) == "eu" {
				borrowed = toy
			}
			switch {
			case !n.Pull.Has():
				// Not known is no safer than known to be too little.
				sev := Note
				if isInfant(x.G) {
					sev = Caution
				}
				x.report(sev, x.at("use"), Numbers{}, "ask what pull the %s holds in this cloth; %s %s from %s, a rule for toys; %s", text.One(n.Kind), asks, x.force(borrowed), rule, labFirst).Line("ask what pull it holds here; laboratories look for %s", x.force(need))
			case measure.Force(n.Pull.V) < need:
				x.report(Caution, x.at("use"), Numbers{Have: n.Pull.V, Need: need.N(), Margin: n.Pull.V - need.N(), Unit: "N", Compared: true}, "the %s holds %s: take a stronger one, or reinforce the cloth; %s %s from %s, a rule for toys; %s", text.One(n.Kind), x.force(measure.Force(n.Pull.V)), asks, x.force(borrowed), rule, labFirst).Line("it holds %s of the %s looked for: reinforce the cloth", x.force(measure.Force(n.Pull.V)), x.force(need))
			}
		},
	},
	{
		Name: "safety-nickel", Severity: Caution,
		Task:    TaskBuySafely,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "metal that touches the skin must not shed nickel",
		Figure:  "nickel released",
		Formula: "EU: release ≤ {skin} a week where it touches the skin directly and long, < {post} for posts in pierced parts of the body; a coating must keep that for {wear} of wear",
		Limits:  plan.NickelLimits,
		Why:     "Skin that has become sensitive to nickel stays so.",
		Sources: []string{
			"REACH annex XVII, entry 27: rivet buttons, tighteners, rivets, zips and metal marks in garments",
			"EN 1811 and EN 12472: how it is measured, by a testing company's bulletin",
		},
		Others: "How long is long: 10 minutes three times, or 30 once, within two weeks, from memory.",
		Check: func(x *Context) {
			n := &x.C.Notion
			if market(x.G) != "eu" || !metal(n) {
				return
			}
			switch {
			case !n.Nickel.Has():
				x.report(Note, x.at("use"), Numbers{}, "if the metal of the %s touches the skin for long, entry 27 of REACH annex XVII limits its nickel: ask the maker for a report by EN 1811", text.One(n.Kind)).Line("if its metal touches the skin, ask for a nickel report by EN 1811")
			case NickelOver(n.Nickel.V, false):
				x.report(Caution, x.at("use"), Numbers{Have: n.Nickel.V, Need: plan.NickelSkin, Margin: plan.NickelSkin - n.Nickel.V, Unit: "µg/cm² a week", Compared: true}, "the %s releases %s µg/cm² of nickel a week, over the %s of entry 27 of REACH annex XVII for what touches the skin long: take another, or keep it off the skin; %s", text.One(n.Kind), trim(n.Nickel.V), trim(plan.NickelSkin), labFirst).Line("%s µg/cm² of nickel a week, over %s: take another", trim(n.Nickel.V), trim(plan.NickelSkin))
			}
		},
	},
	{
		Name: "safety-lead", Severity: Caution,
		Task:    TaskBuySafely,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "lead in a child's fasteners",
		Figure:  "lead",
		Formula: "US, children to {age}: ≤ {metal} in accessible material, ≤ {paint} in paint; electroplate is not paint",
		Limits:  plan.LeadLimits,
		Why:     "Children lick and suck what they wear, and lead stays in the body.",
		Sources: []string{"US Consumer Product Safety Commission, guidance on total lead and on lead in paint; 16 CFR 1303"},
		Check: func(x *Context) {
			n := &x.C.Notion
			if !IsChild(x.G) || market(x.G) != "us" {
				return
			}
			if youngest(x.G) > plan.LeadTo {
				return
			}
			limit := LeadLimit(n.Coating)
			switch {
			case n.Lead.Has() && n.Lead.V > limit:
				x.report(Caution, x.at("use"), Numbers{Have: n.Lead.V, Need: limit, Margin: limit - n.Lead.V, Unit: "parts per million", Compared: true}, "the %s has %s parts per million of lead, over the %s for a child's product: take another; %s", text.One(n.Kind), trim(n.Lead.V), trim(limit), labFirst).Line("%s parts per million of lead, over %s: take another", trim(n.Lead.V), trim(limit))
			case !n.Lead.Has() && (metal(n) || n.Coating == "painted"):
				x.report(Note, x.at("use"), Numbers{}, "ask the maker for the lead in the %s: at most %s parts per million in a child's product; metal is not exempt from testing; %s", text.One(n.Kind), trim(limit), labFirst).Line("ask the maker for its lead: at most %s parts per million", trim(limit))
			}
		},
	},
	{
		Name: "safety-magnet", Severity: Caution,
		Task:    TaskBuySafely,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a strong magnet in a child's garment",
		Formula: "flux index (flux, kG² mm²) of a magnet that fits the small-parts cylinder: {flux} or more, caution; snap-magnet speaks of magnets in general",
		Limits:  []plan.Threshold{plan.FluxLimit},
		Why:     "Two magnets that are swallowed hold on to each other inside.",
		Sources: []string{
			"16 CFR 1262.2 to .4: loose or separable magnets of amusement, jewellery and stress-relief goods, flux index under 50; a snap held fast in a coat is outside it, so the figure is borrowed",
			"EN 71-1, magnets of toys: the same index of 50, from memory",
		},
		Check: func(x *Context) {
			n := &x.C.Notion
			if !IsChild(x.G) || n.Spring != "magnet" && !n.Magnet.Or(false) || !n.Flux.Has() || !MagnetHazard(gaugeOf(n) != GaugeNo, n.Flux.V) {
				return
			}
			x.report(Caution, x.at("use"), Numbers{Have: n.Flux.V, Need: plan.FluxHazard, Margin: plan.FluxHazard - n.Flux.V, Unit: "kG² mm²", Compared: true}, "the magnet of the %s has a flux index of %s: loose, it would be a hazard by %s; take another closure; %s", text.One(n.Kind), trim(n.Flux.V), magnetRule(x.G), lawFirst).Line("a strong magnet, flux index %s: take another closure", trim(n.Flux.V))
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			return x.nearestUse(func(n *catalog.Notion) bool {
				return n.Kind == x.C.Notion.Kind && !n.Magnet.Or(false) && n.Spring != "magnet" && n.Attach == x.C.Notion.Attach
			}, plan.AcrossOf)
		},
	},
	{
		Name: "safety-sharp", Severity: Caution,
		Task:    TaskFasten,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no point or edge to be felt",
		Formula: "prongs, nails, posts and hooks on a garment for under {age}: feel both sides after setting; point_sharp = true: caution",
		Limits:  []plan.Threshold{plan.SharpLimit},
		Why:     "A prong that missed its ring scratches a neck at every turn of the head.",
		Sources: []string{
			"16 CFR 1500.48 and 1500.49, sharp points and edges: for toys and articles for under 8 years; borrowed for garments",
			"EN 71-1, sharp points and edges of toys, from memory; borrowed for garments",
		},
		Check: func(x *Context) {
			n := &x.C.Notion
			if !IsChild(x.G) {
				return
			}
			if youngest(x.G) >= plan.SharpUnder {
				return
			}
			switch {
			case n.PointSharp.Or(false):
				x.report(Caution, x.at("use"), Numbers{}, "a point or edge of the %s can be felt: cover it or take another; %s; %s", text.One(n.Kind), sharpRule(x.G), lawFirst).Line("a point or edge can be felt: cover it, or take another")
			case SetWithTool(n) || n.Kind == catalog.Hook:
				x.report(Note, x.at("use"), Numbers{}, "feel both sides of every %s after it is set: no prong, nail or edge may stand out; %s", text.One(n.Kind), sharpRule(x.G)).Line("feel both sides once set: nothing sharp may stand out")
			}
		},
	},
	{
		Name: "safety-costume", Severity: Caution,
		Task:    TaskSell,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "dress-up clothes are toys in the EU",
		Formula: "costume = true: EN 71 binds in the EU; elsewhere ask",
		Why:     "Toys are tested by other rules than clothes: torque, tension, flame, small parts.",
		Sources: []string{"EN 71-1, laboratory's summary: torque 0.34 N·m, then 50 or 90 N", "EU practice: dress-up costumes are toys"},
		garment: true,
		Check: func(x *Context) {
			switch {
			case !x.G.Costume.Or(false):
			case market(x.G) == "eu":
				x.report(Caution, whole("costume"), Numbers{}, "dress-up clothes are toys in the EU: EN 71 binds, small parts, pull and flame; %s", labFirst).Line("dress-up clothes are toys in the EU: EN 71 binds, pull and flame")
			default:
				x.report(Note, whole("costume"), Numbers{}, "dress-up clothes may count as toys: ask before you sell them or give them away; %s", lawFirst).Line("dress-up clothes may count as toys: ask before you sell them")
			}
		},
	},
	{
		Name: "safety-sleepwear", Severity: Caution,
		Task:    TaskSell,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "children's nightwear has flame rules of its own",
		Figure:  "length of the garment",
		Formula: "US: size to {months} and one piece to {one}, or two pieces to {two} each: infant garment, 16 CFR 1610 and 1611 only; else the full test of 16 CFR 1615 (to 6X) or 1616 (7 to 14)",
		Limits:  plan.NightLimits,
		Why:     "Nightwear catches fire at stoves and heaters.",
		Sources: []string{
			"US Consumer Product Safety Commission, infant and tight-fitting garments",
			"16 CFR 1616.2; the printed 64.8 cm (25.75 in) contradicts itself, 25.75 in is 65.4 cm: the shorter is taken",
		},
		garment: true,
		Check: func(x *Context) {
			s := &x.G.Sleepwear
			if !s.Length.Has() || market(x.G) != "us" {
				return
			}
			most := plan.InfantOne
			if s.Parts.Or(1) == 2 {
				most = plan.InfantOfTwo
			}
			switch InfantGarment(s.Months.Or(12), s.Parts.Or(1), s.Length.V) {
			case Yes:
				x.report(Note, whole("sleepwear"), atMost(s.Length.V, most), "by its size and length this may count as an infant garment, for which 16 CFR 1610 and 1611 stand in place of the full test of 1615; put the size in months on the label; %s", lawFirst).Line("may count as an infant garment: put the months on its label")
			case Unsure:
				x.report(Caution, whole("sleepwear.length"), atMost(s.Length.V, most), "%s lies between %s and %s, which 16 CFR 1615 prints as the same: keep to %s", x.say(s.Length.V), plan.InfantOne.ShortPlace(measure.MM), plan.InfantOneIn.ShortPlace(measure.In), plan.InfantOne.ShortPlace(measure.MM)).Line("%s long, between two printed limits: keep to %s", x.say(s.Length.V), plan.InfantOne.ShortPlace(measure.MM))
			default:
				x.report(Caution, whole("sleepwear"), atMost(s.Length.V, most), "this is not an infant garment, which goes to %d months and %s: 16 CFR 1615, or 1616 from size 7, asks the full flame test; %s", plan.InfantMonths, x.say(most), lawFirst).Line("no infant garment: 16 CFR 1615, or 1616, asks the full flame test")
			}
		},
	},
	{
		Name: "work-setting", Severity: Note,
		Task:    TaskSet,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "setting hardware without hurting anyone",
		Formula: "any tack button, snap, rivet or eyelet that is set with a tool; a plastic snap is pressed, not struck",
		Why:     "Struck steel can chip, and a post that is hit askew can fly.",
		Sources: []string{
			"US Army TM 10-1670-201-23: rawhide or other non-steel mallet, the chuck and anvil made for the fastener",
			"OSHA 3080, 2002: mushroomed heads can shatter",
			"29 CFR 1910.133, as summarised: eye protection where particles may fly",
		},
		garment: true,
		Check: func(x *Context) {
			said := map[bool]bool{} // once of what is struck, once of what is pressed
			for i := range x.G.Closures {
				c := &x.G.Closures[i]
				s := plan.SettingOf(&c.Notion)
				if s == "" || said[s.Struck()] {
					continue
				}
				said[s.Struck()] = true
				x.report(Note, whole(source.Item("closure", i)), Numbers{}, "%s", SetSafely(s, c.Set, text.Plural(c.Notion.Kind))).Line("%s", setLine(s, c.Set, text.Plural(c.Notion.Kind)))
			}
		},
	},
	{
		Name: "work-needle", Severity: Note,
		Task:    TaskNeedle,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "thick layers near what the foot lifts",
		Formula: "layers or a thick place over {near} of what the foot lifts",
		Limits:  []plan.Threshold{plan.NearLimit},
		Why:     "A needle that bends strikes the plate and breaks.",
		Sources: []string{
			"OSHA letter of 20 May 1976 and 29 CFR 1910.212: the needle is a point of operation",
			"household machine manual: do not pull the cloth, the needle may break",
		},
		Ours:    "{near} of the lift as near",
		garment: true,
		Check: func(x *Context) {
			m := &x.G.Machine
			if !m.FootLift.Has() {
				return
			}
			near := plan.NearLift.Of(m.FootLift.V)
			for i := range x.P.Closures {
				k := &x.P.Closures[i]
				if k.Closure.Notion.Kind == catalog.Zip {
					continue
				}
				thick := max(k.Over.Thick, k.Under.Thick)
				if len(k.Places) > 0 {
					thick = max(thick, k.Places[0].Thick)
				}
				if thick > near {
					x.report(Note, whole(source.Item("closure", i)), Numbers{}, "the layers of the %s come near what the foot lifts: wear eye protection, turn the wheel by hand over the thick places, never pull the cloth, and keep the pieces of a broken needle together", k.Closure.Name).Line("thick under the foot: turn the wheel by hand, wear eye protection")
					return
				}
			}
		},
	},
	{
		Name: "safety-fragments", Severity: Note,
		Task:    TaskNeedle,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no piece of a needle may stay in a child's garment",
		Formula: "wearer = child or infant",
		Why:     "A tip left in a seam works its way out.",
		Sources: []string{"UK factory policy on broken needles: needle for needle, every fragment recovered, or the piece is set aside"},
		garment: true,
		Check: func(x *Context) {
			if IsChild(x.G) {
				x.report(Note, whole("wearer"), Numbers{}, "count needles and pins: if one breaks, find every piece before you go on, and set the garment aside if one is missing").Line("count needles and pins: if one breaks, find every piece first")
			}
		},
	},
}

// cordFaults reports what the market's rules have against the cords at hood
// and neck, or against the others.
func cordFaults(x *Context, top bool) {
	if !IsChild(x.G) {
		return
	}
	for i := range x.G.Cords {
		c := &x.G.Cords[i]
		if (c.At == "hood" || c.At == "neck") != top {
			continue
		}
		k := cordCase(x.G, c)
		for _, f := range k.Faults() {
			at := whole(CordPath(i, f.Key))
			switch {
			case f.Banned:
				n := x.report(Conflict, at, Numbers{}, "%s: take it out and close with elastic or snaps; %s allows %s; %s", cordNamed(c), f.Rule, f.Says, lawFirst)
				if k.Market == "us" && k.usSize() < plan.CordLeastSize { // outside the sizes of the rule
					n.Line("take the %s cord out, close with elastic or snaps", c.At)
				} else {
					n.Line("%s cord forbidden: take it out, close with elastic or snaps", c.At)
				}
			case f.Ask:
				x.report(Note, at, Numbers{}, "%s: %s has %s; read them before you let it hang out %s", cordNamed(c), f.Rule, f.Says, x.say(k.FreeEnd)).Line("%s cord hangs out %s: look up what %s allows there", c.At, x.say(k.FreeEnd), f.Rule)
			case f.Limit > 0:
				have, is, it, change := k.FreeEnd, "cord hangs out", "it hangs out", "cut its ends"
				switch f.Key {
				case "loop":
					have, is, it, change = k.Loop, "loop is", "its loop is", "make it shorter"
				case "drawn_in":
					have, is, it = k.DrawnIn, "cord, drawn in, hangs out", "drawn in it hangs out"
				}
				long, limit := x.Over(have, f.Limit)
				x.report(Caution, at, atMost(have, f.Limit), "%s: %s %s: %s; %s allows %s; %s", cordNamed(c), it, long, change, f.Rule, f.Says, lawFirst).Line("%s %s %s, over %s: %s", c.At, is, long, limit, change)
			case f.Rule == "":
				x.report(Caution, at, Numbers{}, "%s: take it out, or close with elastic or snaps; it lies %s", cordNamed(c), f.Says).Line("take the %s cord out: it can catch at any age", c.At)
			default:
				change := map[string]string{"free_end": "take its free ends off", "ends": EndsOff(c), "tacked": "stitch it down midway"}[f.Key]
				x.report(Caution, at, Numbers{}, "%s: %s; %s asks for %s; %s", cordNamed(c), change, f.Rule, f.Says, lawFirst).Line("%s cord: %s", c.At, change)
			}
		}
		if !top && c.Instead == "" && !c.FreeEnd.Has() {
			x.report(Note, whole(CordPath(i, "at")), Numbers{}, "say how far the ends of the cord %s hang out when the garment lies open (free_end)", c.Name).Line("measure how far the %s cord hangs out, and write it as free_end", c.At)
		}
	}
}

// CordFaults is what the market's rules have against a drawcord of the garment.
func CordFaults(g *catalog.Garment, i int) []CordFault {
	if !IsChild(g) {
		return nil
	}
	k := cordCase(g, &g.Cords[i])
	return k.Faults()
}

// setLine is SetSafely in one line.
func setLine(s plan.Setting, tool, what string) string {
	switch {
	case s == plan.SetPlastic:
		return "press the " + what + " with their pliers or press, never strike them"
	case tool == "press" || tool == "pliers" || tool == "machine":
		return "setting the " + what + ": wear eye protection, keep fingers clear"
	}
	return "set the " + what + " with a mallet, not steel; wear eye protection"
}

// sharpRule names whose rule on points and edges is borrowed in the market.
func sharpRule(g *catalog.Garment) string {
	if market(g) == "eu" {
		return "laboratories look as they do at toys, by EN 71-1"
	}
	return "16 CFR 1500.48 and .49 are for toys and articles, and laboratories borrow them"
}

// magnetRule names whose figure for magnets is borrowed in the market.
func magnetRule(g *catalog.Garment) string {
	if market(g) == "eu" {
		return "EN 71-1, which is about toys (its figure from memory)"
	}
	return "16 CFR 1262, which is not about garments"
}

// ofMarket are the sources of a rule that bind in the market of the garment.
func ofMarket(g *catalog.Garment, sources []string) []string {
	other := [...]string{"EN 14682", "EN 71", "EN 17394", "CEN/TS", "REACH"}
	if market(g) == "eu" {
		other = [...]string{"16 CFR", "ASTM", "US ", "CPSC", "CFR"}
	}
	var out []string
	for _, s := range sources {
		if !slices.ContainsFunc(other[:], func(o string) bool { return strings.Contains(s, o) }) {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return sources
	}
	return out
}

// plainCord are the keys that proposeCord touches.
var plainCord = []string{"cord.*.instead", "cord.*.free_end", "cord.*.drawn_in", "cord.*.loop", "cord.*.ends", "cord.*.tacked"}

// proposeCord shortens, plains and tacks a cord, or takes a forbidden one out.
func proposeCord(x *Context, f *Finding) []Change {
	for i := range x.G.Cords {
		c := &x.G.Cords[i]
		key := func(k string) string { return catalog.Key("cord", c.Name, k) }
		switch f.Path() {
		case CordPath(i, "at"):
			return []Change{
				{With: []catalog.With{catalog.Set(key("instead"), "elastic")}, Says: "take the cord out and close with elastic", Cost: 5},
				{With: []catalog.With{catalog.Set(key("instead"), "snaps")}, Says: "take the cord out and close with snaps", Cost: 6},
			}
		case CordPath(i, "free_end"):
			l := plan.CordFreeUS
			switch {
			case c.At == "hood" || c.At == "neck":
				l = 0
			case market(x.G) == "eu":
				l = plan.CordFreeEU
			}
			l = l.Most(x.U)
			return []Change{{With: []catalog.With{catalog.SetLength(key("free_end"), l, x.U)}, Says: "cut the free ends to " + x.down(l), Cost: (c.FreeEnd.V - l).MM() / 10}}
		case CordPath(i, "drawn_in"):
			l := measure.Length(plan.CordDrawnEU).Most(x.U)
			return []Change{{With: []catalog.With{catalog.SetLength(key("drawn_in"), l, x.U)}, Says: "cut the ends until " + x.down(l) + " hang out, drawn in", Cost: (c.DrawnIn.V - l).MM() / 10}}
		case CordPath(i, "loop"):
			loop := plan.CordLoopEU.Most(x.U)
			return []Change{{With: []catalog.With{catalog.SetLength(key("loop"), loop, x.U)}, Says: "make the loop " + x.down(loop) + " round", Cost: 2}}
		case CordPath(i, "ends"):
			return []Change{{With: []catalog.With{catalog.Set(key("ends"), "plain")}, Says: "leave the ends plain", Cost: 1}}
		case CordPath(i, "tacked"):
			return []Change{{With: []catalog.With{catalog.Set(key("tacked"), true)}, Says: "stitch the cord down midway", Cost: 1}}
		}
	}
	return nil
}

// force is a force as a message says it, worked out only when it is printed.
func (x *Context) force(f measure.Force) forceText { return forceText{f, x.U} }

type forceText struct {
	f measure.Force
	u measure.Unit
}

func (t forceText) String() string { return t.f.Text(t.u) }

// trim is a plain number without trailing zeros.
func trim(v float64) string { return text.Number(v) }

// cordNamed is a cord by its name in the file: the waist cord, the drawcord.
func cordNamed(c *catalog.GarmentCord) string {
	if strings.Contains(strings.ToLower(c.Name), "cord") {
		return "the " + c.Name
	}
	return "the " + c.Name + " cord"
}
