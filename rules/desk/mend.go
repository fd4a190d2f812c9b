package desk

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/sheet"

	"github.com/rogpeppe/go-internal/diff"
)

func mendCommand() *command {
	return &command{
		name: "mend", args: "FILE",
		does:  "settle the conflicts one after another, and write what you choose into the file",
		about: "Shows each conflict with the changes that settle it and what each of them would move, and asks which to take. What you choose is planned again before the next question, and written at the end: comments and layout stay, and the file as it was stands beside it with .before behind its name. With --all the changes that settle all conflicts together are taken, as check names them, without a question.",
		examples: []string{
			"mend coat.toml",
			"mend coat.toml --all --dry-run",
		},
		flags: []flag{
			{name: "all", kind: boolFlag, doc: "take what settles all conflicts together, and nothing else, without asking"},
			{name: "dry-run", kind: boolFlag, doc: "write nothing, print the difference"},
			variantFlag(), catalogFlag(),
		},
		fixes:  true,
		action: mend,
	}
}

// mender settles the conflicts of one garment.
type mender struct {
	in     *call
	lines  *bufio.Scanner // the answers
	g      *catalog.Garment
	plan   *rules.Planned
	screen *sheet.Screen
	taken  []chosen
	left   []string // what is left as it is
}

// chosen is a change that was chosen, and what was there before it.
type chosen struct {
	says string
	with []catalog.With
	g    *catalog.Garment
	plan *rules.Planned
	left int // how much had been left as it is
}

func mend(in *call) error {
	args := in.args()
	if len(args) != 1 {
		e := usagef("say which file")
		if len(args) > 1 {
			e = usagef("one file after another: %s are given", text.Count(len(args), "file"))
		}
		return e.write("%s mend coat.toml", Program)
	}
	if args[0] == "-" {
		return usagef("mend writes into the file, and the standard input is none").write("%s mend coat.toml", Program)
	}
	g, err := in.load(args[0])
	if err != nil {
		return err
	}
	m := &mender{in: in}
	m.lines = bufio.NewScanner(in.in)
	m.look(g)
	n := len(m.conflicts())
	if n == 0 {
		m.say("", fmt.Sprintf("%s: nothing to settle: %s. %s", g.Name, m.screen.Summary, m.screen.Next))
		return nil
	}
	if in.on("all") {
		if err := m.all(); err != nil {
			return err
		}
	} else if err := m.ask(); errors.Is(err, errStopped) {
		m.say("", "Nothing was written.")
		return conflict{}
	} else if err != nil {
		return err
	}
	return m.finish(g)
}

// look plans a garment.
func (m *mender) look(g *catalog.Garment) {
	m.set(g, search.Checked(g, search.CheckOptions{Fixes: true}))
}

func (m *mender) set(g *catalog.Garment, p *rules.Planned) {
	m.g, m.plan, m.screen = g, p, sheet.ScreenOf(p, sheet.Options{})
}

// conflicts are what is still to be settled.
func (m *mender) conflicts() []sheet.Thing {
	var out []sheet.Thing
	for _, part := range m.screen.Parts {
		for _, t := range part.Things {
			if t.Severity == rules.Conflict {
				out = append(out, t)
			}
		}
	}
	return out
}

// open is the first conflict that was not left as it is.
func (m *mender) open() *sheet.Thing {
	for _, t := range m.conflicts() {
		if !slices.Contains(m.left, t.Says) {
			return &t
		}
	}
	return nil
}

func (m *mender) say(head, s string) { say(m.in.out, head, s) }

// say writes a text in lines, a head before the first.
func say(w io.Writer, head, s string) {
	in := text.Width(head)
	for i, l := range text.Wrap(text.Safe(s), helpWidth-in) {
		if i > 0 {
			head = strings.Repeat(" ", in)
		}
		fmt.Fprintln(w, strings.TrimRight(head+l, " "))
	}
}

// take makes a change of the garment that is being mended.
func (m *mender) take(says string, with []catalog.With) error {
	g, err := m.g.Alter(with...)
	if err != nil {
		return err
	}
	m.taken = append(m.taken, chosen{says, with, m.g, m.plan, len(m.left)})
	m.look(g)
	return nil
}

// all takes what settles all conflicts together; of a single conflict the
// first of its changes, which is the smallest.
func (m *mender) all() error {
	cs := m.conflicts()
	if j := m.screen.JointFix; j != nil {
		return m.take(j.Says, j.With)
	}
	if len(cs) == 1 && len(cs[0].Offer) > 0 && cs[0].Offer[0].Clears {
		return m.take(sheet.Says(cs[0].Offer[0]), cs[0].Offer[0].With)
	}
	for _, t := range cs {
		m.say("  - ", t.Says)
	}
	if m.screen.Joint != "" {
		m.say("  ", m.screen.Joint)
	}
	return &unusable{says: "nothing settles all of it together, so nothing was written; without --all each is asked about"}
}

const mendWords = "a letter takes that change; why: all that is known about it; leave: leave it as it is; back: take the last answer back; write: write what was chosen and end; stop: end and write nothing"

// errStopped ends mend without writing.
var errStopped = errors.New("stopped")

// ask asks about one conflict after another.
func (m *mender) ask() error {
	m.say("", fmt.Sprintf("%s: %s to settle. Nothing is written before the end.", m.g.Name, text.Count(len(m.conflicts()), "conflict")))
	m.say("", "Answers: "+mendWords+".")
	for {
		t := m.open()
		if t == nil {
			return nil
		}
		m.show(t)
		done, err := m.answer(t)
		if done || err != nil {
			return err
		}
	}
}

// show writes a conflict with its changes and what each of them would move.
func (m *mender) show(t *sheet.Thing) {
	fmt.Fprintln(m.in.out)
	m.say("- ", t.Says)
	for i, x := range t.Offer {
		m.say(fmt.Sprintf("    %c  ", 'a'+i), sheet.Says(x))
		var with []string
		for _, w := range sheet.Writes(x) {
			with = append(with, text.Shell(w))
		}
		m.say("       ", strings.Join(with, " "))
		if g, err := m.g.Alter(x.With...); err == nil {
			d := search.Compare(m.plan, search.Checked(g, search.CheckOptions{}))
			m.say("       ", sheet.Effect(&d, m.g.Units))
		}
	}
	if t.Stuck != "" {
		m.say("    ", t.Stuck)
	}
}

// answer reads answers until one of them goes on.
func (m *mender) answer(t *sheet.Thing) (done bool, err error) {
	for {
		asks := "leave, why, back, write or stop? "
		if n := len(t.Offer); n > 0 {
			letters := make([]string, n)
			for i := range letters {
				letters[i] = string(rune('a' + i))
			}
			asks = strings.Join(letters, ", ") + ", " + asks
		}
		line, err := m.read(asks)
		if err != nil {
			return false, err
		}
		word := strings.ToLower(strings.Trim(line, " .)("))
		if len(word) == 1 && word[0] >= 'a' && int(word[0]-'a') < len(t.Offer) {
			x := t.Offer[word[0]-'a']
			return false, m.take(sheet.Says(x), x.With)
		}
		switch word {
		case "leave", "l":
			m.left = append(m.left, t.Says)
			return false, nil
		case "why", "w", "?", "show why":
			m.why(t)
		case "back":
			if n := len(m.left); n > 0 && (len(m.taken) == 0 || m.taken[len(m.taken)-1].left < n) {
				m.left = m.left[:n-1]
				return false, nil
			}
			if n := len(m.taken); n > 0 {
				last := m.taken[n-1]
				m.taken, m.left = m.taken[:n-1], m.left[:last.left]
				m.set(last.g, last.plan)
				return false, nil
			}
			m.say("", "There is no answer to take back.")
		case "write", "done", "end":
			return true, nil
		case "stop", "quit", "q", "exit":
			return true, errStopped
		default:
			m.say("", fmt.Sprintf("%q is no answer here. Answers: %s.", line, mendWords))
		}
	}
}

// read asks for one line.
func (m *mender) read(asks string) (string, error) {
	fmt.Fprint(m.in.out, asks)
	if !m.lines.Scan() {
		fmt.Fprintln(m.in.out)
		if err := m.lines.Err(); err != nil {
			return "", &unusable{says: "an answer cannot be read, so nothing was written: " + source.Reason("read", err)}
		}
		return "", &unusable{says: "the answers ended before the end, so nothing was written"}
	}
	return strings.TrimSpace(m.lines.Text()), nil
}

// why tells all that is known about a conflict.
func (m *mender) why(t *sheet.Thing) {
	m.say("    ", t.Whole)
	if r := rules.Find(t.Rule); r != nil {
		m.say("    ", r.Why)
	}
	m.say("    ", fmt.Sprintf("More: %s explain %s", Program, t.Rule))
}

// finish shows what comes out, and writes it where that is wanted.
func (m *mender) finish(g *catalog.Garment) error {
	if len(m.taken) == 0 {
		m.say("", "Nothing was chosen, so nothing is written.")
		return m.verdict()
	}
	var with []catalog.With
	for _, t := range m.taken {
		with = append(with, t.with...)
	}
	data, _, err := g.Rewrite(with...)
	if err != nil {
		return &unusable{g.File, err}
	}
	if err := m.holds(g, data); err != nil {
		return err
	}
	base := filepath.Base(g.File)
	_, change, _ := strings.Cut(string(diff.Diff(base, []byte(g.Text()), base+" mended", data)), "\n")
	if m.in.on("dry-run") {
		for _, l := range strings.SplitAfter(change, "\n") {
			if l != "" {
				fmt.Fprintln(m.in.out, text.Safe(strings.TrimSuffix(l, "\n")))
			}
		}
		return m.verdict()
	}
	fmt.Fprintln(m.in.out)
	for _, t := range m.taken {
		m.say("Chosen: ", t.says)
	}
	m.say("Then: ", m.screen.Summary+". "+m.screen.Next)
	if !m.in.on("all") {
		for ok := false; !ok; {
			line, err := m.read(fmt.Sprintf("Write this into %s? yes or no: ", text.Safe(g.File)))
			if err != nil {
				return err
			}
			switch strings.ToLower(line) {
			case "yes", "y":
				ok = true
			case "no", "n", "stop":
				m.say("", "Nothing was written.")
				return conflict{}
			}
		}
	}
	kept, err := replace(g, data)
	if err != nil {
		return err
	}
	m.say("", fmt.Sprintf("wrote %s; as it was, it is in %s", g.File, kept))
	return m.verdict()
}

// verdict is the exit code of the garment as it is left.
func (m *mender) verdict() error {
	if m.plan.Count(rules.Conflict) > 0 {
		return conflict{}
	}
	return nil
}

// holds reads and plans the text that is about to be written: it must find
// what was told, and no conflict more.
func (m *mender) holds(g *catalog.Garment, data []byte) error {
	n, err := catalog.Read(g.File, data, m.in.options())
	if err != nil {
		return &unusable{"with the changes the file could not be read, so nothing was written", err}
	}
	now := search.Checked(n, search.CheckOptions{})
	if d := search.Compare(m.plan, now); len(d.Come)+len(d.Gone)+len(d.Moved) > 0 {
		return &unusable{says: g.File + ": written, the changes would not do what was told, so nothing was written: " + sheet.Effect(&d, g.Units)}
	}
	return nil
}

// replace puts a changed text in the place of a garment's file, and the text
// as it was beside it.
func replace(g *catalog.Garment, data []byte) (kept string, err error) {
	now, err := source.ReadFile(g.File)
	if err != nil {
		return "", &unusable{"", err}
	}
	if kept, err = source.Keep(g.File, now); err != nil {
		return "", &unusable{"", err}
	}
	if err := rewrite(g, data); err != nil {
		os.Remove(kept)
		return "", err
	}
	return kept, nil
}
