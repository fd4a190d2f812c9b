// Package trial is what the tests of several packages share: how many random
// cases they try, the outside programs they are held against, and the random
// garments, all invented. Nothing but tests may import it.
package trial

import (
	"os"
	"os/exec"
	"testing"
)

// Long says whether the long runs are asked for, as CI does of the packages
// that have some: PLACKETEER_LONG=1. CI=true alone does not, so that the race
// detector keeps to the short set.
var Long = os.Getenv("PLACKETEER_LONG") == "1"

// Many is how many random cases a test tries: few, no more than 60 garments,
// or all of them in the long run.
func Many(few, all int) int {
	if Long {
		return all
	}
	return few
}

// outside says whether the tests that have other programs look at our papers
// are asked for: CI=true or PLACKETEER_LONG=1.
var outside = Long || os.Getenv("CI") == "true"

// Program is where a program lies that a test is held against. A test that is
// not asked for is skipped, and one whose program is missing fails in CI.
func Program(t *testing.T, name, in string) string {
	t.Helper()
	if !outside {
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
