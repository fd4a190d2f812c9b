package desk

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// updating says whether to write what the program prints into the scripts:
// UPDATE_SCRIPTS=1 go test.
var updating = os.Getenv("UPDATE_SCRIPTS") != ""

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"peak":  peak,
		Program: func() { CollectLate(); EndOnSignal(); os.Exit(Run(os.Args, os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// peak runs the program and says last how much memory it had at most, in kB,
// where the system tells.
func peak() {
	CollectLate()
	Run(os.Args, os.Stdin, os.Stdout, os.Stderr)
	data, _ := os.ReadFile("/proc/self/status")
	_, after, _ := strings.Cut(string(data), "VmHWM:")
	most, _, _ := strings.Cut(after, " kB")
	fmt.Fprint(os.Stderr, "\npeak ", strings.TrimSpace(most))
	os.Exit(0)
}

// TestScripts runs the whole program, as its own process, by the scripts in
// testdata/scripts.
func TestScripts(t *testing.T) {
	garments, err := filepath.Abs("../../testdata/garments")
	if err != nil {
		t.Fatal(err)
	}
	readme, err := filepath.Abs("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		UpdateScripts:       updating,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("GARMENTS", garments)
			e.Setenv("README", readme)
			e.Setenv("LANG", "C.UTF-8")
			e.Setenv("ESC", "\x1b")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits,
			"shows": shows,
		},
	})
}

// exits N COMMAND… runs a command that must end with exactly that code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits N COMMAND…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	code := 0
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		code = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if code != want {
		ts.Fatalf("exit code %d, not %d", code, want)
	}
}

// shows FILE TEXT… looks for texts as they stand, not as patterns.
func shows(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: shows FILE TEXT…")
	}
	text := strings.Join(strings.Fields(ts.ReadFile(args[0])), " ")
	for _, s := range args[1:] {
		if found := strings.Contains(text, strings.Join(strings.Fields(s), " ")); found == neg {
			ts.Fatalf("%s: %q found: %v", args[0], s, found)
		}
	}
}
