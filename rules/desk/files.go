package desk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

// options are how garments are read, from the flags.
func (in *call) options() catalog.Options {
	return catalog.Options{Catalogs: in.list("catalog"), With: in.list("with"), Stdin: in.in, As: in.text("as"), Units: in.text("units"), OneUnit: in.on("one-unit"), Variant: in.variant(), ReadFile: in.read}
}

// read reads a file and notes which it was.
func (in *call) read(name string) ([]byte, error) {
	data, err := source.ReadFile(name)
	if in.text("out") != "" {
		if st, gone := os.Stat(name); gone == nil {
			in.note(st)
		}
	}
	return data, err
}

// note keeps in mind that a file was read.
func (in *call) note(st os.FileInfo) {
	in.reading.Lock()
	defer in.reading.Unlock()
	if !slices.ContainsFunc(in.inputs, func(o os.FileInfo) bool { return os.SameFile(st, o) }) {
		in.inputs = append(in.inputs, st)
	}
}

// names are the garment files asked for: folders are walked. One that is not
// there is told at once and does not keep the others from being read; the
// error comes with the names there are.
func (in *call) names() ([]string, error) {
	args := in.args()
	if len(args) == 0 {
		return nil, usagef("say which file").write("%s %s coat.toml", Program, in.cmd.name)
	}
	if slices.Contains(args, "") {
		return nil, usagef("the name of a file is empty").write("%s %s coat.toml", Program, in.cmd.name)
	}
	var out []string
	var known []os.FileInfo
	code := ExitOK
	for _, a := range args {
		found, errs := in.filesOf(a)
		for _, err := range errs {
			code = max(code, report(in.err, err))
			in.cannotUse(a, err)
		}
		for _, f := range found {
			st, err := os.Stat(f)
			switch {
			case f == "-" || err != nil:
				if slices.Contains(out, f) {
					continue
				}
			case slices.ContainsFunc(known, func(o os.FileInfo) bool { return os.SameFile(st, o) }):
				continue
			default:
				known = append(known, st)
			}
			out = append(out, f)
		}
	}
	if err := in.keepInputs(out); err != nil {
		return nil, err
	}
	if code != ExitOK {
		return out, told{code}
	}
	return out, nil
}

// filesOf is a file, or the garment files of a folder.
func (in *call) filesOf(name string) ([]string, []error) {
	if name == "-" {
		return []string{name}, nil
	}
	name = filepath.Clean(name)
	st, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, []error{&unusable{"", in.missing(name, err)}}
	case !st.IsDir():
		return []string{name}, nil
	}
	f := in.look(name)
	if says := f.skips(); says != "" {
		fmt.Fprintf(in.err, "%s: %s\n", text.Safe(name), says)
	}
	if len(f.garments) == 0 && len(f.errs) == 0 {
		f.errs = append(f.errs, &unusable{says: fmt.Sprintf("%s: no garment file is in this folder: none of its .toml files has a line garment = \"…\"", name)})
	}
	return f.garments, f.errs
}

// missing says that a file is not there, and which near one is.
func (in *call) missing(name string, err error) error {
	if errors.Is(err, os.ErrNotExist) {
		entries, _ := os.ReadDir(filepath.Dir(name))
		var names []string
		for _, e := range entries {
			names = append(names, e.Name())
		}
		if near := text.Nearest(filepath.Base(name), names); near != "" {
			return fmt.Errorf("%w; %s is there", plain(err), filepath.Join(filepath.Dir(name), near))
		}
	}
	return plain(err)
}

// keepInputs refuses to write the answer over what it is made from: over the
// files to be read, and over those that were.
func (in *call) keepInputs(names []string) error {
	out := in.text("out")
	if out == "" {
		return nil
	}
	if out == "-" {
		return usagef("--out - is no file: without --out the answer goes to the standard output").write("no --out, or --out FILE")
	}
	if err := in.misnamed(out); err != nil {
		return err
	}
	there, err := os.Stat(out)
	if err != nil {
		return nil
	}
	if there.IsDir() {
		return usagef("--out %s is a folder", out).write("--out %s", text.Shell(filepath.Join(out, "sheet.html")))
	}
	for _, n := range append(slices.Clone(names), in.list("catalog")...) {
		if n == "-" {
			continue
		}
		if st, err := os.Stat(n); err == nil {
			in.note(st)
		}
	}
	if f, ok := in.in.(*os.File); ok && slices.Contains(in.args(), "-") {
		if st, err := f.Stat(); err == nil {
			in.note(st)
		}
	}
	for _, st := range in.inputs {
		if st.Mode().IsRegular() && os.SameFile(st, there) {
			return usagef("--out %s would write over the file it is made from", out).write("another name after --out")
		}
	}
	return nil
}

// folder is what was found in a folder and below it.
type folder struct {
	garments []string // sorted
	skipped  []string // what else there is, and why it is left out
	errs     []error
}

// skipsTold is how many of the files left out are named.
const skipsTold = 10

// skips says what was left out, and why; "" where nothing was.
func (f *folder) skips() string {
	n := len(f.skipped)
	if n == 0 {
		return ""
	}
	says := fmt.Sprintf("%d skipped: %s", n, strings.Join(f.skipped[:min(n, skipsTold)], "; "))
	if n > skipsTold {
		says += fmt.Sprintf("; and %d more", n-skipsTold)
	}
	return says
}

// look finds the garment files in a folder and below it. Hidden files and
// folders are left out. What cannot be read is an error, and does not hide the
// rest; a link to what is in the folder is no file more.
func (in *call) look(dir string) *folder {
	f := &folder{}
	var known []os.FileInfo
	links := map[string]os.FileInfo{}
	nameless := map[string]string{} // files without a line garment, and what else they are
	builds := map[string]string{}   // files that a garment builds on, and the first of those that do
	skip := func(name, why string) {
		if rel, err := filepath.Rel(dir, name); err == nil {
			name = rel
		}
		f.skipped = append(f.skipped, text.Safe(name)+" is "+why)
	}
	filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			f.errs = append(f.errs, &unusable{"", plain(err)})
			if e != nil && e.IsDir() {
				return fs.SkipDir
			}
		case name != dir && strings.HasPrefix(e.Name(), "."):
			if e.IsDir() {
				return fs.SkipDir
			}
		case !e.IsDir() && strings.EqualFold(filepath.Ext(name), ".toml"):
			st, err := os.Stat(name)
			switch {
			case err != nil && e.Type()&fs.ModeSymlink != 0 && errors.Is(err, fs.ErrNotExist):
				f.errs = append(f.errs, &unusable{says: fmt.Sprintf("%s: it is a link to a file that is not there", name)})
				return nil
			case err == nil && st.IsDir():
				skip(name, "a link to a folder, and such links are not followed")
				return nil
			}
			data, err := in.read(name)
			if err != nil {
				f.errs = append(f.errs, err)
				return nil
			}
			kind := catalog.KindOf(data)
			if kind == "garment" {
				for _, base := range catalog.BasesOf(name, data, in.read) {
					if _, there := builds[base]; !there {
						builds[base] = name
					}
				}
			}
			if kind != "catalog" && !catalog.IsNamed(data) {
				nameless[name] = kind
			}
			switch kind {
			case "garment":
				if e.Type()&fs.ModeSymlink != 0 {
					links[name] = st
					return nil
				}
				known = append(known, st)
				f.garments = append(f.garments, name)
			case "catalog":
				skip(name, "a catalogue file")
			}
		}
		return nil
	})
	for _, name := range slices.Sorted(maps.Keys(links)) {
		if slices.ContainsFunc(known, func(o os.FileInfo) bool { return os.SameFile(links[name], o) }) {
			skip(name, "a link to a file that is checked")
			continue
		}
		known = append(known, links[name])
		f.garments = append(f.garments, name)
	}
	for _, name := range slices.Sorted(maps.Keys(nameless)) {
		by, house := builds[name]
		switch {
		case house:
			if rel, err := filepath.Rel(dir, by); err == nil {
				by = rel
			}
			f.garments = slices.DeleteFunc(f.garments, func(g string) bool { return g == name })
			skip(name, "a house file, which "+text.Safe(by)+" builds on")
		case nameless[name] == "":
			skip(name, "no garment: it has neither a line garment = … nor a [[closure]]")
		}
	}
	slices.Sort(f.garments)
	slices.Sort(f.skipped)
	return f
}

// each does something with each of the garment files, as many at once as there
// are processors, and gives what came of those with which nothing is wrong, in
// the order of the files. What is wrong with a file is told, in that order
// too, and does not keep the others from being done; the error comes with what
// there is.
func each[T any](in *call, names []string, do func(name string) (T, error)) ([]T, error) {
	type result struct {
		x   T
		err error
	}
	results := make([]result, len(names))
	parallel(len(names), func(i int) { results[i].x, results[i].err = do(names[i]) })
	var out []T
	code := ExitOK
	said := teller{in: in}
	for i, r := range results {
		var change *catalog.ChangeError
		var usage *usageError
		switch {
		case errors.As(r.err, &change), errors.As(r.err, &usage):
			return nil, r.err // the command line is wrong, whatever the other files say
		case r.err != nil:
			code = max(code, said.tell(names[i], r.err))
			in.cannotUse(names[i], r.err)
		default:
			out = append(out, r.x)
		}
	}
	said.sum(len(names))
	if code != ExitOK {
		return out, told{code}
	}
	return out, nil
}

// cannotUse keeps in mind that a file cannot be used, and why.
func (in *call) cannotUse(name string, err error) {
	var ps source.Problems
	var path *fs.PathError
	if errors.As(err, &ps) {
		in.unread = append(in.unread, sheet.NewUnread(name, ps, ""))
		return
	}
	if errors.As(err, &path) && path.Path != "" {
		name = path.Path
	}
	says := strings.TrimPrefix(err.Error(), name+": ")
	if st, wrong := os.Stat(name); wrong == nil && st.IsDir() {
		if file, why, ok := strings.Cut(says, ": "); ok {
			name, says = file, why // of a file in the folder
		}
	}
	in.unread = append(in.unread, sheet.NewUnread(name, nil, says))
}

// teller tells what is wrong with several garments: what is wrong with a base
// or a catalogue of theirs once, however many name it.
type teller struct {
	in     *call
	told   map[string]bool
	failed []string // files that cannot be used
}

// tell tells what is wrong with a garment and was not told before, and gives
// the exit code.
func (t *teller) tell(name string, err error) int {
	if t.told == nil {
		t.told = map[string]bool{}
	}
	t.failed = append(t.failed, name)
	fresh := func(says string) bool {
		known := t.told[says]
		t.told[says] = true
		return !known
	}
	var ps source.Problems
	if !errors.As(err, &ps) {
		if !fresh(err.Error()) {
			return report(io.Discard, err)
		}
		return report(t.in.err, err)
	}
	left := slices.DeleteFunc(slices.Clone(ps), func(p source.Problem) bool { return !fresh(p.String()) })
	code := report(io.Discard, ps)
	if len(left) > 0 {
		report(t.in.err, left)
	}
	return code
}

// sum names the files that cannot be used, where there are several: of some
// there may have been no word.
func (t *teller) sum(of int) {
	n := len(t.failed)
	if n < 2 {
		return
	}
	names := t.failed[:min(n, skipsTold)]
	for i := range names {
		names[i] = text.Safe(names[i])
	}
	says := fmt.Sprintf("%d of %d files cannot be used: %s", n, of, strings.Join(names, ", "))
	if n > skipsTold {
		says += fmt.Sprintf(", and %d more", n-skipsTold)
	}
	fmt.Fprintln(t.in.err, says)
}

// parallel does something for each number below n, as many at once as there
// are processors.
func parallel(n int, do func(i int)) {
	if n == 1 {
		do(0)
		return
	}
	var next atomic.Int64
	var work sync.WaitGroup
	var fell atomic.Value // what a panic said: the program's last word is run's
	for range min(runtime.GOMAXPROCS(0), n) {
		work.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					fell.Store(fmt.Sprint(r))
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	work.Wait()
	if r := fell.Load(); r != nil {
		panic(r)
	}
}

// plans reads and plans garments: see each.
func (in *call) plans(names []string) ([]*rules.Planned, error) {
	return each(in, names, in.checked)
}

// checked reads and plans one garment.
func (in *call) checked(name string) (*rules.Planned, error) {
	g, err := in.load(name)
	if err == nil {
		err = in.checkSize(g)
	}
	if err != nil {
		return nil, err
	}
	of := 1
	if in.cmd.variants && g.Variant == "" {
		of += len(g.Variants()) / 8 // the file itself comes first: what settles it mostly settles them
	}
	p := search.Checked(g, search.CheckOptions{Measuring: in.measuring(), Fixes: in.cmd.fixes, Unwritten: in.unwritten(), Of: of})
	if err := in.checkVariants(p); err != nil {
		return nil, err
	}
	return p, p.SettledConflicts()
}

// unwritten says whether the answer tells changes as --with takes them alone:
// to write each into the text of the file, and to read that back, takes as long
// as to plan it.
func (in *call) unwritten() bool {
	return in.cmd.name == "check" && in.format() == "text" && !in.on("full")
}

// told is an error that was told already, with the exit code it asks for.
type told struct{ code int }

func (t told) Error() string { return "told" }

// isTold says whether an error was told already.
func isTold(err error) bool {
	var t told
	return errors.As(err, &t)
}

// oneFile is the one garment file a command is about.
func (in *call) oneFile() ([]string, error) {
	args := in.args()
	if len(args) != 1 {
		e := usagef("say which file")
		if len(args) > 1 {
			e = usagef("one garment at a time, but %d files are given", len(args))
		}
		return nil, e.write("%s %s coat.toml", Program, in.cmd.name)
	}
	if args[0] != "-" {
		if st, err := os.Stat(args[0]); args[0] != "" && err == nil && st.IsDir() {
			return nil, usagef("%s is a folder, and %s takes one file", args[0], in.cmd.name).write("%s %s %s", Program, in.cmd.name, text.Shell(filepath.Join(args[0], "coat.toml")))
		}
	}
	return in.names()
}

// plan reads and plans the one garment a command is about.
func (in *call) plan() (*rules.Planned, error) {
	names, err := in.oneFile()
	if err != nil {
		return nil, err
	}
	plans, err := in.plans(names)
	if err != nil {
		return nil, err
	}
	return plans[0], nil
}

func (in *call) load(name string) (*catalog.Garment, error) { return in.loadAs(name, in.options()) }

func (in *call) loadAs(name string, o catalog.Options) (*catalog.Garment, error) {
	for _, c := range in.list("catalog") {
		if _, err := os.Stat(c); err != nil {
			return nil, &unusable{"--catalog", in.missing(c, err)}
		}
	}
	g, err := catalog.Load(name, o)
	if err == nil {
		err = g.OnceEach()
	}
	if err == nil {
		err = rules.SettledFaults(g)
	}
	var change *catalog.ChangeError
	var problems source.Problems
	var unknown *catalog.VariantError
	if errors.As(err, &unknown) {
		return nil, noVariant(unknown)
	}
	switch {
	case err == nil, errors.As(err, &change), errors.As(err, &problems):
		return g, err
	}
	return nil, &unusable{"", plain(err)}
}

// checkSize refuses a --size that the garment has not.
func (in *call) checkSize(g *catalog.Garment) error {
	sizes := []string{in.text("size")}
	if f := in.cmd.flag("size"); f != nil && f.list {
		sizes = in.list("size")
	}
	for _, size := range sizes {
		if size == "" || slices.Contains(g.Sizes, size) {
			continue
		}
		says, instead := text.NoSuch(g.File, "size", size, g.Sizes)
		if instead == "" {
			return usagef("--size: %s", says).write("the command without --size")
		}
		return usagef("--size: %s", says).write("--size %s", instead)
	}
	return nil
}

// measuring is how lengths were measured, "" where that was not said.
func (in *call) measuring() string {
	if in.cmd.flag("measuring") == nil {
		return ""
	}
	return in.text("measuring")
}

// verdict is the error of a run whose answer has been handed over. With
// --size only what is said of that size counts.
func (in *call) verdict(plans []*rules.Planned) error {
	if slices.ContainsFunc(plans, in.stands) {
		return conflict{}
	}
	return nil
}

// stands says whether something stands in the way of a garment. Of what has no
// places the papers cannot be followed, though it is but a caution.
func (in *call) stands(p *rules.Planned) bool {
	least := rules.Conflict
	if in.on("strict") {
		least = rules.Caution
	}
	size := in.text("size")
	return slices.ContainsFunc(p.All(), func(p *rules.Planned) bool {
		return slices.ContainsFunc(p.Findings, func(f rules.Finding) bool {
			return (f.Severity >= least && f.Settled == "" || f.Unlaid()) && (size == "" || f.Size == "" || f.Size == size)
		})
	})
}
