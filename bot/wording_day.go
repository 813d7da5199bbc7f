package bot

import (
	"cmp"
	"strings"
	"time"

	"shothand/advisor"
)

// dayTitle names a bar's day: "Harbour Lane · Mon 2 March". A bar that nobody
// has named goes by the day alone.
func dayTitle(b advisor.Bar, channel string, day advisor.Day) string {
	if b.Name == "" || b.Name == channel {
		return dayName(day)
	}
	return b.Name + " · " + dayName(day)
}

// todayText is where every coffee stands: the card of the day.
func todayText(title string, lines []todayLine, told []happening) string {
	if len(lines) == 0 {
		return "No coffee yet. Post a shot, such as: 18.1 36.4 24 sour thin"
	}
	text := []string{title}
	for _, l := range lines {
		text = append(text, l.text())
	}
	if len(told) > 0 {
		text = append(text, happenedTodayText(told))
	}
	return strings.Join(text, "\n")
}

func (l todayLine) text() string {
	switch {
	case l.Shots == 0:
		return l.coffee.Name + ": not pulled yet"
	case l.State == advisor.DialledIn: // the shot that earned it: the card stands still while shots like it follow
		return l.coffee.Name + ": dialled in, " + l.shotText(l.earned()) + l.calledText()
	case l.State == advisor.Drifting:
		return l.coffee.Name + ": drifting since " + l.Drift.Since.Format("15:04") + ", " + driftText(l.Drift) + "; dialled in, " + l.shotText(l.earned()) + l.calledText()
	case l.State == advisor.Dialling:
	}
	return l.coffee.Name + ": dialling, last " + l.shotText(l.last())
}

// shotText tells of a shot without its taste.
func (l todayLine) shotText(s advisor.Shot) string { return shotText(l.grinder, s) }

// calledText says who called it and when.
func (l todayLine) calledText() string {
	return " (" + l.caller + ", " + l.Called.At.Format("15:04") + ")"
}

// driftText is how much a coffee has moved: "about 31 s, was 28 s".
func driftText(d advisor.Drift) string {
	return "about " + whole(d.Now) + " s, was " + whole(d.Was) + " s"
}

// alertText tells of a drift: which coffee, since when, by how much, and the
// one change that brings it back.
func alertText(v view, who []string) string {
	d := v.Drift
	way := "slower"
	if d.Way() < 0 {
		way = "faster"
	}
	text := v.coffee.Name + " runs " + way + " since " + d.Since.Format("15:04") + ": " + driftText(d) + "."
	switch {
	case v.Lever == advisor.Grind, v.Lever == advisor.Yield: // as the shot was answered
		text += "\n" + v.actionText()
	case d.Lever == advisor.Grind:
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
	return text + mentionsText(who)
}

// bothText tells that two coffees have moved at once.
func bothText(v view, other advisor.Coffee, who []string) string {
	d := v.Drift
	return togetherText(v.coffee, other, float64(d.Way())) + "\n" + v.coffee.Name + " since " + d.Since.Format("15:04") + ": " + driftText(d) + "." + mentionsText(who)
}

// mentionsText names those who want to be told.
func mentionsText(who []string) string {
	if len(who) == 0 {
		return ""
	}
	return "\nFor " + list(who) + "."
}

// A startLine is where to begin with one coffee.
type startLine struct {
	coffee  advisor.Coffee
	grinder advisor.Grinder
	start   advisor.Start
}

// reminderText is read on a lock screen in ten seconds.
func reminderText(title string, day advisor.Day, lines []startLine) string {
	text := []string{title}
	for _, l := range lines {
		text = append(text, l.text(day))
	}
	return strings.Join(text, "\n")
}

func (l startLine) text(day advisor.Day) string {
	parts := []string{l.fromText(), recipeText(l.coffee.Recipe)}
	if days, ok := day.Since(l.coffee.Roasted); ok && days >= 0 && !l.start.Undated {
		parts = append(parts, daysText(days)+" after roast")
	}
	if flag := flagText(l.start.Flag); flag != "" {
		parts = append(parts, flag)
	}
	return l.coffee.Name + ": " + strings.Join(parts, ", ")
}

// fromText is the setting to start from.
func (l startLine) fromText() string {
	switch s := l.start; {
	case s.Unit == advisor.DialUnit:
		return "start " + dial(l.grinder, advisor.Dial(s.To))
	case s.Unit == advisor.StepUnit && s.To > 0:
		return "start " + steps(s.To) + " finer"
	case s.Unit == advisor.StepUnit && s.To < 0:
		return "start " + steps(-s.To) + " coarser"
	case s.Unit == advisor.StepUnit:
		return "start where it stands"
	}
	return "not pulled before"
}

func flagText(f advisor.Flag) string {
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

// closingText says what a day came to.
func closingText(lines []todayLine, next time.Weekday, tomorrow bool) string {
	text := []string{"Closing."}
	first := ""
	for _, l := range lines {
		text = append(text, l.coffee.Name+": "+l.endText()+" after "+count(l.DialIn, "shot")+", "+grams(l.Ground)+" g; ended with "+l.shotText(l.last())+".")
		if l.State != advisor.DialledIn {
			first = cmp.Or(first, l.coffee.Name)
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

// endText is how a coffee's day ended.
func (l todayLine) endText() string {
	switch l.State {
	case advisor.DialledIn:
		return "dialled in"
	case advisor.Drifting:
		return "drifting, dialled in"
	case advisor.Dialling:
	}
	return "not dialled in"
}
