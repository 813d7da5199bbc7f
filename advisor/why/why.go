// Package why lists what an advice can be because of: the rules that speak, and
// what they see in a shot.
package why

import (
	"sync"

	"shothand/advisor/closed"
)

// A Reason is why an advice is what it is. The zero value is none.
type Reason int

// The rules.
const (
	Cleaner Reason = iota + 1
	Stale
	Practice
	Choked
	HopperLow
	DoseOff
	Unplaced
	Unmoved
	YieldOff
	Unpurged
	Uneven
	Untasted
	TastersDiffer
	HalfBelieved
	Temperature
	LostInMilk
	OutOfReach
	Decide

	// What the last of them saw.
	Keep
	StillUntasted
	Confirm
	SecondPalate
	ThirdPalate
	Noted
	Drifting
	Scattered
	MoveWindow
	LoneOutlier
	PraisedOutside
	InsideTheNoise
	Roast
	Raw
	ForTheLead

	// What can be seen in a shot without any rule.
	UnderExtracted
	OverExtracted
	Weak
	Strong
	Fast
	Slow
	FirstOfDay
	IdleHour
	OtherGrounds

	earlier // reasons, that only records know
)

// Evidence is how good a reason is.
type Evidence int

// The grades of evidence.
const (
	OwnShots       Evidence = iota + 1 // what this bar's own shots showed
	Published                          // a published result
	CommonPractice                     // common practice, no source
)

type row struct {
	name     string
	evidence Evidence
}

// table returns what each reason is called and how good it is.
//
//nolint:gochecknoglobals // made once, never changed
var table = sync.OnceValue(func() []row {
	return []row{
		Cleaner:        {"cleaner", CommonPractice},
		Stale:          {"stale", CommonPractice},
		Practice:       {"practice", CommonPractice},
		Choked:         {"choked", CommonPractice},
		HopperLow:      {"hopper-low", CommonPractice},
		DoseOff:        {"dose-off", CommonPractice},
		Unplaced:       {"unplaced", CommonPractice},
		Unmoved:        {"unmoved", OwnShots},
		YieldOff:       {"yield-off", OwnShots},
		Unpurged:       {"unpurged", CommonPractice},
		Uneven:         {"uneven", CommonPractice},
		Untasted:       {"untasted", CommonPractice},
		TastersDiffer:  {"tasters-differ", CommonPractice},
		HalfBelieved:   {"half-believed", CommonPractice},
		Temperature:    {"temperature", CommonPractice},
		LostInMilk:     {"lost-in-milk", CommonPractice},
		OutOfReach:     {"out-of-reach", OwnShots},
		Decide:         {"decide", OwnShots},
		Keep:           {"keep", OwnShots},
		Confirm:        {"confirm", OwnShots},
		SecondPalate:   {"second-palate", OwnShots},
		StillUntasted:  {"still-untasted", CommonPractice},
		ThirdPalate:    {"third-palate", CommonPractice},
		Noted:          {"noted", CommonPractice},
		Drifting:       {"drifting", OwnShots},
		Scattered:      {"scattered", OwnShots},
		MoveWindow:     {"move-window", OwnShots},
		LoneOutlier:    {"lone-outlier", OwnShots},
		PraisedOutside: {"praised-outside", Published},
		InsideTheNoise: {"inside-the-noise", OwnShots},
		Roast:          {"roast", CommonPractice},
		Raw:            {"raw", CommonPractice},
		ForTheLead:     {"for-the-lead", CommonPractice},
		UnderExtracted: {"under-extracted", Published},
		OverExtracted:  {"over-extracted", Published},
		Weak:           {"weak", Published},
		Strong:         {"strong", Published},
		Fast:           {"fast", OwnShots},
		Slow:           {"slow", OwnShots},
		FirstOfDay:     {"first-of-day", CommonPractice},
		IdleHour:       {"idle-hour", CommonPractice},
		OtherGrounds:   {"other-grounds", CommonPractice},

		earlier: {"best-move", OwnShots},
		{"bitter-and-strong", Published},
		{"bitter-and-weak", Published},
		{"coarse-steps", OwnShots},
		{"far-off", OwnShots},
		{"fast-and-bitter", Published},
		{"fault", CommonPractice},
		{"hunting", OwnShots},
		{"past-the-peak", Published},
		{"ratio-first", Published},
		{"slow-and-sour", Published},
		{"sour-and-strong", Published},
		{"taste-leads", OwnShots},
	}
})

//nolint:gochecknoglobals // made once, never changed
var names = sync.OnceValue(func() []string {
	var list []string
	for _, r := range table() {
		list = append(list, r.name)
	}
	return list
})

// Evidence returns how good r is, 0 where it is none of the reasons.
func (r Reason) Evidence() Evidence {
	if r < 0 || int(r) >= len(table()) {
		return 0
	}
	return table()[r].evidence
}

// String names r, as the JSON and the records do; empty for none of them.
func (r Reason) String() string { return closed.Name(r, names()) }

// MarshalText returns the name of r.
func (r Reason) MarshalText() ([]byte, error) { return closed.Marshal(r, names()) }

// UnmarshalText sets r to the reason of that name.
func (r *Reason) UnmarshalText(text []byte) error { return closed.Unmarshal(r, text, names()) }

func grades() []string {
	return []string{OwnShots: "own_shots", Published: "published", CommonPractice: "common_practice"}
}

// MarshalText returns the name of e, as the records do.
func (e Evidence) MarshalText() ([]byte, error) { return closed.Marshal(e, grades()) }

// UnmarshalText sets e to the grade of that name.
func (e *Evidence) UnmarshalText(text []byte) error { return closed.Unmarshal(e, text, grades()) }
