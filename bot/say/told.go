package say

import (
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// Did answers somebody who did what was advised.
func (l Lang) Did(lever bar.Lever, unit advisor.Unit, to float64, g bar.Grinder) string {
	switch {
	case lever == bar.Grind && unit == advisor.DialUnit:
		return l.Say("Noted: at %s from the next shot.", l.Written(g, bar.Dial(to)))
	case lever == bar.Yield, lever == bar.Dose:
		return l.Say("Noted: %s g from the next shot.", l.Number(to))
	}
	return l.Say(Noted)
}

// NotedAlready answers what was told a minute before.
const NotedAlready English = "That is noted already."

// Direction says which way a dial was said to go.
func (l Lang) Direction(g bar.Grinder) string {
	switch {
	case !(g.Step > 0) && g.Finer == bar.Higher:
		return l.Say("Noted: a higher number is finer on %s.", g.Name)
	case !(g.Step > 0):
		return l.Say("Noted: a lower number is finer on %s.", g.Name)
	case g.Finer == bar.Higher:
		return l.Say("Noted: a higher number is finer on %s, in steps of %s.", g.Name, l.Number(g.Step))
	}
	return l.Say("Noted: a lower number is finer on %s, in steps of %s.", g.Name, l.Number(g.Step))
}

// NotedFor says for which shot words were taken, where a newer one stands
// below.
func (l Lang) NotedFor(shot bar.Entry, by string, said []string) string {
	return l.Say("Noted for %s’s shot of %s: %s.", Clip(by), l.Clock(shot.At), strings.Join(said, ", "))
}

// NotedAs says whose a shot is that somebody else has told.
func (l Lang) NotedAs(by string) string { return l.Say("Noted as %s’s shot.", Clip(by)) }

// TakenOut says that an entry no longer counts.
func (l Lang) TakenOut(e bar.Entry) string {
	switch w := e.What.(type) {
	case bar.Shot:
		return l.Say("Taken out: %s.", l.PouredText(w))
	case bar.Words:
		return l.Say("Taken out: what was said of the taste.")
	case bar.Dialled:
		return l.Say("Taken back: not called dialled in any more.")
	case bar.Told:
		if w.Event == bar.Moved {
			return l.Say("Taken back: the dial was not moved.")
		}
		return l.Say("Taken back: it did not happen.")
	case bar.Setting:
		return l.Say("Put back as it was.")
	case bar.Held:
		return l.Say("Taken out: what I had asked about.")
	case bar.Layers:
		return l.Say("Taken back: the tasting cup by cup is off.")
	case bar.Sips:
		return l.Say("Taken out: what was said of the cups.")
	}
	return ""
}

// Receipt is the late answer to a shot that has been followed by others.
func (l Lang) Receipt(s bar.Shot, lead string) string {
	if lead != "" {
		return lead
	}
	return l.Say("On the record: %s. What to change stands under the newest shot.", l.PouredText(s))
}

// PouredText is what a shot's numbers were, but for the grind.
func (l Lang) PouredText(s bar.Shot) string {
	text := l.weighed(s.Dose) + " → " + l.weighed(s.Yield) + " g"
	if s.Time.From == bar.None {
		return text
	}
	return text + ", " + l.Took(s)
}

// Happened says what was noted of the bar, and where a coffee that was put
// into another grinder last stood there.
func (l Lang) Happened(t bar.Told, coffee bar.Coffee, grinder bar.Grinder, stood string) string {
	switch t.Event {
	case bar.NewBag:
		return l.Say("Noted: a new bag of %s. It may run a little differently.", coffee.Name)
	case bar.Cleaned:
		return l.Say("Noted: %s was cleaned. Only ever do that unplugged. Purge before the first shot.", grinder.Name)
	case bar.Rezeroed:
		return l.Say("Noted: the dial of %s was re-zeroed. Its old numbers mean nothing now; say the setting with the next shot.", grinder.Name)
	case bar.NewBurrs:
		return l.Say("Noted: new burrs in %s. I start learning it anew.", grinder.Name)
	case bar.HopperLow:
		return l.Say("Noted: the hopper of %s is low. Shots may run faster and doses come out lighter; weigh the next one.", grinder.Name)
	case bar.HopperFilled:
		return l.Say("Noted: the hopper of %s was filled. Shots may run a little slower; weigh the next dose.", grinder.Name)
	case bar.Swapped:
		return l.Say("Noted: %s is in %s now. Purge before the first shot, so that the other coffee is out.", coffee.Name, grinder.Name) + stood
	case bar.NewFilter:
		return l.Say("Noted: a new water filter. Flush it as its maker says; every coffee may run and taste a little differently.")
	case bar.Descaled:
		return l.Say("Noted: the machine was descaled. Rinse until nothing of the descaler is left, as its maker says, before anything is served; every coffee may run differently.")
	case bar.OtherBasket:
		return l.Say("Noted: another basket%s. Its shots may run quite differently; if it holds another dose, say so: /coffee edit dose:19 basket:18-20", l.ofText(coffee))
	case bar.OtherGroup:
		return l.Say("Noted: another group%s. Shots may run a little differently there.", l.ofText(coffee))
	case bar.Moved: // says where to
	}
	return l.Say(Noted)
}

// NowOn says that a coffee's next shots are on another grinder, and how that is taken back.
func (l Lang) NowOn(c bar.Coffee, from, to bar.Grinder) string {
	return l.Say("Shots of %s count for %s from here on, no longer for %s. To take that back: /undo", c.Name, to.Name, from.Name)
}

// OnAgain says that a coffee is back on its own grinder.
func (l Lang) OnAgain(c bar.Coffee, g bar.Grinder) string {
	return l.Say("Shots of %s count for %s again.", c.Name, g.Name)
}

// PutQuestion asks whether a coffee was put into a grinder.
func (l Lang) PutQuestion(c bar.Coffee, g bar.Grinder) string {
	return l.Say("Was %s put into the hopper of %s, for its next shots?", c.Name, g.Name)
}

// CleanedAll says that several grinders were cleaned.
func (l Lang) CleanedAll(names []string) string {
	return l.Say("Noted: %s were cleaned. Only ever do that unplugged. Purge each before its first shot.", l.List(names))
}

// ofText says of which coffee, or of all.
func (l Lang) ofText(c bar.Coffee) string {
	if c.ID == 0 {
		return " " + l.Say("for every coffee")
	}
	return " " + l.Say("for %s", c.Name)
}

// RoastedToo says how a roast date is set that was told with a new bag.
func (l Lang) RoastedToo(coffee, day string) string {
	return l.Say("The roast date is set with %s", parse.FormatCommand(chat.Command{Name: "coffee edit", Options: []chat.Option{{Name: "name", Value: coffee}, {Name: "roasted", Value: day}}}))
}

// RoastedNow says that the roast date was set, from when to when.
func (l Lang) RoastedNow(c bar.Coffee, day bar.Day) string {
	if c.Roasted == "" {
		return l.Say("Its roast date is now %s.", string(day))
	}
	return l.Say("Its roast date is now %s, it was %s.", string(day), string(c.Roasted))
}

// EventName names what happened, for a record of the day.
func (l Lang) EventName(t bar.Told, coffee, grinder string) string {
	switch t.Event {
	case bar.NewBag:
		return l.Say("new bag of %s", coffee)
	case bar.Cleaned:
		return l.Say("%s cleaned", grinder)
	case bar.Rezeroed:
		return l.Say("dial of %s re-zeroed", grinder)
	case bar.NewBurrs:
		return l.Say("new burrs in %s", grinder)
	case bar.HopperLow:
		return l.Say("hopper of %s low", grinder)
	case bar.HopperFilled:
		return l.Say("hopper of %s filled", grinder)
	case bar.Swapped:
		return l.Say("%s put into %s", coffee, grinder)
	case bar.NewFilter:
		return l.Say("new water filter")
	case bar.Descaled:
		return l.Say("machine descaled")
	case bar.OtherBasket:
		return l.Say("another basket%s", l.forText(coffee))
	case bar.OtherGroup:
		return l.Say("another group%s", l.forText(coffee))
	case bar.Moved:
		return l.Say("dial of %s moved", grinder)
	}
	return ""
}

func (l Lang) forText(coffee string) string {
	if coffee == "" {
		return ""
	}
	return " " + l.Say("for %s", coffee)
}

// shotText tells of a shot without its taste.
func (l Lang) shotText(g bar.Grinder, s bar.Shot) string {
	text := l.PouredText(s)
	if g.Step > 0 && s.Grind.From != bar.None {
		text += ", " + l.dial(g, s.Grind.X)
	}
	return text
}
