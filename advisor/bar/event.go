package bar

import "shothand/advisor/closed"

// An Event is what can happen to a bar.
type Event int

// The events.
const (
	NewBag   Event = iota + 1 // of the coffee
	Cleaned                   // the grinder
	Rezeroed                  // the dial: its numbers mean something else now
	NewBurrs
	HopperLow    // on the grinder
	HopperFilled // of the grinder
	Swapped      // the coffee in the grinder for this one, or the grinder's hopper
	NewFilter    // of the bar's water
	Descaled     // the machine
	OtherBasket  // another basket for the coffee, or for the whole bar
	OtherGroup   // the coffee, or the whole bar, is pulled on another group
	Moved        // the grinder's dial, between shots; the next shot has it, so it is in no History
)

// An About is what an event is about.
type About int

// What events are about.
const (
	TheBar      About = iota // all coffees
	TheCoffee                // one
	NamedCoffee              // one if it is named, else all
	TheGrinder               // one
	CoffeeInGrinder
)

// An eventRow is what is known of an event: its name, what it is about, by how
// much the level of a coffee may move with it, sd of log time, and whether a
// coffee that was called dialled in is so no more. Common practice, no source.
type eventRow struct {
	name    string
	about   About
	moves   float64
	reopens bool
}

func events() []eventRow {
	return []eventRow{
		NewBag:       {"new_bag", TheCoffee, 0.10, true},
		Cleaned:      {"cleaned", TheGrinder, 0.08, true},
		Rezeroed:     {"rezeroed", TheGrinder, 0.45, true},
		NewBurrs:     {"new_burrs", TheGrinder, 0, true}, // all is learnt anew
		HopperLow:    {"hopper_low", TheGrinder, 0.05, false},
		HopperFilled: {"hopper_filled", TheGrinder, 0.05, false},
		Swapped:      {"swapped", CoffeeInGrinder, 0.05, true},
		NewFilter:    {"new_filter", TheBar, 0.06, true},
		Descaled:     {"descaled", TheBar, 0.10, true},
		OtherBasket:  {"other_basket", NamedCoffee, 0.20, true},
		OtherGroup:   {"other_group", NamedCoffee, 0.08, true},
		Moved:        {"moved", TheGrinder, 0, false},
	}
}

func eventNames() []string {
	var names []string
	for _, row := range events() {
		names = append(names, row.name)
	}
	return names
}

func (e Event) row() eventRow {
	if e < 0 || int(e) >= len(events()) {
		return eventRow{}
	}
	return events()[e]
}

// About returns what e is about.
func (e Event) About() About { return e.row().about }

// Moves returns by how much the level of a coffee may move with e, sd of log time.
func (e Event) Moves() float64 { return e.row().moves }

// Reopens reports whether what e is about is dialled in no more.
func (e Event) Reopens() bool { return e.row().reopens }

// MarshalText names e, as records do.
func (e Event) MarshalText() ([]byte, error) { return closed.Marshal(e, eventNames()) }

// UnmarshalText sets e to the event of that name.
func (e *Event) UnmarshalText(text []byte) error { return closed.Unmarshal(e, text, eventNames()) }
