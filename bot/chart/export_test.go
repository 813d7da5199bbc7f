package chart

import "fmt"

// Samples are one picture of each kind, for tests that word them.
func Samples() map[string]Picture { return samples() }

// Texts is all that a picture says, and what of it has no room: text that leaves
// the sheet or lies on another.
func Texts(p Picture) (said, without []string) {
	texts, _ := drawn(p)
	height := p.sheet(lookOf(false)).height()
	for i, a := range texts {
		said = append(said, a.text)
		if !(a.box.Min.X >= 0 && a.box.Max.X <= width && a.box.Min.Y >= 0 && a.box.Max.Y <= height) {
			without = append(without, fmt.Sprintf("%q leaves the sheet: %v", a.text, a.box))
		}
		for _, b := range texts[:i] {
			if a.box.Min.X < b.box.Max.X && b.box.Min.X < a.box.Max.X && a.box.Min.Y < b.box.Max.Y && b.box.Min.Y < a.box.Max.Y {
				without = append(without, fmt.Sprintf("%q lies on %q", a.text, b.text))
			}
		}
	}
	return said, without
}
