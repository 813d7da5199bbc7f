package say

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// A Today is where one coffee stands today.
type Today struct {
	Lang Lang
	advisor.Outlook
	Coffee  bar.Coffee
	Grinder bar.Grinder
	Caller  string // who called it dialled in
	Next    Move   // what to do now

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

// text says what to do, shortly.
func (m Move) text(g bar.Grinder) string {
	switch {
	case m.Done:
		return ": pull one and taste"
	case m.Lever == bar.Grind && m.Unit == advisor.DialUnit:
		return ": go to " + parse.Write(g, bar.Dial(m.To))
	case m.Lever == bar.Grind:
		return ": go " + Lang{}.turned(m.To)
	case m.Lever == bar.Yield:
		return ": stop at " + Lang{}.grams(bar.Grams(m.To)) + " g"
	case m.Lever == bar.Dose:
		return ": dose " + Lang{}.grams(bar.Grams(m.To)) + " g"
	case m.Lever == bar.Keep:
		return ": call it, if it tastes right"
	case m.Lever == bar.Repeat, m.Lever == bar.Prep:
		return ": pull one more"
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
	how := "faster"
	if way > 0 {
		how = "slower"
	}
	shared, move := "the machine or the water", "both grinds"
	if a.Grinder == b.Grinder {
		shared, move = "the machine, the water or the grinder", "the grind"
	}
	return a.Name + " and " + b.Name + " both run " + how + " than before: that looks like " + shared + ". Check " + l.lookFirst(a, b) + " before you move " + move + "."
}

// lookFirst names what two coffees share.
func (l Lang) lookFirst(a, b bar.Coffee) string {
	if a.Grinder == b.Grinder {
		return "pressure, temperature, water and the grinder"
	}
	return "pressure, temperature and water"
}

// HappenedToday lists what happened to the bar today.
func (l Lang) HappenedToday(told []Happening) string {
	var parts []string
	for _, h := range told {
		parts = append(parts, h.At.Format("15:04")+" "+h.Text+" ("+h.Who+")")
	}
	return "Happened: " + strings.Join(parts, "; ")
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
		return "No coffee yet. Post a shot, such as: 18.1 36.4 24 sour thin"
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
			text = append(text, a.Grinder.Name+" is pulled two ways: finer for "+a.Coffee.Name+", coarser for "+b.Coffee.Name+
				". Set it anew for each, or give one of them another grinder.")
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
		return l.Coffee.Name + ": not pulled yet"
	case l.State == advisor.DialledIn: // the shot that earned it: the card stands still while shots like it follow
		return l.Coffee.Name + ": dialled in, " + l.shotText(l.earned()) + l.calledText()
	case l.State == advisor.Drifting:
		way := "slow"
		if l.Drift.Way() < 0 {
			way = "fast"
		}
		next := l.Next.text(l.Grinder)
		if next == "" {
			next = ": less than a step off, watch it"
		}
		return l.Coffee.Name + " is " + way + " since " + l.Drift.Since.Format("15:04") + ", " + l.Lang.driftText(l.Drift) + next
	case !l.CalledAt.IsZero():
		return l.Coffee.Name + ": open again" + l.openedText() + ", last " + l.shotText(l.last()) + l.Next.text(l.Grinder)
	case l.State == advisor.Dialling:
	}
	return l.Coffee.Name + ": dialling, last " + l.shotText(l.last()) + l.Next.text(l.Grinder)
}

// openedText says since when a coffee is open again, and by what, where that was
// told.
func (l Today) openedText() string {
	if l.Opened.Text == "" {
		return ""
	}
	return " since " + l.Opened.At.Format("15:04") + " (" + l.Opened.Text + ")"
}

// shotText tells of a shot without its taste.
func (l Today) shotText(s bar.Shot) string { return l.Lang.shotText(l.Grinder, s) }

// calledText says who called it and when.
func (l Today) calledText() string {
	return " (" + l.Caller + ", " + l.Called.At.Format("15:04") + ")"
}

// driftText is how much a coffee has moved: "about 31 s, was 28 s".
func (l Lang) driftText(d advisor.Drift) string {
	return "about " + whole(d.Now) + " s, was " + whole(d.Was) + " s"
}

// Alert tells of a drift: which coffee, since when, by how much, and the
// one change that brings it back.
func (l Lang) Alert(v Advice, who []string) string {
	d := v.Drift
	way := "slower"
	if d.Way() < 0 {
		way = "faster"
	}
	text := v.coffee.Name + " runs " + way + " since " + d.Since.Format("15:04") + ": " + l.driftText(d) + "."
	switch {
	case v.Lever == bar.Grind, v.Lever == bar.Yield: // as the shot was answered
		text += "\n" + v.actionText()
	case d.Lever == bar.Grind:
		move := v
		move.Lever, move.From, move.To, move.Unit, move.Purge, move.long = d.Lever, d.From, d.To, d.Unit, true, false
		move.Expect.Time = d.Then
		text += "\n" + move.actionText()
	default:
		text += "\nThat is less than a step of the grinder: leave it there and watch the next shots."
	}
	if r := v.coffee.Recipe; r.Low <= d.Now && d.Now <= r.High {
		text += "\nIt is still in its window: change it when the queue allows."
	}
	return text + l.mentionsText(who)
}

// Both tells that two coffees have moved at once.
func (l Lang) Both(v Advice, other bar.Coffee, who []string) string {
	d := v.Drift
	return l.Together(v.coffee, other, float64(d.Way())) + "\n" + v.coffee.Name + " since " + d.Since.Format("15:04") + ": " + l.driftText(d) + "." + l.mentionsText(who)
}

// mentionsText names those who want to be told.
func (l Lang) mentionsText(who []string) string {
	if len(who) == 0 {
		return ""
	}
	return "\nFor " + l.List(who) + "."
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
	parts := []string{l.fromText(), l.Lang.recipeText(l.Coffee.Recipe)}
	if days, ok := day.Since(l.Coffee.Roasted); ok && days >= 0 && !l.Start.Undated {
		parts = append(parts, l.Lang.daysText(days)+" after roast")
	}
	if flag := l.Lang.flagText(l.Start.Flag); flag != "" {
		parts = append(parts, flag)
	}
	return l.Coffee.Name + ": " + strings.Join(parts, ", ")
}

// fromText is the setting to start from.
func (l Start) fromText() string {
	switch s := l.Start; {
	case s.Unit == advisor.DialUnit:
		return "start " + l.Lang.dial(l.Grinder, bar.Dial(s.To))
	case s.Unit == advisor.StepUnit && s.To > 0:
		return "start " + l.Lang.steps(s.To) + " finer"
	case s.Unit == advisor.StepUnit && s.To < 0:
		return "start " + l.Lang.steps(-s.To) + " coarser"
	case s.Unit == advisor.StepUnit:
		return "start where it stands"
	}
	return "not pulled before"
}

func (l Lang) flagText(f advisor.Flag) string {
	switch f {
	case advisor.NoFlag:
	case advisor.OpenedBag:
		return "new bag"
	case advisor.StillDrifting:
		return "was drifting"
	case advisor.RunningOld:
		return "runs faster every day"
	case advisor.NoRoastDate:
		return "no roast date"
	}
	return ""
}

// Closing says what a day came to.
func (l Lang) Closing(lines []Today, next time.Weekday, tomorrow bool) string {
	text := []string{"Closing."}
	first := ""
	for _, line := range lines {
		line.Lang = l
		text = append(text, line.Coffee.Name+": "+line.endText()+"; ended with "+line.shotText(line.last())+".")
		if line.State != advisor.DialledIn {
			first = cmp.Or(first, line.Coffee.Name)
		}
	}
	day := next.String()
	if tomorrow {
		day = "tomorrow"
	}
	if first == "" {
		return strings.Join(append(text, "First "+day+": start where each coffee ended, and taste."), "\n")
	}
	return strings.Join(append(text, "First "+day+": dial in "+first+"."), "\n")
}

// endText is how a coffee's day ended, and what dialling it in took.
func (l Today) endText() string {
	took := " after " + l.Lang.Count(l.DialIn, "shot") + ", " + l.Lang.grams(l.Ground) + " g"
	switch {
	case l.State == advisor.DialledIn:
		return "dialled in" + took
	case l.State == advisor.Drifting:
		return "drifting, dialled in" + took
	case !l.CalledAt.IsZero():
		return "dialled in at " + l.CalledAt.Format("15:04") + took + "; open again" + l.openedText()
	case l.State == advisor.Dialling:
	}
	return "not dialled in" + took
}
