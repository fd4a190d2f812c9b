package text

import (
	"encoding/json"
	"testing"
)

// A text reads back from JSON as it was, and nothing in it steers a screen.
func TestJSON(t *testing.T) {
	for in, want := range map[string]string{
		"Coat & <b>":         `"Coat & <b>"`,
		"\u202eCoat\u2069":   `"\u202eCoat\u2069"`,
		"a\u009b31m\x7f":     `"a\u009b31m\u007f"`,
		"\u200b\ufeff\u00ad": `"\u200b\ufeff\u00ad"`,
		"\U000e0041":         `"\udb40\udc41"`,
		"ä½\u200d🧵":          "\"ä½\u200d🧵\"",
		"\x1b\n\"":           `"\u001b\n\""`,
	} {
		got, err := JSON(in)
		if err != nil || string(got) != want+"\n" {
			t.Errorf("%q: %s, %v; want %s", in, got, err, want)
		}
		var back string
		if err := json.Unmarshal(got, &back); err != nil || back != in {
			t.Errorf("%q reads back as %q, %v", in, back, err)
		}
	}
	if _, err := JSON(func() {}); err == nil {
		t.Error("a function is written")
	}
}
