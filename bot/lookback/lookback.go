package lookback

import (
	"errors"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/say/past"
	"shothand/store"
)

// A Back is a review with what it was made of.
type Back struct {
	past.LookBack
	Book review.Book
}

// Records are those of one bar, as seen at an instant.
type Records struct {
	See func(func(*store.Tx) error) error // reads them
	Bar bar.Bar
	Now time.Time
}

// Of looks back on some coffees, in the language and the span that asked has.
func (r Records) Of(asked past.LookBack, coffees []bar.Coffee) (Back, error) {
	l := Back{LookBack: asked}
	h, err := r.History(asked.Span)
	if err != nil {
		return l, err
	}
	l.Coffees, l.Grinders, l.Currency = h.Coffees, h.Grinders, r.Bar.Currency
	l.Book, err = r.Book(h, coffees, asked.Span)
	l.Review = review.Of(asked.Span, l.Book)
	return l, err
}

// lookedAt is how far back a coffee's shots are looked at.
const lookedAt = 90 * 24 * time.Hour

// History reads all that happened in a span and in the one before it, and
// in the last months.
func (r Records) History(span review.Span) (h bar.History, err error) {
	first := span.Before().From
	if span.From < past.Earliest {
		first = span.From
	}
	since := r.Now.Add(-lookedAt)
	if at, err := time.ParseInLocation(time.DateOnly, string(first), r.Now.Location()); err == nil && at.Before(since) {
		since = at
	}
	err = r.See(func(tx *store.Tx) error {
		var errs [4]error
		h.Bar = r.Bar
		h.Coffees, errs[0] = tx.Coffees(r.Bar.ID)
		h.Grinders, errs[1] = tx.Grinders(r.Bar.ID)
		h.People, errs[2] = tx.People(r.Bar.ID)
		h.Entries, errs[3] = tx.Recent(r.Bar.ID, since)
		return errors.Join(errs[:]...)
	})
	return h, err
}

// Book opens the book of some coffees.
func (r Records) Book(h bar.History, coffees []bar.Coffee, span review.Span) (review.Book, error) {
	b := review.Book{Coffees: coffees}
	asked := func(id bar.CoffeeID) bool {
		return slices.ContainsFunc(coffees, func(c bar.Coffee) bool { return c.ID == id })
	}
	for _, c := range review.CupsOf(h) {
		if asked(c.Shot.Coffee) {
			b.Cups = append(b.Cups, c)
		}
	}
	for _, e := range h.Entries {
		if d, ok := e.What.(bar.Dialled); ok && asked(d.Coffee) {
			b.Calls = append(b.Calls, e)
		}
	}
	for _, c := range coffees {
		course, err := r.course(h, c, span.From)
		if err != nil {
			return b, err
		}
		if len(course.Trail.Steps) > 0 {
			b.Courses = append(b.Courses, course)
		}
	}
	return b, nil
}

// course reads how a coffee went since a day.
func (r Records) course(h bar.History, coffee bar.Coffee, since bar.Day) (c review.Course, err error) {
	c.Coffee = coffee
	c.Grinder, _ = bar.GrinderOf(h.Grinders, coffee.Grinder)
	c.Trail, _ = review.TrailOf(h, coffee.ID, since, r.Now)
	if len(c.Trail.Steps) == 0 {
		return c, nil
	}
	var said []store.Said
	err = r.See(func(tx *store.Tx) (err error) {
		said, err = tx.AdviceSince(r.Bar.ID, coffee.ID, c.Trail.Steps[0].Entry.At)
		return err
	})
	for _, a := range said {
		c.Said = append(c.Said, review.Said{
			Shot: a.Entry, Lever: a.Lever, From: a.From, To: a.To, Unit: a.Unit, Done: a.Followed,
		})
	}
	return c, err
}

// Lately is the span of a coffee's page.
func (r Records) Lately() review.Span {
	return review.Span{From: bar.DayOf(r.Now.Add(-lookedAt)), To: bar.DayOf(r.Now)}
}
