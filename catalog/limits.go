package catalog

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// Limits of what is read, ours: far above any garment, and low enough that
// whatever is within them is planned in seconds. The README states them.
const (
	MaxClosures = 100     // of a garment
	MaxParts    = 100     // cloths, interfacings, threads, cords of a garment, each
	MaxSizes    = 60      // of a garment
	MaxMarks    = 50      // anchors of a run, and as many clear zones
	MaxLayers   = 40      // over or under
	MaxCatalogs = 20      // named by a garment
	MaxItems    = 200     // of any other list
	MaxName     = 80      // letters of a name
	MaxText     = 1000    // letters of any other text
	MaxEntries  = 100_000 // of a catalogue
)

// maxFaults is how many faults of a file are put into words; the rest is
// counted.
const maxFaults = 1000

// rootOf is the folder that the files a garment names must lie in: the
// nearest folder above it that has .git, else the one above its own. dir is
// the garment's folder, with no links in it.
func rootOf(dir string) string {
	for d := dir; ; d = filepath.Dir(d) {
		if _, err := os.Lstat(filepath.Join(d, ".git")); err == nil {
			return d
		}
		if filepath.Dir(d) == d {
			return filepath.Dir(dir)
		}
	}
}

// withoutLinks is the place of a file in the system, of one that is not there
// as far as that can be told.
func withoutLinks(name string) string {
	abs, err := filepath.Abs(name)
	if err != nil {
		return name
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		return filepath.Join(dir, filepath.Base(abs))
	}
	return abs
}

// outside says whether a file that a garment in a folder names lies where a
// garment may not name files.
func outside(dir, name string) bool {
	rel, err := filepath.Rel(rootOf(withoutLinks(dir)), withoutLinks(name))
	return err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// speaksOf says whether a line of a file begins like one of ours: with one of
// the words as a key or a heading. Of a file that cannot be read, it tells
// whether the file was meant to be ours, and may be shown.
func speaksOf(data []byte, words []string, after string) bool {
	for line := range strings.FieldsFuncSeq(strings.TrimPrefix(string(data), "\ufeff"), func(r rune) bool { return r == '\n' || r == '\r' }) {
		head := strings.TrimLeft(line, " \t[\"'“”")
		n := 0
		for n < len(head) && (head[n] >= 'a' && head[n] <= 'z' || head[n] == '-') {
			n++
		}
		next := strings.TrimLeft(head[n:], " \t\"'“”")
		heading := strings.HasPrefix(strings.TrimLeft(line, " \t"), "[")
		if n > 0 && (heading || after == "" || next != "" && strings.ContainsRune(after, rune(next[0]))) && slices.Contains(words, head[:n]) {
			return true
		}
	}
	return false
}

// alien is the problem of a file that is none of ours: it shows nothing of
// what the file holds.
func alien(file, message, instead string) source.Problems {
	return source.Problems{{Pos: source.Pos{File: file}, Width: 1, Message: message, Instead: instead}}
}

// asGarment says what is wrong with a file that is no garment, where it is
// something else altogether; nil where it may be one. doc is nil where the
// file could not be parsed.
func asGarment(file string, data []byte, doc *source.Document) error {
	if doc == nil {
		if odd := string(data[:min(len(data), 2)]); odd == "\xff\xfe" || odd == "\xfe\xff" {
			return nil // UTF-16, which is said
		}
		if speaksOf(data, rootWords(), "=.") || speaksOf(data, []string{"garment", "units"}, "") {
			return nil
		}
		return alien(file, "this is not a garment file: no line of it begins like one", `placketeer start --out coat.toml, for a file to begin with`)
	}
	for _, key := range []string{"garment", "closure", "units"} {
		if has(doc.Root, key) {
			return nil
		}
	}
	kinds := Kinds()
	for _, key := range sortedKeys(doc.Root) {
		if _, list := tables(doc.Root[key]); list && slices.Contains(kinds, key) {
			return alien(file, "this is a catalogue file and not a garment", `--catalog `+text.Shell(file)+` beside a garment, or catalog = ["`+filepath.Base(file)+`"] in it`)
		}
	}
	return nil
}

// garmentLine is the line that tells a garment file from any other.
var garmentLine = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?m)^[ \t]*"?garment"?[ \t]*=`)
})

// KindOf says what a file of a folder is: "garment", "catalog", or "" for
// what is neither. One that cannot be read is taken for what its lines look
// like, so that what is wrong with a garment is told.
func KindOf(data []byte) string {
	if garmentLine().Match(data) {
		return "garment"
	}
	doc, err := source.Parse("", data)
	switch {
	case err != nil && speaksOf(data, []string{"garment", "closure", "units"}, "=."), err == nil && has(doc.Root, "closure"):
		return "garment"
	case err != nil && speaksOf(data, Kinds(), "="):
		return "catalog"
	case err == nil && asGarment("", data, doc) != nil:
		return "catalog"
	}
	return ""
}

// rootWords are the keys of a garment file.
func rootWords() []string {
	stock, err := StockCatalog()
	if err != nil {
		return nil
	}
	return names(stock.rootKeys())
}

// asCatalog is asGarment for a catalogue file.
func asCatalog(file string, data []byte, doc *source.Document) error {
	none := alien(file, "this is not a catalogue file: it has no table such as [[button]] or [[cloth]]", "placketeer catalog show horn-40, to see how an entry is written")
	kinds := Kinds()
	if doc == nil {
		if speaksOf(data, kinds, "=") {
			return nil
		}
		return none
	}
	if has(doc.Root, "garment") || has(doc.Root, "closure") {
		return alien(file, "this is a garment file and not a catalogue", "")
	}
	for key := range doc.Root {
		if text.Nearest(key, kinds) != "" {
			return nil
		}
	}
	if len(doc.Root) == 0 {
		return nil
	}
	return none
}
