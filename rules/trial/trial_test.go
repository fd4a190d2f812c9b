package trial

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"

	"placketeer/catalog"
)

// Lengths are to 0.1 mm, or to the sixteenth of an inch below; a sixteenth at least.
func TestLengthsThatAreDrawn(t *testing.T) {
	for _, c := range []struct {
		mm     bool
		lo, hi float64
		want   string
	}{
		{true, 25.4, 25.4, `"25.4 mm"`}, {true, 0, 0, `"0.0 mm"`}, {true, 3.14, 3.14, `"3.1 mm"`},
		{false, 25.4, 25.4, `"16/16 in"`}, {false, 30, 30, `"18/16 in"`}, {false, 3.2, 3.2, `"2/16 in"`}, {false, 1.6, 1.6, `"1/16 in"`}, {false, 0, 0, `"1/16 in"`},
	} {
		m := New(1, 1)
		if m.MM = c.mm; m.Length(c.lo, c.hi) != c.want {
			t.Errorf("%+v: %s", c, m.Length(c.lo, c.hi))
		}
	}
	// One size has nothing of its own; of two, six lengths in ten are by size.
	m := New(2, 1)
	for n, want := range map[int]float64{0: 0, 1: 0, 2: 0.6, 3: 0.6} {
		m.MM, m.Sizes = true, []string{"S", "M", "L"}[:n]
		by := 0
		for range 4000 {
			if l := m.Sized(5, 5); strings.HasPrefix(l, "{ S = \"5.0 mm\", M = \"5.0 mm\"") {
				by++
			} else if l != `"5.0 mm"` {
				t.Fatal(l)
			}
		}
		often(t, "lengths by size", by, 4000, want)
	}
	// A chance of 0 is never, of 1 always.
	for range 1000 {
		if m.Chance(0) || !m.Chance(1) {
			t.Fatal("never, or always")
		}
	}
	// Garments of the yard have one of a thousand numbers.
	least, most := 1000, 0
	for range 20_000 {
		m.Begin()
		text := m.String()
		n := 0
		for _, r := range text[strings.Index(text, "coat ")+len("coat "):] {
			if r < '0' || r > '9' {
				break
			}
			n = n*10 + int(r-'0')
		}
		least, most = min(least, n), max(most, n)
	}
	if least != 0 || most != 999 {
		t.Errorf("numbers from %d to %d", least, most)
	}
}

// The same seed is the same garment, another seed or stream another.
func TestSeedsAreGarments(t *testing.T) {
	a, b := New(7, 1).Opening(), New(7, 1).Opening()
	if a != b || a == New(8, 1).Opening() || a == New(7, 2).Opening() {
		t.Error("a garment does not follow from its seed and stream alone")
	}
}

// A toggle's short end is a quarter of it at least and less than half; whole mm.
func TestShortEndsOfToggles(t *testing.T) {
	least, most, n := false, false, 0
	for seed := range uint64(4000) {
		for part := range strings.SplitSeq(New(seed, 5).Opening(), "[closure.notion]\n") {
			var length, width, end int
			if k, _ := fmt.Sscanf(part, "length = \"%d mm\"\nwidth = \"%d mm\"\nthickness = \"12 mm\"\nshort_end = \"%d mm\"", &length, &width, &end); k < 3 {
				continue
			}
			n++
			quarter := length / 4
			if end < quarter || end > 2*quarter-1 {
				t.Fatalf("seed %d: %d of %d", seed, end, length)
			}
			least, most = least || end == quarter, most || end == 2*quarter-1
		}
	}
	if !least || !most {
		t.Errorf("of %d the least %v, the most %v", n, least, most)
	}
}

// Nine garments in ten can be read, and have one to four closures; the others are
// what a user may write by mistake, such as a flap on a pocket.
func TestMostGarmentsAreRead(t *testing.T) {
	read, closures := 0, map[int]int{}
	for seed := range uint64(400) {
		g, err := catalog.Read("coat.toml", []byte(New(seed, 3).Opening()), catalog.Options{})
		if err != nil {
			continue
		}
		read++
		closures[len(g.Closures)]++
	}
	if read < 360 || closures[1] == 0 || closures[2] == 0 || closures[3] == 0 || closures[0] > 0 {
		t.Errorf("%d of 400, closures %v", read, closures)
	}
	if g := Load(t, filepath.Join("..", "..", "testdata", "garments", "watch-coat.toml"), "closure.front.run.count=3"); g.Closures[0].Run.CountAt(0).Max != 3 {
		t.Errorf("%+v", g.Closures[0].Run)
	}
	m := New(1, 3)
	m.Begin()
	m.Add("[cloth.shell]\nweight = \"300 g/m2\"\n[[closure]]\nname = \"front\"\nfastener = \"button\"\nover = [\"shell\"]\n[closure.notion]\ndiameter = \"20 mm\"\nthickness = \"3 mm\"\n[closure.run]\nlength = \"600 mm\"")
	if g := Read(t, m.String(), "closure.front.run.count=4"); g.Closures[0].Run.CountAt(0).Max != 4 {
		t.Errorf("%+v", g.Closures[0].Run)
	}
}

// Each looks at every seed once.
func TestEachSeedOnce(t *testing.T) {
	for _, n := range []uint64{0, 1, 2, 100} {
		var lock sync.Mutex
		var seen []uint64
		Each(n, func(seed uint64) {
			lock.Lock()
			defer lock.Unlock()
			seen = append(seen, seed)
		})
		slices.Sort(seen)
		want := make([]uint64, n)
		for i := range want {
			want[i] = uint64(i)
		}
		if !slices.Equal(seen, want) {
			t.Errorf("of %d: %v", n, seen)
		}
	}
}

// All cases in the long run, else the few; a program is asked for there or in CI.
func TestHowManyAreTried(t *testing.T) {
	t.Setenv("CI", "")
	for long, want := range map[string]int{"1": 900, "": 9, "0": 9} {
		t.Setenv("PLACKETEER_LONG", long)
		if got := Many(9, 900); got != want || Long() != (want == 900) {
			t.Errorf("PLACKETEER_LONG=%s: %d", long, got)
		}
		ran := false
		t.Run("go", func(t *testing.T) {
			ran = Program(t, "go", "golang") != ""
		})
		if ran != (want == 900) {
			t.Errorf("PLACKETEER_LONG=%s: the program runs: %v", long, ran)
		}
	}
}

// What is foreign is told with sixty letters before it and thirty behind; what is
// typed back, quoted or named keeps its unit.
func TestForeignUnits(t *testing.T) {
	before, after := strings.Repeat("a", 80), strings.Repeat("b", 80)
	for _, c := range []struct {
		text, unit string
		want       []string
	}{
		{before + " 5 in " + after, "mm", []string{before[:60] + " 5 in " + after[:30]}},
		{"cut 5 in wide", "mm", []string{"cut 5 in wide"}},
		{"cut 5 mm wide, 2 in long", "in", []string{"cut 5 mm wide, 2 in long"}},
		{"cut 5 mm wide", "mm", nil},
		{"cut 5 in the fold", "mm", nil},
		{"cut 5 in S and 6 in M", "mm", nil},
		{"put 2 in all sizes, 3 in wide", "mm", []string{"put 2 in all sizes, 3 in wide"}},
		{"try --with closure.front.run.first='5 in'", "mm", nil},
		{"a needle NM 90 C", "in", nil},
		{"<p>5&nbsp;in</p><p>wide</p>", "mm", []string{"5 in wide"}},
		{"<style>a { margin: 5mm }</style><p>wide</p>", "in", nil},
		{"first = \"5 mm\"\n        ^~~~\nmove it", "in", nil},
	} {
		got := Foreign(c.text, c.unit)
		for i := range got {
			got[i] = strings.TrimSpace(got[i])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%.40q in %s: %q, want %q", c.text, c.unit, got, c.want)
		}
	}
}

// A full disk holds the file as it was given, which nobody may run, and takes so
// many pages more.
func TestFullDisk(t *testing.T) {
	for _, free := range []int64{0, 1, 3} {
		file := FullDisk(t, "coat.toml", "garment = \"Quay coat (invented)\"\n", free)
		text, err := os.ReadFile(file)
		if err != nil || string(text) != "garment = \"Quay coat (invented)\"\n" {
			t.Errorf("%q, %v", text, err)
		}
		if s, err := os.Stat(file); err != nil || s.Mode().Perm()&0o111 != 0 || s.Mode().Perm()&0o600 != 0o600 {
			t.Errorf("%v, %v", s.Mode(), err)
		}
		more, err := os.Create(filepath.Join(filepath.Dir(file), "more"))
		if err != nil {
			t.Fatal(err)
		}
		defer more.Close()
		n := int64(0)
		for err == nil && n < 100 {
			if _, err = more.Write(make([]byte, 4096)); err == nil {
				n++
			}
		}
		if n != free || !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%d pages of %d: %v", n, free, err)
		}
	}
}
