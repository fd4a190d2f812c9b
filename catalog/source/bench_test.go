package source

import (
	"strings"
	"testing"
)

// tenKB is a garment file of 10 kB.
func tenKB() string {
	var b strings.Builder
	b.WriteString("garment = \"Harbour watch coat\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\nfibre = { wool = 80, polyamide = 20 }\n")
	for b.Len() < 10_000 {
		b.WriteString(`
[[closure]]
name = "front" # as drafted
use  = "horn-40"
over = ["shell", "front", "shell"]
[closure.stand]
construction = "folded"
extension  = "3 in"
[closure.run]
length = { S = "23 in", M = "23 1/2 in", L = "24 in" }
first  = "5/8 in"              # top of the run to the first centre
count  = 5
anchor = [ { name = "bust", at = "8 in", within = "1/2 in" } ]
`)
	}
	return b.String()
}

func BenchmarkIndex(b *testing.B) {
	text := tenKB()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if s := scan(text); s.faults.count > 0 {
			b.Fatal(s.faults.list[0])
		}
	}
}

func BenchmarkParse(b *testing.B) {
	data := []byte(tenKB())
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("f", data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPos(b *testing.B) {
	d, err := Parse("f", []byte(tenKB()))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		d.Pos("closure[9].run.anchor[0].within")
	}
}

func BenchmarkSet(b *testing.B) {
	d, err := Parse("f", []byte(tenKB()))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Set("closure[9].run.first", "3/4 in", "with"); err != nil {
			b.Fatal(err)
		}
	}
}
