package desk

import (
	"bytes"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/search"

	"github.com/BurntSushi/toml"
)

// A quick command leaves out what its flags cannot state, and nothing else.
// What the garment of the question has open is filled in, in one way after the
// other, and planned again: a finding that goes then hangs on what nobody was
// asked, and is not told. No command names a rule that it does not tell.

// gap is an input that a question may leave open.
type gap struct {
	needs string   // what it is
	flags []string // what states it: a command that has one of them does not leave it open
	when  func(q *quick) bool
	fill  func(f filling)
}

// filling is the garment file of a question that is being filled in.
type filling struct {
	root, closure map[string]any
	k             *plan.Closure // as it was planned
}

// layers are those of the hole.
func (f filling) layers() []string { l, _ := f.closure["over"].([]string); return l }

// replace puts another fastener in the place of the one that was taken.
func (f filling) replace(kind string, notion map[string]any) {
	for _, key := range []string{"use", "hole", "hole_rule", "direction", "loop", "cord"} {
		delete(f.closure, key)
	}
	f.closure["fastener"], f.closure["notion"] = kind, notion
}

var gaps = []gap{
	{needs: "interfacing", flags: []string{"interfacing"}, when: func(q *quick) bool { return q.strips == 0 }, fill: func(f filling) {
		// One that holds the cloth, and takes up no thickness.
		f.closure["reinforced"] = true
		if slices.Contains(f.layers(), "cloth") {
			setIn(f.root, "cloth.cloth.stretch", "none")
		}
	}},
	{needs: "weight of the interfacing", when: func(q *quick) bool { return q.strips > 0 }, fill: func(f filling) {
		setIn(f.root, "interfacing.goods.weight", "1 g/m2")
	}},
	{needs: "stand", flags: []string{"stand", "band", "extension"}, fill: func(f filling) {
		setIn(f.closure, "stand.finished", "100 mm")
	}},
	{needs: "machine", flags: []string{"machine", "foot-lift"}, fill: func(f filling) {
		f.root["machine"] = map[string]any{"kind": "industrial", "foot_lift": "40 mm", "sewing_max": "40 mm", "buttonhole_max": "120 mm", "keyhole": true}
	}},
	{needs: "kind of hole", flags: []string{"hole"}, when: func(q *quick) bool { return q.closure["hole"] != "loop" }, fill: func(f filling) {
		if f.k.Hole.Needed && f.k.Hole.Kind != "loop" {
			f.closure["hole"] = "bound"
		}
	}},
	{needs: "fastener", flags: []string{"diameter", "use"}, fill: func(f filling) {
		f.replace(catalog.Zip, map[string]any{"number": 5, "opening": "closed"})
	}},
	{needs: "layers", flags: []string{"layers", "over"}, fill: func(f filling) {
		if l := f.layers(); len(l) > 1 {
			f.closure["over"] = l[:len(l)-1]
		}
	}},
	{needs: "number of layers", when: func(q *quick) bool { return q.cmd.flag("pressed") != nil && q.has("pressed") }, fill: func(f filling) {
		whole, _ := f.root["cloth"].(map[string]any)["layers"].(map[string]any)["thickness"].(string)
		if l, err := measure.ParseToleranced(whole, measure.NoUnit); err == nil {
			setIn(f.root, "cloth.layers.thickness", lengthText(measure.Toleranced{V: l.V / 2, Tol: l.Tol / 2}))
			f.closure["over"] = []string{"layers", "layers"}
		}
	}},
	{needs: "kind of fastener", when: func(q *quick) bool { return q.bare }, fill: func(f filling) {
		d, _ := f.closure["notion"].(map[string]any)["diameter"]
		f.replace(catalog.Rivet, map[string]any{"diameter": d})
	}},
	{needs: "length of the shank", when: func(q *quick) bool { return q.cmd.flag("shank") != nil && q.on("shank") }, fill: func(f filling) {
		setIn(f.closure, "notion.shank", lengthText(measure.Toleranced{V: max(f.k.Over.Thick, measure.Millimetre/100)}))
	}},
	{needs: "inset of the cord", fill: func(f filling) {
		if f.k.Loop.Needed {
			f.closure["inset"] = "70 mm"
		}
	}},
}

// leftOpen is a finding that hangs on what the question leaves open.
type leftOpen struct {
	finding *rules.Finding
	needs   string
}

// told parts the findings of a question into those that hold however it is
// filled in, and those that do not.
func (q *quick) told(p *rules.Planned) (told []rules.Finding, left []leftOpen) {
	needs := make([]string, len(p.Findings))
	for i := range gaps {
		if slices.Contains(needs, "") && q.leavesOpen(&gaps[i]) {
			q.without(p, needs, &gaps[i])
		}
	}
	for i := range p.Findings {
		if f := &p.Findings[i]; needs[i] == "" && q.isTaken(f.Path()) && !slices.Contains(q.says, f.Rule) {
			needs[i] = "a value that was taken"
		}
	}
	for i := range p.Findings {
		if f := &p.Findings[i]; needs[i] == "" {
			told = append(told, *f)
		} else {
			left = append(left, leftOpen{f, needs[i]})
		}
	}
	return told, left
}

// leavesOpen says whether the question leaves an input open.
func (q *quick) leavesOpen(o *gap) bool {
	return !slices.ContainsFunc(o.flags, func(n string) bool { return q.cmd.flag(n) != nil }) && (o.when == nil || o.when(q))
}

// without marks the findings that go where an input is filled in.
func (q *quick) without(p *rules.Planned, needs []string, o *gap) {
	root := cloned(q.root).(map[string]any)
	o.fill(filling{root, root["closure"].([]map[string]any)[0], &p.Closures[0]})
	g, err := q.read(root)
	if err != nil {
		return // it cannot be filled in like that
	}
	check := rules.Plan
	if slices.ContainsFunc(p.Findings, func(f rules.Finding) bool { return f.Rule == rules.WithinRule.Name }) {
		check = func(g *catalog.Garment) *rules.Planned { return search.Checked(g, search.CheckOptions{}) }
	}
	now := check(g)
	for i := range p.Findings {
		if needs[i] == "" && !stillIn(&p.Findings[i], now) {
			needs[i] = o.needs
		}
	}
}

// stillIn says whether a finding is in another plan, no less grave. What only
// just passed may fail there.
func stillIn(f *rules.Finding, p *rules.Planned) bool {
	just := passes(f)
	return slices.ContainsFunc(p.Findings, func(o rules.Finding) bool {
		return o.Rule == f.Rule && o.Severity >= f.Severity && o.Path() == f.Path() && passes(&o) == just || just != "" && o.Rule == just
	})
}

// passes is the rule by which something only just passes, "" of other findings.
func passes(f *rules.Finding) string {
	if f.Rule != rules.WithinRule.Name {
		return ""
	}
	_, rule, _ := strings.Cut(f.Message(), "(see ")
	return strings.TrimSuffix(rule, ")")
}

// read reads a garment file.
func (q *quick) read(root map[string]any) (*catalog.Garment, error) {
	var b bytes.Buffer
	if err := toml.NewEncoder(&b).Encode(root); err != nil {
		return nil, err
	}
	return catalog.Read("the question", b.Bytes(), catalog.Options{Catalogs: q.list("catalog"), OneUnit: q.on("one-unit"), NoLayers: true})
}

// setIn writes a value at a path of keys of a table.
func setIn(table map[string]any, path string, value any) {
	for {
		key, rest, deeper := strings.Cut(path, ".")
		if !deeper {
			table[key] = value
			return
		}
		below, ok := table[key].(map[string]any)
		if !ok {
			below = map[string]any{}
			table[key] = below
		}
		table, path = below, rest
	}
}

// cloned is a copy of tables and of the lists of them.
func cloned(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, x := range v {
			out[k] = cloned(x)
		}
		return out
	case []map[string]any:
		out := make([]map[string]any, len(v))
		for i, x := range v {
			out[i] = cloned(x).(map[string]any)
		}
		return out
	}
	return v
}
