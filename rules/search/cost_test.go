package search

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// What a change costs, ours: 1 a figure of the file that is written or a way of
// laying, 2 to 6 what must be bought or sewn more, 10 another count or a patch,
// 12 to 45 another way of working, 20 an interfacing left out. # is any figure.
// "any" are the changes that are tried for whatever rule.
var costs = map[string]map[string]float64{
	"any":              {"leave the backing button to be worked out": 5, "leave the direction of the holes to be worked out": 5, "leave the interfacing band out there": 20, "leave the interfacing front out there": 20, "leave the interfacing stay out there": 20, "leave the kind of hole to be worked out": 5, "leave the length of the hole to be worked out": 5, "leave the length of the loop to be worked out": 5, "leave the needle to be worked out": 5, "leave the punched hole to be worked out": 5, "leave the rule for the hole to be worked out": 5, "leave the stitch to be worked out": 5, "leave the width of the strip to be worked out": 5, "make bound holes": 45, "set the holes across": 12, "set the holes along the edge": 12, "trim one layer of fill away there": 10, "trim one layer of shell away there": 10, "work the holes by hand": 40},
	"backing-button":   {"take a backing button of # ligne": 1},
	"band-hole":        {"face the front": 10, "set the holes along the band": 10},
	"button-stitches":  {"sew # stitches": 1},
	"button-swing":     {"sew the buttons on by hand": 1},
	"care-limit":       {"have it dry-cleaned": 25, "only wipe it clean": 28},
	"edge-lap":         {"give the front a lap": 20, "use loops": 10},
	"ends-moved":       {"keep the first where it is": 1, "keep the last where it is": 1, "keep the step where it is": 1},
	"flap-seam":        {"set them # from the meeting line": 1},
	"fly-hole":         {"set the holes along the fly": 1},
	"fold-hold":        {"top-stitch # from the edge": 1},
	"foot-lift":        {"leave the interfacing front out there": 20, "trim one layer of fill away there": 10, "trim one layer of shell away there": 10},
	"fuse-heat":        {"sew in hair-canvas": 6, "sew in organza-silk": 5},
	"fuse-surface":     {"sew in hair-canvas": 6},
	"gaps-uneven":      {"let the gaps leave the repeat of shell": 30, "move the first so that all gaps are of as many repeats": 21, "move the last so that all gaps are of as many repeats": 21},
	"hardware-grip":    {"pack it with washers or a patch, # in all": 3, "put one more layer of shell behind it": 6},
	"hardware-hole":    {"punch #": 1},
	"hardware-layers":  {"put one more layer of hide behind it": 6, "put one more layer of shell behind it": 6, "reinforce the cloth behind it with a patch": 4},
	"hardware-post":    {"pack it with washers or a patch, # in all": 3, "put one more layer of shell behind it": 6},
	"hardware-step":    {"move it off the seam": 5},
	"hole-frays":       {"make bound holes": 20, "sew each hole twice over": 1, "sew the holes over a cord": 2},
	"hole-machine":     {"make bound holes": 45, "sew keyholes": 5, "sew plain holes": 5, "work the holes by hand": 40},
	"hole-short":       {"make the hole as long as the button needs": 1},
	"hook-edge":        {"set the hooks # from the edge": 1},
	"hook-tape":        {"take an eye tape of pitch #": 1},
	"interfacing-none": {"put the interfacing front under it": 4, "reinforce it in another way, and say so": 15},
	"lap-side":         {"let the left front lie on top": 1, "let the right front lie on top": 1},
	"loop-cord":        {"take a cord of #": 1},
	"needle-point":     {"use a universal point": 1},
	"order-late":       {"work it before the cuff is joined": 1, "work it before the flap is joined": 1, "work it before the pocket is joined": 1, "work it before the tab is joined": 1},
	"place-thick":      {"overcast the hem's raw edge and do not turn it in": 2, "press the yoke seam open": 1},
	"plaid-band":       {"cut it on the bias": 1, "match it to the front": 2},
	"plaid-gaps":       {"space them # repeat apart, the last # above the hem": 10, "space them # repeats apart, the last # above the hem": 10},
	"plaid-level":      {"lay the under front level with the upper": 1, "lay the upper front level with the under": 2},
	"plaid-mirror":     {"cut the fronts one at a time, the cloth lying the same way": 1},
	"plaid-phase":      {"lay both fronts with a stripe on the centre line": 1, "lay both fronts with the centre midway between two stripes": 2, "lay the collar with a stripe at its middle": 1, "lay the collar with its middle midway between two stripes": 2, "lay the flap with a stripe # to the wearer's left of its middle": 1, "lay the under front with a stripe # to the wearer's left of centre": 1, "lay the under front with a stripe # to the wearer's right of centre": 1, "lay the upper front with a stripe # to the wearer's left of centre": 2, "lay the upper front with a stripe # to the wearer's right of centre": 2},
	"rows-distance":    {"set the columns # from the centre line": 10},
	"rows-working":     {"lay out # rows": 10, "let # rows button": 1},
	"safety-cord-low":  {"leave the ends plain": 1, "stitch the cord down midway": 1, "take the cord out and close with elastic": 5, "take the cord out and close with snaps": 6},
	"safety-cord-top":  {"leave it no free ends": 5, "make the loop # round": 2, "take the cord out and close with elastic": 5, "take the cord out and close with snaps": 6},
	"shank-thread":     {"wind a thread shank of #": 1},
	"shrink-apart":     {"shrink all of them before cutting": 3, "shrink canvas before cutting": 1, "shrink front before cutting": 1, "shrink shell before cutting": 2},
	"spacing-clash":    {"let the gaps leave the repeat of shell": 30},
	"stack-bulky":      {"leave the interfacing canvas out there": 20, "leave the interfacing front out there": 20, "leave the interfacing stay out there": 20, "leave the interfacing weft out there": 20},
	"stitch-hole":      {"top-stitch # from the edge": 1},
	"stitch-length":    {"sew with a stitch of #": 1},
	"strip-start":      {"begin the strip # from the cut edge": 1},
	"toggle-patch":     {"sew cord and loop on # inside the centre line": 2},
	"zip-clear":        {"leave the inner button out": 1, "set them on a flap # wide, # from the meeting line": 2},
	"zip-fly":          {"make the flap # from the middle of the zip": 2},
	"zip-seam":         {"cut the seam allowance #": 1},
	"zip-sold":         {"buy the zip of #": 1},
	"zip-top":          {"begin the zip # below the neck edge": 1},
}

// lists are how many other things are proposed at most where the catalogue has more
// of them, ours: six, eight where each must be fused or passed first, twelve
// fasteners.
var lists = map[string]int{
	"care-limit": 6, "fuse-heat": 8, "fuse-surface": 8, "hole-machine": 8, "hole-stretch": 6, "interfacing-heavy": 6, "rims-touch": 6,
	"rows-touch": 12, "snap-sewn-size": 12, "stand-narrow": 12,
}

// figure is a figure of a change with its unit, and the same in the other.
var figure = regexp.MustCompile(`[0-9]+(?:[ ./×][0-9]+)*(?: (?:mm|in))?(?: \([0-9][^)]*\))?`)

// A change of a kind costs what it costs wherever it is proposed: the smallest
// is the first that is shown.
func TestCostsOfChanges(t *testing.T) {
	met := map[string]bool{}
	look := func(name, rule string, cs []rules.Change) {
		for _, c := range cs {
			says := figure.ReplaceAllString(c.Says, "#")
			want, known := costs[rule][says]
			if !known {
				continue
			}
			if met[rule+says] = true; c.Cost != want {
				t.Errorf("%s: %s: %q costs %v, want %v", name, rule, c.Says, c.Cost, want)
			}
		}
	}
	longest := map[string]int{}
	length := func(rule string, cs []rules.Change) {
		n := 0
		for _, c := range cs {
			if strings.HasPrefix(c.Says, "use ") || strings.HasPrefix(c.Says, "sew in ") {
				n++
			}
		}
		longest[rule] = max(longest[rule], n)
	}
	var files []string
	for _, pattern := range []string{"*/*/*.toml", "*/*.toml"} {
		names, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, names...)
	}
	for _, name := range files {
		if data, err := os.ReadFile(name); err != nil || !strings.Contains(string(data), "[[closure]]") {
			continue
		}
		g, err := catalog.Load(name, catalog.Options{})
		if err != nil {
			continue // one of the bad files
		}
		p := rules.Plan(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			x := contextOf(p, f)
			x.Tries = new(plan.Tries)
			if x.Rule != nil && x.Rule.Propose != nil {
				cs := x.Rule.Propose(&x, f)
				look(name, f.Rule, cs)
				length(f.Rule, cs)
			}
			if x.C != nil {
				look(name, "any", rules.ProposeAny(&x, f))
			}
		}
	}
	for rule, want := range lists {
		if longest[rule] != want {
			t.Errorf("%s: the longest list of what else to use has %d, want %d", rule, longest[rule], want)
		}
	}
	for rule, kinds := range costs {
		for says := range kinds {
			if !met[rule+says] {
				t.Errorf("%s: %q is never proposed", rule, says)
			}
		}
	}
}
