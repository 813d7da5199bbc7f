package bycup

import (
	"math"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/say"
)

// Caution is said once when somebody's tastings of a day add up.
func (l Lang) Caution(low, high float64) string {
	return l.Say("By what you posted you have tasted coffee of %s mg of caffeine today: the low end if you sipped and spat, the high end if you drank it all.", Between(low, high, 10)) + " " +
		l.Say("EFSA (2015) has no concern up to 400 mg a day for adults, 200 at once, 200 a day in pregnancy. Sip and spit; if in doubt ask a doctor.")
}

// Progress tells somebody how they taste, kindly.
func (l Lang) Progress(p layers.Progress) string {
	lines := []string{l.Say("You have tasted %s that others tasted too, before anybody was shown anything.", l.Count(p.Cups, "cup"))}
	if p.Orders > 0 {
		lines = append(lines, l.Say("Blind cups in order: %s of %s.", strconv.Itoa(p.Right), strconv.Itoa(p.Orders))+l.guessText(p.Right, p.Orders))
	}
	for _, h := range p.Habits {
		way := say.English("You find more %s than the others do, by about %s of 5. That is no fault: knowing it is what helps.")
		if h.More < 0 {
			way = "You find less %s than the others do, by about %s of 5. That is no fault: knowing it is what helps."
		}
		lines = append(lines, "• "+l.Say(way, l.habitText(h.Of), l.Tenth(math.Abs(h.More))))
	}
	if len(p.Habits) == 0 && p.Cups >= layers.HabitCups {
		lines = append(lines, l.Say("You lean no way of your own that would show."))
	}
	switch {
	case !p.Compared:
		lines = append(lines, l.Say("It takes %s such cups to see whether you and the others come closer.", strconv.Itoa(layers.HalvesCups)))
	case p.Now < p.Before:
		lines = append(lines, l.Say("You and the others come closer: %s of 5 apart in the newer half, %s in the older.", l.Tenth(p.Now), l.Tenth(p.Before)))
	default:
		lines = append(lines, l.Say("You and the others are as far apart as before: %s of 5 in the newer half, %s in the older.", l.Tenth(p.Now), l.Tenth(p.Before)))
	}
	return strings.Join(lines, "\n")
}

// habitText names what is found in cups.
func (l Lang) habitText(f bar.Scale) string {
	switch f {
	case bar.Sour:
		return l.Say("sourness")
	case bar.Bitter:
		return l.Say("bitterness")
	case bar.Sweet:
		return l.Say("sweetness")
	case bar.Body:
		return l.Say("body")
	case bar.Dry:
		return l.Say("dryness")
	}
	return ""
}
