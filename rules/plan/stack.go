package plan

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Bulk density, g/cm³, and ± percent of a cloth of which neither thickness
// nor family is known: all flat wovens of the measured table together.
const (
	flatDensity = 0.424
	flatSpread  = 30
)

// Bulk densities of interfacings by their make, and the ± percent to carry.
var interfacingDensity = map[string][2]float64{
	"nonwoven": {0.313, 40},
	"weft":     {0.39, 25},
	"woven":    {0.39, 25},
	"knit":     {0.329, 25},
}

// Shares of the thickness that are left under the foot, from memory.
const (
	pressedCloth       = 0.85
	pressedInterfacing = 0.9
)

// FootBulky is the stack above which household machines labour: from memory.
const FootBulky = 4 * mm

// FootLimit is the threshold of a bulky stack.
var FootLimit = Thin("foot", FootBulky, Memory)

// stackOf adds the layers up. A layer whose thickness was not measured is
// estimated from its weight, and the stack says so.
func stackOf(g *catalog.Garment, layers []catalog.Layer) Stack {
	s := Stack{Layers: make([]Layer, len(layers))}
	for i, l := range layers {
		p := LayerOf(g, l)
		s.Layers[i] = p
		s.Thick += p.Thick
		s.Tol += p.Tol
		s.Pressed += p.Pressed
		s.Estimated = s.Estimated || p.Estimated
	}
	return s
}

// on is one stack lying on another.
func (s *Stack) on(o *Stack) Stack {
	return Stack{
		Layers: slices.Concat(s.Layers, o.Layers),
		Thick:  s.Thick + o.Thick, Tol: s.Tol + o.Tol, Pressed: s.Pressed + o.Pressed,
		Estimated: s.Estimated || o.Estimated,
	}
}

// sampled lets what a sewn sample taught win over what was added up. What was
// measured of the layers of the hole holds for the same layers under the
// fastener too, unless those were measured by themselves.
func (k *Closure) sampled(c *catalog.Closure) {
	s := &c.Sample
	if !s.Has() {
		return
	}
	k.Over.sampled(c, s.Stack, "stack", s.StackPressed)
	switch {
	case s.StackUnder.Has():
		k.Under.sampled(c, s.StackUnder, "stack_under", catalog.Measured{})
	case SameLayers(c.Over, c.Under):
		k.Under.sampled(c, s.Stack, "stack", s.StackPressed)
	}
}

// sampled gives a stack what was measured of it. Where only one of the two
// was, the other keeps its share of it; and no stack is thicker pressed than
// lying free.
func (s *Stack) sampled(c *catalog.Closure, free catalog.Measured, key string, pressed catalog.Measured) {
	basis := func(m catalog.Measured, key string) Basis {
		return BasisOf(m, catalog.Key("closure", c.Name, "measured", key))
	}
	if free.Has() {
		if s.Thick > 0 {
			s.Pressed = Scale(s.Pressed, float64(free.V)/float64(s.Thick))
		}
		s.Thick, s.Tol, s.Estimated, s.Free = free.V, free.Tol, false, basis(free, key)
	}
	if pressed.Has() {
		s.Pressed, s.Press = pressed.V, basis(pressed, "stack_pressed")
		s.Raised = max(0, s.Pressed-s.Thick)
		s.Thick += s.Raised
	}
	s.Pressed = min(s.Pressed, s.Thick)
}

// Sampled says whether its thickness lying free was measured on a sample.
func (s *Stack) Sampled() bool { return s.Free.Key != "" }

// SampledPressed says the same of its thickness pressed.
func (s *Stack) SampledPressed() bool { return s.Press.Key != "" }

// Bulk is what of a stack the edge of a hole takes up: lofty layers give way
// to what is left of them pressed.
func (s *Stack) Bulk() measure.Length {
	sum := measure.Length(0)
	for i := range s.Layers {
		l := &s.Layers[i]
		if c := l.Layer.Cloth; c != nil && (c.Kind == "wadding" || c.Surface == "quilted") {
			sum += l.Pressed
		} else {
			sum += l.Thick
		}
	}
	return s.ofSample(sum)
}

// ofSample is what a sum over the layers comes to in the stack as a sample
// measured it: its share of it.
func (s *Stack) ofSample(sum measure.Length) measure.Length {
	if !s.Sampled() {
		return sum
	}
	free := measure.Length(0)
	for i := range s.Layers {
		free += s.Layers[i].Thick
	}
	if sum == free {
		return s.Thick
	}
	return Scale(s.Thick, float64(sum)/float64(free))
}

// LayerOf is the thickness of one layer.
func LayerOf(g *catalog.Garment, l catalog.Layer) Layer {
	p := Layer{Layer: l}
	switch {
	case l.Cloth != nil:
		c := l.Cloth
		density, spread, share := flatDensity, float64(flatSpread), pressedCloth
		fam := g.Catalog.Family(c.Kind)
		if fam != nil {
			density, spread, share = fam.Density.Or(density), fam.Spread.Or(spread), fam.Pressed.Or(share)
		}
		density, spread, p.Share = c.Density.Or(density), c.Spread.Or(spread), c.Pressed.Or(share)
		p.ShareRead = shareRead(c.Pressed, &c.Entry)
		p.set(c.Thickness, c.Weight, density, spread)
		p.grounded(c.Thickness, c.Weight, &c.Entry)
		if fam != nil && p.Estimated && !(c.Density.Has() && c.Spread.Has()) {
			p.Ground = max(p.Ground, EntryGround(&fam.Entry))
		}
	case l.Interfacing != nil:
		c := l.Interfacing
		density, spread := flatDensity, float64(flatSpread)
		if d, ok := interfacingDensity[c.Kind]; ok {
			density, spread = d[0], d[1]
		}
		p.Share, p.ShareRead = c.Pressed.Or(pressedInterfacing), shareRead(c.Pressed, &c.Entry)
		p.set(c.Thickness, c.Weight, c.Density.Or(density), spread)
		p.grounded(c.Thickness, c.Weight, &c.Entry)
	}
	p.Pressed = measure.Length(float64(p.Thick) * p.Share)
	return p
}

func (p *Layer) set(thick catalog.Measured, weight catalog.Opt[measure.AreaWeight], density, spread float64) {
	if thick.Has() {
		p.Thick, p.Tol = thick.V, thick.Tol
		return
	}
	p.Thick = EstimateThickness(weight.V, density)
	p.Tol = measure.Length(float64(p.Thick) * min(spread, 95) / 100)
	p.Estimated = true
}

// shareRead says whether it is known how far a layer is pressed: the file says
// it, or an own catalogue that is sure of it. In the stock it is from memory.
func shareRead(pressed catalog.Opt[float64], e *catalog.Entry) bool {
	return pressed.From == catalog.Given || pressed.From == catalog.Stock && e.File != "" && !EntryGround(e).Weak()
}

// grounded says what the thickness rests on: of a catalogue entry no more than
// its sure; an estimate has the bounds of its family, and its weight.
func (p *Layer) grounded(thick catalog.Measured, weight catalog.Opt[measure.AreaWeight], e *catalog.Entry) {
	p.Ground = FigureGround(thick.From, e)
	if p.Estimated {
		p.Ground = max(Derived, FigureGround(weight.From, e))
	}
}

// EstimateThickness is weight over bulk density: the millimetres of a cloth
// of that many g/m² and g/cm³. It is an estimate, never a measurement.
func EstimateThickness(w measure.AreaWeight, density float64) measure.Length {
	return measure.FromMM(w.GSM() / (1000 * density))
}

// lofty says whether a layer gives way under the foot and in a fold.
func (p *Layer) lofty() bool {
	c := p.Layer.Cloth
	if c == nil {
		return false
	}
	switch c.Kind {
	case "wadding", "fleece", "pile":
		return true
	}
	return c.Surface == "quilted" || c.Surface == "pile" && c.Kind != "corduroy" && c.Kind != "velvet"
}

// UnderFoot is the least that the stack comes to under the foot: its lofty
// layers pressed, the others lying free.
func (s *Stack) UnderFoot() measure.Length {
	sum, lofty := measure.Length(0), false
	for i := range s.Layers {
		l := &s.Layers[i]
		sum, lofty = sum+l.givesTo(), lofty || l.lofty()
	}
	switch {
	case !lofty:
		return s.Thick
	case s.SampledPressed():
		return s.Pressed
	}
	return s.ofSample(sum)
}

// givesTo is the thickness of a layer, of a lofty one pressed.
func (p *Layer) givesTo() measure.Length {
	if p.lofty() {
		return p.Pressed
	}
	return p.Thick
}

// cloths are the first and the last layer of cloth of a stack, -1 for none.
func (s *Stack) cloths() (first, last int) {
	first, last = -1, -1
	for i := range s.Layers {
		if s.Layers[i].Layer.Cloth != nil {
			if first == -1 {
				first = i
			}
			last = i
		}
	}
	return first, last
}

// Core is what lies between the outermost and the innermost cloth: what the
// cloth goes round where it is folded at the edge.
func (s *Stack) Core() measure.Length {
	first, last := s.cloths()
	sum := measure.Length(0)
	for i := first + 1; i < last; i++ {
		sum += s.Layers[i].givesTo()
	}
	return sum
}

// GoesUnder says whether the stack goes under the foot of a machine, lifted
// as far as it goes, and whether that is known.
func (s *Stack) GoesUnder(m *catalog.Machine) (goes, known bool) {
	if !m.FootLift.Has() {
		return false, false
	}
	return s.UnderFoot() <= max(m.FootLift.V, m.FootLiftExtra.V), true
}
