package say

import (
	"fmt"
	"math"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
)

// What stands in and around the pictures.
const (
	EffectsTitle     = "Which changes worked"
	EffectsUnder     = "Cups beyond those that would have been right anyway."
	EffectsHead      = "of ten cups, how many more are right"
	CostTitle        = "What mornings cost"
	CalibrationTitle = "How close my times came"
	CalibrationHead  = "shots within, of 100"
)

// EffectsWords stand in the picture of what the changes did.
func EffectsWords() chart.RowWords {
	return chart.RowWords{Value: "most likely", Interval: "9 times in 10 it lies here"}
}

// CalibrationWords stand in the picture of forecasts.
func CalibrationWords() chart.RowWords {
	return chart.RowWords{Value: "shots that did", Against: "that should"}
}

// CalibrationName names a row of it.
func CalibrationName(b review.Bin) string {
	return "range for " + Number(100*b.Level) + " of 100 shots"
}

// CostWords stand in the picture of what mornings cost.
func CostWords() chart.CostWords {
	return chart.CostWords{Head: "shots to dialled in", Foot: "week of", Morning: "one coffee, one morning", Mean: "mean of the week"}
}

// DayWords stand in the picture of a day.
func DayWords() chart.DayWords {
	return chart.DayWords{Window: "window", Shot: "shot", Choked: "choked", Called: "called dialled in"}
}

// DialInWords stand in the picture of a dial-in.
func DialInWords(c bar.Coffee, g bar.Grinder) chart.Words {
	names := "clock"
	if g.Step > 0 {
		names = "dial"
	}
	return chart.Words{
		Names: names, Window: "window " + window(c.Recipe), Believed: "expected before the shot, 9 in 10", Shot: "shot", Choked: "choked",
		Yield: "in the cup; the line is the recipe's " + grams(c.Recipe.Yield) + " g",
	}
}

// CurveWords stand in the picture of the time over the dial.
func CurveWords(c review.Course, day bar.Day) chart.CurveWords {
	foot := "dial of " + c.Grinder.Name
	switch c.Grinder.Finer {
	case bar.Lower:
		foot += ", lower is finer"
	case bar.Higher:
		foot += ", higher is finer"
	case bar.Unknown:
	}
	return chart.CurveWords{
		Foot: foot, Window: "window " + window(c.Coffee.Recipe), Learnt: "time as learnt by now, for " + grams(c.Coffee.Recipe.Yield) + " g in the cup", Band: "the true time, 9 in 10",
		Shot: "shots of " + dateText(day, "2 Jan"), Old: "earlier shots, of other days' coffee",
	}
}

// DriftWords stand in the picture of a drift.
func DriftWords(c bar.Coffee) chart.DriftWords {
	return chart.DriftWords{Window: "window " + window(c.Recipe), Believed: "expected before the shot, 9 in 10", Shot: "shot", Moved: "after a change", Alarm: "told here"}
}

// DialInTitle stands above a dial-in.
func DialInTitle(c bar.Coffee, day bar.Day, called bool) string {
	if called {
		return c.Name + ", dialled in on " + DayName(day)
	}
	return c.Name + " on " + DayName(day)
}

// DialInUnder is what it cost.
func DialInUnder(steps []advisor.Step) string {
	g := 0.0
	for _, s := range steps {
		g += float64(s.Shot.Dose.X)
	}
	minutes := steps[len(steps)-1].Entry.At.Sub(steps[0].Entry.At).Minutes()
	return fmt.Sprintf("%s, %.0f g of coffee, %.0f min", Count(len(steps), "shot"), g, minutes)
}

// ShotName is where the dial stood, or which shot it is.
func ShotName(g bar.Grinder, s advisor.Step) string {
	if g.Step > 0 && s.Shot.Grind.From != bar.None {
		return Number(float64(s.Shot.Grind.X))
	}
	return s.Entry.At.Format("15:04")
}

// Said is what was said of a shot, then and later, by anybody.
func Said(s advisor.Step) string { return strings.Join(wordsText(s.Words), ", ") }

// Change is what was changed before a shot.
func Change(s, before advisor.Step) string {
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
func CurveTitle(c review.Course) string { return c.Coffee.Name + " on " + c.Grinder.Name }

// CurveUnder says what a step does.
func CurveUnder(c review.Course) string {
	if !review.HasShown(c.Trail.Worth) {
		return "What a step does has not shown yet"
	}
	return fmt.Sprintf("A step of %s is worth about %s s", Number(c.Grinder.Step), tenths(bar.Seconds(c.Trail.Worth.Mid)))
}

// DriftTitle stands above a drift.
func DriftTitle(c bar.Coffee, day bar.Day) string {
	return c.Name + " through " + DayName(day)
}

// What pictures show, for those who do not see them.

// DialInAlt tells of a dial-in shot by shot.
func DialInAlt(c bar.Coffee, steps []advisor.Step, called bool) string {
	var rows []string
	for _, s := range steps {
		row := ""
		switch {
		case s.Shot.Marks.Has(bar.Choked):
			row = "choked"
		case s.Shot.Time.From == bar.None:
			row = "not timed"
		default:
			row = timed(s.Shot.Time.X) + " s"
		}
		row += ", " + grams(s.Yield) + " g"
		if said := Said(s); said != "" {
			row += ", " + said
		}
		rows = append(rows, row)
	}
	return clipAlt(DialInTitle(c, steps[0].Entry.Day, called) + ". Shot by shot: " + strings.Join(rows, "; ") + ". The window is " + window(c.Recipe) + ".")
}

// CurveAlt tells of the time over the dial.
func CurveAlt(c review.Course, shots int) string {
	first, last := c.Trail.Curve[0], c.Trail.Curve[len(c.Trail.Curve)-1]
	return fmt.Sprintf("%s: time of %s over the dial, from about %.0f s at %s to %.0f s at %s. %s.", CurveTitle(c), Count(shots, "shot"),
		first.Mid, Number(float64(first.Dial)), last.Mid, Number(float64(last.Dial)), CurveUnder(c))
}

// DriftAlt tells of a drift.
func DriftAlt(c bar.Coffee, d chart.Drift) string {
	first, last := d.Shots[0], d.Shots[len(d.Shots)-1]
	return fmt.Sprintf("%s. %s, from %.0f s at first to %.0f s at last. The window is %s.", d.Title, d.Under, first.Time, last.Time, window(c.Recipe))
}

// DayAlt tells of a day.
func DayAlt(d chart.Day) string {
	var parts []string
	for _, c := range d.Coffees {
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range c.Shots {
			low, high = min(low, s.Time), max(high, s.Time)
		}
		parts = append(parts, fmt.Sprintf("%s, %s of %.0f to %.0f s", c.Name, Count(len(c.Shots), "shot"), low, high))
	}
	return d.Title + ", shots by the clock: " + strings.Join(parts, "; ") + "."
}

// EffectsAlt tells what the changes did.
func (l LookBack) EffectsAlt() string {
	var parts []string
	for _, e := range l.Review.Effects {
		parts = append(parts, Kind(e.Kind)+" "+Verdict(e.Verdict)+", "+EffectText(e))
	}
	return clipAlt(EffectsTitle + ". " + strings.Join(parts, ". ") + ".")
}

// CostAlt tells what mornings cost.
func (l LookBack) CostAlt() string {
	return clipAlt(l.costText() + " " + strings.Join(l.costLines(), " "))
}

// CalibrationAlt tells how the forecasts held.
func CalibrationAlt(bins []review.Bin) string {
	var parts []string
	for _, b := range bins {
		parts = append(parts, fmt.Sprintf("%.0f of 100 where it should be %.0f", 100*b.Share, 100*b.Level))
	}
	return CalibrationTitle + ": " + strings.Join(parts, ", ") + ". " + Count(bins[0].N, "shot") + "."
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
const LayersHead = "share of all that was dissolved, %"

// LayersTitle stands above a tasting cup by cup.
func LayersTitle(a layers.Account) string { return a.Coffee.Name + ", cup by cup" }

// LayersWords stand in its picture.
func LayersWords(a layers.Account) chart.RowWords {
	w := chart.RowWords{Interval: "expected by a model, 4 in 5", Against: "its middle"}
	if a.Known {
		w.Value = "measured"
	}
	return w
}

// LayerName names a cup with its weight.
func LayerName(l bar.Layer, mass float64) string {
	return l.String() + ", " + grams(bar.Grams(mass)) + " g"
}

// LayersAlt tells of it.
func LayersAlt(d chart.Layers) string {
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
