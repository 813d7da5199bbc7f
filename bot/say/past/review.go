package past

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/say"
)

// A LookBack is a review and what it was asked of.
type LookBack struct {
	Lang
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
const NotYours say.English = "A review of a person is for that person alone. Your own: /review person:me"

// NoBag is said when nobody has told of a bag.
func (l Lang) NoBag(c bar.Coffee) string {
	return l.Say("Nobody has told of a new bag of %s. Say “%s new bag” when it is opened.", c.Name, strings.ToLower(c.Name))
}

// Days prints the span of a review, as far as there were shots.
func (l LookBack) Days() string {
	from, to := l.Span.From, l.Span.To
	if from < Earliest {
		return l.Say("all that is kept")
	}
	if from == to {
		return l.DateText(from, "2 Jan")
	}
	return l.DateText(from, "2 Jan") + "–" + l.DateText(to, "2 Jan")
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
	for _, part := range l.Parts() {
		lines = append(lines, bullets(part.Lines)...)
	}
	if !more {
		return strings.Join(append(lines, l.Say("Where these figures come from: /review more:yes")), "\n")
	}
	return strings.Join(append(append(lines, l.Say(SourcesHead)), bullets(l.Sources())...), "\n")
}

// bullets puts a bullet before each line.
func bullets(lines []string) []string {
	return say.Each(lines, func(line string) string { return "• " + line })
}

// Head says what a review is of.
func (l LookBack) Head() string {
	r := l.Review
	if r.Shots == 0 {
		return l.Say("%s: no shots%s.", say.Upper(l.Days()), l.ofText())
	}
	text := l.Say("%s: %s on %s", say.Upper(l.Days())+l.ofText(), l.Count(r.Shots, "shot"), l.Count(r.Days, "day"))
	if r.Judged > 0 {
		text += l.Semicolon() + l.Say("%s of %s right", strconv.Itoa(r.Right), l.Count(r.Judged, "cup"))
	}
	return text + "."
}

// Answers are the three questions of whoever runs the bar, answered in a
// sentence each: which changes worked, what mornings cost, what gives trouble.
func (l LookBack) Answers() []string {
	list := []string{l.workedText(l.Review.Effects), l.costText()}
	if l.Who.ID == 0 {
		list = append(list, l.troubleText())
	}
	return list
}

// A Part is what there is to say of one subject besides the answers, a line each.
type Part struct {
	Name   string
	About  Subject
	Coffee bar.CoffeeID // of a coffee's own part
	Lines  []string
}

// A Subject is what a part is about.
type Subject int

// The subjects.
const (
	OfChanges Subject = iota
	OfMornings
	OfTrouble
	OfCoffee
	OfAdvice
)

// Parts are what there is to say besides the answers.
func (l LookBack) Parts() []Part {
	list := []Part{
		{Name: l.Say(EffectsTitle), About: OfChanges, Lines: l.EffectLines()},
		{Name: l.Say(CostTitle), About: OfMornings, Lines: l.costLines()},
	}
	if l.Who.ID == 0 {
		list = append(list, Part{Name: l.Say(TroubleTitle), About: OfTrouble, Lines: l.troubleLines()})
	}
	for _, c := range l.Coffees {
		list = append(list, Part{Name: c.Name, About: OfCoffee, Coffee: c.ID, Lines: l.coffeeLines(c)})
	}
	own := Part{Name: l.Say("My advice and your tasters"), About: OfAdvice, Lines: some(l.recordText(l.Review.Record), l.agreeText(l.Review.Agree))}
	if l.Who.ID != 0 {
		own.Name, own.Lines = l.Say("My advice and your hand"), some(l.recordText(l.Review.Record), l.scatterText(l.Review.Scatter))
	}
	return append(list, own)
}

// some returns the lines that say something.
func some(lines ...string) []string {
	return slices.DeleteFunc(lines, func(s string) bool { return s == "" })
}

// coffeeLines are where a coffee tasted best, and what a step of its grinder is worth.
func (l LookBack) coffeeLines(c bar.Coffee) (lines []string) {
	for _, b := range l.Review.Best {
		if b.Coffee == c.ID {
			lines = append(lines, l.Best(c, l.grinderOf(c.ID), b))
		}
	}
	for _, w := range l.Review.Worth {
		if w.Coffee.ID == c.ID && l.Who.ID == 0 && w.Grinder.Step > 0 && review.HasShown(w.Band) {
			lines = append(lines, l.worthText(w))
		}
	}
	return lines
}

// EffectLines are what is known of each kind of change.
func (l LookBack) EffectLines() []string {
	var lines []string
	var open []review.Effect
	for _, e := range l.Review.Effects {
		if e.Verdict == review.Open {
			open = append(open, e)
			continue
		}
		lines = append(lines, l.effectLine(e))
	}
	if len(open) > 0 {
		lines = append(lines, l.openText(open))
	}
	return lines
}

// effectLine is what is known of a kind of change.
func (l Lang) effectLine(e review.Effect) string {
	return l.Kind(e.Kind) + " " + l.Verdict(e.Verdict) + ". " + l.EffectText(e)
}

// ofText says of what and of whom a review is.
func (l LookBack) ofText() string {
	text := ""
	switch {
	case l.Coffee.ID != 0:
		text = ", " + l.Coffee.Name
	case l.Grinder.ID != 0:
		text = ", " + l.Say("grinder %s", l.Grinder.Name)
	}
	if l.Who.ID != 0 {
		text += ", " + l.Say("your own")
	}
	return text
}

// SourcesHead stands above the sources.
const SourcesHead say.English = "Where the figures come from:"

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
		return l.Say("never")
	case 1:
		return l.Say("once")
	case 2:
		return l.Say("twice")
	}
	return l.Say("%s times", strconv.Itoa(n))
}

// coffee returns the coffee with that id.
func (l LookBack) coffee(id bar.CoffeeID) bar.Coffee {
	c, _ := bar.CoffeeOf(l.Coffees, id)
	return c
}

// grinder returns the grinder with that id.
func (l LookBack) grinder(id bar.GrinderID) bar.Grinder {
	if g, ok := bar.GrinderOf(l.Grinders, id); ok {
		return g
	}
	return bar.Grinder{Name: l.Say("without a name")}
}

// grinderOf returns the grinder of a coffee.
func (l LookBack) grinderOf(id bar.CoffeeID) bar.Grinder { return l.grinder(l.coffee(id).Grinder) }

// worthText is what a step of a grinder is worth.
func (l Lang) worthText(w review.Worth) string {
	return l.Say("One step on grinder %s is worth %s s with %s (%s–%s).", w.Grinder.Name, l.Tenths(bar.Seconds(w.Band.Mid)), w.Coffee.Name,
		l.Tenths(bar.Seconds(w.Band.Low)), l.Tenths(bar.Seconds(w.Band.High)))
}

// Best is where a coffee tasted best, an idea a sentence.
func (l Lang) Best(c bar.Coffee, g bar.Grinder, b review.Best) string {
	text := l.Say("%s tasted best at %s–%s s and about %s g.", c.Name, l.Number(b.Low), l.Number(b.High), l.Number(b.Yield)) +
		" " + l.Say("Of such cups %s of %s were liked", strconv.Itoa(b.Liked), strconv.Itoa(b.Cups))
	if b.OtherCups > 0 {
		text += ", " + l.Say("of the others %s of %s", strconv.Itoa(b.OtherLiked), strconv.Itoa(b.OtherCups))
	}
	text += "."
	if b.HasDial && g.Step > 0 {
		text += " " + l.Say("The last such cup was pulled at %s.", l.Written(g, b.Dial))
	}
	return text
}

// recordText is how good the advice was, an idea a sentence.
func (l Lang) recordText(r review.Record) string {
	if r.Said == 0 {
		return ""
	}
	text := []string{l.Say("You did what I advised %s of %s.", strconv.Itoa(r.Followed), l.Count(r.Said, "time"))}
	if share, level, shots := r.Held(); shots >= EnoughTimes {
		text = append(text, l.Say("Of 100 shots %s took about the time I expected; %s should.", say.Rounded(100*share), say.Rounded(100*level)))
	}
	if r.Keeps > 0 {
		text = append(text, say.Upper(l.keepsText(r.Wrong, r.Keeps))+".")
	}
	return strings.Join(text, " ")
}

// EnoughTimes is how many shots it takes to say how my times held.
const EnoughTimes = 20

// keepsText says how many settings that were to be left alone lasted.
func (l Lang) keepsText(wrong, keeps int) string {
	switch {
	case wrong == 0 && keeps == 1:
		return l.Say("the one setting I said to leave stayed right")
	case wrong == 0:
		return l.Say("all %s settings I said to leave stayed right", strconv.Itoa(keeps))
	}
	return l.Say("of %s I said to leave, %s went off with the next two shots", l.Count(keeps, "setting"), strconv.Itoa(wrong))
}

// scatterText is how far single shots lie apart.
func (l Lang) scatterText(e review.Estimate) string {
	if !(e.Mid > 0) {
		return l.Say("How even your hand is: too few to say.")
	}
	return l.Say("At one setting your shots differ by about %s s (%s–%s).", l.Tenths(bar.Seconds(e.Mid)), l.Tenths(bar.Seconds(e.Low)), l.Tenths(bar.Seconds(e.High)))
}

// agreeText is how well tasters agree.
func (l Lang) agreeText(a review.Agreement) string {
	if a.Units == 0 {
		return ""
	}
	if !a.Enough {
		return l.Say("Whether your tasters find the same: too few cups to say (%s tasted by two).", l.Count(a.Units, "cup"))
	}
	return l.Say("Two tasters of one cup said the same %s of %s.", strconv.Itoa(a.Same), l.Count(a.Pairs, "time")) +
		" " + l.Say("By guessing it would have been about %s.", say.Rounded(a.Chance))
}

// ReportTitle stands above the report of a bar.
func (l Lang) ReportTitle(b bar.Bar) string {
	if b.Name == "" {
		return l.Say("Looking back")
	}
	return l.Say("Looking back: %s", b.Name)
}

// Made stands at the foot of a report's page.
const Made say.English = "Made by shothand. Of figures in brackets: the true one lies between them 9 times in 10. Local rules and the makers' manuals come before anything here."
