package say

import (
	"fmt"
	"time"

	"shothand/advisor/bar"
)

// BadRecipe says what a recipe can have.
func (l Lang) BadRecipe(what, said, limits string) string {
	return fmt.Sprintf("A %s of “%s” is out of range: %s. Nothing was changed.", what, Clip(said), limits)
}

// BadZone says what a zone looks like; near is the one that was probably
// meant, or empty.
func (l Lang) BadZone(said, near string) string {
	if near != "" {
		return "No zone is called “" + Clip(said) + "”. Did you mean " + near + "?"
	}
	return "No zone is called “" + Clip(said) + "”. Zones are named by a city, such as Europe/Berlin."
}

// Setup tells what the bar has told of itself.
func (l Lang) Setup(b bar.Bar) string {
	zone := b.Zone
	if zone == "" {
		zone = "as this computer has it"
	}
	order := "dose, yield, time"
	if b.Order == bar.DoseTimeYield {
		order = "dose, time, yield"
	}
	clock := "the pump"
	if b.FromDrip {
		clock = "the first drip"
	}
	return b.Name + ": zone " + zone + "; three bare numbers are " + order + "; shots end by " + l.endsText(b.Ends) + ", timed from " + clock + l.dayText(b) + l.crewText(b.Crew) + l.currencyText(b) + "."
}

// currencyText tells in what prices are.
func (l Lang) currencyText(b bar.Bar) string {
	if b.Currency == "" {
		return ""
	}
	return "; prices are in " + b.Currency
}

// dayText tells when a bar is open and reminded.
func (l Lang) dayText(b bar.Bar) string {
	text := ""
	switch {
	case b.Opens != "" && b.Closes != "":
		text += "; open " + string(b.Opens) + "–" + string(b.Closes)
	case b.Opens != "":
		text += "; opens " + string(b.Opens)
	case b.Closes != "":
		text += "; closes " + string(b.Closes)
	}
	if b.Days != 0 {
		text += "; on " + l.weekdaysText(b.Days)
	}
	if b.Remind != "" {
		text += "; reminds at " + string(b.Remind)
	}
	return text
}

// weekdaysText names the days of a week, Monday first.
func (l Lang) weekdaysText(days bar.Weekdays) string {
	var names []string
	for n := range 7 {
		if d := time.Weekday((n + 1) % 7); days.Has(d) {
			names = append(names, d.String()[:3])
		}
	}
	return l.List(names)
}

// crewText tells which levers the crew moves.
func (l Lang) crewText(crew bar.Levers) string {
	if crew == 0 {
		return ""
	}
	var names []string
	for _, lever := range []bar.Lever{bar.Grind, bar.Yield, bar.Dose, bar.Temperature} {
		if crew.Has(lever) {
			names = append(names, lever.String())
		}
	}
	return "; the crew moves " + l.List(names) + ", the rest is the lead's"
}

// Mention answers who wants to be named in alerts, or no more, and says what that
// does.
func (l Lang) Mention(name string, wants bool) string {
	if wants {
		return "Noted: an alert ends with “For " + Clip(name) + ".” when a coffee drifts. It names you and rings no phone. /mention me:no ends it."
	}
	return "Noted: alerts do not name you."
}

// endsText says what ends a bar's shots.
func (l Lang) endsText(e bar.Ends) string {
	switch e {
	case bar.ByScale:
		return "the scale"
	case bar.ByButton:
		return "a button"
	case bar.ByTime:
		return "the clock"
	case bar.ByEye:
		return "eye"
	}
	return ""
}
