package plan

import (
	"fmt"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// Hardware is what is worked out for hardware that is set with a tool:
// tack buttons, rivets, snaps, eyelets. A length is 0 where nothing is known.
type Hardware struct {
	Needed  bool
	Attach  string      // tack, prong, post, semi-tubular, solid, double-cap, eyelet
	Setting Setting     // how it is set and what is looked at afterwards
	Sides   [2]GripSide // the stacks it is set through
	Count   int         // how many of them
	Packing measure.Length

	GripMin, GripMax measure.Length // range for the pressed stack
	GripGiven        bool           // whether there is a range
	GripGround       Ground         // what the range rests on

	Post             measure.Length // length of the post, prong or nail
	PostMin, PostMax measure.Length // what the stack asks for
	PostRule         string         // how PostMin and PostMax are worked out
	PostGround       Ground         // what that rests on

	Into             string         // cloth, webbing, leather, rigid
	Barrel           measure.Length // width of the post, nail or barrel
	Punch            measure.Length // hole to make: given, the maker's, or worked out
	HoleMin, HoleMax measure.Length // limits of it; HoleMax itself is too wide in cloth and webbing

	EdgeLeast   measure.Length // centre to finished edge, at least
	LayersLeast int
	Splits      int // splits of the set barrel that may be let pass, NoBarrel where it has none
}

// Setting is how hardware is set.
type Setting string

// The settings.
const (
	SetNail    Setting = "nail"    // of a tack button: pushed through from underneath into the head's hub
	SetProngs  Setting = "prongs"  // pressed through by themselves and curled
	SetBarrel  Setting = "barrel"  // forced through a hole and rolled over
	SetPlastic Setting = "plastic" // a plastic post, flattened with pliers
	SetRivet   Setting = "rivet"
	SetEyelet  Setting = "eyelet"
)

// SettingOf is how hardware is set, "" for what is sewn on.
func SettingOf(n *catalog.Notion) Setting {
	switch attach := AttachOf(n); {
	case !SetWithTool(n):
		return ""
	case n.Kind == catalog.TackButton:
		return SetNail
	case n.Kind == catalog.Rivet:
		return SetRivet
	case n.Kind == catalog.Eyelet:
		return SetEyelet
	case attach == "prong":
		return SetProngs
	case n.Spring == "plastic":
		return SetPlastic
	}
	return SetBarrel
}

// Struck says whether it is set by a blow, or may be: plastic is pressed.
func (s Setting) Struck() bool { return s != "" && s != SetPlastic }

// GripSide is one stack that hardware is set through.
type GripSide struct {
	Key       string // over, under
	Both      bool   // it is both together: a rivet goes through both
	Under     bool   // the stack that the fastener is set on, or both
	Free      measure.Length
	Pressed   measure.Length // packing included
	Layers    int
	Cloths    int
	Interf    bool // whether an interfacing is among them
	Estimated bool
	Sampled   bool           // Pressed was measured on a sample
	Tol       measure.Length // of Pressed
}

// Fit says how a stack lies to a range.
type Fit int8

// The fits.
const (
	TooThin Fit = iota - 1
	Fits
	TooThick
)

// FitOf says how a pressed stack lies to a grip range; a limit of 0 is none.
func FitOf(stack, lo, hi measure.Length) Fit {
	switch {
	case stack < lo:
		return TooThin
	case hi > 0 && stack > hi:
		return TooThick
	}
	return Fits
}

// SemiTubularPost is the shank of a hollow-ended rivet through a stack, for a
// share of its width that rolls over: 0.50 to 0.70 by the makers, 0.55 as one
// maker's general rule.
func SemiTubularPost(stack, width measure.Length, share float64) measure.Length {
	return stack + Scale(width, share)
}

// SolidPost is the shank of a solid rivet: the stack and about one width.
func SolidPost(stack, width measure.Length) measure.Length { return stack + width }

// SolidPostLong is another maker's rule for the same: 1.1 stack + 1.3 width.
func SolidPostLong(stack, width measure.Length) measure.Length {
	return Scale(stack, solidStack) + Scale(width, solidWide)
}

// DoubleCapPost are the posts of a double-cap rivet that serve a stack: from
// as long as the stack to 1/8 in (3 mm) more.
func DoubleCapPost(stack measure.Length) (lo, hi measure.Length) { return stack, stack + capMost }

// Posts beyond the pressed stack, from memory.
const (
	nailLeast, nailMost   = 2 * mm, 7 * mm           // inside the head and its hub: 8 mm in two layers of denim is the most usual
	prongLeast, prongMost = 3 * mm / 2, 2 * mm       // to curl
	postLeast, postMost   = 5 * mm / 2, 4 * mm       // a snap's post: about 1/8 in
	rivetLeast, rivetMost = 0.50, 0.70               // of the shank's width: three makers
	rigidLeast, rigidMost = in / 100, in * 15 / 1000 // over the shank: a fastener maker
	solidStack, solidWide = 1.1, 1.3                 // times stack and width: a rivet maker
	capMost               = eighth                   // of a double-cap rivet: a bag-trade guide, 3 mm
)

const (
	StepFelt      = mm / 2  // ours: a smaller step is taken up by the cloth
	CordPlay      = mm / 2  // ours: of a cord in its eyelet
	SewnSnapSmall = 7 * mm  // sewing notes on sewn snaps: 7 to 14 mm in general
	SewnSnapBig   = 14 * mm // the same

	// TackPull is the least pull a military tack button and its tack hold
	// without deforming or parting: MIL-B-286D (1987).
	TackPull = 60 * measure.PoundForce
)

// punchShare is the part of a barrel that a hole in cloth is at least: ours.
var punchShare = Ratio{1, 2}

// Thresholds of hardware.
var (
	PostLimits = []Threshold{
		Number("hollow least", rivetLeast*100, "%", Published), Number("hollow most", rivetMost*100, "%", Published),
		Number("solid stack", solidStack, "", Published), Number("solid width", solidWide, "", Published), Inches("cap", capMost, Published),
		Metric("nail least", nailLeast, Memory), Metric("nail most", nailMost, Memory),
		Metric("prong least", prongLeast, Memory), Metric("prong most", prongMost, Memory),
		Metric("post least", postLeast, Memory), Metric("post most", postMost, Memory),
	}
	RigidLeastLimit = Thin("rigid least", rigidLeast, Published)
	RigidMostLimit  = Thin("rigid most", rigidMost, Published)
	PunchLimit      = Share("punch", punchShare, Ours)
	LayersLimit     = Number("layers", layersLeast, "", Memory)
	SpurLimit       = Number("spur", spurLayers, "", Published)
	StepLimit       = Thin("step", StepFelt, Ours)
	CordPlayLimit   = Thin("play", CordPlay, Ours)
	SewnSnapLimit   = Metric("big", SewnSnapBig, Published)
	TackPullLimit   = Force("pull", TackPull, measure.In, Published)
)

// The rules of PostRange in words that have no length in them.
var (
	hollowRule = fmt.Sprintf("pressed stack + %g to %g %% of the shank's width", PostLimits[0].Figure, PostLimits[1].Figure)
	solidRule  = fmt.Sprintf("pressed stack + the shank's width, to %g × stack + %g × width", solidStack, solidWide)
)

// PostRange are the lengths of post that serve stacks from thin to thick, the
// rule in words, and what it rests on. The words are empty where no rule is
// known.
func PostRange(attach string, thin, thick, width measure.Length, u measure.Unit) (lo, hi measure.Length, rule string, g Ground) {
	switch attach {
	case "semi-tubular":
		if width != 0 {
			return SemiTubularPost(thick, width, rivetLeast), SemiTubularPost(thin, width, rivetMost), hollowRule, Published
		}
	case "solid":
		if width != 0 {
			return SolidPost(thick, width), max(SolidPost(thin, width), SolidPostLong(thin, width)), solidRule, Published
		}
	case "double-cap":
		lo, _ = DoubleCapPost(thick)
		_, hi = DoubleCapPost(thin)
		return lo, hi, "pressed stack, to " + capMost.Text(u) + " more", Published
	case "tack":
		return thick + nailLeast, thin + nailMost, "pressed stack + " + measure.TextThinSpan(nailLeast, nailMost, u) + " inside the head and its hub (from memory)", Memory
	case "prong":
		return thick + prongLeast, thin + prongMost, "pressed stack + " + measure.TextThinSpan(prongLeast, prongMost, u) + " to curl (from memory)", Memory
	case "post":
		return thick + postLeast, thin + postMost, "pressed stack + " + measure.TextThinSpan(postLeast, postMost, u) + " (from memory)", Memory
	}
	return 0, 0, "", Published
}

// PunchRange are the limits of the hole for a post or barrel that wide. In
// cloth and webbing the hole must stay under the barrel, which is forced
// through; in rigid parts it is a little over the shank; for leather nothing
// published was found, and known is false.
func PunchRange(into string, barrel measure.Length) (lo, hi measure.Length, known bool) {
	switch into {
	case "rigid":
		return barrel + rigidLeast, barrel + rigidMost, true
	case "leather":
		return 0, 0, false
	}
	return punchShare.Of(barrel), barrel, true
}

// NoBarrel is the number of splits of what has no barrel to split: a nail, a
// prong, a plastic post, a rivet.
const NoBarrel = -1

// Splits is how many splits of a set barrel may be let pass: three in a snap
// in cloth, none in an eyelet with its washer.
func Splits(s Setting) int {
	switch s {
	case SetBarrel:
		return 3
	case SetEyelet:
		return 0
	}
	return NoBarrel
}

const (
	layersLeast = 2 // from memory
	spurLayers  = 3 // boating magazine on spur grommets
)

// AttachOf is how hardware is fixed, or "" for what is sewn on.
func AttachOf(n *catalog.Notion) string {
	switch n.Kind {
	case catalog.TackButton:
		return "tack"
	case catalog.Rivet:
		return n.RivetKind
	case catalog.Eyelet:
		return "eyelet"
	case catalog.Snap:
		switch {
		case n.Attach == "sewn":
			return ""
		case n.Attach == "" && n.Prongs.Has():
			return "prong"
		case n.Attach == "":
			return "post"
		}
		return n.Attach
	}
	return ""
}

// SetWithTool says whether a fastener is set with a tool, not sewn on.
func SetWithTool(n *catalog.Notion) bool {
	switch n.Kind {
	case catalog.TackButton, catalog.Rivet, catalog.Eyelet:
		return true
	case catalog.Snap:
		return n.Attach != "sewn"
	}
	return false
}

func hardwareOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Hardware {
	n := &c.Notion
	if !SetWithTool(n) {
		return Hardware{}
	}
	h := Hardware{
		Needed: true, Attach: AttachOf(n), Setting: SettingOf(n), Packing: c.Packing.V,
		GripMin: n.Grip.Min.V, GripMax: n.Grip.Max.V,
		GripGiven: n.Grip.Min.Has() || n.Grip.Max.Has(),
		Post:      n.Post.V, Barrel: n.PostWidth.V,
		EdgeLeast:   k.Reach.Rim + RimClear,
		LayersLeast: layersLeast, Splits: Splits(SettingOf(n)),
	}
	for _, m := range [2]catalog.Measured{n.Grip.Min, n.Grip.Max} {
		if m.Has() {
			h.GripGround = max(h.GripGround, notionGround(n, m, "grip"))
		}
	}
	if n.EyeletKind == "spur" {
		h.LayersLeast = spurLayers
	}
	// A tack goes through what lies under; a snap and an eyelet have a part on
	// either side. A rivet goes through all: through both sides where the file
	// gives both, else through the one that it gives.
	if n.Kind == catalog.Rivet && g.Stated(source.Item("closure", c.Index)+".under") {
		both := k.Over.on(&k.Under)
		h.side("under", true, &both)
		h.Sides[0].Both = true
	} else if n.Kind == catalog.Snap || n.Kind == catalog.Eyelet {
		h.side("over", false, &k.Over)
		if !SameLayers(c.Over, c.Under) || c.Sample.StackUnder.Has() {
			h.side("under", true, &k.Under)
		}
	} else {
		key := "under"
		if SameLayers(c.Over, c.Under) {
			key = "over"
		}
		h.side(key, true, &k.Under)
	}
	thin, thick := h.Stack()
	h.PostMin, h.PostMax, h.PostRule, h.PostGround = PostRange(h.Attach, thin, thick, h.Barrel, g.Units)
	h.Into = IntoOf(c)
	if h.Attach != "prong" && h.Barrel != 0 {
		h.HoleMin, h.HoleMax, _ = PunchRange(h.Into, h.Barrel)
		switch {
		case h.Into == "rigid":
			h.Punch = (h.HoleMin + h.HoleMax) / 2
		case h.Into != "leather" && h.Setting != SetNail: // a nail is pushed through
			h.Punch = Scale(h.Barrel, UsualPunch).RoundDown(mm / 10)
		}
		if n.Hole.Has() && h.Into != "rigid" {
			h.Punch = n.Hole.V
		}
	}
	if c.PunchHole.Has() {
		h.Punch = c.PunchHole.V
	}
	return h
}

const UsualPunch = 0.85 // ours: of the barrel, where the maker says nothing

func (h *Hardware) side(key string, under bool, s *Stack) {
	g := GripSide{Key: key, Under: under, Free: s.Thick + h.Packing, Pressed: s.Pressed + h.Packing, Estimated: s.Estimated, Sampled: s.SampledPressed(), Layers: len(s.Layers), Tol: s.PressedBasis().Tol}
	for i := range s.Layers {
		if s.Layers[i].Layer.Cloth != nil {
			g.Cloths++
		} else {
			g.Interf = true
		}
	}
	if h.Packing != 0 {
		g.Layers++
	}
	h.Sides[h.Count] = g
	h.Count++
}

// Stack is the thinnest and the thickest pressed stack.
func (h *Hardware) Stack() (thin, thick measure.Length) {
	if h.Count == 0 {
		return 0, 0
	}
	thin = h.Sides[0].Pressed
	for _, s := range h.Sides[:h.Count] {
		thin, thick = min(thin, s.Pressed), max(thick, s.Pressed)
	}
	return thin, thick
}

// SameLayers says whether a closure's two stacks are one and the same.
func SameLayers(a, b []catalog.Layer) bool {
	return slices.EqualFunc(a, b, func(a, b catalog.Layer) bool { return a.Name == b.Name })
}

// IntoOf is what hardware is set into.
func IntoOf(c *catalog.Closure) string {
	if c.Into != "" {
		return c.Into
	}
	for _, l := range c.Under {
		if l.Cloth != nil {
			if l.Cloth.Kind == "leather" {
				return "leather"
			}
			break
		}
	}
	return "cloth"
}
