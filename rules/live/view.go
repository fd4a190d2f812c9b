package live

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
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
	Screen   string   `json:"screen"`  // HTML
	Fields   []field  `json:"fields"`
	With     []string `json:"with"`  // what is being tried, with what was moved or set
	Lines    []string `json:"lines"` // that would be written
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
	for _, kv := range q.With {
		w, err := catalog.ParseWith(kv)
		if err != nil {
			return nil, nil, nil, err
		}
		with = append(with, w)
	}
	add := func(more []catalog.With) {
		for _, m := range more {
			with = slices.DeleteFunc(with, func(w catalog.With) bool { return w.Key == m.Key })
			with = append(with, m)
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
		more, err := s.set(g, q.Set)
		if err != nil {
			return nil, nil, nil, err
		}
		add(more)
	}
	if len(with) == 0 {
		return g, p, nil, nil
	}
	if g, err = g.Alter(with...); err != nil {
		return nil, nil, nil, err
	}
	return g, search.Checked(g, search.CheckOptions{Fixes: true}), with, nil
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
		return []catalog.With{catalog.SetLength(key+".first", at, g.Units)}, nil
	case m.Row == k.Count:
		return []catalog.With{catalog.SetLength(key+".last", k.Run-at, g.Units)}, nil
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

// set is the change that a value typed above makes.
func (s *Server) set(g *catalog.Garment, f *field) ([]catalog.With, error) {
	value := strings.TrimSpace(f.Value)
	if !slices.ContainsFunc(g.Closures, func(c catalog.Closure) bool {
		return strings.HasPrefix(f.Key, catalog.Key("closure", c.Name)+".")
	}) && !strings.HasPrefix(f.Key, "cloth.") && !strings.HasPrefix(f.Key, "machine.") && !strings.HasPrefix(f.Key, "interfacing.") {
		return nil, fmt.Errorf("there is no value %s here", f.Key)
	}
	if value == "" {
		return []catalog.With{catalog.TakeOut(f.Key)}, nil
	}
	if strings.HasSuffix(f.Key, ".use") {
		for _, c := range g.Closures {
			if catalog.Key("closure", c.Name, "use") != f.Key {
				continue
			}
			if l, err := measure.ParseLength(value, measure.NoUnit); err == nil { // a size: the best of it
				found, err := search.Choose(g, search.ChoiceOptions{Closure: c.Name, From: l, To: l, Limit: 1})
				if err != nil {
					return nil, err
				}
				if len(found.Candidates) == 0 {
					return nil, fmt.Errorf("the catalogue has none of %s; measure yours and give it in the file", value)
				}
				return g.Replace("closure", c.Name, found.Candidates[0].Name), nil
			}
			return g.Replace("closure", c.Name, value), nil
		}
	}
	w, err := catalog.ParseWith(f.Key + "=" + value)
	return []catalog.With{w}, err
}

// view is the page of a request.
func (s *Server) view(q *request) (any, error) {
	st := s.current()
	g, p, with, err := s.tried(st, q)
	if err != nil {
		return nil, err
	}
	v := &View{Version: st.version, Garment: g.Name, Sizes: g.Sizes, With: catalog.Texts(with), Lines: []string{}, Openings: []string{}, Closures: []string{}}
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
	var b bytes.Buffer
	if err := s.page.ExecuteTemplate(&b, "screen", screenOf(screen, p)); err != nil {
		return nil, err
	}
	v.Screen = b.String()
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
	gaps := func(p *rules.Planned) string {
		k := &p.Closures[c].Sizes[z]
		if len(k.Gaps) == 0 {
			return ""
		}
		lo, hi := slices.Min(k.Gaps), slices.Max(k.Gaps)
		if lo == hi {
			return "all " + lo.ShortPlace(p.Garment.Units)
		}
		return lo.ShortPlace(p.Garment.Units) + " to " + hi.ShortPlace(p.Garment.Units)
	}
	was, is := gaps(before), gaps(after)
	if was == "" || is == "" || was == is {
		return ""
	}
	return "; gaps " + is + ", before " + was
}

// fields are the values that stand above the piece.
func fields(p *rules.Planned, c, z int) []field {
	g := p.Garment
	k := &p.Closures[c]
	cl := k.Closure
	key := func(parts ...string) string { return catalog.Key(append([]string{"closure", cl.Name}, parts...)...) }
	stated := func(path string) bool { return g.Stated(source.Join(source.Item("closure", c), path)) }
	len := func(l measure.Length) string {
		if l <= 0 {
			return ""
		}
		return l.ShortPlace(g.Units)
	}
	s := &k.Sizes[z]
	out := []field{{Key: key("use"), Label: "Fastener", Value: cl.Use, Said: true, Hint: "horn-40, 45L or 28 mm"}}
	run := source.Join(source.Item("closure", c), "run")
	if s.Count > 0 {
		out = append(out,
			field{Key: key("run", "count"), Label: "How many", Value: strconv.Itoa(s.Count), Said: g.Stated(run + ".count"), Hint: "6"},
			field{Key: key("run", "first"), Label: "First below the top", Value: len(s.First), Said: g.Stated(run + ".first"), Hint: "1 in"},
			field{Key: key("run", "last"), Label: "Last above the hem", Value: len(s.Last), Said: g.Stated(run + ".last"), Hint: "4 in"})
	}
	if st := k.Stand.Have; st > 0 {
		out = append(out, field{Key: key("stand", "finished"), Label: "Stand, finished", Value: len(st), Said: stated("stand"), Hint: "1 in"})
	}
	switch {
	case k.Hole.Kind == "loop" && k.Loop.Inside > 0:
		out = append(out, field{Key: key("loop"), Label: "Loop", Value: len(k.Loop.Inside), Said: stated("loop"), Hint: "2 in"})
	case k.Hole.Kind != "loop" && k.Hole.Length > 0:
		out = append(out, field{Key: key("hole_length"), Label: "Hole", Value: len(k.Hole.Length), Said: stated("hole_length"), Hint: "1 1/4 in"})
	}
	return out
}

// The screen as the page shows it.
type shownScreen struct {
	*sheet.Screen
	Shown []shownPart
	Joint *shownTry
	First *rules.MeasureFirst
	Now   string
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
	for _, part := range sc.Parts {
		sp := shownPart{Title: part.Title}
		for _, t := range part.Things {
			st := shownThing{Thing: t, Severity: t.Severity.String(), Settles: t.Severity != rules.Conflict}
			if r := rules.Find(t.Rule); r != nil {
				st.Explains = r.Why
				st.Settles = st.Settles && !r.Safety()
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
		x.Says = sc.Joint
		out.Joint = &x
	}
	if len(p.First) > 0 {
		out.First = &p.First[0]
		out.Now = p.First[0].Now.V.ShortPlace(measure.MM)
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
	st := s.current()
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
	return s.view(&request{Size: q.Size, Opening: q.Opening, Closure: q.Closure})
}

// takeBack puts back what was there before the last thing that was written.
func (s *Server) takeBack(q *request) (any, error) {
	st := s.current()
	s.lock.Lock()
	data, ok := s.undo, s.undo != nil && s.wrote == st.version
	s.lock.Unlock()
	if !ok || st.version != q.Version {
		return nil, changed{}
	}
	if err := s.write(st, bytes.TrimPrefix(data, []byte("\ufeff"))); err != nil {
		return nil, err
	}
	return s.view(&request{Size: q.Size, Opening: q.Opening, Closure: q.Closure})
}

// settle writes that a sample has answered a caution or a note.
func (s *Server) settle(q *request) (any, error) {
	st := s.current()
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
	return s.view(&request{Size: q.Size, Opening: q.Opening})
}

// choices answers with the best fasteners for a closure.
func (s *Server) choices(w http.ResponseWriter, r *http.Request) {
	st := s.current()
	out := []map[string]string{}
	if st.g != nil {
		if c, err := search.Choose(st.g, search.ChoiceOptions{Closure: r.URL.Query().Get("closure"), Limit: 10}); err == nil {
			for _, x := range c.Candidates {
				if x.Passes {
					out = append(out, map[string]string{"name": x.Name, "about": text.Safe(x.About)})
				}
			}
		}
	}
	data, err := text.JSON(out)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(data)
}

// sheetPaper is the spec as it is printed.
type sheetPaper struct{ style, body string }

// paperOf is the spec of what is being tried.
func (s *Server) paperOf(q *request) (any, error) {
	_, p, _, err := s.tried(s.current(), q)
	if err != nil {
		return nil, err
	}
	pp, err := printed(p)
	return map[string]string{"html": pp.body}, err
}

func (s *Server) paper() sheetPaper {
	st := s.current()
	if st.plan == nil {
		return sheetPaper{}
	}
	pp, _ := printed(st.plan)
	return pp
}

func printed(p *rules.Planned) (sheetPaper, error) {
	var b bytes.Buffer
	if err := sheet.Spec(&b, []*rules.Planned{p}, sheet.Options{Format: "html"}); err != nil {
		return sheetPaper{}, err
	}
	page := b.String()
	between := func(from, to string) string {
		_, rest, _ := strings.Cut(page, from)
		in, _, _ := strings.Cut(rest, to)
		return in
	}
	return sheetPaper{between("<style>", "</style>"), between(`<main id="content">`, "</main>")}, nil
}
