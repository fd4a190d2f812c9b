package sheet

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/work"
)

// The page to work from is about two sheets of a terminal's lines: 160 for the
// coat of five sizes, 200 for any other demo, none wider than 80 columns.
func TestSpecFits(t *testing.T) {
	for _, f := range demos(t) {
		most := 200
		switch filepath.Base(f) {
		case "watch-coat-ready.toml":
			most = 150
		case "watch-coat.toml": // and its conflicts
			most = 162
		}
		lines := strings.Split(strings.TrimSuffix(specified(t, []*rules.Planned{planned(t, f)}, Options{UTF8: true}), "\n"), "\n")
		if len(lines) > most {
			t.Errorf("%s: %d lines, over %d", filepath.Base(f), len(lines), most)
		}
		for _, l := range lines {
			if text.Width(l) > DefaultWidth {
				t.Errorf("%s: %d columns: %s", filepath.Base(f), text.Width(l), l)
			}
		}
	}
}

var cited = regexp.MustCompile(`\[(\d+(?:,\s+\d+)*)\]`)

// Working and sources stand where they are asked for, and nowhere else; every
// number in brackets is that of a source, and every source is cited.
func TestSpecFlags(t *testing.T) {
	ps := []*rules.Planned{demo(t, "watch-coat")}
	for _, format := range []string{"text", "markdown"} {
		for _, o := range []Options{{}, {Working: true}, {Sources: true}, {Working: true, Sources: true}} {
			o.Format, o.UTF8 = format, true
			out := strings.ReplaceAll(specified(t, ps, o), `\`, "")
			for _, part := range []string{"How each number came about", "Each finding in full", "What to measure first"} {
				if strings.Contains(out, part) != o.Working {
					t.Errorf("%s, %+v: %q is there: %v", format, o, part, !o.Working)
				}
			}
			body, list, has := strings.Cut(out, "\nSources\n")
			if format == "markdown" {
				body, list, has = strings.Cut(out, "\n## Sources\n")
			}
			if has != o.Sources {
				t.Errorf("%s, %+v: there are sources: %v", format, o, has)
			}
			seen := map[string]bool{}
			for _, m := range cited.FindAllStringSubmatch(body, -1) {
				for _, n := range regexp.MustCompile(`\d+`).FindAllString(m[1], -1) {
					seen[n] = true
				}
			}
			n := len(regexp.MustCompile(`(?m)^(?:\[\d+\]|\d+\. )`).FindAllString(list, -1))
			if has && n < 10 || len(seen) != n {
				t.Errorf("%s, %+v: %d sources are cited, %d are listed", format, o, len(seen), n)
			}
			for k := range n {
				if !seen[itoa(k+1)] {
					t.Errorf("%s, %+v: source %d is not cited", format, o, k+1)
				}
			}
		}
	}
	// A page has both, folded away until they are asked for.
	for _, o := range []Options{{}, {Working: true}, {Sources: true}} {
		o.Format = "html"
		out := specified(t, ps, o)
		for id, open := range map[string]bool{"full": o.Working, "working": o.Working, "measure": o.Working, "sources": o.Sources} {
			_, after, has := strings.Cut(out, `<h3 id="g1-`+id+`"`)
			if tag := regexp.MustCompile(`<details[^>]*>`).FindString(after); !has || strings.HasSuffix(tag, " open>") != open {
				t.Errorf("%+v: %s is %q", o, id, tag)
			}
		}
	}
}

// The verdict counts the lines that are printed.
func TestSpecCounts(t *testing.T) {
	for _, f := range demos(t) {
		out := specified(t, []*rules.Planned{planned(t, f)}, Options{UTF8: true})
		out, _, _ = strings.Cut(out, "\nClosures\n")
		said := strings.Join(strings.Fields(out), " ")
		count := map[string]int{}
		for _, p := range screenParts {
			if _, part, has := strings.Cut(out, "\n"+p.title+"\n"); has {
				part, _, _ = strings.Cut(part, "\n\n")
				n := strings.Count("\n"+part, "\n  - ")
				switch {
				case p.has(&rules.Entry{Finding: rules.Finding{Rule: "stand-narrow", Severity: rules.Conflict}}):
					count["conflict"] += n
				case strings.HasPrefix(p.title, "For safety") || strings.HasPrefix(p.title, "Sew"):
					count["caution"] += n
				default:
					count["note"] += n
				}
			}
		}
		for word, n := range count {
			want := text.Count(n, word)
			if !strings.Contains(said, want+",") && !strings.Contains(said, want+" (") {
				t.Errorf("%s: no %q in %s", filepath.Base(f), want, said[:200])
			}
		}
	}
}

// What is to cut is what the checklist cuts, as wide and as often.
func TestCuttingIsTheChecklist(t *testing.T) {
	files := demos(t)
	worked, err := filepath.Glob("../../testdata/worked/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range worked {
		if !strings.HasSuffix(f, ".want.toml") {
			files = append(files, f)
		}
	}
	files = append(files, "../../testdata/plan/try-on.toml", "../../testdata/plan/test-coat.toml", "../../testdata/pieces/toggle-zip.toml", "../../testdata/pieces/zip-flap.toml")
	rows := 0
	for _, f := range files {
		p := planned(t, f)
		var tasks []string
		for _, task := range work.Order(p, "") {
			tasks = append(tasks, strings.Join(append([]string{task.Do}, task.Lines...), " "))
		}
		said := strings.Join(tasks, "\n")
		for _, r := range prepare(p, Options{}).cutting().Rows {
			rows++
			what, pieces, wide, long := r[1].Text, r[2].Text, r[3].Text, r[4].Text
			of := strings.Contains
			if wide != "" && !of(said, wide) && !strings.HasPrefix(what, "flap,") {
				t.Errorf("%s: nothing is cut %s wide as %s is", filepath.Base(f), wide, what)
			}
			for kind, name := range map[string]string{"strip of the ": "strip", "patch of the ": "patch"} {
				if !strings.HasPrefix(what, kind) {
					continue
				}
				if pieces != "1" {
					name = map[string]string{"strip": "strips", "patch": "patches"}[name]
				}
				if !of(said, fmt.Sprintf("Cut %s %s of %s", pieces, name, what[len("strip of "):])) {
					t.Errorf("%s: the checklist does not cut %s %s", filepath.Base(f), pieces, what)
				}
			}
			if first, _, _ := strings.Cut(long, " to "); long != "" && !of(said, first) {
				t.Errorf("%s: nothing is cut %s long as %s is", filepath.Base(f), first, what)
			}
		}
	}
	if rows < 80 {
		t.Errorf("only %d things are cut", rows)
	}
}

// Ten sizes are ten rows of one table and ten drawings.
func TestAllSizes(t *testing.T) {
	var names, lengths []string
	for i := range 10 {
		names = append(names, fmt.Sprintf("%q", itoa(32+2*i)))
		lengths = append(lengths, fmt.Sprintf("%d = %d", 32+2*i, 500+20*i))
	}
	p := fromText(t, strings.Replace(strings.Replace(double, "length = 500", "length = { "+strings.Join(lengths, ", ")+" }", 1),
		`units = "mm"`, "units = \"mm\"\nsizes = { names = ["+strings.Join(names, ", ")+"] }", 1))
	if n := len(p.Garment.Sizes); n != 10 {
		t.Fatalf("%d sizes", n)
	}
	page := specified(t, []*rules.Planned{p}, Options{Format: "html"})
	if n := strings.Count(page, "<svg "); n != 10 {
		t.Errorf("%d drawings", n)
	}
	tables := papersOf(t, p, "")
	for format, paper := range tables {
		i := slices.IndexFunc(paper.tables, func(t readTable) bool { return strings.Contains(t.caption, "centres from") })
		if i < 0 || len(paper.tables[i].rows) != 10+1+9 {
			t.Errorf("%s: not ten sizes and nine steps: %+v", format, paper.tables)
		}
	}
}
