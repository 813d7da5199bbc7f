package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// A LookBack is a review and what it was asked of.
type LookBack struct {
	Span    review.Span
	Coffee  bar.Coffee  // the one asked of, or none
	Grinder bar.Grinder // the one asked of, or none
	Who     bar.Person  // the one asked of, or nobody
	Review  review.Review
}

// Looking back. A figure that could be chance is said to be too few to say.

// NotYours refuses the review of another person.
const NotYours = "A review of a person is for that person alone. Your own: /review person:me"

// NoBag is said when nobody has told of a bag.
func NoBag(c bar.Coffee) string {
	return "Nobody has told of a new bag of " + c.Name + ". Say “" + strings.ToLower(c.Name) + " new bag” when it is opened."
}

// DayName prints a day.
func DayName(d bar.Day) string { return dateText(d, "Mon 2 January") }

// dateText prints a day in a layout.
func dateText(d bar.Day, layout string) string {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	return t.Format(layout)
}

// Days prints the span of a review, as far as there were shots.
func (l LookBack) Days() string {
	from, to := l.Span.From, l.Span.To
	if from < earliest {
		return "all that is kept"
	}
	if from == to {
		return dateText(from, "2 Jan")
	}
	return dateText(from, "2 Jan") + "–" + dateText(to, "2 Jan")
}

// earliest is before any bar's first shot here.
const earliest bar.Day = "2000-01-02"

// Text is a review for a phone; with more, where its figures come from.
func (l LookBack) Text(more bool) string {
	if l.Review.Shots == 0 {
		return l.Head()
	}
	lines := append([]string{l.Head(), l.effectsText()}, l.Figures()...)
	if !more {
		return strings.Join(append(lines, "Where these figures come from: /review more:yes"), "\n")
	}
	lines = append(lines, SourcesHead)
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
	return Upper(l.Days()) + l.ofText() + ": " + Count(r.Shots, "shot") + " on " + Count(r.Days, "day") + "."
}

// Figures are what there is to say besides what changes did, a line each.
func (l LookBack) Figures() []string {
	r := l.Review
	var lines []string
	add := func(s string) {
		if s != "" {
			lines = append(lines, s)
		}
	}
	add(costText(r.Cost))
	if l.Who.ID == 0 {
		for _, w := range r.Worth {
			if w.Grinder.Step > 0 {
				add(worthText(w))
			}
		}
	}
	for _, b := range r.Best {
		add(bestText(b))
	}
	add(recordText(r.Record))
	if l.Who.ID != 0 {
		add(scatterText(r.Scatter))
	} else {
		add(agreeText(r.Agree))
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
	EffectsLead = "What changes did, beyond what comes by itself:"
	SourcesHead = "Where the figures come from:"
	// NoEffects stands where there is nothing to list.
	NoEffects = "No change was advised that a shot came after, so there is nothing to say of changes."
)

// effectsText tells which changes worked.
func (l LookBack) effectsText() string {
	if len(l.Review.Effects) == 0 {
		return NoEffects
	}
	lines := []string{EffectsLead}
	var few []string
	for _, e := range l.Review.Effects {
		if e.Followed > 0 && e.Verdict == review.TooFew {
			few = append(few, strings.ToLower(Kind(e.Kind))+" "+times(e.Followed))
			continue
		}
		lines = append(lines, "• "+effectText(e))
	}
	if len(few) > 0 {
		lines = append(lines, "• Too little to say: "+strings.Join(few, ", ")+".")
	}
	return strings.Join(lines, "\n")
}

// effectText is one kind of change.
func effectText(e review.Effect) string {
	text := Kind(e.Kind) + ": "
	if e.Followed == 0 {
		return text + "advised " + times(e.Advised) + ", not done."
	}
	text += Verdict(e.Verdict) + "; " + Judge(e)
	if size := Size(e); size != "" {
		text += "; " + size
	}
	return text + "."
}

// Size is how large an effect is, by the measure that fits its kind.
func Size(e review.Effect) string {
	if e.ByTime && e.Time.Low < e.Time.High {
		return signed(e.Time.Mid) + " s (" + signed(e.Time.Low) + " to " + signed(e.Time.High) + ")"
	}
	if !e.ByTime && e.Taste.Low < e.Taste.High {
		return nearerText(e.Taste)
	}
	return ""
}

// Uses is how often a kind was advised and done.
func Uses(e review.Effect) string {
	return "advised " + times(e.Advised) + ", done " + times(e.Followed)
}

// nearerText is a mean effect on taste, in taste steps of the bar's own words.
func nearerText(e review.Estimate) string {
	return signed(e.Mid) + " of a clear step (" + signed(e.Low) + " to " + signed(e.High) + "; + is nearer to balanced)"
}

// Judge is how many uses moved as foretold, against the repeats.
func Judge(e review.Effect) string {
	if e.Uses == 0 {
		return "no use that can be judged"
	}
	what := "moved as foretold"
	if !e.ByTime {
		what = "tasted better"
	}
	return fmt.Sprintf("%d of %d %s, of plain repeats %s", e.Moved, e.Uses, what, inTen(e.Control))
}

// inTen prints a share in tenths.
func inTen(share float64) string {
	switch n := int(math.Round(10 * share)); {
	case share < 0.05:
		return "almost none"
	case n == 10:
		return "almost all"
	default:
		return strconv.Itoa(n) + " in 10"
	}
}

// Kind names a kind of change.
func Kind(k review.Kind) string {
	switch k {
	case review.Finer:
		return "Finer"
	case review.Coarser:
		return "Coarser"
	case review.Longer:
		return "Longer cup"
	case review.Shorter:
		return "Shorter cup"
	case review.MoreDose:
		return "More coffee"
	case review.LessDose:
		return "Less coffee"
	case review.Care:
		return "Care of the puck"
	case review.Water:
		return "Water temperature"
	}
	return ""
}

// Verdict says what may be said of a kind of change.
func Verdict(v review.Verdict) string {
	switch v {
	case review.TooFew:
		return "too few to say"
	case review.Works:
		return "works here"
	case review.Unproven:
		return "could be chance"
	case review.Useless:
		return "does less than leaving things alone"
	}
	return ""
}

// signed prints a number to a tenth with its sign.
func signed(x float64) string {
	x = math.Round(x*10)/10 + 0
	if x < 0 {
		return "−" + Number(-x)
	}
	return "+" + Number(x)
}

// times prints how often.
func times(n int) string {
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

// costText is what mornings cost.
func costText(c review.Cost) string {
	if c.N == 0 {
		return "Nothing was called dialled in, so nobody knows what mornings cost."
	}
	onAverage := ""
	if c.N > 1 {
		onAverage = " on average"
	}
	shots := Number(math.Round(c.Shots*10)/10) + " shots"
	if shots == "1 shots" {
		shots = "1 shot"
	}
	text := fmt.Sprintf("Dialling in took %s, %.0f g and %.0f min%s (%s", shots, c.Grams, c.Minutes, onAverage, times(c.N))
	switch {
	case c.N < review.Few:
		return text + ", too few for a trend)."
	case c.Trend == review.Falling:
		return text + "); fewer shots from week to week."
	case c.Trend == review.Rising:
		return text + "); more shots from week to week."
	}
	return text + "); no trend that could not be chance."
}

// worthText is what a step of a grinder is worth.
func worthText(w review.Worth) string {
	if !review.HasShown(w.Band) {
		return "What a step of " + w.Grinder.Name + " does with " + w.Coffee.Name + " has not shown yet."
	}
	return "A step of " + w.Grinder.Name + " is worth " + tenths(bar.Seconds(w.Band.Mid)) + " s with " + w.Coffee.Name +
		" (" + tenths(bar.Seconds(w.Band.Low)) + "–" + tenths(bar.Seconds(w.Band.High)) + ")."
}

// bestText is where a coffee tasted best.
func bestText(b review.Best) string {
	text := fmt.Sprintf("%s is liked best at %s–%s s and about %s g", b.Coffee.Name, Number(b.Low), Number(b.High), Number(b.Yield))
	if b.HasDial {
		text += ", last at " + Number(b.Dial)
	}
	text += fmt.Sprintf(": %d of %s", b.Liked, Count(b.Cups, "cup"))
	if b.OtherCups > 0 {
		text += fmt.Sprintf(", elsewhere %d of %d", b.OtherLiked, b.OtherCups)
	}
	return text + "."
}

// recordText is how good the advice was.
func recordText(r review.Record) string {
	if r.Said == 0 {
		return ""
	}
	text := fmt.Sprintf("My own record: followed %d of %s", r.Followed, Count(r.Said, "time"))
	if r.Timed > 0 {
		text += fmt.Sprintf("; the time came as foretold in %d of %d (%s should)", r.Held, r.Timed, inTen(r.Level))
	}
	if r.Keeps > 0 {
		text += "; " + keepsText(r.Wrong, r.Keeps)
	}
	return text + "."
}

// keepsText says how many settings that were to be kept lasted.
func keepsText(wrong, keeps int) string {
	switch {
	case wrong == 0 && keeps == 1:
		return "its one keep lasted"
	case wrong == 0:
		return fmt.Sprintf("all %d keeps lasted", keeps)
	}
	return fmt.Sprintf("%d of %s did not last", wrong, Count(keeps, "keep"))
}

// scatterText is how far single shots lie apart.
func scatterText(e review.Estimate) string {
	if !(e.Mid > 0) {
		return "How even your hand is: too few to say."
	}
	return fmt.Sprintf("At one setting your shots differ by about %s s (%s–%s).", tenths(bar.Seconds(e.Mid)), tenths(bar.Seconds(e.Low)), tenths(bar.Seconds(e.High)))
}

// agreeText is how well tasters agree.
func agreeText(a review.Agreement) string {
	if a.Units == 0 {
		return ""
	}
	if !a.Enough {
		return "Whether tasters agree: too few to say (" + Count(a.Units, "shot") + " tasted by two)."
	}
	how := "hardly more than strangers would"
	switch {
	case a.Alpha >= 0.8:
		how = "well"
	case a.Alpha >= 0.667:
		how = "fairly"
	case a.Alpha >= 0.3:
		how = "in part"
	}
	return fmt.Sprintf("Tasters agree %s on sour or bitter (%s tasted by two or more).", how, Count(a.Units, "shot"))
}

// Sources say where the figures come from.
func (l LookBack) Sources() []string {
	r := l.Review
	lines := []string{
		"The shots: those posted in these days, without practice, singles and chokes; of each coffee the last 200 within 90 days can be gone through again.",
		"What a change did: the time of the next shot, less the time believed of it had nothing been changed, from the shots before it alone. A bad shot is never the “before”. The mean is drawn to 0 where there are few, and lies in the brackets with 9 in 10.",
		"As foretold: the time moved the way, and at least half as far. Tasted better: half a clear step, or half of the way, nearer to balanced than believed. The control is the " + Count(r.Repeats, "shot") + " pulled as the one before: how many of those look the same by chance.",
		"“Works here”: 9 in 10 sure that it does so more often than they do. Below " + strconv.Itoa(review.Few) + " uses nothing is said.",
		regressText(r.Regress),
	}
	for _, e := range r.Effects {
		if len(e.When) > 0 {
			lines = append(lines, Kind(e.Kind)+": "+whenText(e.When))
		}
	}
	return append(lines,
		"Shots to dialled in: from a coffee's first shot of the day to the one it was called by; days without a call are not counted. The trend is a straight line through them, told where 9 in 10 of its interval is on one side.",
		"What a step is worth: what the shots have taught of this grinder, in the middle of the window, with 9 in 10.",
		"Liked best: cups put together by 3 s and 2 g, from five cups on; one lucky cup is no best place.",
		"My own record: advice that a shot came after within 12 hours; its time is held against what I foretold if it came within one. A keep did not last if the two shots after it were both out of the window by over 2 s, or both complained of.",
		"Tasters: Krippendorff's alpha on shots tasted by two or more, its interval by leaving out a shot at a time; from ten shots on."+alphaText(r.Agree))
}

// alphaText is the figure behind how tasters agree.
func alphaText(a review.Agreement) string {
	if !a.Enough {
		return ""
	}
	return fmt.Sprintf(" Here %.2f (%.2f to %.2f).", a.Alpha, a.Low, a.High)
}

// regressText tells how much comes by itself.
func regressText(r review.Regress) string {
	if r.Changed == 0 && r.Unchanged == 0 {
		return "Why not simply before and after: most shots after a bad one are better, whatever was done."
	}
	return fmt.Sprintf("Why not simply before and after: of shots after one well out of the window, %d of %d were nearer to it where something was changed, and %d of %d where nothing was.",
		r.Nearer, r.Changed, r.NearerAnyway, r.Unchanged)
}

// mostDates is how many shots are named.
const mostDates = 6

// whenText names shots by their times.
func whenText(list []time.Time) string {
	var names []string
	last := ""
	for _, at := range list[max(0, len(list)-mostDates):] {
		name := at.Format("15:04")
		if day := at.Format("2 Jan"); day != last {
			name, last = day+" "+name, day
		}
		names = append(names, name)
	}
	text := "the shots of " + strings.Join(names, ", ")
	if n := len(list) - mostDates; n > 0 {
		text += ", and " + strconv.Itoa(n) + " before"
	}
	return text
}
