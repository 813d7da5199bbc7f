package parse

import (
	"testing"
	"time"

	"shothand/advisor/bar"
)

func TestHoursAndDays(t *testing.T) {
	check(t, HourOfDay, map[string]bar.TimeOfDay{"07:00": "07:00", "7:30": "07:30", "7.30": "07:30", "7": "07:00", "6:30 pm": "18:30", "6pm": "18:00"},
		map[string]MistakeKind{"": BadOption, "noon": BadOption, "25:00": BadOption, "7:70": BadOption})
	all := func(days ...time.Weekday) (w bar.Weekdays) {
		for _, d := range days {
			w = w.With(d)
		}
		return w
	}
	check(t, DaysOpen, map[string]bar.Weekdays{
		"mon-wed": all(time.Monday, time.Tuesday, time.Wednesday), "Mon, Wed, Fri": all(time.Monday, time.Wednesday, time.Friday),
		"sat-mon": all(time.Saturday, time.Sunday, time.Monday), "monday to tuesday": all(time.Monday, time.Tuesday), "daily": 0, "sundays": all(time.Sunday),
	}, map[string]MistakeKind{"": BadOption, "m": BadOption, "mon-": BadOption, "weekly": BadOption})
}

func TestFactsOfACoffee(t *testing.T) {
	check(t, Roast, map[string]bar.Roast{"light": bar.Light, "Dark": bar.Dark, "none": bar.UnknownRoast}, map[string]MistakeKind{"": BadOption, "blue": BadOption})
	check(t, Aim, map[string]bar.Aim{"bright": bar.Bright, "rich": bar.Rich, "none": bar.NoAim}, map[string]MistakeKind{"good": BadOption})
	check(t, Drink, map[string]bar.Drink{"milk": bar.WithMilk, "black": bar.Black}, map[string]MistakeKind{"tea": BadOption})
	check(t, Basket, map[string]bar.Basket{
		"18-20": {Low: 18, High: 20}, "17,5–18.5 g": {Low: 17.5, High: 18.5}, "18": {Low: 17, High: 19}, "none": {},
	}, map[string]MistakeKind{"": BadOption, "big": BadOption, "20-18": Impossible, "1-90": Impossible, "NaN-20": Impossible})
	check(t, CrewLevers, map[string]bar.Levers{
		"grind": bar.Levers(0).With(bar.Grind), "all": 0,
		"grind, yield": bar.Levers(0).With(bar.Grind).With(bar.Yield).With(bar.Time),
	}, map[string]MistakeKind{"": BadOption, "pressure": BadOption})
}

func TestFactsOfAGrinder(t *testing.T) {
	check(t, Doser, map[string]bar.Doser{"timer": bar.Timed, "weight": bar.ByWeight, "hand": bar.ByHand}, map[string]MistakeKind{"spoon": BadOption})
	check(t, PurgeGrams, map[string]float64{"4": 4, "3 g": 3, "none": 0}, map[string]MistakeKind{"": BadOption, "400": Impossible, "5 s": BadOption})
	type small struct {
		n        int
		lettered bool
	}
	read := func(s string) (small, error) {
		n, lettered, err := SmallSteps(s)
		return small{n, lettered}, err
	}
	check(t, read, map[string]small{"5": {5, false}, "A-K": {11, true}, "a–z": {26, true}, "none": {}},
		map[string]MistakeKind{"": BadOption, "1": BadOption, "B-K": BadOption, "A-": BadOption})
	check(t, WholeTurn, map[string]float64{"12": 12, "none": 0}, map[string]MistakeKind{"": BadOption, "1": Impossible, "12 g": BadOption})
	check(t, YesNo, map[string]bool{"yes": true, "no": false, "off": false}, map[string]MistakeKind{"maybe": BadOption})
}
