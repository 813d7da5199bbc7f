package answer

import (
	"fmt"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// An alert is that a coffee has begun to drift. It is told with the advice on the
// shot that showed it: one post, one picture.
type alert struct {
	now   bool // it is told now
	files []chat.File
	write func(*store.Tx) error
}

// alert returns what is to be told of a coffee that has begun to drift, once
// for each drift, and not outside the bar's hours. What moves two coffees at
// once is what they share, and is told once a day.
func (a *Answer) alert(h bar.History, advice advisor.Advice, other bar.Coffee, toldTogether bool) (alert, error) {
	quiet := alert{write: func(*store.Tx) error { return nil }}
	if advice.State != advisor.Drifting || a.Entry.Deleted || a.Turn.Clock().Quiet() || a.Stale {
		return quiet, nil
	}
	deeds, err := a.Deeds()
	if err != nil {
		return quiet, err
	}
	d := advice.Drift
	name := driftDeed(a.Coffee.ID, d)
	if _, told := turn.DeedOf(deeds, name); told {
		return quiet, nil
	}
	both := other.ID != 0
	told := alert{now: !both || !toldTogether}
	if told.now {
		if told.files, err = lookback.DriftFiles(a.Lang(), h, a.Coffee, advice.Shot, a.Now); err != nil {
			return quiet, err
		}
	}
	told.write = func(tx *store.Tx) error {
		if both {
			if err := tx.TellOnce(a.Bar.ID, a.togetherKey(), a.Now); err != nil {
				return err
			}
		}
		return tx.PutDeed(a.Bar.ID, a.Day(), store.Deed{Name: name, State: store.Passed, Kind: chat.Alert.String(), Shown: drifted(d), At: a.Now})
	}
	return told, nil
}

// driftDeed names the deed of telling that a coffee drifts.
func driftDeed(c bar.CoffeeID, d advisor.Drift) string {
	return fmt.Sprintf("drift-%d-%d-%d", c, d.Called.Unix(), d.Nth)
}

// drifted is which way and since when a coffee drifts, as it was told.
func drifted(d advisor.Drift) string { return driftWay(d) + d.Since.Format(time.RFC3339) }

func driftWay(d advisor.Drift) string { return fmt.Sprint(d.Way(), " ") }

// Since returns since when a coffee drifts: as it was told, though later shots may
// put it a little elsewhere, unless it has turned and runs off the other way.
func Since(t *turn.Turn, c bar.CoffeeID, d advisor.Drift) (time.Time, error) {
	deeds, err := t.Deeds()
	if err != nil {
		return d.Since, err
	}
	told, _ := turn.DeedOf(deeds, driftDeed(c, d))
	since, same := strings.CutPrefix(told.Shown, driftWay(d))
	if at, err := time.Parse(time.RFC3339, since); same && err == nil {
		return at.In(d.Since.Location()), nil
	}
	return d.Since, nil
}

// leaning returns another coffee that was called dialled in and has moved since,
// or is about to, as the one that an advice is on; without one, none.
func leaning(t *turn.Turn, r *recent.Book, a advisor.Advice) (bar.Coffee, error) {
	if a.State != advisor.Drifting {
		return bar.Coffee{}, nil
	}
	for _, c := range r.OnBar() {
		if c.ID == a.Coffee {
			continue
		}
		o, err := t.Look(c)
		if err != nil {
			return bar.Coffee{}, err
		}
		if o.Leans == a.Drift.Way() {
			return c, nil
		}
	}
	return bar.Coffee{}, nil
}

// mentioned returns the names of those who want to be told.
func mentioned(r *recent.Book) []string {
	var names []string
	for _, p := range r.People {
		if p.Mention && p.Name != "" {
			names = append(names, say.Clip(p.Name))
		}
	}
	return names
}
