package rules

import (
	"strings"
	"testing"

	"placketeer/catalog"
)

// What the machine cannot sew on is sewn by hand, and the plan says why.
func TestSewnByHand(t *testing.T) {
	flat := "fastener = \"button\"\nover = [\"shell\", \"shell\"]\n%\n[closure.notion]\ndiameter = \"20 mm\"\nthickness = \"4 mm\"\n"
	for _, c := range []struct {
		name, closure, head string
		hand                bool
		why                 string
	}{
		{"holes within the swing, asked for", strings.Replace(flat, "%", "sewn_by = \"machine\"", 1) + "holes = 4\nhole_gap = \"4 mm\"", "", false, ""},
		{"holes within the swing, thin layers", strings.Replace(flat, "%", "thread_shank = \"2 mm\"", 1) + "holes = 4\nhole_gap = \"4 mm\"", "", false, ""},
		{"a long thread shank", strings.Replace(flat, "%", "", 1) + "holes = 4\nhole_gap = \"4 mm\"", "", true, "leaves no shank"},
		{"a backing button", strings.Replace(flat, "%", "thread_shank = \"2 mm\"\nbacking = \"10 mm\"", 1) + "holes = 4\nhole_gap = \"4 mm\"", "", true, "backing button"},
		{"holes outside it", strings.Replace(flat, "%", "thread_shank = \"2 mm\"", 1) + "holes = 4\nhole_gap = \"5 mm\"", "", true, "swing"},
		{"a shank", strings.Replace(flat, "%", "", 1) + "shank = \"6 mm\"", "", true, "shank"},
		{"no button setting", strings.Replace(flat, "%", "thread_shank = \"2 mm\"", 1) + "holes = 4", "machine = { use = \"walking-foot\" }\n", true, "no button setting"},
		{"asked for", strings.Replace(flat, "%", "sewn_by = \"hand\"", 1) + "holes = 4", "", true, ""},
		{"a toggle", "use = \"toggle-wood-50\"\nover = [\"shell\", \"shell\"]", "", true, "holes"},
	} {
		text := strings.Replace(garmentOf("use = \"melton\"", c.closure), "[cloth.shell]", c.head+"[cloth.shell]", 1)
		g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		s := Plan(g).Closures[0].Sewing
		if s.ByHand != c.hand || !strings.Contains(s.HandReason, c.why) || (c.why == "") != (s.HandReason == "") {
			t.Errorf("%s: by hand %v, %q", c.name, s.ByHand, s.HandReason)
		}
	}
}

// Mending guides and IASRI e-course: the thread shank is as long as the layers
// over it are thick, here 4 mm.
func TestPublishedThreadShank(t *testing.T) {
	g, err := catalog.Read("test.toml", []byte(garmentOf("use = \"melton\"\nthickness = \"2 mm\"", "use = \"horn-36\"\nover = [\"shell\", \"shell\"]")), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := Plan(g).Closures[0].Sewing
	near(t, "thread shank", s.ThreadShank, 4*mm, 0)
	if s.ShankMost <= s.ThreadShank {
		t.Error("a little more rather than less")
	}
}
