//go:build !race

package desk

import (
	"bytes"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"placketeer/rules/trial"
)

// Any file within 1 MiB, a guide that is too large to be drawn and a folder
// are answered within 256 MB.
func TestMemoryIsHeld(t *testing.T) {
	const M = 1 << 20
	rep := func(s string) string { return strings.Repeat(s, M/len(s)-64) }
	head := "garment = \"Quay coat\"\nunits = \"mm\"\n"
	run := "[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 600\ncount = 5\n"
	at := files(t, map[string]string{
		"brackets.toml": head + rep("["),
		"tables.toml":   head + rep("[[a]]\n"),
		"one-line.toml": head + "a = [" + rep("1,") + "]\n",
		"name.toml":     strings.Replace(head, "Quay coat", rep("\\u202e"), 1) + run,
		"anchors.toml":  head + run + "anchor = [" + rep(`{name="a",at=1},`) + "]\n",
		"crowd.toml":    crowded(trial.Many(30, 100), 60),
		"own.toml":      rep("[[button]]\nname = \"b\"\nsource = \"x\"\n"),
		"coat.toml":     head + run,
	})
	for _, args := range [][]string{
		{"check", at("brackets.toml")}, {"check", at("tables.toml")}, {"check", at("one-line.toml")}, {"check", at("name.toml")}, {"check", at("anchors.toml")},
		{"check", at("coat.toml"), "--catalog", at("own.toml")},
		{"check", at("crowd.toml")}, {"mark", at("crowd.toml"), "--out", at("x.pdf")}, {"mark", at("crowd.toml"), "--layout", "strip", "--out", at("x.pdf")},
		{"check", demos(t, 60)},
	} {
		var errs bytes.Buffer
		cmd := exec.Command("peak", args...)
		cmd.Stderr = &errs
		if err := cmd.Run(); err != nil {
			t.Fatal(args, err)
		}
		_, said, _ := strings.Cut(errs.String(), "\npeak ")
		kB, err := strconv.Atoi(said)
		if err != nil {
			t.Skip("the system does not tell how much memory was used")
		}
		t.Logf("%v: %d MB", args, kB>>10)
		if kB>>10 > 256 {
			t.Errorf("%v: %d MB", args, kB>>10)
		}
	}
}
