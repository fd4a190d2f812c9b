package desk

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

var (
	choiceHead = regexp.MustCompile(`(\d+) [\w -]+ tried[,:] (\d+|none|all) pass`)
	choiceRow  = regexp.MustCompile(`(?m)^ ?(\d+)  (\S+) +(none|\d+) +(\S.*)$`)
)

// What choose writes for programs is valid, and says what the text says, for
// every kind of thing that garments choose: the same things in the same order,
// with their cautions, room and price.
func TestChooseJSONIsTheText(t *testing.T) {
	k := jsonschema.NewCompiler()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(runIn(t, "", nil, "schema", "output", "choose").out))
	if err == nil {
		err = k.AddResource("choose.json", doc)
	}
	if err != nil {
		t.Fatal(err)
	}
	schema, err := k.Compile("choose.json")
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, pattern := range []string{"garments/*.toml", "worked/*.toml", "collection/*.toml", "pieces/*.toml"} {
		found, err := filepath.Glob("../../testdata/" + pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	kinds := map[string]int{}
	for _, file := range files {
		g, err := catalog.Load(file, catalog.Options{})
		if err != nil || strings.HasSuffix(file, ".want.toml") {
			continue
		}
		long := os.Getenv("PLACKETEER_LONG") != ""
		ask := [][]string{{"--all-closures"}}
		for i := range g.Closures {
			if kind := "closures of " + string(g.Closures[i].Notion.Kind); kinds[kind] < 4 || long {
				kinds[kind]++
			} else {
				continue
			}
			of := []string{"--closure", g.Closures[i].Name}
			ask = append(ask, of)
			if i == 0 {
				for _, what := range []string{"--needle", "--thread", "--interfacing"} {
					ask = append(ask, append(of[:2:2], what))
				}
			}
		}
		for _, flags := range ask {
			args := append([]string{"choose", file}, flags...)
			text := runIn(t, "", nil, args...)
			out := runIn(t, "", nil, append(args, "--format", "json")...)
			if text.code != out.code || text.err != out.err {
				t.Errorf("%v: code %d and %d, %q and %q", args, text.code, out.code, text.err, out.err)
				continue
			}
			if text.code > ExitConflict {
				continue // there is nothing to choose, which is said the same
			}
			v, err := jsonschema.UnmarshalJSON(strings.NewReader(out.out))
			if err == nil {
				err = schema.Validate(v)
			}
			if err != nil {
				t.Errorf("%v: %v", args, err)
				continue
			}
			var c struct {
				What, Fastener string
				Now            *string
				Tried, Passing int
				Candidates     []struct {
					Name     string
					With     []string
					Passes   bool
					Cautions int
					Tightest *string
					Share    *float64
					Price    *float64
					Picks    []any
				}
			}
			if err := json.Unmarshal([]byte(out.out), &c); err != nil {
				t.Fatal(err)
			}
			kinds[c.What+" "+c.Fastener]++
			m := choiceHead.FindStringSubmatch(strings.Join(strings.Fields(text.out), " "))
			if m == nil {
				t.Errorf("%v: the text has no head:\n%.300s", args, text.out)
				continue
			}
			passing := m[2]
			switch passing {
			case "none":
				passing = "0"
			case "all":
				passing = m[1]
			}
			if m[1] != strconv.Itoa(c.Tried) || passing != strconv.Itoa(c.Passing) {
				t.Errorf("%v: the text has %s of %s, the JSON %d of %d", args, passing, m[1], c.Passing, c.Tried)
			}
			rows := choiceRow.FindAllStringSubmatch(text.out, -1)
			if len(rows) == 0 && c.Passing > 0 && flags[0] != "--all-closures" {
				t.Errorf("%v: %d pass, and the text has no row:\n%s", args, c.Passing, text.out)
			}
			if flags[0] == "--all-closures" {
				continue // its rows are of sizes, and each closure has its own line
			}
			for i, r := range rows {
				if i >= len(c.Candidates) || !c.Candidates[i].Passes {
					t.Errorf("%v: row %d of the text has no candidate", args, i+1)
					break
				}
				x := &c.Candidates[i]
				cautions := strconv.Itoa(x.Cautions)
				if x.Cautions == 0 {
					cautions = "none"
				}
				if r[1] != strconv.Itoa(i+1) || r[2] != x.Name || r[3] != cautions {
					t.Errorf("%v: row %q, JSON %s with %s cautions", args, r[0], x.Name, cautions)
				}
				if x.Tightest != nil && !strings.Contains(r[4], *x.Tightest) {
					t.Errorf("%v: row %q, tightest %s", args, r[0], *x.Tightest)
				}
				if share, there := strings.CutSuffix(strings.Fields(r[4])[0]+" "+strings.Fields(r[4])[1%len(strings.Fields(r[4]))], " %"); there && x.Share != nil {
					if n, err := strconv.ParseFloat(share, 64); err != nil || math.Abs(n-100**x.Share) > 1 {
						t.Errorf("%v: row %q, share %v", args, r[0], *x.Share)
					}
				}
				if x.Price != nil && !strings.Contains(r[4], fmt.Sprintf("%.2f", *x.Price)) {
					t.Errorf("%v: row %q, price %v", args, r[0], *x.Price)
				}
			}
			// What the file has already needs no trying.
			for i := range rows {
				if x := &c.Candidates[i]; c.Now == nil || x.Name != *c.Now {
					if !strings.Contains(text.out, x.With[0]) {
						t.Errorf("%v: the command to try is not %v", args, x.With)
					}
					break
				}
			}
		}
	}
	for _, want := range []string{"notion button", "notion snap", "notion toggle", "notion zip", "notion hook", "notion tack-button", "needle ", "thread ", "interfacing "} {
		n := 0
		for have, m := range kinds {
			if strings.HasPrefix(have, want) {
				n += m
			}
		}
		if n == 0 {
			t.Errorf("no choice of %s: %v", want, kinds)
		}
	}
}
