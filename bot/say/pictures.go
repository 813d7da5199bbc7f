package say

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
)

// What stands in and around the pictures.
const (
	EffectsTitle     English = "Which changes worked"
	EffectsUnder     English = "Cups beyond those that would have been right anyway."
	EffectsHead      English = "of ten cups, how many more are right"
	CostTitle        English = "What mornings cost"
	CalibrationTitle English = "How close my times came"
	CalibrationHead  English = "shots within, of 100"
)

// EffectsWords stand in the picture of what the changes did.
func (l Lang) EffectsWords() chart.RowWords {
	return chart.RowWords{Value: "most likely", Interval: "9 times in 10 it lies here"}
}

// CalibrationWords stand in the picture of forecasts.
func (l Lang) CalibrationWords() chart.RowWords {
	return chart.RowWords{Value: "shots that did", Against: "that should"}
}

// CalibrationName names a row of it.
func (l Lang) CalibrationName(b review.Bin) string {
	return "range for " + l.Number(100*b.Level) + " of 100 shots"
}

// CostWords stand in the picture of what mornings cost.
func (l Lang) CostWords() chart.CostWords {
	return chart.CostWords{Head: "shots to dialled in", Foot: "week of", Morning: "one coffee, one morning", Mean: "mean of the week"}
}

// DayWords stand in the picture of a day.
func (l Lang) DayWords() chart.DayWords {
	return chart.DayWords{Window: "window", Shot: "shot", Choked: "choked", Called: "called dialled in"}
}

// DialInWords stand in the picture of a dial-in.
func (l Lang) DialInWords(c bar.Coffee, g bar.Grinder) chart.Words {
	names := "clock"
	if g.Step > 0 {
		names = "dial"
	}
	return chart.Words{
		Names: names, Window: "window " + l.window(c.Recipe), Believed: "expected before the shot, 9 in 10", Shot: "shot", Choked: "choked",
		Yield: "in the cup; the line is the recipe's " + l.grams(c.Recipe.Yield) + " g",
	}
}

// CurveWords stand in the picture of the time over the dial.
func (l Lang) CurveWords(c review.Course, day bar.Day) chart.CurveWords {
	foot := "dial of " + c.Grinder.Name
	switch c.Grinder.Finer {
	case bar.Lower:
		foot += ", lower is finer"
	case bar.Higher:
		foot += ", higher is finer"
	case bar.Unknown:
	}
	return chart.CurveWords{
		Foot: foot, Window: "window " + l.window(c.Coffee.Recipe), Learnt: "time as learnt by now, for " + l.grams(c.Coffee.Recipe.Yield) + " g in the cup", Band: "the true time, 9 in 10",
		Shot: "shots of " + l.dateText(day, "2 Jan"), Old: "earlier shots, of other days' coffee",
	}
}

// ChancesWords stand in the picture of how likely a cup is right.
func (l Lang) ChancesWords(r bar.Recipe) chart.ChancesWords {
	return chart.ChancesWords{
		Head: l.Say("right, of 100 such cups"), Foot: l.Say("time of the shot, s"), Window: l.Say("window %s", l.window(r)),
		Liked: l.Say("liked"), Blamed: l.Say("something was wrong with it"), Untasted: l.Say("nobody said"),
	}
}

// ChancesTitle stands above it.
func (l Lang) ChancesTitle(c bar.Coffee) string {
	return l.Say("%s: how likely a cup is right", c.Name)
}

// ChancesUnder says what it rests on.
func (l Lang) ChancesUnder(c advisor.Chances) string {
	return l.Say("By its time, from the taste of your cups; likeliest at %s s", whole(likeliest(c).Time))
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
		text = append(text, l.Say("%s s: %s.", whole(s.Time), word))
	}
	return strings.Join(text, " ")
}

// likeliest returns where a cup is likeliest to be right.
func likeliest(c advisor.Chances) advisor.Chance {
	return slices.MaxFunc(c.Curve, func(a, b advisor.Chance) int { return cmp.Compare(a.Right, b.Right) })
}

// DriftWords stand in the picture of a drift.
func (l Lang) DriftWords(c bar.Coffee) chart.DriftWords {
	return chart.DriftWords{Window: "window " + l.window(c.Recipe), Believed: "expected before the shot, 9 in 10", Shot: "shot", Moved: "after a change", Alarm: "told here"}
}

// DialInTitle stands above a dial-in.
func (l Lang) DialInTitle(c bar.Coffee, day bar.Day, called bool) string {
	if called {
		return c.Name + ", dialled in on " + l.DayName(day)
	}
	return c.Name + " on " + l.DayName(day)
}

// DialInUnder is what it cost.
func (l Lang) DialInUnder(steps []advisor.Step) string {
	g := 0.0
	for _, s := range steps {
		g += float64(s.Shot.Dose.X)
	}
	minutes := steps[len(steps)-1].Entry.At.Sub(steps[0].Entry.At).Minutes()
	return fmt.Sprintf("%s, %.0f g of coffee, %.0f min", l.Count(len(steps), "shot"), g, minutes)
}

// ShotName is where the dial stood, or which shot it is.
func (l Lang) ShotName(g bar.Grinder, s advisor.Step) string {
	if g.Step > 0 && s.Shot.Grind.From != bar.None {
		return l.Number(float64(s.Shot.Grind.X))
	}
	return s.Entry.At.Format("15:04")
}

// Said is what was said of a shot, then and later, by anybody.
func (l Lang) Said(s advisor.Step) string { return strings.Join(l.wordsText(s.Words), ", ") }

// Change is what was changed before a shot.
func (l Lang) Change(s, before advisor.Step) string {
	kind, one := review.Moved(before, s)
	if one {
		return map[review.Kind]string{
			review.Finer: "finer", review.Coarser: "coarser", review.Longer: "longer", review.Shorter: "shorter",
			review.MoreDose: "more coffee", review.LessDose: "less coffee",
		}[kind]
	}
	return "several things"
}

// CurveTitle stands above the time over the dial.
func (l Lang) CurveTitle(c review.Course) string { return c.Coffee.Name + " on " + c.Grinder.Name }

// CurveUnder says what a step does.
func (l Lang) CurveUnder(c review.Course) string {
	if !review.HasShown(c.Trail.Worth) {
		return "What a step does has not shown yet"
	}
	return fmt.Sprintf("A step of %s is worth about %s s", l.Number(c.Grinder.Step), l.tenths(bar.Seconds(c.Trail.Worth.Mid)))
}

// DriftTitle stands above a drift.
func (l Lang) DriftTitle(c bar.Coffee, day bar.Day) string {
	return c.Name + " through " + l.DayName(day)
}

// What pictures show, for those who do not see them.

// DialInAlt tells of a dial-in shot by shot.
func (l Lang) DialInAlt(c bar.Coffee, steps []advisor.Step, called bool) string {
	var rows []string
	for _, s := range steps {
		row := ""
		switch {
		case s.Shot.Marks.Has(bar.Choked):
			row = "choked"
		case s.Shot.Time.From == bar.None:
			row = "not timed"
		default:
			row = l.timed(s.Shot.Time.X) + " s"
		}
		row += ", " + l.grams(s.Yield) + " g"
		if said := l.Said(s); said != "" {
			row += ", " + said
		}
		rows = append(rows, row)
	}
	return clipAlt(l.DialInTitle(c, steps[0].Entry.Day, called) + ". Shot by shot: " + strings.Join(rows, "; ") + ". The window is " + l.window(c.Recipe) + ".")
}

// CurveAlt tells of the time over the dial.
func (l Lang) CurveAlt(c review.Course, shots int) string {
	first, last := c.Trail.Curve[0], c.Trail.Curve[len(c.Trail.Curve)-1]
	return fmt.Sprintf("%s: time of %s over the dial, from about %.0f s at %s to %.0f s at %s. %s.", l.CurveTitle(c), l.Count(shots, "shot"),
		first.Mid, l.Number(float64(first.Dial)), last.Mid, l.Number(float64(last.Dial)), l.CurveUnder(c))
}

// DriftAlt tells of a drift.
func (l Lang) DriftAlt(c bar.Coffee, d chart.Drift) string {
	first, last := d.Shots[0], d.Shots[len(d.Shots)-1]
	return fmt.Sprintf("%s. %s, from %.0f s at first to %.0f s at last. The window is %s.", d.Title, d.Under, first.Time, last.Time, l.window(c.Recipe))
}

// DayAlt tells of a day.
func (l Lang) DayAlt(d chart.Day) string {
	var parts []string
	for _, c := range d.Coffees {
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range c.Shots {
			low, high = min(low, s.Time), max(high, s.Time)
		}
		parts = append(parts, fmt.Sprintf("%s, %s of %.0f to %.0f s", c.Name, l.Count(len(c.Shots), "shot"), low, high))
	}
	return d.Title + ", shots by the clock: " + strings.Join(parts, "; ") + "."
}

// EffectsAlt tells what the changes did.
func (l LookBack) EffectsAlt() string {
	var parts []string
	for _, e := range l.Review.Effects {
		parts = append(parts, l.Lang.Kind(e.Kind)+" "+l.Lang.Verdict(e.Verdict)+", "+l.Lang.EffectText(e))
	}
	return clipAlt(l.Lang.Say(EffectsTitle) + ". " + strings.Join(parts, ". ") + ".")
}

// CostAlt tells what mornings cost.
func (l LookBack) CostAlt() string {
	return clipAlt(l.costText() + " " + strings.Join(l.costLines(), " "))
}

// CalibrationAlt tells how the forecasts held.
func (l Lang) CalibrationAlt(bins []review.Bin) string {
	var parts []string
	for _, b := range bins {
		parts = append(parts, fmt.Sprintf("%.0f of 100 where it should be %.0f", 100*b.Share, 100*b.Level))
	}
	return l.Say(CalibrationTitle) + ": " + strings.Join(parts, ", ") + ". " + l.Count(bins[0].N, "shot") + "."
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
const LayersHead English = "share of all that was dissolved, %"

// LayersTitle stands above a tasting cup by cup.
func (l Lang) LayersTitle(a layers.Account) string { return a.Coffee.Name + ", cup by cup" }

// LayersWords stand in its picture.
func (l Lang) LayersWords(a layers.Account) chart.RowWords {
	w := chart.RowWords{Interval: "expected by a model, 4 in 5", Against: "its middle"}
	if a.Known {
		w.Value = "measured"
	}
	return w
}

// LayerName names a cup with its weight.
func (l Lang) LayerName(cup bar.Layer, mass float64) string {
	return cup.String() + ", " + l.grams(bar.Grams(mass)) + " g"
}

// LayersAlt tells of it.
func (l Lang) LayersAlt(d chart.Layers) string {
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
