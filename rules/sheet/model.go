package sheet

import (
	"math"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// MM is a length that JSON carries as exact millimetres.
type MM measure.Length

// MarshalJSON writes millimetres to the last nanometre, never rounded.
func (m MM) MarshalJSON() ([]byte, error) {
	return []byte(strings.TrimSuffix(measure.Length(m).Exact(measure.MM), " mm")), nil
}

// Garment is a plan made ready to be written in any format. Its JSON is the
// output of check and spec alike: every key is always there; a list that has
// nothing is [], a value that does not apply or is not known is null.
type Garment struct {
	Version  int       `json:"version"` // OutputVersion
	File     string    `json:"file"`
	Garment  string    `json:"garment"`
	Variant  *string   `json:"variant"` // the one of the file that this is; null: the file itself
	Verdict  string    `json:"verdict"` // ok, note, caution, conflict: of the variants too
	Units    string    `json:"units"`
	Wearer   string    `json:"wearer"`
	Market   string    `json:"market"`
	Machine  string    `json:"machine"`
	Sizes    []string  `json:"sizes"`
	Make     []MadeOut `json:"make"`     // how many of each size are made
	With     []string  `json:"with"`     // what-if changes it was read with
	Change   *Change   `json:"change"`   // what they did; null without any. For JSON alone, like the next
	Findings []Finding `json:"findings"` // of the variants too; the words are made from found
	// JointFix settles all conflicts together; null where there are not several.
	JointFix *JointFix `json:"joint_fix"`
	// MeasureFirst decides most verdicts within its ±; null where nothing does.
	MeasureFirst *MeasureFirst `json:"measure_first"`
	Closures     []Closure     `json:"closures"`
	Buy          Buy           `json:"buy"`
	Cautions     []string      `json:"cautions"`
	Notes        []string      `json:"notes"`
	Variants     []VariantOut  `json:"variants"` // of the file, in its order; [] where one alone is asked for

	plan     *rules.Planned
	variants []*Garment
	found    []rules.Entry // what every format says of the findings, those of the variants among them
	// settled are those that a sample has settled: they do not count.
	settled []rules.Entry
	unit    measure.Unit
	size    string // the only one shown; "" all
	picked  []int  // places of the sizes shown, in the plan
}

// Closure is one closure.
type Closure struct {
	Name     string  `json:"name"`
	Where    *string `json:"where"`
	LapOver  *string `json:"lap_over"` // the side of the wearer that lies on top; null: not a front
	Fastener string  `json:"fastener"`
	Notion   string  `json:"notion"`
	Pieces   int     `json:"pieces"`
	Spare    int     `json:"spare"`

	Stack    StackOut     `json:"stack"`
	Hole     *HoleOut     `json:"hole"`
	Stand    *StandOut    `json:"stand"`
	Support  *SupportOut  `json:"support"`
	Needle   *NeedleOut   `json:"needle"`
	Thread   *ThreadOut   `json:"thread"`
	StitchMM MM           `json:"stitch_mm"`
	Sewing   *SewingOut   `json:"sewing"`
	Hardware *HardwareOut `json:"hardware"`
	Zip      *ZipOut      `json:"zip"`
	Loop     *LoopOut     `json:"loop"`
	Places   []PlaceOut   `json:"places"` // thick places, thickest first
	Sizes    []SizeOut    `json:"sizes"`
	PieceOf  *string      `json:"piece_of"` // the closure of the same opening that holds its pieces; null: this one
	Working  []StepOut    `json:"working"`

	meets  bool // its edges only meet
	drafts bool // its stand is for the pattern to draft
}

// StackOut is the thickness of the layers.
type StackOut struct {
	Over         MM       `json:"over_mm"`
	OverTol      MM       `json:"over_tolerance_mm"`
	OverPressed  MM       `json:"over_pressed_mm"`
	OverLayers   []string `json:"over"`
	Under        MM       `json:"under_mm"`
	UnderTol     MM       `json:"under_tolerance_mm"`
	UnderPressed MM       `json:"under_pressed_mm"`
	UnderLayers  []string `json:"under"`
	Estimated    bool     `json:"estimated"`
	Sampled      bool     `json:"sampled"` // a sewn sample gave over_mm or under_mm
}

// HoleOut is the buttonhole or loop.
type HoleOut struct {
	Kind      string   `json:"kind"`
	Direction string   `json:"direction"`
	Length    MM       `json:"length_mm"`
	Passing   MM       `json:"passing_mm"`
	Ease      MM       `json:"ease_mm"`
	Stitched  *MM      `json:"stitched_mm"`
	Width     *MM      `json:"width_mm"`
	Beyond    *MM      `json:"beyond_centre_mm"` // across: towards the edge; along: above the button's centre
	Inside    *MM      `json:"inside_centre_mm"`
	Given     bool     `json:"given"`
	Sampled   bool     `json:"sampled"`         // passing_mm is the cut that passed on a sample
	Machine   *string  `json:"beyond_machine"`  // why the machine does not sew it so
	Sews      *MM      `json:"machine_sews_mm"` // what it sews instead
	Working   []string `json:"working"`

	Centred bool `json:"centred"`            // along: its middle lies at the button
	Purl    *MM  `json:"purl_mm"`            // worked by hand: depth on either side
	Twist   *MM  `json:"twist_mm"`           // for one hole
	Gimp    bool `json:"gimp"`               // worked over one
	LipWide *MM  `json:"lip_strip_width_mm"` // bound: the strip for the lips of one hole
	LipLong *MM  `json:"lip_strip_length_mm"`

	fixed bool // it is a length that an attachment sews
}

// StandOut is the stand and the band.
type StandOut struct {
	Construction *string `json:"construction"`
	Least        MM      `json:"least_mm"`
	Usual        MM      `json:"usual_mm"`
	Full         MM      `json:"full_mm"`
	Have         *MM     `json:"have_mm"` // null: the file leaves none, and nothing that follows from the edge is said
	Known        bool    `json:"known"`   // false: have_mm is what to draft
	Band         *MM     `json:"band_mm"`
	BandCut      *MM     `json:"band_cut_mm"`
	Extension    *MM     `json:"extension_mm"`
	FacingCut    *MM     `json:"facing_cut_mm"`
}

// SupportOut is the interfacing under holes and fasteners.
type SupportOut struct {
	Interfacing *string `json:"interfacing"`
	Strip       MM      `json:"strip_mm"`
	Least       MM      `json:"least_mm"`
	Usual       MM      `json:"usual_mm"`
	Given       bool    `json:"given"`
	Pieces      int     `json:"pieces"`
	Length      *MM     `json:"length_mm"`
	Across      *int    `json:"across"`
	ClothNeeded *MM     `json:"cloth_needed_mm"`

	Strips []StripOut `json:"strips"` // every interfacing of the stack, this one too

	told bool // its width is one of the file
}

// StripOut is one of the interfacings of a stack: how it is cut in the largest
// of the sizes.
type StripOut struct {
	Interfacing string `json:"interfacing"`
	Strip       MM     `json:"strip_mm"`
	Given       bool   `json:"given"`
	Pieces      int    `json:"pieces"`
	Length      *MM    `json:"length_mm"`
}

// NeedleOut is the needle.
type NeedleOut struct {
	NM    int     `json:"nm"`
	US    int     `json:"us"`
	Point string  `json:"point"`
	Min   int     `json:"nm_min"`
	Max   int     `json:"nm_max"`
	Given bool    `json:"given"`
	Class string  `json:"class"`
	Ratio float64 `json:"thread_of_blade"`

	Refused bool `json:"refused"`  // the one given is: the work is done with another
	Used    int  `json:"nm_used"`  // that the work is done with
	Thick   int  `json:"nm_thick"` // for the thickest place
}

// ThreadOut is the thread.
type ThreadOut struct {
	Tex       float64 `json:"tex"`
	Tkt       float64 `json:"tkt"`
	Name      *string `json:"name"`
	Fibre     string  `json:"fibre"`
	Given     bool    `json:"given"`
	Min       float64 `json:"tex_min"`
	Max       float64 `json:"tex_max"`
	ButtonMin float64 `json:"button_tex_min"`
	ButtonMax float64 `json:"button_tex_max"`
	Diameter  MM      `json:"diameter_mm"`
	Used      MM      `json:"used_mm"`
}

// SewingOut is how the fastener is sewn on.
type SewingOut struct {
	Shank    *MM     `json:"thread_shank_mm"`
	ShankMax *MM     `json:"thread_shank_max_mm"`
	Backing  *MM     `json:"backing_mm"`        // a size that is sold
	Suggests bool    `json:"backing_suggested"` // nobody asked for it
	Stitches *int    `json:"stitches"`          // of a button machine's cycle; null by hand
	ByHand   bool    `json:"by_hand"`
	Reason   *string `json:"by_hand_because"`
	Passes   *int    `json:"passes"`        // by hand: through each pair of holes, or the shank
	Winds    *int    `json:"winds"`         // by hand: of the thread shank
	CutMM    *MM     `json:"thread_cut_mm"` // by hand: for one, used double
}

// HardwareOut is what set hardware asks for.
type HardwareOut struct {
	Attach    string `json:"attach"`
	Pressed   []MM   `json:"pressed_mm"` // of each stack it is set through
	GripMin   *MM    `json:"grip_min_mm"`
	GripMax   *MM    `json:"grip_max_mm"`
	Post      *MM    `json:"post_mm"`
	PostMin   *MM    `json:"post_min_mm"`
	PostMax   *MM    `json:"post_max_mm"`
	Punch     *MM    `json:"punch_mm"`
	EdgeLeast *MM    `json:"edge_least_mm"`
}

// ZipOut is a zip.
type ZipOut struct {
	Number    *float64  `json:"number"`
	NumberMin float64   `json:"number_min"`
	NumberMax float64   `json:"number_max"`
	Group     *string   `json:"size_group"`
	Separates bool      `json:"separates"`
	Sizes     []ZipSize `json:"sizes"`
}

// ZipSize is the zip of one size.
type ZipSize struct {
	Size   string `json:"size"`
	Need   *MM    `json:"need_mm"`
	Length *MM    `json:"length_mm"`  // null: none sold is long enough
	Buy    *MM    `json:"buy_mm"`     // one that is sold; null: none is long enough
	CutOff MM     `json:"cut_off_mm"` // of that
}

// LoopOut is the loop of a button, toggle or frog.
type LoopOut struct {
	Least  MM   `json:"least_mm"` // round the inside
	Inside MM   `json:"inside_mm"`
	Cut    *MM  `json:"cord_cut_mm"` // null: it comes with its frog
	Given  bool `json:"given"`
}

// PlaceOut is a thick place.
type PlaceOut struct {
	Name    string `json:"name"`
	Thick   MM     `json:"thick_mm"`
	Pressed MM     `json:"pressed_mm"`
	Graded  *MM    `json:"graded_mm"`
	Cloths  int    `json:"layers"`
	Says    string `json:"says"`
}

// SizeOut is the run of one size.
type SizeOut struct {
	Size      string     `json:"size"`
	Count     int        `json:"count"`
	Positions []MM       `json:"positions_mm"`
	Gaps      []MM       `json:"gaps_mm"`
	Spread    MM         `json:"spread_mm"`
	Run       *MM        `json:"run_mm"`
	Last      *MM        `json:"last_mm"`
	Rows      []MM       `json:"rows_mm"`   // double-breasted: each row to the centre line
	Fasteners int        `json:"fasteners"` // on one piece: two a row of a double-breasted front
	Pieces    []PieceOut `json:"pieces"`    // of the opening; [] where another closure holds them
	Laid      bool       `json:"laid"`      // false: nothing fits, see the findings

	index int
}

// StepOut is the working of one number.
type StepOut struct {
	Topic   string   `json:"topic"`
	Says    string   `json:"says"`
	Default *string  `json:"default"` // which value was not given, and how to give it
	Sources []string `json:"sources"`
}

// prepare makes the model of a plan.
func prepare(p *rules.Planned, o Options) *Garment {
	s := screened(p, o)
	for i := range p.Closures {
		s.Closures[i] = s.closure(i)
	}
	s.Buy = s.buy()
	s.Cautions = s.cautions()
	for i, v := range p.Variants {
		s.variants[i] = prepare(v, o)
		s.Variants = append(s.Variants, s.variants[i].variantOut())
	}
	return s
}

// screened is as much of the model as the screen of a garment needs: what was
// found, and the names of the closures.
func screened(p *rules.Planned, o Options) *Garment {
	g := p.Garment
	s := &Garment{
		Version: OutputVersion,
		File:    g.File, Garment: g.Title(), Variant: word(g.Variant), Verdict: "ok", Units: g.Units.String(),
		Wearer: or(g.Wearer, "adult"), Market: or(g.Market, "us"), Machine: g.MachineUse,
		With: catalog.Texts(g.Withs()), Notes: list(g.Notes),
		Findings: []Finding{}, Closures: []Closure{}, Sizes: []string{}, Make: madeOut(g), Variants: []VariantOut{},
		plan: p, unit: g.Units, size: o.Size,
	}
	for i, name := range g.Sizes {
		if o.Size == "" || o.Size == name {
			s.picked = append(s.picked, i)
			if name != "" {
				s.Sizes = append(s.Sizes, name)
			}
		}
	}
	for _, e := range rules.GatherAll(p.All(), s.shows) {
		if e.Settled != "" {
			s.settled = append(s.settled, e)
		} else {
			s.found = append(s.found, e)
		}
	}
	for _, v := range p.Variants {
		s.variants = append(s.variants, screened(v, o))
	}
	s.Verdict = verdictOf(s.found)
	for i := range p.Closures {
		s.Closures = append(s.Closures, Closure{Name: p.Closures[i].Closure.Name})
	}
	return s
}

// verdictOf is the verdict on entries: the worst of them, a conflict where
// something has no places, which is what Planned.Verdict says of a plan.
func verdictOf(found []rules.Entry) string {
	worst, is := rules.Note, "ok"
	for i := range found {
		e := &found[i]
		if worst = max(worst, e.Severity); e.Unlaid() {
			worst = rules.Conflict
		}
		is = worst.String()
	}
	return is
}

// shows says whether what is told of a size is shown; "" is told of all.
func (s *Garment) shows(size string) bool { return s.size == "" || size == "" || size == s.size }

// count is how many causes have that severity.
func (s *Garment) count(sev rules.Severity) int {
	n := 0
	for i := range s.found {
		if s.found[i].Severity == sev {
			n++
		}
	}
	return n
}

func (s *Garment) closure(i int) Closure {
	k := &s.plan.Closures[i]
	c := k.Closure
	out := Closure{
		Name: c.Name, Where: word(c.Where), LapOver: word(work.OverSide(s.plan, i)), Fastener: c.Notion.Kind, Notion: c.Notion.Name,
		Pieces: c.Pieces, Spare: c.Spare,
		Stack: StackOut{
			Over: MM(k.Over.Thick), OverTol: MM(k.Over.Tol), OverPressed: MM(k.Over.Pressed), OverLayers: layers(&k.Over),
			Under: MM(k.Under.Thick), UnderTol: MM(k.Under.Tol), UnderPressed: MM(k.Under.Pressed), UnderLayers: layers(&k.Under),
			Estimated: k.Over.Estimated || k.Under.Estimated,
			Sampled:   k.Over.Sampled() || k.Under.Sampled(),
		},
		StitchMM: MM(k.Stitch.Length),
		PieceOf:  word(k.PieceOf),
		Places:   []PlaceOut{}, Sizes: []SizeOut{}, Working: []StepOut{},
	}
	if n := &k.Needle; n.NM > 0 {
		out.Needle = &NeedleOut{
			NM: int(n.NM), US: n.NM.US(), Point: n.Point, Min: int(n.Min), Max: int(n.Max),
			Given: n.Given, Class: n.Class, Ratio: round(n.Ratio, 3),
			Refused: n.Refused && n.Use != n.NM, Used: int(n.Use), Thick: int(n.Thick),
		}
	}
	if t := s.plan.ThreadOf(i, plan.JobHoles); t.Tex > 0 {
		out.Thread = &ThreadOut{
			Tex: t.Tex.Tex(), Tkt: round(t.Tex.Tkt(), 1), Name: word(t.Name), Fibre: t.Fibre, Given: t.Given,
			Min: t.Min.Tex(), Max: t.Max.Tex(), ButtonMin: t.ButtonMin.Tex(), ButtonMax: t.ButtonMax.Tex(),
			Diameter: MM(t.Diameter), Used: MM(k.Sewing.Used),
		}
	}
	if h := &k.Hole; h.Needed {
		out.Hole = &HoleOut{
			Kind: h.Kind, Direction: h.Direction, Length: MM(h.Length), Passing: MM(h.Passing), Ease: MM(h.Ease),
			Given: h.Given, Sampled: h.Sampled, Centred: h.Centred, Purl: some(h.Purl), Twist: some(h.Twist), Gimp: h.Gimp, LipWide: some(h.LipWidth), LipLong: some(h.LipLength), Machine: word(h.BeyondMachine), Sews: some(h.MachineSews), Working: list(work.HoleWorking(k, s.unit)),
			fixed: h.Fixed,
		}
		if h.Kind != "loop" {
			out.Hole.Stitched, out.Hole.Width = some(h.Stitched), some(h.Width)
			out.Hole.Beyond, out.Hole.Inside = ref(h.Beyond), ref(h.Inside)
		}
	}
	if st := &k.Stand; c.Notion.Kind != catalog.Zip {
		out.Stand = &StandOut{
			Construction: word(st.Construction), Least: MM(st.Least), Usual: MM(st.Usual), Full: MM(st.Full),
			Have: ref(st.Have), Known: st.Known, Band: some(st.Band), BandCut: some(st.BandCut),
			Extension: some(st.Extension), FacingCut: some(st.FacingCut),
		}
		out.meets, out.drafts = plan.LapOf(c) == "edge", k.Stand.Drafts
		if c.Flap.Has() { // the stand of a flap is told from the line of its fasteners: see its piece
			out.Stand.Extension = nil
		}
		if st.Lost {
			out.Stand.Have, out.Stand.Extension, out.Stand.BandCut, out.Stand.FacingCut = nil, nil, nil, nil
		}
	}
	if u := &k.Support; u.Needed && u.Waits == "" {
		out.Support = &SupportOut{
			Strip: MM(u.Strip), Least: MM(u.Least), Usual: MM(u.Usual), Given: u.Given, Pieces: u.Pieces, told: u.AsTold(),
			Length: some(u.Length), ClothNeeded: some(u.Cloth),
		}
		if u.Across > 0 {
			out.Support.Across = &u.Across
		}
		if u.Interfacing != nil {
			out.Support.Interfacing = word(u.Interfacing.Name)
		}
		out.Support.Strips = []StripOut{}
		for n := range u.Strips {
			x := StripOut{Interfacing: u.Strips[n].Name, Strip: MM(u.Strips[n].Width), Given: u.Strips[n].Given}
			for z := range k.Sizes {
				piece := s.plan.StripPieces(i, n, z)
				x.Pieces = max(x.Pieces, piece.N)
				if long := some(piece.Length); long != nil && (x.Length == nil || *long > *x.Length) {
					x.Length = long
				}
			}
			out.Support.Strips = append(out.Support.Strips, x)
		}
		if len(out.Support.Strips) > 0 && out.Support.Strips[0].Pieces < u.Pieces { // another's carries the rest
			if out.Support.Pieces = out.Support.Strips[0].Pieces; out.Support.Pieces == 0 {
				out.Support.ClothNeeded = nil
			}
		}
	}
	if w := &k.Sewing; w.Sewn {
		out.Sewing = &SewingOut{
			Shank: some(w.ThreadShank), ShankMax: some(w.ShankMost), Backing: some(w.Backing), Suggests: w.Suggested,
			ByHand: w.ByHand, Reason: word(w.HandReason), CutMM: some(w.ThreadCut),
		}
		if w.ByHand {
			out.Sewing.Passes, out.Sewing.Winds = count(w.Passes), count(w.Winds)
		} else {
			out.Sewing.Stitches = &w.Stitches
		}
	}
	if h := &k.Hardware; h.Needed {
		out.Hardware = &HardwareOut{
			Attach: h.Attach, Pressed: []MM{}, GripMin: some(h.GripMin), GripMax: some(h.GripMax), Post: some(h.Post),
			PostMin: some(h.PostMin), PostMax: some(h.PostMax), Punch: some(h.Punch), EdgeLeast: some(h.EdgeLeast),
		}
		for _, side := range h.Sides[:h.Count] {
			out.Hardware.Pressed = append(out.Hardware.Pressed, MM(side.Pressed))
		}
	}
	if z := &k.Zip; z.Needed {
		out.Zip = &ZipOut{NumberMin: z.NumberMin, NumberMax: z.NumberMax, Group: word(z.Group), Separates: z.Open, Sizes: []ZipSize{}}
		if z.Number > 0 {
			out.Zip.Number = finite(z.Number)
		}
		for _, j := range s.picked {
			if j < len(z.Sizes) {
				out.Zip.Sizes = append(out.Zip.Sizes, ZipSize{z.Sizes[j].Size, some(z.Sizes[j].Need), some(z.Sizes[j].Length), some(z.Sizes[j].Buy), MM(z.Sizes[j].Shorten)})
			}
		}
	}
	if l := &k.Loop; l.Needed {
		out.Loop = &LoopOut{MM(l.Least), MM(l.Inside), some(l.Cut), l.Given}
	}
	for i := range k.Places {
		pl := &k.Places[i]
		out.Places = append(out.Places, PlaceOut{pl.Name, MM(pl.Thick), MM(pl.Pressed), some(pl.Graded), pl.Cloths, pl.Says})
	}
	for _, j := range s.picked {
		if j >= len(k.Sizes) {
			continue
		}
		z := &k.Sizes[j]
		size := SizeOut{
			Size: z.Size, Count: z.Count, Positions: mms(z.Positions), Gaps: mms(z.Gaps), Spread: MM(z.Spread),
			Run: some(z.Run), Rows: mms(z.Rows), Fasteners: z.Fasteners, Pieces: s.pieces(i, j), Laid: z.Solved, index: j,
		}
		if z.Solved && z.Count > 0 {
			size.Last = ref(z.Last)
		}
		out.Sizes = append(out.Sizes, size)
	}
	for _, st := range work.Working(s.plan, i) {
		out.Working = append(out.Working, StepOut{st.Topic, st.Says, word(st.Default), list(st.Sources)})
	}
	return out
}

func layers(s *plan.Stack) []string {
	out := make([]string, len(s.Layers))
	for i := range s.Layers {
		out[i] = s.Layers[i].Layer.Name
	}
	return out
}

// list is a list that JSON writes as [] where there is none.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

func mms(ls []measure.Length) []MM {
	out := make([]MM, len(ls))
	for i, l := range ls {
		out[i] = MM(l)
	}
	return out
}

// some is a length, null where it is zero.
func some(l measure.Length) *MM {
	if l == 0 {
		return nil
	}
	return ref(l)
}

func ref(l measure.Length) *MM {
	m := MM(l)
	return &m
}

// word is a text, null where it is empty.
func word(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// count is a number, null where it is zero.
func count(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// finite is a number for JSON, which has neither NaN nor infinity. Lengths
// are whole nanometres, so six decimals lose nothing.
func finite(f float64) *float64 {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	f = round(f, 6)
	return &f
}

func round(f float64, digits int) float64 {
	p := math.Pow10(digits)
	if r := math.Round(f*p) / p; !math.IsNaN(r) && !math.IsInf(r, 0) {
		return r + 0 // no negative zero
	}
	return 0
}
