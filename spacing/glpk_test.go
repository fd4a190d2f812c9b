package spacing

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// program writes p, in few and small numbers, as a mixed integer program in
// the CPLEX LP format: find the smallest spread. The count must be fixed.
func program(p Problem) string {
	var rows, bounds, whole, binary strings.Builder
	n, far := p.CountMin, 4*int(p.Run)
	row := func(format string, args ...any) { fmt.Fprintf(&rows, " "+format+"\n", args...) }
	end := func(i int, w Window) {
		fmt.Fprintf(&bounds, " %d <= p%d <= %d\n", max(w.Min, 0), i, min(w.Max, p.Run))
	}
	for i := range n {
		switch {
		case i == 0:
			end(i, p.First)
		case i == n-1:
			end(i, p.Last)
		default:
			end(i, Window{0, p.Run})
		}
		if !(i == 0 && p.First.Fixed() || i == n-1 && p.Last.Fixed()) {
			row("p%d - %d k%d = 0", i, p.Step, i)
			fmt.Fprintf(&whole, " k%d", i)
		}
		if p.Repeat > 0 {
			row("p%d - %d r%d - phase = 0", i, p.Repeat, i)
			fmt.Fprintf(&whole, " r%d", i)
		}
		if i > 0 {
			gap := fmt.Sprintf("p%d - p%d", i, i-1)
			row("%s >= %d", gap, max(p.Gap.Min, 1))
			if p.Gap.Max > 0 {
				row("%s <= %d", gap, p.Gap.Max)
			}
			row("%s - lo >= 0", gap)
			row("%s - hi <= 0", gap)
		}
		for j, z := range p.Clear {
			row("p%d - %d z%d_%d <= %d", i, far, i, j, z.From)
			row("p%d - %d z%d_%d >= %d", i, far, i, j, int(z.To)-far)
			fmt.Fprintf(&binary, " z%d_%d", i, j)
		}
		for j, a := range p.Anchors {
			row("p%d - %d a%d_%d >= %d", i, far, i, j, int(a.At-a.Within)-far)
			row("p%d + %d a%d_%d <= %d", i, far, i, j, int(a.At+a.Within)+far)
			fmt.Fprintf(&binary, " a%d_%d", i, j)
		}
	}
	for j := range p.Anchors {
		var sum []string
		for i := range n {
			sum = append(sum, fmt.Sprintf("a%d_%d", i, j))
		}
		row("%s >= 1", strings.Join(sum, " + "))
	}
	if p.Repeat > 0 {
		lo, hi := 0, int(p.Repeat)-1
		if p.HasPhase {
			lo, hi = int(p.Phase), int(p.Phase)
		}
		fmt.Fprintf(&bounds, " %d <= phase <= %d\n", lo, hi)
		fmt.Fprintf(&whole, " phase")
	}
	lp := "Minimize\n spread: hi - lo\nSubject To\n" + rows.String() + "Bounds\n" + bounds.String()
	if whole.Len() > 0 {
		lp += "General\n" + whole.String() + "\n"
	}
	if binary.Len() > 0 {
		lp += "Binary\n" + binary.String() + "\n"
	}
	return lp + "End\n"
}

// errNoTime is the answer of a program stopped by its time limit.
var errNoTime = errors.New("out of time")

// glpsol solves a program: the least spread, or no layout.
func glpsol(t *testing.T, lp string) (spread int, ok bool, err error) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "spacing.lp"), filepath.Join(dir, "spacing.sol")
	if err := os.WriteFile(in, []byte(lp), 0o600); err != nil {
		t.Fatal(err)
	}
	log, err := exec.Command("glpsol", "--lp", in, "--tmlim", "2", "-w", out).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s\n%s", err, log, lp)
	}
	if strings.Contains(string(log), "NO PRIMAL FEASIBLE") || strings.Contains(string(log), "NO INTEGER FEASIBLE") {
		return 0, false, nil
	}
	sol, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(sol)) {
		var rows, cols int
		var status string
		var value float64
		if _, err := fmt.Sscanf(line, "s mip %d %d %s %g", &rows, &cols, &status, &value); err == nil && status == "o" {
			return int(value + 0.5), true, nil
		} else if err == nil && status == "n" {
			return 0, false, nil
		}
	}
	return 0, false, errNoTime
}

// TestGLPKAgrees asks another solver, GLPK's glpsol, whether there is a layout
// and what its smallest spread is.
func TestGLPKAgrees(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("glpsol is missing; Debian has it as glpk-utils")
		}
		t.Skip("glpsol is missing; Debian has it as glpk-utils")
	}
	inEighths := typical()
	for _, l := range []*length{
		&inEighths.Run, &inEighths.Step, &inEighths.First.Min, &inEighths.First.Max, &inEighths.Last.Min, &inEighths.Last.Max,
		&inEighths.Anchors[0].At, &inEighths.Anchors[0].Within, &inEighths.Clear[0].From, &inEighths.Clear[0].To,
	} {
		*l /= eighths(1)
	}
	problems := []Problem{inEighths}

	r := rand.New(rand.NewPCG(26, 6))
	num := func(lo, hi int) length { return length(lo + r.IntN(hi-lo+1)) }
	for len(problems) < 60 {
		large := len(problems)%4 == 0
		p := Problem{Run: num(40, 160), Step: num(1, 4)}
		if large {
			p.Run = num(200, 400)
		}
		p.First, p.Last = At(num(1, 8)), At(p.Run-num(1, 12))
		if num(1, 4) == 1 {
			p.First = Window{p.First.Min, p.First.Min + num(1, 9)}
		}
		if num(1, 4) == 1 {
			p.Last = Window{p.Last.Min - num(1, 9), p.Last.Min}
		}
		p.CountMin = int(num(3, 8))
		if large {
			p.CountMin = int(num(8, 12))
		}
		p.CountMax = p.CountMin
		if num(1, 3) == 1 {
			p.Gap.Max = p.Run/length(p.CountMin) + num(0, 12)
		}
		if num(1, 3) == 1 {
			p.Gap.Min = p.Run/length(p.CountMin) - num(2, 9)
		}
		for i := range num(0, 2) {
			p.Anchors = append(p.Anchors, Anchor{fmt.Sprint("a", i), num(10, int(p.Run)-10), num(0, 6)})
		}
		for i := range num(0, 2) {
			from := num(5, int(p.Run)-15)
			p.Clear = append(p.Clear, Zone{fmt.Sprint("z", i), from, from + num(3, 14)})
		}
		if num(1, 6) == 1 {
			p.Repeat, p.HasPhase = num(2, 9), num(0, 1) == 1
			if p.HasPhase {
				p.Phase = p.First.Min % p.Repeat
			}
		}
		problems = append(problems, p)
	}
	agreed, layouts := 0, 0
	for _, p := range problems {
		spread, ok, err := glpsol(t, program(p))
		if err != nil {
			continue
		}
		l, err := Solve(p)
		switch {
		case ok && err != nil:
			t.Errorf("glpsol finds a spread of %d, Solve %v: %+v", spread, err, p)
		case !ok && err == nil:
			t.Errorf("glpsol finds no layout, Solve %v: %+v", l, p)
		case ok && spread != int(l.Spread):
			t.Errorf("glpsol finds a spread of %d, Solve %d: %+v", spread, l.Spread, p)
		default:
			agreed++
			if ok {
				layouts++
			}
		}
	}
	t.Logf("glpsol settled and agreed on %d of %d, %d with a layout", agreed, len(problems), layouts)
	if agreed < 40 || layouts < 20 {
		t.Error("too few for the test to mean much")
	}

	// The same with an open count: glpsol finds the least spread of every
	// count, and the words of Problem.CountMin choose among them.
	chosen, over := 0, 0
	for _, p := range problems {
		if p.Run > 120 {
			continue
		}
		p.CountMin, p.CountMax, p.EvenWithin = max(p.CountMin-2, 2), p.CountMin+1, num(1, 4)
		want, spread, even, first := 0, 0, false, 0
		counts, _, _ := wished(p)
		settled := true
		for _, n := range counts {
			q := p
			q.CountMin, q.CountMax = n, n
			s, ok, err := glpsol(t, program(q))
			if settled = settled && err == nil; !ok {
				continue
			}
			if first == 0 {
				first = n
			}
			isEven := bruteEven(p, length(s))
			if want == 0 || isEven && !even || !isEven && !even && s < spread {
				want, spread, even = n, s, isEven
			}
		}
		if !settled {
			continue
		}
		l, err := Solve(p)
		if (err == nil) != (want > 0) || l.Count() != want || int(l.Spread) != spread || err == nil && l.Even != even {
			t.Errorf("by glpsol %d with a spread of %d, Solve %d with %d, %v: %+v", want, spread, l.Count(), l.Spread, err, p)
		}
		if chosen++; want != first {
			over++
		}
	}
	t.Logf("glpsol settled the counts of %d, %d of them not the nearest the wish", chosen, over)
	if chosen < 20 || over < 5 {
		t.Error("too few for the test to mean much")
	}
	if l, err := Solve(inEighths); err != nil || l.Spread != 5 {
		t.Errorf("the typical run: %v, %v; its smallest spread is 5 eighths", l, err)
	}
}
