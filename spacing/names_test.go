package spacing

import "testing"

// What has no name is printed as such, next to those that have one.
func TestNamesEndWhereTheyEnd(t *testing.T) {
	for w, named := range map[Why]bool{-1: false, 0: true, Why(len(whyNames) - 1): true, Why(len(whyNames)): false} {
		if (w.String() != "?") != named {
			t.Errorf("reason %d: %q", int(w), w.String())
		}
	}
	none := Kind(len(kindNames))
	for k, named := range map[Kind]bool{0: true, none - 1: true, none: false} {
		if s := k.String(); (s != none.String()) != named || s == "" {
			t.Errorf("kind %d: %q", int(k), s)
		}
	}
}
