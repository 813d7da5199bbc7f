package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/parse"
)

// A LookBack is a review and what it was asked of.
type LookBack struct {
	Lang    Lang
	Span    review.Span
	Coffee  bar.Coffee  // the one asked of, or none
	Grinder bar.Grinder // the one asked of, or none
	Who     bar.Person  // the one asked of, or nobody
	Bar     bar.Bar     // the one asked of, where there are several
	Review  review.Review

	Coffees  []bar.Coffee // of the bar
	Grinders []bar.Grinder
	Currency string
}

// Looking back. A figure that could be chance is said to be too few to say.

// NotYours refuses the review of another person.
const NotYours English = "A review of a person is for that person alone. Your own: /review person:me"

// NoBag is said when nobody has told of a bag.
func (l Lang) NoBag(c bar.Coffee) string {
	return "Nobody has told of a new bag of " + c.Name + ". Say “" + strings.ToLower(c.Name) + " new bag” when it is opened."
}

// DayName prints a day.
func (l Lang) DayName(d bar.Day) string { return l.dateText(d, longDate) }

// dateText prints a day in a layout.
func (l Lang) dateText(d bar.Day, layout string) string {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	if l.english() {
		return t.Format(layout)
	}
	day := strconv.Itoa(t.Day())
	if layout == longDate {
		return l.Say("date|%s %s %s", l.shortDay(t.Weekday()), day, l.Say(months()[t.Month()-1]))
	}
	return l.Say("date|%s %s", day, l.Say(shortMonths()[t.Month()-1]))
}

// longDate is the layout of a day by its name.
const longDate = "Mon 2 January"

func months() []English {
	return []English{
		"January", "February", "March", "April", "month|May", "June",
		"July", "August", "September", "October", "November", "December",
	}
}

func shortMonths() []English {
	return []English{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
}

// Days prints the span of a review, as far as there were shots.
func (l LookBack) Days() string {
	from, to := l.Span.From, l.Span.To
	if from < Earliest {
		return "all that is kept"
	}
	if from == to {
		return l.Lang.dateText(from, "2 Jan")
	}
	return l.Lang.dateText(from, "2 Jan") + "–" + l.Lang.dateText(to, "2 Jan")
}

// Earliest is before any bar's first shot here.
const Earliest bar.Day = "2000-01-02"

// Text is a review for a phone: the answers first; with more, where its figures
// come from.
func (l LookBack) Text(more bool) string {
	if l.Review.Shots == 0 {
		return l.Head()
	}
	lines := append([]string{l.Head()}, l.Answers()...)
	lines = append(lines, l.Figures()...)
	if !more {
		return strings.Join(append(lines, "Where these figures come from: /review more:yes"), "\n")
	}
	lines = append(lines, l.Lang.Say(SourcesHead))
	for _, source := range l.Sources() {
		lines = append(lines, "• "+source)
	}
	return strings.Join(lines, "\n")
}

// Head says what a review is of.
func (l LookBack) Head() string {
	r := l.Review
	if r.Shots == 0 {
		return Upper(l.Days()) + ": no shots" + l.ofText() + "."
	}
	text := Upper(l.Days()) + l.ofText() + ": " + l.Lang.Count(r.Shots, "shot") + " on " + l.Lang.Count(r.Days, "day")
	if r.Judged > 0 {
		text += fmt.Sprintf("; %d of %s right", r.Right, l.Lang.Count(r.Judged, "cup"))
	}
	return text + "."
}

// Answers are the three questions of whoever runs the bar, answered in a
// sentence each: which changes worked, what mornings cost, what gives trouble.
func (l LookBack) Answers() []string {
	list := []string{l.Lang.workedText(l.Review.Effects), l.costText()}
	if l.Who.ID == 0 {
		list = append(list, l.troubleText())
	}
	return list
}

// Figures are what there is to say besides the answers, a line each.
func (l LookBack) Figures() []string {
	r := l.Review
	var lines []string
	add := func(list ...string) {
		for _, s := range list {
			if s != "" {
				lines = append(lines, s)
			}
		}
	}
	add(l.EffectLines()...)
	add(l.costLines()...)
	if l.Who.ID == 0 {
		add(l.troubleLines()...)
	}
	for _, b := range r.Best {
		add(l.Lang.Best(l.coffee(b.Coffee), l.grinderOf(b.Coffee), b) + ".")
	}
	if l.Who.ID == 0 {
		for _, w := range r.Worth {
			if w.Grinder.Step > 0 && review.HasShown(w.Band) {
				add(l.Lang.worthText(w))
			}
		}
	}
	add(l.Lang.recordText(r.Record))
	if l.Who.ID != 0 {
		add(l.Lang.scatterText(r.Scatter))
	} else {
		add(l.Lang.agreeText(r.Agree))
	}
	return lines
}

// EffectLines are what is known of each kind of change.
func (l LookBack) EffectLines() []string {
	var lines, open []string
	for _, e := range l.Review.Effects {
		if e.Verdict == review.Open {
			open = append(open, strings.ToLower(l.Lang.Kind(e.Kind))+" "+l.Lang.times(e.Uses)+", "+l.Lang.settleText(e.More))
			continue
		}
		lines = append(lines, "• "+l.Lang.Kind(e.Kind)+" "+l.Lang.Verdict(e.Verdict)+": "+l.Lang.EffectText(e)+".")
	}
	if len(open) > 0 {
		lines = append(lines, "• Still open: "+strings.Join(open, "; ")+".")
	}
	return lines
}

// ofText says of what and of whom a review is.
func (l LookBack) ofText() string {
	text := ""
	switch {
	case l.Coffee.ID != 0:
		text = ", " + l.Coffee.Name
	case l.Grinder.ID != 0:
		text = ", grinder " + l.Grinder.Name
	}
	if l.Who.ID != 0 {
		text += ", your own"
	}
	return text
}

// What stands above lists.
const (
	EffectsLead English = "What changes did"
	SourcesHead English = "Where the figures come from:"
)

// signed prints a number to a tenth with its sign.
func (l Lang) signed(x float64) string {
	x = math.Round(x*10)/10 + 0
	if x < 0 {
		return "−" + l.Number(-x)
	}
	return "+" + l.Number(x)
}

// times prints how often.
func (l Lang) times(n int) string {
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

// coffee returns the coffee with that id.
func (l LookBack) coffee(id bar.CoffeeID) bar.Coffee {
	for _, c := range l.Coffees {
		if c.ID == id {
			return c
		}
	}
	return bar.Coffee{}
}

// grinder returns the grinder with that id.
func (l LookBack) grinder(id bar.GrinderID) bar.Grinder {
	for _, g := range l.Grinders {
		if g.ID == id {
			return g
		}
	}
	return bar.Grinder{Name: "without a name"}
}

// grinderOf returns the grinder of a coffee.
func (l LookBack) grinderOf(id bar.CoffeeID) bar.Grinder { return l.grinder(l.coffee(id).Grinder) }

// worthText is what a step of a grinder is worth.
func (l Lang) worthText(w review.Worth) string {
	return "One step on grinder " + w.Grinder.Name + " is worth " + l.tenths(bar.Seconds(w.Band.Mid)) + " s with " + w.Coffee.Name +
		" (" + l.tenths(bar.Seconds(w.Band.Low)) + "–" + l.tenths(bar.Seconds(w.Band.High)) + ")."
}

// Best is where a coffee tasted best.
func (l Lang) Best(c bar.Coffee, g bar.Grinder, b review.Best) string {
	text := fmt.Sprintf("%s tasted best at %s–%s s and about %s g", c.Name, l.Number(b.Low), l.Number(b.High), l.Number(b.Yield))
	if b.HasDial && g.Step > 0 {
		text += ", last at " + parse.Write(g, b.Dial)
	}
	text += fmt.Sprintf(": liked %d of %s", b.Liked, l.Count(b.Cups, "cup"))
	if b.OtherCups > 0 {
		text += fmt.Sprintf(", elsewhere %d of %d", b.OtherLiked, b.OtherCups)
	}
	return text
}

// recordText is how good the advice was.
func (l Lang) recordText(r review.Record) string {
	if r.Said == 0 {
		return ""
	}
	text := fmt.Sprintf("My advice: you did it %d of %s", r.Followed, l.Count(r.Said, "time"))
	if share, level, shots := r.Held(); shots >= EnoughTimes {
		text += fmt.Sprintf("; of 100 shots %.0f took about the time I expected, as %.0f should", 100*share, 100*level)
	}
	if r.Keeps > 0 {
		text += "; " + l.keepsText(r.Wrong, r.Keeps)
	}
	return text + "."
}

// EnoughTimes is how many shots it takes to say how my times held.
const EnoughTimes = 20

// keepsText says how many settings that were to be left alone lasted.
func (l Lang) keepsText(wrong, keeps int) string {
	switch {
	case wrong == 0 && keeps == 1:
		return "the one setting I said to leave stayed right"
	case wrong == 0:
		return fmt.Sprintf("all %d settings I said to leave stayed right", keeps)
	}
	return fmt.Sprintf("of %s I said to leave, %d went off with the next two shots", l.Count(keeps, "setting"), wrong)
}

// scatterText is how far single shots lie apart.
func (l Lang) scatterText(e review.Estimate) string {
	if !(e.Mid > 0) {
		return "How even your hand is: too few to say."
	}
	return fmt.Sprintf("At one setting your shots differ by about %s s (%s–%s).", l.tenths(bar.Seconds(e.Mid)), l.tenths(bar.Seconds(e.Low)), l.tenths(bar.Seconds(e.High)))
}

// agreeText is how well tasters agree.
func (l Lang) agreeText(a review.Agreement) string {
	if a.Units == 0 {
		return ""
	}
	if !a.Enough {
		return "Whether your tasters find the same: too few cups to say (" + l.Count(a.Units, "cup") + " tasted by two)."
	}
	how := "Your tasters often differ: what one calls sour another calls bitter or right"
	switch {
	case a.Alpha >= 0.8:
		how = "Your tasters find the same sour and the same bitter"
	case a.Alpha >= 0.667:
		how = "Your tasters mostly find the same sour and the same bitter"
	case a.Alpha >= 0.3:
		how = "Your tasters find the same sour or bitter about half the time"
	}
	return how + " (" + l.Count(a.Units, "cup") + " tasted by two or more)."
}
