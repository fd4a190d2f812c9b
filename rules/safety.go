package rules

import (
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

const askFirst = "the law where it is sold decides: ask an accredited laboratory"

// Gauge says whether a part fits the small-parts cylinder.
type Gauge int8

// The answers. GaugeTry: it is too close to say; gauge the real part.
const (
	GaugeNo Gauge = iota
	GaugeTry
	GaugeFits
)

// The small-parts cylinder of 16 CFR 1501.4, figure 1: 1.25 in across, 1 in
// deep at the shallow side and 2.25 in at the deep one.
const (
	gaugeBore    = in * 5 / 4
	gaugeShallow = in
	gaugeDeep    = in * 9 / 4
)

// GaugeDisc says whether a disc d across and t high fits the cylinder.
func GaugeDisc(d, t measure.Length) Gauge {
	switch {
	case d > gaugeBore:
		return GaugeNo
	case d == gaugeBore || t > gaugeShallow:
		return GaugeTry
	}
	return GaugeFits
}

// GaugeRod says whether a rod of that length, d thick, fits the cylinder: for
// sure where both together are at most its depth, never where it is longer
// than the cylinder's diagonal.
func GaugeRod(length, d measure.Length) Gauge {
	switch {
	case d > gaugeBore || length > 65400*measure.Micrometre:
		return GaugeNo
	case length+d <= gaugeDeep:
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

// UseAbuse is the section of 16 CFR part 1500 whose use-and-abuse tests are
// for a child of so many months, "" over 96. The tests are for toys and other
// articles: garment laboratories borrow their figures.
func UseAbuse(months int) string {
	switch {
	case months <= 18:
		return "16 CFR 1500.51"
	case months <= 36:
		return "16 CFR 1500.52"
	case months <= 96:
		return "16 CFR 1500.53"
	}
	return ""
}

// UseAbuseSpan are the sections for a label from so many months to so many;
// of several, the most stringent applies.
func UseAbuseSpan(from, to int) []string {
	var out []string
	for _, m := range []int{from, 19, 37, to} {
		if m < from || m > to {
			continue
		}
		if s := UseAbuse(m); s != "" && (len(out) == 0 || out[len(out)-1] != s) {
			out = append(out, s)
		}
	}
	return out
}

// ToyPull is the pull of EN 71-1 for a part whose largest accessible dimension
// is that: 50 N to 6 mm, 90 N above. It binds toys, dress-up clothes among
// them; garments borrow it.
func ToyPull(largest measure.Length) measure.Force {
	if largest <= 6*mm {
		return 50
	}
	return 90
}

// PartPull is the pull of CEN/TS 17394-1:2021 for a button on clothing to 36
// months: 50 N under 6 mm, 70 N from there, as a test house tells it. It binds
// no more than the standard does, but it is about garments; ok is false for
// older children, of whom it says nothing here.
func PartPull(across measure.Length, months int) (f measure.Force, ok bool) {
	switch {
	case months > 36:
		return 0, false
	case across < 6*mm:
		return 50, true
	}
	return 70, true
}

// usPull is the borrowed pull of 16 CFR 1500.51 to .53, from memory but for
// the first.
func usPull(months int) measure.Force {
	if months <= 18 {
		return 10 * measure.PoundForce
	}
	return 15 * measure.PoundForce
}

// NickelOver says whether a nickel release, µg/cm² a week, is over entry 27 of
// annex XVII of REACH: 0.5 for parts that touch the skin directly and long,
// 0.2 for posts in pierced parts of the body.
func NickelOver(release float64, pierced bool) bool {
	if pierced {
		return release >= 0.2
	}
	return release > 0.5
}

// LeadLimit is the limit, parts per million, for a child's product: 100 in an
// accessible material, 90 in paint. Electroplate is not paint.
func LeadLimit(coating string) float64 {
	if coating == "painted" {
		return 90
	}
	return 100
}

// MagnetHazard says whether a loose magnet that fits the small-parts cylinder
// is a hazard by 16 CFR 1262: a flux index, kG² mm², of 50 or more. A snap
// sewn into a coat is outside that rule: it is a caution only.
func MagnetHazard(fits bool, index float64) bool { return fits && index >= 50 }

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
	case months > 9:
		return No
	case parts == 2 && length <= 400*mm:
		return Yes
	case parts == 2:
		return No
	case length <= 648*mm:
		return Yes
	case length <= in*103/4:
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
	Ends     string         // plain, knot, toggle, lock, none
	Loop     measure.Length // round a loop
	Untacked bool           // known not to be stitched down
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
	usCords   = "16 CFR 1120 (ASTM F1816-97)"
	euCords   = "EN 14682"
	usFreeEnd = 3 * in
	euFreeEnd = 140 * mm // EN 14682:2007, second-hand
	euLoop    = 150 * mm // the same: round a loop at the fitted size
	euYoung   = 1340 * mm
	euOldest  = 14
)

// young says whether the EU's stricter half applies: to 7 years or 134 cm.
func (c *CordCase) young() bool {
	if c.Height > 0 {
		return c.Height <= euYoung
	}
	return c.Age <= 7
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
		if c.Height == 0 && c.Age > euOldest {
			return nil
		}
		switch {
		case top && c.young():
			return []CordFault{{Rule: euCords, Says: "no cord at hood or neck up to 7 years or 134 cm", Banned: true, Key: "at"}}
		case top && c.FreeEnd > 0:
			out = append(out, CordFault{Rule: euCords, Says: "no free ends at hood or neck from 7 to 14 years", Key: "free_end"})
		case (c.At == "hem" || c.At == "sleeve") && c.FreeEnd > 0:
			out = append(out, CordFault{Rule: euCords, Says: "figures of its own for cords at the " + c.At + ", and none to hang out at the ankle", Key: "free_end", Ask: true})
		case !top && c.At == "waist" && c.FreeEnd > euFreeEnd:
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "free ends at the waist at most 14 cm, open flat", Limit: euFreeEnd, Key: "free_end"})
		}
		if top && c.Loop > euLoop {
			out = append(out, CordFault{Rule: euCords + ":2007", Says: "a loop at the hood at most 15 cm round", Limit: euLoop, Key: "loop"})
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
	case top && size <= 12:
		says := "no drawstring at hood or neck in sizes 2T to 12"
		if size < 2 {
			says += ", and what strangles a child of 2 strangles a younger one"
		}
		return []CordFault{{Rule: usCords, Says: says, Banned: true, Key: "at"}}
	case top:
		return []CordFault{{Says: "outside the sizes of " + usCords + ", 2T to 12, but a cord at the neck can strangle at any age", Key: "at"}}
	case c.At == "sleeve" || size > 16:
		return nil
	}
	for2T := ""
	if size < 2 {
		for2T = " from size 2T, the more so below it"
	}
	if c.FreeEnd > usFreeEnd {
		out = append(out, CordFault{Rule: usCords, Says: "free ends at most 3 in outside the channel" + for2T, Limit: usFreeEnd, Key: "free_end"})
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
	if err != nil || n < 0 {
		return 0
	}
	return n
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
func isInfant(g *catalog.Garment) bool { return youngest(g) < 3 }

// cordCase is the strictest case of a cord among the sizes of the garment.
func cordCase(g *catalog.Garment, c *catalog.GarmentCord) CordCase {
	out := CordCase{
		Market: market(g), Age: 4, Height: g.Height.V, At: c.At,
		FreeEnd: c.FreeEnd.V, Ends: c.Ends, Loop: c.Loop.V,
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
			if h := measure.FromMM(n * 10); out.Height == 0 || h < out.Height {
				out.Height = h
			}
		case out.Market == "us" && n >= 1 && n <= 20:
			// A size inside 2T to 12 binds the whole range.
			if out.Size == 0 || n < out.Size && n >= 2 || out.Size < 2 {
				out.Size = n
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

// again says whether an earlier closure has the same fastener, so that what is
// only worth knowing about it has been said.
func (x *Context) again() bool {
	if x.C.Use == "" {
		return false
	}
	for i := range x.C.Index {
		if x.G.Closures[i].Use == x.C.Use {
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
		Why:     "A hood cord that one market forbids to 7 years another forbids to size 12.",
		Sources: []string{"16 CFR 1120 for the US; EN 14682 as the Finnish authority Tukes explains it for the EU"},
		garment: true,
		Check: func(x *Context) {
			if IsChild(x.G) && x.G.Market == "" {
				x.report(Note, whole("wearer"), Numbers{}, "it is not said where this is sold: the rules named are those of the US; write market = \"eu\" for those of the EU")
			}
		},
	},
	{
		Name: "safety-cord-top", Severity: Conflict,
		Task:    TaskSell,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no cord at the hood or neck of a young child's garment",
		Formula: "US: none in sizes 2T to 12, nor below; EU: none to 7 years or 134 cm, from 7 to 14 no free ends and no loop over 15 cm round",
		Why:     "The cord catches in a slide, a lift or a door, and strangles. Children have died of it.",
		Sources: []string{
			"16 CFR 1120 and ASTM F1816-97: children's upper outerwear",
			"EN 14682, as Tukes, the Finnish authority, explains it",
			"EN 14682:2007, laboratory's note, superseded by the edition of 2014: loop 15 cm, no knots or toggles, tacked midway",
		},
		Ours:    "a cord that the rule of the market forbids is a conflict, since the garment may not be sold with it; the others are cautions. The strictest of the sizes counts, and where neither age nor size is known a child of 4",
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
		Formula: "US, sizes 2T to 16, and borrowed below: free ends at most 3 in outside the channel, no knots or toggles on them, a cord of one piece stitched down; EU, 2007 edition: free ends at the waist at most 14 cm open flat (hem and sleeve have figures of their own), no knots or toggles, tacked midway",
		Why:     "A long end with a toggle catches in a bus door and drags the child along.",
		Sources: []string{
			"16 CFR 1120 and ASTM F1816-97: children's upper outerwear",
			"EN 14682:2007, laboratory's note, superseded by the edition of 2014",
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
		Formula: "small-parts cylinder 1.25 in across, 1 to 2.25 in deep: a disc up to 1.25 in across fits; a rod fits for sure where length + thickness ≤ 2.25 in, never over 65.4 mm",
		Why:     "Children under three put everything into the mouth.",
		Sources: []string{
			"16 CFR 1501.4, figure 1: the cylinder; its bore and depth from memory",
			"16 CFR 1501.3(d): children's clothing and accessories such as buttons are exempt",
			"EN 71-1, annex A.36, takes the same cylinder for toys; CEN/TS 17394-1 is for children's clothing",
			"geometry: discs and rods in a cylinder",
		},
		Others: "16 CFR 1501 is often quoted against buttons; it exempts them. Buyers' own standards do apply it.",
		others: true,
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
			} else if x.again() {
				return
			}
			fits := "fits"
			if g == GaugeTry {
				fits = "may fit"
			}
			rule := "16 CFR 1501 exempts buttons and the like on children's clothing, but it is a choking concern all the same"
			if market(x.G) == "eu" {
				rule = "CEN/TS 17394 is about what children's clothing must hold, EN 71-1 only about toys"
			}
			x.report(sev, x.at("use"), Numbers{}, "the %s %s the small-parts cylinder if it comes off (%s): fix it well, pull at every one; %s", x.C.Notion.Kind, fits, rule, askFirst)
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
		Formula: "tested holding force (pull) ≥ the figure borrowed for the age: US 10 lbf to 18 months, 15 lbf to 96 months, of the ages that the sizes span the largest; EU, clothing to 36 months: 50 N under 6 mm across, 70 N from there; older, the toy figure: 50 N to 6 mm, 90 N above",
		Why:     "What comes off in the hand goes into the mouth.",
		Sources: []string{
			"16 CFR 1500.50 to 1500.53, use and abuse of toys and other articles, by age, the most stringent where a label spans several: 10 lbf on seams read, 15 lbf from memory",
			"CEN/TS 17394-1:2021 with EN 17394-2:2020, test house's bulletin of 2021: buttons of clothing to 36 months, 70 N, 50 N from 3 to under 6 mm",
			"EN 71-1, laboratory's summary: 50 N to 6 mm, 90 N above",
			"EN 17394-2:2020 and CEN/TS 17394-3:2021: how buttons and press fasteners of children's clothing are tested",
			"ASTM D7142 and D7842: how snaps and attached buttons are pulled; methods without a limit",
		},
		Others: "The trade also pulls 70 N for adults, 90 N for children, or 17 lbf for 10 s; a military tack button takes 60 lbf. They are not the same test.",
		others: true,
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
				if x.again() {
					return
				}
				x.report(Note, x.at("use"), Numbers{}, "ask what pull the %s holds in this cloth; %s %s from %s, a rule for toys; %s", n.Kind, asks, x.force(borrowed), rule, askFirst)
			case measure.Force(n.Pull.V) < need:
				x.report(Caution, x.at("use"), Numbers{Have: n.Pull.V, Need: need.N(), Margin: n.Pull.V - need.N(), Unit: "N", Compared: true}, "the %s holds %s; %s %s from %s, a rule for toys: take a stronger one, or reinforce the cloth and have it pulled", n.Kind, x.force(measure.Force(n.Pull.V)), asks, x.force(borrowed), rule)
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
		Formula: "EU: release ≤ 0.5 µg/cm² a week where it touches the skin directly and long, < 0.2 for posts in pierced parts of the body; a coating must keep that for 2 years of wear",
		Why:     "Nickel makes skin itch for life.",
		Sources: []string{
			"REACH annex XVII, entry 27: rivet buttons, tighteners, rivets, zips and metal marks in garments",
			"EN 1811 and EN 12472: how it is measured, by a testing company's bulletin",
		},
		Others: "How long is long: 10 minutes three times, or 30 once, within two weeks, from memory.",
		others: true,
		Check: func(x *Context) {
			n := &x.C.Notion
			if market(x.G) != "eu" || !metal(n) {
				return
			}
			switch {
			case !n.Nickel.Has():
				if x.again() {
					return
				}
				x.report(Note, x.at("use"), Numbers{}, "if the metal of the %s touches the skin for long, entry 27 of REACH annex XVII limits its nickel: ask the maker for a report by EN 1811", n.Kind)
			case NickelOver(n.Nickel.V, false):
				x.report(Caution, x.at("use"), Numbers{Have: n.Nickel.V, Need: 0.5, Margin: 0.5 - n.Nickel.V, Unit: "µg/cm² a week", Compared: true}, "the %s releases %s µg/cm² of nickel a week, over the 0.5 of entry 27 of REACH annex XVII for what touches the skin long; %s", n.Kind, trim(n.Nickel.V), askFirst)
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
		Formula: "US, children to 12: ≤ 100 parts per million in accessible material, ≤ 90 in paint; electroplate is not paint",
		Why:     "Lead is swallowed with every lick, and stays.",
		Sources: []string{"US Consumer Product Safety Commission, guidance on total lead and on lead in paint; 16 CFR 1303"},
		others:  true,
		Check: func(x *Context) {
			n := &x.C.Notion
			if !IsChild(x.G) || market(x.G) != "us" {
				return
			}
			if youngest(x.G) > 12 {
				return
			}
			limit := LeadLimit(n.Coating)
			switch {
			case n.Lead.Has() && n.Lead.V > limit:
				x.report(Caution, x.at("use"), Numbers{Have: n.Lead.V, Need: limit, Margin: limit - n.Lead.V, Unit: "parts per million", Compared: true}, "the %s has %s parts per million of lead, over the %s for a child's product; %s", n.Kind, trim(n.Lead.V), trim(limit), askFirst)
			case !n.Lead.Has() && (metal(n) || n.Coating == "painted") && !x.again():
				x.report(Note, x.at("use"), Numbers{}, "ask the maker for the lead in the %s: at most %s parts per million in a child's product; metal is not exempt from testing", n.Kind, trim(limit))
			}
		},
	},
	{
		Name: "safety-magnet", Severity: Caution,
		Task:    TaskBuySafely,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a strong magnet in a child's garment",
		Formula: "flux index (flux, kG² mm²) of a magnet that fits the small-parts cylinder: 50 or more, caution; snap-magnet speaks of magnets in general",
		Why:     "Two swallowed magnets pinch the gut between them.",
		Sources: []string{"16 CFR 1262.2 to .4: loose or separable magnets of amusement, jewellery and stress-relief goods, flux index under 50; a snap held fast in a coat is outside it, so the figure is borrowed"},
		Check: func(x *Context) {
			n := &x.C.Notion
			if !IsChild(x.G) || n.Spring != "magnet" && !n.Magnet.Or(false) || !n.Flux.Has() || !MagnetHazard(gaugeOf(n) != GaugeNo, n.Flux.V) {
				return
			}
			x.report(Caution, x.at("use"), Numbers{Have: n.Flux.V, Need: 50, Margin: 50 - n.Flux.V, Unit: "kG² mm²", Compared: true}, "the magnet of the %s has a flux index of %s: loose, it would be a hazard by 16 CFR 1262, which is not about garments; take another closure; %s", n.Kind, trim(n.Flux.V), askFirst)
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			for _, n := range x.G.Catalog.Notions {
				if n.Kind == x.C.Notion.Kind && !n.Magnet.Or(false) && n.Spring != "magnet" && n.Attach == x.C.Notion.Attach {
					out = append(out, Change{With: x.use(n.Name), Says: "use " + n.Name, Cost: (plan.AcrossOf(n) - plan.AcrossOf(&x.C.Notion)).Abs().MM()})
				}
			}
			return cheapest(out, 6)
		},
	},
	{
		Name: "safety-sharp", Severity: Caution,
		Task:    TaskFasten,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no point or edge to be felt",
		Formula: "prongs, nails, posts and hooks on a garment for under 8 years: feel both sides after setting; point_sharp = true: caution",
		Why:     "A prong that missed its ring scratches a neck at every turn of the head.",
		Sources: []string{"16 CFR 1500.48 and 1500.49, sharp points and edges: for toys and articles for under 8 years; borrowed for garments"},
		others:  true,
		Check: func(x *Context) {
			n := &x.C.Notion
			if !IsChild(x.G) {
				return
			}
			if youngest(x.G) >= 8 {
				return
			}
			switch {
			case n.PointSharp.Or(false):
				x.report(Caution, x.at("use"), Numbers{}, "a point or edge of the %s can be felt: cover it or take another; %s; %s", n.Kind, sharpRule(x.G), askFirst)
			case (SetWithTool(n) || n.Kind == catalog.Hook) && !x.again():
				x.report(Note, x.at("use"), Numbers{}, "feel both sides of every %s after it is set: no prong, nail or edge may stand out (%s)", n.Kind, sharpRule(x.G))
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
				x.report(Caution, whole("costume"), Numbers{}, "dress-up clothes are toys in the EU: EN 71 binds, small parts, pull and flame; %s", askFirst)
			default:
				x.report(Note, whole("costume"), Numbers{}, "dress-up clothes may count as toys: %s", askFirst)
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
		Formula: "US: size to 9 months and one piece to 64.8 cm, or two pieces to 40 cm each: infant garment, 16 CFR 1610 and 1611 only; else the full test of 16 CFR 1615 (to 6X) or 1616 (7 to 14)",
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
			most := 648 * mm
			if s.Parts.Or(1) == 2 {
				most = 400 * mm
			}
			switch InfantGarment(s.Months.Or(12), s.Parts.Or(1), s.Length.V) {
			case Yes:
				x.report(Note, whole("sleepwear"), atMost(s.Length.V, most), "by its size and length this may count as an infant garment, for which 16 CFR 1610 and 1611 stand in place of the full test of 1615; put the size in months on the label; %s", askFirst)
			case Unsure:
				x.report(Caution, whole("sleepwear.length"), atMost(s.Length.V, most), "%s lies between 64.8 cm and 25.75 in, which 16 CFR 1615 prints as the same: keep to 64.8 cm", x.say(s.Length.V))
			default:
				x.report(Caution, whole("sleepwear"), atMost(s.Length.V, most), "this is not an infant garment (to 9 months and %s): 16 CFR 1615, or 1616 from size 7, asks the full flame test; %s", x.say(most), askFirst)
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
		Why:     "Struck steel chips, and posts fly when they are hit askew.",
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
				x.report(Note, whole(source.Item("closure", i)), Numbers{}, "%s", SetSafely(s, c.Set, text.Plural(c.Notion.Kind)))
			}
		},
	},
	{
		Name: "work-needle", Severity: Note,
		Task:    TaskNeedle,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a needle that strikes breaks, and pieces fly",
		Formula: "layers or a thick place over 4/5 of what the foot lifts",
		Why:     "A bent needle hits the plate at full speed.",
		Sources: []string{
			"OSHA letter of 20 May 1976 and 29 CFR 1910.212: the needle is a point of operation",
			"household machine manual: do not pull the cloth, the needle may break",
		},
		Ours:    "4/5 of the lift as near",
		garment: true,
		Check: func(x *Context) {
			m := &x.G.Machine
			if !m.FootLift.Has() {
				return
			}
			near := m.FootLift.V * 4 / 5
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
					x.report(Note, whole(source.Item("closure", i)), Numbers{}, "the layers of the %s come near what the foot lifts: wear eye protection, turn the wheel by hand over the thick places, never pull the cloth, and keep the pieces of a broken needle together", k.Closure.Name)
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
		Why:     "A tip left in a seam works its way out against the skin.",
		Sources: []string{"UK factory policy on broken needles: needle for needle, every fragment recovered, or the piece is set aside"},
		garment: true,
		Check: func(x *Context) {
			if IsChild(x.G) {
				x.report(Note, whole("wearer"), Numbers{}, "count needles and pins: if one breaks, find every piece before you go on, and set the garment aside if one is missing")
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
		k, at := cordCase(x.G, c), len(x.P.Findings)
		for _, f := range k.Faults() {
			switch {
			case f.Banned:
				x.report(Conflict, whole(CordPath(i, f.Key)), Numbers{}, "the cord %s: %s allows %s. Take it out and close with elastic or snaps (write instead); %s", c.Name, f.Rule, f.Says, askFirst)
			case f.Ask:
				x.report(Note, whole(CordPath(i, f.Key)), Numbers{}, "the cord %s: %s has %s; read them before you let it hang out %s", c.Name, f.Rule, f.Says, x.say(k.FreeEnd))
			case f.Limit > 0:
				have := k.FreeEnd
				if f.Key == "loop" {
					have = k.Loop
				}
				x.report(Caution, whole(CordPath(i, f.Key)), atMost(have, f.Limit), "the cord %s measures %s; %s allows %s; %s", c.Name, x.say(have), f.Rule, f.Says, askFirst)
			case f.Rule == "":
				x.report(Caution, whole(CordPath(i, f.Key)), Numbers{}, "the cord %s lies %s; take it out or %s", c.Name, f.Says, "ask an accredited laboratory")
			default:
				x.report(Caution, whole(CordPath(i, f.Key)), Numbers{}, "the cord %s: %s asks for %s; %s", c.Name, f.Rule, f.Says, askFirst)
			}
		}
		if !top && c.Instead == "" && !c.FreeEnd.Has() {
			x.report(Note, whole(CordPath(i, "at")), Numbers{}, "say how far the ends of the cord %s hang out when the garment lies open (free_end)", c.Name)
		}
		for j := at; j < len(x.P.Findings); j++ {
			x.P.Findings[j].Sources = ofMarket(x.G, x.P.Findings[j].Sources)
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

// sharpRule names whose rule on points and edges is borrowed in the market.
func sharpRule(g *catalog.Garment) string {
	if market(g) == "eu" {
		return "laboratories look as they do at toys, by EN 71-1"
	}
	return "16 CFR 1500.48 and .49 are for toys and articles, and laboratories borrow them"
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
var plainCord = []string{"cord.*.instead", "cord.*.free_end", "cord.*.loop", "cord.*.ends", "cord.*.tacked"}

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
			l := usFreeEnd
			switch {
			case c.At == "hood" || c.At == "neck":
				l = 0
			case market(x.G) == "eu":
				l = euFreeEnd
			}
			l = l.Most(x.U)
			return []Change{{With: []catalog.With{catalog.SetLength(key("free_end"), l, x.U)}, Says: "cut the free ends to " + x.down(l), Cost: (c.FreeEnd.V - l).MM() / 10}}
		case CordPath(i, "loop"):
			loop := measure.Length(euLoop).Most(x.U)
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
func trim(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
