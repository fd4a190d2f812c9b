package desk

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// What each command writes for programs, of all that there is in testdata, is
// valid by the schema that the program hands out for it, and has its version.
func TestOutputSchema(t *testing.T) {
	decode := func(got ran) any {
		t.Helper()
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(got.out))
		if err != nil || got.code > ExitConflict || got.err != "" && !strings.Contains(got.err, " skipped: ") {
			t.Fatalf("code %d, %v: %s", got.code, err, got.err)
		}
		return doc
	}
	schemas := map[string]*jsonschema.Schema{}
	for _, c := range commands() {
		f := c.flag("format")
		if f == nil || !slices.Contains(f.words, "json") {
			if got := runIn(t, "", nil, "schema", "output", c.name); got.code != ExitUsage {
				t.Errorf("%s writes no JSON and has a schema: %d", c.name, got.code)
			}
			continue
		}
		k := jsonschema.NewCompiler()
		if err := k.AddResource(c.name+".json", decode(runIn(t, "", nil, "schema", "output", c.name))); err != nil {
			t.Fatal(err)
		}
		var err error
		if schemas[c.name], err = k.Compile(c.name + ".json"); err != nil {
			t.Fatal(err)
		}
	}
	if a, b := runIn(t, "", nil, "schema", "output").out, runIn(t, "", nil, "schema", "output", "check").out; a != b {
		t.Error("without a command it is not the schema of check")
	}
	asked := map[string]int{}
	valid := func(args ...string) {
		t.Helper()
		got := runIn(t, "", nil, append(slices.Clone(args), "--format", "json")...)
		if got.code > ExitConflict && args[0] != "check" && args[0] != "spec" {
			return // a question that is wrong on purpose, or a closure that has nothing to choose
		}
		v := decode(got)
		if err := schemas[args[0]].Validate(v); err != nil {
			t.Errorf("%v: %v", args, err)
		}
		objects, many := v.([]any)
		if !many {
			objects = []any{v}
		}
		for _, o := range objects {
			asked[args[0]]++
			if n := o.(map[string]any)["version"]; n == nil || n.(interface{ String() string }).String() != "1" {
				t.Fatalf("%v: version %v", args, n)
			}
		}
	}
	glob := func(pattern string) []string {
		names, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %v, %v", pattern, names, err)
		}
		return names
	}
	for _, d := range append(glob("rules/*"), glob("garments")[0], glob("pieces")[0], glob("plan")[0], glob("fixes")[0], glob("collection")[0], glob("apart")[0]) {
		valid("check", d)
	}
	var garments []string
	for _, name := range slices.Concat(glob("garments/*.toml"), glob("pieces/*.toml"), glob("plan/*.toml"), glob("fixes/*.toml"), glob("worked/*.toml"), glob("collection/*.toml"), glob("apart/*.toml"), glob("rules/*/*.toml")) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if catalog.KindOf(data) == "garment" && !strings.HasSuffix(name, ".want.toml") && catalog.IsNamed(data) {
			garments = append(garments, name)
		}
	}
	for i, name := range garments {
		valid("checklist", name)
		valid("compare", garments[(i+1)%len(garments)], name)
		if !strings.Contains(name, "/rules/") {
			valid("spec", name)
		}
	}
	for _, name := range glob("garments/*coat*.toml") {
		valid("choose", name, "--closure", "front")
		valid("choose", name, "--all-closures")
		valid("choose", name, "--closure", "front", "--needle")
	}
	valid("order", "../../testdata/collection")
	for _, name := range garments {
		if !strings.Contains(name, "/rules/") {
			valid("order", name)
		}
	}
	questions, err := os.ReadFile("../../testdata/questions.txt")
	if err != nil {
		t.Fatal(err)
	}
	for l := range strings.Lines(string(questions)) {
		if c, _, there := strings.Cut(l, " | "); there && !strings.HasPrefix(c, "#") {
			valid(shellWords(c)...)
		}
	}
	for _, k := range catalog.Kinds() {
		valid("catalog", "--kind", k)
	}
	for _, r := range rules.Rules() {
		valid("explain", r.Name)
	}
	for _, k := range []string{"closure.front.stand.extension", "closure", "hole"} {
		valid("explain", k)
	}
	for name := range schemas {
		if asked[name] < 6 {
			t.Errorf("only %d answers of %s", asked[name], name)
		}
	}
	if asked["check"] < 100 || asked["compare"] < 100 {
		t.Errorf("only %d garments and %d comparisons", asked["check"], asked["compare"])
	}
}

// A schema says what is wrong with an answer: a key too many, one too few and a
// value of another kind are refused, for every command.
func TestOutputSchemaRefuses(t *testing.T) {
	k := jsonschema.NewCompiler()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(runIn(t, "", nil, "schema", "output", "buttonhole").out))
	if err != nil {
		t.Fatal(err)
	}
	if err := k.AddResource("x.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := k.Compile("x.json")
	if err != nil {
		t.Fatal(err)
	}
	answer := runIn(t, "", nil, "buttonhole", "--diameter", "1in", "--thickness", "1/8in", "--format", "json").out
	for _, change := range [][2]string{{`"length_mm"`, `"lenght_mm"`}, {`"units": "in"`, `"units": 1`}, {`"version": 1`, `"version": 2`}, {`"version": 1,`, ``}, {`"findings"`, `"found"`}} {
		wrong := strings.Replace(answer, change[0], change[1], 1)
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(wrong))
		if err != nil || wrong == answer {
			t.Fatalf("%v: %v\n%s", change, err, answer)
		}
		if s.Validate(v) == nil {
			t.Errorf("%v is taken", change)
		}
	}
	for _, args := range [][]string{{"schema", "output", "chek"}, {"schema", "output", "mark"}, {"schema", "output", "check", "spec"}, {"schema", "output", "--catalog-file"}} {
		if got := runIn(t, "", nil, args...); got.code != ExitUsage || !strings.Contains(got.err, "write: ") {
			t.Errorf("%v: %+v", args, got)
		}
	}
}
