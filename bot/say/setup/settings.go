package setup

import (
	"cmp"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// BadPreInfusion says how long a pre-infusion can be.
func (l Lang) BadPreInfusion(said string) string {
	return l.Say("A pre-infusion of “%s” is out of range: up to 30 s. Nothing was changed.", say.Clip(said))
}

// BadZone says what a zone looks like; near is the one that was probably
// meant, or empty.
func (l Lang) BadZone(said, near string) string {
	if near != "" {
		return l.Say("No zone is called “%s”. Did you mean %s?", say.Clip(said), near)
	}
	return l.Say("No zone is called “%s”. Zones are named by a city, such as Europe/Berlin.", say.Clip(said))
}

// Setup tells what the bar has told of itself.
func (l Lang) Setup(b bar.Bar) string {
	zone := cmp.Or(b.Zone, l.Say("as this computer has it"))
	order := l.Say("dose, yield, time")
	if b.Order == bar.DoseTimeYield {
		order = l.Say("dose, time, yield")
	}
	clock := l.Say("the pump")
	if b.FromDrip {
		clock = l.Say("the first drip")
	}
	return l.Say("%s: zone %s; three bare numbers are %s; shots end by %s, timed from %s", b.Name, zone, order, l.endsText(b.Ends), clock) +
		l.dayText(b) + l.crewText(b.Crew) + l.currencyText(b) + l.languageText() + "."
}

// languageText tells in what language it is answered in, where that is not
// English.
func (l Lang) languageText() string {
	if l.English() {
		return ""
	}
	return l.Semicolon() + l.Say("answers are in English")
}

// currencyText tells in what prices are.
func (l Lang) currencyText(b bar.Bar) string {
	if b.Currency == "" {
		return ""
	}
	return l.Semicolon() + l.Say("prices are in %s", b.Currency)
}

// dayText tells when a bar is open and reminded.
func (l Lang) dayText(b bar.Bar) string {
	text := ""
	switch {
	case b.Opens != "" && b.Closes != "":
		text += l.Semicolon() + l.Say("open %s–%s", string(b.Opens), string(b.Closes))
	case b.Opens != "":
		text += l.Semicolon() + l.Say("opens %s", string(b.Opens))
	case b.Closes != "":
		text += l.Semicolon() + l.Say("closes %s", string(b.Closes))
	}
	if b.Days != 0 {
		text += l.Semicolon() + l.Say("weekdays|on %s", l.weekdaysText(b.Days))
	}
	if b.Remind != "" {
		text += l.Semicolon() + l.Say("reminds at %s", string(b.Remind))
	}
	return text
}

// weekdaysText names the days of a week, Monday first.
func (l Lang) weekdaysText(days bar.Weekdays) string {
	var names []string
	for n := range 7 {
		if d := time.Weekday((n + 1) % 7); days.Has(d) {
			names = append(names, l.ShortDay(d))
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
			names = append(names, l.lever(lever))
		}
	}
	return l.Semicolon() + l.Say("the crew moves %s, the rest is the lead's", l.List(names))
}

// lever names a lever.
func (l Lang) lever(lever bar.Lever) string {
	switch lever {
	case bar.Grind:
		return l.Say("grind")
	case bar.Yield:
		return l.Figure(say.YieldFigure)
	case bar.Dose:
		return l.Figure(say.DoseFigure)
	case bar.Temperature:
		return l.Say("temperature")
	case bar.NoLever, bar.Time, bar.Prep, bar.Repeat, bar.Keep:
	}
	return lever.String()
}

// Mention answers who wants to be named in alerts, or no more, and says what that
// does.
func (l Lang) Mention(name string, wants bool) string {
	if wants {
		return l.Say("Noted: an alert ends with “For %s.” when a coffee drifts. It names you and rings no phone. /mention me:no ends it.", say.Clip(name))
	}
	return l.Say("Noted: alerts do not name you.")
}

// endsText says what ends a bar's shots.
func (l Lang) endsText(e bar.Ends) string {
	switch e {
	case bar.ByScale:
		return l.Say("the scale")
	case bar.ByButton:
		return l.Say("a button")
	case bar.ByTime:
		return l.Say("the clock")
	case bar.ByEye:
		return l.Say("eye")
	}
	return ""
}
