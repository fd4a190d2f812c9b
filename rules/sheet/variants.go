package sheet

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// VariantOut is a variant of a file: what it comes to. What was found stands
// among the findings of the file, each with the variants that have it.
type VariantOut struct {
	Variant      string        `json:"variant"`
	Sets         []string      `json:"sets"` // what it changes, as --with has it
	Make         []MadeOut     `json:"make"`
	Verdict      string        `json:"verdict"`
	Machine      string        `json:"machine"`
	Sizes        []string      `json:"sizes"`
	Change       *Change       `json:"change"`
	JointFix     *JointFix     `json:"joint_fix"`
	MeasureFirst *MeasureFirst `json:"measure_first"`
	Closures     []Closure     `json:"closures"`
	Buy          Buy           `json:"buy"`
	Cautions     []string      `json:"cautions"`
	Notes        []string      `json:"notes"`
}

// MadeOut is how many of a size are made.
type MadeOut struct {
	Size     string `json:"size"` // "" where there are no sizes
	Garments int    `json:"garments"`
}

func madeOut(g *catalog.Garment) []MadeOut {
	out := []MadeOut{}
	for i, n := range g.Make.N {
		if n > 0 {
			out = append(out, MadeOut{g.Sizes[i], n})
		}
	}
	return out
}

func (s *Garment) variantOut() VariantOut {
	return VariantOut{
		Variant: s.plan.Garment.Variant, Sets: catalog.Texts(s.plan.Garment.Sets()), Make: s.Make, Verdict: s.Verdict, Machine: s.Machine, Sizes: s.Sizes,
		Closures: s.Closures, Buy: s.Buy, Cautions: s.Cautions, Notes: s.Notes,
	}
}

// all are the sheet and those of the variants of its file.
func (s *Garment) all() []*Garment { return append([]*Garment{s}, s.variants...) }

// flat are sheets, each followed by those of its variants.
func flat(sheets []*Garment) []*Garment {
	var out []*Garment
	for _, s := range sheets {
		out = append(out, s.all()...)
	}
	return out
}

// inWords are the variants that have something, in words; "" where all do.
func inWords(names []string) string {
	words := make([]string, len(names))
	for i, n := range names {
		words[i] = rules.Variant(n)
	}
	return text.And(words...)
}

// groups are what was found, by the variants that have it.
func (s *Garment) groups() [][]rules.Entry {
	if !slices.ContainsFunc(s.found, func(e rules.Entry) bool { return len(e.In) > 0 }) {
		return [][]rules.Entry{s.found}
	}
	var out [][]rules.Entry
	for _, e := range s.found {
		i := slices.IndexFunc(out, func(g []rules.Entry) bool { return slices.Equal(g[0].In, e.In) })
		if i < 0 {
			i = len(out)
			out = append(out, nil)
		}
		out[i] = append(out[i], e)
	}
	return out
}

// shared are the things of a part, by the variants that have them: what all
// have first, then in the order of the variants, what more of them have
// before. One that reads alike in several groups, whatever its figures, and
// offers the same, is one thing.
func (s *Garment) shared(p *screenPart, groups [][]rules.Entry) [][]item {
	order := map[string]int{}
	for i, v := range s.all() {
		order[v.plan.Garment.Variant] = i
	}
	var items []item
	index := map[string]int{}
	for _, found := range groups {
		for _, it := range s.items(p, found) {
			key := it.Says()
			for _, x := range it.tries() {
				key += "\x00" + fixSays(x) + strings.Join(catalog.Texts(x.With), " ")
			}
			k, known := index[key]
			if !known || len(items[k].in) == 0 || len(it.in) == 0 {
				index[key] = len(items)
				items = append(items, it)
				continue
			}
			one := &items[k]
			one.entries = append(one.entries, it.entries...)
			one.in = slices.Compact(slices.SortedFunc(slices.Values(slices.Concat(one.in, it.in)), func(a, b string) int { return order[a] - order[b] }))
			if len(one.in) == len(order) {
				one.in = nil
			}
		}
	}
	var out [][]item
	for _, it := range items {
		i := slices.IndexFunc(out, func(g []item) bool { return slices.Equal(g[0].in, it.in) })
		if i < 0 {
			i = len(out)
			out = append(out, nil)
		}
		out[i] = append(out[i], it)
	}
	for i := range out {
		out[i] = s.clothsAlike(out[i])
	}
	places := func(in []string) []int {
		of := make([]int, len(in))
		for i, n := range in {
			of[i] = order[n]
		}
		return of
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := places(out[i][0].in), places(out[j][0].in)
		if len(a) == 0 || len(b) == 0 {
			return len(a) < len(b)
		}
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(len(b), len(a)), slices.Compare(a, b)) < 0
	})
	return out
}

// measureFirst is what to measure first, in the file itself and in each
// variant; what several say once.
func (s *Garment) measureFirst() string {
	var says []string
	names := map[string][]string{}
	for _, v := range s.all() {
		if ms := v.measureWords(); len(ms) > 0 {
			if names[ms[0]] == nil {
				says = append(says, ms[0])
			}
			names[ms[0]] = append(names[ms[0]], v.plan.Garment.Variant)
		}
	}
	for i, m := range says {
		if len(names[m]) <= len(s.variants) {
			says[i] = "in " + inWords(names[m]) + " " + m
		}
	}
	return strings.Join(says, "; ")
}

// joints are what settles all conflicts together, in each variant that has
// several; one line where it is the same in several.
func (s *Garment) joints() []joint {
	var out []joint
	names := map[int][]string{}
	for _, v := range s.all() {
		says, with := v.jointWords()
		if says == "" {
			continue
		}
		i := slices.IndexFunc(out, func(j joint) bool { return j.says == says && slices.Equal(j.with, with) })
		if i < 0 {
			i = len(out)
			out = append(out, joint{says, with})
		}
		names[i] = append(names[i], v.plan.Garment.Variant)
	}
	for i := range out {
		if len(names[i]) < len(s.variants)+1 {
			out[i].says = "In " + inWords(names[i]) + ", " + strings.ToLower(out[i].says[:1]) + out[i].says[1:]
		}
	}
	return out
}

type joint struct {
	says string
	with []string
}

// verdicts is a table of the variants: what stands in the way of each.
//
// What is counted is what is printed beside it: in full every finding of one
// cause, else the things of the screen.
func (s *Garment) verdicts(full bool) *table {
	if len(s.variants) == 0 {
		return nil
	}
	t := &table{ID: "variants", Caption: "Variants", Head: []string{"variant", "verdict", "conflicts", "cautions", "notes"}}
	for _, v := range s.all() {
		count := v.ownThings
		if full {
			count = v.ownCount
		}
		row := []cell{words(rules.Variant(v.plan.Garment.Variant)), words(v.own()), number(count(rules.Conflict)), number(count(rules.Caution)), number(count(rules.Note))}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// under is a table with another caption, as beneath a heading that says the same.
func (t *table) under(caption string) *table {
	if t != nil {
		t.Caption = caption
	}
	return t
}

// ownCount is how many causes of that severity the garment itself has, its
// variants aside.
func (s *Garment) ownCount(sev rules.Severity) int {
	n := 0
	for i := range s.found {
		if e := &s.found[i]; e.Severity == sev && (len(e.In) == 0 || slices.Contains(e.In, s.plan.Garment.Variant)) {
			n++
		}
	}
	return n
}

// ownThings is how many things of that severity stand on the screen of the
// garment itself, its variants aside.
func (s *Garment) ownThings(sev rules.Severity) int {
	var own []rules.Entry
	for i := range s.found {
		if e := s.found[i]; e.Severity == sev && (len(e.In) == 0 || slices.Contains(e.In, s.plan.Garment.Variant)) {
			own = append(own, e)
		}
	}
	n := 0
	for i := range screenParts {
		n += len(s.clothsAlike(s.items(&screenParts[i], own)))
	}
	return n
}

// own is the verdict on the garment itself, its variants aside.
func (s *Garment) own() string {
	return verdictOf(slices.DeleteFunc(slices.Clone(s.found), func(e rules.Entry) bool {
		return len(e.In) > 0 && !slices.Contains(e.In, s.plan.Garment.Variant)
	}))
}

// variantDocs are the pages of the variants: of each only what is not as in
// the file itself.
func (d *document) variantDocs(o Options, k kind) []*document {
	if k == check {
		return nil
	}
	t := &terminal{o: Options{UTF8: true, Width: DefaultWidth}, low: true}
	said := func(d *document, sec *section) string {
		t.Reset()
		for _, b := range sec.Blocks {
			t.block(d, b)
		}
		return t.String()
	}
	same := map[string]string{}
	for i := range d.Sections {
		same[d.Sections[i].ID] = said(d, &d.Sections[i])
	}
	var out []*document
	for _, v := range d.sheet.variants {
		x := v.document(o, k)
		x.variant = true
		var left []string
		x.Sections = slices.DeleteFunc(x.Sections, func(sec section) bool {
			if sec.ID == "findings" || sec.ID == "full" {
				return true
			}
			if same[sec.ID] != said(x, &sec) {
				return false
			}
			if sec.Title != "" {
				left = append(left, strings.ToLower(sec.Title[:1])+sec.Title[1:])
			}
			return true
		})
		for i := range x.Sections {
			if sec := &x.Sections[i]; sec.ID == "lies" {
				sec.Blocks = otherPieces(sec.Blocks, d.section("lies"))
			}
		}
		if !slices.ContainsFunc(x.Sections, func(sec section) bool { return sec.numbered() }) {
			x.Sources = nil
		}
		facts := []fact{{"variant of", d.Title}}
		if sets := catalog.Texts(v.plan.Garment.Sets()); len(sets) > 0 {
			facts = append(facts, fact{"with", strings.Join(sets, "; ")})
		}
		if len(left) > 0 {
			facts = append(facts, fact{"as in the file itself", strings.Join(left, ", ")})
		}
		x.Facts = facts
		out = append(out, x)
	}
	return out
}

// numbered says whether a section refers to sources by their numbers.
func (sec *section) numbered() bool {
	return slices.ContainsFunc(sec.Blocks, func(b any) bool {
		w, is := b.(working)
		return is && slices.ContainsFunc(w.Steps, func(st step) bool { return len(st.Refs) > 0 })
	})
}

// section are the blocks of a section.
func (d *document) section(id string) []any {
	for i := range d.Sections {
		if d.Sections[i].ID == id {
			return d.Sections[i].Blocks
		}
	}
	return nil
}

// otherPieces are those pieces, each a name and what is said of it, of which
// not the same is said in the file itself.
func otherPieces(pieces, file []any) []any {
	var out []any
	for i := 0; i+1 < len(pieces); i += 2 {
		name, _ := pieces[i].(para)
		says, _ := pieces[i+1].(bullets)
		same := false
		for j := 0; j+1 < len(file) && !same; j += 2 {
			n, _ := file[j].(para)
			b, _ := file[j+1].(bullets)
			same = n == name && slices.Equal(b, says)
		}
		if !same {
			out = append(out, name, says)
		}
	}
	if len(out) < len(pieces) {
		out = append(out, para("The other pieces as in the file itself."))
	}
	return out
}
