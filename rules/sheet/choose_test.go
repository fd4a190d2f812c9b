package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"placketeer/rules/search"
	"placketeer/rules/trial"

	"github.com/rivo/uniseg"
)

func chosen(t *testing.T, o search.ChoiceOptions) *search.Choice {
	t.Helper()
	g := trial.Load(t, "../../testdata/garments/watch-coat.toml")
	c, err := search.Choose(g, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var questions = []search.ChoiceOptions{
	{Closure: "front"}, {Closure: "flap", Limit: 3}, {All: true}, {Closure: "front", What: "needle"},
	{Closure: "front", What: "thread"}, {All: true, What: "interfacing"},
}

// The text stays within its width, says what is ranked, why the rest fails
// and what to paste.
func TestChoiceText(t *testing.T) {
	for _, q := range questions {
		c := chosen(t, q)
		for _, width := range []int{0, 60, 120} {
			var b bytes.Buffer
			if err := Choice(&b, c, Options{Width: width}); err != nil {
				t.Fatal(err)
			}
			most := width
			if most == 0 {
				most = DefaultWidth
			}
			for _, l := range strings.Split(b.String(), "\n") {
				if n := uniseg.StringWidth(l); n > most && !strings.Contains(l, "--with") && !strings.HasPrefix(l, "try:") {
					t.Errorf("%+v at %d: %d columns: %s", q, most, n, l)
				}
				if i := strings.IndexFunc(l, func(r rune) bool { return r > 126 || r < 32 }); i >= 0 {
					t.Errorf("%+v: not ASCII: %q", q, l)
				}
				if strings.Contains(l, "%!") || strings.HasSuffix(l, " ") {
					t.Errorf("%+v: %q", q, l)
				}
			}
			for _, d := range c.Candidates {
				if !strings.Contains(b.String(), d.Name) {
					t.Errorf("%+v: %s is not there", q, d.Name)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := Choice(&b, chosen(t, search.ChoiceOptions{Closure: "front"}), Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"buttons for front (now quay-horn-45)", "--with closure.front.use=", "Near misses", "[hole-machine]", "needle-cloth on front"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, &b)
		}
	}
}

func TestChoiceJSON(t *testing.T) {
	for _, q := range questions {
		c := chosen(t, q)
		var b bytes.Buffer
		if err := Choice(&b, c, Options{Format: "json"}); err != nil {
			t.Fatal(err)
		}
		var got struct {
			Tried, Passing int
			Closures       []string
			Beside         []string
			Candidates     []struct {
				Name   string
				Passes bool
				With   []string
				Picks  []map[string]any
				Share  *float64
				Fails  *string
			}
		}
		d := json.NewDecoder(&b)
		if err := d.Decode(&got); err != nil {
			t.Fatalf("%+v: %v", q, err)
		}
		if got.Tried != c.Tried || got.Passing != c.Passing || len(got.Candidates) != len(c.Candidates) || got.Closures == nil || got.Beside == nil {
			t.Errorf("%+v: %+v", q, got)
		}
		for _, k := range got.Candidates {
			if k.With == nil || k.Picks == nil || k.Passes == (k.Fails != nil) {
				t.Errorf("%+v: %+v", q, k)
			}
		}
	}
}

// A choice that stopped says so.
func TestChoiceStopped(t *testing.T) {
	c := chosen(t, questions[0])
	for stopped, want := range map[string]bool{"": false, "the search looked at 7 plans and stopped: 93 of the catalogue were not tried": true} {
		c.Stopped = stopped
		var words, data bytes.Buffer
		if err := Choice(&words, c, Options{Width: 120}); err != nil {
			t.Fatal(err)
		}
		if err := Choice(&data, c, Options{Format: "json"}); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(words.String(), "The search looked at 7 plans and stopped: 93 of the catalogue were not tried.") != want ||
			strings.Contains(data.String(), `"stopped": "the search looked at 7 plans`) != want || strings.Contains(data.String(), `"stopped": null`) == want {
			t.Errorf("%q:\n%s\n%s", stopped, &words, &data)
		}
	}
}

func TestChoiceCSV(t *testing.T) {
	for _, q := range questions {
		c := chosen(t, q)
		var b bytes.Buffer
		if err := Choice(&b, c, Options{Format: "csv"}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil || len(rows) != 1+len(c.Candidates) {
			t.Errorf("%+v: %d rows, %v", q, len(rows), err)
		}
	}
	if err := Choice(&bytes.Buffer{}, chosen(t, questions[0]), Options{Format: "html"}); err == nil || !strings.Contains(err.Error(), "text, json, csv") {
		t.Errorf("html: %v", err)
	}
}

// What has more cautions than what the file has is not the one to try.
func TestChoiceTriesNothingWorse(t *testing.T) {
	c, err := search.Choose(trial.Load(t, "../../testdata/garments/watch-coat-ready.toml"), search.ChoiceOptions{Closure: "front"})
	if err != nil {
		t.Fatal(err)
	}
	if !c.Has(&c.Candidates[0]) || !c.Candidates[2].Passes {
		t.Fatal("the file's own is not the first of three that pass")
	}
	says := func() string {
		var b bytes.Buffer
		if err := Choice(&b, c, Options{}); err != nil {
			t.Fatal(err)
		}
		_, try, _ := strings.Cut(b.String(), "try: ")
		return try
	}
	least := c.Candidates[0].Cautions
	c.Candidates[1].Cautions, c.Candidates[2].Cautions = least+1, least
	if try := says(); !strings.Contains(try, c.Candidates[2].With[0].String()) {
		t.Errorf("to try: %q, not %s", try, c.Candidates[2].Name)
	}
	for i := range c.Candidates {
		if i > 0 {
			c.Candidates[i].Cautions = least + 1
		}
	}
	if try := says(); try != "" {
		t.Errorf("worse is to be tried: %q", try)
	}
}
