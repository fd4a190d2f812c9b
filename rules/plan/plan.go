// Package plan works out every number and place of a garment's closures. It
// knows no severity and judges nothing: package rules does.
package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/spacing"
)

// Plan is every number and place worked out for a garment.
type Plan struct {
	Garment  *catalog.Garment
	Closures []Closure

	bare  bool               // layouts without what only words need
	runs  map[runKey]laidRun // layouts found before, nil where none are kept
	tries *Tries             // nil: each layout may try as many places as it likes
}

// New is the plan of a garment with nothing worked out yet, for a search
// that works out each closure itself: Work and WorkOn do. bare leaves out
// what only words need, and lays pieces when they are asked for.
func New(g *catalog.Garment, bare bool) *Plan {
	return &Plan{Garment: g, Closures: make([]Closure, len(g.Closures)), bare: bare}
}

// Of works out the plan of a garment.
func Of(g *catalog.Garment, bare bool) *Plan {
	p := New(g, bare)
	p.All()
	return p
}

// All works out every closure.
func (p *Plan) All() {
	for i := range p.Closures {
		p.Work(i)
	}
	p.LayPieces()
}

// KeepRuns keeps the layouts that are found, so that a search over many
// plans does not solve the same run again.
func (p *Plan) KeepRuns() { p.runs = map[runKey]laidRun{} }

// Closure is everything worked out for one closure.
type Closure struct {
	Closure *catalog.Closure
	Over    Stack // what the hole goes through
	Under   Stack // what the fastener is set on
	Reach   Reach
	Hole    Hole
	Stand   Stand
	Support Support
	Needle  Needle
	Thread  Thread
	Stitch  Stitch
	Sewing  Sewing
	Sizes   []Size

	Hardware Hardware
	Zip      Zip
	Loop     Loop
	Places   []Place // thick places, thickest first

	Pieces  [][]Piece // of the opening, by size, in the first closure that closes it
	PieceOf string    // in the others: the name of that first one
}

// Layer is one layer of a stack.
type Layer struct {
	Layer     catalog.Layer
	Thick     measure.Length
	Tol       measure.Length
	Pressed   measure.Length
	Share     float64 // Pressed / Thick
	ShareRead bool    // the file says Share; else it is from memory
	Estimated bool
	Ground    Ground // what Thick rests on
}

// Stack is the layers sewn or gripped together.
type Stack struct {
	Layers    []Layer
	Thick     measure.Length // lying free
	Tol       measure.Length // ± of Thick: the layers' added up
	Pressed   measure.Length // under the foot or the setting die
	Estimated bool           // at least one layer was estimated from its weight

	// Free and Press are what Thick and Pressed rest on where a sewn sample
	// gave them; without a key where it did not. The layers stay as they are:
	// the sample does not say which of them is thinner.
	Free, Press Basis
	Raised      measure.Length // what Thick is more than that for Pressed
}

// Reach is how far a fastener and its hole reach from its centre.
type Reach struct {
	Up, Down measure.Length // along the run
	Rim      measure.Length // half the fastener's widest way across
	In, Out  measure.Length // across the run, inside and towards the edge
}

// Hole is the buttonhole, or the loop.
type Hole struct {
	Needed    bool   // whether this closure has one
	Kind      string // machine, keyhole, bound, hand, loop
	Direction string // across, along
	Passing   measure.Length
	Ease      measure.Length
	Wanted    measure.Length // passing and ease, rounded up to what can be marked
	Length    measure.Length // of the cut: what was asked for, a machine's fixed length, or Wanted
	Stitched  measure.Length // with its two bars
	Width     measure.Length // of the stitched hole
	Pitch     measure.Length // from stitch to stitch of a machine's hole
	Given     bool           // Length was written in the file
	Sampled   bool           // Passing is the cut that passed on a sample, ease and all
	Formula   measure.Length // what Passing would be by the fastener's shape
	Fixed     bool           // Length is the next that the attachment sews
	Beyond    measure.Length // across: from the centre line towards the edge; along: above the button's centre
	Inside    measure.Length // across: the rest; along: below it

	Centred bool           // along: its middle lies at the button
	Advised measure.Length // what passes with its usual ease, whatever rule was asked for

	// Worked by hand: depth of the purls on either side, twist for one hole, and
	// whether it is worked over a gimp. Bound: the strip for the lips of one hole.
	Purl, Twist         measure.Length
	Gimp                bool
	LipWidth, LipLength measure.Length

	BeyondMachine string         // why the machine does not sew it as planned, "" where it does: SewsNone and so on
	MachineSews   measure.Length // what it sews instead: its longest, or its next fixed length; 0 where it sews none
}

// Stand is the button stand and the band that makes it.
type Stand struct {
	Least, Usual, Full measure.Length
	Have               measure.Length // line of the holes to finished edge: from the centre line, double-breasted from the outer column; of a zip from its teeth, negative where the edge lies inside them
	Column             measure.Length // double-breasted: centre line to column, the farthest; else 0
	Known              bool           // Have follows from the file; otherwise it is Full
	Drafts             bool           // Have is for the pattern to draft: told rounded up
	Lost               bool           // the file leaves no stand: its edge lies on the line of the holes or inside it, and nothing follows from it; Have is 0
	Past               measure.Length // then: how far inside that line
	From               string         // path of the value it follows from
	Construction       string
	Band               measure.Length // finished width of a folded or separate band
	BandKnown          bool
	Folds              int
	FoldLoss           measure.Length // cloth thickness taken by the folds
	FoldCore           measure.Length // of it, what the fold at the edge goes round
	Extension          measure.Length // centre line to cut edge: given or to be drafted
	BandCut            measure.Length // cut width of a separate band
	TurnUnder, Seam    measure.Length
	FacingCut          measure.Length

	// How far inside the centre line a facing must reach, so that holes end
	// on it and fasteners stand on it: least and usual.
	FacingLeast, FacingUsual measure.Length
}

// Support is the interfacing under the holes and fasteners.
type Support struct {
	Needed      bool
	Least       measure.Length // width of strip, conflict below
	Usual       measure.Length // caution below
	Strip       measure.Length // given, or Usual rounded up
	Given       bool
	Reach       measure.Length // how far inside the line of the holes it must reach at least
	UsualReach  measure.Length // and how far it should: the same for holes along the edge
	Begins      measure.Length // how far outside the line of the holes it begins
	Placed      bool           // where it begins follows from the file
	Whole       measure.Length // for holes along a band and for hardware on it: all of its width, which is usual; else 0
	Covers      measure.Length // how far the strip reaches inside the line of the holes
	BareCords   bool           // cords are sewn on apart from it, past the seam of the band that it ends at
	Waits       string         // the rule that must be settled before a strip can be told: it would begin at an edge that is not there, or past all that it carries. It has no Strips then
	Interfacing *catalog.Interfacing
	Strips      []Strip // one for each interfacing of the closure, that one first
	Pieces      int
	Length      measure.Length // of one strip
	Across      int
	Cloth       measure.Length // goods to buy
}

// Strip is one interfacing of a closure, as it is cut and laid.
type Strip struct {
	Name        string
	Interfacing *catalog.Interfacing
	Width       measure.Length
	Given       bool           // the width is one of the file, or that of the band
	Begins      measure.Length // how far outside the line of the holes it begins
	Beside      bool           // it lies in one stack with another, which comes before it
	Over, Under int            // how often it lies in each stack
}

// Needle is the needle.
type Needle struct {
	Min, Max measure.NeedleSize // what the cloth and stack ask for
	NM       measure.NeedleSize
	Given    bool
	Point    string
	Class    string  // the weight class the band comes from
	Charted  Charted // the outermost needles published for the cloth
	Ratio    float64 // thread diameter over blade

	Refused bool               // NM is given, and the cloth, the thread or the machine refuses it
	Use     measure.NeedleSize // that the work is done with: NM, or one of the band where NM is refused
	Thick   measure.NeedleSize // for the thickest place: Use, or thicker
}

// Thread is the thread.
type Thread struct {
	Tex                  measure.LinearDensity
	Fibre                string
	Name                 string
	Given                bool
	Min, Max             measure.LinearDensity // seam and buttonhole
	ButtonMin, ButtonMax measure.LinearDensity // sewing the button on
	Topstitch            measure.LinearDensity // decorative stitching that shows
	Diameter             measure.Length
}

// Stitch is the stitch length.
type Stitch struct {
	Length   measure.Length
	Min, Max measure.Length
	Given    bool
}

// Sewing is how a fastener is sewn on.
type Sewing struct {
	Sewn        bool
	ThreadShank measure.Length // 0: none needed
	Backing     measure.Length // diameter of the backing button, one that is sold; 0: none
	Suggested   bool           // nobody asked for the backing button
	BackingSold measure.Length // the size on sale nearest to half of the button and smaller than it, 0: none is
	Stitches    int            // of a button machine's cycle
	HoleThread  measure.Length // thread for one hole: both threads of a machine, or the twist
	Used        measure.Length // thread for all holes and buttons of one garment, waste included

	ShankMost   measure.Length        // the longest usual thread shank
	ByHand      bool                  // sewn on by hand
	HandReason  string                // why, where the machine cannot do it
	OffSwing    bool                  // it could, but for how far apart its holes lie
	Passes      int                   // by hand: through each pair of holes, or the shank
	Winds       int                   // by hand: of the thread shank
	ThreadCut   measure.Length        // by hand: thread to cut for one, used double; 0: not worked out
	ButtonTex   measure.LinearDensity // of the thread meant for sewing on, 0 if none is named
	ButtonName  string                // its name
	FlyStitched measure.Length        // a fly's facing: stitched this far from the front edge
	FlyTacks    int                   // tacks between the holes of a fly, most of any size
}

// Size is where the fasteners of one size go.
type Size struct {
	Size      string
	Run       measure.Length
	First     measure.Length
	Last      measure.Length // from the last centre to the end of the run
	Count     int
	Positions []measure.Length // from the top of the run
	Gaps      []measure.Length
	Pitches   []measure.Length // gaps between the first ones of each group; Gaps for single fasteners
	Spread    measure.Length
	Rows      []measure.Length // double-breasted: each row's distance from the centre line
	Fasteners int              // on one piece: two for each row of a double-breasted front, and its inner one
	OwnCount  bool             // this size needs another count than the rest

	Step   measure.Length // what the centres were marked to
	Moved  spacing.Moved  // which defaults gave way
	Even   bool           // the spread is even enough, no more than EvenTo
	EvenTo measure.Length
	Skips  []int          // gaps that skip a place of the repeat that they are to keep
	Choice spacing.Choice // how the count was chosen where it was open

	Solved   bool
	UsualEnd bool  // no layout, but there is one with another end than a usual one, which the file does not give
	Room     bool  // no layout, nor with other ends, but there is one of fasteners that take no room
	Err      error // why there is no layout: a *spacing.Clash where the wishes clash
}

// Work fills the plan of closure i, each part from those before it.
func (p *Plan) Work(i int) {
	c, k := &p.Garment.Closures[i], &p.Closures[i]
	k.Over = stackOf(p.Garment, c.Over)
	k.Under = stackOf(p.Garment, c.Under)
	k.sampled(c)
	p.WorkOn(i)
}

// WorkOn fills the plan of closure i whose stacks are there.
func (p *Plan) WorkOn(i int) {
	g := p.Garment
	c, k := &g.Closures[i], &p.Closures[i]
	k.Closure = c
	k.Hole = holeOf(g, c, k)
	k.Reach = reachOf(c, k)
	k.Loop = loopOf(c, k, g.Units)
	k.Stand = standOf(g, c, k)
	k.Support = supportOf(g, c, k)
	needleBand(c, k)
	k.Thread = threadOf(g, c, k)
	chooseNeedle(&g.Machine, c, k)
	k.Stitch = stitchOf(g, c, k)
	k.Sizes = p.sizesOf(c, k)
	k.Hole.handHole(c, k)
	k.Sewing = sewingOf(g, c, k)
	k.Hardware = hardwareOf(g, c, k)
	k.Zip = zipOf(g, c, k)
	k.Places = placesOf(g, c, k)
	k.Needle.Thick = thickNeedle(&g.Machine, k)
}
