package past

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/say"
)

// What stands in and around the pictures.
const (
	EffectsTitle     say.English = "Which changes worked"
	EffectsUnder     say.English = "Cups beyond those that would have been right anyway."
	EffectsHead      say.English = "of ten cups, how many more are right"
	CostTitle        say.English = "What mornings cost"
	TroubleTitle     say.English = "What gives trouble"
	TroubleHead      say.English = "cups that were off, of 100"
	CalibrationTitle say.English = "How close my times came"
	CalibrationHead  say.English = "shots within, of 100"
)

// timeHead stands over the times of shots.
const timeHead say.English = "time, s"

// comma reports whether numbers are written with one.
func (l Lang) comma() bool { return strings.Contains(l.Number(0.5), ",") }

// DayHead stands over a coffee of a day.
func (l Lang) DayHead(c bar.Coffee) string { return l.Say("%s: time, s", c.Name) }

// EffectsUnderText says of which days the changes are.
func (l LookBack) EffectsUnderText() string {
	return strings.TrimSuffix(l.Days(), ".") + ". " + l.Say(EffectsUnder)
}

// EffectsWords stand in the picture of what the changes did.
func (l Lang) EffectsWords() chart.RowWords {
	return chart.RowWords{Value: l.Say("most likely"), Interval: l.Say("9 times in 10 it lies here")}
}

// TroubleWords stand in the picture of what gives trouble.
func (l Lang) TroubleWords() chart.RowWords {
	return chart.RowWords{Value: l.Say("these cups"), Interval: l.Say("9 times in 10 it lies here"), Against: l.Say("the other cups")}
}

// CalibrationWords stand in the picture of forecasts.
func (l Lang) CalibrationWords() chart.RowWords {
	return chart.RowWords{Value: l.Say("shots that did"), Against: l.Say("that should")}
}

// CalibrationName names a row of it.
func (l Lang) CalibrationName(b review.Bin) string {
	return l.Say("range for %s of 100 shots", l.Number(100*b.Level))
}

// CostWords stand in the picture of what mornings cost.
func (l Lang) CostWords() chart.CostWords {
	return chart.CostWords{Head: l.Say("shots to dialled in"), Foot: l.Say("week of"), Morning: l.Say("one coffee, one morning"), Mean: l.Say("mean of the week")}
}

// DayWords stand in the picture of a day.
func (l Lang) DayWords() chart.DayWords {
	return chart.DayWords{Window: l.Say("window"), Shot: l.Say("shot"), Choked: l.Say("choked"), Called: l.Say("called dialled in"), Foot: l.Say("time of day")}
}

// DialInWords stand in the picture of a dial-in.
func (l Lang) DialInWords(c bar.Coffee, g bar.Grinder) chart.Words {
	names := l.Say("clock")
	if g.Step > 0 {
		names = l.Say("dial")
	}
	return chart.Words{
		Names: names, Window: l.Say("window %s", l.Window(c.Recipe)), Believed: l.Say("expected before the shot, 9 in 10"), Shot: l.Say("shot"), Choked: l.Say("choked"),
		Yield: l.Say("in the cup; the line is the recipe's %s g", l.Grams(c.Recipe.Yield)),
		Time:  l.Say(timeHead), Mass: l.Say("yield, g"), Comma: l.comma(),
	}
}

// CurveWords stand in the picture of the time over the dial.
func (l Lang) CurveWords(c review.Course, day bar.Day) chart.CurveWords {
	foot := l.Say("dial of %s", c.Grinder.Name)
	switch c.Grinder.Finer {
	case bar.Lower:
		foot += ", " + l.Say(say.LowerLabel)
	case bar.Higher:
		foot += ", " + l.Say(say.HigherLabel)
	case bar.Unknown:
	}
	return chart.CurveWords{
		Foot: foot, Window: l.Say("window %s", l.Window(c.Coffee.Recipe)), Learnt: l.Say("time as learnt by now, for %s g in the cup", l.Grams(c.Coffee.Recipe.Yield)), Band: l.Say("the true time, 9 in 10"),
		Shot: l.Say("shots of %s", l.DateText(day, "2 Jan")), Old: l.Say("earlier shots, of other days' coffee"),
		Time: l.Say(timeHead), Comma: l.comma(),
	}
}

// ChancesWords stand in the picture of how likely a cup is right.
func (l Lang) ChancesWords(r bar.Recipe) chart.ChancesWords {
	return chart.ChancesWords{
		Head: l.Say("right, of 100 such cups"), Foot: l.Say("time of the shot, s"), Window: l.Say("window %s", l.Window(r)),
		Liked: l.Say("liked"), Blamed: l.Say("something was wrong with it"), Untasted: l.Say("nobody said"),
	}
}

// ChancesTitle stands above it.
func (l Lang) ChancesTitle(c bar.Coffee) string {
	return l.Say("%s: how likely a cup is right", c.Name)
}

// ChancesUnder says what it rests on.
func (l Lang) ChancesUnder(c advisor.Chances) string {
	return l.Say("By its time, from the taste of your cups; likeliest at %s s", say.Whole(likeliest(c).Time))
}

// ChancesAlt tells of it.
func (l Lang) ChancesAlt(c bar.Coffee, known advisor.Chances) string {
	text := []string{l.ChancesTitle(c) + ".", l.ChancesUnder(known) + "."}
	for _, s := range known.Shots {
		word := l.Say("nobody said")
		switch {
		case s.Blamed:
			word = l.Say("something was wrong with it")
		case s.Liked:
			word = l.Say("liked")
		}
		text = append(text, l.Say("%s s: %s.", say.Whole(s.Time), word))
	}
	return strings.Join(text, " ")
}

// likeliest returns where a cup is likeliest to be right.
func likeliest(c advisor.Chances) advisor.Chance {
	return slices.MaxFunc(c.Curve, func(a, b advisor.Chance) int { return cmp.Compare(a.Right, b.Right) })
}

// DriftWords stand in the picture of a drift.
func (l Lang) DriftWords(c bar.Coffee) chart.DriftWords {
	return chart.DriftWords{Window: l.Say("window %s", l.Window(c.Recipe)), Believed: l.Say("expected before the shot, 9 in 10"), Shot: l.Say("shot"), Moved: l.Say("after a change"), Alarm: l.Say("told here"), Time: l.Say(timeHead)}
}

// DialInTitle stands above a dial-in.
func (l Lang) DialInTitle(c bar.Coffee, day bar.Day, called bool) string {
	if called {
		return l.Say("%s, dialled in on %s", c.Name, l.DayName(day))
	}
	return l.Say("day|%s on %s", c.Name, l.DayName(day))
}

// DialInUnder is what it cost.
func (l Lang) DialInUnder(steps []advisor.TrailShot) string {
	g := 0.0
	for _, s := range steps {
		g += float64(s.Shot.Dose.X)
	}
	minutes := steps[len(steps)-1].Entry.At.Sub(steps[0].Entry.At).Minutes()
	return l.Say("%s, %s g of coffee, %s min", l.Count(len(steps), "shot"), say.Rounded(g), say.Rounded(minutes))
}

// ShotName is where the dial stood, or which shot it is.
func (l Lang) ShotName(g bar.Grinder, s advisor.TrailShot) string {
	if g.Step > 0 && s.Shot.Grind.From != bar.None {
		return l.Written(g, s.Shot.Grind.X)
	}
	return l.Clock(s.Entry.At)
}

// Said is what was said of a shot, then and later, by anybody.
func (l Lang) Said(s advisor.TrailShot) string { return strings.Join(l.WordsText(s.Words), ", ") }

// Change is what was changed before a shot.
func (l Lang) Change(s, before advisor.TrailShot) string {
	kind, one := review.Moved(before, s)
	if one {
		return l.Say(map[review.Kind]say.English{
			review.Finer: "finer", review.Coarser: "coarser", review.Longer: "longer", review.Shorter: "shorter",
			review.MoreDose: "more coffee", review.LessDose: "less coffee",
		}[kind])
	}
	return l.Say("several things")
}

// CurveTitle stands above the time over the dial.
func (l Lang) CurveTitle(c review.Course) string {
	return l.Say("grinder|%s on %s", c.Coffee.Name, c.Grinder.Name)
}

// CurveUnder says what a step does.
func (l Lang) CurveUnder(c review.Course) string {
	if !review.HasShown(c.Trail.Worth) {
		return l.Say("What a step does has not shown yet")
	}
	return l.Say("A step of %s is worth about %s s", l.Number(c.Grinder.Step), l.Tenths(bar.Seconds(c.Trail.Worth.Mid)))
}

// DriftTitle stands above a drift.
func (l Lang) DriftTitle(c bar.Coffee, day bar.Day) string {
	return l.Say("%s through %s", c.Name, l.DayName(day))
}

// What pictures show, for those who do not see them.

// DialInAlt tells of a dial-in shot by shot.
func (l Lang) DialInAlt(c bar.Coffee, steps []advisor.TrailShot, called bool) string {
	var rows []string
	for _, s := range steps {
		row := ""
		switch {
		case s.Shot.Marks.Has(bar.Choked):
			row = l.Say("choked")
		case s.Shot.Time.From == bar.None:
			row = l.Say("not timed")
		default:
			row = l.Took(s.Shot)
		}
		row += ", " + l.Grams(s.Yield) + " g"
		if said := l.Said(s); said != "" {
			row += ", " + said
		}
		rows = append(rows, row)
	}
	return clipAlt(l.Say("%s. Shot by shot: %s. The window is %s.", l.DialInTitle(c, steps[0].Entry.Day, called), strings.Join(rows, l.Semicolon()), l.Window(c.Recipe)))
}

// CurveAlt tells of the time over the dial.
func (l Lang) CurveAlt(c review.Course, shots int) string {
	first, last := c.Trail.Curve[0], c.Trail.Curve[len(c.Trail.Curve)-1]
	return l.Say("%s: time of %s over the dial, from about %s s at %s to %s s at %s. %s.", l.CurveTitle(c), l.Count(shots, "shot"),
		say.Rounded(first.Mid), l.Number(float64(first.Dial)), say.Rounded(last.Mid), l.Number(float64(last.Dial)), l.CurveUnder(c))
}

// DriftAlt tells of a drift.
func (l Lang) DriftAlt(c bar.Coffee, d chart.Drift) string {
	first, last := d.Shots[0], d.Shots[len(d.Shots)-1]
	return l.Say("%s. %s, from %s s at first to %s s at last. The window is %s.", d.Title, d.Under, say.Rounded(first.Time), say.Rounded(last.Time), l.Window(c.Recipe))
}

// DayAlt tells of a day.
func (l Lang) DayAlt(d chart.Day) string {
	var parts []string
	for _, c := range d.Coffees {
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range c.Shots {
			low, high = min(low, s.Time), max(high, s.Time)
		}
		parts = append(parts, l.Say("%s, %s of %s to %s s", c.Name, l.Count(len(c.Shots), "shot"), say.Rounded(low), say.Rounded(high)))
	}
	return l.Say("%s, shots by the clock: %s.", d.Title, strings.Join(parts, l.Semicolon()))
}

// EffectsAlt tells what the changes did.
func (l LookBack) EffectsAlt() string {
	return clipAlt(l.Say(EffectsTitle) + ". " + strings.Join(say.Each(l.Review.Effects, l.effectLine), " "))
}

// CostAlt tells what mornings cost.
func (l LookBack) CostAlt() string {
	return clipAlt(l.costText() + " " + strings.Join(l.costLines(), " "))
}

// TroubleAlt tells what gives trouble.
func (l LookBack) TroubleAlt() string {
	return clipAlt(l.troubleText() + " " + strings.Join(l.troubleLines(), " "))
}

// CalibrationAlt tells how the forecasts held.
func (l Lang) CalibrationAlt(bins []review.Bin) string {
	parts := say.Each(bins, func(b review.Bin) string {
		return l.Say("%s of 100 where it should be %s", say.Rounded(100*b.Share), say.Rounded(100*b.Level))
	})
	return l.Say(CalibrationTitle) + l.Colon() + strings.Join(parts, ", ") + ". " + l.Count(bins[0].N, "shot") + "."
}

// MostAlt is how long what a picture shows may be told, in characters: the
// shortest limit of the services that carry it.
const MostAlt = 1024

func clipAlt(text string) string {
	if r := []rune(text); len(r) > MostAlt {
		return string(r[:MostAlt-1]) + "…"
	}
	return text
}

// LayersHead stands over the picture of a tasting cup by cup.
const LayersHead say.English = "share of all that was dissolved, %"

// LayersTitle stands above a tasting cup by cup.
func (l Lang) LayersTitle(a layers.Account) string { return l.Say("%s, cup by cup", a.Coffee.Name) }

// LayersWords stand in its picture.
func (l Lang) LayersWords(a layers.Account) chart.RowWords {
	w := chart.RowWords{Interval: l.Say("expected by a model, 4 in 5"), Against: l.Say("its middle")}
	if a.Known {
		w.Value = l.Say("measured")
	}
	return w
}

// LayerName names a cup with its weight.
func (l Lang) LayerName(cup bar.Layer, mass float64) string {
	return l.CupName(cup) + ", " + l.Grams(bar.Grams(mass)) + " g"
}

// LayersAlt tells of it.
func (l Lang) LayersAlt(d chart.Layers) string {
	var parts []string
	for _, c := range d.Cups {
		part := l.Say("%s, %s to %s %% of what was dissolved expected", c.Name, say.Rounded(100*c.Low), say.Rounded(100*c.High))
		if !math.IsNaN(c.Share) {
			part += ", " + l.Say("%s %% measured", say.Rounded(100*c.Share))
		}
		if c.Said != "" {
			part += ", " + c.Said
		}
		parts = append(parts, part)
	}
	return clipAlt(d.Title + l.Colon() + strings.Join(parts, l.Semicolon()) + ".")
}
