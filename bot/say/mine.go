package say

import (
	"fmt"
	"math"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
)

// Caution is said once when somebody's tastings of a day add up.
func (l Lang) Caution(low, high float64) string {
	return "By what you posted you have tasted coffee of " + between(low, high, 10) + " mg of caffeine today: the low end if you sipped and spat, the high end if you drank it all. EFSA (2015) has no concern up to 400 mg a day for adults, 200 at once, 200 a day in pregnancy. Sip and spit; if in doubt ask a doctor."
}

// Progress tells somebody how they taste, kindly.
func (l Lang) Progress(p layers.Progress) string {
	lines := []string{fmt.Sprintf("You have tasted %s that others tasted too, before anybody was shown anything.", l.Count(p.Cups, "cup"))}
	if p.Orders > 0 {
		lines = append(lines, fmt.Sprintf("Blind cups in order: %d of %d.", p.Right, p.Orders)+l.guessText(p.Right, p.Orders))
	}
	for _, h := range p.Habits {
		way := "more"
		if h.More < 0 {
			way = "less"
		}
		lines = append(lines, fmt.Sprintf("• You find %s %s than the others do, by about %.1f of 5. That is no fault: knowing it is what helps.", way, l.habitText(h.Of), math.Abs(h.More)))
	}
	if len(p.Habits) == 0 && p.Cups >= layers.HabitCups {
		lines = append(lines, "You lean no way of your own that would show.")
	}
	switch {
	case !p.Compared:
		lines = append(lines, fmt.Sprintf("It takes %d such cups to see whether you and the others come closer.", layers.HalvesCups))
	case p.Now < p.Before:
		lines = append(lines, fmt.Sprintf("You and the others come closer: %.1f of 5 apart in the newer half, %.1f in the older.", p.Now, p.Before))
	default:
		lines = append(lines, fmt.Sprintf("You and the others are as far apart as before: %.1f of 5 in the newer half, %.1f in the older.", p.Now, p.Before))
	}
	return strings.Join(lines, "\n")
}

// habitText names what is found in cups.
func (l Lang) habitText(f bar.Scale) string {
	switch f {
	case bar.Sour:
		return "sourness"
	case bar.Bitter:
		return "bitterness"
	case bar.Sweet:
		return "sweetness"
	case bar.Body:
		return "body"
	case bar.Dry:
		return "dryness"
	}
	return ""
}
