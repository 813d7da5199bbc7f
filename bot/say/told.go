package say

import (
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// Did answers somebody who did what was advised.
func (l Lang) Did(lever bar.Lever, unit advisor.Unit, to float64, g bar.Grinder) string {
	switch {
	case lever == bar.Grind && unit == advisor.DialUnit:
		return "Noted: at " + parse.Write(g, bar.Dial(to)) + " from the next shot."
	case lever == bar.Yield, lever == bar.Dose:
		return "Noted: " + l.Number(to) + " g from the next shot."
	}
	return "Noted."
}

// Direction says which way a dial was said to go.
func (l Lang) Direction(g bar.Grinder) string {
	if g.Finer == bar.Higher {
		return "Noted: a higher number is finer on " + g.Name + ", in steps of " + l.Number(g.Step) + "."
	}
	return "Noted: a lower number is finer on " + g.Name + ", in steps of " + l.Number(g.Step) + "."
}

// NotedFor says for which shot words were taken, where a newer one stands
// below.
func (l Lang) NotedFor(shot bar.Entry, by string, said []string) string {
	return "Noted for " + Clip(by) + "’s shot of " + shot.At.Format("15:04") + ": " + strings.Join(said, ", ") + "."
}

// TakenOut says that an entry no longer counts.
func (l Lang) TakenOut(e bar.Entry) string {
	switch w := e.What.(type) {
	case bar.Shot:
		return "Taken out: " + l.pouredText(w) + "."
	case bar.Words:
		return "Taken out: what was said of the taste."
	case bar.Dialled:
		return "Taken back: not called dialled in any more."
	case bar.Told:
		if w.Event == bar.Moved {
			return "Taken back: the dial was not moved."
		}
		return "Taken back: it did not happen."
	case bar.Setting:
		return "Put back as it was."
	case bar.Held:
		return "Taken out: what I had asked about."
	case bar.Layers:
		return "Taken back: the tasting cup by cup is off."
	case bar.Sips:
		return "Taken out: what was said of the cups."
	}
	return ""
}

// Receipt is the late answer to a shot that has been followed by others.
func (l Lang) Receipt(s bar.Shot, lead string) string {
	if lead != "" {
		return lead
	}
	return "On the record: " + l.pouredText(s) + ". What to change stands under the newest shot."
}

// pouredText is what a shot's numbers were, but for the grind.
func (l Lang) pouredText(s bar.Shot) string {
	text := l.weighed(s.Dose) + " → " + l.weighed(s.Yield) + " g"
	if s.Time.From == bar.None {
		return text
	}
	return text + ", " + l.timed(s.Time.X) + " s"
}

// Happened says what was noted of the bar, and where a coffee that was put
// into another grinder last stood there.
func (l Lang) Happened(t bar.Told, coffee bar.Coffee, grinder bar.Grinder, stood string) string {
	switch t.Event {
	case bar.NewBag:
		return "Noted: a new bag of " + coffee.Name + ". It may run a little differently."
	case bar.Cleaned:
		return "Noted: " + grinder.Name + " was cleaned. Only ever do that unplugged. Purge before the first shot."
	case bar.Rezeroed:
		return "Noted: the dial of " + grinder.Name + " was re-zeroed. Its old numbers mean nothing now; say the setting with the next shot."
	case bar.NewBurrs:
		return "Noted: new burrs in " + grinder.Name + ". I start learning it anew."
	case bar.HopperLow:
		return "Noted: the hopper of " + grinder.Name + " is low. Shots may run faster and doses come out lighter; weigh the next one."
	case bar.HopperFilled:
		return "Noted: the hopper of " + grinder.Name + " was filled. Shots may run a little slower; weigh the next dose."
	case bar.Swapped:
		return "Noted: " + coffee.Name + " is in " + grinder.Name + " now. Purge before the first shot, so that the other coffee is out." + stood
	case bar.NewFilter:
		return "Noted: a new water filter. Flush it as its maker says; every coffee may run and taste a little differently."
	case bar.Descaled:
		return "Noted: the machine was descaled. Rinse until nothing of the descaler is left, as its maker says, before anything is served; every coffee may run differently."
	case bar.OtherBasket:
		return "Noted: another basket" + l.ofText(coffee) + ". Its shots may run quite differently; if it holds another dose, say so: /coffee edit dose:19 basket:18-20"
	case bar.OtherGroup:
		return "Noted: another group" + l.ofText(coffee) + ". Shots may run a little differently there."
	case bar.Moved: // says where to
	}
	return "Noted."
}

// ofText says of which coffee, or of all.
func (l Lang) ofText(c bar.Coffee) string {
	if c.ID == 0 {
		return " for every coffee"
	}
	return " for " + c.Name
}

// EventName names what happened, for a record of the day.
func (l Lang) EventName(t bar.Told, coffee, grinder string) string {
	switch t.Event {
	case bar.NewBag:
		return "new bag of " + coffee
	case bar.Cleaned:
		return grinder + " cleaned"
	case bar.Rezeroed:
		return "dial of " + grinder + " re-zeroed"
	case bar.NewBurrs:
		return "new burrs in " + grinder
	case bar.HopperLow:
		return "hopper of " + grinder + " low"
	case bar.HopperFilled:
		return "hopper of " + grinder + " filled"
	case bar.Swapped:
		return coffee + " put into " + grinder
	case bar.NewFilter:
		return "new water filter"
	case bar.Descaled:
		return "machine descaled"
	case bar.OtherBasket:
		return "another basket" + l.forText(coffee)
	case bar.OtherGroup:
		return "another group" + l.forText(coffee)
	case bar.Moved:
		return "dial of " + grinder + " moved"
	}
	return ""
}

func (l Lang) forText(coffee string) string {
	if coffee == "" {
		return ""
	}
	return " for " + coffee
}

// Dialled says who called a coffee dialled in, and at what.
func (l Lang) Dialled(c bar.Coffee, g bar.Grinder, s bar.Shot, who string) string {
	return c.Name + " is dialled in, called by " + who + ": " + l.shotText(g, s) + "."
}

// shotText tells of a shot without its taste.
func (l Lang) shotText(g bar.Grinder, s bar.Shot) string {
	text := l.pouredText(s)
	if g.Step > 0 && s.Grind.From != bar.None {
		text += ", " + l.dial(g, s.Grind.X)
	}
	return text
}
