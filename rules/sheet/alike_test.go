package sheet

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"placketeer/rules/work"
)

// What a thread is for is told in the same words on the page and on the list.
func TestThreadIsForTheSameOnBoth(t *testing.T) {
	files, err := filepath.Glob("../../testdata/worked/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	told := regexp.MustCompile(`For ([a-z, ]+)\.`)
	n := 0
	for _, f := range files {
		if strings.HasSuffix(f, ".want.toml") {
			continue
		}
		p := planned(t, f)
		var list []string
		for _, task := range work.Order(p, "") {
			list = append(list, task.Do)
		}
		said := strings.Join(list, "\n")
		g := prepare(p, Options{})
		for i := range g.Buy.Thread {
			says := told.FindStringSubmatch(g.threadSays(&g.Buy.Thread[i]))
			if says == nil {
				t.Fatalf("%s: %q", f, g.threadSays(&g.Buy.Thread[i]))
			}
			if n++; !strings.Contains(said, "Thread for "+says[1]+":") && !strings.Contains(said, "Gimp for the "+says[1]) {
				t.Errorf("%s: no thread for %q in\n%s", f, says[1], said)
			}
		}
	}
	if n < 10 {
		t.Errorf("%d threads", n)
	}
}
