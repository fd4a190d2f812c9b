package text

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	keys := []string{"diameter", "thickness", "shape", "girth", "holes", "shank", "stand", "strip", "extension", "turn_under", "use", "over", "under", "run"}
	for _, tt := range []struct {
		word  string
		words []string
		want  string
	}{
		{"diametre", keys, "diameter"},
		{"diamter", keys, "diameter"},
		{"diamaeter", keys, "diameter"},
		{"thickenss", keys, "thickness"},
		{"turn-under", keys, "turn_under"},
		{"Stand", keys, "stand"},
		{"DIAMETER", keys, "diameter"},
		{"stnad", keys, "stand"},
		{"shap", keys, "shape"},
		{"rum", keys, "run"},
		{"colour", keys, ""},
		{"buttonhole", keys, ""},
		{"x", keys, ""},
		{"", keys, ""},
		{"use", nil, ""},
		{"mn", []string{"mm", "in"}, "mm"}, // both one slip off: the one that begins alike
		{"xm", []string{"mm", "cm"}, "mm"}, // neither begins alike: the earlier
		{"xy", []string{"mm", "in"}, ""},   // two slips in two letters
		{"m", []string{"mm"}, "mm"},
		{"a", []string{"b"}, ""},
		{"größse", []string{"größe"}, "größe"}, // letters, not bytes
		{"ab", []string{"", "ab"}, "ab"},
		{"horn-44", []string{"horn-24", "horn-40", "horn-45"}, "horn-45"}, // all one slip off: the number nearest
		{strings.Repeat("a", 65), []string{strings.Repeat("a", 64)}, ""},
	} {
		if got := Nearest(tt.word, tt.words); got != tt.want {
			t.Errorf("Nearest(%q) = %q, want %q", tt.word, got, tt.want)
		}
	}
}

// slowSlips is the distance by its definition.
func slowSlips(a, b []rune) int {
	if len(a) == 0 || len(b) == 0 {
		return len(a) + len(b)
	}
	cost := 1
	if a[0] == b[0] {
		cost = 0
	}
	d := min(slowSlips(a[1:], b)+1, slowSlips(a, b[1:])+1, slowSlips(a[1:], b[1:])+cost)
	if len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] {
		d = min(d, slowSlips(a[2:], b[2:])+1)
	}
	return d
}

func TestSlips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringOfN(rapid.RuneFrom([]rune("abcé")), 0, 6, -1)
		a, b := []rune(word.Draw(t, "a")), []rune(word.Draw(t, "b"))
		var rows [3][65]int
		if got, want := slips(a, b, &rows), slowSlips(a, b); got != want {
			t.Fatalf("%q to %q: %d slips, want %d", string(a), string(b), got, want)
		}
	})
}
