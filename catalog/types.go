package catalog

import (
	"slices"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// Origin says where a value came from.
type Origin uint8

// The origins, in rising order of authority.
const (
	Unset     Origin = iota
	Default          // taken because nothing was said
	Estimated        // worked out from other values, never measured
	Stock            // from a catalogue entry
	Given            // written in the garment file
)

// Measured is a length that may carry a measuring tolerance.
// From is Unset when nobody gave it.
type Measured struct {
	V, Tol measure.Length
	From   Origin
}

// Has says whether the length was given at all.
func (m Measured) Has() bool { return m.From != Unset }

// Or is the length, or d where none was given.
func (m Measured) Or(d measure.Length) measure.Length {
	if m.Has() {
		return m.V
	}
	return d
}

// Opt is a value that may be absent.
type Opt[T any] struct {
	V    T
	From Origin
}

// Has says whether the value was given at all.
func (o Opt[T]) Has() bool { return o.From != Unset }

// Or is the value, or d where none was given.
func (o Opt[T]) Or(d T) T {
	if o.Has() {
		return o.V
	}
	return d
}

// Range is a pair of limits, either of which may be absent.
type Range struct{ Min, Max Measured }

// Sized is one length for all sizes, or one for each.
type Sized []Measured

// Has says whether a value was given.
func (s Sized) Has() bool { return len(s) > 0 }

// At is the value for size i.
func (s Sized) At(i int) Measured {
	switch {
	case len(s) == 0:
		return Measured{}
	case len(s) == 1:
		return s[0]
	}
	return s[i]
}

// Entry is what every catalogue entry has.
type Entry struct {
	Name   string
	About  string
	Source string // publication, "common practice, no source", "from memory", "invented …"
	Sure   string // read, second-hand, derived, memory, invented

	Article  string // the supplier's number
	Supplier string
	Colour   string
	Price    Opt[float64] // of one piece, spool or metre
	Pack     Opt[int]
	Currency string // of the price: of the catalogue file it stands in; "" where that does not say

	File string   // the catalogue file it stands in; "" for the built-in stock
	Own  []string // keys that the garment's file says itself, over the entry; sorted
}

// Says says whether the garment's file itself has that key of an entry.
func (e *Entry) Says(key string) bool {
	_, own := slices.BinarySearch(e.Own, key)
	return own
}

// Named says whether it is an entry of a catalogue, or built on one. What the
// file does not say of a fastener of its own, say, nobody says.
func (e *Entry) Named() bool { return e.Sure != "" || e.File != "" }

// Kinds of fastener.
const (
	Button     = "button"
	TackButton = "tack-button"
	Snap       = "snap"
	Rivet      = "rivet"
	Eyelet     = "eyelet"
	Toggle     = "toggle"
	Frog       = "frog"
	Hook       = "hook"
	Zip        = "zip"
)

// Notion is a fastener: only the fields of its kind are filled.
type Notion struct {
	Entry
	Kind string // Button, TackButton, …

	Diameter, Thickness Measured
	Shape               string // flat, domed, ball, square, toggle, odd; "" is flat
	Side, Girth         Measured
	Holes               Opt[int]
	HoleGap, HoleSize   Measured // centres of a pair of holes; width of a hole
	Shank               Measured // rigid shank; absent: sewn through
	Material            string

	Post, PostWidth, Head, Flange, Hole Measured
	Grip                                Range
	Attach, Spring                      string
	Prongs                              Opt[int]
	RivetKind                           string
	EyeletKind                          string // plain, washer, spur
	Caps                                Range  // caps that a snap's working parts take

	Inside                  Measured
	Length, Width, ShortEnd Measured
	Section                 string // of a toggle seen end on: oval, box; "" is oval
	Knot, Cord              Measured

	Number         Opt[float64]
	Chain, Tape    Measured
	ChainThickness Measured
	Slider         Measured
	ZipKind        string
	HookKind       string
	Pitch          Measured // of a hook tape, hook to hook
	EyePitch       Measured // of the eye tape
	Opening        string   // separating, two-way, closed
	Lengths        []measure.Length

	Coating    string       // painted, plated, none
	Nickel     Opt[float64] // release, µg/cm²/week
	Lead       Opt[float64] // ppm
	Pull       Opt[float64] // tested holding force, N
	Magnet     Opt[bool]
	Flux       Opt[float64] // index of the magnet, kG² mm²
	PointSharp Opt[bool]
}

// Cloth is a cloth of the garment or of the catalogue.
type Cloth struct {
	Entry
	Kind      string // family: melton, duck, …
	Weight    Opt[measure.AreaWeight]
	Thickness Measured
	Density   Opt[float64] // bulk, g/cm³
	Spread    Opt[float64] // ± percent of an estimated thickness
	Pressed   Opt[float64] // share of the thickness left under the foot
	Fibre     map[string]float64
	Surface   string // flat, napped, looped, pile, coated, laminated, quilted
	Weave     string
	Frays     Opt[bool]
	Stretch   string // none, along, across, both
	Presses   Opt[bool]
	Width     Measured
	Repeat    Repeat
	Shrink    Opt[float64] // percent
}

// Repeat is the repeat of a check or plaid.
type Repeat struct {
	Along, Across Measured
	Even          Opt[bool]
	Pieces        Opt[int] // large pieces of the garment
	Stacked       Opt[int] // pieces that lie one below another in the layout
	Yardage       Measured // cloth the pattern asks for without matching
}

// Interfacing is an interfacing of the garment or of the catalogue.
type Interfacing struct {
	Entry
	Kind      string
	Weight    Opt[measure.AreaWeight]
	Thickness Measured
	Density   Opt[float64]
	Pressed   Opt[float64] // share of the thickness left under the foot
	Fixing    string       // fusible, sewn
	Fuse      Opt[measure.Temperature]
	Resin     string
	Width     Measured // of the goods
	Shrink    Opt[float64]
	Stretch   string
	Fibre     map[string]float64
}

// Thread is a sewing thread.
type Thread struct {
	Entry
	Tex                  Opt[measure.LinearDensity]
	Fibre                string
	Build                string
	Jobs                 []string
	NeedleMin, NeedleMax Opt[measure.NeedleSize]
	Metres               Opt[float64]
}

// Needle is a machine needle.
type Needle struct {
	Entry
	Size   Opt[measure.NeedleSize]
	Point  string
	System string
	Eye    Measured
	Jobs   []string
}

// Machine is the sewing machine and its limits.
type Machine struct {
	Entry
	Kind            string
	FootLift        Measured
	FootLiftExtra   Measured
	SewingMax       Measured
	ButtonholeMax   Measured
	ButtonholeSizes []measure.Length
	KeyholeSizes    []measure.Length
	Keyhole         Opt[bool]
	Swing           Range
	StitchMax       Measured
	NeedleMax       Opt[measure.NeedleSize]
	Underplate      Opt[bool]
	ThreadMinNumber Opt[float64]
}

// Family is a family of cloths, for estimating thickness from weight.
type Family struct {
	Entry
	Density, Spread, Pressed, Low, High Opt[float64]
}

// Fibre is what a fibre stands: its density and its ironing limit.
type Fibre struct {
	Entry
	Density         Opt[float64]
	Iron, IronOther Opt[measure.Temperature]
}

// CordPart is a drawcord or its lock.
type CordPart struct {
	Entry
	Thickness, Diameter Measured
	Material            string
}

// Layer is one layer of a stack: a cloth or an interfacing of the garment.
type Layer struct {
	Name        string
	Cloth       *Cloth
	Interfacing *Interfacing
}

// Stand is how the edge that carries the closure is made.
type Stand struct {
	Construction   string // folded, faced, band, fly
	Extension      Measured
	Finished       Measured // centre line to finished edge
	TurnUnder      Measured
	Seam           Measured
	Facing         Measured
	Band           Measured // finished width of a folded or separate band
	Strip          Measured
	StripFromEdge  Measured
	Strips         []Strip // of interfacings that lie beside the first
	TopstitchInset Measured
	Tuck           Measured  // of a folded band finished with a tuck: stitched this far from the fold
	Concealed      Opt[bool] // a folded band of three layers, the holes in the one beneath
}

// Strip is how an interfacing that lies beside the first is cut.
type Strip struct {
	Name     string // of the interfacing
	Width    Measured
	FromEdge Measured // where it begins, from the cut edge
}

// StripOf is what the file says of the strip of that interfacing, or nil.
func (s *Stand) StripOf(name string) *Strip {
	for i := range s.Strips {
		if s.Strips[i].Name == name {
			return &s.Strips[i]
		}
	}
	return nil
}

// Flap is a piece of its own that lies over an opening.
type Flap struct {
	Width Measured // meeting line to its finished edge
	Inset Measured // meeting line to the line of its fasteners
}

// Has says whether the closure has a flap.
func (f Flap) Has() bool { return f.Width.Has() || f.Inset.Has() }

// Sample is what a sewn sample of a closure taught: it wins over every formula.
type Sample struct {
	Stack        Measured // all layers of over, lying free
	StackUnder   Measured // all layers of under, lying free
	StackPressed Measured // all layers of over, pressed by the foot or the die
	HoleLength   Measured // the cut that passed the real fastener
}

// Has says whether anything was measured on a sample.
func (s Sample) Has() bool {
	return s.Stack.Has() || s.StackUnder.Has() || s.StackPressed.Has() || s.HoleLength.Has()
}

// Anchor is a place that wants a fastener near it.
type Anchor struct {
	Name       string
	At, Within Sized
}

// Clear is a stretch that must stay free of fasteners.
type Clear struct {
	Name         string
	From, To, At Sized  // At is a line without width; From and To are then At
	Pressed      string // open, one-side: of a seam that crosses; "" where it is none
}

// Count is how many fasteners: fixed, a range, or free.
type Count struct {
	Min, Max int
	Set      bool
}

// Run is the line the fasteners stand on.
type Run struct {
	Length      Sized
	First, Last Sized
	FirstMax    Sized // first may lie from First to FirstMax
	LastMax     Sized
	Count       []Count // one for all, or one a size
	GapMin      Sized
	GapMax      Sized
	GapAbout    Sized // wished for where the count is open
	Step        Measured
	Anchors     []Anchor
	Clears      []Clear
	Hem         Sized    // hem turned up at the end of the run
	HemUnder    Measured // its raw edge turned in
	Match       string   // cloth whose repeat the gaps keep
	Phase       Measured // where in that repeat every fastener lies, from the top
	Group       int
	GroupGap    Measured
}

// CountAt is the wish for size i.
func (r *Run) CountAt(i int) Count {
	switch {
	case len(r.Count) == 0:
		return Count{}
	case len(r.Count) == 1:
		return r.Count[0]
	}
	return r.Count[i]
}

// Rows are the two columns of a double-breasted front.
type Rows struct {
	Distance    Measured               // column to centre line
	Top, Bottom Measured               // the same where the columns are not parallel
	Own         map[int]measure.Length // rows, from 0, with a distance of their own
	Working     Opt[int]               // rows that button; the rest are for show
	Inner       Opt[bool]              // an inner (anchor) button holds the under front at the top row
	ShowHoles   Opt[bool]              // the rows for show have a hole that is sewn and not cut
}

// Check is where the bars of a checked cloth lie on the two fronts.
type Check struct {
	Cloth                string
	Over, Under          Measured // bar to centre line, towards the wearer's left
	OverAlong, UnderAlng Measured // bar below the neck edge
	Cut                  string   // mirror, same
	Band                 string   // matched, bias
}

// Closure is one line of fasteners.
type Closure struct {
	Index     int
	Name      string
	Where     string // front, pocket, flap, cuff, tab, collar, waist, hood
	Fastener  string
	Notion    Notion
	Use       string
	Hole      string // machine, keyhole, bound, hand, loop; "" computed
	Direction string // across, along; "" computed
	Lap       string // single, double, edge; "" single
	LapOver   string // right, left: the side of the wearer stated to lie on top; Garment.Over is the answer
	Opening   string // the opening it closes, as stated; see OpeningName
	Behind    string // closure of the same opening in the layer before this one
	Over      []Layer
	Under     []Layer
	Needle    Opt[measure.NeedleSize]
	Point     string
	Thread    string // name of a thread of the garment
	HoleLen   Measured
	Loop      Measured // length inside a loop
	Inset     Measured // of a toggle or frog: meeting line to where its cord and its loop are sewn on, inside, on both sides
	PunchHole Measured
	Stitch    Measured // intended stitch length
	Stand     Stand
	Flap      Flap
	Sample    Sample
	Run       Run
	Rows      Rows
	Check     Check
	Pieces    int
	Spare     int
	When      string // before-joining, after-joining
	Set       string // hand, press, machine: how hardware is set
	Backing   Measured
	ZipLength Sized
	Rule      string // hole-length rule asked for: see rules/hole.go
	Reinforce Opt[bool]
	Centred   Opt[bool] // of a hole along: its middle at the button
	Finish    string    // of the hole's cut edge: overcast, sealed, twice, corded
	Turn      Measured  // how much larger the upper layer is cut, for the turn of the cloth

	SewnBy         string // hand, machine: how a sewn fastener is sewn on
	ThreadShank    Measured
	ButtonThread   string // name of a thread of the garment
	ButtonStitches Opt[int]
	Edge           Measured // centre to the nearest finished edge
	Into           string   // cloth, webbing, leather, rigid: what hardware is set into
	ThicknessStep  Measured // how much the thickness changes under one fastener
	Packing        Measured // washers or a patch that fill the grip
	QuickOpening   Opt[bool]
	Cord           Measured // of a loop, or through an eyelet
}

// GarmentCord is a drawcord of the garment.
type GarmentCord struct {
	Index    int
	Name     string
	Use      string
	Part     CordPart
	At       string   // hood, neck, waist, hem, sleeve
	FreeEnd  Measured // outside the channel, the garment open flat
	DrawnIn  Measured // the same, the garment drawn in to fit
	Loop     Measured
	Ends     string // plain, knot, toggle, lock
	Tacked   Opt[bool]
	OnePiece Opt[bool]
	Circum   Measured
	Instead  string // elastic, snaps, none: what closes there in its place
}

// Sleepwear is nightwear for children, of which the US asks more.
type Sleepwear struct {
	Parts  Opt[int] // one-piece or two-piece
	Months Opt[int] // size in months
	Length Measured // of the garment, or of its longer part
}

// Garment is a garment file, checked, with its references resolved, or a
// variant of it.
type Garment struct {
	File    string
	Name    string
	Variant string // "" is the file itself
	Units   measure.Unit
	Wearer  string // adult, child, infant
	Market  string // us, eu
	Block   string // thin, medium, heavy: the cloth the block was drafted for
	CutFor  string // women, men, unisex: which side usually laps over
	HemAt   string // waist, hip, thigh, knee, below, none: how far down it reaches
	Age     Opt[float64]
	Height  Measured // of a child, for the EU bands

	Costume   Opt[bool] // dress-up clothes
	Care      string    // dry-clean, wash-30, wash-40, wash-60, wipe
	Sleepwear Sleepwear

	Machine      Machine
	MachineUse   string
	Sizes        []string // at least one; a garment without sizes has one, ""
	Make         Made     // how many of each are made: of a variant its own
	Currency     string   // of prices whose catalogue does not say; "" where nothing does
	Cloths       []*Cloth
	ClothNames   []string
	Interfacings []*Interfacing
	InterfNames  []string
	Threads      []*Thread
	ThreadNames  []string
	Closures     []Closure
	Cords        []GarmentCord
	Keep         []string
	Settled      []Settled
	Notes        []string // what was taken from an own catalogue instead of the stock
	Catalog      *Catalog

	units  measure.Unit     // that bare numbers are read in
	doc    *source.Document // with the what-if changes
	origin *source.Document // as read
	with   []With
	opts   Options
}

// Title is what the garment is called, with its variant.
func (g *Garment) Title() string {
	if g.Variant == "" {
		return g.Name
	}
	return g.Name + ", " + g.Variant
}

// LegRoom says whether the garment reaches below the hip, so that its front
// must let the legs move.
func (g *Garment) LegRoom() bool {
	return g.HemAt == "thigh" || g.HemAt == "knee" || g.HemAt == "below"
}

// ClothNamed finds a cloth of the garment, or nil.
func (g *Garment) ClothNamed(name string) *Cloth {
	for i, n := range g.ClothNames {
		if n == name {
			return g.Cloths[i]
		}
	}
	return nil
}

// InterfacingNamed finds an interfacing of the garment, or nil.
func (g *Garment) InterfacingNamed(name string) *Interfacing {
	for i, n := range g.InterfNames {
		if n == name {
			return g.Interfacings[i]
		}
	}
	return nil
}

// ThreadNamed finds a thread of the garment, or nil.
func (g *Garment) ThreadNamed(name string) *Thread {
	for i, n := range g.ThreadNames {
		if n == name {
			return g.Threads[i]
		}
	}
	return nil
}

// NameOf is the garment's own name for one of its cloths.
func (g *Garment) NameOf(c *Cloth) string {
	for i := range g.Cloths {
		if g.Cloths[i] == c {
			return g.ClothNames[i]
		}
	}
	return ""
}

// Stated says whether the file, or a what-if change, has a value at the path.
func (g *Garment) Stated(path string) bool {
	if g.doc == nil {
		return false
	}
	_, ok := g.doc.Get(path)
	return ok
}

// At is the place in the file of a path such as "closure[0].stand.extension",
// or of its nearest parent that the file has.
func (g *Garment) At(path string) source.Pos {
	if g.doc == nil {
		return source.Pos{File: g.File}
	}
	return g.doc.Pos(path)
}

// Mark is the place of a path with the text of its line and how much of it
// to mark, for a message that shows the line.
func (g *Garment) Mark(path string) source.Problem {
	if g.doc == nil {
		return source.Problem{Pos: source.Pos{File: g.File}}
	}
	return g.doc.Problem(path, "", "")
}
