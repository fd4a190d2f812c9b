package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog/measure"
)

// figure is a figure with its unit in a text.
var figure = regexp.MustCompile(`\d(?:[\d./]*|(?: \d)?/\d+) ?(?:mm|cm|in|lbf|N|°C|°F|%|g/m2|g/m²|years|months|parts per million|µg/cm²)\b`)

// The texts of a rule are made from its thresholds, and so is what it says: no
// figure is typed a second time.
func TestNoFigureIsTypedTwice(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		literals := func(n ast.Node) {
			ast.Inspect(n, func(n ast.Node) bool {
				l, ok := n.(*ast.BasicLit)
				if !ok || l.Kind != token.STRING {
					return true
				}
				seen++
				s, err := strconv.Unquote(l.Value)
				if err != nil {
					t.Fatal(err)
				}
				if m := figure.FindString(s); m != "" {
					t.Errorf("%s: %q is typed in %q: make it from the threshold", set.Position(l.Pos()), m, s)
				}
				return true
			})
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.KeyValueExpr:
				if k, ok := n.Key.(*ast.Ident); ok {
					switch k.Name {
					case "Formula", "Why", "Ours", "Says":
						literals(n.Value)
					}
				}
			case *ast.CallExpr:
				if s, ok := n.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "report" {
					literals(n)
				}
			}
			return true
		})
	}
	if seen < 500 {
		t.Fatalf("only %d texts were looked at", seen)
	}
}

// Every threshold of a rule is in its texts, by a name that no other has, and
// no name is left over; what explain prints is the figure itself.
func TestThresholdsAreExplained(t *testing.T) {
	for _, r := range Rules() {
		names := map[string]bool{}
		raw := r.Formula + r.Ours + r.Why + r.Others
		e := r.Explained(measure.NoUnit)
		texts := e.Formula + " " + e.Ours + " " + e.Why + " " + e.Others
		for _, l := range r.Limits {
			if names[l.Name] {
				t.Errorf("%s: two thresholds are called %s", r.Name, l.Name)
			}
			names[l.Name] = true
			if !strings.Contains(raw, "{"+l.Name+"}") || !strings.Contains(texts, l.String()) {
				t.Errorf("%s: {%s}, %s, is in none of its texts", r.Name, l.Name, l)
			}
		}
		if m := regexp.MustCompile(`\{[a-z -]*\}`).FindString(texts); m != "" {
			t.Errorf("%s: %s is no threshold of it", r.Name, m)
		}
	}
}
