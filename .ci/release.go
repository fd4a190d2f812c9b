//go:build ignore

// Release builds the program for people who have no Go: one archive for each
// system, and SHA256SUMS. The same source and Go version give the same bytes,
// in whatever folder and at whatever time.
//
//	go run .ci/release.go FOLDER [SYSTEM/PROCESSOR…]
//	go run .ci/release.go --program FILE     the program for this system alone
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"
)

var targets = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

// most is how large the program may be.
const most = 16 << 20

// Tags leave out of the program what nothing calls: a Markdown renderer, and
// HTTP/2, which needs encryption that a page on one's own computer has not.
const tags = "urfave_cli_no_docs,nethttpomithttp2"

// cold are the packages that searches over plans hardly wait for: their calls
// are not laid into one another, which takes a twentieth off the program.
var cold = []string{
	"compress/...", "crypto/...", "encoding/...", "fmt", "html/...", "image/...", "log/...", "math/big", "mime/...", "net/...",
	"os/...", "reflect", "regexp/...", "text/...", "time", "vendor/...",
	"codeberg.org/...", "github.com/...", "golang.org/...",
	"placketeer/catalog", "placketeer/catalog/source", "placketeer/catalog/text", "placketeer/rules",
	"placketeer/rules/desk", "placketeer/rules/guide", "placketeer/rules/live", "placketeer/rules/sheet", "placketeer/rules/work",
}

// larger are the systems on which the program would still be too large: there
// everything is built so, and a search takes a little longer.
var larger = []string{"darwin/amd64", "windows/amd64"}

func main() {
	if len(os.Args) < 2 {
		fail("write: .ci/release FOLDER [SYSTEM/PROCESSOR…]")
	}
	if len(os.Args) == 3 && os.Args[1] == "--program" {
		try(os.WriteFile(os.Args[2], build(runtime.GOOS, runtime.GOARCH), 0o755))
		return
	}
	folder, wanted := os.Args[1], os.Args[2:]
	if len(wanted) == 0 {
		wanted = targets
	}
	try(os.MkdirAll(folder, 0o777))
	source := must(os.ReadFile("rules/desk/desk.go"))
	version := regexp.MustCompile(`Version = "([^"]+)"`).FindSubmatch(source)
	if version == nil {
		fail("rules/desk/desk.go has no Version")
	}
	var sums strings.Builder
	for _, target := range wanted {
		if !slices.Contains(targets, target) {
			fail(target + " is none of " + strings.Join(targets, ", "))
		}
		system, processor, _ := strings.Cut(target, "/")
		name := fmt.Sprintf("placketeer-%s-%s-%s", version[1], system, processor)
		files := []file{
			{program(system), 0o755, build(system, processor)},
			{"README.md", 0o644, must(os.ReadFile("README.md"))},
			{"LICENCES.txt", 0o644, licences(system, processor)},
		}
		pack, ending := tarball, ".tar.gz"
		if system == "windows" {
			pack, ending = zipped, ".zip"
		}
		data := pack(name, files)
		try(os.WriteFile(filepath.Join(folder, name+ending), data, 0o666))
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(data), name+ending)
		fmt.Printf("%-40s program %5.1f MB, archive %4.1f MB\n", name+ending, mb(files[0].data), mb(data))
	}
	try(os.WriteFile(filepath.Join(folder, "SHA256SUMS"), []byte(sums.String()), 0o666))
}

type file struct {
	name string
	mode int64
	data []byte
}

func program(system string) string {
	if system == "windows" {
		return "placketeer.exe"
	}
	return "placketeer"
}

// build is the program: static, stripped, without paths of this machine.
func build(system, processor string) []byte {
	dir := must(os.MkdirTemp("", "release"))
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, program(system))
	args := []string{"build", "-trimpath", "-buildvcs=false", "-tags", tags, "-ldflags", "-s -w -buildid=", "-o", out}
	if system == "windows" {
		// Loaded at a fixed address, as on Linux, it needs no table of what moves
		// with it: a hundredth of the program.
		args = append(args, "-buildmode=exe")
	}
	packages := cold
	if slices.Contains(larger, system+"/"+processor) {
		packages = []string{"all"}
	}
	for _, c := range packages {
		args = append(args, "-gcflags="+c+"=-l")
	}
	run(system, processor, append(args, ".")...)
	data := must(os.ReadFile(out))
	if len(data) > most {
		fail(fmt.Sprintf("the program for %s/%s has %.1f MB: %d MB is the most", system, processor, mb(data), most>>20))
	}
	return data
}

// licences are those of Go and of every module in the program.
func licences(system, processor string) []byte {
	var b bytes.Buffer
	add := func(name, dir string) {
		for _, file := range []string{"LICENSE", "LICENSE.txt", "LICENSE.md", "COPYING"} {
			if data, err := os.ReadFile(filepath.Join(dir, file)); err == nil {
				fmt.Fprintf(&b, "== %s\n\n%s\n", name, bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")))
				return
			}
		}
		fail("there is no licence of " + name)
	}
	root := strings.TrimSpace(string(run(system, processor, "env", "GOROOT")))
	add("Go "+runtime.Version(), root)
	list := string(run(system, processor, "list", "-deps", "-tags", tags, "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}{{end}}", "."))
	lines := slices.Sorted(strings.Lines(list))
	for _, line := range slices.Compact(lines) {
		if name, dir, ok := strings.Cut(strings.TrimSpace(line), "\t"); ok {
			add(name, dir)
		}
	}
	return b.Bytes()
}

// run runs go for a system and gives what it says.
func run(system, processor string, args ...string) []byte {
	cmd := exec.Command("go", args...)
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0", "GOAMD64=v1", "GOARM64=v8.0", "GOFLAGS=", "GOEXPERIMENT=")
	cmd.Stderr = os.Stderr
	return must(cmd.Output())
}

func tarball(folder string, files []file) []byte {
	var b bytes.Buffer
	z := must(gzip.NewWriterLevel(&b, gzip.BestCompression))
	w := tar.NewWriter(z)
	for _, f := range files {
		try(w.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: folder + "/" + f.name, Mode: f.mode, Size: int64(len(f.data)), ModTime: time.Unix(0, 0), Format: tar.FormatUSTAR}))
		must(w.Write(f.data))
	}
	try(w.Close())
	try(z.Close())
	return b.Bytes()
}

func zipped(folder string, files []file) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: folder + "/" + f.name, Method: zip.Deflate}
		h.SetMode(os.FileMode(f.mode))
		must(io.Copy(must(w.CreateHeader(h)), bytes.NewReader(f.data)))
	}
	try(w.Close())
	return b.Bytes()
}

func mb(data []byte) float64 { return float64(len(data)) / (1 << 20) }

func must[T any](x T, err error) T {
	try(err)
	return x
}

func try(err error) {
	if err != nil {
		fail(err.Error())
	}
}

func fail(says string) {
	fmt.Fprintln(os.Stderr, "release:", says)
	os.Exit(1)
}
