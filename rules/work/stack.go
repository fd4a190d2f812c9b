package work

import (
	"fmt"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

func (w *working) layers() {
	over, under := &w.x.K.Over, &w.x.K.Under
	what := "under the hole"
	switch {
	case w.x.K.Hole.Kind == "loop":
		what = "under the loop"
	case !w.x.K.Hole.Needed:
		what = "on top"
	}
	w.stack(over, what, w.x.C.Notion.Kind != catalog.Zip)
	if same(over, under) {
		w.say(TopicLayers, "", "the %s is set on the same layers", kindOf(w.x.C))
	} else {
		w.stack(under, "under the "+kindOf(w.x.C), true)
	}
}

func same(a, b *plan.Stack) bool {
	if len(a.Layers) != len(b.Layers) {
		return false
	}
	for i := range a.Layers {
		if a.Layers[i].Layer.Name != b.Layers[i].Layer.Name {
			return false
		}
	}
	return true
}

func (w *working) stack(s *plan.Stack, what string, pressed bool) {
	if len(s.Layers) == 0 {
		return
	}
	var parts, guesses []string
	for i := 0; i < len(s.Layers); i++ {
		l := &s.Layers[i]
		n := 1
		for i+1 < len(s.Layers) && s.Layers[i+1].Layer.Name == l.Layer.Name {
			i++
			n++
		}
		part := l.Layer.Name + " " + w.thick(l)
		if n > 1 {
			part = strconv.Itoa(n) + " × " + part
		}
		parts = append(parts, part)
		if name := l.Layer.Name; l.Estimated && !containsPrefix(guesses, name+" ") {
			guesses = append(guesses, fmt.Sprintf("%s is an estimate, %s", name, w.guess(l)))
		}
	}
	sum := measure.Toleranced{V: s.Thick, Tol: s.Tol}.TextThin(w.x.U)
	says := fmt.Sprintf("%s: %s = %s", what, strings.Join(parts, " + "), sum)
	if len(s.Layers) == 1 {
		says = fmt.Sprintf("%s: %s %s", what, s.Layers[0].Layer.Name, sum)
	}
	if s.Sampled() || s.SampledPressed() {
		w.sampledStack(s, what, strings.Join(parts, " + "), pressed)
		return
	}
	if pressed && s.Pressed != s.Thick {
		says += fmt.Sprintf("; pressed by the foot %s", s.Pressed.TextThin(w.x.U))
	}
	rule := "stack-bulky"
	if len(guesses) != 0 {
		says += "; " + strings.Join(guesses, "; ")
		rule = "thickness-estimated"
	}
	st := w.say(TopicLayers, rule, "%s", says)
	if len(guesses) != 0 {
		var names []string
		for i := range s.Layers {
			if l := &s.Layers[i]; l.Estimated {
				key := "cloth."
				if l.Layer.Interfacing != nil {
					key = "interfacing."
				}
				key += l.Layer.Name + ".thickness"
				if !containsPrefix(names, key) {
					names = append(names, key)
				}
			}
		}
		st.Default = "thickness was not measured; set " + text.And(names...)
	}
}

// sampledStack is a stack that a sample gave: its layers are told beside it,
// for they no longer decide.
func (w *working) sampledStack(s *plan.Stack, what, layers string, pressed bool) {
	free, sum := measure.Toleranced{V: s.Thick, Tol: s.Tol}.TextThin(w.x.U), measure.Length(0)
	for i := range s.Layers {
		sum += s.Layers[i].Thick
	}
	adds := layers
	if len(s.Layers) > 1 {
		adds += " = " + sum.TextThin(w.x.U)
	}
	says := what + ": " + free
	if s.Sampled() {
		says += ", from your sample"
	}
	says += "; the layers by themselves: " + adds
	if by := s.Pressed.TextThin(w.x.U); s.SampledPressed() {
		says += "; pressed " + measure.Toleranced{V: s.Pressed, Tol: s.Press.Tol}.TextThin(w.x.U) + ", from your sample"
	} else if pressed && s.Pressed != s.Thick {
		says += "; pressed by the foot " + by
	}
	w.say(TopicLayers, "stack-bulky", "%s", says)
}

func containsPrefix(list []string, prefix string) bool {
	for _, s := range list {
		if strings.HasPrefix(s, prefix) {
			return true
		}
	}
	return false
}

// thick is the thickness of a layer with its ±, in the garment's units.
func (w *working) thick(l *plan.Layer) string {
	s, _, _ := strings.Cut(measure.Toleranced{V: l.Thick, Tol: l.Tol}.TextThin(w.x.U), " (")
	return s
}

// guess is how a layer was estimated.
func (w *working) guess(l *plan.Layer) string {
	weight := measure.AreaWeight(0)
	switch {
	case l.Layer.Cloth != nil:
		weight = l.Layer.Cloth.Weight.V
	case l.Layer.Interfacing != nil:
		weight = l.Layer.Interfacing.Weight.V
	}
	if l.Thick == 0 {
		return "from its weight"
	}
	return fmt.Sprintf("%s ÷ %.3g g/cm³", weight.Short(measure.MM), weight.GSM()/(1000*l.Thick.MM()))
}

// layerNames are the layers of a stack in words, outside first.
func layerNames(s *plan.Stack) string {
	names, same := make([]string, len(s.Layers)), true
	for i := range s.Layers {
		names[i] = s.Layers[i].Layer.Name
		same = same && names[i] == names[0]
	}
	if same && len(names) > 1 {
		return strconv.Itoa(len(names)) + " layers of " + names[0]
	}
	return text.And(names...)
}

func plyCount(s *plan.Stack) int {
	_, _, _, n := plan.Plies(s)
	return n
}
