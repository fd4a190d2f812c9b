package live

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

// View is what the page shows: the file with what is being tried.
type View struct {
	Version  string   `json:"version"`
	Broken   string   `json:"broken"` // why the file cannot be planned; what is shown is from before
	Gone     string   `json:"gone"`   // the variant that was asked for and is not there: what is shown is the file itself
	Variants []string `json:"variants"`
	Variant  string   `json:"variant"` // that is shown; "" is the file itself
	Garment  string   `json:"garment"`
	Verdict  string   `json:"verdict"`
	Summary  string   `json:"summary"`
	Sizes    []string `json:"sizes"`
	Size     string   `json:"size"`
	Openings []string `json:"openings"`
	Opening  string   `json:"opening"`
	Closures []string `json:"closures"` // of the opening
	Closure  string   `json:"closure"`
	Picture  string   `json:"picture"` // SVG
	Screen   string   `json:"screen"`  // HTML; "" of a quick answer
	Fields   []field  `json:"fields"`
	With     []string `json:"with"`  // what is being tried, with what was moved or set
	Lines    []string `json:"lines"` // that would be written
	Into     string   `json:"into"`  // where they would be written
	Effect   string   `json:"effect"`
	Undo     bool     `json:"undo"` // whether what was written last can be taken back
}

// field is one of the few values that matter.
type field struct {
	Key   string `json:"key"`
	Label string `json:"label"`
	Value string `json:"value"` // as it is planned
	Said  bool   `json:"said"`  // the file says it
	Hint  string `json:"hint"`
	More  bool   `json:"more"` // stands behind the others, out of the way
}

// move is a fastener put somewhere by hand.
type move struct {
	Closure string  `json:"closure"`
	Row     int     `json:"row"` // from 1 at the top
	At      float64 `json:"at_mm"`
}

// tried is the file with the changes of a request.
func (s *Server) tried(st *state, q *request) (g *catalog.Garment, p *rules.Planned, with []catalog.With, err error) {
	if st.g == nil {
		return nil, nil, nil, st.err
	}
	g, p = st.g, st.plan
	add := func(more []catalog.With) {
		for _, m := range more {
			with = slices.DeleteFunc(with, func(w catalog.With) bool { return w.Key == m.Key })
			with = append(with, m)
		}
	}
	for i, kv := range slices.Concat(q.With, q.Add) {
		w, err := catalog.ParseWith(kv)
		if err != nil {
			return nil, nil, nil, err
		}
		if i < len(q.With) {
			with = append(with, w)
		} else {
			add([]catalog.With{w})
		}
	}
	if q.Move != nil {
		base := g
		if len(with) > 0 {
			if base, err = g.Alter(with...); err != nil {
				return nil, nil, nil, err
			}
		}
		more, err := placed(base, q.Move, q.Size)
		if err != nil {
			return nil, nil, nil, err
		}
		add(more)
	}
	if q.Set != nil {
		base := g
		if len(with) > 0 {
			if base, err = g.Alter(with...); err != nil {
				return nil, nil, nil, err
			}
		}
		key := q.Set.Key
		_, none := st.g.Alter(catalog.TakeOut(key))
		if strings.TrimSpace(q.Set.Value) == "" && none != nil && !strings.HasSuffix(key, ".use") {
			// The file says nothing there: what was tried is left out again.
			with = slices.DeleteFunc(with, func(w catalog.With) bool { return w.Key == key })
		} else {
			more, err := set(base, q.Set, q.Size)
			if err != nil {
				return nil, nil, nil, err
			}
			add(more)
		}
	}
	if len(with) == 0 {
		return g, p, nil, nil
	}
	if g, err = g.Alter(with...); err != nil {
		return nil, nil, nil, err
	}
	return g, checked(g, search.CheckOptions{Fixes: !q.Quick, Alone: true}), with, nil
}

// checked is search.Checked, which looks at one variant of a file alone: an
// entry that is settled for another one is not called unused.
func checked(g *catalog.Garment, o search.CheckOptions) *rules.Planned {
	p := search.Checked(g, o)
	if len(g.Variants()) > 0 {
		p.Findings = slices.DeleteFunc(p.Findings, func(f rules.Finding) bool { return f.Rule == rules.SettledRule.Name })
	}
	return p
}

// placed are the changes that put a fastener at a place: the first and the
// last give the ends of the run, one between them becomes an anchor, and the
// rest is laid anew around it.
func placed(g *catalog.Garment, m *move, size string) ([]catalog.With, error) {
	i := slices.IndexFunc(g.Closures, func(c catalog.Closure) bool { return c.Name == m.Closure })
	if i < 0 {
		return nil, fmt.Errorf("there is no closure %q", m.Closure)
	}
	z := max(slices.Index(g.Sizes, size), 0)
	p := plan.Of(g, true)
	k := &p.Closures[i].Sizes[z]
	if m.Row < 1 || m.Row > k.Count {
		return nil, fmt.Errorf("%s has no fastener %d", m.Closure, m.Row)
	}
	step := max(k.Step, measure.Length(1))
	at := measure.FromMM(m.At)
	at = (at + step/2) / step * step
	at = min(max(at, step), k.Run-step)
	key := catalog.Key("closure", m.Closure, "run")
	switch {
	case m.Row == 1:
		return []catalog.With{end(g, i, key+".first", size, at)}, nil
	case m.Row == k.Count:
		return []catalog.With{end(g, i, key+".last", size, k.Run-at)}, nil
	}
	name := "placed " + strconv.Itoa(m.Row)
	var anchors []any
	if old, ok := g.Says(source.Join(source.Item("closure", i), "run") + ".anchor").Value.([]any); ok {
		for _, a := range old {
			if t, ok := a.(map[string]any); !ok || t["name"] != name {
				anchors = append(anchors, a)
			}
		}
	}
	anchors = append(anchors, map[string]any{"name": name, "at": at.Exact(g.Units), "within": (step / 2).Exact(measure.MM)})
	w, err := catalog.ParseWith(key + ".anchor=" + source.Text(anchors))
	return []catalog.With{w}, err
}

// end is the change of an end of a run: of one size alone where the file gives
// it size by size.
func end(g *catalog.Garment, c int, key, size string, to measure.Length) catalog.With {
	if all := sized(g, c, key); all != nil {
		return bySize(g, key, all, size, to)
	}
	return catalog.SetLength(key, to, g.Units)
}

// set is the change that a value typed above makes.
func set(g *catalog.Garment, f *field, size string) ([]catalog.With, error) {
	value := measure.Everyday(f.Value)
	if strings.HasSuffix(f.Key, ".use") { // a name, unless it is a size
		if _, err := measure.ParseLength(value, measure.NoUnit); err != nil {
			value = strings.TrimSpace(f.Value)
		}
	}
	c := slices.IndexFunc(g.Closures, func(c catalog.Closure) bool {
		return strings.HasPrefix(f.Key, catalog.Key("closure", c.Name)+".")
	})
	if c < 0 && !strings.HasPrefix(f.Key, "cloth.") && !strings.HasPrefix(f.Key, "machine.") && !strings.HasPrefix(f.Key, "interfacing.") {
		return nil, fmt.Errorf("there is no value %s here", f.Key)
	}
	if value == "" {
		if c >= 0 && f.Key == catalog.Key("closure", g.Closures[c].Name, "use") {
			return nil, errors.New("choose a fastener, or write its name or its size")
		}
		return []catalog.With{catalog.TakeOut(f.Key)}, nil
	}
	if c >= 0 {
		cl := &g.Closures[c]
		switch f.Key {
		case catalog.Key("closure", cl.Name, "use"):
			return used(g, cl.Name, value)
		case catalog.Key("closure", cl.Name, "hole_length"), catalog.Key("closure", cl.Name, "loop"):
		case catalog.Key("closure", cl.Name, "run", "length"): // one for all closures of the opening
			var out []catalog.With
			for i := range g.Closures {
				if o := &g.Closures[i]; i == c || o.OpeningName() == cl.OpeningName() && g.Stated(source.Item("closure", i)+".run.length") {
					w, err := length(g, i, catalog.Key("closure", o.Name, "run", "length"), value, size)
					if err != nil {
						return nil, err
					}
					out = append(out, w)
				}
			}
			return out, nil
		default:
			w, err := length(g, c, f.Key, value, size)
			return []catalog.With{w}, err
		}
	}
	w, err := catalog.ParseWith(f.Key + "=" + value)
	return []catalog.With{w}, err
}

// length is the change of a value of a closure: of a length that the file
// gives size by size in one size alone.
func length(g *catalog.Garment, c int, key, value, size string) (catalog.With, error) {
	if all := sized(g, c, key); all != nil {
		l, err := measure.ParseLength(value, g.Units)
		if err != nil {
			return catalog.With{}, err
		}
		return bySize(g, key, all, size, l), nil
	}
	return catalog.ParseWith(key + "=" + value)
}

// used is the change to another fastener: by its name, or the best of a size.
func used(g *catalog.Garment, closure, value string) ([]catalog.With, error) {
	l, err := measure.ParseLength(value, measure.NoUnit)
	if err != nil {
		return g.Replace("closure", closure, value), nil
	}
	found, err := search.Choose(g, search.ChoiceOptions{Closure: closure, From: l, To: l, Limit: 1})
	if err != nil {
		return nil, err
	}
	if len(found.Candidates) == 0 {
		return nil, fmt.Errorf("the catalogue has none of %s; measure yours and give it in the file", value)
	}
	return g.Replace("closure", closure, found.Candidates[0].Name), nil
}

// sized is a length that the file gives size by size, nil where one holds for
// all of them.
func sized(g *catalog.Garment, c int, key string) catalog.Sized {
	if len(g.Sizes) < 2 {
		return nil
	}
	cl := &g.Closures[c]
	for k, l := range map[string]catalog.Sized{"run.length": cl.Run.Length, "run.first": cl.Run.First, "run.last": cl.Run.Last, "zip_length": cl.ZipLength} {
		if key != catalog.Key("closure", cl.Name)+"."+k {
			continue
		}
		table, ok := g.Says(source.Item("closure", c) + "." + k).Value.(map[string]any)
		if _, window := table["min"]; ok && !window && len(l) == len(g.Sizes) {
			return l
		}
	}
	return nil
}

// bySize is the change of a length in one size alone.
func bySize(g *catalog.Garment, key string, all catalog.Sized, size string, to measure.Length) catalog.With {
	lengths := make([]measure.Length, len(g.Sizes))
	for z := range g.Sizes {
		lengths[z] = all.At(z).V
	}
	lengths[max(slices.Index(g.Sizes, size), 0)] = to
	return catalog.SetSizes(key, g.Sizes, lengths, g.Units)
}

// view is the page of a request.
func (s *Server) view(q *request) (any, error) {
	gone := ""
	st, err := s.current(q.Variant)
	if none := (*catalog.VariantError)(nil); errors.As(err, &none) {
		gone = text.Safe(plain(err))
		st, err = s.current("")
	}
	if err != nil {
		return nil, err
	}
	g, p, with, err := s.tried(st, q)
	if err != nil {
		return nil, err
	}
	v := &View{Version: st.version, Gone: gone, Variants: g.Variants(), Variant: g.Variant, Garment: g.Name, Sizes: g.Sizes, With: catalog.Texts(with), Lines: []string{}, Openings: []string{}, Closures: []string{}}
	if v.Variants == nil {
		v.Variants = []string{}
	}
	if len(g.Sizes) == 1 && g.Sizes[0] == "" {
		v.Sizes = []string{}
	}
	if st.err != nil {
		v.Broken = plain(st.err)
	}
	z := max(slices.Index(g.Sizes, q.Size), 0)
	v.Size = g.Sizes[z]
	openings := g.Openings()
	o := max(slices.IndexFunc(openings, func(o catalog.Opening) bool { return o.Name == q.Opening }), 0)
	for _, x := range openings {
		v.Openings = append(v.Openings, x.Name)
	}
	v.Opening = openings[o].Name
	c := openings[o].Closures[0]
	for _, i := range openings[o].Closures {
		v.Closures = append(v.Closures, g.Closures[i].Name)
		if g.Closures[i].Name == q.Closure {
			c = i
		}
	}
	v.Closure = g.Closures[c].Name
	v.Fields = fields(p, c, z)
	before := st.plan
	if len(with) == 0 {
		before = nil
	}
	v.Picture = drawing(p, before, openings[o], z)
	screen := sheet.ScreenOf(p, sheet.Options{})
	v.Verdict, v.Summary = screen.Verdict, screen.Summary+". "+screen.Next
	if !q.Quick {
		var b bytes.Buffer
		if err := s.page.ExecuteTemplate(&b, "screen", screenOf(screen, p)); err != nil {
			return nil, err
		}
		v.Screen = b.String()
	}
	if len(with) > 0 {
		_, lines, err := st.g.Rewrite(with...)
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			if strings.TrimSpace(l.Text) != "" {
				v.Lines = append(v.Lines, text.Safe(l.Text))
			}
		}
		if v.Into = "It would be written into the file like this:"; g.Variant != "" {
			v.Into = "It would be written under [" + source.Join("variant", g.Variant) + "], for this variant alone, like this:"
		} else if len(v.Variants) > 0 {
			v.Into = "It would be written into the file like this, for all variants that do not say otherwise:"
		}
		d := search.Compare(st.plan, p)
		v.Effect = text.Safe(sheet.Effect(&d, g.Units) + evenness(st.plan, p, c, z))
	}
	s.lock.Lock()
	v.Undo = s.undo != nil && s.wrote == st.version
	s.lock.Unlock()
	return v, nil
}

// evenness is what a change costs in evenness, in words.
func evenness(before, after *rules.Planned, c, z int) string {
	if c >= len(before.Closures) || c >= len(after.Closures) {
		return ""
	}
	u := after.Garment.Units
	gaps := func(p *rules.Planned) (says string, apart measure.Length) {
		if z >= len(p.Closures[c].Sizes) {
			return "", 0
		}
		k := &p.Closures[c].Sizes[z]
		if len(k.Gaps) == 0 {
			return "", 0
		}
		lo, hi := slices.Min(k.Gaps), slices.Max(k.Gaps)
		if lo == hi {
			return "all " + lo.ShortPlace(u), 0
		}
		return lo.ShortPlace(u) + " to " + hi.ShortPlace(u), hi - lo
	}
	was, apartWas := gaps(before)
	is, apart := gaps(after)
	switch {
	case is == "" || was == "":
		return ""
	case was == is:
		return "; the gaps stay " + is
	case apart > apartWas:
		return "; gaps " + is + ", uneven by " + apart.ShortPlace(u) + "; before " + was
	case apart < apartWas:
		return "; gaps " + is + ", more even; before " + was
	}
	return "; gaps " + is + ", as even as before; before " + was
}

// fields are the values that stand above the piece.
func fields(p *rules.Planned, c, z int) []field {
	g := p.Garment
	k := &p.Closures[c]
	cl := k.Closure
	item := source.Item("closure", c)
	out := []field{}
	// add adds the field of a key: as it is planned, or else as the file has it.
	add := func(path, label, hint string, planned measure.Length) {
		f := field{Key: catalog.Key("closure", cl.Name) + "." + path, Label: label, Hint: hint, Said: g.Stated(item + "." + path)}
		switch v := g.Says(item + "." + path).Value.(type) {
		case string:
			f.Value = v
		case int64, float64:
			if f.Value = source.Text(v); path != "run.count" {
				f.Value += " " + g.Units.String()
			}
		}
		switch {
		case planned <= 0 || f.Value != "" && !place(path): // as the file says it
		case place(path):
			f.Value = planned.ShortPlace(g.Units)
		default:
			f.Value = planned.ShortLeast(g.Units)
		}
		if sized(g, c, f.Key) != nil {
			f.Label += ", size " + g.Sizes[z]
		}
		out = append(out, f)
	}
	// Lengths in hints are the usual ones, in the units of the file.
	hint := func(in, mm string) string {
		if g.Units.Is(measure.MM) {
			return mm
		}
		return in
	}
	s := &k.Sizes[z]
	example := "horn-40, 45L or " + (28 * measure.Millimetre).Short(g.Units.Or(measure.MM))
	if cl.Notion.Kind != catalog.Button {
		example = "a name of the catalogue"
	}
	add("use", "Fastener", example, 0)
	out[0].Value = cl.Use
	if cl.Use == "" {
		out[0].Hint = "your own"
	}
	if cl.Notion.Kind == catalog.Zip {
		add("run.length", "Opening, top to bottom", hint("24 in", "600 mm"), s.Run)
		add("run.first", "Zip begins below the top", hint("1/2 in", "15 mm"), s.First)
		buy := hint("26 in", "650 mm")
		if z < len(k.Zip.Sizes) && k.Zip.Sizes[z].Buy > 0 {
			buy = k.Zip.Sizes[z].Buy.ShortPlace(g.Units) + " planned"
		}
		add("zip_length", "Zip to buy", buy, 0)
		if all := sized(g, c, catalog.Key("closure", cl.Name, "zip_length")); all != nil {
			out[len(out)-1].Value = all.At(z).V.ShortPlace(g.Units)
		}
		return append(append(out, clothFields(p, c)...), footField(g))
	}
	add("run.count", "How many", "6", 0)
	if s.Count > 0 {
		out[len(out)-1].Value = strconv.Itoa(s.Count)
	}
	add("run.first", "First"+rules.FromEnd(p.Plan, cl, "first"), hint("1 in", "25 mm"), s.First)
	add("run.last", "Last"+rules.FromEnd(p.Plan, cl, "last"), hint("4 in", "100 mm"), s.Last)
	st, label := k.Stand.Have, "Stand, finished"
	if plan.LapOf(cl) == "double" { // the file has it from the centre line, not from the column
		st, label = k.Stand.Extension-k.Stand.Seam, "Centre line to edge"
	}
	if st > 0 || g.Stated(item+".stand.finished") {
		add("stand.finished", label, hint("1 in", "25 mm"), st)
	}
	switch {
	case k.Hole.Kind == "loop" && k.Loop.Inside > 0:
		add("loop", "Loop", hint("2 in", "50 mm"), k.Loop.Inside)
	case k.Hole.Kind != "loop" && k.Hole.Length > 0:
		add("hole_length", "Hole", hint("1 1/4 in", "32 mm"), k.Hole.Length)
	}
	more := len(out)
	add("run.length", "Opening, top to bottom", hint("24 in", "600 mm"), s.Run)
	if over := cl.Over; len(over) > 0 && over[0].Cloth != nil && over[0].Cloth.Repeat.Across.Has() && cl.Where == "front" {
		add("check.over", "A stripe to the centre line, upper front", hint("1 in", "25 mm"), 0)
		add("check.under", "A stripe to the centre line, under front", hint("1 in", "25 mm"), 0)
	}
	if cl.Notion.Kind == catalog.Toggle || cl.Notion.Kind == catalog.Frog {
		add("inset", "Cords sewn on, inside the meeting line", hint("2 1/2 in", "65 mm"), 0)
	}
	for _, own := range []struct{ key, label string }{{"diameter", "across"}, {"width", "across"}, {"length", "long"}, {"thickness", "thick"}} {
		if g.Stated(item + ".notion." + own.key) {
			add("notion."+own.key, text.Capital(cl.Notion.Kind)+", "+own.label, "", 0)
		}
	}
	for i := more; i < len(out); i++ {
		out[i].More = true
	}
	out = append(out, clothFields(p, c)...)
	if cl.Notion.Kind == catalog.Button && (k.Hole.Kind == "machine" || k.Hole.Kind == "keyhole") {
		out = append(out, plainField(g, "machine.buttonhole_max", "Machine's longest hole", g.Machine.ButtonholeMax.V.ShortPlace(g.Units.Or(measure.MM))))
	}
	return append(out, footField(g))
}

// footField is how high the machine's foot lifts, which decides what goes under
// it whatever the fastener.
func footField(g *catalog.Garment) field {
	taken := ""
	if lift := g.Machine.FootLift; lift.Has() {
		taken = lift.V.Short(g.Units.Or(measure.MM))
	}
	return plainField(g, "machine.foot_lift", "Machine's foot lifts", taken)
}

// place says whether a value is where a fastener lies, or what follows from it:
// those are shown exactly, as the papers do.
func place(path string) bool { return strings.HasPrefix(path, "run.") }

// clothFields are the values of the outermost cloth of a closure: how thick a
// layer is, and how a plaid repeats.
func clothFields(p *rules.Planned, c int) []field {
	g := p.Garment
	over := g.Closures[c].Over
	if len(over) == 0 || over[0].Cloth == nil {
		return nil
	}
	cl, key := over[0].Cloth, catalog.Key("cloth", over[0].Name)
	out := []field{plainField(g, key+".thickness", "Cloth, one layer", plan.LayerOf(g, over[0]).Thick.Short(g.Units.Or(measure.MM)))}
	if patterned(cl) || g.Stated(key+".repeat") {
		out = append(out, plainField(g, key+".repeat.along", "Plaid repeats, down", ""), plainField(g, key+".repeat.across", "Plaid repeats, across", ""))
	}
	return out
}

// patterned says whether a cloth is sold with a plaid or stripes.
func patterned(c *catalog.Cloth) bool {
	return strings.Contains(c.About, "plaid") || strings.Contains(c.About, "stripe")
}

// plainField is a value as the file has it; taken is what counts where it has
// none.
func plainField(g *catalog.Garment, key, label, taken string) field {
	f := field{Key: key, Label: label, Said: g.Stated(key), More: true}
	switch v := g.Says(key).Value.(type) {
	case string:
		f.Value = v
	case int64, float64:
		f.Value = source.Text(v) + " " + g.Units.String()
	}
	if f.Hint = "measure it"; taken != "" {
		f.Hint = taken + " taken"
	}
	return f
}

// The screen as the page shows it.
type shownScreen struct {
	*sheet.Screen
	Shown []shownPart
	Joint *shownTry
	First *rules.MeasureFirst
	Now   string // as it is known
}

type shownPart struct {
	Title  string
	Things []shownThing
}

type shownThing struct {
	sheet.Thing
	Severity string
	Tries    []shownTry
	Settles  bool // by a sample
	Explains string
}

type shownTry struct {
	Says string
	With string // JSON of the changes
	Text string
}

func screenOf(sc *sheet.Screen, p *rules.Planned) *shownScreen {
	out := &shownScreen{Screen: sc}
	u := measure.NoUnit // that of each source
	if p.Garment.Units.IsAlone() {
		u = p.Garment.Units
	}
	for _, part := range sc.Parts {
		sp := shownPart{Title: part.Title}
		for _, t := range part.Things {
			st := shownThing{Thing: t, Severity: t.Severity.String(), Settles: t.Severity != rules.Conflict}
			if r := rules.Find(t.Rule); r != nil {
				st.Explains = r.Explained(u).Why
				st.Settles = st.Settles && !r.Safety() && r.Name != rules.SettledRule.Name
			}
			for _, x := range t.Offer {
				st.Tries = append(st.Tries, tryOf(x))
			}
			sp.Things = append(sp.Things, st)
		}
		out.Shown = append(out.Shown, sp)
	}
	if sc.JointFix != nil {
		x := tryOf(&sc.JointFix.Fix)
		x.Says = text.Capital(strings.TrimPrefix(sc.Joint, "All together: "))
		out.Joint = &x
	}
	if len(p.First) > 0 {
		out.First = &p.First[0]
		out.Now = p.First[0].Now.TextThin(p.Garment.Units)
	}
	return out
}

func tryOf(x *rules.Fix) shownTry {
	with := sheet.Writes(x)
	data, _ := json.Marshal(with)
	return shownTry{Says: sheet.Says(x), With: string(data), Text: strings.Join(with, "  ")}
}

// keep writes what is being tried into the file.
func (s *Server) keep(q *request) (any, error) {
	st, err := s.current(q.Variant)
	if err != nil {
		return nil, err
	}
	if st.version != q.Version {
		return nil, changed{}
	}
	_, _, with, err := s.tried(st, q)
	if err != nil {
		return nil, err
	}
	if len(with) == 0 {
		return nil, errors.New("nothing is being tried")
	}
	data, _, err := st.g.Rewrite(with...)
	if err != nil {
		return nil, err
	}
	if err := s.write(st, data); err != nil {
		return nil, err
	}
	return s.view(&request{Variant: q.Variant, Size: q.Size, Opening: q.Opening, Closure: q.Closure})
}

// takeBack puts back what was there before the last thing that was written.
func (s *Server) takeBack(q *request) (any, error) {
	st, err := s.current("")
	if err != nil {
		return nil, err
	}
	s.lock.Lock()
	data, ok := s.undo, s.undo != nil && s.wrote == st.version
	s.lock.Unlock()
	if !ok || st.version != q.Version {
		return nil, changed{}
	}
	if err := s.write(st, bytes.TrimPrefix(data, []byte("\ufeff"))); err != nil {
		return nil, err
	}
	return s.view(&request{Variant: q.Variant, Size: q.Size, Opening: q.Opening, Closure: q.Closure})
}

// settle writes that a sample has answered a caution or a note.
func (s *Server) settle(q *request) (any, error) {
	st, err := s.current(q.Variant)
	if err != nil {
		return nil, err
	}
	if st.version != q.Version {
		return nil, changed{}
	}
	if st.err != nil {
		return nil, st.err
	}
	because := strings.TrimSpace(q.Because)
	if because == "" {
		return nil, errors.New("say what the sample showed")
	}
	var worst *rules.Finding
	for i := range st.plan.Findings {
		f := &st.plan.Findings[i]
		if f.Rule == q.Rule && f.Closure == q.Closure && f.Settled == "" && (worst == nil || f.Severity > worst.Severity || f.Severity == worst.Severity && f.Margin < worst.Margin) {
			worst = f
		}
	}
	if worst == nil {
		return nil, fmt.Errorf("nothing raises %s any more", text.Safe(q.Rule))
	}
	entry, err := st.plan.Settling(worst)
	if err != nil {
		return nil, err
	}
	entry.Because = because
	data, _, err := st.g.Settle(entry)
	if err != nil {
		return nil, err
	}
	if err := s.write(st, data); err != nil {
		return nil, err
	}
	return s.view(&request{Variant: q.Variant, Size: q.Size, Opening: q.Opening})
}

// choice is a fastener that fits.
type choice struct {
	Name  string `json:"name"`
	About string `json:"about"`
}

// choices answers with the best fasteners for a closure, as the garment is
// tried.
func (s *Server) choices(q *request) (any, error) {
	q.Quick = true
	st, err := s.current(q.Variant)
	if err != nil {
		return nil, err
	}
	g, _, _, err := s.tried(st, q)
	if err != nil {
		return nil, err
	}
	out := []choice{}
	c, err := search.Choose(g, search.ChoiceOptions{Closure: q.Closure, Limit: 10})
	if err != nil {
		return nil, err
	}
	for _, x := range c.Candidates {
		if x.Passes {
			out = append(out, choice{x.Name, text.Safe(x.About)})
		}
	}
	return out, nil
}

// sheetPaper is the spec as it is printed.
type sheetPaper struct{ style, body string }

// paperOf is the spec of what is being tried.
func (s *Server) paperOf(q *request) (any, error) {
	q.Quick = true
	st, err := s.current(q.Variant)
	if err != nil {
		return nil, err
	}
	_, p, _, err := s.tried(st, q)
	if err != nil {
		return nil, err
	}
	pp, err := printed(p)
	if err != nil {
		return nil, err
	}
	return map[string]string{"html": pp.body}, nil
}

func (s *Server) paper() sheetPaper {
	st, err := s.current("") // all variants have one style
	if err != nil || st.plan == nil {
		return sheetPaper{}
	}
	pp, _ := printed(st.plan)
	return pp
}

func printed(p *rules.Planned) (sheetPaper, error) {
	data, err := specified(p)
	if err != nil {
		return sheetPaper{}, err
	}
	page := string(data)
	between := func(from, to string) string {
		_, rest, _ := strings.Cut(page, from)
		in, _, _ := strings.Cut(rest, to)
		return in
	}
	return sheetPaper{between("<style>", "</style>"), between(`<main id="content">`, "</main>")}, nil
}
