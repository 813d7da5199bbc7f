package simbar

import (
	"hash/fnv"
	"slices"
)

// A Row names a kind of world. Its name is its seed.
type Row string

// The rows of the family that a filter on log time is built on.
const (
	Cold          Row = "cold"              // nothing known, no purge
	PurgedTold    Row = "purged and told"   // every change of the grind
	PurgedUntold  Row = "purged, not told"  // every change of the grind
	OnceKnown     Row = "second on grinder" // one coffee before on it
	KnownGrinder  Row = "known grinder"     // eight coffees before on it
	KnownPurged   Row = "known, purged"     // and every change purged and told
	NextMorning   Row = "next morning"      // same coffee, level moved by 4 %
	SecondWeek    Row = "second week"       // same coffee after five such days
	Noisy         Row = "8 % noise"         //
	Retentive     Row = "40-70 % retention" //
	Outliers      Row = "8 % outliers"      //
	Drifting      Row = "strong drift"      // walk of 1.2 % a shot
	Coarse        Row = "coarse grinder"    // 6 to 36 % a notch
	WrongExponent Row = "other exponents"   // dose 2.5 or 0.5, yield 1.4 or 0.5
	Trending      Row = "fast trend"        // 0.8 % a shot one way
	Unweighed     Row = "shots not weighed" // dose and yield as ordered
)

// The rows of bars that no filter was built from.
const (
	Bars          Row = "bars"                      // a bit of everything below
	Channelling   Row = "channelling"               // soon beyond the window
	Bent          Row = "bent time"                 // far from exponential in the grind
	LooseWords    Row = "loose words"               // several biased tasters, many silent
	WholeSeconds  Row = "whole seconds, unweighed"  //
	Forgetful     Row = "half of purges forgotten"  // and much retention
	Misread       Row = "misread dials"             //
	ManyDials     Row = "many dials"                // a step is worth 0.3 to 10 s
	Chokable      Row = "chokable"                  // and begins on the slow side
	OutsideTyped  Row = "sweet spot outside, typed" // of the window
	OutsideSoft   Row = "sweet spot outside, soft"  // of a window nobody typed
	SecondCoffee  Row = "second coffee"             // on the same grinder
	BarMorning    Row = "bar's next morning"        //
	BarSecondWeek Row = "bar's second week"         //
	Everything    Row = "everything at once"        //
	SharpTongues  Row = "sharp tongues"             // that lean nowhere
	StepAside     Row = "a step aside"              // of recipe and window lies the sweet spot
	LittleGain    Row = "little by the grind"       // extraction hardly moves with it
	Restless      Row = "restless"                  // a level that walks, heavy tails
	OtherRecipes  Row = "other recipes"             // 1:1.5 to 1:2.8, windows up to 40 s
	KnownTeam     Row = "known team"                // biased tasters, six coffees before
	Untold        Row = "settings not said"         // and not always set as ordered
)

// FamilyRows returns the rows of the family.
func FamilyRows() []Row {
	return []Row{
		Cold, PurgedTold, PurgedUntold, OnceKnown, KnownGrinder, KnownPurged, NextMorning, SecondWeek,
		Noisy, Retentive, Outliers, Drifting, Coarse, WrongExponent, Trending, Unweighed,
	}
}

// StressRows returns the rows of the family that strain its filter.
func StressRows() []Row {
	return []Row{Noisy, Retentive, Outliers, Drifting, Coarse, WrongExponent, Trending, Unweighed}
}

// BarRows returns the rows of bars.
func BarRows() []Row {
	return []Row{
		Bars, Channelling, Bent, LooseWords, WholeSeconds, Forgetful, Misread, ManyDials, Chokable,
		OutsideTyped, OutsideSoft, SecondCoffee, BarMorning, BarSecondWeek, Everything,
		SharpTongues, StepAside, LittleGain, Restless, OtherRecipes, Untold, KnownTeam,
	}
}

// Family reports whether r is a row of the family.
func (r Row) Family() bool { return slices.Contains(FamilyRows(), r) }

// Limit returns the shot at which a run ends.
func (r Row) Limit() int {
	if r.Family() {
		return 40
	}
	return 20
}

// seed returns a number of r's own, so that a new row changes no other.
func (r Row) seed() uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(r)) // a hash never fails
	return h.Sum64()
}
