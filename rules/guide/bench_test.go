package guide

import "testing"

func BenchmarkMark(b *testing.B) {
	p := planned(b, watchCoat)
	for _, o := range []Options{
		{Format: "pdf", Size: "M"}, {Format: "pdf"}, {Format: "svg", Size: "M"}, {Format: "svg"}, {Format: "png", Size: "M", DPI: 100},
	} {
		name := o.Format + "-" + o.Size
		if o.Size == "" {
			name += "all"
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Mark(p, o); err != nil {
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
