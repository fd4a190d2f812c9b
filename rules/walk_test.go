package rules

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// A leaf is one input of a garment: a figure, a word, a list, of the garment's
// file or of the catalogue entry that a table of it is built on.
type leaf struct {
	key   string // cloth.*.thickness
	field string // the name of its field, for the words that it may have
	v     reflect.Value
	entry *catalog.Entry // of the table, nil where it is no entry's
	table reflect.Value  // that table
	own   string         // its key in the table
}

// keysOf are the keys whose fields are called otherwise.
var keysOf = map[string]string{
	"HoleLen": "hole_length", "PunchHole": "punch", "Rule": "hole_rule", "Reinforce": "reinforced", "Finish": "hole_finish",
	"Centred": "hole_centred", "TopstitchInset": "topstitch", "UnderAlng": "under_along", "GapMin": "gap.min", "GapMax": "gap.max",
	"GapAbout": "gap.about", "Anchors": "anchor", "Clears": "clear", "Presses": "holds_press", "RivetKind": "kind", "EyeletKind": "kind",
	"ZipKind": "kind", "HookKind": "kind", "Sample": "measured", "FirstMax": "first.max", "LastMax": "last.max", "Circum": "circumference",
}

func keyOf(field string) string {
	if k := keysOf[field]; k != "" {
		return k
	}
	var b strings.Builder
	for i, r := range field {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// skipped are fields that say no more of a garment than what it is called and
// how it is found.
var skipped = map[string]bool{
	"Entry": true, "Index": true, "Name": true, "Fastener": true, "Use": true, "File": true, "Catalog": true, "Keep": true, "Settled": true,
	"Notes": true, "ClothNames": true, "InterfNames": true, "ThreadNames": true, "MachineUse": true, "Sizes": true, "Jobs": true,
	"Pieces": true, "Spare": true, "Part": true, "About": true, "Source": true, "Price": true, "Pack": true, "Thread": true, "ButtonThread": true,
	"Opening": true, "Behind": true,
}

// leavesOf are the inputs of a garment that have a value, and the words that
// may have one.
func leavesOf(g *catalog.Garment) []leaf {
	var out []leaf
	var walk func(at string, v, table reflect.Value, entry *catalog.Entry, own string)
	walk = func(at string, v, table reflect.Value, entry *catalog.Entry, own string) {
		if v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() || skipped[f.Name] {
				continue
			}
			key := keyOf(f.Name)
			x, k, o := v.Field(i), at+"."+key, strings.TrimPrefix(own+"."+key, ".")
			if at == "" {
				k = key
			}
			add := func(x reflect.Value) { out = append(out, leaf{k, f.Name, x, entry, table, o}) }
			switch y := x.Addr().Interface().(type) {
			case *catalog.Measured:
				if y.Has() {
					add(x)
				}
				continue
			case *catalog.Sized:
				for j := range *y {
					add(x.Index(j))
				}
				continue
			case *catalog.Notion:
				walk(k, x, x, &y.Entry, "")
				continue
			case *catalog.Machine:
				walk("machine", x, x, &y.Entry, "")
				continue
			case *[]*catalog.Cloth, *[]*catalog.Interfacing, *[]*catalog.Thread:
				name := map[string]string{"Cloths": "cloth.*", "Interfacings": "interfacing.*", "Threads": "thread.*"}[f.Name]
				for j := range x.Len() {
					e := x.Index(j).Elem()
					walk(name, e, e, e.FieldByName("Entry").Addr().Interface().(*catalog.Entry), "")
				}
				continue
			case *[]catalog.Closure, *[]catalog.GarmentCord, *[]catalog.Anchor, *[]catalog.Clear:
				name := k + ".*"
				if at == "" {
					name = strings.TrimSuffix(key, "s") + ".*"
				}
				for j := range x.Len() {
					walk(name, x.Index(j), table, entry, "")
				}
				continue
			}
			switch {
			case x.Kind() == reflect.Struct && x.FieldByName("From").IsValid():
				if x.FieldByName("From").Uint() != uint64(catalog.Unset) {
					add(x)
				}
			case x.Kind() == reflect.Struct:
				walk(k, x, table, entry, o)
			case x.Kind() == reflect.Slice || x.Kind() == reflect.Map:
				if x.Len() > 0 {
					add(x)
				}
			case x.Kind() == reflect.String:
				if x.String() != "" {
					add(x)
				}
			}
		}
	}
	walk("", reflect.ValueOf(g).Elem(), reflect.Value{}, nil, "")
	// What the catalogue says of the fibres and the families that are used.
	fibres, kinds := map[string]bool{}, map[string]bool{}
	for _, c := range g.Cloths {
		kinds[c.Kind] = true
		for f := range c.Fibre {
			fibres[f] = true
		}
	}
	for _, f := range slices.Sorted(maps.Keys(fibres)) {
		if x := g.Catalog.Fibre(f); x != nil {
			e := reflect.ValueOf(x).Elem()
			walk("fibre.*", e, e, &x.Entry, "")
		}
	}
	for _, f := range slices.Sorted(maps.Keys(kinds)) {
		if x := g.Catalog.Family(f); x != nil {
			e := reflect.ValueOf(x).Elem()
			walk("family.*", e, e, &x.Entry, "")
		}
	}
	return out
}

// words are those that the fields of that name have anywhere in the
// catalogue and in the garments of the walk.
type words map[string]map[string]bool

func (w words) of(g *catalog.Garment) {
	for _, l := range leavesOf(g) {
		if l.v.Kind() == reflect.String {
			if w[l.field] == nil {
				w[l.field] = map[string]bool{"": true}
			}
			w[l.field][l.v.String()] = true
		}
	}
}

// others are the values that an input might have had instead, near and far.
func (l *leaf) others(w words) []reflect.Value {
	var out []reflect.Value
	with := func(set func(x reflect.Value)) {
		x := reflect.New(l.v.Type()).Elem()
		x.Set(l.v)
		set(x)
		out = append(out, x)
	}
	factors := []float64{0.05, 0.5, 0.8, 0.95, 1.05, 1.25, 2, 4}
	switch y := l.v.Interface().(type) {
	case catalog.Measured:
		for _, f := range factors {
			with(func(x reflect.Value) {
				x.FieldByName("V").SetInt(max(1000, int64(float64(y.V)*f)))
			})
		}
		for _, d := range []measure.Length{mm / 50, -mm / 50, 2 * mm, -2 * mm, 7 * mm, -7 * mm, 40 * mm} {
			with(func(x reflect.Value) { x.FieldByName("V").SetInt(max(1000, int64(y.V+d))) })
		}
	case []measure.Length:
		for _, f := range factors {
			c := slices.Clone(y)
			for i := range c {
				c[i] = measure.Length(float64(c[i]) * f)
			}
			out = append(out, reflect.ValueOf(c))
		}
	case []catalog.Strip:
		out = append(out, reflect.ValueOf([]catalog.Strip{}))
		for _, f := range factors {
			c := slices.Clone(y)
			for i := range c {
				c[i].Width.V = max(1000, measure.Length(float64(c[i].Width.V)*f))
			}
			out = append(out, reflect.ValueOf(c))
		}
	case []catalog.Count:
		for _, n := range []int{1, 2, 3, 5, 8} {
			out = append(out, reflect.ValueOf([]catalog.Count{{Min: n, Max: n, Set: true}}))
		}
	case map[string]float64:
		for _, f := range []string{"cotton", "wool", "polyester", "linen"} {
			out = append(out, reflect.ValueOf(map[string]float64{f: 100}))
		}
	case []catalog.Layer:
		if len(y) > 1 {
			out = append(out, reflect.ValueOf(y[:1]), reflect.ValueOf(y[:len(y)-1]))
		}
		out = append(out, reflect.ValueOf(append(slices.Clone(y), y...)))
	case string:
		if l.field == "Shape" { // of a toggle all other figures are others
			for _, s := range []string{"flat", "domed", "ball", "square", "odd"} {
				if s != y {
					out = append(out, reflect.ValueOf(s))
				}
			}
			break
		}
		for _, s := range slices.Sorted(maps.Keys(w[l.field])) {
			if s != y {
				out = append(out, reflect.ValueOf(s))
			}
		}
	default:
		v := l.v.FieldByName("V")
		switch {
		case !v.IsValid():
		case v.Kind() == reflect.Bool:
			with(func(x reflect.Value) { x.FieldByName("V").SetBool(!v.Bool()) })
			with(func(x reflect.Value) { x.SetZero() })
		case v.CanInt():
			for _, f := range factors {
				with(func(x reflect.Value) { x.FieldByName("V").SetInt(int64(float64(v.Int()) * f)) })
			}
		case v.CanFloat() && l.field == "Pressed": // as free as it lies, or twice as far
			for _, p := range []float64{1, max(0.01, 2*v.Float()-1)} {
				with(func(x reflect.Value) { x.FieldByName("V").SetFloat(p) })
			}
		case v.CanFloat():
			for _, f := range factors {
				with(func(x reflect.Value) { x.FieldByName("V").SetFloat(v.Float() * f) })
			}
		}
	}
	return out
}

// A walkedConflict is a conflict of a garment.
type walkedConflict struct {
	name string
	nth  int
	g    *catalog.Garment
	rule, site,
	closure, size string

	unlaid   int  // runs of the garment that cannot be laid out
	silenced bool // as it was last planned, more of them could not
}

func (c *walkedConflict) String() string { return c.name + ", " + c.rule }

// now is what the rule says of the garment as it is: its conflict, else a
// finding that would be one, else nil. A garment that cannot be planned says
// nothing.
func (c *walkedConflict) now() (f *Finding) {
	defer func() {
		if recover() != nil {
			f = nil
		}
	}()
	p := Found(c.g)
	c.silenced = c.rule != "spacing-clash" && unlaid(p) > c.unlaid
	for i := range p.Findings {
		x := &p.Findings[i]
		if x.Rule != c.rule || x.Closure != c.closure || x.Size != c.size || x.Severity != Conflict && !x.Unsure {
			continue
		}
		if f == nil || x.Severity > f.Severity {
			f = x
		}
	}
	return f
}

// unlaid is how many runs cannot be laid out: of what lies where in them, nothing
// is said.
func unlaid(p *Planned) (n int) {
	for i := range p.Findings {
		if p.Findings[i].Rule == "spacing-clash" {
			n++
		}
	}
	return n
}

func (c *walkedConflict) stays() bool {
	f := c.now()
	return f != nil && f.Severity == Conflict
}

// needs says whether the conflict would go if the input had another value.
func (c *walkedConflict) needs(l *leaf, w words) bool {
	was := reflect.New(l.v.Type()).Elem()
	was.Set(l.v)
	defer l.v.Set(was)
	for _, o := range l.others(w) {
		l.v.Set(o)
		if f := c.now(); f == nil && !c.silenced {
			return true
		}
	}
	return false
}

// grounded makes an input one that its entry has, with that sure, or with ""
// one that the file says, and all else of the table what the file says. It
// gives back how to undo it.
func (l *leaf) grounded(from catalog.Origin, sure, file string) (undo func()) {
	was := reflect.New(l.table.Type()).Elem()
	was.Set(l.table)
	keys := []string{"use"}
	var all func(v reflect.Value, at string)
	all = func(v reflect.Value, at string) {
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if f.Name == "Entry" {
				continue
			}
			x, k := v.Field(i), strings.TrimPrefix(at+"."+keyOf(f.Name), ".")
			switch {
			case x.Kind() == reflect.Struct && x.FieldByName("From").IsValid():
				if x.FieldByName("From").Uint() > uint64(catalog.Default) {
					x.FieldByName("From").SetUint(uint64(catalog.Given))
				}
			case x.Kind() == reflect.Struct:
				all(x, k)
			}
			keys = append(keys, k)
		}
	}
	all(l.table, "")
	if f := l.v; f.Kind() == reflect.Struct && f.FieldByName("From").IsValid() {
		f.FieldByName("From").SetUint(uint64(from))
	}
	if from != catalog.Given {
		keys = slices.DeleteFunc(keys, func(k string) bool { return k == l.own })
	}
	slices.Sort(keys)
	l.entry.Own, l.entry.Sure, l.entry.File = slices.Compact(keys), sure, file
	return func() { l.table.Set(was) }
}

// kind says whether it is what kind of fastener it is: nobody can be wrong about
// that.
func (l *leaf) kind() bool {
	_, is := l.table.Interface().(catalog.Notion)
	return is && l.field == "Kind"
}

// sold says whether a thing is asked for by that: who buys a snap of 15 mm,
// melton or a fusible gets it, whatever its entry was written from.
func (l *leaf) sold() bool {
	switch t := l.table.Interface().(type) {
	case catalog.Notion:
		switch {
		case t.Kind == catalog.Toggle || t.Kind == catalog.Hook:
			return l.own == "length"
		case t.Kind == catalog.Eyelet:
			return l.own == "inside"
		case t.Kind == catalog.Zip:
			return l.own == "number"
		}
		return l.own == "diameter"
	case catalog.Cloth:
		return l.own == "kind" || l.own == "surface" || l.own == "weave"
	case catalog.Interfacing:
		return l.own == "fixing"
	}
	return false
}

// conflictsOf are the conflicts of a garment.
func conflictsOf(name string, nth int, g *catalog.Garment) []walkedConflict {
	var out []walkedConflict
	p := Found(g)
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Severity == Conflict {
			out = append(out, walkedConflict{name: name, nth: nth, g: g, rule: f.Rule, site: f.format, closure: f.Closure, size: f.Size, unlaid: unlaid(p)})
		}
	}
	return out
}

// alone leaves of the garment what closes the opening of the conflict, where that
// has it by itself: it is planned some hundred times.
func (c *walkedConflict) alone() {
	g, opening := c.g.Clone(), ""
	for i := range g.Closures {
		if g.Closures[i].Name == c.closure {
			opening = g.Closures[i].Opening
		}
	}
	g.Closures = slices.DeleteFunc(g.Closures, func(x catalog.Closure) bool {
		return x.Name != c.closure && (opening == "" || x.Opening != opening)
	})
	for i := range g.Closures {
		g.Closures[i].Index = i
	}
	a := *c
	if a.g, a.unlaid = g, 0; a.stays() {
		a.unlaid = unlaid(Found(g))
		*c = a
	}
}

// fixedCases are the conflicts of the garments that are written down: one for
// each rule, those worked by hand, the demos, those of the thresholds, and those
// of the walk itself.
func fixedCases(t *testing.T) []walkedConflict {
	t.Helper()
	var out []walkedConflict
	seen, nth := map[string]int{}, 0
	add := func(name, of string, g *catalog.Garment) {
		nth++
		for _, c := range conflictsOf(name, nth, g) {
			most := 3 // enough to reach all
			if of == c.rule || of == "" {
				most = 100
			}
			if id := c.rule + "\x00" + c.site; seen[id] < most {
				seen[id]++
				out = append(out, c)
			}
		}
	}
	for _, c := range walkOwn {
		g, err := edgeGarment(c.base, c.with, "")
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		add(c.with, "", g)
	}
	clear(seen)
	for _, pattern := range []string{"rules/*/bad*.toml", "worked/*.toml", "garments/*.toml"} {
		files, err := filepath.Glob(filepath.Join("..", "testdata", pattern))
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, ".want.toml") {
				continue
			}
			if g, err := catalog.Load(name, catalog.Options{}); err == nil {
				add(strings.TrimPrefix(filepath.ToSlash(name), "../testdata/"), filepath.Base(filepath.Dir(name)), g)
			}
		}
	}
	for _, e := range edges {
		for _, value := range []string{e.in, e.out} {
			if g, err := edgeGarment(e.base, e.with, value); err == nil {
				add(e.rule+" "+e.limit, "limits", g)
			}
		}
	}
	return out
}

// A toggle with its cord in the place of the snaps, and a band so narrow that its
// holes lie along.
const (
	walkToggle = "closure.snaps.fastener=toggle|closure.snaps.notion={length=60,width=16,thickness=14,short_end=29}|closure.snaps.flap=|closure.snaps.cord=5 mm|"
	walkBand   = "closure.front.stand.construction=folded|closure.front.stand.band=30 mm|"
)

// walkOwn are garments for conflicts that no other reaches: what is put in the
// place of what the base has.
var walkOwn = []struct{ base, with string }{
	{edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.extension=5 mm|closure.front.stand.turn_under=4 mm"},
	{edgeCoat, `machine.buttonhole_sizes=["20 mm","35 mm"]|closure.front.hole_length=50 mm`},
	{edgeCoat, "machine.buttonhole_max=20 mm|closure.front.hole_length=25 mm"},
	{edgeSecond, "closure.snaps.run.hem=40 mm|closure.snaps.run.last=100 mm|closure.buttons.run.last=41 mm"},
	{edgeCoat, along + "|closure.front.hole_centred=true|closure.front.hole_length=40 mm|closure.front.run.first=15 mm"},
	{edgeCoat, "interfacing.in.width=20 mm|closure.front.stand.finished=24 mm|closure.front.hole_length=28 mm"},
	{edgeCoat, across + "|closure.front.stand.construction=faced|closure.front.stand.extension=2 mm|closure.front.stand.seam=1 mm"},
	{edgeSecond, "closure.buttons.stand.finished=|closure.buttons.stand.construction=band|closure.buttons.stand.band=50 mm|closure.snaps.notion.diameter=60 mm"},
	{edgeZip, "closure.snaps.flap=|closure.snaps.lap=double|closure.snaps.rows.distance=10 mm"},

	{edgeCoat, "closure.front.fastener=snap|closure.front.notion={diameter=15,post=4,post_width=8}|closure.front.stand.construction=faced|closure.front.stand.extension=20 mm|closure.front.stand.strip_from_edge=10 mm|closure.front.stand.seam=5 mm"},
	{edgeCoat, "closure.front.fastener=tack-button|closure.front.notion={diameter=15,head=24,post=8}|closure.front.edge=10 mm"},
	{edgeCoat, "closure.front.fastener=snap|closure.front.notion={diameter=15,flange=24,post=8}|closure.front.stand.finished=12 mm"},
	{edgeCoat, "closure.front.notion={side=20,thickness=4}|closure.front.hole_length=25 mm"},
	{edgeZip, "closure.snaps.flap=|closure.zip.notion.chain=|closure.zip.flap.width=1 mm"},

	// Thickness by weight, measured on a sample, of a lofty layer; sewn on by machine.
	{edgeCoat, "machine.foot_lift=1 mm|cloth.shell.thickness=|cloth.shell.kind=melton|cloth.shell.weight=900 g/m2"},
	{edgeCoat, "machine.foot_lift=1 mm|closure.front.measured.stack=3 mm"},
	{edgeCoat, "machine.foot_lift=1 mm|cloth.shell.surface=quilted"},
	{edgeCoat, "machine.foot_lift=2 mm|closure.front.hole=hand|closure.front.sewn_by=machine|machine.swing={ min = 2, max = 5 }|closure.front.notion.hole_gap=4 mm"},
	// A hole that passed on a sample; of a ball, of a square.
	{edgeCoat, "closure.front.measured.hole_length=35 mm|closure.front.hole_length=30 mm"},
	{edgeCoat, "closure.front.notion.shape=ball|closure.front.hole_length=20 mm"},
	{edgeCoat, "closure.front.notion.girth=54 mm|closure.front.hole_length=25 mm"},
	// A strip too narrow for a keyhole that nobody asked for, and for one that was.
	{edgeCoat, along + "|machine.keyhole=true|closure.front.stand.strip=16 mm|closure.front.stand.finished=24 mm"},
	{edgeCoat, along + "|machine.keyhole=true|closure.front.hole=keyhole|closure.front.stand.strip=19 mm|closure.front.stand.finished=24 mm"},
	{edgeCoat, `machine.keyhole=true|machine.buttonhole_sizes=["10 mm","20 mm"]|machine.keyhole_sizes=["16 mm","24 mm"]`},
	// By the heat of its resin.
	{edgeCoat, "interfacing.in.fixing=fusible|interfacing.in.resin=hdpe|cloth.shell.fibre={ wool = 100 }"},
	// Of melton the needle by its weight, and by none.
	{edgeCoat, "cloth.shell.kind=melton|cloth.shell.weight=620 g/m2|closure.front.needle=75/11"},
	{edgeCoat, "cloth.shell.kind=melton|closure.front.needle=70/10"},
	{edgeCoat, "closure.front.stitch=6 mm|machine.stitch_max=4 mm"},
	// Beside a zip: the cord of a toggle, that of a double-breasted front, holes of a flap.
	{edgeZip, walkToggle + "closure.snaps.inset=10 mm"},
	{edgeZip, walkToggle + "closure.snaps.inset=70 mm|closure.snaps.lap=double|closure.snaps.rows.distance=10 mm"},
	{edgeZip, "closure.snaps.fastener=button|closure.snaps.notion={diameter=20,thickness=4}|closure.snaps.hole_length=50 mm|closure.snaps.flap={width=80,inset=38}|closure.snaps.stand.construction=faced"},
	{edgeToggle, "closure.toggles.where=front|closure.toggles.inset=20 mm"},
	{edgeSecond, "closure.snaps.lap=double|closure.snaps.rows.distance=10 mm"},
	{edgeSecond, "closure.snaps.run.first=170 mm"},
	// Holes along, for their band or because the file says so, that touch or reach the hem.
	{edgeCoat, walkBand + "closure.front.run.count=18"},
	{edgeCoat, along + "|closure.front.hole=hand|closure.front.hole_length=28 mm|closure.front.run.count=18"},
	{edgeCoat, walkBand + "closure.front.run.first=30 mm|closure.front.run.last=60 mm|closure.front.run.hem=40 mm"},
	{edgeCoat, along + "|closure.front.hole=hand|closure.front.hole_length=28 mm|closure.front.run.first=30 mm|closure.front.run.last=60 mm|closure.front.run.hem=40 mm"},
	{edgeCoat, "closure.front.run.first=30 mm|closure.front.run.last=51 mm|closure.front.run.hem=40 mm"},
	{edgeCoat, "closure.front.hole=hand|closure.front.hole_length=20 mm"},
	{edgeCoat, "closure.front.lap=single|closure.front.hole_length=20 mm"},
	{edgeCoat, across + "|closure.front.hole=hand|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.facing=20 mm|closure.front.stand.strip=50 mm"},
	{edgeZip, "closure.snaps.stand.strip=50 mm"},
	{edgeCoat, along + "|closure.front.lap=single|closure.front.run.first=30 mm|closure.front.run.last=60 mm|closure.front.run.hem=40 mm"},
	{edgeCoat, along + "|closure.front.lap=single|closure.front.run.last=20 mm"},
	{edgeCoat, walkBand + "closure.front.run.last=20 mm"},
	{edgeCoat, walkBand + "closure.front.where=front|closure.front.run.count=18"},
	{edgeCoat, across + "|closure.front.hole=hand|closure.front.lap=double|closure.front.stand.construction=faced|closure.front.stand.finished=90 mm|closure.front.rows.distance=15 mm"},
	{edgeCoat, "closure.front.lap=double|closure.front.stand.construction=faced|closure.front.stand.finished=90 mm|closure.front.rows.distance=15 mm"},
	{edgeZip, "closure.snaps.fastener=hook|closure.snaps.notion={length=12,width=8}|closure.snaps.flap=|closure.snaps.edge=5 mm|closure.snaps.stand.finished=20 mm"},
	{edgeToggle, "closure.toggles.lap=single|closure.toggles.inset=20 mm"},
	{edgeCoat, across + "|closure.front.lap=double|closure.front.rows.distance=60 mm|closure.front.stand.construction=faced|closure.front.stand.finished=90 mm|closure.front.stand.seam=15 mm|closure.front.stand.strip_from_edge=44 mm"},
	{edgeZip, "closure.snaps.fastener=button|closure.snaps.notion={diameter=20,thickness=4}|closure.snaps.direction=across|closure.snaps.hole=hand|closure.snaps.hole_length=50 mm|closure.snaps.flap={width=80,inset=38}"},
	{edgeSecond, "closure.snaps.notion.diameter=30 mm|closure.snaps.lap=double|closure.snaps.rows.distance=10 mm"},
	{edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.extension=40 mm"},
	// A strip that begins under what holds a snap.
	{edgeCoat, "closure.front.fastener=snap|closure.front.notion={diameter=15,post=4,post_width=8}|closure.front.stand.construction=faced|closure.front.stand.extension=20 mm|closure.front.stand.strip_from_edge=17 mm|closure.front.stand.seam=5 mm"},
	// Cords, in both markets, by age, by height, by size.
	{edgeChild, "cord.cord.at=hood"}, {edgeChild, "cord.cord.at=neck|market=eu"},
	{edgeChild, "cord.cord.at=hood|market=eu|age=|height=1200 mm"}, {edgeChild, "cord.cord.at=hood|age="}, {edgeChild, "cord.cord.at=hood|wearer=infant|age="},
}

// conflictSites are the beginnings of all texts that a rule may report a
// conflict with, by their places in the code.
func conflictSites(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			if !ok || len(c.Args) < 4 {
				return true
			}
			s, ok := c.Fun.(*ast.SelectorExpr)
			if !ok || s.Sel.Name != "report" {
				return true
			}
			if sev, ok := c.Args[0].(*ast.Ident); !ok || sev.Name != "Conflict" {
				return true
			}
			x := c.Args[3]
			for {
				b, ok := x.(*ast.BinaryExpr)
				if !ok {
					break
				}
				x = b.X
			}
			text, err := strconv.Unquote(x.(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			out[set.Position(c.Pos()).String()] = text
			return true
		})
	}
	return out
}

// restsOf is the pattern of a rule's that a key falls under.
func restsOf(r *Rule, key string) string {
	for _, p := range r.Rests {
		if key == p || strings.HasPrefix(key, p+".") {
			return p
		}
	}
	return ""
}

// Every conflict that a rule can report, walked through every input that it
// would go or stay by, each with every ground in its turn: it stays exactly
// where the input is read, published, derived or common practice, and where it
// is from memory, our own choice or a default, there is a caution that names
// the value to measure or to ask for. What an input is found to matter by is
// that the conflict goes with another value of it, near or far.
//
// What the rules say that their conflicts rest on is held to the garments that
// are written here and in testdata. The random ones, which change with every
// line of their maker, are held to the grounds alone; in the long run they may
// show that a rule leaves an input out.
func TestConflictsByEveryGround(t *testing.T) {
	cases := fixedCases(t)
	reached, rules := map[string]bool{}, map[string]bool{}
	for _, c := range cases {
		reached[c.site], rules[c.rule] = true, true
	}
	for at, text := range conflictSites(t) {
		hit := false
		for site := range reached {
			hit = hit || strings.HasPrefix(site, text)
		}
		if !hit {
			t.Errorf("%s: no garment of the walk has this conflict: %q", at, text)
		}
	}
	for _, r := range Rules() {
		if r.Severity == Conflict && !rules[r.Name] {
			t.Errorf("%s: no garment of the walk has a conflict with it", r.Name)
		}
	}

	k := newWalk(wordsOf(t, cases))
	for i := range cases {
		k.take(&cases[i], func(*leaf) bool { return true })
	}
	k.tell(t)
	checkRests(t, k, true)
	for _, what := range []string{"figure", "word", "list"} {
		if k.walked[what] < 5 {
			t.Errorf("only %d inputs of the kind %s were walked: %v", k.walked[what], what, k.walked)
		}
	}
	if testing.Verbose() {
		t.Logf("%d conflicts, %v", len(cases), k.walked)
	}
}

// The same of random garments: no conflict of theirs stays on a weak ground, and
// in the long run none rests on what its rule does not say.
func TestRandomConflictsByEveryGround(t *testing.T) {
	many := uint64(trial.Many(60, 2000))
	k := newWalk(wordsOf(t, fixedCases(t)))
	all := make([][]walkedConflict, many)
	trial.Each(many, func(i uint64) {
		text := trial.New(11, i).Opening()
		g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
		if err != nil {
			return // two flaps, say
		}
		all[i] = conflictsOf(fmt.Sprintf("random garment %d", i), int(i), g)
		for n := range all[i] {
			all[i][n].alone()
			k.take(&all[i][n], func(l *leaf) bool { return !l.shared() })
		}
	})
	// The catalogue is everyone's: one after the other.
	n := 0
	for i := range all {
		for j := range all[i] {
			n++
			k.take(&all[i][j], (*leaf).shared)
		}
	}
	k.tell(t)
	if trial.Long() {
		checkRests(t, k, false)
	}
	if testing.Verbose() {
		t.Logf("%d conflicts, %v", n, k.walked)
	}
}

// A walk is what was found on the way through the conflicts of some garments.
type walk struct {
	w words

	sync.Mutex
	found   map[string]map[string]fault // by rule, the inputs that matter, and where first
	ofEntry map[string]bool             // whether an entry may say one of them
	walked  map[string]int              // inputs, by what they are
	faults  map[string]fault            // the first of each sort
}

// A fault is one that a garment shows, the nth of the walk.
type fault struct {
	garment int
	says    string
}

func newWalk(w words) *walk {
	return &walk{w: w, found: map[string]map[string]fault{}, ofEntry: map[string]bool{}, walked: map[string]int{}, faults: map[string]fault{}}
}

// fault keeps one of a sort: the same rule, text, input and ground are one
// fault, however many garments have it.
func (k *walk) fault(c *walkedConflict, l *leaf, how, format string, args ...any) {
	id := strings.Join([]string{c.rule, c.site, l.key, how}, "\x00")
	k.Lock()
	defer k.Unlock()
	if f, is := k.faults[id]; !is || c.nth < f.garment {
		k.faults[id] = fault{c.nth, fmt.Sprintf(format, args...)}
	}
}

// tell is every sort of fault once.
func (k *walk) tell(t *testing.T) {
	t.Helper()
	for _, id := range slices.Sorted(maps.Keys(k.faults)) {
		t.Error(k.faults[id].says)
	}
}

// take walks through the inputs of a conflict that which says yes to.
func (k *walk) take(c *walkedConflict, which func(*leaf) bool) {
	for _, l := range leavesOf(c.g) {
		if !which(&l) || !c.needs(&l, k.w) {
			continue
		}
		entry := l.entry != nil && !l.kind() // else the file alone can say it
		k.Lock()
		if k.found[c.rule] == nil {
			k.found[c.rule] = map[string]fault{}
		}
		if f, is := k.found[c.rule][l.key]; !is || c.nth < f.garment {
			k.found[c.rule][l.key] = fault{c.nth, c.name}
		}
		k.ofEntry[c.rule] = k.ofEntry[c.rule] || entry
		k.Unlock()
		if entry {
			k.grounds(c, &l)
		}
	}
}

// grounds takes one input of a conflict through the grounds.
func (k *walk) grounds(c *walkedConflict, l *leaf) {
	undo := l.grounded(catalog.Given, "", "")
	read := c.stays()
	undo()
	if !read {
		return // the conflict is another one when all is read
	}
	what := "word"
	switch l.v.Kind() {
	case reflect.Struct:
		what = "figure"
	case reflect.Map, reflect.Slice:
		what = "list"
	}
	k.Lock()
	k.walked[what]++
	k.Unlock()
	for _, firm := range []string{"read", "second-hand", "derived", "invented", ""} {
		undo := l.grounded(catalog.Stock, firm, "own.toml")
		if f := c.now(); f == nil || f.Severity != Conflict {
			k.fault(c, l, "firm", "%s: %s of an entry that is %q is too weak for it", c, l.key, firm)
		}
		undo()
	}
	weak := func(how string, undo func()) {
		f := c.now()
		switch {
		case f == nil:
			k.fault(c, l, "gone", "%s: %s %s: nothing is said any more", c, l.key, how)
		case l.sold() && how != "a default":
			if f.Severity != Conflict {
				k.fault(c, l, "sold", "%s: %s, which it is sold by, %s: %s", c, l.key, how, f.Message())
			}
		case f.Severity == Conflict:
			k.fault(c, l, how, "%s: rests on %s %s, and is a conflict: %s", c, l.key, how, f.Message())
		case f.Ask == "":
			k.fault(c, l, "ask", "%s: %s %s: it does not say what to ask for: %s", c, l.key, how, f.Message())
		}
		undo()
	}
	file := ""
	if what == "word" {
		// In the stock it is what the thing is sold as.
		undo := l.grounded(catalog.Stock, "memory", "")
		if l.key != "interfacing.*.resin" && !c.stays() {
			k.fault(c, l, "stock", "%s: %s, which it is sold by in the stock, is too weak for it", c, l.key)
		}
		undo()
		file = "own.toml"
	}
	weak("from memory", l.grounded(catalog.Stock, "memory", file))
	if l.v.Kind() == reflect.Struct && !l.shared() {
		weak("a default", l.grounded(catalog.Default, "read", ""))
	}
}

// shared says whether it stands in the catalogue, which all garments share.
func (l *leaf) shared() bool {
	return strings.HasPrefix(l.key, "fibre.") || strings.HasPrefix(l.key, "family.")
}

// wordsOf are the words of the catalogue and of some garments.
func wordsOf(t *testing.T, cases []walkedConflict) words {
	t.Helper()
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	w := words{}
	for _, x := range cases {
		w.of(x.g)
	}
	g := &catalog.Garment{Catalog: c, Cloths: c.Cloths, Interfacings: c.Interfacings, Threads: c.Threads}
	for _, n := range c.Notions {
		g.Closures = append(g.Closures, catalog.Closure{Notion: *n})
	}
	w.of(g)
	for _, m := range c.Machines {
		w.of(&catalog.Garment{Catalog: c, Machine: *m})
	}
	return w
}

// checkRests holds what the rules say that their conflicts rest on to what the
// walk found: they leave nothing out, and with both have nothing too many.
func checkRests(t *testing.T, k *walk, both bool) {
	t.Helper()
	for _, r := range Rules() {
		if (r.Severity == Conflict) != (len(r.Rests) > 0) {
			t.Errorf("%s: what its conflicts rest on is left undecided", r.Name)
		}
		used := map[string]bool{FileSays: true}
		var missing []string
		for key, f := range k.found[r.Name] {
			if p := restsOf(r, key); p != "" {
				used[p] = true
			} else {
				missing = append(missing, key+", "+f.says)
			}
		}
		slices.SortFunc(missing, cmp.Compare)
		if len(missing) > 0 {
			t.Errorf("%s: a conflict rests on what it does not say: %q", r.Name, missing)
		}
		if k.ofEntry[r.Name] && r.ByFile() {
			t.Errorf("%s: entries matter to it, and it says that the file alone does", r.Name)
		}
		if !both {
			continue
		}
		for _, p := range r.Rests {
			if !used[p] {
				t.Errorf("%s: no conflict of the walk rests on %s", r.Name, p)
			}
		}
		if r.Severity == Conflict && !k.ofEntry[r.Name] && !r.ByFile() {
			t.Errorf("%s: it does not begin with FileSays, but no entry matters to it", r.Name)
		}
	}
}
