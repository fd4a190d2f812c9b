package desk

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"placketeer/catalog"
)

// Whatever is answered: the interview ends, prints nothing that steers a
// screen, and what it writes is a garment file that can be planned.
func FuzzInterview(f *testing.F) {
	f.Add("winter coat for me\n18 oz/yd2 melton\n45L\n24 in\n6\nend\n")
	f.Add("anorak for a child of 6\nfleece\nzip\na\nS 45 cm, M 47 cm\n19 mm\nnone\n\neu\n28 mm, 7 mm\n")
	f.Add("vest\ndenim\nsnaps\nb\n60cm\nevery 9 cm\n2 mm a layer\nhair canvas\nfly\nhand\n,5 mm\n")
	f.Add("back\nx\x1b[2J\nmelton\nback\nchoose\n1/0 in\n9999999 in\n\u202e\n-1\nnan\n0\n")
	f.Add("\"\"\"\nmelton\nbutton \" #\n24 in\n0\n5 to 2\n999999999999\nend\n")
	f.Fuzz(func(t *testing.T, answers string) {
		out := filepath.Join(t.TempDir(), "it.toml")
		var shown, wrong bytes.Buffer
		code := run([]string{Program, "start", "--ask", "--out", out}, world{strings.NewReader(answers), &shown, &wrong, func(string) string { return "" }})
		for _, r := range shown.String() + wrong.String() {
			if r != '\n' && (unicode.IsControl(r) || r >= 0x202a && r <= 0x202e) {
				t.Fatalf("%q: prints %q", answers, r)
			}
		}
		_, err := os.Stat(out)
		if there := err == nil; there != (code == ExitOK) {
			t.Fatalf("%q: exit %d, written %v\n%s%s", answers, code, there, shown.String(), wrong.String())
		}
		if code == ExitOK {
			if _, err := catalog.Load(out, catalog.Options{}); err != nil {
				t.Fatalf("%q: %v", answers, err)
			}
		}
	})
}
