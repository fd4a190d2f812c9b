package source

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"
)

// tricky holds documents that a scanner easily gets wrong. They are seeds of
// the fuzz targets as well. Those marked "TOML" follow examples of the TOML
// v1.1.0 specification, toml.io.
var tricky = []string{
	"",
	"# only a comment",
	"a = 1",
	"a=1\r\n[b]\r\nc = '''x\r\n[no]\r\n'''\r\nd = 2\r\n",
	"\ufeffa = 1\n",
	// TOML, "Keys"
	"key = \"value\"\nbare_key = \"value\"\nbare-key = \"value\"\n1234 = \"value\"\n",
	"\"127.0.0.1\" = 1\n\"character encoding\" = 2\n\"ʎǝʞ\" = 3\n'key2' = 4\n'quoted \"value\"' = 5\n",
	"\"\" = 'blank'\n",
	"fruit.name = \"banana\"\nfruit. color = \"yellow\"\nfruit . flavor = \"banana\"\nsite.\"google.com\" = true\n",
	"apple.type = \"fruit\"\norange.type = \"fruit\"\napple.skin = \"thin\"\norange.skin = \"thick\"\n",
	"3.14159 = \"pi\"\n",
	// TOML, "String"
	"a = \"I'm a string. \\\"You can quote me\\\". Name\\tJos\\u00E9\\nLocation\\tSF.\"\nb = 1\n",
	"a = \"\"\"\nRoses are red # no comment\n[no.heading]\"\"\"\nb = 1\n",
	"a = \"\"\"\\\n   The quick \\\n\n  fox.\\\n  \"\"\"\nb = 1\n",
	"a = \"\"\"Two \"\" quotes\"\"\"\nb = \"\"\"\"This,\" she said\"\"\"\"\nc = '''That's ''fine'''''\nd = \"\"\"\"\"\"\ne = \"\"\n",
	"a = \"\"\"\\\"\"\"\"\nb = 1\n",
	"a = '\\'\nb = 'C:\\Users\\'\n",
	"a = \"\\\\\"\nb = \"\\e\\x41\"\n",
	// TOML, "Array"
	"a = [ [ 1, 2 ], [\"a\", \"b]\", \"c\"] ] # ]\nb = [\n  1, # [\n  2,\n]\nc = []\n",
	"a = [{ x = 1, y = 2 }, { x = 7, z.w = [ {q = 1} ] }, 5, [{u=1}]]\n",
	// TOML, "Table"
	"[dog.\"tater.man\"]\ntype.name = \"pug\"\n",
	"[ d.e.f ]\n[ g .  h  . i ]\n[ j . \"ʞ\" . 'l' ]\n",
	"[x.y.z.w]\n[x]\na = 1\n",
	"[fruit]\napple.color = 1\napple.taste.sweet = true\n[fruit.apple.texture]\nsmooth = true\n",
	// TOML, "Inline table"
	"name = { first = \"Tom\", last = \"Preston\" }\ntype = { type.name = \"pug\", \"a b\".c = 1 }\nnone = {}\n",
	"contact = {\n  # }\n  personal = {\n    name = \"Donald\",\n  },\n  work.name = 1, # last\n}\nend = true\n",
	// TOML, "Array of tables"
	"[[products]]\nname = \"Hammer\"\nsku = 738594937\n\n[[products]] # empty\n\n[[products]]\nname = \"Nail\"\ncolor = \"gray\"\n",
	"[[fruits]]\nname = \"apple\"\n[fruits.physical]\ncolor = \"red\"\n[[fruits.varieties]]\nname = \"a\"\n[[fruits.varieties]]\nname = \"b\"\n[[fruits]]\nname = \"banana\"\n[[fruits.varieties]]\nname = \"c\"\n",
	// numbers and dates
	"a = +1_000\nb = -0.0\nc = 6.626e-34\nd = 0xDEAD_beef\ne = -inf\nf = nan\ng = 1979-05-27T07:32:00.5-07:00\nh = 1979-05-27 07:32:00\ni = 07:32\nj = [1979-05-27 , 07:32:00,]\n",
	"[a]\n[[a.b]]\nc.d = [[[]], [{}]]\n[[a.b]]\nc.e = {f.g = {h = [{i = 1}]}}\n[a.b.k]\n",
	"[machine]#c\nuse='x'#c\n\t[cloth.shell]\t\n\tfibre\t=\t{\twool\t=\t80\t,\tpolyamide=20}\t#x\n",
}

// keyList joins the keys that the decoder lists.
func keyList(keys []toml.Key) []string {
	list := make([]string, 0, len(keys))
	for _, k := range keys {
		path := ""
		for _, part := range k {
			path = Join(path, part)
		}
		list = append(list, path)
	}
	return list
}

// indexKeys lists the keys of the index as the decoder does: in the order of
// the file and without item numbers.
func indexKeys(x *index) []string {
	list := make([]string, 0, len(x.order))
	for _, id := range x.order {
		var parts []string
		for ; x.nodes[id].parent >= 0; id = x.nodes[id].parent {
			if x.nodes[id].item < 0 {
				parts = append(parts, x.nodes[id].key)
			}
		}
		path := ""
		for _, p := range slices.Backward(parts) {
			path = Join(path, p)
		}
		list = append(list, path)
	}
	return list
}

// rootPaths lists the path of everything beneath v.
func rootPaths(v any, path string, list []string) []string {
	switch v := v.(type) {
	case map[string]any:
		for k, e := range v {
			list = rootPaths(e, Join(path, k), append(list, Join(path, k)))
		}
	case []any:
		for i, e := range v {
			list = rootPaths(e, Item(path, i), append(list, Item(path, i)))
		}
	}
	return list
}

// indexPaths lists the path of every node.
func indexPaths(x *index) []string {
	paths := make([]string, len(x.nodes))
	for i := 1; i < len(x.nodes); i++ {
		n := &x.nodes[i]
		if n.item >= 0 {
			paths[i] = Item(paths[n.parent], int(n.item))
		} else {
			paths[i] = Join(paths[n.parent], n.key)
		}
	}
	return paths[1:]
}

// checkIndex holds the index against what the decoder says of the same text.
func checkIndex(t *testing.T, src string) {
	t.Helper()
	d, err := Parse("f", []byte(src))
	if err != nil {
		t.Fatalf("%q: %v", src, err)
	}
	md, err := toml.Decode(src, new(map[string]any))
	if err != nil {
		t.Fatalf("%q: %v", src, err)
	}
	if diff := cmp.Diff(keyList(md.Keys()), indexKeys(d.index)); diff != "" {
		t.Errorf("%q: keys of the decoder and of the index (-want +got)\n%s", src, diff)
	}
	want, got := rootPaths(d.Root, "", nil), indexPaths(d.index)
	slices.Sort(want)
	slices.Sort(got)
	if diff := cmp.Diff(want, got); diff != "" && len(want)+len(got) > 0 {
		t.Errorf("%q: paths of the values and of the index (-want +got)\n%s", src, diff)
	}
	for _, path := range got {
		at, _ := ParsePath(path)
		id, whole := d.index.find(at)
		if !whole {
			t.Errorf("%q: %s is not found", src, path)
			continue
		}
		n := d.index.nodes[id]
		if n.item < 0 {
			key := d.text[n.keyStart:n.keyEnd]
			var m map[string]any
			if _, err := toml.Decode(key+"=0", &m); err != nil || len(m) != 1 || m[n.key] == nil {
				t.Errorf("%q: the key of %s is said to be %q", src, path, key)
			}
		}
		switch n.kind {
		case scalar, inQuotes, array, inline: // of the others the heading or key is marked
		default:
			continue
		}
		value, _ := d.Get(path)
		var m map[string]any
		if _, err := toml.Decode("v="+d.text[n.valueStart:n.valueEnd], &m); err != nil {
			t.Errorf("%q: the value of %s is said to be %q", src, path, d.text[n.valueStart:n.valueEnd])
		} else if want := plain(m["v"]); fmt.Sprint(want) != fmt.Sprint(value) {
			t.Errorf("%q: the value of %s: got %v, want %v", src, path, want, value)
		}
	}
}

func TestIndexAgreesWithDecoder(t *testing.T) {
	for _, doc := range tricky {
		checkIndex(t, doc)
	}
	// Many children: the index changes its way of looking them up.
	var b strings.Builder
	for i := range 200 {
		fmt.Fprintf(&b, "k%d = %d\n", i, i)
	}
	b.WriteString("list = [")
	for i := range 200 {
		fmt.Fprintf(&b, "{ n = %d }, [%d],", i, i)
	}
	b.WriteString("]\n")
	for i := range 200 {
		fmt.Fprintf(&b, "[[t]]\nn.m = %d\n", i)
	}
	checkIndex(t, b.String())
}

func FuzzIndex(f *testing.F) {
	for _, doc := range tricky {
		f.Add(doc)
	}
	for _, doc := range slips {
		f.Add(doc.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		_, err := Parse("f", []byte(text))
		if err == nil {
			checkIndex(t, text)
			return
		}
		ps, ok := err.(Problems)
		if !ok || len(ps) == 0 || len(ps) > MaxProblems+1 {
			t.Fatalf("%q: error %#v", text, err)
		}
		lines := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
		for i, p := range ps {
			if i == MaxProblems && strings.HasPrefix(p.Message, "and ") {
				continue
			}
			if p.Message == "" || i > 0 && p.Pos.Compare(ps[i-1].Pos) < 0 {
				t.Fatalf("%q: %v after %v", text, p, ps[max(i-1, 0)])
			}
			if p.Pos.Line < 1 || p.Pos.Line > len(lines) {
				t.Fatalf("%q: %v is outside the text", text, p.Pos)
			}
			if line := strings.TrimSuffix(lines[p.Pos.Line-1], "\r"); line != p.Line {
				t.Fatalf("%q: line %q, want %q", text, p.Line, line)
			}
			if n := len([]rune(p.Line)); p.Pos.Column < 1 || p.Pos.Column > n+1 || p.Width < 1 || p.Pos.Column+p.Width > n+2 {
				t.Fatalf("%q: %v width %d is outside the line", text, p.Pos, p.Width)
			}
		}
		var b strings.Builder
		if err := ps.Render(&b); err != nil || strings.ContainsAny(b.String(), "\x1b\r\x00") {
			t.Fatalf("%q: rendered %q", text, b.String())
		}
		// What the decoder takes may be refused only for a reason that TOML
		// or the limits give.
		if _, err := toml.Decode(text, new(map[string]any)); err == nil {
			for _, reason := range []string{"already", "is missing above", "so nothing can stand in it", "nothing can be added", "write the key", "if there are several", "takes them too", "one of several", "inside one another", "names of more than", "more than three quotes", "UTF-16"} {
				if strings.Contains(ps[0].Message, reason) {
					return
				}
			}
			t.Fatalf("%q: refused: %s", text, ps[0].Message)
		}
	})
}
