// Package trial is what the tests of several packages share: how many random
// cases they try, the outside programs they are held against, and the random
// garments, all invented. Nothing but tests may import it.
package trial

import (
	"os"
	"os/exec"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
)

// Long says whether the long runs are asked for, as CI does of the packages
// that have some: PLACKETEER_LONG=1. CI=true alone does not, so that the race
// detector keeps to the short set. A test asks, and not the package as it
// begins: only so does go test know that what it has cached is another run.
func Long() bool { return os.Getenv("PLACKETEER_LONG") == "1" }

// Many is how many random cases a test tries: few, no more than 60 garments,
// or all of them in the long run.
func Many(few, all int) int {
	if Long() {
		return all
	}
	return few
}

// Each calls look for every seed below n, on all processors at once: a long
// test that runs alone at the end leaves none idle. look says what it finds
// under a lock of its own.
func Each(n uint64, look func(seed uint64)) {
	var next atomic.Uint64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for seed := next.Add(1) - 1; seed < n; seed = next.Add(1) - 1 {
				look(seed)
			}
		})
	}
	all.Wait()
}

// Program is where a program lies that a test is held against. A test that is
// not asked for is skipped, and one whose program is missing fails in CI.
func Program(t *testing.T, name, in string) string {
	t.Helper()
	if !Long() && os.Getenv("CI") != "true" {
		t.Skipf("runs with CI=true or PLACKETEER_LONG=1: %s", name)
	}
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not there: apt-get install %s", name, in)
		}
		t.Skipf("%s is not there: apt-get install %s", name, in)
	}
	return path
}
