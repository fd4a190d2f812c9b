package spacing_test

import (
	"fmt"

	"placketeer/catalog/measure"
	"placketeer/spacing"
)

// A front of 26 in with six buttons, marked in eighths. A button must lie
// within 1/2 in of the bust line and none under the belt.
func ExampleSolve() {
	eighth := measure.Inch / 8
	p := spacing.Problem{
		Run: 208 * eighth, Step: eighth,
		First: spacing.At(5 * eighth), Last: spacing.At(176 * eighth),
		CountMin: 6, CountMax: 6,
		Anchors: []spacing.Anchor{{Name: "bust", At: 64 * eighth, Within: 4 * eighth}},
		Clear:   []spacing.Zone{{Name: "belt", From: 112 * eighth, To: 124 * eighth}},
	}
	l, err := spacing.Solve(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, at := range l.Positions {
		fmt.Print(int64(at/eighth), " ")
	}
	fmt.Println("eighths of an inch; spread", l.Spread.In(), "in")

	p.Gap.Max = 34 * eighth
	_, err = spacing.Solve(p)
	fmt.Println(err)
	// Output:
	// 5 37 68 104 140 176 eighths of an inch; spread 0.625 in
	// first, last, count and gap.max cannot hold together
}
