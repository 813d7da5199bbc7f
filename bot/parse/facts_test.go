package parse

import (
	"testing"
	"time"

	"shothand/advisor"
)

func TestHoursAndDays(t *testing.T) {
	check(t, HourOfDay, map[string]advisor.TimeOfDay{"07:00": "07:00", "7:30": "07:30", "7.30": "07:30", "7": "07:00", "6:30 pm": "18:30", "6pm": "18:00"},
		map[string]MistakeKind{"": BadOption, "noon": BadOption, "25:00": BadOption, "7:70": BadOption})
	all := func(days ...time.Weekday) (w advisor.Weekdays) {
		for _, d := range days {
			w = w.With(d)
		}
		return w
	}
	check(t, DaysOpen, map[string]advisor.Weekdays{
		"mon-wed": all(time.Monday, time.Tuesday, time.Wednesday), "Mon, Wed, Fri": all(time.Monday, time.Wednesday, time.Friday),
		"sat-mon": all(time.Saturday, time.Sunday, time.Monday), "monday to tuesday": all(time.Monday, time.Tuesday), "daily": 0, "sundays": all(time.Sunday),
	}, map[string]MistakeKind{"": BadOption, "m": BadOption, "mon-": BadOption, "weekly": BadOption})
}

func TestFactsOfACoffee(t *testing.T) {
	check(t, Roast, map[string]advisor.Roast{"light": advisor.Light, "Dark": advisor.Dark, "none": advisor.UnknownRoast}, map[string]MistakeKind{"": BadOption, "blue": BadOption})
	check(t, Aim, map[string]advisor.Aim{"bright": advisor.Bright, "rich": advisor.Rich, "none": advisor.NoAim}, map[string]MistakeKind{"good": BadOption})
	check(t, Drink, map[string]advisor.Drink{"milk": advisor.WithMilk, "black": advisor.Black}, map[string]MistakeKind{"tea": BadOption})
	check(t, Basket, map[string]advisor.Basket{
		"18-20": {Low: 18, High: 20}, "17,5–18.5 g": {Low: 17.5, High: 18.5}, "18": {Low: 17, High: 19}, "none": {},
	}, map[string]MistakeKind{"": BadOption, "big": BadOption, "20-18": Impossible, "1-90": Impossible, "NaN-20": Impossible})
	check(t, CrewLevers, map[string]advisor.Levers{
		"grind": advisor.Levers(0).With(advisor.Grind), "all": 0,
		"grind, yield": advisor.Levers(0).With(advisor.Grind).With(advisor.Yield).With(advisor.Time),
	}, map[string]MistakeKind{"": BadOption, "pressure": BadOption})
}

func TestFactsOfAGrinder(t *testing.T) {
	check(t, Doser, map[string]advisor.Doser{"timer": advisor.Timed, "weight": advisor.ByWeight, "hand": advisor.ByHand}, map[string]MistakeKind{"spoon": BadOption})
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
