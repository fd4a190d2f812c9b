package desk

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"placketeer/rules/sheet"
)

// Each table alone is one rectangle with a row of headings, of one garment and
// of a folder, in whichever command; its places are those of the JSON; and no
// cell is a formula.
func TestTables(t *testing.T) {
	read := func(got ran) [][]string {
		t.Helper()
		rows, err := csv.NewReader(strings.NewReader(got.out)).ReadAll() // rows of unlike length are an error
		if err != nil || len(rows) < 2 {
			t.Fatalf("code %d, %v, %d rows: %s", got.code, err, len(rows), got.err)
		}
		head := slices.Clone(rows[0])
		slices.Sort(head)
		if len(slices.Compact(head)) != len(rows[0]) || slices.Contains(head, "") || rows[0][0] != "file" {
			t.Errorf("headings %q", rows[0])
		}
		return rows
	}
	name := "../../testdata/garments/watch-coat.toml"
	for _, table := range sheet.Tables {
		one := read(runIn(t, "", nil, "spec", name, "--table", table))
		if also := read(runIn(t, "", nil, "check", name, "--table", table)); !slices.EqualFunc(one, also, slices.Equal) {
			t.Errorf("%s: check and spec differ", table)
		}
		many := read(runIn(t, "", nil, "check", "../../testdata/collection", "--table", table))
		files := map[string]bool{}
		for _, r := range many[1:] {
			files[r[0]] = true
		}
		if len(files) < 2 {
			t.Errorf("%s: only of %v", table, files)
		}
	}
	bought := map[string]int{}
	for _, table := range sheet.OrderTables {
		got := runIn(t, "", nil, "order", "../../testdata/collection", "--table", table)
		rows, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
		if err != nil || len(rows) < 2 || got.code > ExitConflict {
			t.Fatalf("order %s: code %d, %v, %d rows: %s", table, got.code, err, len(rows), got.err)
		}
		bought[table] = len(rows) - 1
		if slices.Contains(rows[0], "table") || slices.Contains(rows[0], "") {
			t.Errorf("order %s: headings %q", table, rows[0])
		}
		for _, r := range rows[1:] {
			if kind := slices.Index(rows[0], "kind"); kind >= 0 && (r[kind] == "thread" || r[kind] == "interfacing") && table == "notions" {
				t.Errorf("order notions has %q", r)
			}
		}
	}
	if bought["order"] != bought["notions"]+bought["goods"] || bought["made"] < 5 {
		t.Errorf("rows of the order: %v", bought)
	}
	if got := runIn(t, "", nil, "order", "../../testdata/collection", "--table", "findings"); got.code != ExitUsage {
		t.Errorf("an order has no findings: %d", got.code)
	}
	if got := runIn(t, "", nil, "order", "../../testdata/collection", "--table", "goods", "--format", "json"); got.code != ExitUsage {
		t.Errorf("a table is CSV: %d", got.code)
	}
	rows := read(runIn(t, "", nil, "spec", name, "--table", "places"))
	var all []struct {
		Closures []struct {
			Name  string
			Sizes []struct {
				Size      string
				Positions []float64 `json:"positions_mm"`
			}
		}
	}
	if err := json.Unmarshal([]byte(runIn(t, "", nil, "spec", name, "--format", "json").out), &all); err != nil {
		t.Fatal(err)
	}
	n := 1
	for _, c := range all[0].Closures {
		for _, z := range c.Sizes {
			for i, p := range z.Positions {
				at := func(head string) string { return rows[n][slices.Index(rows[0], head)] }
				if x, err := strconv.ParseFloat(at("centre mm"), 64); err != nil || x != p || at("closure") != c.Name || at("size") != z.Size || at("number") != strconv.Itoa(i+1) {
					t.Errorf("row %d is %q, not %s %s %d at %v", n, rows[n], c.Name, z.Size, i+1, p)
				}
				n++
			}
		}
	}
	if n != len(rows) {
		t.Errorf("%d places, %d in the JSON", len(rows)-1, n-1)
	}
	evil := filepath.Join(t.TempDir(), "evil.toml")
	text := strings.Replace(strings.Replace(coat, `"Quay coat"`, `"=1+1"`, 1), `name = "front"`, `name = "@front"`, 1)
	if err := os.WriteFile(evil, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, table := range sheet.Tables {
		for _, r := range read(runIn(t, "", nil, "spec", evil, "--table", table))[1:] {
			for _, c := range r {
				if _, err := strconv.ParseFloat(c, 64); c != "" && strings.ContainsAny(c[:1], "=+-@\t\r") && err != nil {
					t.Errorf("%s: a formula %q", table, c)
				}
			}
		}
	}
	for _, args := range [][]string{{"--table", "place"}, {"--table", "places", "--format", "json"}, {"--table", "places", "--out", "x.md"}} {
		if got := runIn(t, "", nil, append([]string{"spec", name}, args...)...); got.code != ExitUsage || !strings.Contains(got.err, "write: ") {
			t.Errorf("%v: %+v", args, got)
		}
	}
}
