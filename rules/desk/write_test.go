package desk

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// mistakes are command lines that are refused with what to write instead.
var mistakes = []string{
	"buttonhole", "buttonhole --diameter 18 --thickness 3mm", "buttonhole --diameter 1 --thickness 3mm", "buttonhole --diameter '1,125 in' --thickness 1/8in",
	"buttonhole --diameter 2,5cm --thickness 5mm", "buttonhole --diameter -5mm --thickness 5mm", "buttonhole --diameter 0mm --thickness 5mm",
	"buttonhole --diameter 1in --thickness 1/8in --side 3/4in", "buttonhole --diameter 1in --thickness 1/8in --width 1in", "buttonhole --use horm-40",
	"buttonhole --diameter 1in --shape domed", "buttonhole --shape square", "buttonhole --shape toggle", "buttonhole --shape toggle --width 12mm",
	"buttonhole --diamter 1in", "buttonhole --diameter 1in --shape cubical", "buttonhole --diameter 1in --layers 3", "buttonhole --diameter 1in --machine domestik",
	"buttonhole --table 45L", "buttonhole --diameter 1in --machine xyzzy", "needle --cloth xyzzy", "buttonhole --diameter 28mn --thickness 3mm", "buttonhole --diameter 40l --thickness 3mm", "buttonhole --use toggle-wood-40", "buttonhole --diameter",
	"stand", "stand --diameter 1in --construction fold", "stand --diameter 1in --construction faced --turn-under 1in",
	"stand --diameter 1in --construction folded --seam 1/2in", "stand --diameter 1in --construction band --extension 3in",
	"spacing --length 26in", "spacing --length 26in --first 1in --last 4in", "spacing --length 26in --first 1in --last 4in --count six",
	"spacing --length 26in --first 1in --last 4in --count 7-5", "spacing --length 26in --first 1in --last 4in --gap 4in", "spacing --length 26in --first 1in --last 4in --count 6 --anchor 8in",
	"spacing --length 26in --first 1in --last 4in --count 6 --clear 9in:8in --reach 1/2in", "spacing --length 26in --first 1in --last 4in --count 6 --phase 1in",
	"spacing --length 26in --first 1in --last 4in --count 6 --group 2", "spacing --length 26in --first 1in --last 4in --count 6 --group-gap 1in",
	"spacing --between 20in:2in --count 6", "spacing --length 26in --first 2in:1in --last 4in --count 6", "spacing --length 26in --first 1in --last 4in --count 300",
	"strip --diameter 1in --thickness 1/8in --pieces 2 --length 26in", "strip --diameter 1in --thickness 1/8in --pieces 2.5 --length 1in --goods-width 3in",
	"strip --diameter 1in --thickness 1/8in --pieces 2 --length 26in --goods-width 35in --shrink 2mm",
	"needle", "needle --weight 18oz", "needle --weight '18oz melton'", "needle --weight 620", "needle --weight 620gsm --thread 50", "needle --cloth meltn", "needle --weight 620gsm --needle 90/16",
	"needle --weight 620gsm --needle 14/90", "needle --weight 620gsm --fibre cotton", "needle --weight '12 oz/yd'", "needle --weight 620gms",
	"post", "post --pressed 5mm --kind solid", "post --pressed 5mm --use tack-17mm-nail-8 --kind tack",
	"zip", "zip --opening 22", "zip --opening 22in --use coil-5-seperating", "loop", "loop --diameter 18 --thickness 4mm", "press", "press --fibre woll=100", "press --fibre wool=80,cotton=40",
	"press --cloth melton --fuse 130C", "thread", "thread --diameter 1in --thread 50", "thread --diameter 1in --fibre cotton",
	"convert", "convert 50", "convert 18oz melton", "convert 40/2", "convert 90/16", "convert 2,5mm", "convert 28 mn", "convert -3mm", "convert nm 90", "convert 18",
	"catalog buton", "catalog show horn-4", "catalog show", "catalog --kind buton", "catalog hornn", "catalog zzzz", "explain stand-narow", "explain everything", "explain hole-shortt stand-narrow",
	"spacing --between 2:20 --count 7", "spacing --length 26in --first 1in --last 4in --gap about=4", "spacing --length 26in --first 1in --last 4in --count 6 --clear belt=14:15 --reach 1in", "thread --diameter 1in --spool 200",
	"buttonhole --table 18-45", "buttonhole --diameter '1 --thickness 1/8'", "buttonhole --diameter 1in oops", "needle --weight 18oz melton", "zip --opening 22in --number five", "spacing --length 26in --first 1in --last 4in --count 7 to 5",
	"chekc", "buttonhol --diameter 1in", "--diameter 1in buttonhole",
}

// TestWriteIsAccepted follows every "write:" that these print: what it says,
// written, is never refused for the same reason, and in the end an answer.
func TestWriteIsAccepted(t *testing.T) {
	for _, line := range mistakes {
		args := shellWords(line)
		code, _, stderr := asked(args...)
		if code != ExitUsage {
			t.Errorf("%s: exit code %d", line, code)
			continue
		}
		for _, w := range written(stderr) {
			follow(t, line, args, w, stderr, 3)
		}
		if len(written(stderr)) == 0 {
			t.Errorf("%s: says nothing to write\n%s", line, stderr)
		}
	}
}

// written are the things that a message says to write.
func written(stderr string) []string {
	_, rest, ok := strings.Cut(stderr, "\n  write: ")
	if !ok {
		return nil
	}
	rest, _, _ = strings.Cut(rest, "\n")
	return strings.Split(rest, orElse)
}

// follow writes it. What asks for more is followed further, so many times.
func follow(t *testing.T, line string, args []string, write, before string, left int) {
	t.Helper()
	now := shellWords(write)
	switch {
	case len(now) == 0:
		t.Errorf("%s: nothing to write", line)
		return
	case now[0] == Program:
		now = now[1:]
		if len(now) == 1 && now[0] == args[0] {
			return // a command alone, to begin with
		}
	case strings.HasPrefix(now[0], "--"):
		now = slices.Concat(without(args, now), now)
	default:
		t.Errorf("%s: %q cannot be written as it stands", line, write)
		return
	}
	code, _, stderr := asked(now...)
	switch {
	case code != ExitUsage:
	case stderr == before:
		t.Errorf("%s: %q is refused for the same reason: %s", line, write, stderr)
	case left > 0 && len(written(stderr)) > 0:
		follow(t, line, now, written(stderr)[0], stderr, left-1)
	default:
		t.Errorf("%s: %q is refused: %s", line, strings.Join(now, " "), stderr)
	}
}

// without are arguments without the flags that are written anew, or that are
// none.
func without(args, now []string) (out []string) {
	cmd, err := commandNamed(args[0])
	if err != nil {
		return args
	}
	var names []string
	for _, a := range now {
		names = append(names, strings.TrimPrefix(a, "--"))
	}
	skip := false
	for i, a := range args {
		name, isLong := strings.CutPrefix(a, "--")
		if i == 0 || !isLong {
			if !skip {
				out = append(out, a)
			}
			continue
		}
		f := cmd.flag(name)
		skip = f == nil || slices.Contains(names, name) || i+1 == len(args)
		for _, pair := range [][2]string{{"turn-under", "seam"}, {"use", "kind"}} {
			skip = skip || name == pair[1] && slices.Contains(names, pair[0])
		}
		if !skip {
			out = append(out, a)
		}
	}
	return out
}

// TestNextIsAccepted follows the next command of every question's answer.
func TestNextIsAccepted(t *testing.T) {
	data, err := os.ReadFile("../../testdata/questions.txt")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for i, line := range strings.Split(string(data), "\n") {
		command, rest, ok := strings.Cut(line, " | ")
		if !ok || strings.HasPrefix(line, "#") || strings.Contains(rest, "exit=2") {
			continue
		}
		args := shellWords(command)
		if !jsonable(args[0]) || i%3 > 0 && testing.Short() {
			continue
		}
		_, out, _ := asked(args...)
		_, next, ok := strings.Cut(out, "\nNext: "+Program+" ")
		if !ok {
			t.Errorf("%s: no next command", command)
			continue
		}
		next = strings.TrimSpace(next)
		if seen[next] {
			continue
		}
		seen[next] = true
		if code, _, stderr := asked(shellWords(next)...); code > ExitConflict {
			t.Errorf("%s: next is %s, which is refused: %s", command, next, stderr)
		}
	}
}
