package desk

import (
	"slices"
	"strings"
	"testing"

	"placketeer/rules/trial"
)

// saidAs are lengths as people say them, and as they are read.
var saidAs = [][2]string{
	{"half inch", "1/2in"}, {"half an inch", "1/2in"}, {"1 and 1/8 in", "1 1/8in"}, {"7/8", "7/8in"}, {"20'''", "20L"}, {"3/4 of an inch", "3/4in"},
	{"a quarter inch", "1/4in"}, {"3 in", "3in"}, {"1 1/2 in", "1 1/2in"}, {"20 inches", "20in"}, {"2 mm", "2mm"},
}

// saidAt are a command with each of its lengths once; # is where one is said.
var saidAt = []string{
	"buttonhole --diameter #", "buttonhole --diameter 1in --thickness #", "buttonhole --shape square --side # --thickness 1/8in", "buttonhole --diameter 1/8in --thickness 1/16in --shape odd --girth #",
	"buttonhole --shape toggle --width # --short-end 1in", "buttonhole --shape toggle --width 1/4in --short-end #", "buttonhole --shape toggle --width 1/4in --toggle-length #",
	"buttonhole --diameter 1in --over #", "buttonhole --diameter 1in --layers 2 --cloth-thickness #", "buttonhole --diameter 1/2in --cloth poplin --foot-lift #",
	"stand --diameter #", "stand --diameter 1/4in --stand #", "stand --stand #", "stand --diameter 1/4in --band #", "stand --diameter 1in --turn-under #", "stand --diameter 1/4in --extension #",
	"stand --diameter 1in --construction faced --seam #", "stand --diameter 1in --construction faced --facing #",
	"spacing --length # --first 0 --last 0 --count 2", "spacing --length 26in --first # --last 1in --count 3", "spacing --length 26in --first 1in --last # --count 3", "spacing --length 26in --first 0:# --last 1in --count 3",
	"spacing --between 0:# --count 2", "spacing --length 26in --first 1in --last 1in --gap about=#", "spacing --length 26in --first 1in --last 1in --count 3 --step #", "spacing --length 26in --first 1in --last 1in --count 3-9 --anchor 9in:#",
	"spacing --length 26in --first 1in --last 1in --count 3 --clear belt=0:# --reach 0", "spacing --length 26in --first 1in --last 1in --count 3 --reach #", "spacing --length 26in --first 1in --last 1in --count 3 --gap-min #",
	"spacing --length 26in --first 1in --last 1in --count 9 --gap-max #", "spacing --length 26in --first 0 --last 0:9in --count 2-9 --repeat #", "spacing --length 26in --first 0:4in --last 0:9in --count 2-5 --repeat 4in --phase #",
	"spacing --length 26in --first 1in --last 1in --count 4 --group 2 --group-gap #",
	"strip --diameter 1/4in --stand #", "strip --diameter 1in --pieces 2 --length # --goods-width 35in", "strip --diameter 1/4in --pieces 2 --length 9in --goods-width #",
	"needle --layers 2 --thickness #", "needle --cloth poplin --foot-lift #",
	"post --pressed #", "post --over #", "post --pressed 5mm --kind solid --width #", "post --layers 2 --cloth-thickness #",
	"zip --opening #", "zip --opening 26in --top #", "zip --opening 9in --length #", "zip --opening 9in --over #",
	"loop --diameter #", "loop --diameter 1/4in --loop #", "loop --diameter 1in --cord #", "loop --diameter 1in --seam #",
	"thread --diameter #", "thread --diameter 1in --spool #", "thread --diameter 1in --cloth poplin --foot-lift #",
}

// TestSaidEverywhere: what is understood as it is said is so in every place
// where a length can be written, with its quotes and without.
func TestSaidEverywhere(t *testing.T) {
	tried := map[string]int{}
	for n, place := range saidAt {
		words := shellWords(place)
		at := slices.IndexFunc(words, func(w string) bool { return strings.Contains(w, "#") })
		name := words[0] + " " + words[at-1]
		for i, as := range saidAs {
			if !trial.Long() && (i+n)%3 > 0 {
				continue
			}
			put := func(v string) []string {
				out := slices.Clone(words)
				out[at] = strings.Replace(words[at], "#", v, 1)
				return append(out, "--units", "mm", "--format", "json")
			}
			plain := func(args []string) (int, string) {
				code, out, stderr := asked(args...)
				before, _, _ := strings.Cut(out, `"next"`)
				before, _, _ = strings.Cut(before, `"clash"`) // as it was written
				return code, before + stderr
			}
			code, want := plain(put(as[1]))
			if code > ExitConflict {
				continue // too much or too little there
			}
			tried[name]++
			quoted := put(as[0])
			bare := slices.Concat(quoted[:at], strings.Fields(quoted[at]), quoted[at+1:])
			for _, args := range [][]string{quoted, bare} {
				if c, got := plain(args); c != code || got != want {
					t.Errorf("%s: not as %s: %d %s", strings.Join(args, " "), as[1], c, got)
				}
			}
		}
		if tried[name] < 2 && trial.Long() {
			t.Errorf("%s takes only %d of them", name, tried[name])
		}
	}
	// Every length of every quick command is among them.
	for _, c := range commands() {
		if c.flag("units") == nil || c.args != "" {
			continue // no quick command
		}
		for _, f := range c.flags {
			if f.kind == lengthFlag && !slices.ContainsFunc(saidAt, func(p string) bool {
				return strings.HasPrefix(p, c.name+" ") && strings.Contains(p, "--"+f.name+" ")
			}) && !slices.ContainsFunc(fastenerFlags(), func(o flag) bool { return o.name == f.name }) {
				t.Errorf("%s --%s is not tried", c.name, f.name)
			}
		}
	}
}
