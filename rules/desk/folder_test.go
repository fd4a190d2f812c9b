package desk

import (
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// A folder is told garment by garment, as each is told alone, in the order of
// the names, however many are planned at once.
func TestFolderIsItsGarments(t *testing.T) {
	dir := demos(t, 12)
	for _, flags := range [][]string{nil, {"--full"}, {"--format", "lines"}, {"--color", "always"}, {"--quiet"}} {
		args := func(what string) []string { return append([]string{"check", what}, flags...) }
		got := runIn(t, "", nil, args(dir)...)
		was := runtime.GOMAXPROCS(1)
		if one := runIn(t, "", nil, args(dir)...); one != got {
			t.Errorf("%v: on one processor it is another answer", flags)
		}
		runtime.GOMAXPROCS(was)
		rest, code := got.out, ExitOK
		names, err := filepath.Glob(filepath.Join(dir, "g*.toml"))
		if err != nil || len(names) != 12 {
			t.Fatal(names, err)
		}
		for _, name := range names {
			alone := runIn(t, "", nil, args(name)...)
			code = max(code, alone.code)
			if len(flags) > 0 && flags[0] == "--quiet" {
				if strings.Contains(got.out, alone.out) {
					t.Errorf("%v: %s is told", flags, name)
				}
				continue
			}
			_, after, there := strings.Cut(rest, alone.out)
			if !there || alone.out == "" {
				t.Fatalf("%v: %s is not told as it is alone, or not in its place", flags, name)
			}
			rest = after
		}
		if got.code != code {
			t.Errorf("%v: code %d, not %d", flags, got.code, code)
		}
	}
}

// demos is a folder of n demo garments, those with conflicts and those without
// in turn, with the catalogues that they name.
func demos(tb testing.TB, n int) string {
	tb.Helper()
	dir := tb.TempDir()
	from := filepath.Join("..", "..", "testdata", "garments")
	names, err := filepath.Glob(filepath.Join(from, "*.toml"))
	if err != nil {
		tb.Fatal(err)
	}
	var kinds [2][]string
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			tb.Fatal(err)
		}
		switch text := string(data); {
		case !strings.HasPrefix(text, "garment") && !strings.Contains(text, "\ngarment"):
			write(filepath.Base(name), text)
		case strings.HasSuffix(name, "-ready.toml"):
			kinds[0] = append(kinds[0], text)
		default:
			kinds[1] = append(kinds[1], text)
		}
	}
	for i := range n {
		k := kinds[i%2]
		write("g"+string(rune('a'+i/26))+string(rune('a'+i%26))+".toml", k[i/2%len(k)])
	}
	return dir
}

// A fault of a catalogue or a base that many garments name is told once, and
// which garments it stops; what is wrong with one garment alone is told there.
func TestFaultsOfACatalogueAreToldOnce(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("own.toml", "[[button]]\nname = \"own\"\nsource = \"invented\"\ndiameter = \"1 in\"\nthicknes = \"1/8 in\"\n")
	write("house.toml", "market = \"moon\"\n")
	for _, n := range []string{"a", "b", "c"} {
		write(n+".toml", "catalog = [\"own.toml\"]\n"+coat)
		write("on-"+n+".toml", "base = \"house.toml\"\n"+coat)
	}
	write("d.toml", "catalog = [\"own.toml\"]\n"+coat+"cuont = 3\n")
	write("fine.toml", coat)
	for _, flags := range [][]string{nil, {"--quiet"}, {"--format", "lines"}, {"--format", "json"}, {"--format", "sarif"}} {
		got := runIn(t, "", nil, append([]string{"check", dir}, flags...)...)
		if got.code != ExitInput {
			t.Errorf("%v: code %d", flags, got.code)
		}
		for _, once := range []string{"own.toml:5:1: unknown key \"thicknes\"", "house.toml:1:10", "7 of 8 files cannot be used: "} {
			if n := strings.Count(got.err, once); n != 1 {
				t.Errorf("%v: %q is told %d times:\n%s", flags, once, n, got.err)
			}
		}
		for _, name := range []string{"a.toml", "b.toml", "c.toml", "d.toml", "on-a.toml", "on-b.toml", "on-c.toml"} {
			if !strings.Contains(got.err, name) {
				t.Errorf("%v: %s is not named", flags, name)
			}
		}
		if strings.Contains(got.err, "fine.toml") || got.out == "" {
			t.Errorf("%v: the garment that can be used is not told, or told to be none:\n%s", flags, got.err)
		}
	}
	if got := runIn(t, "", nil, "check", filepath.Join(dir, "a.toml"), filepath.Join(dir, "fine.toml"), "--catalog", filepath.Join(dir, "none.toml")); strings.Count(got.err, "none.toml") != 1 {
		t.Errorf("a catalogue that is not there is told again:\n%s", got.err)
	}
}

// A file that cannot be used has its row before all others, its lines, its
// object and its notifications: a folder is never told as if it were whole.
func TestUnreadableHasARow(t *testing.T) {
	dir := demos(t, 3)
	if err := os.WriteFile(filepath.Join(dir, "broken.toml"), []byte("garment = \"Broken\"\nunits = \"cm\"\n[[closure]]\nnaem = \"front\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("nowhere.toml", filepath.Join(dir, "lost.toml")); err != nil {
		t.Skip(err)
	}
	t.Chdir(dir)
	const broken = "broken.toml"
	for _, flags := range [][]string{nil, {"--quiet"}} {
		got := runIn(t, "", nil, append([]string{"check", "."}, flags...)...)
		rows := got.out[strings.Index(got.out, "garment  "):]
		first, lost, worst := strings.Index(rows, "broken.toml"), strings.Index(rows, "lost.toml"), strings.Index(rows, " conflict ")
		if first < 0 || lost < first || worst < lost || got.code != ExitInput {
			t.Errorf("%v: code %d, rows at %d, %d, %d:\n%s", flags, got.code, first, lost, worst, rows)
		}
		if !strings.Contains(rows, "5 garments: 2 cannot be read, ") {
			t.Errorf("%v: not counted:\n%s", flags, rows)
		}
	}
	if got := runIn(t, "", nil, "check", ".", "--format", "lines"); !strings.HasPrefix(got.out, broken+`:2:9: error: units cannot be "cm"; write "mm" [unreadable]`) {
		t.Errorf("lines: %.200s", got.out)
	}
	if got := runIn(t, "", nil, "check", broken, "--format", "lines"); strings.Count(got.out, "[unreadable]\n") != 5 || got.code != ExitInput {
		t.Errorf("lines of one file: %+v", got)
	}
	got := runIn(t, "", nil, "check", ".", "--format", "json")
	k := jsonschema.NewCompiler()
	schema, err := jsonschema.UnmarshalJSON(strings.NewReader(runIn(t, "", nil, "schema", "output", "check").out))
	if err == nil {
		err = k.AddResource("x.json", schema)
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := k.Compile("x.json")
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(got.out))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(v); err != nil {
		t.Error(err)
	}
	if list := v.([]any); len(list) != 5 || list[0].(map[string]any)["verdict"] != "unreadable" || list[0].(map[string]any)["file"] != broken {
		t.Errorf("json: %d objects, the first %v", len(list), list[0])
	}
	if got := runIn(t, "", nil, "check", ".", "--format", "sarif"); strings.Count(got.out, `"toolExecutionNotifications"`) != 1 || !strings.Contains(got.out, `"executionSuccessful": false`) {
		t.Error("sarif: no notification")
	}
	if got := runIn(t, "", nil, "check", "gaa.toml", "--format", "sarif"); strings.Contains(got.out, "invocations") {
		t.Error("sarif: a notification of nothing")
	}
}

// The table of a folder counts as the first line of each garment does.
func TestFolderCountsAsItsGarments(t *testing.T) {
	t.Chdir(filepath.Join("..", "..", "testdata", "collection"))
	names, err := filepath.Glob("*.toml")
	if err != nil {
		t.Fatal(err)
	}
	table := runIn(t, "", nil, "check", ".", "--quiet").out
	head := regexp.MustCompile(`(\d+) (conflict|caution|note)s?\b`)
	seen := 0
	for _, name := range names {
		alone := runIn(t, "", nil, "check", name)
		if alone.code == ExitInput { // a house file, a catalogue
			continue
		}
		first, _, _ := strings.Cut(strings.Join(strings.Fields(alone.out), " "), " closure")
		says := map[string]string{"conflict": "0", "caution": "0", "note": "0"}
		for _, m := range head.FindAllStringSubmatch(first, -1) {
			says[m[2]] = m[1]
		}
		row := regexp.MustCompile(`(\d+) +(\d+) +(\d+) +` + regexp.QuoteMeta(name) + `\n`).FindStringSubmatch(table)
		if row == nil {
			t.Fatalf("no row of %s in\n%s", name, table)
		}
		if row[1] != says["conflict"] || row[2] != says["caution"] || row[3] != says["note"] {
			t.Errorf("%s: its first line says %v, its row %v", name, says, row[1:])
		}
		seen++
	}
	if seen < 5 {
		t.Errorf("only %d garments", seen)
	}
}
