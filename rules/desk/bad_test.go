package desk

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"placketeer/catalog"
	"placketeer/catalog/source"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
)

// A bad file of testdata/bad holds what somebody gets wrong, and beside the
// place what must be said of it:
//
//	count = -5
//	# want 9: count is -5, but must lie between 1 and 200
//	# write: what to write instead, where something is offered
//	# good: the line as it reads once the advice is taken, where the advice
//	        is in words and not what to type; "…" takes the whole of it
//
// A want of the line above has its column; one without a column is of the
// whole file, and LINE:COLUMN is a place elsewhere. At the head may stand
//
//	# run: the command line with FILE for the file; otherwise check FILE
//	# exit: the exit code; otherwise 3
//	# says: what is said of the command line
//	# encode: how the text is encoded
//	# repeat 60 … # end: these lines 60 times, {i} their number
//
// and files beside it follow as -- name --. {ESC} is that control character.
type badFile struct {
	name   string
	run    []string
	exit   int
	encode string
	want   []string // file:line:column: message, and "write: …" of the one before
	parts  map[string]string
	good   map[string]string // by want
}

var (
	wantLine = regexp.MustCompile(`^# want(?: (?:(\d+):)?(\d+))?: (.*)$`)
	headLine = regexp.MustCompile(`^# (run|exit|says|encode|write|good): (.*)$`)
)

func readBad(t *testing.T, name string) *badFile {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	ar := txtar.Parse(bytes.ReplaceAll(data, []byte("{ESC}"), []byte("\x1b")))
	b := &badFile{name: filepath.Base(name), run: []string{"check", "FILE"}, exit: ExitInput, parts: map[string]string{}, good: map[string]string{}}
	for _, f := range append([]txtar.File{{Name: "garment.toml", Data: ar.Comment}}, ar.Files...) {
		b.part(t, f.Name, string(f.Data))
	}
	return b
}

// part reads one of the files. The lines that say what is expected are no
// part of it.
func (b *badFile) part(t *testing.T, file, text string) {
	t.Helper()
	var out, block []string
	repeat := 0
	last := ""
	for line := range strings.SplitSeq(text, "\n") {
		if m := wantLine.FindStringSubmatch(line); m != nil {
			last = file
			switch {
			case m[1] != "":
				last += ":" + m[1] + ":" + m[2]
			case m[2] != "":
				last += fmt.Sprintf(":%d:%s", len(out), m[2])
			}
			last += ": " + m[3]
			b.want = append(b.want, last)
			continue
		}
		m := headLine.FindStringSubmatch(line)
		switch {
		case m == nil:
		case m[1] == "run":
			b.run = words(m[2])
			continue
		case m[1] == "exit":
			b.exit, _ = strconv.Atoi(m[2])
			continue
		case m[1] == "says":
			last = m[2]
			b.want = append(b.want, last)
			continue
		case m[1] == "encode":
			b.encode = m[2]
			continue
		case m[1] == "write":
			b.want = append(b.want, "write: "+m[2])
			continue
		case m[1] == "good":
			b.good[last] = m[2]
			continue
		}
		if n, ok := strings.CutPrefix(line, "# repeat "); ok {
			repeat, _ = strconv.Atoi(n)
			block = nil
			continue
		}
		if line == "# end" {
			for i := range repeat {
				for _, l := range block {
					out = append(out, strings.ReplaceAll(l, "{i}", strconv.Itoa(i)))
				}
			}
			repeat = 0
			continue
		}
		if repeat > 0 {
			block = append(block, line)
			continue
		}
		out = append(out, line)
	}
	b.parts[file] = encoded(strings.Join(out, "\n"), b.encode)
}

// words takes a command line apart; ” keeps words together.
func words(s string) []string {
	var out []string
	for i, part := range strings.Split(s, "'") {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

func encoded(s, as string) string {
	switch as {
	case "utf-16le", "utf-16be":
		var b []byte
		for _, u := range utf16.Encode([]rune("\ufeff" + s)) {
			if as == "utf-16le" {
				b = binary.LittleEndian.AppendUint16(b, u)
			} else {
				b = binary.BigEndian.AppendUint16(b, u)
			}
		}
		return string(b)
	case "latin-1":
		var b []byte
		for _, r := range s {
			b = append(b, byte(r))
		}
		return string(b)
	case "cr":
		return strings.ReplaceAll(s, "\n", "\r")
	case "zero":
		return strings.ReplaceAll(s, "ä", "\x00")
	case "escape":
		return strings.ReplaceAll(s, "ä", "\x1b")
	}
	return s
}

func badFiles(t *testing.T) []*badFile {
	t.Helper()
	names, err := filepath.Glob("../../testdata/bad/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	var out []*badFile
	groups := map[string]int{}
	for _, n := range names {
		out = append(out, readBad(t, n))
		group, _, _ := strings.Cut(filepath.Base(n), "-")
		groups[group]++
	}
	for _, g := range []string{"syntax", "encoding", "type", "range", "reference", "catalog", "base", "name", "with", "out", "line", "limit"} {
		if groups[g] < 5 {
			t.Errorf("only %d files of %s", groups[g], g)
		}
	}
	if len(out) < 150 {
		t.Errorf("only %d bad files", len(out))
	}
	return out
}

// lay puts the files of a case into the current folder, in its place.
func (b *badFile) lay(t *testing.T) {
	t.Helper()
	for name, text := range b.parts {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Of every bad file all is said that must be said, at its place, and nothing
// else; nothing is answered and nothing is changed.
func TestBadFiles(t *testing.T) {
	for _, b := range badFiles(t) {
		t.Run(b.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "a", "b")
			if err := os.MkdirAll(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			t.Chdir(dir)
			b.lay(t)
			args := slices.Clone(b.run)
			for i := range args {
				args[i] = strings.ReplaceAll(args[i], "FILE", "garment.toml")
			}
			got := runIn(t, "", nil, args...)
			if got.code != b.exit || got.out != "" {
				t.Errorf("code %d, want %d: %s", got.code, b.exit, got.out)
			}
			var said []string
			for line := range strings.SplitSeq(got.err, "\n") {
				switch s := strings.TrimPrefix(line, "  "); {
				case strings.HasPrefix(line, "  write: "):
					said = append(said, s)
				case line != "" && !strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "\t"):
					said = append(said, s)
				}
			}
			slices.Sort(said) // the order is that of the places, which another test holds
			slices.Sort(b.want)
			if diff := cmp.Diff(b.want, said); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			for name, text := range b.parts {
				if data, err := os.ReadFile(name); err != nil || string(data) != text {
					t.Errorf("%s was changed: %v", name, err)
				}
			}
			if entries, err := os.ReadDir("."); err != nil || len(entries) != len(b.parts) {
				t.Errorf("there are %d files now: %v", len(entries), err)
			}
		})
	}
}

// Every advice of a bad file is taken, and the file is read: what is offered
// to be typed is typed at its place, and what is said in words stands beside
// it as somebody would write it.
func TestHintsWork(t *testing.T) {
	followed, byHand := 0, 0
	for _, b := range badFiles(t) {
		if len(b.run) != 2 || b.encode != "" || strings.HasPrefix(b.name, "limit-") || !slices.ContainsFunc(b.want, func(s string) bool { return strings.HasPrefix(s, "write: ") }) {
			continue
		}
		t.Run(b.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "a", "b")
			if err := os.MkdirAll(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			t.Chdir(dir)
			b.lay(t)
			faults := func() source.Problems {
				_, err := catalog.Load("garment.toml", catalog.Options{})
				var ps source.Problems
				if err != nil && !errors.As(err, &ps) {
					t.Fatal(err)
				}
				return ps
			}
			ps := faults()
			// said is whether a fault is one that the file was made with.
			said := func(p source.Problem) bool {
				return p.Instead != "" && slices.ContainsFunc(b.want, func(s string) bool { return strings.HasSuffix(s, ": "+p.Message) })
			}
			for range 12 {
				i := slices.IndexFunc(ps, said)
				if i < 0 {
					i = slices.IndexFunc(ps, func(p source.Problem) bool { return p.Instead != "" })
				}
				if i < 0 {
					break
				}
				p := ps[i]
				if p.Pos.Line == 0 {
					return // of the whole file: nothing to type
				}
				data, err := os.ReadFile(p.Pos.File)
				if err != nil {
					t.Fatal(err)
				}
				most := len(ps) - 1
				try := func(text string) bool {
					if err := os.WriteFile(p.Pos.File, []byte(text), 0o644); err != nil {
						t.Fatal(err)
					}
					ps = faults()
					return len(ps) <= most && !slices.ContainsFunc(ps, func(q source.Problem) bool { return q.Message == p.Message && q.Pos == p.Pos })
				}
				if good, ok := b.good[p.String()]; ok {
					byHand++
					most++
					if !try(inPlace(string(data), p, good)) {
						t.Fatalf("%v: %q does not help: %v", p, good, ps)
					}
					continue
				}
				followed++
				ways := typed(string(data), p)
				ok := slices.ContainsFunc(ways, try)
				if !ok {
					most++ // it may lead to the next advice
					ok = slices.ContainsFunc(ways, try)
				}
				switch {
				case ok:
				case said(p):
					t.Fatalf("%v: %q cannot be followed", p, p.Instead)
				default:
					return // what stood behind the fault is another one
				}
			}
			if slices.ContainsFunc(ps, said) {
				t.Errorf("still %v", ps)
			}
		})
	}
	if followed < 60 || byHand > followed/2 {
		t.Errorf("%d hints were typed, %d put into words", followed, byHand)
	}
}

// inPlace is a file with another line at the place of a problem; \n begins
// one more.
func inPlace(text string, p source.Problem, line string) string {
	lines := strings.Split(text, "\n")
	lines[p.Pos.Line-1] = strings.ReplaceAll(line, `\n`, "\n")
	return strings.Join(lines, "\n")
}

// typed are the ways in which what is offered may be typed into the file.
func typed(text string, p source.Problem) []string {
	var out []string
	line := []rune(p.Line)
	from := min(p.Pos.Column-1, len(line))
	to := min(from+max(p.Width, 1), len(line))
	for _, s := range offers(p.Instead) {
		indent := p.Line[:len(p.Line)-len(strings.TrimLeft(p.Line, " "))]
		whole := inPlace(text, p, indent+s)
		if strings.Contains(s, " = ") {
			out = append(out, whole)
		}
		out = append(out,
			inPlace(text, p, string(line[:from])+s+string(line[to:])),
			inPlace(text, p, string(line[:from])+strconv.Quote(s)+string(line[to:])),
			whole,
			inPlace(text, p, p.Line+"\n"+s),
		)
		// The text that the mark lies in, whole.
		if a, b := strings.LastIndex(string(line[:from]), `"`), strings.Index(string(line[from:]), `"`); a >= 0 && b >= 0 {
			out = append(out, inPlace(text, p, string(line[:from])[:a]+strconv.Quote(s)+string(line[from:])[b+1:]))
		}
		// From the key that is named, or to the end of the line.
		if key, _, ok := strings.Cut(s, " = "); ok {
			if i := strings.Index(p.Line, key); i >= 0 {
				out = append(out, inPlace(text, p, p.Line[:i]+s))
			}
		}
		out = append(out, inPlace(text, p, string(line[:from])+s))
		if i := strings.LastIndexAny(string(line[:from]), "=["); i >= 0 {
			out = append(out, inPlace(text, p, p.Line[:i+1]+" "+s), inPlace(text, p, p.Line[:i+1]+s))
		}
	}
	return out
}

// offers are what an advice offers to be typed.
func offers(s string) []string {
	s, _, _ = strings.Cut(s, "   ")
	s = strings.TrimPrefix(s, "a first line like: ")
	if rest, ok := strings.CutPrefix(s, "one of "); ok {
		return strings.Split(rest, ", ")
	}
	if _, like, ok := strings.Cut(s, ", like "); ok {
		s = like
	}
	first, _, _ := strings.Cut(s, ", or ")
	word, _, _ := strings.Cut(s, " or ")
	return []string{s, first, word}
}
