package plan

import (
	"cmp"
	"fmt"
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Zip is what is worked out for zips. A length is 0 where it is not
// known.
type Zip struct {
	Needed bool

	Number    float64 // size number, 0 if not known
	NumberMin float64 // usual for the cloth
	NumberMax float64
	Group     string // ASTM size group, by millimetres
	GroupInch string // the same by the inch limits: differs at the bounds
	GroupBy   string // slider mouth, closed chain

	Chain    measure.Length // across the closed teeth
	Half     measure.Length // half of it, or of what the number says
	Tape     measure.Length // width of one tape, from its outer edge to the middle of the teeth
	Fold     measure.Length // middle of the teeth to a folded edge beside them
	Stitched measure.Length // stitching to the teeth
	TapeIn   measure.Length // tape's edge inside the cut edge; negative: beyond it

	FlyLeast, FlyUsual measure.Length // centre of the teeth to the edge of a flap over them

	Where     string // what the opening is: see WhereOf
	WhereSaid bool   // the file says so, or it follows; else it is to be asked

	Open  bool   // both ends come apart
	End   string // where it may be shortened: top, bottom
	Sizes []ZipSize
}

// ZipSize is the zip of one size.
type ZipSize struct {
	Size    string
	Top     measure.Length // top stop below the top of the run
	Need    measure.Length // finished opening less what is left free at the ends
	Length  measure.Length // given, or the nearest sold that is long enough; 0: none is
	Given   bool
	Listed  bool // Length is among the lengths sold, or none are listed
	CutOff  measure.Length
	Longest measure.Length // sold

	Buy     measure.Length // the length to buy: one that is sold, where lengths are listed; 0: none sold is long enough
	Shorten measure.Length // how much of it is taken off
}

// ZipGroups are the size groups of ASTM D3657-03 by the width of the slider's
// mouth. The millimetre and the inch limits are not the same; the standard
// says not to mix them.
var ZipGroups = [...]struct {
	Name string
	MM   measure.Length // up to and with it
	Inch measure.Length
}{
	{"1–2", mm * 38 / 10, in * 150 / 1000},
	{"3–4", mm * 57 / 10, in * 225 / 1000},
	{"5–6", mm * 7, in * 275 / 1000},
	{"7–10", math.MaxInt64, math.MaxInt64},
}

// ZipGroup is the size group of a slider mouth, by the millimetre and by the
// inch limits.
func ZipGroup(mouth measure.Length) (byMM, byInch string) {
	for i := len(ZipGroups) - 1; i >= 0; i-- {
		if mouth <= ZipGroups[i].MM {
			byMM = ZipGroups[i].Name
		}
		if mouth <= ZipGroups[i].Inch {
			byInch = ZipGroups[i].Name
		}
	}
	return byMM, byInch
}

const ChainOver = mm * 3 / 2 // two trade sources taken together

// ZipNumberMade says whether a size number exists: coil zips are made from 2
// to 25, and numbers are whole.
func ZipNumberMade(number float64) bool {
	return number == math.Trunc(number) && number >= 1 && number <= zipMade
}

// zipCloth are the classes of zip from and to for cloth up to a weight: weights
// from memory.
var zipCloth = [...]struct {
	upTo     measure.AreaWeight
	from, to int
}{{150, 0, 0}, {300, 1, 1}, {350, 1, 3}, {math.MaxFloat32, 2, 3}}

const zipLeather = 2 // class for leather: pattern maker's guide; police directive

// ZipNumberSold is the largest number of what garments take.
const ZipNumberSold = 10

// ZipNumbers are the numbers usual for a cloth of that weight, in g/m²; small
// places (pocket, cuff, fly of trousers) may take one class less.
func ZipNumbers(gsm float64, leather, small bool) (lo, hi float64) {
	i, j := 0, 0
	switch {
	case leather:
		i, j = zipLeather, zipLeather
	default:
		for _, c := range zipCloth {
			if i, j = c.from, c.to; gsm <= c.upTo.GSM() {
				break
			}
		}
	}
	if small {
		i = max(0, i-1)
	}
	return ZipClasses[i].lo, ZipClasses[j].Hi
}

// Classes of zip by number: light, medium, heavy, very heavy.
var ZipClasses = [...]struct{ lo, Hi float64 }{{1, 4}, {5, 6}, {7, 8}, {9, 25}}

// NearestZip is the shortest of the lengths sold that is at least need, and
// the longest sold; 0 where there is none.
func NearestZip(sold []measure.Length, need measure.Length) (fit, longest measure.Length) {
	for _, l := range sold {
		longest = max(longest, l)
		if l >= need {
			fit = min(cmp.Or(fit, l), l)
		}
	}
	return fit, longest
}

const (
	zipFold   = eighth  // ours: teeth to a folded edge beside them, so that the slider cannot rub it
	ZipStitch = quarter // stitching to the teeth, at least: US Army TM 10-8400-203-23, p. 79
	ZipTop    = in / 2  // top stop below the neck edge: a costume maker's page, 2015
	zipTopMM  = 13 * mm // the same in whole millimetres
	// ZipTopLeast is the nearest that the top stop is set below a neck edge:
	// a costume maker's other page, 2015; 7 mm by a textbook, as quoted.
	ZipTopLeast = quarter
	FlyPast     = quarter // ours: a flap reaches this far past the teeth
	FlyTape     = eighth  // ours: and this far past the tape
	ZipShort    = quarter // ours: what a zip may lack of its opening
	zipMade     = 25      // the largest number made: a chain maker's page, coil
)

// Thresholds of zips.
var (
	ZipTopLeastLimit = Inches("least", ZipTopLeast, Ours)
	ZipShortLimit    = Inches("short", ZipShort, Ours)
	ShortRunLimit    = Inches("run", shortRun, Ours)
	ChainOverLimit   = Metric("over", ChainOver, Published)
	ZipMadeLimit     = Number("made", zipMade, "", Published)
	FlyPastLimit     = Inches("past teeth", FlyPast, Ours)
	FlyTapeLimit     = Inches("past tape", FlyTape, Ours)
	SeamLimit        = Inches("seam", UsualSeam(measure.In), Practice)
	ZipGroupBands    = Words("groups", Published, func(u measure.Unit) string {
		words := ""
		for i := range ZipGroups {
			z := &ZipGroups[i]
			if z.MM == math.MaxInt64 {
				return words + ", " + z.Name + " over it"
			}
			if i != 0 {
				words += ", "
			}
			switch in, mm := fmt.Sprintf("%.3f in", z.Inch.In()), fmt.Sprintf("%.1f mm", z.MM.MM()); {
			case !u.IsAlone():
				words += z.Name + " up to " + mm + " (" + in + ")"
			case u.Is(measure.In):
				words += z.Name + " up to " + in
			default:
				words += z.Name + " up to " + mm
			}
		}
		return words
	})
	ZipNumberBands = Words("numbers", Memory, func(u measure.Unit) string {
		words := ""
		for i, c := range zipCloth {
			lo, hi := ZipClasses[c.from].lo, min(ZipClasses[c.to].Hi, ZipNumberSold)
			if i == len(zipCloth)-1 {
				words += fmt.Sprintf("over it: %g–%g; ", lo, hi)
				break
			}
			words += fmt.Sprintf("cloth up to %s: %g–%g; ", c.upTo.Text(inOwn(measure.MM, u)), lo, hi)
		}
		return words + fmt.Sprintf("leather: %g–%g", ZipClasses[zipLeather].lo, ZipClasses[zipLeather].Hi)
	})
	ZipFrontLimit = Number("front", ZipFrontMost, "", Ours)
)

// ZipFrontMost is the number that a front of light cloth may take: a zip maker
// has 3 and 5 for light clothing; up to the end of that class is ours.
const ZipFrontMost = 6

// ZipHalf is half the width of the closed chain, which is about as many
// millimetres wide as the zip's number says.
func ZipHalf(n *catalog.Notion) measure.Length {
	if n.Chain.V != 0 {
		return n.Chain.V / 2
	}
	return (measure.FromMM(n.Number.V) + mm) / 2
}

// FlyOver is how far a flap or a fly reaches past the middle of the teeth: at
// least, and usually, past the tape, which is counted from its outer edge to
// the middle of the chain.
func FlyOver(half, tape measure.Length) (least, usual measure.Length) {
	least = half + FlyPast
	return least, max(least, tape+FlyTape)
}

// WhereOf is what the opening of a closure is: as the file says, as it says of
// another closure of the opening, or a front where it is longer than a flap, a
// cuff or a tab would be. sure is false where it can only be asked.
func WhereOf(g *catalog.Garment, c *catalog.Closure) (where string, sure bool) {
	if c.Where != "" {
		return c.Where, true
	}
	for i := range g.Closures {
		if o := &g.Closures[i]; o.Where != "" && o.OpeningName() == c.OpeningName() {
			return o.Where, true
		}
	}
	for i := range g.Sizes {
		if c.Run.Length.At(i).V > shortRun {
			return "front", true
		}
	}
	return "", false
}

// MustPart says whether an opening must come apart at its end, so that a zip
// closed there does not do.
func MustPart(g *catalog.Garment, c *catalog.Closure) bool {
	where, _ := WhereOf(g, c)
	return where == "front"
}

// hasCloth says whether any cloth on either side of a closure is such a one.
func (k *Closure) hasCloth(is func(*catalog.Cloth) bool) bool {
	for _, s := range [2]*Stack{&k.Over, &k.Under} {
		for i := range s.Layers {
			if c := s.Layers[i].Layer.Cloth; c != nil && is(c) {
				return true
			}
		}
	}
	return false
}

// HolesStay says whether any cloth of a closure keeps a needle's holes, so that
// it is stitched once.
func (k *Closure) HolesStay() bool { return k.hasCloth(HolesStay) }

// Unbasted says whether any cloth of a closure is taped or clipped, not basted.
func (k *Closure) Unbasted() bool { return k.hasCloth(NoBasting) }

// UsualZipTop is how far below the neck edge a zip begins where nothing is said:
// 1/2 in, or 13 mm.
func UsualZipTop(u measure.Unit) measure.Length {
	if u.Is(measure.MM) {
		return zipTopMM
	}
	return ZipTop
}

// SmallZip says whether the place of a zip is a small one.
func SmallZip(where string) bool {
	switch where {
	case "pocket", "cuff", "fly", "flap", "collar", "tab":
		return true
	}
	return false
}

// HeaviestGSM is the weight of the heaviest cloth of the closure, and whether
// any is leather.
func HeaviestGSM(k *Closure) (gsm float64, leather bool) {
	for _, s := range [2]*Stack{&k.Over, &k.Under} {
		for i := range s.Layers {
			l := &s.Layers[i]
			if c := l.Layer.Cloth; c != nil {
				w := c.Weight.V.GSM()
				if !c.Weight.Has() {
					w = l.Thick.MM() * 1000 * flatDensity
				}
				gsm = max(gsm, w)
				leather = leather || c.Kind == "leather"
			}
		}
	}
	return gsm, leather
}

func zipOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Zip {
	n := &c.Notion
	if n.Kind != catalog.Zip {
		return Zip{}
	}
	z := Zip{
		Needed: true, Number: n.Number.V, Chain: n.Chain.V, Tape: n.Tape.V,
		Open: n.Opening == "separating" || n.Opening == "two-way", End: "bottom",
	}
	if z.Open {
		z.End = "top"
	}
	gsm, leather := HeaviestGSM(k)
	z.Where, z.WhereSaid = WhereOf(g, c)
	z.NumberMin, z.NumberMax = ZipNumbers(gsm, leather, SmallZip(z.Where))
	if z.Where == "front" {
		z.NumberMax = max(z.NumberMax, ZipFrontMost)
	}
	z.Half = ZipHalf(n)
	z.Fold, z.Stitched = z.Half+zipFold, ZipStitch
	switch {
	case n.Slider.Has():
		z.GroupBy = "slider mouth"
		z.Group, z.GroupInch = ZipGroup(n.Slider.V)
	case n.Chain.Has():
		z.GroupBy = "closed chain"
		z.Group, z.GroupInch = ZipGroup(n.Chain.V)
	}
	z.FlyLeast, z.FlyUsual = FlyOver(z.Half, z.Tape)
	if z.Tape != 0 {
		z.TapeIn = k.Stand.Seam - (z.Tape - z.Fold)
	}
	z.Sizes = make([]ZipSize, len(g.Sizes))
	for i, size := range g.Sizes {
		s := ZipSize{Size: size, Given: c.ZipLength.Has()}
		if c.Run.Length.Has() {
			run := c.Run.Length.At(i).V
			s.Top = c.Run.First.At(i).V
			if !c.Run.First.Has() && !IsShort(c, run) {
				s.Top = UsualZipTop(g.Units)
			}
			s.Need = max(0, run-s.Top-c.Run.Last.At(i).V)
		}
		var fit measure.Length
		fit, s.Longest = NearestZip(n.Lengths, s.Need)
		switch {
		case s.Given:
			s.Length = c.ZipLength.At(i).V
			s.Listed = len(n.Lengths) == 0
			for _, l := range n.Lengths {
				s.Listed = s.Listed || l == s.Length
			}
		case len(n.Lengths) == 0:
			s.Length, s.Listed = s.Need, true
		default:
			s.Length, s.Listed = fit, fit != 0
		}
		if s.Need != 0 {
			s.CutOff = max(0, s.Length-s.Need)
		}
		s.buy(n.Lengths)
		z.Sizes[i] = s
	}
	return z
}

// buy is the one length to buy: what the file says where it is sold, else the
// next that is.
func (s *ZipSize) buy(sold []measure.Length) {
	s.Buy = s.Length
	if !s.Listed && s.Length != 0 {
		s.Buy, _ = NearestZip(sold, max(s.Length, s.Need))
	}
	goal := s.Need
	if goal == 0 {
		goal = s.Length
	}
	if s.Shorten = max(0, s.Buy-goal); s.Shorten < ZipAsItIs {
		s.Shorten = 0
	}
}

// ZipAsItIs is how much longer than its opening a zip is left as it is: teeth
// come in whole pitches, and the length marked is nominal. Ours.
const ZipAsItIs = 2 * mm
