package bar_test

import (
	"testing"

	"shothand/advisor/bar"
)

// What a device shows is put on the bar's own clock. The expected numbers are
// worked out by hand from the constants in device.go and a wetting of 7 s.
func TestCorrect(t *testing.T) {
	for _, test := range []struct {
		name     string
		d        bar.Device
		r        bar.Reading
		fromDrip bool
		want     bar.Reading
		doubt    bar.Seconds
	}{
		{
			name: "as it is", r: bar.Reading{Dose: 18, Yield: 36.2, Time: 27.4, FirstDrip: 6},
			want: bar.Reading{Dose: 18, Yield: 36.2, Time: 27.4, FirstDrip: 6},
		},
		{
			name: "begins a second late", d: bar.Device{Clock: bar.PumpStart, Lag: 1},
			r: bar.Reading{Time: 27.4, FirstDrip: 6}, want: bar.Reading{Time: 28.4, FirstDrip: 7}, doubt: 0.25,
		},
		{
			name: "from the pump, at a bar that times from the drip", d: bar.Device{Clock: bar.PumpStart}, fromDrip: true,
			r: bar.Reading{Time: 28}, want: bar.Reading{Time: 21}, doubt: 2,
		},
		{
			name: "the same, with the drip seen", d: bar.Device{Clock: bar.PumpStart, Lag: 1}, fromDrip: true,
			r: bar.Reading{Time: 28, FirstDrip: 6}, want: bar.Reading{Time: 22, FirstDrip: 7},
		},
		{
			name: "from the drip, at a bar that times from the pump", d: bar.Device{Clock: bar.DripStart},
			r: bar.Reading{Time: 21}, want: bar.Reading{Time: 28}, doubt: 2,
		},
		{
			name: "from the drip, as the bar", d: bar.Device{Clock: bar.DripStart}, fromDrip: true,
			r: bar.Reading{Time: 21}, want: bar.Reading{Time: 21},
		},
		{ // 36 g in 27 − 7 s are 1.8 g/s: 3.6 g more in 2 s. A third of that is 3 % of 39.6 g, 2.3 % or 0.61 s of the time
			name: "settles late", d: bar.Device{Settles: 2},
			r: bar.Reading{Yield: 36, Time: 27}, want: bar.Reading{Yield: 39.6, Time: 27}, doubt: 0.61,
		},
		{
			name: "its dose is the recipe's", d: bar.Device{NoDose: true},
			r: bar.Reading{Dose: 3, Time: 27}, want: bar.Reading{Time: 27},
		},
		{
			name: "never less than a second", d: bar.Device{Clock: bar.PumpStart}, fromDrip: true,
			r: bar.Reading{Time: 4}, want: bar.Reading{Time: 1}, doubt: 2,
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, doubt := test.d.Correct(test.r, test.fromDrip, 7)
			if got != test.want || doubt != test.doubt {
				t.Errorf("got %+v ± %v, want %+v ± %v", got, doubt, test.want, test.doubt)
			}
		})
	}
}
