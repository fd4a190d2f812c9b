package rules

import (
	"fmt"
	"math"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// SettledRule tells of entries that settle nothing any more. Settle adds what
// it finds.
var SettledRule = &Rule{
	Name: "settled-unused", Severity: Note,
	Task:    NoTask,
	Reads:   ReadsNotion | ReadsInterfacing,
	Room:    noRoom,
	Title:   "a [[settled]] entry that nothing raises any more",
	Formula: "an entry settles the findings of its rule, on its closure and in its size where it names them; it is open again when the severity rises, when the margin is worse than it was by more than one printed step, or when a value in while has changed; sizes count by the worst",
	Why:     "An entry that is left behind would hide the same finding when it comes back with other cloth.",
	Sources: []string{"arithmetic"},
	Check:   func(*Context) {}, // Settle looks, once all else is found
}

// Safety says whether the rule is about safety: no sample settles what it
// finds.
func (r *Rule) Safety() bool {
	if r == nil {
		return false
	}
	return slices.Contains(safetyRules, r) || r.Name == "snap-magnet" || r.Name == "snap-locking"
}

// Beyond says whether the rule looks at more than one closure.
func (r *Rule) Beyond() bool { return r.garment }

// Settle marks the findings that a sample has settled, by the entries of the
// garment, and those that are open again; and it names entries that settle
// nothing any more. Conflicts and what is about safety stay as they are. It
// may be called again once more was found.
func (p *Planned) Settle() {
	p.Findings = slices.DeleteFunc(p.Findings, func(f Finding) bool { return f.Rule == SettledRule.Name })
	for i := range p.Findings {
		p.Findings[i].Settled, p.Findings[i].Reopened = "", nil
	}
	for i := range p.Garment.Settled {
		s := &p.Garment.Settled[i]
		found := p.about(s)
		path := source.Item("settled", i)
		pos := p.Garment.At(path)
		if len(found) == 0 && p.Garment.Inherited(path) {
			continue // it answers what others of the house raise
		}
		if len(found) == 0 {
			f := Finding{Rule: SettledRule.Name, Severity: Note, Closure: s.Closure, Size: s.Size, Pos: pos, Sources: SettledRule.Sources}.
				At(path).Saying("nothing raises %s%s any more: take this entry out", s.Rule, onClosure(s))
			p.Findings = append(p.Findings, *f.Line("%s is settled and no longer found: take the entry out", s.Rule))
			continue
		}
		open := p.reopened(s, found)
		for _, f := range found {
			switch {
			case f.locked():
			case open == "" && f.Settled == "":
				f.Settled = s.Because
			}
			if open != "" {
				f.Reopened = &Related{Says: "it was settled, and is open again: " + open, Pos: pos}
			}
		}
	}
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Settled != "" { // by another entry, such as that of a variant
			f.Reopened = nil
		}
	}
}

// locked says whether a finding cannot be settled.
func (f *Finding) locked() bool {
	r := Find(f.Rule)
	return f.Severity == Conflict || r == nil || r.Safety() || r.unlaid
}

// about are the findings that an entry is about.
func (p *Planned) about(s *catalog.Settled) []*Finding {
	var out []*Finding
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Rule == s.Rule && (s.Closure == "" || f.Closure == s.Closure) && (s.Size == "" || f.Size == s.Size || f.Size == "") {
			out = append(out, f)
		}
	}
	return out
}

func onClosure(s *catalog.Settled) string {
	says := ""
	if s.Closure != "" {
		says += " on " + s.Closure
	}
	if s.Size != "" {
		says += " in size " + s.Size
	}
	return says
}

// settledAs is the severity that an entry settled.
func settledAs(s *catalog.Settled) Severity {
	if s.Severity == Note.String() {
		return Note
	}
	return Caution
}

// reopened says why an entry no longer holds, "" where it does.
func (p *Planned) reopened(s *catalog.Settled, found []*Finding) string {
	if now := severest(found); now > settledAs(s) {
		return fmt.Sprintf("it is a %s now", now)
	}
	return p.moved(s, found)
}

// moved says which of the things that an entry holds at is no longer so, ""
// where all are.
func (p *Planned) moved(s *catalog.Settled, found []*Finding) string {
	if was, now, changed := p.Garment.Changed(s.While); changed {
		if now.Value == nil {
			return fmt.Sprintf("%s is no longer in the file", was.Key)
		}
		return fmt.Sprintf("it held while %s; now the file has %s", was, now)
	}
	if !s.Have.Has() {
		return ""
	}
	var worst *Finding
	for _, f := range found {
		if f.Compared && (worst == nil || f.Margin < worst.Margin) {
			worst = f
		}
	}
	if worst == nil {
		return "it compares no figures now"
	}
	have, ok := inUnit(s.Have, worst.Unit)
	need, same := inUnit(s.Need, worst.Unit)
	if !ok || !same {
		return fmt.Sprintf("it was settled at %s, and now compares %s", s.Have, worst.unitWords())
	}
	// Which way the figures are held against each other the finding knows.
	margin := have.V - need.V
	if !worst.least() {
		margin = -margin
	}
	if step := max(have.Step(), need.Step()); worst.Margin < margin-step-1e-9 {
		now := worst.Amounts(p.Garment.Units)
		return fmt.Sprintf("it was settled at %s against %s, and is %s against %s now", s.Have, s.Need, now[0], now[1])
	}
	return ""
}

func severest(found []*Finding) Severity {
	sev := Note
	for _, f := range found {
		sev = max(sev, f.Severity)
	}
	return sev
}

// least says whether what a finding has must be at least what it needs.
func (n *Numbers) least() bool {
	return n.Margin == n.Have-n.Need && n.Have != n.Need || n.Margin < 0 && n.Have < n.Need
}

// inUnit is an amount in the unit of a finding. A bare number is one in it, of
// lengths in the units of the file.
func inUnit(a catalog.Amount, unit string) (catalog.Amount, bool) {
	switch {
	case a.Unit == unit:
		return a, true
	case a.Unit != "":
		return a, false
	case unit == "mm":
		l, err := measure.LengthOf(math.Abs(a.V), a.In)
		a.V, a.Unit = math.Copysign(l.MM(), a.V), unit
		return a, err == nil
	}
	a.Unit = unit
	return a, true
}

func (n *Numbers) unitWords() string {
	if n.Unit == "" {
		return "plain numbers"
	}
	return n.Unit
}

// Amounts are what a finding has and needs, as they are printed and can be
// written in a [[settled]] entry.
func (f *Finding) Amounts(u measure.Unit) [2]catalog.Amount {
	var out [2]catalog.Amount
	for i, x := range [2]float64{f.Have, f.Need} {
		out[i] = catalog.Amount{V: x, Unit: f.Unit, From: catalog.Given}
		if f.Unit != "mm" {
			continue
		}
		out[i].In = u
		l := measure.FromMM(x)
		if f.thin() {
			out[i].In = measure.MM
		}
		out[i].V = math.Copysign(l.Abs().Printed(out[i].In).MM(), float64(l))
	}
	return out
}

// thin says whether a finding compares thicknesses of cloth or the like, which
// are in millimetres in every file.
func (f *Finding) thin() bool {
	for _, a := range f.args {
		if b, ok := a.(bounded); ok {
			a = b.Stringer
		}
		if s, ok := a.(Said); ok && s.thin && (s.l.MM() == f.Have || s.l.MM() == f.Need || s.other.MM() == f.Need) {
			return true
		}
	}
	return false
}

// Settling is the entry that settles a finding, without its reason: with its
// figures where it compares any, else with the keys that it looked at. The
// error says why it cannot be settled, and what to do instead.
func (p *Planned) Settling(f *Finding) (catalog.Settled, error) {
	s := catalog.Settled{Rule: f.Rule, Closure: f.Closure, Severity: f.Severity.String()}
	r := Find(f.Rule)
	switch {
	case f.Severity == Conflict:
		return s, fmt.Errorf("%s%s is a conflict, and no sample settles one: change the garment%s", f.Rule, onClosure(&s), tryOf(f))
	case r == nil || r.Safety():
		return s, fmt.Errorf("%s is about safety, and no sample settles that: do as it says, and leave it in sight", f.Rule)
	case r.unlaid:
		return s, fmt.Errorf("%s%s leaves no places to mark, and no sample settles that: change the garment%s", f.Rule, onClosure(&s), tryOf(f))
	case r == SettledRule:
		return s, fmt.Errorf("%s says that an entry is no longer needed: take that entry out", f.Rule)
	}
	if f.Compared {
		now := f.Amounts(p.Garment.Units)
		s.Have, s.Need = now[0], now[1]
		return s, nil
	}
	s.While = p.looked(f)
	return s, nil
}

// tryOf is the first change that clears a finding.
func tryOf(f *Finding) string {
	if len(f.Fixes) == 0 {
		return " as it says"
	}
	return ", such as " + text.And(catalog.Texts(f.Fixes[0].With)...)
}

// looked are the keys that a finding hangs on, with what the file has there:
// the value that it speaks of, the fastener and the layers of its closure, and
// what the cloths of the garment are where it speaks of none.
func (p *Planned) looked(f *Finding) []string {
	g := p.Garment
	var out []string
	add := func(ws ...catalog.With) {
		for _, w := range ws {
			if s := w.String(); !slices.Contains(out, s) && len(out) < 12 {
				out = append(out, s)
			}
		}
	}
	own := g.Single(f.Path())
	if key := g.KeyOf(f.Path()); len(own) == 0 && key != "" {
		own = []catalog.With{{Key: key}} // a default
	}
	x := -1
	for i := range g.Closures {
		if f.Closure != "" && g.Closures[i].Name == f.Closure {
			x = i
		}
	}
	if x != -1 && f.Path() == source.Item("closure", x) {
		own = nil // the whole closure: what is below says enough
	}
	add(own...)
	if x != -1 {
		for _, key := range []string{"use", "over", "under"} {
			if path := source.Join(source.Item("closure", x), key); g.Stated(path) {
				add(g.Single(path)...)
			}
		}
		for _, l := range slices.Concat(g.Closures[x].Over, g.Closures[x].Under) {
			table := "cloth"
			if l.Interfacing != nil {
				table = "interfacing"
			}
			add(g.Single(source.Join(source.Join(table, l.Name), "use"))...)
		}
	}
	return out
}

// SettledFaults are what is wrong with the [[settled]] entries of a garment: a
// rule that there is not, or one about safety.
func SettledFaults(g *catalog.Garment) error {
	var out source.Problems
	for i := range g.Settled {
		s := &g.Settled[i]
		path := source.Item("settled", i) + ".rule"
		fault := func(instead, format string, args ...any) {
			m := g.Mark(path)
			m.Message, m.Instead = fmt.Sprintf(format, args...), instead
			out = append(out, m)
		}
		switch r := Find(s.Rule); {
		case r == nil:
			names := make([]string, len(AllRules))
			for k, r := range AllRules {
				names[k] = r.Name
			}
			fault(text.MeantQuoted(s.Rule, names), "there is no rule %q", text.Safe(s.Rule))
		case r.Safety():
			fault("no entry: do as the finding says", "%s is about safety, and no sample settles that", s.Rule)
		case r == SettledRule:
			fault("no entry: take out the one that it names", "%s says that an entry is no longer needed", s.Rule)
		}
	}
	return out.Err()
}

// SettledConflicts are the [[settled]] entries that were written about a
// conflict: it is one, and no worse than the entry says. One that has become a
// conflict since is open again, and no fault.
func (p *Planned) SettledConflicts() error {
	var out source.Problems
	for i := range p.Garment.Settled {
		s := &p.Garment.Settled[i]
		found := p.about(s)
		if s.Severity != "" || len(found) == 0 || severest(found) != Conflict {
			continue
		}
		conflicts := slices.DeleteFunc(found, func(f *Finding) bool { return f.Severity != Conflict })
		if p.moved(s, conflicts) == "" {
			m := p.Garment.Mark(source.Item("settled", i) + ".rule")
			m.Message = fmt.Sprintf("%s%s is a conflict, and no sample settles one", s.Rule, onClosure(s))
			m.Instead = "no entry: change the garment" + tryOf(conflicts[0])
			out = append(out, m)
		}
	}
	return out.Err()
}
