package desk

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog/text"
)

// words splits a command line as a shell does.
func shellWords(s string) (out []string) {
	var word strings.Builder
	quote, inside, escaped := rune(0), false, false
	for _, r := range s {
		switch {
		case escaped:
			word.WriteRune(r)
			escaped = false
		case quote == 0 && r == '\\':
			escaped = true
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case r == '\'' || r == '"':
			quote, inside = r, true
		case r == ' ':
			if inside || word.Len() > 0 {
				out = append(out, word.String())
			}
			word.Reset()
			inside = false
		default:
			word.WriteRune(r)
		}
	}
	if inside || word.Len() > 0 {
		out = append(out, word.String())
	}
	return out
}

// asked runs the program.
func asked(args ...string) (code int, out, err string) {
	var stdout, stderr bytes.Buffer
	code = Run(append([]string{Program}, args...), strings.NewReader(""), &stdout, &stderr)
	return code, stdout.String(), stderr.String()
}

// TestQuestions asks every question of testdata/questions.txt and holds the
// answer against the one worked out by hand.
func TestQuestions(t *testing.T) {
	data, err := os.ReadFile("../../testdata/questions.txt")
	if err != nil {
		t.Fatal(err)
	}
	askAll(t, data, 200)
}

// askAll asks the questions of a file, of which there are at least so many.
func askAll(t *testing.T, data []byte, least int) {
	t.Helper()
	n := 0
	for _, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.Split(line, " | ")
		if len(parts) != 3 || strings.TrimSpace(parts[2]) == "" {
			t.Errorf("%s: a question has a command, what it holds, and why", line)
			continue
		}
		n++
		for _, wrong := range wrongIn(shellWords(parts[0]), parts[1]) {
			t.Errorf("%s: %s (%s)", parts[0], wrong, parts[2])
		}
	}
	if n < least {
		t.Errorf("%d questions are too few", n)
	}
}

// questionsAsked are the commands of testdata/questions.txt.
func questionsAsked(t *testing.T) (out [][]string) {
	data, err := os.ReadFile("../../testdata/questions.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(data), "\n") {
		if command, _, ok := strings.Cut(line, " | "); ok && !strings.HasPrefix(line, "#") {
			out = append(out, shellWords(command))
		}
	}
	return out
}

// wrongIn says what an answer does not hold.
func wrongIn(args []string, wants string) (wrong []string) {
	code, says, stderr := asked(args...)
	plain := strings.Join(strings.Fields(says+" "+stderr), " ")
	var got map[string]any
	var found []string
	if jsonable(args[0]) {
		_, out, _ := asked(append(args, "--format", "json")...)
		if code != ExitUsage && json.Unmarshal([]byte(out), &got) != nil {
			return []string{"no JSON: " + stderr}
		}
		list, _ := got["findings"].([]any)
		for _, f := range list {
			found = append(found, f.(map[string]any)["rule"].(string))
		}
	}
	exit := -1
	for _, want := range strings.Split(wants, "; ") {
		key, value, figure := strings.Cut(strings.TrimSpace(want), "=")
		switch {
		case key == "exit":
			exit, _ = strconv.Atoi(value)
		case key == "rule" && !slices.Contains(found, value):
			wrong = append(wrong, fmt.Sprintf("no finding %s, only %v", value, found))
		case key == "!rule" && slices.Contains(found, value):
			wrong = append(wrong, "the finding "+value)
		case key == "rule" || key == "!rule":
		case figure:
			if !sameFigures(got[key], value) {
				wrong = append(wrong, fmt.Sprintf("%s is %v, not %s", key, got[key], value))
			}
		case !strings.Contains(plain, strings.TrimSpace(want)):
			wrong = append(wrong, fmt.Sprintf("%q is not in: %s", want, plain))
		}
	}
	if exit < 0 && code > ExitConflict || exit >= 0 && code != exit {
		wrong = append(wrong, fmt.Sprintf("exit code %d %s", code, stderr))
	}
	return wrong
}

func jsonable(command string) bool { return command != "catalog" && command != "explain" }

// sameFigures compares figures to what a person can measure: 0.05 %, and never
// less than a thousandth.
func sameFigures(got any, want string) bool {
	list, ok := got.([]any)
	if !ok {
		list = []any{got}
	}
	wants := strings.Split(want, ",")
	if len(list) != len(wants) {
		return false
	}
	for i, w := range wants {
		x, ok := list[i].(float64)
		y, err := strconv.ParseFloat(w, 64)
		if !ok || err != nil || math.Abs(x-y) > max(0.001, math.Abs(y)*0.0005) {
			return false
		}
	}
	return true
}

// TestEveryFlagAsked: every flag of every quick command stands in a question.
func TestEveryFlagAsked(t *testing.T) {
	asked := questionsAsked(t)
	for _, c := range commands() {
		if c.flag("units") == nil || c.args != "" || c.name == "start" {
			continue // no quick command
		}
		for _, f := range c.flags {
			switch f.name {
			case "units", "catalog", "format", "out":
				continue
			}
			if !slices.ContainsFunc(asked, func(args []string) bool { return args[0] == c.name && slices.Contains(args, "--"+f.name) }) {
				t.Errorf("no question gives %s --%s", c.name, f.name)
			}
		}
	}
}

// TestScreens: an answer is one screen, the answer itself first and one next
// command last; nothing but a command to copy is wider than the screen.
func TestScreens(t *testing.T) {
	lines := map[string][]int{}
	for _, args := range questionsAsked(t) {
		code, out, _ := asked(args...)
		if code > ExitConflict || !jsonable(args[0]) {
			continue
		}
		all := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		if all[0] == "" || !strings.HasPrefix(all[len(all)-1], "Next: "+Program+" ") {
			t.Errorf("%v: the answer is not first, or the next command not last:\n%s", args, out)
		}
		for _, l := range all[:len(all)-1] {
			if text.Width(l) > 80 {
				t.Errorf("%v: wider than the screen: %s", args, l)
			}
		}
		places := strings.Count(out, " to the end") // a line a fastener
		for _, l := range all {
			if strings.HasPrefix(l, "  ") && places > 0 && strings.Contains(l, " in (") {
				places++
			}
		}
		lines[args[0]] = append(lines[args[0]], len(all)-places)
		if len(all)-places > 33 {
			t.Errorf("%v: %d lines:\n%s", args, len(all), out)
		}
	}
	for command, n := range lines {
		slices.Sort(n)
		if half := n[len(n)/2]; half > 17 {
			t.Errorf("%s: half of its answers have %d lines and more", command, half)
		}
	}
}
