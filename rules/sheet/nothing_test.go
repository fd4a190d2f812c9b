package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/guide"
	"placketeer/rules/search"
	"placketeer/rules/trial"
	"placketeer/rules/work"
)

// ofNothing are what no paper says of what is sewn, cut or bought: an amount of
// 0, and one below it. In a sum a − stands apart from what it takes away.
var ofNothing = []*regexp.Regexp{
	regexp.MustCompile(`(?:^|[^0-9.,/¹²³⁄±–-])(?:^|[ (×]|\b)0(?:\.0+)? (?:mm|cm|m|in|yd|pieces|spools|wide|long|across|beyond|inside)\b`),
	regexp.MustCompile(`(?:^|[\s(])[-−][0-9][0-9 /.]*(?:mm|cm|m|in|yd|N)\b`),
	regexp.MustCompile(`(?:^|\s)0 (?:×|of )`),
}

// saidOfNothing are what a paper says of nothing, each with its line.
func saidOfNothing(paper string) (out []string) {
	for l := range strings.SplitSeq(paper, "\n") {
		l = strings.ReplaceAll(l, "top stop 0", "") // at the top
		for _, re := range ofNothing {
			if m := re.FindString(l); m != "" {
				out = append(out, fmt.Sprintf("%q in %s", strings.TrimSpace(m), strings.TrimSpace(l)))
			}
		}
	}
	return out
}

// squeezed are changes that leave an edge, a band or a strip no room.
var squeezed = []struct {
	key    string
	values []string
}{
	{"stand.finished", []string{"1 mm", "12 mm", "1 in", "60 mm"}},
	{"stand.extension", []string{"2 mm", "16 mm", "5/8 in", "30 mm", "80 mm"}},
	{"stand.band", []string{"2 mm", "20 mm"}},
	{"stand.seam", []string{"0", "60 mm"}},
	{"stand.facing", []string{"1 mm"}},
	{"stand.strip", []string{"1 mm", "20 mm"}},
	{"stand.strip_from_edge", []string{"60 mm"}},
	{"stand.topstitch", []string{"30 mm"}},
	{"rows.distance", []string{"2 mm", "90 mm", "4 in"}},
	{"flap.width", []string{"10 mm"}},
	{"flap.inset", []string{"1 mm"}},
	{"inset", []string{"0", "2 mm"}},
	{"edge", []string{"1 mm"}},
	{"run.first", []string{"1 mm"}},
	{"run.length", []string{"40 mm"}},
	{"run.count", []string{"1"}},
	{"zip_length", []string{"30 mm"}},
	{"loop", []string{"2 mm"}},
	{"turn", []string{"0.1 mm"}},
	{"hole_length", []string{"2 mm"}},
}

// squeeze changes a key of a closure, nil where that cannot be read.
func squeeze(rnd *rand.Rand, g *catalog.Garment) (*catalog.Garment, string) {
	c := &g.Closures[rnd.IntN(len(g.Closures))]
	q := squeezed[rnd.IntN(len(squeezed))]
	with := catalog.Key("closure", c.Name) + "." + q.key + "=" + q.values[rnd.IntN(len(q.values))]
	w, err := catalog.ParseWith(with)
	if err != nil {
		panic(err)
	}
	h, err := g.Alter(w)
	if err != nil {
		return nil, with
	}
	return h, with
}

// everyPaper are all papers of a plan, by name.
func everyPaper(t *testing.T, p *rules.Planned, draw bool) map[string]string {
	ps := []*rules.Planned{p}
	out := map[string]string{
		"spec":      specified(t, ps, Options{Format: "text", UTF8: true, Width: 4000, Working: true}),
		"check":     checked(t, ps, Options{Format: "text", UTF8: true, Width: 4000}),
		"checklist": listedText(t, ps, Options{Format: "text", UTF8: true, Width: 4000}),
	}
	made := make([]int, max(1, len(p.Garment.Sizes)))
	for i := range made {
		made[i] = 1 + i
	}
	if b, err := work.NewPurchase([]work.Batch{{Plan: p, Garments: made}}, p.Garment.Units); err == nil {
		var w bytes.Buffer
		if err := Order(&w, b, nil, Options{Format: "text", UTF8: true, Width: 4000}); err != nil {
			t.Error(err)
		}
		out["order"] = w.String()
	}
	if draw {
		if svg, _, err := guide.Mark(p, guide.Options{Format: "svg"}); err == nil {
			var says []string
			for _, m := range regexp.MustCompile(`(?s)<title>(.*?)</title>|<text[^>]*>(.*?)</text>|aria-label="([^"]*)"`).FindAllSubmatch(svg, -1) {
				says = append(says, string(m[1])+string(m[2])+string(m[3]))
			}
			out["guide"] = strings.Join(says, "\n")
		}
	}
	return out
}

// lengthsOfNothing are the keys of the JSON that say how much to cut, to sew or
// to buy and say nothing or less; places may be anything, and so may what
// findings compare.
func lengthsOfNothing(t *testing.T, js string) (out []string) {
	t.Helper()
	var all any
	if err := json.Unmarshal([]byte(js), &all); err != nil {
		t.Fatal(err)
	}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, e := range v {
				walk(path+"."+k, e)
			}
		case []any:
			for _, e := range v {
				walk(path, e)
			}
		case float64:
			key := path[strings.LastIndex(path, ".")+1:]
			if v <= 0 && strings.HasSuffix(key, "_mm") && !slices.ContainsFunc(placesInJSON, func(re *regexp.Regexp) bool { return re.MatchString(path) }) {
				out = append(out, fmt.Sprintf("%s: %v", path, v))
			}
		}
	}
	walk("", all)
	return out
}

// placesInJSON are keys that may be 0 or less.
var placesInJSON = []*regexp.Regexp{
	regexp.MustCompile(`\.(?:findings|settled|measure_first|joint_fix|change)\b`),
	regexp.MustCompile(`\.(?:out|at|out_from|out_to|from|to)_mm$`), // places
	regexp.MustCompile(`\.(?:over|under)_tolerance_mm$`),
	regexp.MustCompile(`\.cut_mm$`),                       // of a hole for show
	regexp.MustCompile(`\.hole\.ease_mm$`),                // a rule of the file may leave none
	regexp.MustCompile(`\.cut_off_mm$`),                   // of a zip that fits
	regexp.MustCompile(`\.spread_mm$`),                    // of gaps that are alike
	regexp.MustCompile(`\.thread\.used_mm$`),              // where nothing is sewn with it
	regexp.MustCompile(`\.notions\.lengths_mm$`),          // of a zip of which none is long enough
	regexp.MustCompile(`\.rows_mm$`),                      // columns on the centre line
	regexp.MustCompile(`\.stand\.have_mm$`),               // where edges meet the edge is the line
	regexp.MustCompile(`\.thread\.(?:garment|range)_mm$`), // of what is not laid out: known says so
}

func TestNoPaperSaysNothing(t *testing.T) {
	t.Parallel()
	first := map[string]string{}
	lost := 0
	var mu sync.Mutex
	look := func(name string, g *catalog.Garment, draw bool) {
		p := rules.Plan(g)
		var faults []string
		for paper, says := range everyPaper(t, p, draw) {
			for _, s := range saidOfNothing(says) {
				faults = append(faults, paper+": "+s)
			}
		}
		for _, s := range lengthsOfNothing(t, specified(t, []*rules.Planned{p}, Options{Format: "json"})) {
			faults = append(faults, "JSON: "+s)
		}
		mu.Lock()
		defer mu.Unlock()
		for i := range p.Closures {
			if p.Closures[i].Stand.Lost {
				lost++
			}
		}
		for _, s := range faults {
			kind := regexp.MustCompile(`[0-9]+`).ReplaceAllString(s, "#")
			if len(kind) > 90 {
				kind = kind[:90]
			}
			if _, ok := first[kind]; !ok {
				first[kind] = name + ": " + s
			}
		}
	}
	var names []string
	for _, pattern := range []string{"rules/*/*.toml", "garments/*.toml", "worked/*.toml", "pieces/*.toml", "plan/*.toml", "fixes/*.toml"} {
		found, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, found...)
	}
	trial.Each(uint64(len(names)), func(i uint64) {
		data, err := os.ReadFile(names[i])
		if err != nil || strings.HasSuffix(names[i], ".want.toml") || !bytes.Contains(data, []byte("[[closure]]")) {
			return
		}
		g, err := catalog.Load(names[i], catalog.Options{})
		if err != nil {
			return
		}
		look(names[i], g, false)
		rnd := rand.New(rand.NewPCG(i, 29))
		if !trial.Long() && i%3 > 0 {
			return
		}
		if h, err := g.Alter(catalog.SetLength(catalog.Key("closure", g.Closures[0].Name, "stand", "finished"), measure.Millimetre, measure.MM)); err == nil {
			look(names[i]+" with the edge at 1 mm", h, false)
		}
		for range many(1, 8) {
			if h, with := squeeze(rnd, g); h != nil {
				look(names[i]+" with "+with, h, rnd.IntN(8) == 0)
			}
		}
	})
	trial.Each(uint64(many(60, 1000)), func(seed uint64) {
		g, err := catalog.Read("test.toml", []byte(trial.New(seed, 1876).Opening()), catalog.Options{})
		if err != nil {
			return
		}
		look(fmt.Sprintf("seed %d", seed), g, seed%8 == 0)
		rnd := rand.New(rand.NewPCG(seed, 31))
		for range 2 {
			if h, with := squeeze(rnd, g); h != nil {
				look(fmt.Sprintf("seed %d with %s", seed, with), h, false)
			}
		}
	})
	kinds := make([]string, 0, len(first))
	for k := range first {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	for _, k := range kinds {
		t.Error(first[k])
	}
	if lost < 10 {
		t.Errorf("only %d edges had no place", lost)
	}
}

// A double-breasted front whose edge is drawn inside its columns, worked out by
// hand: the button is 36 ligne, 22.86 mm, so its stand is 11.43 + 3 = 14.43 mm at
// least and 11.43 + 6.35 = 17.78 mm usual. From columns at 3 1/4 in, 82.55 mm, the
// edge lies 96.98 mm out at least, which is 3 7/8 in on a tape of 1/16 in, and
// 100.33 mm, 4 in, as is usual. What hangs on the edge is not said; what hangs on
// the columns is.
func TestEdgeThatCannotBe(t *testing.T) {
	const file = "../../testdata/garments/bridge-coat-ready.toml"
	with := func(finished string) *rules.Planned {
		return search.Checked(trial.Load(t, file, "closure.front.stand.finished="+finished), search.CheckOptions{Fixes: true})
	}
	p := with("1 in")
	papers := everyPaper(t, p, true)
	papers["full"] = checked(t, []*rules.Planned{p}, Options{Format: "text", UTF8: true, Width: 4000, Full: true})
	for paper, want := range map[string][]string{
		"full":      {"the columns stand 3 1/4 in", "the finished edge lies only 1 in", "at least 5/8 in", "usually 3/4 in", "draw the edge 3 7/8 in", "make the finished stand 4 in"},
		"check":     {"stand-narrow", "make the finished stand 4 in"},
		"checklist": {"Cut neither the fronts nor their facings before stand-narrow is settled", "Cut the canvas interfacing for the front not before stand-narrow is settled", "Buy for the canvas interfacing, hair-canvas: not before stand-narrow is settled", "3 in, 2 7/8 in, 2 3/4 in beyond the centre line"}, // the lower three, tapering by 1/8 in
		"spec":      {"none left, faced", "Finished edge, cut edge, facing and interfacing: not before stand-narrow is settled", "hair-canvas: not before stand-narrow is settled", "yours leaves nothing"},
		"order":     {"not before stand-narrow is settled"},
		"guide":     {"not drawn before stand-narrow is settled", "column"},
	} {
		for _, w := range want {
			if !strings.Contains(papers[paper], w) {
				t.Errorf("%s does not say %q", paper, w)
			}
		}
	}
	for paper, not := range map[string][]string{
		"full":      {"between the hole and the edge", "3 15/16 in"},
		"checklist": {"a seam of", "Cut the facings", "Baste the canvas", "from the finished edge", "is needed"},
		"spec":      {"Finished edge 3 1/4 in", "strip of the canvas", "both fronts", "cloth between hole"},
		"guide":     {"\nfinished edge", "\ncut edge\ncut edge", "\ninterfacing"},
	} {
		for _, w := range not {
			for l := range strings.SplitSeq(papers[paper], "\n") {
				if strings.Contains("\n"+l, w) && !strings.Contains(l, "What the lines mean") {
					t.Errorf("%s says %q: %s", paper, w, l)
				}
			}
		}
	}
	var js []struct {
		Closures []struct {
			Stand   map[string]any
			Support any
		}
	}
	if err := json.Unmarshal([]byte(specified(t, []*rules.Planned{p}, Options{Format: "json"})), &js); err != nil {
		t.Fatal(err)
	}
	c := js[0].Closures[0]
	for _, k := range []string{"have_mm", "extension_mm", "facing_cut_mm"} {
		if v, ok := c.Stand[k]; !ok || v != nil {
			t.Errorf("JSON: %s is %v", k, v)
		}
	}
	if c.Support != nil {
		t.Errorf("JSON: support is %v", c.Support)
	}
	// The least, typed back, holds, and the usual is what needs no sample.
	for _, good := range []struct {
		finished string
		severity rules.Severity
	}{{"3 13/16 in", rules.Conflict}, {"3 7/8 in", rules.Caution}, {"98.5 mm", rules.Caution}, {"4 in", rules.Note}} {
		got := rules.Note
		for _, f := range with(good.finished).Findings {
			if f.Rule == "stand-narrow" {
				got = max(got, f.Severity)
			}
		}
		if got != good.severity {
			t.Errorf("finished %s: %v, not %v", good.finished, got, good.severity)
		}
	}
}
