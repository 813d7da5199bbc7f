package advisor_test

import (
	"testing"
	"time"

	"shothand/advisor"
)

func TestTimeOfDay(t *testing.T) {
	for minutes := range 24 * 60 {
		if got, ok := advisor.MinutesOf(minutes).Minutes(); got != minutes || !ok {
			t.Fatalf("%d minutes are %q, %d, %v", minutes, advisor.MinutesOf(minutes), got, ok)
		}
	}
	for _, none := range []advisor.TimeOfDay{"", "24:00", "7", "noon"} {
		if got, ok := none.Minutes(); ok {
			t.Errorf("%q is %d", none, got)
		}
	}
}

// An empty set is one that nobody has told of: nothing is left out.
func TestSets(t *testing.T) {
	saturday := advisor.Weekdays(0).With(time.Saturday)
	if !saturday.Has(time.Saturday) || saturday.Has(time.Sunday) || !advisor.Weekdays(0).Has(time.Sunday) {
		t.Errorf("Saturdays: %b", saturday)
	}
	grind := advisor.Levers(0).With(advisor.Grind)
	if !grind.Has(advisor.Grind) || grind.Has(advisor.Yield) || !grind.Has(advisor.Prep) || !advisor.Levers(0).Has(advisor.Yield) {
		t.Errorf("the grind: %b", grind)
	}
	basket := advisor.Basket{Low: 18, High: 20}
	if !basket.Holds(18) || basket.Holds(20.1) || !(advisor.Basket{}).Holds(30) {
		t.Error("a basket")
	}
}
