package live

import (
	"encoding/json"
	"net/http"
	"testing"

	"placketeer/catalog"
	"placketeer/rules/trial"
)

// The page and what is printed from it are in one unit where that is asked for.
func TestOneUnitAtTheTable(t *testing.T) {
	for _, unit := range []string{"mm", "in"} {
		tab := layRead(t, t.TempDir(), "coat.toml", coat, catalog.Options{Units: unit, OneUnit: true})
		look := func(name, out string) {
			for _, x := range trial.Foreign(out, unit) {
				t.Errorf("%s in %s: %q", name, unit, x)
			}
		}
		get := func(path string) string {
			r, err := http.NewRequest("GET", tab.s.Address()+path, nil)
			if err != nil {
				t.Fatal(err)
			}
			code, body := tab.do(r)
			if code != 200 {
				t.Fatalf("%s: %d %s", path, code, body)
			}
			return string(body)
		}
		page := get("")
		look("page", page)
		view := tab.view("view", request{})
		data, err := json.Marshal(view)
		if err != nil {
			t.Fatal(err)
		}
		var words []string
		var walk func(x any)
		walk = func(x any) {
			switch x := x.(type) {
			case string:
				words = append(words, x)
			case []any:
				for _, y := range x {
					walk(y)
				}
			case map[string]any:
				for k, y := range x {
					if k != "value" && k != "with" && k != "toml" && k != "lines" { // of the file
						walk(y)
					}
				}
			}
		}
		var all any
		if err := json.Unmarshal(data, &all); err != nil {
			t.Fatal(err)
		}
		walk(all)
		for _, w := range words {
			look("view", w)
		}
		for _, paper := range []string{"checklist.html", "spec.html"} {
			look(paper, get("print/"+paper))
		}
	}
}
