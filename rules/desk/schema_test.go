package desk

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// What check and spec write for programs, of every garment there is here, is
// valid by the schema that the command hands out.
func TestOutputSchema(t *testing.T) {
	decode := func(got ran) any {
		t.Helper()
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(got.out))
		if err != nil || got.code > ExitConflict || got.err != "" && !strings.Contains(got.err, " skipped: ") {
			t.Fatalf("code %d, %v: %s", got.code, err, got.err)
		}
		return doc
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("output.json", decode(runIn(t, "", nil, "schema", "output"))); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("output.json")
	if err != nil {
		t.Fatal(err)
	}
	garments := 0
	valid := func(command, name string) {
		t.Helper()
		v := decode(runIn(t, "", nil, command, name, "--format", "json"))
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s %s: %v", command, name, err)
		}
		garments += len(v.([]any))
	}
	glob := func(pattern string) []string {
		names, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %v, %v", pattern, names, err)
		}
		return names
	}
	for _, d := range []string{"garments", "pieces", "plan", "fixes"} {
		valid("check", filepath.Join("../../testdata", d))
	}
	for _, d := range glob("rules/*") {
		valid("check", d)
	}
	for _, name := range append(glob("garments/*-*.toml"), glob("pieces/*.toml")...) {
		if !strings.Contains(name, "tarn-quay-") { // catalogues
			valid("spec", name)
		}
	}
	if garments < 100 {
		t.Errorf("only %d garments", garments)
	}
}
