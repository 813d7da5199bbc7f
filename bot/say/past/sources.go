package past

import (
	"strconv"
	"strings"
	"time"

	"shothand/advisor/review"
)

// Sources say where the figures come from.
func (l LookBack) Sources() []string {
	r := l.Review
	lines := []string{
		l.Say("The shots: all that were posted in these days. A cup is right where nothing was said against it; one that is a bit off counts half. Where nobody tasted, the clock says it: right in the window, wrong from 4 s out."),
		l.Say("What a change did: how many cups were right after it, beyond those that would have been had nothing been changed. What would have been the %s teach that were pulled as the one before: it counts whether the cup before was off, and by the clock as well, whether that setting had been right that day, and whether the coffee had been called dialled in. All coffees, grinders and weeks are taken together, each allowed to be a little different, and few uses are drawn to what changes do here as a whole. The brackets hold it 9 times in 10.", l.Count(r.Repeats, "shot")),
		l.Say("“Helps”: 9 in 10 sure that more cups are right after it. “Does not help”: 98 in 100 sure that no more are. “No difference we can see”: 9 in 10 sure that it is no more than two cups of ten. Left out are changes of two things at once, since nobody can say which of them did it, and those after a cup that was right."),
		l.regressText(r.Regress),
	}
	for _, e := range r.Effects {
		if len(e.When) > 0 {
			lines = append(lines, l.Kind(e.Kind)+l.Colon()+l.whenText(e.When))
		}
	}
	return append(lines,
		l.Say("What mornings cost: the shots from a coffee's first of the day to the one it was called dialled in by, each coffee and morning for itself; days without a call are not counted. Now and before differ where we are 9 in 10 sure of it. Money is at today's price: /coffee edit price:24, /setup currency:EUR."),
		l.Say("What gives trouble: cups that were more wrong than right. It is named where we are 9 in 10 sure that it is worse than the rest together. Of an hour the cups count that came after the coffee was called dialled in: that some are off before is no news."),
		l.Say("Tasted best: cups put together by 3 s and 2 g, from five cups on; one lucky cup is no best place."),
		l.Say("What a step is worth: what the shots have taught of this grinder, in the middle of the window, 9 times in 10."),
		l.Say("My advice: what a shot came after within 12 hours. The time I expect is a range that 80 of 100 shots should lie in. A setting that I said to leave went off if the two shots after it were both out of the window by over 2 s, or both complained of."),
		l.Say("Tasters: cups that two or more tasted, from ten on. The same is both sour, both bitter, or neither of both. By guessing: as often as two of their answers are the same that are drawn by chance."))
}

// regressText tells how much comes by itself.
func (l Lang) regressText(r review.Regress) string {
	if r.Changed == 0 && r.Unchanged == 0 {
		return l.Say("Why not simply before and after: most shots after a bad one are better, whatever was done.")
	}
	return l.Say("Why not simply before and after: of shots after one well out of the window, %s of %s were nearer to it where something was changed, and %s of %s where nothing was.",
		strconv.Itoa(r.Nearer), strconv.Itoa(r.Changed), strconv.Itoa(r.NearerAnyway), strconv.Itoa(r.Unchanged))
}

// mostDates is how many shots are named.
const mostDates = 6

// whenText names shots by their times.
func (l Lang) whenText(list []time.Time) string {
	var names []string
	last := ""
	for _, at := range list[max(0, len(list)-mostDates):] {
		name := l.Clock(at)
		if day := l.ShortDate(at); day != last {
			name, last = day+" "+name, day
		}
		names = append(names, name)
	}
	text := l.Say("the shots of %s", strings.Join(names, ", "))
	if n := len(list) - mostDates; n > 0 {
		text += l.Say(", and %s before", strconv.Itoa(n))
	}
	return text
}
