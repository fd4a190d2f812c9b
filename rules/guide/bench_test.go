package guide

import (
	"strings"
	"testing"
)

func BenchmarkMark(b *testing.B) {
	p := planned(b, watchCoat)
	for _, o := range []Options{
		{Format: "pdf", Sizes: []string{"M"}}, {Format: "pdf"}, {Format: "svg", Sizes: []string{"M"}}, {Format: "svg"}, {Format: "png", Sizes: []string{"M"}, DPI: 100},
	} {
		name := o.Format + "-" + strings.Join(o.Sizes, "-")
		if len(o.Sizes) == 0 {
			name += "all"
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := Mark(p, o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkStrip(b *testing.B) {
	p := planned(b, watchCoat)
	b.ReportAllocs()
	for b.Loop() {
		Strip(p, 0, 0, StripOptions{UTF8: true})
	}
}
