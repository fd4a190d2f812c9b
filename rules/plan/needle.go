package plan

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// WeightClass is a class of cloth weight with what it asks of needle,
// thread and stitch.
type WeightClass struct {
	Name                 string
	Below                measure.AreaWeight // upper limit; the last is open
	NeedleMin, NeedleMax measure.NeedleSize
	texMin, texMax       measure.LinearDensity
	buttonMin, buttonMax measure.LinearDensity
	stitch, lo, hi       measure.Length
	ButtonStitches       int
}

// Classes for cloth in general: 4, 8 and 12 oz/yd², from memory. Needle
// bands: common ground of twelve published charts.
var GeneralClasses = []WeightClass{
	{"light", 135, 60, 80, 10, 30, 20, 27, 2_000_000, 1_500_000, 2_500_000, 16},
	{"medium", 270, 75, 90, 27, 40, 30, 45, 2_500_000, 2_000_000, 3_000_000, 16},
	{"heavy", 400, 90, 110, 40, 90, 60, 80, 3_000_000, 2_500_000, 3_650_000, 16},
	{"very heavy", math.MaxFloat32, 100, 120, 40, 100, 60, 90, 3_000_000, 2_500_000, 4_250_000, 32},
}

// Classes for coat cloth, which is lofty: < 300, 300 to 400 and over 400
// g/m², from a menswear magazine's guide to coats.
var CoatClasses = []WeightClass{
	{"light coating", 300, 75, 100, 27, 60, 30, 60, 2_500_000, 2_000_000, 3_200_000, 16},
	{"medium coating", 400, 90, 110, 40, 90, 60, 80, 3_000_000, 2_500_000, 3_650_000, 16},
	{"heavy coating", math.MaxFloat32, 90, 110, 40, 90, 60, 80, 3_000_000, 2_500_000, 4_000_000, 16},
}

// Classes for denim, duck and canvas, which are sewn with finer needles than
// wool coating of their weight. Needles: twelve published charts, of which most
// list 90/14 to 100/16 for denim, an industrial table 70 to 90 for light denim
// and 110 to 140 for heavy. Stitch: 7 to 8 an inch for denim (a thread maker's
// table). The bounds, 8 and 14 oz/yd², are from memory.
var DenimClasses = []WeightClass{
	{"light denim and duck", 270, 75, 100, 27, 60, 30, 60, 3_000_000, 2_500_000, 3_650_000, 16},
	{"denim and duck", 475, 90, 110, 40, 105, 60, 90, 3_250_000, 2_500_000, 4_000_000, 16},
	{"heavy denim and duck", math.MaxFloat32, 90, 120, 40, 120, 60, 90, 3_250_000, 2_500_000, 4_250_000, 16},
}

// Classes of special cloths, whatever they weigh.
var (
	// Two household manuals: corduroy 90/14 to 100/16; sewing pages: the
	// heavier the cord, the longer the stitch.
	corduroyClass = WeightClass{"corduroy", math.MaxFloat32, 90, 100, 40, 90, 40, 80, 2_500_000, 2_000_000, 3_200_000, 16}
	// Four sewing pages: 80/12 to 90/14, seams of 3 to 3.5 mm and more.
	fleeceClass = WeightClass{"fleece", math.MaxFloat32, 75, 90, 27, 60, 30, 60, 3_000_000, 2_500_000, 4_000_000, 16}
	// Extension leaflet on fake fur: 100/16, 8 to 10 stitches an inch; fabric
	// houses: 110 to 120, 3.5 mm, and 90 to 100.
	furClass = WeightClass{"fur fabric", math.MaxFloat32, 90, 120, 40, 90, 40, 90, 3_000_000, 2_500_000, 3_650_000, 16}
	// Threads magazine, 2008: about 8 stitches an inch; sewing guides: needle
	// 80 to 100 for garment leather.
	leatherClass = WeightClass{"leather", math.MaxFloat32, 80, 100, 40, 90, 60, 90, 3_250_000, 2_800_000, 4_250_000, 16}
	// From memory: 90/14, 3 to 3.5 mm.
	boiledClass = WeightClass{"boiled wool", math.MaxFloat32, 80, 100, 30, 60, 40, 80, 3_000_000, 2_500_000, 3_650_000, 16}
	// A canvas merchant's catalogue, 2023: 100/16, denim point.
	waxedClass = WeightClass{"waxed cotton", math.MaxFloat32, 90, 110, 40, 90, 60, 90, 3_000_000, 2_500_000, 4_000_000, 16}
)

// Heavy says whether a class is one of heavy cloth.
func (c *WeightClass) Heavy() bool { return c.NeedleMin >= heavyNeedle }

// CoatKinds are the families of coat cloth, which is lofty.
var CoatKinds = map[string]bool{
	"melton": true, "loose-coating": true, "woollen-brushed": true, "wool-felt": true,
}

// classesOf are the weight classes that a kind of cloth goes by.
func classesOf(kind string) []WeightClass {
	switch kind {
	case "melton", "loose-coating", "woollen-brushed", "wool-felt", "worsted":
		return CoatClasses
	case "heavy-cotton":
		return DenimClasses
	}
	if c := specialClasses[kind]; c != nil {
		return c
	}
	return GeneralClasses
}

var specialClasses = map[string][]WeightClass{
	"corduroy": {corduroyClass}, "fleece": {fleeceClass}, "pile": {furClass}, "leather": {leatherClass},
	"boiled-wool": {boiledClass}, "waxed-cotton": {waxedClass},
}

// Charted are the thinnest and the thickest needle that any of the published
// charts lists for a kind of cloth.
type Charted struct{ Least, Most measure.NeedleSize }

// charted are kinds that at least three charts name: machine manuals, needle
// makers, an industrial table, sewing guides. What weighs how much in them is
// not printed, so they hold for a kind as a whole.
var charted = map[string]Charted{
	// Coating 80 or 90 in one household manual, 90 or 100 in another; coat
	// wool 110; coats 100 to 110 in industry; very heavy cloth 110 or 120.
	"melton": {80, 120}, "woollen-brushed": {80, 120},
	// The same, and flannel 75 to 90.
	"loose-coating": {75, 120},
	// Light denim 70 to 90, heavy 110 to 140.
	"heavy-cotton": {70, 140},
	// Gabardine and serge 75 to 90 or 90 to 100, coat wool to 110; suits 80 to 90.
	"worsted": {75, 110}, "suiting": {70, 100},
	// Shirts 65 to 80, light cotton 60, quilting cotton and firm wovens to 90.
	"shirting": {60, 90},
	// Silk, georgette, satin, crepe: 60 to 80; satin to 90.
	"lining": {60, 90},
	// 75 for soft to 110 for heavy or layered.
	"leather": {75, 110},
}

// ChartedFor are the outermost needles published for a cloth, zero where too
// few charts name its kind.
func ChartedFor(c *catalog.Cloth) Charted {
	if c == nil {
		return Charted{}
	}
	return charted[c.Kind]
}

// Outside says whether a needle is thinner or thicker than any chart lists.
func (c Charted) Outside(n measure.NeedleSize) bool {
	return c.Least > 0 && (n < c.Least || n > c.Most)
}

// ClassOf is the class of the heaviest cloth among the layers.
func ClassOf(k *Closure) (*WeightClass, *catalog.Cloth) {
	var heaviest *catalog.Cloth
	var w measure.AreaWeight
	for _, s := range []*Stack{&k.Over, &k.Under} {
		for _, l := range s.Layers {
			if c := l.Layer.Cloth; c != nil {
				cw := c.Weight.V
				if !c.Weight.Has() {
					cw = measure.AreaWeight(l.Thick.MM() * 1000 * flatDensity)
				}
				if cw > w || heaviest == nil {
					w, heaviest = cw, c
				}
			}
		}
	}
	if heaviest == nil {
		return &GeneralClasses[1], nil
	}
	classes := classesOf(heaviest.Kind)
	i := 0
	for w >= classes[i].Below { // the last has no end
		i++
	}
	return &classes[i], heaviest
}

// OtherClass says whether a needle that the class of a cloth leaves out lies in
// the band of another weight class of its family, and whether that is firm: not
// where it is the next class, and the weight that parts the two is from memory.
func OtherClass(class string, c *catalog.Cloth, n measure.NeedleSize) (any, firm bool) {
	if c == nil {
		return false, true
	}
	classes := classesOf(c.Kind)
	own := slices.IndexFunc(classes, func(w WeightClass) bool { return w.Name == class })
	firm = true
	for i, w := range classes {
		if n >= w.NeedleMin && n <= w.NeedleMax {
			any = true
			if (i == own-1 || i == own+1) && &classes[0] != &CoatClasses[0] {
				firm = false
			}
		}
	}
	return any, firm
}

// Cloth is the class in words: heavy cloth, light coating, corduroy.
func (n *Needle) Cloth() string {
	for i := range GeneralClasses {
		if GeneralClasses[i].Name == n.Class {
			return n.Class + " cloth"
		}
	}
	return n.Class
}

// HeavyLimit and HeavyCoatLimit are from where on a cloth counts as heavy.
var (
	HeavyLimit     = Weight("heavy", GeneralClasses[1].Below, Memory)
	HeavyCoatLimit = Weight("heavy coat", CoatClasses[0].Below, Published)
)

// ThickStackLimit is ThickStack as a threshold.
var ThickStackLimit = Thin("thick", ThickStack, Ours)

const ThickStack = 4 * mm // ours: above it the thinner half of the needle band is left out

// Heavy says whether the cloth of a closure makes a coat: coat cloth from 300
// g/m², and other cloth from 400.
func Heavy(k *Closure) bool {
	_, c := ClassOf(k)
	return c != nil && (CoatKinds[c.Kind] && c.Weight.V >= CoatClasses[0].Below || c.Weight.V >= GeneralClasses[2].Below && c.Kind != "heavy-cotton")
}

// needleBand is what the cloth's weight, then the stack, ask of the needle.
func needleBand(c *catalog.Closure, k *Closure) {
	cl, cloth := ClassOf(k)
	n := &k.Needle
	n.Class, n.Min, n.Max, n.Charted = cl.Name, cl.NeedleMin, cl.NeedleMax, ChartedFor(cloth)
	if max(k.Over.Pressed, k.Under.Pressed) > ThickStack {
		n.Min = min(n.Max, NeedleStep(n.Min, 1))
	}
	n.Point = c.Point
	if n.Point == "" {
		n.Point = PointFor(cloth)
	}
}

// NeedleSizes are the sizes on sale, thinnest first.
var NeedleSizes = []measure.NeedleSize{60, 65, 70, 75, 80, 90, 100, 110, 120, 130, 140, 160}

// NeedleStep is the size that many steps up the sizes on sale.
func NeedleStep(n measure.NeedleSize, steps int) measure.NeedleSize {
	return NeedleSizes[min(len(NeedleSizes)-1, max(0, SizeIndex(n)+steps))]
}

func SizeIndex(n measure.NeedleSize) int {
	best := 0
	for i, s := range NeedleSizes {
		if s <= n {
			best = i
		}
	}
	return best
}

// PointFor is the point for a cloth.
func PointFor(c *catalog.Cloth) string {
	if c == nil {
		return "universal"
	}
	switch {
	case c.Kind == "leather":
		return "leather"
	case c.Kind == "heavy-cotton" || c.Kind == "waxed-cotton":
		return "jeans" // with elastane in the weft too: stretch denim is no knit
	case c.Surface == "coated" || c.Surface == "laminated":
		return "sharp" // also of a knit: a ball point punches larger holes
	case c.Kind == "boiled-wool":
		return "universal" // from memory: fulled wool has no loops to cut
	case c.Weave == "knit" || c.Kind == "fleece" || c.Kind == "jersey" || c.Weave == "" && (c.Stretch == "across" || c.Stretch == "both"):
		return "ballpoint"
	case c.Weight.Has() && c.Weight.V < 100:
		return "sharp"
	}
	return "universal"
}

// Thread diameter over blade: good from RatioLow to RatioHigh, as a thread
// maker's table and a needle maker's groove have it (RatioLow is its 0.24, to
// two places). How thick a thread is comes from its Tex to DiameterOff: refused
// is what is over the groove even then.
const (
	RatioLow, RatioHigh = 0.235, 0.40
	DiameterOff         = 0.05 // cotton by Peirce, 0.0374 √Tex, against polyester, 0.0392
	RatioMost           = RatioHigh * (1 + DiameterOff)

	ratioBest = 0.30
)

// Thresholds of thread and needle.
var (
	RatioLowLimit  = Number("thin", RatioLow, "", Published)
	RatioHighLimit = Number("groove", RatioHigh, "", Published)
	DiameterLimit  = Number("off", DiameterOff*100, "%", Ours)
)

// StepsOutside is how many sizes n lies outside the band: negative below it.
func StepsOutside(n, lo, hi measure.NeedleSize) int {
	switch {
	case n < lo:
		return min(-1, SizeIndex(n)-SizeIndex(lo))
	case n > hi:
		return max(1, SizeIndex(n)-SizeIndex(hi))
	}
	return 0
}

// bladeRatio is the thickness of a thread, mm, over the blade, to three places.
func bladeRatio(thread float64, n measure.NeedleSize) float64 {
	return math.Round(thread/n.BladeMM()*1000) / 1000
}

// refused says whether the cloth, the thread or the machine refuses a needle.
func (n *Needle) refused(nm measure.NeedleSize, thread float64, m *catalog.Machine) bool {
	r := bladeRatio(thread, nm)
	return n.Charted.Outside(nm) || r > RatioMost || m.NeedleMax.Has() && nm > m.NeedleMax.V
}

// threadOf is the thread that the machine sews with: the one named, or the one
// the class asks for.
func threadOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Thread {
	cl, _ := ClassOf(k)
	t := Thread{Min: cl.texMin, Max: cl.texMax, ButtonMin: cl.buttonMin, ButtonMax: cl.buttonMax, Topstitch: TopstitchTex(cl), Fibre: "polyester"}
	name := c.Thread
	if name == "" && len(g.ThreadNames) == 1 {
		name = g.ThreadNames[0]
	}
	if name == "" {
		for _, n := range []string{"buttonhole", "seam"} {
			if g.ThreadNamed(n) != nil {
				name = n
				break
			}
		}
	}
	// A hole worked by hand takes its own thread, and the machine's needle the
	// seam's.
	if k.Hole.HoleByHand() && g.ThreadNamed("seam") != nil {
		name = "seam"
	}
	if th := g.ThreadNamed(name); th != nil {
		t.Tex, t.Name, t.Given = th.Tex.V, name, true
		if th.Fibre != "" {
			t.Fibre = th.Fibre
		}
	} else {
		t.Tex = usualTex(cl)
	}
	t.thicken()
	return t
}

// thicken works out how thick a thread is: as polyester where its fibre is not
// known.
func (t *Thread) thicken() {
	var known bool
	if t.Diameter, known = t.Tex.Diameter(t.Fibre); !known {
		t.Diameter, _ = t.Tex.Diameter("polyester")
	}
}

// TopstitchTex is the thread for stitching that is meant to show: Tex 60 on
// light and medium cloth, Tex 120 on heavy (IASRI e-course).
func TopstitchTex(cl *WeightClass) measure.LinearDensity {
	if cl.Heavy() {
		return 120
	}
	return 60
}

// usualTex is the thread recommended where none is named: thread maker's
// sizes within the class.
func usualTex(cl *WeightClass) measure.LinearDensity {
	switch {
	case cl.texMax <= 30:
		return 24
	case cl.texMax <= 40:
		return 30
	case cl.texMax <= 60:
		return 40
	}
	return 60
}

// chooseNeedle takes the needle meant, or the size of the band into which
// the thread fits best.
func chooseNeedle(m *catalog.Machine, c *catalog.Closure, k *Closure) {
	n := &k.Needle
	d := k.Thread.Diameter.MM()
	most := n.Max
	if m.NeedleMax.Has() {
		most = min(most, m.NeedleMax.V)
	}
	if c.Needle.Has() {
		n.NM, n.Given = c.Needle.V, true
	} else if n.NM = n.fitting(d, most); n.NM == 0 || n.refused(n.NM, d, m) {
		n.NM = n.fitting(d, n.Max) // none that the machine takes will do
	}
	if b := n.NM.BladeMM(); b != 0 {
		n.Ratio = d / b
	}
	n.Use = n.NM
	if n.NM == 0 || !n.refused(n.NM, d, m) {
		return
	}
	n.Refused = n.Given
	if s := n.fitting(d, most); s != 0 {
		n.Use = s
	}
}

// fitting is the size of the band, up to most, into which a thread of that
// diameter in millimetres fits best; 0 where there is none.
func (n *Needle) fitting(d float64, most measure.NeedleSize) (nm measure.NeedleSize) {
	best := math.MaxFloat64
	for _, s := range NeedleSizes {
		if s < n.Min || s > n.Max || s > most {
			continue
		}
		if off := math.Abs(d/s.BladeMM() - ratioBest); off < best-1e-9 {
			best, nm = off, s
		}
	}
	return nm
}

// ForThick is the needle that the thickest place asks for at least, where it
// is thick: one size above the thin end of the band.
func (n *Needle) ForThick() measure.NeedleSize { return min(NeedleStep(n.Min, 1), n.Max) }

// thickNeedle is the needle for the thickest place of a closure.
func thickNeedle(m *catalog.Machine, k *Closure) measure.NeedleSize {
	n := &k.Needle
	if len(k.Places) == 0 || k.Places[0].Graded <= ThickStack {
		return n.Use
	}
	want := n.ForThick()
	for m.NeedleMax.Has() && want > m.NeedleMax.V && want > NeedleSizes[0] {
		want = NeedleStep(want, -1) // the machine takes none that is thicker
	}
	return max(n.Use, want)
}

// HandNeedle is a needle for sewing by hand. The number rises as the needle
// gets finer.
type HandNeedle struct {
	Kind   string // sharps, chenille
	Number int
}

// Hand needles by the thickest thread that their eye takes: two fifths of the
// blade, which JIS S 3008-1981 asks of the eye at least. Blades of sharps 9
// and of chenille 20 and 18 from an encyclopedia's table, second-hand; of
// sharps 7 and 5 from memory.
var handNeedles = [...]struct {
	HandNeedle
	blade measure.Length
}{
	{HandNeedle{"sharps", 9}, mm * 61 / 100},
	{HandNeedle{"sharps", 7}, mm * 69 / 100},
	{HandNeedle{"sharps", 5}, mm * 86 / 100},
	{HandNeedle{"chenille", 20}, mm * 107 / 100},
}

// stoutNeedle has a blade of 1.24 mm and takes what none of them does.
var stoutNeedle = HandNeedle{"chenille", 18}

// HandNeedleFor is the finest hand needle whose eye takes the thread, or the
// one with the largest eye.
func HandNeedleFor(thread measure.Length) HandNeedle {
	for i := range handNeedles {
		if thread <= handNeedles[i].blade*2/5 {
			return handNeedles[i].HandNeedle
		}
	}
	return stoutNeedle
}

// usualThick is the stitch through a thick stack: a teaching chart gives 9 an
// inch, 3 mm, for heavy coating.
const usualThick = 3 * mm

// childStitch is the longest stitch taken for a child's garment where the file
// says none: 8 to 10 an inch for children's wear, by a thread maker's table.
const childStitch = 3 * mm

func stitchOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Stitch {
	cl, _ := ClassOf(k)
	s := Stitch{Length: cl.stitch, Min: cl.lo, Max: cl.hi}
	if max(k.Over.Pressed, k.Under.Pressed) > ThickStack {
		s.Length = min(max(s.Length, usualThick), s.Max)
	}
	if g.Wearer == "child" || g.Wearer == "infant" {
		s.Length = max(s.Min, min(s.Length, childStitch))
	}
	if c.Stitch.Has() {
		s.Length, s.Given = c.Stitch.V, true
	}
	return s
}

// SpecialKinds are the kinds of cloth that have needles of their own.
func SpecialKinds() []string {
	kinds := map[string]bool{}
	for k := range specialClasses {
		kinds[k] = true
	}
	for k := range charted {
		kinds[k] = true
	}
	return slices.Sorted(maps.Keys(kinds))
}

// Bands of the weight classes, as texts: what is printed of them is what they
// are.
var (
	NeedleBands = Words("ranges", Published, func(measure.Unit) string {
		return bands("", func(c *WeightClass) string { return dash(c.NeedleMin, c.NeedleMax) })
	})
	ClassBounds  = Words("classes", Memory, classWords)
	ChartedBands = Words("charted", Published, func(measure.Unit) string { return chartedWords() })
	ThreadBands  = Words("threads", Published, func(measure.Unit) string {
		return bands("Tex ", func(c *WeightClass) string { return dash(c.texMin, c.texMax) })
	})
	ButtonThreadBands = Words("threads", Ours, func(measure.Unit) string {
		return bands("Tex ", func(c *WeightClass) string { return dash(c.buttonMin, c.buttonMax) })
	})
	StitchBands = Words("stitches", Published, func(u measure.Unit) string {
		return bands("", func(c *WeightClass) string { return measure.TextThinSpan(c.lo, c.hi, u) })
	})
)

// classWords are the weights that the classes go to.
func classWords(u measure.Unit) string {
	var words []string
	for _, classes := range [...][]WeightClass{GeneralClasses, CoatClasses, DenimClasses} {
		for i := range classes[:len(classes)-1] {
			words = append(words, classes[i].Name+" under "+classes[i].Below.Text(inOwn(measure.MM, u)))
		}
		words = append(words, classes[len(classes)-1].Name+" from there")
	}
	return strings.Join(words, ", ")
}

// bands is a band of every class, neighbours with the same one together.
func bands(unit string, of func(*WeightClass) string) string {
	classes := slices.Concat(GeneralClasses, CoatClasses, DenimClasses)
	for _, kind := range slices.Sorted(maps.Keys(specialClasses)) {
		classes = append(classes, specialClasses[kind]...)
	}
	var names, figures []string
	for i := range classes {
		b := of(&classes[i])
		if at := slices.Index(figures, b); at != -1 {
			names[at] += ", " + classes[i].Name
		} else {
			names, figures = append(names, classes[i].Name), append(figures, b)
		}
	}
	for i := range names {
		names[i] += " " + unit + figures[i]
	}
	return strings.Join(names, "; ")
}

func dash[T ~int | ~float64](lo, hi T) string {
	return fmt.Sprintf("%g–%g", float64(lo), float64(hi))
}

// chartedWords are the outermost needles published for each kind.
func chartedWords() string {
	var words []string
	for _, kind := range slices.Sorted(maps.Keys(charted)) {
		words = append(words, kind+" "+dash(charted[kind].Least, charted[kind].Most))
	}
	return strings.Join(words, ", ")
}

// ThreadTakes are the finest and the thickest needle that a thread so thick
// fits well: between RatioLow and RatioHigh of the blade. 0 where none does.
func ThreadTakes(thread measure.Length) (finest, thickest measure.NeedleSize) {
	for _, s := range NeedleSizes {
		r := bladeRatio(thread.MM(), s)
		if r < RatioLow || r > RatioHigh {
			continue
		}
		if finest == 0 {
			finest = s
		}
		thickest = s
	}
	return finest, thickest
}
