package catalog

import (
	"strings"
	"testing"

	"placketeer/catalog/measure"
)

// Every key is found by its whole name and by its end, and is explained.
func TestEveryKeyIsExplained(t *testing.T) {
	stock, err := StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	_, tables := wholeTables(t)
	n := 0
	for _, tb := range tables {
		for _, fd := range tb.fields {
			var at []string
			for _, s := range strings.Split(tb.path, ".") {
				if s, _, _ = strings.Cut(s, "["); s != "" {
					at = append(at, s)
				}
			}
			key := strings.Join(append(at, fd.name), ".")
			found := false
			for _, d := range stock.Explained(key, measure.In) {
				if d.Doc == "" || d.Takes == "" || d.Example == "" && len(d.Keys) == 0 {
					t.Errorf("%s: %+v", key, d)
				}
				found = found || d.Doc == fd.doc
			}
			for _, d := range stock.Explained(fd.name, measure.MM) {
				found = found && d.Doc != ""
			}
			if !found {
				t.Errorf("%s is not explained", key)
			}
			n++
		}
	}
	if n < 150 {
		t.Errorf("only %d keys", n)
	}
	for _, key := range []string{"", "closure.front.nothing", "."} {
		if got := stock.Explained(key, measure.In); len(got) > 0 {
			t.Errorf("%q: %+v", key, got)
		}
	}
}
