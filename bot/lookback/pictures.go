package lookback

import (
	"math"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/say/past"
)

// fileName makes a name of a file of a coffee's or a grinder's.
func fileName(parts ...string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', '0' <= r && r <= '9', r == '-':
			return r
		}
		return '-'
	}, strings.ToLower(strings.Join(parts, "-")))
}

// lastDialIn returns the steps of the last day in the span on which it took
// some shots to dial the coffee in, up to the call; or of the last day of all.
func lastDialIn(c review.Course, calls []bar.Entry, span review.Span) (steps []advisor.TrailShot, called bool) {
	until := map[bar.Day]time.Time{}
	for _, e := range calls {
		w, ok := e.What.(bar.Dialled)
		if _, before := until[e.Day]; ok && w.Coffee == c.Coffee.ID && !before {
			until[e.Day] = e.At
		}
	}
	byDay := map[bar.Day][]advisor.TrailShot{}
	var best, last bar.Day
	for _, s := range c.Trail.Steps {
		day := s.Entry.Day
		if at, called := until[day]; !span.Holds(s.Entry) || called && s.Entry.At.After(at) {
			continue
		}
		byDay[day] = append(byDay[day], s)
		if _, called := until[day]; called && len(byDay[day]) >= someShots {
			best = max(best, day)
		}
		last = max(last, day)
	}
	if best == "" {
		best = last
	}
	_, called = until[best]
	return byDay[best], called
}

// someShots is how many shots make a dial-in worth a picture.
const someShots = 3

// numbered reports whether a number of the dial had been read when a shot was pulled;
// before, it was counted from 0, which nobody has said.
func numbered(c review.Course, s advisor.TrailShot) bool {
	for _, step := range c.Trail.Steps {
		if step.Shot.Grinder == s.Shot.Grinder && step.Shot.Grind.From == bar.Said {
			return !step.Entry.At.After(s.Entry.At)
		}
	}
	return s.Shot.Grind.X != 0
}

// dialInPicture shows how a coffee was last dialled in, in the span.
func dialInPicture(l past.Lang, c review.Course, calls []bar.Entry, span review.Span) (picture, bool) {
	steps, called := lastDialIn(c, calls, span)
	if len(steps) == 0 {
		return picture{}, false
	}
	d := chart.DialIn{
		Title: l.DialInTitle(c.Coffee, steps[0].Entry.Day, called), Under: l.DialInUnder(steps),
		Low: float64(c.Coffee.Recipe.Low), High: float64(c.Coffee.Recipe.High), Yield: float64(c.Coffee.Recipe.Yield),
		Words: l.DialInWords(c.Coffee, c.Grinder),
	}
	for i, s := range steps {
		if !numbered(c, s) {
			s.Shot.Grind = bar.Value[bar.Dial]{}
		}
		shot := chart.Shot{
			Name: l.ShotName(c.Grinder, s), Time: math.NaN(), Yield: float64(s.Yield),
			Said: l.Said(s), Choked: s.Shot.Marks.Has(bar.Choked),
		}
		if s.Shot.Timed() {
			shot.Time = float64(s.Shot.Time.X)
		}
		if i > 0 || !s.First {
			shot.Low, shot.High = s.Foretold.Low, s.Foretold.High
		}
		if i > 0 {
			shot.Changed = l.Change(s, steps[i-1])
		}
		d.Shots = append(d.Shots, shot)
	}
	return picture{d, fileName(c.Coffee.Name, "dial-in"), l.DialInAlt(c.Coffee, steps, called)}, true
}

// curvePicture shows a coffee's time over the dial.
func curvePicture(l past.Lang, c review.Course, span review.Span) (picture, bool) {
	if len(c.Trail.Curve) == 0 {
		return picture{}, false
	}
	var day bar.Day
	for _, s := range c.Trail.Steps {
		if span.Holds(s.Entry) && s.Shot.Grind.From != bar.None {
			day = max(day, s.Entry.Day)
		}
	}
	d := chart.Curve{
		Title: l.CurveTitle(c), Under: l.CurveUnder(c),
		Low: float64(c.Coffee.Recipe.Low), High: float64(c.Coffee.Recipe.High), Words: l.CurveWords(c, day),
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range c.Trail.Steps {
		if !span.Holds(s.Entry) || s.Shot.Grind.From == bar.None || !s.Shot.Timed() || s.Shot.Marks.Has(bar.Choked) || s.Shot.Grinder != c.Grinder.ID {
			continue
		}
		x := float64(s.Shot.Grind.X)
		low, high = min(low, x), max(high, x)
		d.Shots = append(d.Shots, chart.Pulled{Dial: x, Time: float64(s.Shot.Time.X), Old: s.Entry.Day != day})
	}
	if len(d.Shots) == 0 {
		return picture{}, false
	}
	for _, p := range c.Trail.Curve { // where shots were pulled, and a little beyond
		if x := float64(p.Dial); low-2*c.Grinder.Step <= x && x <= high+2*c.Grinder.Step {
			d.Points = append(d.Points, chart.Point{Dial: x, Mid: p.Mid, Low: p.Low, High: p.High})
		}
	}
	return picture{d, fileName(c.Coffee.Name, "grind"), l.CurveAlt(c, len(d.Shots))}, true
}

// driftPicture shows how a coffee has run on a day, and at which shot it was
// told that it drifts, if it was.
func driftPicture(l past.Lang, c review.Course, day bar.Day, told bar.EntryID) (picture, bool) {
	d := chart.Drift{
		Title: l.DriftTitle(c.Coffee, day), Low: float64(c.Coffee.Recipe.Low), High: float64(c.Coffee.Recipe.High), Words: l.DriftWords(c.Coffee),
	}
	for _, s := range c.Trail.Steps {
		if s.Entry.Day != day || !s.Shot.Timed() || s.Shot.Marks.Has(bar.Practice) {
			continue
		}
		d.Shots = append(d.Shots, chart.Run{
			Time: float64(s.Shot.Time.X), Mid: s.Foretold.Mid, Low: s.Foretold.Low, High: s.Foretold.High, Moved: s.Moved && len(d.Shots) > 0,
		})
		if s.Entry.ID == told && told != 0 {
			d.Alarm = len(d.Shots)
		}
	}
	if len(d.Shots) < someShots {
		return picture{}, false
	}
	d.Under = l.Count(len(d.Shots), "shot")
	return picture{d, fileName(c.Coffee.Name, "drift"), l.DriftAlt(c.Coffee, d)}, true
}

// dayPicture shows a day's shots by the clock.
func (l Back) dayPicture(day bar.Day) (picture, bool) {
	d := chart.Day{Title: l.DayName(day), Words: l.DayWords()}
	shots := 0
	for _, c := range l.Book.Courses {
		one := chart.DayCoffee{Name: c.Coffee.Name, Head: l.DayHead(c.Coffee), Low: float64(c.Coffee.Recipe.Low), High: float64(c.Coffee.Recipe.High), Called: math.NaN()}
		for _, s := range c.Trail.Steps {
			if s.Entry.Day == day && s.Shot.Timed() && l.own(s.Entry) {
				one.Shots = append(one.Shots, chart.Timed{Hour: clockHour(s.Entry.At), Time: float64(s.Shot.Time.X), Choked: s.Shot.Marks.Has(bar.Choked)})
			}
		}
		for _, e := range l.Book.Calls {
			if w := e.What.(bar.Dialled); w.Coffee == c.Coffee.ID && e.Day == day && math.IsNaN(one.Called) {
				one.Called = clockHour(e.At)
			}
		}
		if shots += len(one.Shots); len(one.Shots) > 0 {
			d.Coffees = append(d.Coffees, one)
		}
	}
	d.Under = l.Count(shots, "shot")
	return picture{d, fileName("day", string(day)), l.DayAlt(d)}, shots > 0
}

// own reports whether an entry is of the person asked of.
func (l Back) own(e bar.Entry) bool { return l.Who.ID == 0 || e.Person == l.Who.ID }

// clockHour returns the hour of an instant on the clock of the bar's day, which
// goes on past midnight: half past twelve at night is 24.5.
func clockHour(at time.Time) float64 {
	hour := float64(at.Hour()) + float64(at.Minute())/60
	if hour < bar.DayBegins.Hours() {
		hour += 24
	}
	return hour
}

// effectsPicture shows what the changes did to the time.
func (l Back) effectsPicture() (picture, bool) {
	d := chart.Rows{Title: l.Say(past.EffectsTitle), Under: l.EffectsUnderText(), Head: l.Say(past.EffectsHead), Zero: true, Words: l.EffectsWords()}
	low, high := -2.0, 2.0
	for _, e := range l.Review.Effects {
		if e.Uses < review.Few {
			continue
		}
		low, high = min(low, e.Cups.Low), max(high, e.Cups.High)
		d.Rows = append(d.Rows, chart.Row{
			Name: l.Kind(e.Kind) + " " + l.Verdict(e.Verdict), Note: l.EffectNote(e),
			X: e.Cups.Mid, Low: e.Cups.Low, High: e.Cups.High, Against: math.NaN(),
		})
	}
	d.From, d.To = math.Floor(low-0.5), math.Ceil(high+0.5)
	return picture{d, "changes", l.EffectsAlt()}, len(d.Rows) > 0
}

// costPicture shows what mornings cost.
func (l Back) costPicture() (picture, bool) {
	list := l.Review.Mornings
	if len(list) < 3 {
		return picture{}, false
	}
	first, _ := time.Parse(time.DateOnly, string(list[0].Day))
	monday := first.AddDate(0, 0, -(int(first.Weekday())+6)%7)
	d := chart.Cost{Title: l.Say(past.CostTitle), Under: l.Days(), Words: l.CostWords()}
	weeks := 0
	var coffees []bar.CoffeeID // side by side within a day, so that none hides another
	for _, m := range list {
		if !slices.Contains(coffees, m.Coffee) {
			coffees = append(coffees, m.Coffee)
		}
	}
	for _, m := range list {
		days, _ := m.Day.Since(bar.Day(monday.Format(time.DateOnly)))
		weeks = days/7 + 1
		part := (float64(slices.Index(coffees, m.Coffee)) + 0.5) / float64(len(coffees))
		d.Mornings = append(d.Mornings, chart.Morning{Week: (float64(days) + part) / 7, Shots: float64(m.Shots)})
	}
	for i := range weeks {
		d.Weeks = append(d.Weeks, l.ShortDate(monday.AddDate(0, 0, 7*i)))
	}
	return picture{d, "mornings", l.CostAlt()}, true
}

// troublePicture shows how many cups were off, of each coffee, grinder and hour that
// is told of, beside the rest together.
func (l Back) troublePicture() (picture, bool) {
	d := chart.Rows{Title: l.Say(past.TroubleTitle), Under: l.Days(), Head: l.Say(past.TroubleHead), From: 0, To: 100, Words: l.TroubleWords()}
	for _, ranked := range l.Troubles() {
		for _, t := range ranked {
			share := t.Share()
			row := chart.Row{Name: say.Upper(l.Where(t)), Note: l.OffCups(t), X: 100 * share.Mid, Low: 100 * share.Low, High: 100 * share.High, Against: math.NaN()}
			if t.Rest > 0 {
				row.Against = 100 * float64(t.RestOff) / float64(t.Rest)
			}
			d.Rows = append(d.Rows, row)
		}
	}
	return picture{d, "trouble", l.TroubleAlt()}, len(d.Rows) > 0
}

// calibrationPicture shows how the times that were believed held.
func (l Back) calibrationPicture() (picture, bool) {
	bins := l.Review.Record.Bins
	if len(bins) == 0 || bins[0].N < past.EnoughTimes {
		return picture{}, false
	}
	d := chart.Rows{Title: l.Say(past.CalibrationTitle), Under: l.Count(bins[0].N, "shot"), Head: l.Say(past.CalibrationHead), From: 0, To: 100, Words: l.CalibrationWords()}
	for _, b := range bins {
		d.Rows = append(d.Rows, chart.Row{Name: l.CalibrationName(b), X: 100 * b.Share, Against: 100 * b.Level})
	}
	return picture{d, "forecasts", l.CalibrationAlt(bins)}, true
}

// layersPicture shows a tasting cup by cup, by its last split.
func layersPicture(l past.Lang, a layers.Account) (picture, bool) {
	if len(a.Splits) == 0 {
		return picture{}, false
	}
	d := chart.Layers{Title: l.LayersTitle(a), Under: l.AccountHead(a), Head: l.Say(past.LayersHead), Words: l.LayersWords(a)}
	for i, mass := range a.Masses[a.Splits[len(a.Splits)-1]] {
		share := a.Expected[i].Share
		cup := chart.LayerCup{
			Name: l.LayerName(bar.Layer(i), mass), Said: l.CupSaid(a, bar.Layer(i)),
			Share: math.NaN(), Expected: share.X / 100, Low: share.Low / 100, High: share.High / 100,
		}
		if a.Known {
			cup.Share = a.Measured[i].Share / 100
		}
		d.Cups = append(d.Cups, cup)
	}
	return picture{d, fileName(a.Coffee.Name, "cups"), l.LayersAlt(d)}, true
}

// ChancesFiles are how likely a cup of a coffee is right, by its time, with the last
// shots on it.
func ChancesFiles(l say.Lang, c bar.Coffee, known advisor.Chances, dark bool) ([]chat.File, error) {
	d := chart.Chances{
		Title: past.In(l).ChancesTitle(c), Under: past.In(l).ChancesUnder(known), Low: float64(c.Recipe.Low), High: float64(c.Recipe.High), Words: past.In(l).ChancesWords(c.Recipe),
	}
	for _, at := range known.Curve {
		d.Points = append(d.Points, chart.Chance{Time: float64(at.Time), Right: at.Right})
	}
	for _, s := range known.Shots {
		d.Shots = append(d.Shots, chart.Tasted{Time: float64(s.Time), Liked: s.Liked, Blamed: s.Blamed})
	}
	var list pictures
	list.add(picture{d, fileName(c.Name, "chances"), past.In(l).ChancesAlt(c, known)}, len(d.Points) > 0)
	return drawFiles(list, dark)
}
