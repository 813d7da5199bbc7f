package extraction

import "testing"

func BenchmarkPour(b *testing.B) {
	p := Default()
	brew := Brew{Dose: 18, Yield: 36, Time: 28}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Pour(brew); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSlopes(b *testing.B) {
	p := Default()
	brew := Brew{Dose: 18, Yield: 36, Time: 28}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Slopes(brew); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCup(b *testing.B) {
	c := pour(b, Default(), Brew{Dose: 18, Yield: 36, Time: 28})
	for b.Loop() {
		c.Cup(12, 24)
	}
}
