package work

import (
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// demoList is the checklist of a demo garment, a task a text.
func demoList(t *testing.T, folder, name string, with ...string) []string {
	t.Helper()
	p := rules.Plan(trial.Load(t, filepath.Join("..", "..", "testdata", folder, name+".toml"), with...))
	var out []string
	for _, task := range Order(p, "") {
		out = append(out, strings.Join(append(append([]string{task.Do}, task.Lines...), task.Take...), "\n"))
	}
	return out
}

// What was found by reading the lists once more. The words are common practice,
// no source; what they must agree with stands beside them.
func TestReadOnceMore(t *testing.T) {
	for _, c := range []struct {
		folder, name string
		want, never  []string
	}{
		// Where sizes differ, the list beneath has how far.
		{"garments", "pilot-coat-ready", []string{"the last button placed, as far above it as the list says; no mark is final"}, []string{"as far above it as below"}},
		// A turned edge with a facing is a seam, not a fold; a folded band has one.
		{"garments", "canvas-jacket", []string{"Clip or tape the edge of the front and stitch it"}, []string{"the fold of the front"}},
		{"worked", "quilted-vest", []string{"Baste the edge of the front and stitch it"}, []string{"the fold of the front"}},
		{"garments", "rigger-vest-ready", []string{"Baste the fold of the front and top-stitch it"}, nil},
		// What must be done about a cord is told, in the words of the list and not
		// of the file.
		{"garments", "slipway-gilet", []string{"close with elastic or snaps; 16 CFR 1120"}, []string{"(write instead)"}},
		// What is joined of two layers is cut twice.
		{"garments", "squall-jacket-ready", []string{"Cut the flap of two layers, from the finished edge"}, nil},
		// One colon a sentence.
		{"garments", "squall-jacket-ready", []string{"Measure the finished opening of the front. The plan counts on:"}, []string{"the front: the plan counts on:"}},
		// The unit of the file first.
		{"worked", "cape", []string{"a swatch of 15 cm (6 in)"}, []string{"6 in (15 cm)"}},
		{"garments", "watch-coat", []string{"a swatch of 6 in (15 cm)"}, nil},
	} {
		wanted(t, strings.Join(demoList(t, c.folder, c.name), "\n"), c.want, c.never)
	}
	// Leather is sewn with its own needle from its first seam on, and a front of
	// denim with its own again after the cuffs of more layers.
	for name, put := range map[string]string{"leather-jacket": "put in 100/16 leather", "hand-worked-coat": "put in 100/16"} {
		l := demoList(t, "worked", name)
		if needle, seam := at(l, put), at(l, "Put the facings"); needle < 0 || needle > seam {
			t.Errorf("%s: needle %d, seam %d", name, needle, seam)
		}
	}
	flap := demoList(t, "garments", "squall-jacket-ready")
	if needle, seam := at(flap, "put in 80/12 sharp"), at(flap, "Join the layers of the flap"); needle < 0 || needle > seam {
		t.Errorf("needle %d, seam %d", needle, seam)
	}
}
