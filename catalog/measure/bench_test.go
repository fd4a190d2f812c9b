package measure

import "testing"

var sink string

func BenchmarkText(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sink = (11 * Inch / 8).Text(In)
	}
}

func BenchmarkExactIn(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sink = (35 * Millimetre).Exact(In)
	}
}

func BenchmarkParseLength(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseLength("1 3/8 in", MM); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseToleranced(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseToleranced("2.4 mm ± 0.2", MM); err != nil {
			b.Fatal(err)
		}
	}
}
