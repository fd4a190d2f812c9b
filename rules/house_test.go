package rules

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// storeys are the folders of the house from the ground up. A package imports
// only packages of storeys below its own.
var storeys = [][]string{
	{"catalog/measure", "catalog/source", "catalog/text", "catalog/stock", "catalog"},
	{"spacing"},
	{"rules/plan"},
	{"rules"},
	{"rules/search", "rules/work"},
	{"rules/guide"},
	{"rules/sheet"},
	{"rules/live"},
	{"rules/desk"},
	{"."},
	{"rules/trial"}, // for tests alone, so nothing else lies above it
}

// Arrows between the folders run one way.
func TestArrowsRunOneWay(t *testing.T) {
	storey := map[string]int{}
	for i, names := range storeys {
		for _, n := range names {
			storey[n] = i
		}
	}
	root, seen := "..", 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if n := d.Name(); path != root && (strings.HasPrefix(n, ".") || n == "testdata") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		folder := filepath.ToSlash(filepath.Dir(rel))
		own, known := storey[folder]
		if !known {
			t.Errorf("%s: the folder %s has no storey", rel, folder)
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		seen++
		for _, im := range f.Imports {
			p, _ := strconv.Unquote(im.Path.Value)
			to, ours := strings.CutPrefix(p, "placketeer/")
			if !ours {
				continue
			}
			at, known := storey[to]
			below := at < own || own == 0 && at == 0 // the catalogue's own folders
			if !known || !below {
				t.Errorf("%s imports %s, which does not lie below it", rel, to)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 50 {
		t.Fatalf("only %d files were looked at", seen)
	}
}

// Nothing but what the guide for contributors names stands at the top.
func TestTopLevel(t *testing.T) {
	may := []string{"main.go", "rules", "spacing", "catalog", "testdata", "README.md", "DEVELOPERS.md", "go.mod", "go.sum"}
	files, err := filepath.Glob(filepath.Join("..", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if n := filepath.Base(f); n[0] != '.' && !slices.Contains(may, n) && n != "placketeer" && n != "placketeer.exe" {
			t.Errorf("%s does not belong at the top level", n)
		}
	}
}
