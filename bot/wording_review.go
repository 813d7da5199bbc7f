package bot

// What the bot says when it looks back; the voice is that of wording.go. A
// figure that could be chance is said to be too few to say.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
)

const notYoursText = "A review of a person is for that person alone. Your own: /review person:me"

// noBagText is said when nobody has told of a bag.
func noBagText(c advisor.Coffee) string {
	return "Nobody has told of a new bag of " + c.Name + ". Say “" + strings.ToLower(c.Name) + " new bag” when it is opened."
}

// dayName prints a day.
func dayName(d advisor.Day) string { return dateText(d, "Mon 2 January") }

// dateText prints a day in a layout.
func dateText(d advisor.Day, layout string) string {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	return t.Format(layout)
}

// spanText prints the span of a review, as far as there were shots.
func (l lookBack) spanText() string {
	from, to := l.span.From, l.span.To
	if from < earliest {
		return "all that is kept"
	}
	if from == to {
		return dateText(from, "2 Jan")
	}
	return dateText(from, "2 Jan") + "–" + dateText(to, "2 Jan")
}

// earliest is before any bar's first shot here.
const earliest advisor.Day = "2000-01-02"

// text is a review for a phone; with more, where its figures come from.
func (l lookBack) text(more bool) string {
	if l.review.Shots == 0 {
		return l.headText()
	}
	lines := append([]string{l.headText(), l.effectsText()}, l.figures()...)
	if !more {
		return strings.Join(append(lines, "Where these figures come from: /review more:yes"), "\n")
	}
	lines = append(lines, sourcesHead)
	for _, source := range l.sources() {
		lines = append(lines, "• "+source)
	}
	return strings.Join(lines, "\n")
}

// headText says what a review is of.
func (l lookBack) headText() string {
	r := l.review
	if r.Shots == 0 {
		return upper(l.spanText()) + ": no shots" + l.ofText() + "."
	}
	return upper(l.spanText()) + l.ofText() + ": " + count(r.Shots, "shot") + " on " + count(r.Days, "day") + "."
}

// figures are what there is to say besides what changes did, a line each.
func (l lookBack) figures() []string {
	r := l.review
	var lines []string
	add := func(s string) {
		if s != "" {
			lines = append(lines, s)
		}
	}
	add(costText(r.Cost))
	if l.who.ID == 0 {
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
	if l.who.ID != 0 {
		add(scatterText(r.Scatter))
	} else {
		add(agreeText(r.Agree))
	}
	return lines
}

// ofText says of what and of whom a review is.
func (l lookBack) ofText() string {
	text := ""
	switch {
	case l.coffee.ID != 0:
		text = ", " + l.coffee.Name
	case l.grinder.ID != 0:
		text = ", grinder " + l.grinder.Name
	}
	if l.who.ID != 0 {
		text += ", your own"
	}
	return text
}

// What stands above lists.
const (
	effectsLead = "What changes did, beyond what comes by itself:"
	sourcesHead = "Where the figures come from:"
	// noEffectsText stands where there is nothing to list.
	noEffectsText = "No change was advised that a shot came after, so there is nothing to say of changes."
)

// effectsText tells which changes worked.
func (l lookBack) effectsText() string {
	if len(l.review.Effects) == 0 {
		return noEffectsText
	}
	lines := []string{effectsLead}
	for _, e := range l.review.Effects {
		lines = append(lines, "• "+effectText(e))
	}
	return strings.Join(lines, "\n")
}

// effectText is one kind of change.
func effectText(e review.Effect) string {
	text := kindText(e.Kind) + ": "
	if e.Followed == 0 {
		return text + "advised " + times(e.Advised) + ", not done."
	}
	text += verdictText(e.Verdict)
	if e.Verdict == review.TooFew {
		text += " (" + count(e.Followed, "use") + ")"
	} else {
		text += "; " + judgeText(e)
	}
	if size := sizeText(e); size != "" {
		text += "; " + size
	}
	return text + "."
}

// sizeText is how large an effect is, by the measure that fits its kind.
func sizeText(e review.Effect) string {
	if e.ByTime && e.Time.Low < e.Time.High {
		return signed(e.Time.Mid) + " s (" + signed(e.Time.Low) + " to " + signed(e.Time.High) + ")"
	}
	if !e.ByTime && e.Taste.Low < e.Taste.High {
		return nearerText(e.Taste)
	}
	return ""
}

// usesText is how often a kind was advised and done.
func usesText(e review.Effect) string {
	return "advised " + times(e.Advised) + ", done " + times(e.Followed)
}

// nearerText is a mean effect on taste, in taste steps of the bar's own words.
func nearerText(e review.Estimate) string {
	way := "nearer to balanced"
	if e.Mid < 0 {
		way = "away from balanced"
	}
	return number(math.Round(math.Abs(e.Mid)*10)/10) + " of a clear step " + way + " (" + signed(e.Low) + " to " + signed(e.High) + ")"
}

// judgeText is how many uses moved as foretold, against the repeats.
func judgeText(e review.Effect) string {
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

// kindText names a kind of change.
func kindText(k review.Kind) string {
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

// verdictText says what may be said of a kind of change.
func verdictText(v review.Verdict) string {
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
		return "−" + number(-x)
	}
	return "+" + number(x)
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
	text := fmt.Sprintf("A coffee took %s shots, %.0f g and %.0f min to dialled in (%s", number(math.Round(c.Shots*10)/10), c.Grams, c.Minutes, times(c.N))
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
	return "A step of " + w.Grinder.Name + " is worth " + tenths(advisor.Seconds(w.Band.Mid)) + " s with " + w.Coffee.Name +
		" (" + tenths(advisor.Seconds(w.Band.Low)) + "–" + tenths(advisor.Seconds(w.Band.High)) + ")."
}

// bestText is where a coffee tasted best.
func bestText(b review.Best) string {
	text := fmt.Sprintf("%s is liked best at %s–%s s and about %s g", b.Coffee.Name, number(b.Low), number(b.High), number(b.Yield))
	if b.HasDial {
		text += ", last at " + number(b.Dial)
	}
	text += fmt.Sprintf(": %d of %s", b.Liked, count(b.Cups, "cup"))
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
	text := fmt.Sprintf("My own record: followed %d of %s", r.Followed, count(r.Said, "time"))
	if r.Timed > 0 {
		text += fmt.Sprintf("; the time came as foretold in %d of %d (%s should)", r.Held, r.Timed, inTen(r.Level))
	}
	if r.Keeps > 0 {
		text += fmt.Sprintf("; %d of %s did not last", r.Wrong, count(r.Keeps, "keep"))
	}
	return text + "."
}

// scatterText is how far single shots lie apart.
func scatterText(e review.Estimate) string {
	if !(e.Mid > 0) {
		return "How even your hand is: too few to say."
	}
	return fmt.Sprintf("At one setting your shots differ by about %s s (%s–%s).", tenths(advisor.Seconds(e.Mid)), tenths(advisor.Seconds(e.Low)), tenths(advisor.Seconds(e.High)))
}

// agreeText is how well tasters agree.
func agreeText(a review.Agreement) string {
	if a.Units == 0 {
		return ""
	}
	if !a.Enough {
		return "Whether tasters agree: too few to say (" + count(a.Units, "shot") + " tasted by two)."
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
	return fmt.Sprintf("Tasters agree %s on sour or bitter (%s tasted by two or more).", how, count(a.Units, "shot"))
}

// sources say where the figures come from.
func (l lookBack) sources() []string {
	r := l.review
	lines := []string{
		"The shots: those posted in these days, without practice, singles and chokes; of each coffee the last 200 within 90 days can be gone through again.",
		"What a change did: the time of the next shot, less the time believed of it had nothing been changed, from the shots before it alone. A bad shot is never the “before”. The mean is drawn to 0 where there are few, and lies in the brackets with 9 in 10.",
		"As foretold: it moved the way, and at least half as far. The control is the " + count(r.Repeats, "shot") + " pulled as the one before: how many of those look the same by chance.",
		"“Works here”: 9 in 10 sure that it does so more often than they do. Below " + strconv.Itoa(review.Few) + " uses nothing is said.",
		regressText(r.Regress),
	}
	for _, e := range r.Effects {
		if len(e.When) > 0 {
			lines = append(lines, kindText(e.Kind)+": "+whenText(e.When))
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

// What stands in and around the pictures.
const (
	effectsTitle     = "What the changes did"
	effectsUnder     = "Seconds beyond what would have come anyway."
	effectsHead      = "difference in time, s"
	costTitle        = "What mornings cost"
	calibrationTitle = "How my forecasts held"
	calibrationHead  = "shots within, of 100"
)

func effectsWords() chart.RowWords {
	return chart.RowWords{Value: "mean", Interval: "where it lies, 9 in 10"}
}

func calibrationWords() chart.RowWords {
	return chart.RowWords{Value: "lay within", Against: "should lie within"}
}

func calibrationName(b review.Bin) string {
	return "where " + number(100*b.Level) + " of 100 should lie"
}

func costWords() chart.CostWords {
	return chart.CostWords{Head: "shots to dialled in", Foot: "week of", Morning: "one coffee, one morning", Mean: "mean of the week"}
}

func dayWords() chart.DayWords {
	return chart.DayWords{Window: "window", Shot: "shot", Choked: "choked", Called: "called dialled in"}
}

func dialInWords(c advisor.Coffee) chart.Words {
	return chart.Words{Window: "window " + window(c.Recipe), Believed: "foretold before the shot, 9 in 10", Shot: "shot", Choked: "choked"}
}

func curveWords(c review.Course, day advisor.Day) chart.CurveWords {
	foot := "dial of " + c.Grinder.Name
	switch c.Grinder.Finer {
	case advisor.Lower:
		foot += ", lower is finer"
	case advisor.Higher:
		foot += ", higher is finer"
	case advisor.Unknown:
	}
	return chart.CurveWords{
		Foot: foot, Window: "window " + window(c.Coffee.Recipe), Learnt: "time as learnt by now", Band: "the true time, 9 in 10",
		Shot: "shots of " + dateText(day, "2 Jan"), Old: "earlier shots, of other days' coffee",
	}
}

func driftWords(c advisor.Coffee) chart.DriftWords {
	return chart.DriftWords{Window: "window " + window(c.Recipe), Believed: "foretold before the shot, 9 in 10", Shot: "shot", Moved: "after a change", Alarm: "told here"}
}

func dialInTitle(c advisor.Coffee, day advisor.Day, called bool) string {
	if called {
		return c.Name + ", dialled in on " + dayName(day)
	}
	return c.Name + " on " + dayName(day)
}

// dialInUnder is what it cost.
func dialInUnder(steps []advisor.Step) string {
	g := 0.0
	for _, s := range steps {
		g += float64(s.Shot.Dose.X)
	}
	minutes := steps[len(steps)-1].Entry.At.Sub(steps[0].Entry.At).Minutes()
	return fmt.Sprintf("%s, %.0f g of coffee, %.0f min", count(len(steps), "shot"), g, minutes)
}

// shotName is where the dial stood, or which shot it is.
func shotName(g advisor.Grinder, s advisor.Step) string {
	if g.Step > 0 && s.Shot.Grind.From != advisor.None {
		return number(float64(s.Shot.Grind.X))
	}
	return s.Entry.At.Format("15:04")
}

// saidText is what was said of a shot, then and later, by anybody.
func saidText(s advisor.Step) string { return strings.Join(wordsText(s.Words), ", ") }

// changeText is what was changed before a shot.
func changeText(s, before advisor.Step) string {
	switch {
	case s.Grind > before.Grind+1e-9:
		return "finer"
	case s.Grind < before.Grind-1e-9:
		return "coarser"
	case !s.Moved:
		return ""
	case s.Yield > before.Yield:
		return "longer"
	case s.Yield < before.Yield:
		return "shorter"
	}
	return ""
}

func curveTitle(c review.Course) string { return c.Coffee.Name + " on " + c.Grinder.Name }

func curveUnder(c review.Course) string {
	return fmt.Sprintf("A step of %s is worth about %s s", number(c.Grinder.Step), tenths(advisor.Seconds(c.Trail.Worth.Mid)))
}

func driftTitle(c advisor.Coffee, day advisor.Day) string {
	return c.Name + " through " + dayName(day)
}

// What pictures show, for those who do not see them.

func dialInAlt(c advisor.Coffee, steps []advisor.Step, called bool) string {
	var rows []string
	for _, s := range steps {
		row := ""
		switch {
		case s.Shot.Marks.Has(advisor.Choked):
			row = "choked"
		case s.Shot.Time.From == advisor.None:
			row = "not timed"
		default:
			row = whole(s.Shot.Time.X) + " s"
		}
		row += ", " + grams(s.Yield) + " g"
		if said := saidText(s); said != "" {
			row += ", " + said
		}
		rows = append(rows, row)
	}
	return clipAlt(dialInTitle(c, steps[0].Entry.Day, called) + ". Shot by shot: " + strings.Join(rows, "; ") + ". The window is " + window(c.Recipe) + ".")
}

func curveAlt(c review.Course, shots int) string {
	first, last := c.Trail.Curve[0], c.Trail.Curve[len(c.Trail.Curve)-1]
	return fmt.Sprintf("%s: time of %s over the dial, from about %.0f s at %s to %.0f s at %s. %s.", curveTitle(c), count(shots, "shot"),
		first.Mid, number(float64(first.Dial)), last.Mid, number(float64(last.Dial)), curveUnder(c))
}

func driftAlt(c advisor.Coffee, d chart.Drift) string {
	first, last := d.Shots[0], d.Shots[len(d.Shots)-1]
	return fmt.Sprintf("%s. %s, from %.0f s at first to %.0f s at last. The window is %s.", d.Title, d.Under, first.Time, last.Time, window(c.Recipe))
}

func dayAlt(d chart.Day) string {
	var parts []string
	for _, c := range d.Coffees {
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range c.Shots {
			low, high = min(low, s.Time), max(high, s.Time)
		}
		parts = append(parts, fmt.Sprintf("%s, %s of %.0f to %.0f s", c.Name, count(len(c.Shots), "shot"), low, high))
	}
	return d.Title + ", shots by the clock: " + strings.Join(parts, "; ") + "."
}

func (l lookBack) effectsAlt() string {
	var parts []string
	for _, e := range l.review.Effects {
		parts = append(parts, effectText(e))
	}
	return clipAlt(effectsTitle + ". " + strings.Join(parts, " "))
}

func (l lookBack) costAlt() string { return costTitle + ", by week. " + costText(l.review.Cost) }

func calibrationAlt(bins []review.Bin) string {
	var parts []string
	for _, b := range bins {
		parts = append(parts, fmt.Sprintf("%.0f of 100 where %.0f should", 100*b.Share, 100*b.Level))
	}
	return calibrationTitle + ": " + strings.Join(parts, ", ") + ". " + count(bins[0].N, "shot") + "."
}

// mostAlt is how long what a picture shows may be told, in characters: the
// shortest limit of the services that carry it.
const mostAlt = 1024

func clipAlt(text string) string {
	if r := []rune(text); len(r) > mostAlt {
		return string(r[:mostAlt-1]) + "…"
	}
	return text
}

// DemoText says what the demo is, while it is being made.
func DemoText(path string) string {
	return "Making an invented bar, Harbour Lane, in " + path + ": six weeks of shots from a simulation. No such bar, coffee or person exists."
}

// DemoHintText says what to look at.
const DemoHintText = "Harbour Lane is invented. Try: /review   /review Harbour last month   /coffee show name:Tide   /today"

// What stands on a report's page.
const (
	wholeBarText = "The whole bar"
	madeText     = "Made by shothand. Figures in brackets are intervals that hold 9 times in 10. Local rules and the makers' manuals come before anything here."
)

func reportTitle(b advisor.Bar) string {
	if b.Name == "" {
		return "Looking back"
	}
	return "Looking back: " + b.Name
}

// whichBarText asks which bar of a file is meant.
func whichBarText(channel string, bars int) string {
	if channel == "" {
		return "the file holds " + count(bars, "bar") + "; name one by its channel with -bar."
	}
	return "the file holds no bar of the channel “" + clip(channel) + "”."
}

// ReportWhereText asks where a report should go.
const ReportWhereText = "say where the page should go: shothand report -o FILE.html"

// What stands in the picture of a tasting cup by cup.
const layersHead = "share of all that was dissolved, %"

func layersTitle(a account) string { return a.coffee.Name + ", cup by cup" }

func layersWords(a account) chart.RowWords {
	w := chart.RowWords{Interval: "expected by a model, 4 in 5", Against: "its middle"}
	if a.known {
		w.Value = "measured"
	}
	return w
}

// layerName names a cup with its weight.
func layerName(l layers.Layer, mass float64) string {
	return l.String() + ", " + grams(advisor.Grams(mass)) + " g"
}

func layersAlt(d chart.Layers) string {
	var parts []string
	for _, c := range d.Cups {
		part := fmt.Sprintf("%s, %.0f to %.0f %% of what was dissolved expected", c.Name, 100*c.Low, 100*c.High)
		if !math.IsNaN(c.Share) {
			part += fmt.Sprintf(", %.0f %% measured", 100*c.Share)
		}
		if c.Said != "" {
			part += ", " + c.Said
		}
		parts = append(parts, part)
	}
	return clipAlt(d.Title + ": " + strings.Join(parts, "; ") + ".")
}
