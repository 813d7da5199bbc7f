package answer

import (
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/recent"
)

// together is how long ago another coffee's shot may lie to have moved at the
// same time. Common practice, no source.
const together = 2 * time.Hour

// alike returns another coffee that has just moved the same way: its last shot, too,
// was slower, or faster, than expected. What moves two coffees at once is what they
// share. It is told once a day: not if it was told.
func (a *Answer) alike(advice advisor.Advice, told bool) (other bar.Coffee, ok bool, err error) {
	if told || advice.Beyond == 0 || advice.Shot != recent.Provisional {
		return bar.Coffee{}, false, nil
	}
	for _, c := range a.Book.OnBar() {
		recent := a.Book.Shots(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c.ID && a.Now.Sub(e.At) <= together })
		if c.ID == a.Coffee.ID || len(recent) == 0 || recent[0].Day != a.Book.Day {
			continue
		}
		h, err := a.History(c.ID)
		if err != nil {
			return c, false, err
		}
		if its, ok := a.Advise(h, c.ID, a.Now); ok && its.Beyond == advice.Beyond && its.Shot == recent[0].ID {
			return c, true, nil
		}
	}
	return bar.Coffee{}, false, nil
}

// togetherKey is under what it is noted that a day has been told of it.
func (a *Answer) togetherKey() string { return "together " + string(a.Book.Day) }

// toldTogether reports whether today has been told of it.
func (a *Answer) toldTogether() (bool, error) { return a.ToldOnce(a.togetherKey()) }
