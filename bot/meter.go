package bot

import (
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/turn"
	"shothand/store"
)

// unmetered counts nothing.
type unmetered struct{}

// Recorded does nothing.
func (unmetered) Recorded() {}

// Sent does nothing.
func (unmetered) Sent() {}

// Advised does nothing.
func (unmetered) Advised(time.Duration) {}

// metered times an advisor.
func metered(advise turn.Advisor, m turn.Meter) turn.Advisor {
	return func(h bar.History, c bar.CoffeeID, now time.Time) (advisor.Advice, bool) {
		began := time.Now()                             //nolint:forbidigo // how long it takes changes nothing
		defer func() { m.Advised(time.Since(began)) }() //nolint:forbidigo // as above
		return advise(h, c, now)
	}
}

// Pending returns how many replies of a file are written and not known to be
// sent, and of when the oldest is. Those that are too old to be worth sending do
// not count.
func Pending(s *store.Store, now time.Time) (n int, oldest time.Time, err error) {
	err = s.View(func(tx *store.Tx) error {
		n, oldest = 0, time.Time{}
		bars, err := tx.Bars()
		for _, bar := range bars {
			replies, err := tx.PendingReplies(bar.ID)
			if err != nil {
				return err
			}
			for _, r := range replies {
				if now.Sub(r.At) > lateAtMost {
					continue
				}
				if n++; oldest.IsZero() || r.At.Before(oldest) {
					oldest = r.At
				}
			}
		}
		return err
	})
	return n, oldest, err
}
