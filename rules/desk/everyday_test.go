package desk

import (
	"path/filepath"
	"strings"
	"testing"

	"placketeer/catalog"
)

// What people say when they are asked: hedged, in words, with a comma, in the
// wrong order, not knowing. Each answer is put to its question, and the file has
// it; what is expected is what the words mean (arithmetic, common practice).
func TestEverydayAnswers(t *testing.T) {
	before := map[string][]string{
		"cloth":       {"coat"},
		"fastener":    {"coat", "melton"},
		"length":      {"coat", "melton", "45L"},
		"count":       {"coat", "melton", "45L", "24 in"},
		"thickness":   {"coat", "melton", "45L", "24 in", "6"},
		"interfacing": {"coat", "melton", "45L", "24 in", "6", ""},
		"edge":        {"coat", "melton", "45L", "24 in", "6", "", ""},
		"hole":        {"coat", "melton", "45L", "24 in", "6", "", "", ""},
		"machine":     {"coat", "melton", "45L", "24 in", "6", "", "", "", ""},
	}
	before["columns"] = []string{"Double breasted coat", "melton", "45L", "24 in", "6"}
	before["repeat"] = []string{"coat", "plaid", "45L", "24 in", "6"}
	before["foot"] = []string{"coat", "melton", "toggle-horn-50", "24 in", "4", "", "", ""}
	needed := []string{"coat", "melton", "45L", "24 in", "6"}
	for _, c := range []struct{ key, answer, want string }{
		{"what", "winter coat for my husband", `cut_for = "men"`},
		{"what", "A rain jacket for my daughter, 6 years old", `cut_for = "women"`},
		{"what", "A long coat, for the shop", `garment = "Long coat, for the shop"`},
		{"cloth", "boiled wool, thick|", `use = "boiled-wool"`},
		{"cloth", "boiled wool, thick|yes", `use = "boiled-wool"`},
		{"cloth", "melton 620 g/m2", `weight = "620 g/m2"`},
		{"cloth", "melton, about 600g", `weight = "600 g/m2"`},
		{"cloth", "620gsm melton", `weight = "620 g/m2"`},
		{"cloth", "don't know|a", `use = "melton"`},
		{"cloth", "I have no idea|b", `use = "`},
		{"cloth", "thick wool coating|a", `use = "melton"`},
		{"fastener", "button, about 1 1/8\"", `diameter = "1 1/8 in"`},
		{"fastener", "a button of about 2,8 cm", `diameter = "28 mm"`},
		{"fastener", "horn buttons, 1 1/8 inch", `diameter = "1 1/8 in"`},
		{"fastener", "1 inch button", `diameter = "1 in"`},
		{"fastener", "a one inch button", `diameter = "1 in"`},
		{"fastener", "big horn buttons|a", `use   = "horn-`},
		{"fastener", "wooden toggles, 6 cm long", `use = "toggle-wood-60"`},
		{"fastener", "4 wooden toggles, 60 mm", `use = "toggle-wood-60"`},
		{"fastener", "wooden toggles 6.5 cm|b", `length = "65 mm"`},
		{"fastener", "four 2 3/8 inch horn toggles", `use = "toggle-horn-60"`},
		{"fastener", "a zip with snaps over it", `behind = "snaps"`},
		{"fastener", "snaps and a zipper", `[closure.flap]`},
		{"fastener", "don't know", `use   = "horn-`},
		{"fastener", "dunno", `use   = "horn-`},
		{"length", "about 38 inches", `length = "38 in"`},
		{"length", "61,5 cm", `length = "615 mm"`},
		{"length", "abt 24\"", `length = "24 in"`},
		{"length", "roughly 24 and a half inches", `length = "24 1/2 in"`},
		{"length", "S 60,5 cm, M 62 cm", `length = { S = "605 mm", M = "620 mm" }`},
		{"length", "S about 23 in, M about 24 in", `length = { S = "23 in", M = "24 in" }`},
		{"count", "six", "count = 6"},
		{"count", "about 6", "count = 6"},
		{"count", "abt 5", "count = 5"},
		{"count", "half a dozen", "count = 6"},
		{"count", "five or six", "count = { min = 5, max = 6 }"},
		{"count", "between 5 and 7", "count = { min = 5, max = 7 }"},
		{"count", "don't know", "gap = "},
		{"count", "every four inches", `min = "3.2 in"`},
		{"thickness", "about 3/8 of an inch", `thickness = "1.19`},
		{"thickness", "folded in eight it is 3 cm", `thickness = "3.75 mm"`},
		{"thickness", "8 layers are 24 mm", `thickness = "3 mm"`},
		{"thickness", "one layer is 3 mm", `thickness = "3 mm"`},
		{"thickness", "3/4 of an inch", `thickness = "2.38`},
		{"thickness", "half an inch", `thickness = "1.5875 mm"`},
		{"thickness", "1,9 cm", `thickness = "2.375 mm"`},
		{"thickness", "not sure", `use = "melton"`},
		{"interfacing", "dont know", `over = ["shell", "shell"]`},
		{"edge", "normal", `construction = "faced"`},
		{"edge", "with a facing", `construction = "faced"`},
		{"edge", "i don't know", `construction = "faced"`},
		{"hole", "keyholes", `hole = "keyhole"`},
		{"hole", "key hole", `hole = "keyhole"`},
		{"hole", "by hand", `hole = "hand"`},
		{"hole", "bound buttonholes", `hole = "bound"`},
		{"columns", "3 in", `distance = "3 in"`},
		{"columns", "about 7,5 cm", `distance = "75 mm"`},
		{"columns", "don't know", `distance = "2 3/4 in"`}, // 6 to 8 cm are usual
		{"columns", "", `distance = "2 3/4 in"`},
		{"repeat", "8 cm, 6 cm", `repeat = { along = "80 mm", across = "60 mm" }`},
		{"repeat", "about 3 and a half inches", `repeat = { along = "3 1/2 in" }`},
		{"repeat", "no idea", `use = "coating-check"`},
		{"machine", "i dont know", `use = "melton"`},
		{"machine", "about 28 mm", `buttonhole_max = "28 mm"`},
		{"foot", "about 7 mm", `foot_lift = "7 mm"`},
		{"foot", "28 mm, 7 mm", `foot_lift = "7 mm"`},
		{"machine", "2,8 cm, 6 mm", `foot_lift = "6 mm"`},
	} {
		lines := append(append([]string{}, before[c.key]...), strings.Split(c.answer, "|")...)
		if n := len(before[c.key]) + 1; n < len(needed) {
			lines = append(lines, needed[n:]...)
		}
		out := filepath.Join(t.TempDir(), "it.toml")
		code, said, wrong := converse(strings.NewReader(strings.Join(lines, "\n")+"\nend\n"), "start", "--ask", "--out", out)
		g, err := catalog.Load(out, catalog.Options{})
		if code != ExitOK || err != nil {
			t.Errorf("%s, %q: %d %v\n%s%s", c.key, c.answer, code, err, said, wrong)
			continue
		}
		// Keys are laid out in columns.
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), " ") }
		if !strings.Contains(squeeze(g.Text()), squeeze(c.want)) {
			t.Errorf("%s, %q: no %s in\n%s", c.key, c.answer, c.want, g.Text())
		}
	}
}

// A country is a market: the states of the European Union are listed on its own
// pages, 2024; others are asked for again.
func TestMarketOfACountry(t *testing.T) {
	for said, want := range map[string]string{"Germany": "eu", "in the Netherlands": "eu", "Europe": "eu", "EU": "EU", "USA": "us", "the United States": "us", "Norway": "Norway", "": ""} {
		if got := marketOf(said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
	if len(members) != 27+2 { // two are called in two ways
		t.Errorf("%d names of 27 states", len(members))
	}
}

// What can be no answer is asked again, with what would be one.
func TestAnswersThatCannotBe(t *testing.T) {
	for _, c := range []struct{ sofar, answer, says string }{
		{"coat|melton|45L", `1 1/8 in`, "The front of what is it?"},
		{"coat|melton|45L", `120 in`, "The front of what is it?"},
		{"coat|melton|45L", "big horn buttons", `"big horn buttons" is no length`},
		{"coat|melton|45L", "don't know", "Measured along the centre line"},
		{"coat for a child|melton|45L|24 in|6||||", "uk", "write us or eu"},
		{"coat for a child|melton|toggle|a|24 in|4|||", "5 fingers", "is not one of them"},
		{"coat|melton|45L|24 in", `39 1/2"`, "is more than the front is long"},
		{"coat|melton|45L", "button 28", "is no length"},
		{"coat|melton", "zip and toggles", "One of them at a time"},
	} {
		lines := append(strings.Split(c.sofar, "|"), c.answer, "stop")
		_, said, wrong := converse(strings.NewReader(strings.Join(lines, "\n")+"\n"), "start", "--ask", "--out", filepath.Join(t.TempDir(), "it.toml"))
		if !strings.Contains(strings.Join(strings.Fields(said), " "), c.says) || !strings.Contains(wrong, "stopped") {
			t.Errorf("%q: no %q: %s%s", c.answer, c.says, said, wrong)
		}
	}
}
