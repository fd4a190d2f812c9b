package desk

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"placketeer/rules"

	"github.com/BurntSushi/toml"
)

// Whole garments, worked out by hand from published sources before the
// program was run: testdata/worked/NAME.toml is the garment and
// NAME.want.toml what it must come to. Every expectation names its source;
// what is from memory or our own choice stands under [[ours]], and is no
// outside check.
//
//	garment = "…"                  # as in the garment file
//	size    = "M"                  # the size that is looked at
//
//	[[value]]                      # in the object that `spec --format json` prints
//	at     = "closures.front.hole.length_mm"
//	want   = 34.925                # number, text, true or false, a list; "null" for null
//	within = 0.5                   # of a number, and of each number of a list; without it exact
//	source = "Extension Bulletin 576, 1965"
//	how    = "25.4 + 5 + 3.2 = 33.6, up to the next 1/16 in"
//
//	[[verdict]]                    # of a rule, in `check --format json`
//	rule    = "stand-narrow"
//	closure = "front"              # without it, on any closure and on the garment
//	want    = "none"               # none, note, caution or conflict; or "none or note"
//
//	[[task]]                       # in `checklist`: every task that matches first
//	first = "^Fuse"                # comes before every one that matches then, and
//	then  = "^Sew the holes"       # there is at least one of each
//
//	[[says]]                       # in the text of a command
//	in    = "checklist"            # checklist, spec or check
//	want  = "(?i)gimp"             # or never = "…"
//
//	[[ours]]                       # any of these, from memory or our own choice
//
// A path goes down by key; in a list, by the name, size, side or kind of what
// is in it, by kind and number ("hole-1"), by role, kind and number
// ("show-hole-1"), or by place from 0.

const (
	workedDir   = "../../testdata/worked"
	wantSuffix  = ".want.toml"
	unmetFile   = "unmet.txt"
	memoryWords = "from memory"
)

// expectation is one entry of a want file.
type expectation struct {
	At     string
	Want   any
	Within float64
	Source string
	How    string

	Rule    string
	Closure string

	First, Then string

	In    string
	Never string

	section string // value, verdict, task, says, ours
	line    int
}

type worked struct {
	Garment string
	Size    string
	Value   []*expectation
	Verdict []*expectation
	Task    []*expectation
	Says    []*expectation
	Ours    []*expectation
}

// The keys that an entry of each section may have.
var workedKeys = map[string][]string{
	"value":   {"at", "want", "within", "source", "how"},
	"verdict": {"rule", "closure", "want", "source", "how"},
	"task":    {"first", "then", "source", "how"},
	"says":    {"in", "want", "never", "source", "how"},
	"ours":    {"at", "want", "within", "rule", "closure", "first", "then", "in", "never", "source", "how"},
}

func (w *worked) all() []*expectation {
	return slices.Concat(w.Value, w.Verdict, w.Task, w.Says, w.Ours)
}

// kind is what the entry looks at: that of its section, or, of [[ours]], by
// its keys.
func (e *expectation) kind() string {
	switch {
	case e.section != "ours":
		return e.section
	case e.At != "":
		return "value"
	case e.Rule != "":
		return "verdict"
	case e.First != "":
		return "task"
	case e.In != "":
		return "says"
	}
	return ""
}

// key is what the entry is called in unmet.txt, and in a garment nothing else
// is called so.
func (e *expectation) key() string {
	switch e.kind() {
	case "value":
		return e.section + " " + e.At
	case "verdict":
		return strings.TrimSpace(e.section + " " + e.Rule + " " + e.Closure)
	case "task":
		return strings.TrimSpace(e.section + " " + e.First + " -> " + e.Then)
	case "says":
		if e.Never != "" {
			return strings.TrimSpace(e.section + " " + e.In + " never " + e.Never)
		}
		return strings.TrimSpace(fmt.Sprintf("%s %s %v", e.section, e.In, e.Want))
	}
	return e.section
}

var (
	worksHeader = regexp.MustCompile(`^\[\[(\w+)\]\]`)
	// Rows of tables of facts and addresses are no publications.
	notPublic = regexp.MustCompile(`://|\bwww\.|\b(NF|BL|BS|BU|PL|SB|CHK|BT|BD|BM|TR|SN|ZP|SM|UN|LT|ML|DIS|DG|PF)-\d`)
)

// readWorked reads a want file; what is wrong with it comes back as one error.
func readWorked(name string, data []byte) (*worked, error) {
	var w worked
	md, err := toml.Decode(string(data), &w)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var errs []error
	for _, k := range md.Undecoded() {
		errs = append(errs, fmt.Errorf("%s: unknown key %s", name, k))
	}
	known := []string{"garment", "size"}
	for section, keys := range workedKeys {
		known = append(known, section)
		for _, k := range keys {
			known = append(known, section+"."+k)
		}
	}
	for _, k := range md.Keys() {
		if !slices.Contains(known, k.String()) && !slices.ContainsFunc(md.Undecoded(), func(u toml.Key) bool { return u.String() == k.String() }) {
			errs = append(errs, fmt.Errorf("%s: %s does not belong there", name, k))
		}
	}
	if w.Garment == "" || w.Size == "" {
		errs = append(errs, fmt.Errorf("%s: says no garment or no size", name))
	}
	sections := map[string][]*expectation{"value": w.Value, "verdict": w.Verdict, "task": w.Task, "says": w.Says, "ours": w.Ours}
	seen := map[string]int{}
	for i, l := range strings.Split(string(data), "\n") {
		if m := worksHeader.FindStringSubmatch(l); m != nil && seen[m[1]] < len(sections[m[1]]) {
			e := sections[m[1]][seen[m[1]]]
			e.section, e.line = m[1], i+1
			seen[m[1]]++
		}
	}
	keys := map[string]int{}
	for _, e := range w.all() {
		at := fmt.Sprintf("%s:%d", name, e.line)
		if err := e.check(); err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", at, err))
			continue
		}
		if other, twice := keys[e.key()]; twice {
			errs = append(errs, fmt.Errorf("%s: the same as line %d: %s", at, other, e.key()))
		}
		keys[e.key()] = e.line
	}
	return &w, errors.Join(errs...)
}

var severities = []string{"none", rules.Note.String(), rules.Caution.String(), rules.Conflict.String()}

// check says what is wrong with an entry by itself.
func (e *expectation) check() error {
	text, isText := e.Want.(string)
	switch {
	case e.section == "":
		return errors.New("its header does not stand at the beginning of a line")
	case e.Source == "":
		return errors.New("it names no source")
	case notPublic.MatchString(e.Source + e.How):
		return fmt.Errorf("%q is no publication", e.Source)
	case e.section != "ours" && strings.Contains(e.Source, memoryWords):
		return errors.New("what is from memory stands under [[ours]]")
	case e.Within < 0:
		return errors.New("within is negative")
	}
	switch e.kind() {
	case "value":
		if e.At == "" || e.Want == nil {
			return errors.New("it needs at and want")
		}
	case "verdict":
		if !slices.ContainsFunc(rules.Rules(), func(r *rules.Rule) bool { return r.Name == e.Rule }) {
			return fmt.Errorf("there is no rule %q", e.Rule)
		}
		if !isText {
			return errors.New("it needs want")
		}
		for _, s := range strings.Split(text, " or ") {
			if !slices.Contains(severities, s) {
				return fmt.Errorf("%q is no severity", s)
			}
		}
	case "task":
		return errors.Join(compiles(e.First), compiles(e.Then))
	case "says":
		if !slices.Contains([]string{"checklist", "spec", "check"}, e.In) {
			return fmt.Errorf("in is %q, not checklist, spec or check", e.In)
		}
		if isText == (e.Never != "") {
			return errors.New("it needs either want or never")
		}
		return compiles(text + e.Never)
	default:
		return errors.New("it says neither at nor rule, first or in")
	}
	return nil
}

func compiles(re string) error {
	if re == "" {
		return errors.New("an expression is missing")
	}
	_, err := regexp.Compile(re)
	return err
}

// printed is what the commands print for a garment.
type printed struct {
	spec     any
	findings []any
	tasks    []string
	texts    map[string]string // by command, all blanks as one
}

func printWorked(t *testing.T, path string, flags ...string) *printed {
	t.Helper()
	do := func(args ...string) string {
		got := runIn(t, "", map[string]string{"LANG": "C.UTF-8"}, args...)
		if got.code == ExitUsage || got.code == ExitInput {
			t.Fatalf("%s: code %d\n%s", strings.Join(args, " "), got.code, got.err)
		}
		return got.out
	}
	p := &printed{texts: map[string]string{}}
	one := func(out string, v any) {
		if err := json.Unmarshal([]byte(out), v); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
	}
	var garments []any
	one(do(slices.Concat([]string{"spec", path, "--format", "json"}, flags)...), &garments)
	p.spec = garments[0]
	garments = nil
	one(do(slices.Concat([]string{"check", path, "--format", "json"}, flags)...), &garments)
	p.findings, _ = garments[0].(map[string]any)["findings"].([]any)
	var list struct {
		Stages []struct {
			Tasks []struct{ Do string }
		}
	}
	one(do(slices.Concat([]string{"checklist", path, "--format", "json"}, flags)...), &list)
	for _, s := range list.Stages {
		for _, task := range s.Tasks {
			p.tasks = append(p.tasks, task.Do)
		}
	}
	for _, c := range []string{"checklist", "spec", "check"} {
		args := append([]string{c, path}, flags...)
		if c == "spec" {
			args = append(args, "--working")
		}
		p.texts[c] = strings.Join(strings.Fields(do(args...)), " ")
	}
	return p
}

// closures are the names of the garment's closures.
func (p *printed) closures() []string {
	var names []string
	list, _ := p.spec.(map[string]any)["closures"].([]any)
	for _, c := range list {
		names = append(names, fmt.Sprint(c.(map[string]any)["name"]))
	}
	return names
}

// unmet says how an expectation is not met, nil where it is.
func (e *expectation) unmet(p *printed) error {
	switch e.kind() {
	case "value":
		got, err := find(p.spec, e.At)
		if err != nil {
			return err
		}
		return e.compare(got, e.Want)
	case "verdict":
		if e.Closure != "" && !slices.Contains(p.closures(), e.Closure) {
			return fmt.Errorf("there is no closure %q", e.Closure)
		}
		worst, says := 0, ""
		for _, f := range p.findings {
			f := f.(map[string]any)
			if f["rule"] != e.Rule || e.Closure != "" && f["closure"] != e.Closure {
				continue
			}
			if s := slices.Index(severities, fmt.Sprint(f["severity"])); s > worst {
				worst, says = s, fmt.Sprintf(": %v", f["message"])
			}
		}
		if want := e.Want.(string); !slices.Contains(strings.Split(want, " or "), severities[worst]) {
			return fmt.Errorf("have %s, want %s%s", severities[worst], want, says)
		}
	case "task":
		first, then := places(p.tasks, e.First), places(p.tasks, e.Then)
		switch {
		case len(first) == 0:
			return fmt.Errorf("no task says %q", e.First)
		case len(then) == 0:
			return fmt.Errorf("no task says %q", e.Then)
		}
		if a, b := first[len(first)-1], then[0]; a >= b {
			return fmt.Errorf("task %d, %q, comes after task %d, %q", a+1, p.tasks[a], b+1, p.tasks[b])
		}
	case "says":
		text := p.texts[e.In]
		if e.Never != "" {
			if m := regexp.MustCompile(e.Never).FindStringIndex(text); m != nil {
				return fmt.Errorf("%s says %q", e.In, text[max(0, m[0]-40):min(len(text), m[1]+40)])
			}
		} else if !regexp.MustCompile(e.Want.(string)).MatchString(text) {
			return fmt.Errorf("%s does not say it", e.In)
		}
	}
	return nil
}

func places(tasks []string, re string) []int {
	r := regexp.MustCompile(re)
	var at []int
	for i, task := range tasks {
		if r.MatchString(task) {
			at = append(at, i)
		}
	}
	return at
}

// compare says how a value of the output differs from what is wanted.
func (e *expectation) compare(got, want any) error {
	wrong := func() error {
		tolerance := ""
		if e.Within > 0 {
			tolerance = fmt.Sprintf(" ± %v", e.Within)
		}
		return fmt.Errorf("have %v, want %v%s", shown(got), shown(want), tolerance)
	}
	switch w := want.(type) {
	case []any:
		g, ok := got.([]any)
		if !ok || len(g) != len(w) {
			return wrong()
		}
		for i := range w {
			if e.compare(g[i], w[i]) != nil {
				return wrong()
			}
		}
		return nil
	case int64:
		return e.compare(got, float64(w))
	case float64:
		g, ok := got.(float64)
		if !ok || !(math.Abs(g-w) <= e.Within+1e-9) {
			return wrong()
		}
		return nil
	case string:
		if w == "null" && got == nil {
			return nil
		}
	}
	if !reflect.DeepEqual(got, want) {
		return wrong()
	}
	return nil
}

func shown(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(data)
}

// find is the value at a path of a JSON value.
func find(v any, path string) (any, error) {
	gone := ""
	for _, key := range strings.Split(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[key]
			if !ok {
				return nil, fmt.Errorf("there is no key %q in %q", key, gone)
			}
			v = next
		case []any:
			var found []any
			for i, item := range x {
				if slices.Contains(calls(item), key) || strconv.Itoa(i) == key {
					found = append(found, item)
				}
			}
			if len(found) != 1 {
				return nil, fmt.Errorf("%d things are called %q in %q", len(found), key, gone)
			}
			v = found[0]
		default:
			return nil, fmt.Errorf("there is no %q in %q, which is %s", key, gone, shown(v))
		}
		gone = strings.TrimPrefix(gone+"."+key, ".")
	}
	return v, nil
}

// calls are what a thing in a list may be called in a path.
func calls(item any) []string {
	m, ok := item.(map[string]any)
	if !ok {
		return nil
	}
	var out []string
	for _, k := range []string{"name", "size", "side"} {
		if s, ok := m[k].(string); ok && s != "" {
			out = append(out, s)
		}
	}
	if kind, ok := m["kind"].(string); ok {
		out = append(out, kind)
		if n, ok := m["number"].(float64); ok {
			numbered := kind + "-" + strconv.Itoa(int(n))
			out = append(out, numbered)
			if role, ok := m["role"].(string); ok {
				out = append(out, role+"-"+numbered)
			}
		}
	}
	return out
}

// readUnmet reads the list of what the program does not do yet: a line for
// each, the garment, a blank and the key; # begins a comment.
func readUnmet(data []byte) (map[string]bool, error) {
	list := map[string]bool{}
	for i, l := range strings.Split(string(data), "\n") {
		l = strings.TrimSpace(l)
		if l == "" || l[0] == '#' {
			continue
		}
		if list[l] {
			return nil, fmt.Errorf("%s:%d: twice: %s", unmetFile, i+1, l)
		}
		list[l] = true
	}
	return list, nil
}

// judge holds what a garment came to against its list of unmet entries. What
// it gives back is what to complain about; used are the lines of the list
// that were right.
func judge(name string, w *worked, p *printed, unmet map[string]bool) (complaints []string, used []string) {
	for _, e := range w.all() {
		line := name + " " + e.key()
		err := e.unmet(p)
		switch {
		case err != nil && unmet[line]:
			used = append(used, line)
		case err != nil:
			how := ""
			if e.How != "" {
				how = "\n  how:    " + e.How
			}
			complaints = append(complaints, fmt.Sprintf("%s%s:%d: %s\n  %v\n  source: %s%s", name, wantSuffix, e.line, e.key(), err, e.Source, how))
		case unmet[line]:
			used = append(used, line)
			complaints = append(complaints, fmt.Sprintf("%s%s:%d: %s\n  is met: take its line out of %s", name, wantSuffix, e.line, e.key(), unmetFile))
		}
	}
	return complaints, used
}

// workedNames are the garments that have been worked out.
func workedNames(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(workedDir, "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range files {
		if name, ok := strings.CutSuffix(filepath.Base(f), wantSuffix); ok {
			names = append(names, name)
			continue
		}
		if _, err := os.Stat(strings.TrimSuffix(f, ".toml") + wantSuffix); err != nil {
			t.Errorf("%s has no %s", f, wantSuffix)
		}
	}
	if len(names) == 0 {
		t.Fatal("there are no worked garments")
	}
	return names
}

func loadWorked(t *testing.T, name string) *worked {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(workedDir, name+wantSuffix))
	if err != nil {
		t.Fatal(err)
	}
	w, err := readWorked(name+wantSuffix, data)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestWorked(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(workedDir, unmetFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	unmet, err := readUnmet(data)
	if err != nil {
		t.Fatal(err)
	}
	left := map[string]bool{}
	for l := range unmet {
		left[l] = true
	}
	for _, name := range workedNames(t) {
		t.Run(name, func(t *testing.T) {
			w := loadWorked(t, name)
			p := printWorked(t, filepath.Join(workedDir, name+".toml"), "--size", w.Size)
			if g, err := find(p.spec, "garment"); err != nil || g != w.Garment {
				t.Errorf("the garment is %v, its expectation is of %q", g, w.Garment)
			}
			complaints, used := judge(name, w, p, unmet)
			for _, c := range complaints {
				t.Error(c)
			}
			for _, l := range used {
				delete(left, l)
			}
			// A garment that nothing can go wrong with checks nothing: each
			// entry that is met is turned into a wrong one, and must be noticed.
			for _, e := range w.all() {
				if e.unmet(p) != nil {
					continue
				}
				if wrong := e.spoiled(); wrong.unmet(p) == nil {
					t.Errorf("%s%s:%d: %s is met whatever it says", name, wantSuffix, e.line, e.key())
				}
			}
		})
	}
	for l := range left {
		t.Errorf("%s: no expectation is called so: %s", unmetFile, l)
	}
}

// spoiled is the same expectation made wrong.
func (e *expectation) spoiled() *expectation {
	x := *e
	switch x.kind() {
	case "value":
		x.Want = spoil(x.Want, x.Within)
	case "verdict":
		taken := strings.Split(x.Want.(string), " or ")
		var others []string
		for _, s := range severities {
			if !slices.Contains(taken, s) {
				others = append(others, s)
			}
		}
		x.Want = strings.Join(others, " or ")
	case "task":
		x.First, x.Then = x.Then, x.First
	case "says":
		if x.Never != "" {
			x.Want, x.Never = x.Never, ""
		} else {
			x.Want, x.Never = nil, x.Want.(string)
		}
	}
	return &x
}

func spoil(v any, within float64) any {
	switch x := v.(type) {
	case int64:
		return float64(x) + 2*within + 1
	case float64:
		return x + 2*within + 0.001
	case bool:
		return !x
	case []any:
		if len(x) == 0 {
			return []any{0.0}
		}
		y := slices.Clone(x)
		y[len(y)-1] = spoil(y[len(y)-1], within)
		return y
	}
	return fmt.Sprint(v) + " not"
}

// The harness by itself, on an output made up for it: what is right passes,
// and every kind of wrong value is noticed.
func TestWorkedHarness(t *testing.T) {
	var spec any
	if err := json.Unmarshal([]byte(`{"verdict": "note", "closures": [
		{"name": "front", "hole": {"length_mm": 30.5, "kind": "keyhole"}, "stand": null, "sewing": {"by_hand": true},
		 "sizes": [{"size": "S", "positions_mm": [1, 2]}, {"size": "M", "positions_mm": [10, 20.2],
		   "pieces": [{"side": "over", "parts": [{"kind": "hole", "role": "works", "number": 1, "at": 7}, {"kind": "button", "role": "works", "number": 1, "at": 8}, {"kind": "button", "role": "show", "number": 1, "at": 9}]}]}]},
		{"name": "cuff", "hole": null}]}`), &spec); err != nil {
		t.Fatal(err)
	}
	p := &printed{
		spec: spec,
		findings: []any{
			map[string]any{"rule": "stand-narrow", "closure": "front", "severity": "note", "message": "n"},
			map[string]any{"rule": "stand-narrow", "closure": "front", "severity": "caution", "message": "c"},
			map[string]any{"rule": "stand-narrow", "closure": "cuff", "severity": "conflict", "message": "x"},
		},
		tasks: []string{"Cut it.", "Fuse it.", "Sew the holes.", "Fuse again.", "Sew the buttons."},
		texts: map[string]string{"checklist": "Cut it. Fuse it.", "spec": "s", "check": "c"},
	}
	head := "garment = \"G\"\nsize = \"M\"\n"
	for _, tc := range []struct{ entry, says string }{ // says: "" where it is met
		{"[[value]]\nat = \"verdict\"\nwant = \"note\"", ""},
		{"[[value]]\nat = \"verdict\"\nwant = \"caution\"", `have "note", want "caution"`},
		{"[[value]]\nat = \"closures.front.hole.length_mm\"\nwant = 30.5", ""},
		{"[[value]]\nat = \"closures.front.hole.length_mm\"\nwant = 31\nwithin = 0.5", ""},
		{"[[value]]\nat = \"closures.front.hole.length_mm\"\nwant = 31\nwithin = 0.4", "have 30.5, want 31 ± 0.4"},
		{"[[value]]\nat = \"closures.front.hole.length_mm\"\nwant = \"30.5\"", `have 30.5, want "30.5"`},
		{"[[value]]\nat = \"closures.front.hole.kind\"\nwant = \"keyhole\"", ""},
		{"[[value]]\nat = \"closures.front.hole.kind\"\nwant = 1", `have "keyhole", want 1`},
		{"[[value]]\nat = \"closures.front.sewing.by_hand\"\nwant = true", ""},
		{"[[value]]\nat = \"closures.front.sewing.by_hand\"\nwant = false", "have true, want false"},
		{"[[value]]\nat = \"closures.front.stand\"\nwant = \"null\"", ""},
		{"[[value]]\nat = \"closures.front.hole.length_mm\"\nwant = \"null\"", `want "null"`},
		{"[[value]]\nat = \"closures.front.stand.least_mm\"\nwant = 1", `no "least_mm" in "closures.front.stand", which is null`},
		{"[[value]]\nat = \"closures.front.whole\"\nwant = 1", `no key "whole" in "closures.front"`},
		{"[[value]]\nat = \"closures.back.hole\"\nwant = 1", `0 things are called "back" in "closures"`},
		{"[[value]]\nat = \"closures.0.name\"\nwant = \"front\"", ""},
		{"[[value]]\nat = \"closures.front.sizes.M.positions_mm\"\nwant = [10, 20]\nwithin = 0.25", ""},
		{"[[value]]\nat = \"closures.front.sizes.M.positions_mm\"\nwant = [10, 20]\nwithin = 0.1", "have [10,20.2], want [10,20] ± 0.1"},
		{"[[value]]\nat = \"closures.front.sizes.M.positions_mm\"\nwant = [10, 20.2, 30]", "want [10,20.2,30]"},
		{"[[value]]\nat = \"closures.front.sizes.M.pieces.over.parts.hole-1.at\"\nwant = 7", ""},
		{"[[value]]\nat = \"closures.front.sizes.M.pieces.over.parts.show-button-1.at\"\nwant = 9", ""},
		{"[[value]]\nat = \"closures.front.sizes.M.pieces.over.parts.button-1.at\"\nwant = 9", `2 things are called "button-1"`},
		{"[[verdict]]\nrule = \"stand-narrow\"\nclosure = \"front\"\nwant = \"caution\"", ""},
		{"[[verdict]]\nrule = \"stand-narrow\"\nclosure = \"front\"\nwant = \"none or note\"", "have caution, want none or note: c"},
		{"[[verdict]]\nrule = \"stand-narrow\"\nwant = \"conflict\"", ""},
		{"[[verdict]]\nrule = \"hole-short\"\nwant = \"none\"", ""},
		{"[[verdict]]\nrule = \"hole-short\"\nwant = \"conflict\"", "have none, want conflict"},
		{"[[verdict]]\nrule = \"hole-short\"\nclosure = \"back\"\nwant = \"none\"", `no closure "back"`},
		{"[[task]]\nfirst = \"^Cut\"\nthen = \"^Fuse\"", ""},
		{"[[task]]\nfirst = \"^Fuse\"\nthen = \"holes\"", `task 4, "Fuse again.", comes after task 3, "Sew the holes."`},
		{"[[task]]\nfirst = \"^Sew the buttons\"\nthen = \"^Cut\"", "comes after"},
		{"[[task]]\nfirst = \"^Fold\"\nthen = \"^Cut\"", `no task says "^Fold"`},
		{"[[task]]\nfirst = \"^Cut\"\nthen = \"^Fold\"", `no task says "^Fold"`},
		{"[[says]]\nin = \"checklist\"\nwant = \"(?i)cut it\"", ""},
		{"[[says]]\nin = \"checklist\"\nwant = \"gimp\"", "checklist does not say it"},
		{"[[says]]\nin = \"checklist\"\nnever = \"gimp\"", ""},
		{"[[says]]\nin = \"checklist\"\nnever = \"Fuse\"", `checklist says "Cut it. Fuse it."`},
		{"[[ours]]\nat = \"verdict\"\nwant = \"ok\"", `want "ok"`},
		{"[[ours]]\nrule = \"hole-short\"\nwant = \"note\"", "have none, want note"},
		{"[[ours]]\nfirst = \"holes\"\nthen = \"Cut\"", "comes after"},
		{"[[ours]]\nin = \"spec\"\nnever = \"s\"", `spec says "s"`},
	} {
		w, err := readWorked("w", []byte(head+tc.entry+"\nsource = \"a book\"\n"))
		if err != nil {
			t.Errorf("%s:\n%v", tc.entry, err)
			continue
		}
		e := w.all()[0]
		complaints, _ := judge("w", w, p, nil)
		switch {
		case tc.says == "" && (len(complaints) > 0 || e.spoiled().unmet(p) == nil):
			t.Errorf("%s:\nis met, but: %q", tc.entry, complaints)
		case tc.says != "" && (len(complaints) != 1 || !strings.Contains(complaints[0], tc.says) || !strings.Contains(complaints[0], "w.want.toml:3: ") || !strings.Contains(complaints[0], "a book")):
			t.Errorf("%s:\nhave %q, want %q", tc.entry, complaints, tc.says)
		}
		// With its line in unmet.txt it is silent while it is not met, and told
		// as soon as it is.
		complaints, used := judge("w", w, p, map[string]bool{"w " + e.key(): true})
		if len(used) != 1 || tc.says != "" && len(complaints) > 0 || tc.says == "" && (len(complaints) != 1 || !strings.Contains(complaints[0], "take its line out")) {
			t.Errorf("%s, listed as unmet:\n%q, used %q", tc.entry, complaints, used)
		}
	}
}

// A want file that is wrong itself is refused, so that no expectation is lost.
func TestWorkedRefuses(t *testing.T) {
	head := "garment = \"G\"\nsize = \"M\"\n"
	for _, tc := range []struct{ file, says string }{
		{head + "[[vlaue]]\nat = \"x\"", "unknown key vlaue"},
		{head + "[[value]]\nat = \"x\"\nwnat = 1\nwant = 1\nsource = \"b\"", "unknown key value.wnat"},
		{head + "[[value]]\nat = \"x\"\nWant = 1\nsource = \"b\"", "value.Want does not belong there"},
		{head + "[[value]]\nat = \"x\"\nwant = 1\nsource = \"b\"\nrule = \"hole-short\"", "value.rule does not belong there"},
		{head + "[[value]]\nat = \"x\"\nwant = 1", "w:3: it names no source"},
		{head + "[[value]]\nat = \"x\"\nwant = 1\nsource = \"from memory\"", "stands under [[ours]]"},
		{head + "[[value]]\nat = \"x\"\nwant = 1\nsource = \"BL-01\"", "is no publication"},
		{head + "[[value]]\nat = \"x\"\nwant = 1\nsource = \"https://example.org\"", "is no publication"},
		{head + "[[value]]\nwant = 1\nsource = \"b\"", "it needs at and want"},
		{head + "[[value]]\nat = \"x\"\nsource = \"b\"", "it needs at and want"},
		{head + "[[value]]\nat = \"x\"\nwant = 1\nwithin = -1\nsource = \"b\"", "within is negative"},
		{head + "[[verdict]]\nrule = \"hole-shrot\"\nwant = \"none\"\nsource = \"b\"", `no rule "hole-shrot"`},
		{head + "[[verdict]]\nrule = \"hole-short\"\nwant = \"warning\"\nsource = \"b\"", `"warning" is no severity`},
		{head + "[[verdict]]\nrule = \"hole-short\"\nsource = \"b\"", "it needs want"},
		{head + "[[task]]\nfirst = \"a(\"\nthen = \"b\"\nsource = \"b\"", "missing closing )"},
		{head + "[[task]]\nfirst = \"a\"\nsource = \"b\"", "an expression is missing"},
		{head + "[[says]]\nin = \"mark\"\nwant = \"b\"\nsource = \"b\"", `in is "mark"`},
		{head + "[[says]]\nin = \"spec\"\nwant = \"b\"\nnever = \"c\"\nsource = \"b\"", "either want or never"},
		{head + "[[ours]]\nsource = \"b\"", "neither at nor rule"},
		{head + "[[value]]\nat = \"x\"\nwant = 1\nsource = \"b\"\n[[value]]\nat = \"x\"\nwant = 2\nsource = \"b\"", "w:7: the same as line 3: value x"},
		{"size = \"M\"\n", "says no garment or no size"},
		{"garment = 1\n", "incompatible types"},
	} {
		if _, err := readWorked("w", []byte(tc.file)); err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s\nhave %v, want %q", tc.file, err, tc.says)
		}
	}
	if _, err := readUnmet([]byte("# why\na value x\n\na value x\n")); err == nil || !strings.Contains(err.Error(), "unmet.txt:4: twice") {
		t.Errorf("a line that stands twice: %v", err)
	}
	if l, err := readUnmet([]byte("# why\n a value x \n")); err != nil || !l["a value x"] || len(l) != 1 {
		t.Errorf("have %v, %v", l, err)
	}
}
