package desk

import (
	"io"
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
