package source

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The published suite toml-test (github.com/toml-lang/toml-test), as the
// decoder's module carries it: what is valid must be read with its index
// right, and what is invalid refused with a place in the file.
func TestSuite(t *testing.T) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/BurntSushi/toml").Output()
	dir := filepath.Join(strings.TrimSpace(string(out)), "internal", "toml-test", "tests")
	if err != nil || !isDir(dir) {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the suite is not there: %v %s", err, dir)
		}
		t.Skipf("the suite is not there: %v %s", err, dir)
	}
	// Invalid in TOML 1.0 only, and one date that the decoder lets pass.
	allowed := []string{
		"invalid/datetime/no-secs.toml", "invalid/local-datetime/no-secs.toml", "invalid/local-time/no-secs.toml",
		"invalid/inline-table/linebreak-01.toml", "invalid/inline-table/linebreak-02.toml", "invalid/inline-table/linebreak-03.toml", "invalid/inline-table/linebreak-04.toml",
		"invalid/inline-table/trailing-comma.toml", "invalid/string/basic-byte-escapes.toml",
		"invalid/datetime/offset-overflow-minute.toml",
	}
	count := map[bool]int{}
	err = filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
		name := filepath.ToSlash(strings.TrimPrefix(path, dir+string(filepath.Separator)))
		valid := strings.HasPrefix(name, "valid/")
		if err != nil || !strings.HasSuffix(name, ".toml") || !valid && !strings.HasPrefix(name, "invalid/") {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		count[valid]++
		if valid {
			t.Run(name, func(t *testing.T) { checkIndex(t, string(data)) })
			return nil
		}
		_, err = Parse(name, data)
		switch ps, ok := err.(Problems); {
		case err == nil && !slices.Contains(allowed, name):
			t.Errorf("%s is accepted", name)
		case err != nil && (!ok || ps[0].Pos.Line < 1 || ps[0].Pos.Line > 1+strings.Count(string(data), "\n")):
			t.Errorf("%s: %v", name, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if count[true] < 200 || count[false] < 400 {
		t.Errorf("only %d valid and %d invalid documents", count[true], count[false])
	}
}
