package bar

import (
	"math"

	"shothand/advisor/closed"
)

// DeviceID names a device within its bar. Zero is none.
type DeviceID uint64

// A Device is a scale, a timer or a machine that posts the numbers of shots.
type Device struct {
	ID   DeviceID `json:"-"`
	Name string   `json:"name"`
	// Hook is the id under which it posts in the chat, empty until it is known.
	Hook string `json:"hook,omitempty"`
	// Secret is the SHA-256, in hex, of what the device shows to post from
	// outside the chat. Empty: it may not.
	Secret string `json:"secret_sha256,omitempty"`

	Clock   ClockStart `json:"clock,omitzero"`                // what its time begins with
	Lag     Seconds    `json:"lag_s,omitempty"`               // by how much its clock begins later than that
	Settles Seconds    `json:"yield_settles_s,omitempty"`     // by how much its yield is behind the cup
	NoDose  bool       `json:"dose_is_the_recipes,omitempty"` // what it says of the dose is not read: that is the recipe's
	Retired bool       `json:"retired,omitempty"`
}

// A ClockStart is what a device's clock begins with.
type ClockStart int

// What a clock can begin with.
const (
	BarsStart ClockStart = iota // the same as the bar's clock
	PumpStart
	DripStart
)

func starts() []string {
	return []string{BarsStart: "bar", PumpStart: "pump", DripStart: "drip"}
}

// MarshalText names c, as records do.
func (c ClockStart) MarshalText() ([]byte, error) { return closed.Marshal(c, starts()) }

// UnmarshalText sets c to the start of that name.
func (c *ClockStart) UnmarshalText(text []byte) error { return closed.Unmarshal(c, text, starts()) }

// A Reading is what a device has shown of one shot; zero is what it has not.
type Reading struct {
	Dose, Yield     Grams
	Time, FirstDrip Seconds
}

// What a corrected number is unsure by; assumed. The first drip comes within 2 s
// of when it usually does; a lag and a settling time are told as round numbers.
const (
	dripDoubt   = 2.0     // s
	lagDoubt    = 0.25    // of the lag
	settleDoubt = 1.0 / 3 // of the correction
	perYield    = 0.75    // change of log time with log yield, as the belief has it
	leastPour   = 5       // s from the first drip to the end
	leastTime   = 1       // s of a shot
)

// Correct returns what a reading of d says by the clock of a bar: with the
// pump, or from the first drip on, which the coffee's water takes wet to come to.
// Doubt is the standard deviation that the corrections leave in the time.
func (d Device) Correct(r Reading, fromDrip bool, wet Seconds) (right Reading, doubt Seconds) {
	right = r
	if d.NoDose {
		right.Dose = 0
	}
	sd := lagDoubt * float64(d.Lag)
	if r.FirstDrip > 0 {
		right.FirstDrip = rounded(r.FirstDrip + d.Lag)
	}
	right.Time = r.Time + d.Lag
	switch {
	case d.Clock == PumpStart && fromDrip && r.FirstDrip > 0:
		right.Time, sd = r.Time-r.FirstDrip, 0
	case d.Clock == PumpStart && fromDrip:
		right.Time, sd = right.Time-wet, math.Hypot(sd, dripDoubt)
	case d.Clock == DripStart && !fromDrip:
		right.Time, sd = right.Time+wet, math.Hypot(sd, dripDoubt)
	}
	right.Time = rounded(max(right.Time, leastTime))
	if d.Settles > 0 && r.Yield > 0 {
		pour := right.Time
		if !fromDrip {
			pour -= wet
		}
		behind := r.Yield * Grams(d.Settles/max(pour, leastPour))
		right.Yield = rounded(r.Yield + behind)
		sd = math.Hypot(sd, settleDoubt*perYield*float64(behind/right.Yield)*float64(right.Time))
	}
	return right, rounded(Seconds(sd))
}

// rounded keeps what a scale and a clock can tell: hundredths.
func rounded[T ~float64](x T) T { return T(math.Round(float64(x)*100) / 100) }
