package parse

import (
	"math"
	"testing"
)

// Water temperatures, exact: °C = (°F - 32)·5/9. 195 and 205 °F are the ends of
// the Specialty Coffee Association's band (2018), which it prints as 90.5 and
// 96.1 °C.
func TestWaterIsRead(t *testing.T) {
	for _, test := range []struct {
		text string
		want float64 // °C
	}{
		{"18 36 28 93C", 93},
		{"18 36 28 92,5 °C", 92.5},
		{"18 36 28 195F", 90.0 + 5.0/9},
		{"18 36 28 205 °F", 96.0 + 1.0/9},
		{"18 36 28 199.4F", 93},
	} {
		meaning, err := Shorthand(test.text, Vocab{})
		shot, ok := meaning.(Shot)
		if err != nil || !ok || !shot.Water.Said || !(math.Abs(shot.Water.X-test.want) < 1e-9) {
			t.Errorf("%q: %+v, %v; want water of %g °C", test.text, meaning, err, test.want)
		}
	}
}
