package say

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Today is where one coffee stands today.
type Today struct {
	Lang Lang
	advisor.Outlook
	Coffee  bar.Coffee
	Grinder bar.Grinder
	Caller  string // who called it dialled in
	Next    Move   // what to do now
	Tasted  bool   // somebody has tasted the newest shot

	CalledAt time.Time // where it was called dialled in today and is open again
	Opened   Happening // what has opened it, if that was told
}

// A Move is what to do with a coffee, as it was last advised.
type Move struct {
	Lever    bar.Lever
	From, To float64 // in Unit
	Unit     advisor.Unit
	Done     bool // somebody did it; no shot has come since
}

// Turn returns by how many steps a move turns a grinder, + is finer.
func (m Move) Turn(g bar.Grinder) float64 {
	switch {
	case m.Lever != bar.Grind || m.Done:
		return 0
	case m.Unit == advisor.StepUnit:
		return m.To
	}
	return g.Steps(bar.Dial(m.To)) - g.Steps(bar.Dial(m.From))
}

// nextText says what to do with a coffee.
func (l Today) nextText() string {
	if l.Next.Lever == bar.Keep && !l.Next.Done && l.Tasted {
		return l.Lang.Colon() + l.Lang.Say("call it dialled in")
	}
	if l.Next.Lever == bar.Repeat && !l.Tasted {
		return l.Lang.Colon() + l.Lang.Say("pull one and taste")
	}
	return l.Next.text(l.Lang, l.Grinder)
}

// text says what to do, shortly.
func (m Move) text(l Lang, g bar.Grinder) string {
	switch {
	case m.Done:
		return l.Colon() + l.Say("pull one and taste")
	case m.Lever == bar.Grind && m.Unit == advisor.DialUnit:
		return l.Colon() + l.Say("go to %s", l.Written(g, bar.Dial(m.To)))
	case m.Lever == bar.Grind:
		return l.Colon() + l.Say("go %s", l.turned(m.To))
	case m.Lever == bar.Yield:
		return l.Colon() + l.Say("stop at %s g", l.Grams(bar.Grams(m.To)))
	case m.Lever == bar.Dose:
		return l.Colon() + l.Say("dose %s g", l.Grams(bar.Grams(m.To)))
	case m.Lever == bar.Keep:
		return l.Colon() + l.Say("call it, if it tastes right")
	case m.Lever == bar.Repeat, m.Lever == bar.Prep:
		return l.Colon() + l.Say("pull one more")
	}
	return ""
}

// last returns the coffee's newest shot.
func (l Today) last() bar.Shot {
	s, _ := l.Last.What.(bar.Shot)
	return s
}

// earned returns the shot that was called dialled in.
func (l Today) earned() bar.Shot {
	s, _ := l.Earned.What.(bar.Shot)
	return s
}

// A Happening is something that happened today.
type Happening struct {
	At   time.Time
	Text string
	Who  string
}

// Together says that two coffees moved at once.
func (l Lang) Together(a, b bar.Coffee, way float64) string {
	how := English("%s and %s both run faster than before:")
	if way > 0 {
		how = "%s and %s both run slower than before:"
	}
	shared := English("that looks like the machine or the water. Check %s before you move both grinds.")
	if a.Grinder == b.Grinder {
		shared = "that looks like the machine, the water or the grinder. Check %s before you move the grind."
	}
	return l.Say(how, a.Name, b.Name) + " " + l.Say(shared, l.lookFirst(a, b))
}

// lookFirst names what two coffees share.
func (l Lang) lookFirst(a, b bar.Coffee) string {
	if a.Grinder == b.Grinder {
		return l.Say("pressure, temperature, water and the grinder")
	}
	return l.Say("pressure, temperature and water")
}

// HappenedToday lists what happened to the bar today.
func (l Lang) HappenedToday(told []Happening) string {
	parts := Each(told, func(h Happening) string { return l.Clock(h.At) + " " + h.Text + " (" + h.Who + ")" })
	return l.Say("Happened: %s", strings.Join(parts, l.Semicolon()))
}

// The bar's day: card, reminder, alert and closing note.

// DayTitle names a bar's day: "Harbour Lane · Mon 2 March". A bar that nobody
// has named goes by the day alone.
func (l Lang) DayTitle(b bar.Bar, channel string, day bar.Day) string {
	if b.Name == "" || b.Name == channel {
		return l.DayName(day)
	}
	return b.Name + " · " + l.DayName(day)
}

// Card is where every coffee stands: the card of the day.
func (l Lang) Card(title string, lines []Today, told []Happening) string {
	if len(lines) == 0 {
		return l.Say("No coffee yet. Post a shot, such as: 18.1 36.4 24 sour thin")
	}
	text := []string{title}
	lines = slices.Clone(lines)
	slices.SortStableFunc(lines, func(a, b Today) int { return cmp.Compare(a.urgency(), b.urgency()) })
	for _, line := range lines {
		line.Lang = l
		text = append(text, line.text())
	}
	text = append(text, l.opposed(lines)...)
	if len(told) > 0 {
		text = append(text, l.HappenedToday(told))
	}
	return strings.Join(text, "\n")
}

// urgency orders coffees by which needs a hand first: the least comes first.
func (l Today) urgency() int {
	switch {
	case l.Shots == 0:
		return 2
	case l.State == advisor.Drifting:
		return 0
	case l.State == advisor.DialledIn:
		return 3
	}
	return 1
}

// opposed says which coffees ask for opposite turns of the grinder they share.
func (l Lang) opposed(lines []Today) (text []string) {
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			x, y := a.turn(), b.turn()
			if a.Grinder.ID != b.Grinder.ID || !(x*y < 0) {
				continue
			}
			if x < 0 {
				a, b = b, a
			}
			text = append(text, l.Say("%s is pulled two ways: finer for %s, coarser for %s. Set it anew for each, or give one of them another grinder.", a.Grinder.Name, a.Coffee.Name, b.Coffee.Name))
		}
	}
	return text
}

// turn returns which way a coffee asks its grinder to be turned.
func (l Today) turn() float64 {
	if l.Shots == 0 || l.State == advisor.DialledIn {
		return 0
	}
	return l.Next.Turn(l.Grinder)
}

func (l Today) text() string {
	switch {
	case l.Shots == 0:
		return l.Coffee.Name + l.Lang.Colon() + l.Lang.Say("not pulled yet")
	case l.State == advisor.DialledIn: // the shot that earned it: the card stands still while shots like it follow
		return l.Coffee.Name + l.Lang.Colon() + l.Lang.Say(DialledLabel) + ", " + l.shotText(l.earned()) + l.calledText()
	case l.State == advisor.Drifting:
		way := English("%s is slow since %s, %s")
		if l.Drift.Way() < 0 {
			way = "%s is fast since %s, %s"
		}
		next := l.nextText()
		if next == "" {
			next = l.Lang.Colon() + l.Lang.Say("less than a step off, watch it")
		}
		return l.Lang.Say(way, l.Coffee.Name, l.Lang.Clock(l.Drift.Since), l.Lang.driftText(l.Drift)) + next
	case !l.CalledAt.IsZero():
		return l.Coffee.Name + l.Lang.Colon() + l.Lang.Say("open again%s, last %s", l.openedText(), l.shotText(l.last())) + l.nextText()
	case l.State == advisor.Dialling:
	}
	return l.Coffee.Name + l.Lang.Colon() + l.Lang.Say("dialling, last %s", l.shotText(l.last())) + l.nextText()
}

// openedText says since when a coffee is open again, and by what, where that was
// told.
func (l Today) openedText() string {
	if l.Opened.Text == "" {
		return ""
	}
	return " " + l.Lang.Say("since %s (%s)", l.Lang.Clock(l.Opened.At), l.Opened.Text)
}

// shotText tells of a shot without its taste.
func (l Today) shotText(s bar.Shot) string { return l.Lang.shotText(l.Grinder, s) }

// calledText says who called it and when.
func (l Today) calledText() string {
	return " (" + l.Caller + ", " + l.Lang.Clock(l.Called.At) + ")"
}

// driftText is how much a coffee has moved: "about 31 s, was 28 s".
func (l Lang) driftText(d advisor.Drift) string {
	now, was := Whole(d.Now), Whole(d.Was)
	if now == was {
		now, was = l.Timed(d.Now), l.Timed(d.Was)
	}
	return l.Say("about %s s, was %s s", now, was)
}

// driftLine tells of a drift: which coffee, since when, and by how much.
func (v Advice) driftLine() string {
	way := English("%s runs slower since %s: %s.")
	if v.Drift.Way() < 0 {
		way = "%s runs faster since %s: %s."
	}
	return v.lang.Say(way, v.coffee.Name, v.lang.Clock(v.Drift.Since), v.lang.driftText(v.Drift))
}

// alertText is the action under it: that of the advice, or the one change that
// brings the coffee back where the advice has none.
func (v Advice) alertText() string {
	d, text := v.Drift, v.sharedText()+v.actionText()
	if v.Lever == bar.Keep || v.Lever == bar.Repeat {
		move := v
		move.Lever, move.From, move.To, move.Unit, move.Purge, move.long = d.Lever, d.From, d.To, d.Unit, true, false
		move.Expect.Time = d.Then
		text = v.lang.Say("That is less than a step of the grinder: leave it there and watch the next shots.")
		if d.Lever == bar.Grind {
			text = move.sharedText() + move.actionText()
		} else if v.Other.ID != 0 {
			text = v.lang.Together(v.coffee, v.Other, float64(d.Way()))
		}
	}
	if r := v.coffee.Recipe; r.Low <= d.Now && d.Now <= r.High {
		text += "\n" + v.lang.Say("It is still in its window: change it when the queue allows.")
	}
	return text
}

// mentionsText names those who want to be told.
func (l Lang) mentionsText(who []string) string {
	if len(who) == 0 {
		return ""
	}
	return "\n" + l.Say("For %s.", l.List(who))
}

// A Start is where to begin with one coffee.
type Start struct {
	Lang    Lang
	Coffee  bar.Coffee
	Grinder bar.Grinder
	Start   advisor.Start
}

// Reminder is read on a lock screen in ten seconds.
func (l Lang) Reminder(title string, day bar.Day, lines []Start) string {
	text := []string{title}
	for _, line := range lines {
		line.Lang = l
		text = append(text, line.text(day))
	}
	return strings.Join(text, "\n")
}

func (l Start) text(day bar.Day) string {
	parts := []string{l.fromText(), l.Lang.RecipeText(l.Coffee.Recipe)}
	if days, ok := day.Since(l.Coffee.Roasted); ok && days >= 0 && !l.Start.Undated {
		parts = append(parts, l.Lang.Say("%s after roast", l.Lang.daysText(days)))
	}
	if flag := l.Lang.flagText(l.Start.Flag); flag != "" {
		parts = append(parts, flag)
	}
	return l.Coffee.Name + l.Lang.Colon() + strings.Join(parts, ", ")
}

// fromText is the setting to start from.
func (l Start) fromText() string {
	switch s := l.Start; {
	case s.Unit == advisor.DialUnit:
		return l.Lang.Say("start %s", l.Lang.dial(l.Grinder, bar.Dial(s.To)))
	case s.Unit == advisor.StepUnit && s.To != 0:
		return l.Lang.Say("start %s", l.Lang.turned(s.To))
	case s.Unit == advisor.StepUnit:
		return l.Lang.Say("start where it stands")
	}
	return l.Lang.Say("not pulled before")
}

func (l Lang) flagText(f advisor.Flag) string {
	switch f {
	case advisor.NoFlag:
	case advisor.OpenedBag:
		return l.Say("new bag")
	case advisor.StillDrifting:
		return l.Say("was drifting")
	case advisor.RunningOld:
		return l.Say("runs faster every day")
	case advisor.NoRoastDate:
		return l.Say("no roast date")
	}
	return ""
}

// Closing says what a day came to.
func (l Lang) Closing(lines []Today, next time.Weekday, tomorrow bool) string {
	text := []string{l.Say("Closing.")}
	var first []string
	for _, line := range lines {
		line.Lang = l
		text = append(text, line.Coffee.Name+l.Colon()+l.Say("%s; ended with %s.", line.endText(), line.shotText(line.last())))
		if line.State != advisor.DialledIn {
			first = append(first, line.Coffee.Name)
		}
	}
	day := l.Say(weekdays()[next])
	if tomorrow {
		day = l.Say("tomorrow")
	}
	if len(first) == 0 {
		return strings.Join(append(text, Upper(l.Say("First %s: start where each coffee ended, and taste.", day))), "\n")
	}
	return strings.Join(append(text, Upper(l.Say("First %s: dial in %s.", day, l.List(first)))), "\n")
}

func weekdays() []English {
	return []English{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"}
}

// endText is how a coffee's day ended, and what dialling it in took.
func (l Today) endText() string {
	took := l.Lang.Say("after %s, %s g", l.Lang.Count(l.DialIn, "shot"), l.Lang.Grams(l.Ground))
	switch {
	case l.State == advisor.DialledIn:
		return l.Lang.Say("dialled in %s", took)
	case l.State == advisor.Drifting:
		return l.Lang.Say("drifting, dialled in %s", took)
	case !l.CalledAt.IsZero():
		return l.Lang.Say("dialled in at %s %s; open again%s", l.Lang.Clock(l.CalledAt), took, l.openedText())
	case l.State == advisor.Dialling:
	}
	return l.Lang.Say("not dialled in %s", took)
}
