package guide

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
	"github.com/rivo/uniseg"
	"pgregory.net/rapid"
)

// A run of 100 mm on eleven lines has a line for every 10 mm, so that the
// strip can be worked out by hand.
const handRun = `garment = "Strip"
units = "mm"
[cloth.shell]
use = "melton"
[[closure]]
name = "tab"
where = "front"
use = "horn-24"
over = ["shell", "shell"]
%s
[closure.run]
length = 100
first = 20
last = 10
step = 10
%s
`

func TestStrip(t *testing.T) {
	single := fmt.Sprintf(handRun, "", `count = 3
anchor = [{ name = "bust", at = 55, within = 10 }]
clear = [{ name = "seam", from = 34, to = 36 }, { name = "belt", from = 65, to = 75 }]`)
	double := fmt.Sprintf(handRun, `lap = "double"`, `count = 2
[closure.rows]
distance = 60
working = 1`)
	for _, c := range []struct {
		name, toml string
		o          StripOptions
		want       string
	}{
		// 20, 50 or 60, 90 with an anchor at 55 ± 10: the even place, 55, is
		// not a multiple of 10, and of the two as good the upper one is taken.
		{"ascii", single, StripOptions{Height: 11}, `
     0  +   neck edge
        |
 20 mm  o
        |
        | # seam: clear from 34 mm to 36 mm
 50 mm  o '
        | < bust at 55 mm, within 10 mm
        | # belt: clear from 65 mm to 75 mm
        |
 90 mm  o
100 mm  +   hem`},
		{"utf8", single, StripOptions{UTF8: true, Height: 11}, `
     0  ┬   neck edge
        │
 20 mm  ●
        │
        │ ▒ seam: clear from 34 mm to 36 mm
 50 mm  ● ┊
        │ ◂ bust at 55 mm, within 10 mm
        │ ▒ belt: clear from 65 mm to 75 mm
        │
 90 mm  ●
100 mm  ┴   hem`},
		{"double", double, StripOptions{Height: 11}, `
     0  +++++   neck edge
          |
 20 mm  x | x   for show
          |
          |
          |
          |
          |
          |
 90 mm  x | o
100 mm  +++++   hem`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Strip(read(t, c.toml), 0, 0, c.o)
			want := strings.Split(strings.TrimPrefix(c.want, "\n"), "\n")
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// The ends have lines of their own beside a centre that lies near one, on
// however few lines the run is drawn.
func TestStripEnds(t *testing.T) {
	single := fmt.Sprintf(handRun, "", "count = 3")
	single = strings.NewReplacer("first = 20", "first = 4", "last = 10", "last = 4").Replace(single)
	if !strings.Contains(single, "first = 4") || !strings.Contains(single, "last = 4") {
		t.Fatal(single)
	}
	got := Strip(read(t, single), 0, 0, StripOptions{Height: 7})
	for i, want := range map[int]string{0: "0  +   neck edge", 1: "4 mm  o", len(got) - 2: "96 mm  o", len(got) - 1: "100 mm  +   hem"} {
		if s := strings.TrimSpace(got[i]); s != want {
			t.Errorf("line %d is %q, want %q", i, s, want)
		}
	}
}

// TestStripWidth: never over 80 columns, plain where a plain terminal is
// asked for, one line a centre where the height is left free.
func TestStripWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringOfN(rapid.RuneFrom([]rune("ab 日本é👩‍🔧ñ")), 1, 30, 70).Draw(t, "name")
		if name = strings.TrimSpace(name); name == "" {
			name = "x"
		}
		p := readRapid(t, fmt.Sprintf(handRun, "", fmt.Sprintf("count = 3\nanchor = [{ name = %q, at = 50, within = 30 }, { name = %q, at = 50, within = 30 }]", name, name+"2")))
		o := StripOptions{UTF8: rapid.Bool().Draw(t, "utf8"), Height: rapid.SampledFrom([]int{0, 3, 5, 40, 1000}).Draw(t, "height")}
		lines := Strip(p, 0, 0, o)
		if len(lines) < 3 || len(lines) > 200 {
			t.Fatalf("%d lines", len(lines))
		}
		centres := 0
		for _, l := range lines {
			if w := uniseg.StringWidth(l); w > 80 {
				t.Fatalf("%d columns: %q", w, l)
			}
			for _, r := range l {
				if !o.UTF8 && r > 0x7e {
					t.Fatalf("not ASCII: %q", l)
				}
			}
			if strings.Contains(l, "  o") || strings.Contains(l, "●") {
				centres++
			}
		}
		if o.Height == 0 && centres != 3 {
			t.Fatalf("%d centres on lines of their own, want 3:\n%s", centres, strings.Join(lines, "\n"))
		}
	})
}

func TestStripNothing(t *testing.T) {
	// Two centres cannot both be first and last and lie in one place.
	p := read(t, fmt.Sprintf(handRun, "", "count = 3\nclear = [{ name = \"all\", from = 0, to = 100 }]"))
	if got := Strip(p, 0, 0, StripOptions{}); got != nil {
		t.Errorf("a run without a layout is drawn: %q", got)
	}
}

// TestStripOfPieces: the strip has every place of a closure on its piece, as
// far below the top, with as many marks as it has fasteners, holes or loops.
func TestStripOfPieces(t *testing.T) {
	for _, file := range garments(t) {
		p := planned(t, file)
		for i := range p.Closures {
			for size := range p.Closures[i].Sizes {
				pc, _ := carrier(p, i, size)
				lines := Strip(p, i, size, StripOptions{UTF8: true, Height: 200})
				if pc == nil {
					if lines != nil {
						t.Errorf("%s: %s has no places and a strip", file, p.Closures[i].Closure.Name)
					}
					continue
				}
				var left []string
				marks := 0
				for _, l := range lines {
					at, _, _ := strings.Cut(l, "  ")
					left = append(left, strings.Split(strings.TrimSpace(at), ", ")...)
					marks += strings.Count(l, "●") + strings.Count(l, "○")
				}
				spots := map[plan.Point]bool{}
				for j := range pc.Parts {
					q := &pc.Parts[j]
					if int(q.Closure) != i || !numbered(q) {
						continue
					}
					spots[q.Centre] = true
					if want := q.Centre.At.ShortPlace(p.Garment.Units); !slices.ContainsFunc(lines, func(l string) bool { return strings.Contains(l, want+"  ") }) {
						t.Errorf("%s: %s has no place %q on its strip: %q", file, p.Closures[i].Closure.Name, want, left)
					}
				}
				if marks != len(spots) {
					t.Errorf("%s: %s has %d marks on its strip, want %d", file, p.Closures[i].Closure.Name, marks, len(spots))
				}
			}
		}
	}
}
