package advisor_test

import (
	"testing"
	"time"

	"shothand/advisor/bar"
)

func TestTimeOfDay(t *testing.T) {
	for minutes := range 24 * 60 {
		if got, ok := bar.MinutesOf(minutes).Minutes(); got != minutes || !ok {
			t.Fatalf("%d minutes are %q, %d, %v", minutes, bar.MinutesOf(minutes), got, ok)
		}
	}
	for _, none := range []bar.TimeOfDay{"", "24:00", "7", "noon"} {
		if got, ok := none.Minutes(); ok {
			t.Errorf("%q is %d", none, got)
		}
	}
}

// An empty set is one that nobody has told of: nothing is left out.
func TestSets(t *testing.T) {
	saturday := bar.Weekdays(0).With(time.Saturday)
	if !saturday.Has(time.Saturday) || saturday.Has(time.Sunday) || !bar.Weekdays(0).Has(time.Sunday) {
		t.Errorf("Saturdays: %b", saturday)
	}
	grind := bar.Levers(0).With(bar.Grind)
	if !grind.Has(bar.Grind) || grind.Has(bar.Yield) || !grind.Has(bar.Prep) || !bar.Levers(0).Has(bar.Yield) {
		t.Errorf("the grind: %b", grind)
	}
	basket := bar.Basket{Low: 18, High: 20}
	if !basket.Holds(18) || basket.Holds(20.1) || !(bar.Basket{}).Holds(30) {
		t.Error("a basket")
	}
}
