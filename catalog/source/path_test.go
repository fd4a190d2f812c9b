package source

import (
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

func TestPaths(t *testing.T) {
	for want, got := range map[string]string{
		"garment":                     Join("", "garment"),
		"cloth.shell.weight":          Join(Join("cloth", "shell"), "weight"),
		"closure[1].run.anchor[0].at": Join(Item(Join(Join(Item("closure", 1), "run"), "anchor"), 0), "at"),
		`cloth."wool, heavy"`:         Join("cloth", "wool, heavy"),
		`""`:                          Join("", ""),
		`a."größe"`:                   Join("a", "größe"),
		`"a.b"[0]`:                    Item(Join("", "a.b"), 0),
		`"\"\\\n\t\r\u001B"`:          Join("", "\"\\\n\t\r\x1b"),
	} {
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestStepsRefused(t *testing.T) {
	for _, path := range []string{"a.", ".a", "a..b", "a[", "a[]", "a[x]", "a[-1]", "a[99999999999]", "a]", "a=b", "a. ", "a\tb", `"a`, `"a\`, `"\q"`, "[0]", "a[0]b"} {
		if list, ok := ParsePath(path); ok {
			t.Errorf("%s: %v", path, list)
		}
	}
}

// Whatever the keys are, a path is taken apart into them again.
func FuzzPath(f *testing.F) {
	f.Add("cloth", 3, "wool, heavy")
	f.Add("", 0, "\"\\\x00\u2028]")
	f.Fuzz(func(t *testing.T, a string, n int, b string) {
		if n < 0 || n > 1<<30 || !utf8.ValidString(a) || !utf8.ValidString(b) {
			return
		}
		path := Join(Item(Join("", a), n), b)
		got, ok := ParsePath(path)
		if !ok {
			t.Fatalf("%q %d %q is not read", a, n, b)
		}
		want := Path{{a, -1}, {"", n}, {b, -1}}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
		if got.String() != path {
			t.Errorf("%s is written %s", path, got)
		}
		if again, ok := ParsePath(got.Key()); !ok || cmp.Diff(want, again) != "" {
			t.Errorf("%s is read as %v", got.Key(), again)
		}
	})
}

// One path in all the ways it may be written.
func TestPathsWritten(t *testing.T) {
	for in, want := range map[string][2]string{ // String, Key
		"closure.front.use":           {"closure.front.use", "closure.front.use"},
		"closure . front .use ":       {"closure.front.use", "closure.front.use"},
		"closure[0].use":              {"closure[0].use", "closure[0].use"},
		"cloth.wool, heavy.use":       {`cloth."wool, heavy".use`, "cloth.wool, heavy.use"},
		`cloth."wool, heavy".use`:     {`cloth."wool, heavy".use`, "cloth.wool, heavy.use"},
		`closure.front."12.5"`:        {`closure.front."12.5"`, `closure.front."12.5"`},
		`closure. "12.5" `:            {`closure."12.5"`, `closure."12.5"`},
		`a."b=c"."d[0]".""." e"`:      {`a."b=c"."d[0]".""." e"`, `a."b=c"."d[0]".""." e"`},
		"a.größe":                     {`a."größe"`, "a.größe"},
		`closure.cuff tab.run.anchor`: {`closure."cuff tab".run.anchor`, "closure.cuff tab.run.anchor"},
	} {
		p, ok := ParsePath(in)
		if !ok || p.String() != want[0] || p.Key() != want[1] {
			t.Errorf("%s: read %v, written %s and %s, want %s and %s", in, ok, p.String(), p.Key(), want[0], want[1])
		}
	}
}
