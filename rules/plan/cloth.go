package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

// Limit is how hot a cloth may be pressed.
type Limit struct {
	Symbol measure.Temperature // by the care symbol of its most delicate fibre
	Other  measure.Temperature // by another published table, 0 where it has none
	Fibre  string              // the fibre that sets Symbol; "" when none is known
	Fibres string              // all that need so little heat, in words
	Share  float64             // percent of them

	// Bulk is the limit of the most delicate fibre that, with those more
	// delicate, makes up half of the cloth or more: what it is pressed at.
	Bulk      measure.Temperature
	BulkFibre string

	// Main is the limit that a source covers: of the most delicate fibre that,
	// with those more delicate, makes up BlendShare of the cloth. It is the limit
	// itself where that fibre is so much of it.
	Main      measure.Temperature
	MainOther measure.Temperature
	MainFibre string
	Ground    Ground // what Main rests on, by the fibre's entry
}

// BlendShare is the share, percent, of which a source says that a blend goes by
// its most delicate fibre: an iron maker's manual, 70 % synthetic with 30 %
// cotton. Of less it says nothing.
const BlendShare = 70

// BulkShare is the share, percent, from which on fibres are the bulk of a cloth,
// which it is pressed by: ours.
const BulkShare = 50

// Heats, °C.
const (
	FuseLow, FuseHigh measure.Temperature = 120, 165          // ours: the printed figures of all makers lie between
	HeatMargin        measure.Temperature = 10                // ours
	NoPressCloth                          = measure.ThreeDots // from three dots up, cotton and linen
	NoSteam                               = measure.OneDot    // up to it no steam: iron maker's manual
	SameHeat          measure.Temperature = 5                 // half of what heats are printed to; nearer is the same heat, in every file
	PolyamideWash     measure.Temperature = 60                // clothing-technology page: its high-temperature kinds
	tapeMelts         measure.Temperature = 150               // a sewer's trial, 2018
)

const (
	ShrinkShows = sixteenth // apart over the run: ours
	TurnShort   = sixteenth // of a turn of cloth, let pass: ours
	CollarTurn  = eighth    // of thin cloth: J. Barlup, Threads no. 131
	SeamTape    = 22 * mm   // police uniform specification, 2019: 7/8 in
)

// A block for medium cloth: W. D. F. Vincent, Systems of Cutting; what counts
// as thin and as heavy is ours.
const (
	BlockThinEase  = in / 2 // less a side
	BlockHeavyEase = in     // more a side

	BlockThin, BlockHeavy, BlockHeavyCoat measure.AreaWeight = 135, 400, 500
)

// Thresholds of cloth, heat and shrinkage.
var (
	BlendLimit     = Number("blend", BlendShare, "%", Published)
	BulkLimit      = Number("bulk", BulkShare, "%", Ours)
	OneDotLimit    = Heat("one", measure.OneDot, Published)
	ThreeDotsLimit = Heat("three", measure.ThreeDots, Published)

	HeatLimits = []Threshold{
		BlendLimit, OneDotLimit, Heat("two", measure.TwoDots, Published), ThreeDotsLimit,
		Number("same", float64(SameHeat), "°C", Ours), Number("margin", float64(HeatMargin), "°C", Ours),
		Number("coolest", float64(FuseLow), "°C", Ours), Number("hottest", float64(FuseHigh), "°C", Ours),
	}

	ShrinkShowsLimit = Inches("shows", ShrinkShows, Ours)
	TurnShortLimit   = Inches("short", TurnShort, Ours)
	SeamTapeLimit    = Metric("tape", SeamTape, Published)
	TapeMeltsLimit   = Heat("melts", tapeMelts, Published)
	PolyamideLimit   = Heat("washes", PolyamideWash, Published)
	WoolLimit        = Number("woolly", WoolShare, "%", Ours)

	BlockLimits = []Threshold{
		Inches("thin ease", BlockThinEase, Published), Inches("heavy ease", BlockHeavyEase, Published),
		Weight("thin", BlockThin, Ours), Weight("heavy", BlockHeavy, Ours), Weight("heavy coat", BlockHeavyCoat, Ours),
	}
)

// Covered says whether there is so much of the most delicate fibre that the
// whole cloth goes by it.
func (l *Limit) Covered() bool { return l.Main == l.Symbol }

// Pressed says whether the cloth is pressed at the limit of its most delicate
// fibre: whether that is the bulk of it.
func (l *Limit) Pressed() bool { return l.Bulk == l.Symbol }

// IronLimit is the limit of a blend: that of the fibre that needs the least
// heat, however little of it there is, and that of the bulk of it.
func IronLimit(cat *catalog.Catalog, shares map[string]float64) Limit {
	type fibre struct {
		name          string
		symbol, other measure.Temperature
		share         float64
		ground        Ground
	}
	var known []fibre
	var all, sum float64
	var delicate []string
	for name, share := range shares {
		f := cat.Fibre(name)
		if share <= 0 || f == nil || !f.Iron.Has() {
			continue
		}
		// A fibre that the other table does not list keeps to its symbol.
		known = append(known, fibre{name, f.Iron.V, f.IronOther.Or(f.Iron.V), share, EntryGround(&f.Entry)})
		all += share
	}
	if len(known) == 0 {
		return Limit{}
	}
	slices.SortFunc(known, func(a, b fibre) int {
		return cmp.Or(cmp.Compare(a.symbol, b.symbol), strings.Compare(a.name, b.name))
	})
	l := Limit{Symbol: known[0].symbol, Fibre: known[0].name, Other: known[0].other}
	for i := range known {
		k := &known[i]
		sum += k.share
		l.Other = min(l.Other, k.other)
		if k.symbol == l.Symbol {
			delicate = append(delicate, k.name)
			l.Share = sum
		}
		if l.Bulk == 0 && makesUp(sum, BulkShare, all) {
			l.Bulk, l.BulkFibre = k.symbol, k.name
		}
		switch {
		case l.Main == 0 && makesUp(sum, BlendShare, all):
			l.Main, l.MainFibre, l.MainOther, l.Ground = k.symbol, k.name, k.other, k.ground
			for j := range known {
				if known[j].symbol == k.symbol {
					l.MainOther = min(l.MainOther, known[j].other)
				}
			}
		}
	}
	l.Fibres = text.And(delicate...)
	return l
}

// makesUp says whether a sum of shares is so many percent of all of them.
func makesUp(sum, percent, all float64) bool { return sum >= percent*all/100-1e-9 }

// CutForShrink is what to cut so that a length is left after so many percent
// of shrinkage, more than 0 and less than 100; others are as none.
func CutForShrink(length measure.Length, percent float64) measure.Length {
	if percent >= 100 {
		return length
	}
	return Scale(length, 1/(1-max(0, percent)/100))
}

// ShrinkApart is how far two layers of that length come apart when they
// shrink by so many percent each.
func ShrinkApart(length measure.Length, a, b float64) measure.Length {
	return Scale(length, math.Abs(a-b)/100)
}

// LayerDistance is how far the middles of two layers lie apart, with so much
// between them.
func LayerDistance(outer, inner, between measure.Length) measure.Length {
	return (outer+inner)/2 + between
}

// TurnOfCloth is how much longer the outer of two layers must be when they
// are turned back on themselves, their middles d apart: π d.
func TurnOfCloth(d measure.Length) measure.Length { return Scale(d, math.Pi) }

// Turn is the turn of cloth of a stack, 0 where it has no two cloths.
func (s *Stack) Turn() measure.Length {
	first, last := s.cloths()
	if first == last {
		return 0
	}
	between := measure.Length(0)
	for i := range s.Layers[first+1 : last] {
		between += s.Layers[first+1+i].Thick
	}
	return TurnOfCloth(LayerDistance(s.Layers[first].Thick, s.Layers[last].Thick, between))
}

// TurnTol is the ± of Turn, that of the layers alone.
func (s *Stack) TurnTol() measure.Length {
	first, last := s.cloths()
	if first == last {
		return 0
	}
	sum := (s.Layers[first].Tol + s.Layers[last].Tol) / 2
	for i := first + 1; i < last; i++ {
		sum += s.Layers[i].Tol
	}
	return TurnOfCloth(sum)
}

// CollarSeams are the seam allowances of a collar that make its turn of
// cloth from a pattern with one allowance all round: the under collar trimmed
// on all edges, the upper one on its outer edges and at the neck (J. Barlup,
// Understand Turn-of-Cloth, Threads no. 131).
func CollarSeams(pattern measure.Length) (under, upperOuter, upperNeck measure.Length) {
	return pattern - quarter, pattern - eighth, pattern - quarter
}

// HoldsPress says whether a fold of the cloth stays where it was pressed.
func HoldsPress(c *catalog.Cloth) bool {
	if c.Presses.Has() {
		return c.Presses.V
	}
	switch c.Surface {
	case "looped", "pile", "coated", "laminated", "quilted":
		return false
	}
	switch c.Kind {
	case "fleece", "wadding", "pile", "leather", "waxed-cotton", "coated-cotton", "softshell", "laminate":
		return false
	}
	return true
}

// Shell is the outermost cloth of the layers, or nil.
func Shell(ls []catalog.Layer) *catalog.Cloth {
	for i := range ls {
		if ls[i].Cloth != nil {
			return ls[i].Cloth
		}
	}
	return nil
}

// Folded is the cloth that the edge is made of: the outermost, but under a
// patch of leather, which lies on one side alone, the cloth beneath it that
// comes again on the other.
func Folded(ls []catalog.Layer) *catalog.Cloth {
	top := Shell(ls)
	if top == nil || top.Kind != "leather" {
		return top
	}
	for i := range ls {
		cl := ls[i].Cloth
		if cl == nil || cl.Kind == "leather" {
			continue
		}
		for j := range ls[:i] {
			if ls[j].Cloth == cl {
				return cl
			}
		}
	}
	return top
}

// Together says whether a closure has the interfacing on the cloth: the cloth
// that it lies directly under, or over where it is the outermost layer.
func Together(ls []catalog.Layer, in *catalog.Interfacing, cl *catalog.Cloth) bool {
	for i := range ls {
		if ls[i].Interfacing != in {
			continue
		}
		on := (*catalog.Cloth)(nil)
		for k := i - 1; k >= 0 && on == nil; k-- {
			on = ls[k].Cloth
		}
		for _, l := range ls[i+1:] {
			on = cmp.Or(on, l.Cloth)
		}
		if on == cl {
			return true
		}
	}
	return false
}

// HolesStay says whether a needle hole in the cloth stays: in leather and what
// is coated or laminated. In wax it closes when it is warmed.
func HolesStay(c *catalog.Cloth) bool {
	return c.Kind == "leather" || c.Surface == "coated" && c.Kind != "waxed-cotton" || c.Surface == "laminated"
}

// Proofed says whether water comes through where the cloth is pierced, so that
// seams and set fasteners are sealed.
func Proofed(c *catalog.Cloth) bool {
	return (c.Surface == "coated" || c.Surface == "laminated") && c.Kind != "waxed-cotton" && c.Kind != "softshell"
}

// NoBasting says whether the cloth is clipped or taped rather than pinned and
// basted: where needle holes stay, and in wax.
func NoBasting(c *catalog.Cloth) bool { return HolesStay(c) || c.Kind == "waxed-cotton" }

// Unbasted says whether what a closure is sewn to is clipped or taped, not
// basted.
func Unbasted(c *catalog.Closure) bool {
	cl := Folded(c.Over)
	return cl != nil && NoBasting(cl)
}
