package extraction

import (
	"errors"
	"fmt"
	"math"
)

// ErrImplausible is in every error of the package: a number outside what its
// formulas are for.
var ErrImplausible = errors.New("implausible")

// Params are the constants of the model.
type Params struct {
	Fast     float64 // g in a g of dose, the pool that dissolves at once
	Slow     float64 // g in a g of dose, the pool inside the grains
	FastRate float64 // 1/s, at Reference
	SlowRate float64 // 1/s, at Reference

	Saturation float64 // g of solids in a g of liquid
	Between    float64 // g of liquid between the grains for a g of dose
	Within     float64 // g of liquid within the grains for a g of dose
	Cells      int     // of the bed in a row; fewer mix the stream more

	FirstDrip float64 // share of the time before the first drip, where not told
	Quicken   float64 // gain of flow, of that of the first drop, for each g of beverage in a g of dose
	Reference float64 // °C, at which the rates hold and which is assumed where not told
}

// Default returns the constants for a coffee nobody has measured.
func Default() Params {
	return Params{
		// Fitted to cups of 20, 40 and 60 g from 20 g of washed Arabica:
		// 14.62, 9.69 and 6.98 % TDS (Schmieder 2023, Foods 12:2871, table S3).
		// Together less than the 28 to 32 % that hours of stirring dissolve
		// (Moroney 2015): what minutes do not reach has no pool.
		Fast:     0.1236,
		Slow:     0.0922,
		SlowRate: 0.2042,

		// Chosen; common practice, no source: surfaces give in a second or so.
		FastRate: 1,
		// Measured in the first seconds of a shot: 24.4, 23.5 and 25.2 % TDS
		// (Waszkiewicz, Phys Fluids 38:063113). A fit to filter coffee has 212.4
		// kg/m³ (Moroney 2015), less than was measured in espresso.
		Saturation: 0.25,
		// Porosity 0.20 to 0.25 (Moroney 2015) at 360 to 480 kg/m³ (Corrochano
		// 2015), filled with water: 0.4 to 0.67.
		Between: 0.5,
		// Chosen; with Between it must stay under the 2.1 g that drip keeps
		// (Guinard 2023). It decides most about time: with the rest fitted again,
		// twice the time is worth 2.0 points of yield at 0.8 and 1.2 at 1.2.
		Within: 1.0,
		// Chosen; 16 or 32 differ little.
		Cells: 24,
		// About a quarter to a third of a shot (Foster 2025: 6.7 s).
		FirstDrip: 0.28,
		// Common practice, no source: flow speeds up as the bed extracts.
		Quicken: 0.5,
		// Of the fitted cups.
		Reference: 89,
	}
}

// maxCells bounds the work of a pour.
const maxCells = 64

// check returns an error unless the model can be computed with p.
func (p Params) check() error {
	for _, c := range [...]struct {
		name         string
		x, low, high float64
	}{
		{"fast pool", p.Fast, 0, 1},
		{"slow pool", p.Slow, 0, 1},
		{"fast rate", p.FastRate, 0, 1e6},
		{"slow rate", p.SlowRate, 0, 1e6},
		{"saturation", p.Saturation, 0.01, 1},
		{"liquid between", p.Between, 0.01, 10},
		{"liquid within", p.Within, 0.01, 10},
		{"cells", float64(p.Cells), 1, maxCells},
		{"first drip", p.FirstDrip, 0, 0.9},
		{"quickening", p.Quicken, 0, 10},
		{"reference", p.Reference, 0, 100},
	} {
		if !(c.low <= c.x && c.x <= c.high) {
			return fmt.Errorf("%w: %s %g", ErrImplausible, c.name, c.x)
		}
	}
	return nil
}

// A Brew is how a cup was made.
type Brew struct {
	Dose      float64 // g
	Yield     float64 // g of beverage
	Time      float64 // s, from pump on
	FirstDrip float64 // s, from pump on; 0 if not told
	Water     float64 // °C; 0 if not told
}

// check returns an error unless b can be a brew, espresso or filter.
func (b Brew) check() error {
	for _, c := range [...]struct {
		name         string
		x, low, high float64
	}{
		{"dose", b.Dose, 1, 1000},
		{"ratio", b.Yield / b.Dose, 0.01, 50},
		{"time", b.Time, 0.5, 3600},
		{"first drip", b.FirstDrip, 0, 0.95 * b.Time},
		{"water", b.Water, 0, 100},
	} {
		if !(c.low <= c.x && c.x <= c.high) {
			return fmt.Errorf("%w: %s %g", ErrImplausible, c.name, c.x)
		}
	}
	return nil
}

// firstDrip returns the time of b's first drip in seconds.
func (p Params) firstDrip(b Brew) float64 {
	if b.FirstDrip > 0 {
		return b.FirstDrip
	}
	return p.FirstDrip * b.Time
}

// warmth returns what b's temperature multiplies the rates by.
func (p Params) warmth(b Brew) float64 {
	if !(b.Water > 0) {
		return 1
	}
	return mobility(b.Water) / mobility(p.Reference)
}

// mobility returns the absolute temperature over the viscosity of water at so
// many °C, to which diffusion is proportional (Stokes and Einstein), in K/mPa·s.
// Viscosity is Vogel's formula, from memory; a test holds it to IAPWS 2008.
func mobility(celsius float64) float64 {
	kelvin := celsius + 273.15
	return kelvin / viscosity(kelvin)
}

// viscosity returns that of water in mPa·s.
func viscosity(kelvin float64) float64 {
	return 0.02414 * math.Pow(10, 247.8/(kelvin-140))
}
