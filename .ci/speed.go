//go:build ignore

// Speed prints how fast and how light the program is, beside what is aimed
// at. Runs of the program take turns with runs of an empty Go program, and of
// each the best counts, so that a busy machine changes little. It judges
// nothing.
//
//	go run .ci/speed.go
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

const (
	rounds  = 25
	folder  = 1000 // garments
	garment = "testdata/garments/watch-coat.toml"
)

func main() {
	dir := must(os.MkdirTemp("", "speed"))
	defer os.RemoveAll(dir)
	program, empty := filepath.Join(dir, "program"), filepath.Join(dir, "empty")
	try(os.WriteFile(filepath.Join(dir, "empty.go"), []byte("package main\n\nfunc main() {}\n"), 0o666))
	build(empty, filepath.Join(dir, "empty.go"))
	release := exec.Command("go", "run", ".ci/release.go", "--program", program)
	release.Stderr = os.Stderr
	try(release.Run())

	row("", "now", "aim")
	row("size of the program", fmt.Sprintf("%.1f MB", float64(must(os.Stat(program)).Size())/(1<<20)), "16 MB")
	for _, c := range []struct {
		aim  string
		args []string
	}{
		{"3", []string{"--version"}},
		{"3.5", []string{"stand", "--diameter", "45L"}},
		{"5", []string{"check", garment}},
	} {
		floor, took := 1e9, 1e9
		for range rounds {
			a, _ := timed(empty)
			b, _ := timed(program, c.args...)
			floor, took = min(floor, a), min(took, b)
		}
		row(strings.Join(c.args, " ")+" ÷ an empty program", fmt.Sprintf("%.1f (%.1f to %.1f ms)", took/floor, took*1e3, floor*1e3), c.aim)
	}

	read := bench("./catalog", "^Benchmark(Read|Decode)$")
	row("reading a garment ÷ bare decoding of it", fmt.Sprintf("%.1f (%.2f to %.2f ms)", read["Read"]/read["Decode"], read["Read"], read["Decode"]), "2.5")
	search := bench("./rules/search", "^Benchmark(Fixes|Evidence|Choose100k)$")
	row("fixes of the watch coat, with the joint fix", fmt.Sprintf("%.1f ms", search["Fixes"]), "4 ms without the joint fix")
	row("and what to measure first", fmt.Sprintf("%.1f ms", search["Evidence"]), "15 ms")
	row("choose among 100 000, twelve sizes", fmt.Sprintf("%.2f s", search["Choose100k"]/1e3), "1 s")
	args := append([]string{"choose", filepath.Join(dir, "crowd.txt")}, notions(dir)...)
	try(os.WriteFile(args[1], []byte(crowd(1, 12)), 0o666))
	took, memory := timed(program, args...)
	row("the same by the program, 100 catalogue files read", fmt.Sprintf("%.2f s, %.0f MB", took, float64(memory)/1e6), "200 MB")

	many(dir)
	took, memory = 1e9, 1<<62
	for range 3 {
		t, m := timed(program, "check", dir)
		took, memory = min(took, t), min(memory, m)
	}
	row(fmt.Sprintf("check of a folder of %d garments", folder), fmt.Sprintf("%.0f a second, %d MB", folder/took, memory>>20), "1000 a second, 100 MB")

	for _, c := range []struct{ what, text, aim, command string }{
		{"guide of 100 closures in 60 sizes, refused", crowd(100, 60), "256 MB", "mark"},
		{"a file of 1 MiB with a fault at every turn", strings.Replace(crowd(1, 1), "count = 6", "count = 6\nanchor = ["+strings.Repeat(`{name="a",at=1},`, 64000)+"]", 1), "2 s, 256 MB", "check"},
	} {
		name := filepath.Join(dir, "one.toml")
		try(os.WriteFile(name, []byte(c.text), 0o666))
		args := []string{c.command, name}
		if c.command == "mark" {
			args = append(args, "--out", filepath.Join(dir, "one.pdf"))
		}
		took, memory := timed(program, args...)
		row(c.what, fmt.Sprintf("%.2f s, %d MB", took, memory>>20), c.aim)
	}
}

// crowd is a garment with so many closures and sizes.
func crowd(closures, sizes int) string {
	var names, lengths []string
	for i := range sizes {
		names, lengths = append(names, fmt.Sprintf("\"s%02d\"", i)), append(lengths, fmt.Sprintf("s%02d = %d", i, 600+5*i))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "garment = \"Many closures (invented)\"\nunits = \"mm\"\n[sizes]\nnames = [%s]\n[cloth.shell]\nuse = \"melton\"\n", strings.Join(names, ", "))
	for i := range closures {
		fmt.Fprintf(&b, "[[closure]]\nname = \"c%02d\"\nopening = \"o%02d\"\nuse = \"horn-36\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = { %s }\ncount = 6\n", i, i, strings.Join(lengths, ", "))
	}
	return b.String()
}

func row(what, now, aim string) { fmt.Printf("%-48s %-36s %s\n", what, now, aim) }

// build builds a small Go program as the whole one is released.
func build(out, source string) {
	cmd := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", out, source)
	cmd.Env, cmd.Stderr = append(os.Environ(), "CGO_ENABLED=0"), os.Stderr
	try(cmd.Run())
}

// timed runs a command: its seconds, and the most memory it had. Whatever it
// answers is no matter.
func timed(name string, args ...string) (seconds float64, memory int64) {
	cmd := exec.Command(name, args...)
	begun := time.Now()
	if err := cmd.Run(); cmd.ProcessState == nil {
		try(err)
	}
	seconds = time.Since(begun).Seconds()
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		memory = int64(u.Maxrss) << 10
	}
	return seconds, memory
}

var line = regexp.MustCompile(`(?m)^Benchmark(\w+?)(?:-\d+)?\s+\d+\s+([\d.]+) ns/op`)

// bench runs benchmarks: of each the best, in milliseconds.
func bench(pkg, which string) map[string]float64 {
	cmd := exec.Command("go", "test", "-run", "^$", "-bench", which, "-count", "3", pkg)
	cmd.Stderr = os.Stderr
	out := map[string]float64{}
	for _, m := range line.FindAllStringSubmatch(string(must(cmd.Output())), -1) {
		least(out, m[1], number(m[2])/1e6)
	}
	return out
}

func least(m map[string]float64, k string, x float64) {
	if old, ok := m[k]; !ok || x < old {
		m[k] = x
	}
}

func number(s string) float64 { return must(strconv.ParseFloat(s, 64)) }

// notions writes 100 catalogues of 1000 buttons each, and gives the flags that
// name them.
func notions(dir string) (flags []string) {
	for f := range 100 {
		var b strings.Builder
		for i := range 1000 {
			n := 1000*f + i
			fmt.Fprintf(&b, "[[button]]\nname = \"horn-no%d\"\nsource = \"invented\"\ndiameter = \"%.1f mm\"\nthickness = \"%.1f mm\"\nprice = %.2f\n", n, float64(80+n%320)/10, float64(15+n%70)/10, float64(10+n%400)/100)
		}
		name := filepath.Join(dir, fmt.Sprintf("notions-%d.txt", f)) // no garment of the folder
		try(os.WriteFile(name, []byte(b.String()), 0o666))
		flags = append(flags, "--catalog", name)
	}
	return flags
}

// many writes a folder of demo garments, those with conflicts and those
// without in turn.
func many(dir string) {
	var kinds [2][]string
	for _, name := range must(filepath.Glob("testdata/garments/*.toml")) {
		data := must(os.ReadFile(name))
		switch {
		case !regexp.MustCompile(`(?m)^garment`).Match(data):
			try(os.WriteFile(filepath.Join(dir, filepath.Base(name)), data, 0o666))
		case strings.HasSuffix(name, "-ready.toml"):
			kinds[0] = append(kinds[0], string(data))
		default:
			kinds[1] = append(kinds[1], string(data))
		}
	}
	if slices.ContainsFunc(kinds[:], func(k []string) bool { return len(k) == 0 }) {
		try(fmt.Errorf("no demo garments"))
	}
	for i := range folder {
		k := kinds[i%2]
		try(os.WriteFile(filepath.Join(dir, fmt.Sprintf("g%04d.toml", i)), []byte(k[i/2%len(k)]), 0o666))
	}
}

func must[T any](x T, err error) T {
	try(err)
	return x
}

func try(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "speed:", err)
		os.Exit(1)
	}
}
