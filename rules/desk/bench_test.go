package desk

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkStart is what the program does beside beginning and ending: a
// command that needs no file, the first help, and an answer from flags alone.
func BenchmarkStart(b *testing.B) {
	for _, line := range []string{"--version", "--help", "convert 45L", "stand --diameter 45L", "check ../../testdata/garments/watch-coat.toml"} {
		b.Run(strings.Fields(line)[0], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Run(append([]string{Program}, strings.Fields(line)...), strings.NewReader(""), io.Discard, io.Discard)
			}
		})
	}
}

// BenchmarkFolder is a folder of a hundred demo garments, half of them with
// conflicts, in text.
func BenchmarkFolder(b *testing.B) { benchmarkRun(b, "check", demos(b, 100)) }

// BenchmarkHostile is a file within 1 MiB that has a fault at every turn.
func BenchmarkHostile(b *testing.B) {
	coat := "garment = \"Quay coat\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nuse = \"horn-30\"\nover = [\"shell\"]\n[closure.run]\nlength = 600\ncount = 5\nanchor = ["
	at := files(b, map[string]string{"coat.toml": coat + strings.Repeat(`{name="a",at=1},`, 65000) + "]\n"})
	benchmarkRun(b, "check", at("coat.toml"))
}

// BenchmarkCrowd is the guide of a hundred closures in sixty sizes, which is
// too large to be drawn.
func BenchmarkCrowd(b *testing.B) {
	at := files(b, map[string]string{"crowd.toml": crowded(100, 60)})
	benchmarkRun(b, "mark", at("crowd.toml"), "--out", filepath.Join(b.TempDir(), "x.pdf"))
}

func benchmarkRun(b *testing.B, args ...string) {
	b.ReportAllocs()
	for b.Loop() {
		Run(append([]string{Program}, args...), strings.NewReader(""), io.Discard, io.Discard)
	}
}

// crowded is a garment with so many closures and sizes.
func crowded(closures, sizes int) string {
	var b strings.Builder
	var names, lengths []string
	for i := range sizes {
		names, lengths = append(names, fmt.Sprintf("%q", fmt.Sprintf("s%02d", i))), append(lengths, fmt.Sprintf("s%02d = %d", i, 600+5*i))
	}
	fmt.Fprintf(&b, "garment = \"Many closures (invented)\"\nunits = \"mm\"\n[sizes]\nnames = [%s]\n[cloth.shell]\nuse = \"melton\"\n", strings.Join(names, ", "))
	for i := range closures {
		fmt.Fprintf(&b, "[[closure]]\nname = \"c%02d\"\nopening = \"o%02d\"\nuse = \"horn-36\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = { %s }\ncount = 6\n", i, i, strings.Join(lengths, ", "))
	}
	return b.String()
}
