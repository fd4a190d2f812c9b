package sheet

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

// Each interfacing is cut for the size that needs most of it, and the table
// says which that is.
func TestStripsSayTheirSize(t *testing.T) {
	g, err := catalog.Read("coat.toml", []byte(`garment = "Slip coat (invented)"
units = "mm"
[sizes]
names = ["S", "L"]
[cloth.shell]
use = "melton"
[interfacing.canvas]
use = "hair-canvas"
[interfacing.silesia]
use = "silesia"
[[closure]]
name = "front"
use = "horn-36"
over = ["shell", "canvas", "shell"]
[closure.run]
length = { S = 600, L = 670 }
count = 5
[[closure]]
name = "sleeve"
where = "cuff"
use = "horn-24"
over = ["shell", "silesia", "shell"]
[closure.run]
length = 130
count = 4
`), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text := specified(t, []*rules.Planned{rules.Plan(g)}, Options{Format: "text"})
	_, text, _ = strings.Cut(text, "Strips and patches")
	text, _, _ = strings.Cut(text, "Thread for")
	if !strings.Contains(text, "670 mm  hair-canvas") || strings.Contains(text, "garment, size S") {
		t.Errorf("670 mm is the length of size L:\n%s", text)
	}
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "front ") && !strings.HasSuffix(strings.TrimSpace(line), "L") {
			t.Errorf("%q does not say that it is for size L", line)
		}
	}
}
