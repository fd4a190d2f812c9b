package spacing

import "testing"

// MaxCount fasteners are taken, and one more is refused.
func TestMostFasteners(t *testing.T) {
	for n, ok := range map[int]bool{MaxCount: true, MaxCount + 1: false} {
		p := Problem{Run: 100 * MaxCount, CountMin: n, CountMax: n, Step: 1, Last: Window{0, 100 * MaxCount}}
		if _, err := Possible(p); (err == nil) != ok {
			t.Errorf("%d: %v", n, err)
		}
	}
}
