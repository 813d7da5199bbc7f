package extraction

import (
	"errors"
	"math"
	"testing"
)

// What was measured is in the table against the world.
func TestCaffeineRefuses(t *testing.T) {
	for _, x := range [][3]float64{
		{0, 0, 40}, {math.NaN(), 0, 40}, {18, -1, 40}, {18, 20, 10}, {18, math.NaN(), 10}, {18, 0, math.Inf(1)},
	} {
		if _, err := Caffeine(x[0], x[1], x[2]); !errors.Is(err, ErrImplausible) {
			t.Errorf("Caffeine%v: %v", x, err)
		}
	}
}
