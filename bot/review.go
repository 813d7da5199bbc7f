package bot

import (
	"errors"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// usualSpan is what a review is of if nobody says.
const usualSpan = "last 4 weeks"

// A scope is what a review is to be made of.
type scope struct {
	say.LookBack
	said    string // the span, in words
	coffees []bar.Coffee
}

// A look-back is a review with what it was made of.
type lookBack struct {
	scope
	book review.Book
}

// review looks back.
func (t *turn) review(r *room, c chat.Command) ([]Out, error) {
	if sides, ok := sidesOf(r, c); ok {
		return t.sideBySide(r, sides)
	}
	if rest, ok := ofBars(c); ok {
		return t.bars(c, rest)
	}
	s, err := t.scope(r, c)
	if err != nil {
		return nil, err
	}
	l, err := t.lookBack(s)
	if err != nil {
		return nil, err
	}
	post := t.post(chat.Info, l.Text(said(c, "more")))
	post.Private = s.Who.ID != 0
	if l.Review.Shots > 0 && option(c, "pictures", "") != "no" {
		post.Files, err = l.files(isDark(c))
	}
	return []Out{{Post: post}}, err
}

// isDark reports whether pictures are asked for in dark colours.
func isDark(c chat.Command) bool { return option(c, "look", "light") == "dark" }

// scope reads what a review is asked of.
func (t *turn) scope(r *room, c chat.Command) (s scope, err error) {
	s.coffees = r.coffees
	words := option(c, command.FreeWords, "")
	if name := option(c, "coffee", ""); name != "" {
		s.Coffee, err = findCoffee(r, name)
	} else {
		s.Coffee, words = leading(r, words)
	}
	if err != nil {
		return s, err
	}
	if name := option(c, "grinder", ""); name != "" {
		if s.Grinder, err = findGrinder(r, name); err != nil {
			return s, err
		}
	} else if s.Coffee.ID == 0 {
		s.Grinder, words = leadingGrinder(r, words)
	}
	name := option(c, "person", "")
	if first, rest, _ := strings.Cut(words, " "); name == "" && isMe(first) {
		name, words = first, strings.TrimSpace(rest)
		if s.Coffee.ID == 0 {
			s.Coffee, words = leading(r, words)
		}
	}
	if name != "" {
		if !strings.EqualFold(name, t.who.Name) && !isMe(name) {
			return s, mistake(t.own().Say(say.NotYours))
		}
		s.Who = t.who
	}
	s.narrow()
	said := words
	if since := option(c, "since", ""); since != "" {
		if words != "" {
			return s, mistake(t.own().SinceTwice(words, since))
		}
		if said = since; !bounded(said) {
			said = "since " + said
		}
	}
	err = t.read(&s, said, r.day)
	if s.Coffee.ID == 0 && s.Grinder.ID == 0 && err != nil {
		err = misspeltCoffee(r, words, err)
	}
	return s, err
}

// misspeltCoffee returns the mistake of a name that words begin with, if they begin
// with nearly that of a coffee or that of a retired one, else another.
func misspeltCoffee(r *room, words string, other error) error {
	first, _, _ := strings.Cut(words, " ")
	_, err := findCoffee(r, first)
	m, isName := errors.AsType[misnamed](err)
	if _, gone := retired(r, first); gone || isName && m.right != "" {
		return err
	}
	return other
}

// isMe reports whether a word stands for whoever says it.
func isMe(word string) bool { return strings.EqualFold(word, "me") || strings.EqualFold(word, "mine") }

// bounded reports whether a span that was given as since: is meant to end
// where its words do.
func bounded(said string) bool {
	low := strings.ToLower(said)
	return strings.HasPrefix(low, "since ") || strings.HasPrefix(low, "last ") || strings.HasPrefix(low, "this ")
}

// leading takes the name of a coffee off the front of words, if they begin with
// one.
func leading(r *room, words string) (bar.Coffee, string) {
	for _, c := range r.onBar() {
		if len(words) >= len(c.Name) && strings.EqualFold(words[:len(c.Name)], c.Name) {
			return c, strings.TrimSpace(words[len(c.Name):])
		}
	}
	return bar.Coffee{}, words
}

// leadingGrinder takes the name of a grinder off the front of words, with or
// without the word before it.
func leadingGrinder(r *room, words string) (bar.Grinder, string) {
	text := words
	if first, rest, _ := strings.Cut(words, " "); strings.EqualFold(first, "grinder") {
		text = strings.TrimSpace(rest)
	}
	for _, g := range r.inUse() {
		if rest := strings.TrimPrefix(strings.ToLower(text), strings.ToLower(g.Name)); len(rest) < len(text) && (rest == "" || rest[0] == ' ') {
			return g, strings.TrimSpace(text[len(text)-len(rest):])
		}
	}
	return bar.Grinder{}, words
}

// narrow leaves only the coffees that were asked of.
func (s *scope) narrow() {
	var kept []bar.Coffee
	for _, c := range s.coffees {
		if (s.Coffee.ID == 0 || c.ID == s.Coffee.ID) && (s.Grinder.ID == 0 || c.Grinder == s.Grinder.ID) {
			kept = append(kept, c)
		}
	}
	s.coffees = kept
}

// read sets the days that said means.
func (t *turn) read(s *scope, said string, today bar.Day) error {
	if said == "" {
		said = usualSpan
	}
	if strings.EqualFold(strings.TrimPrefix(strings.ToLower(said), "since "), parse.ThisBag) {
		return t.readBag(s, today)
	}
	span, err := parse.SpanOf(said, today)
	s.Span, s.said = review.Span{From: span.From, To: span.To, Person: s.Who.ID}, said
	return err
}

// readBag sets the days since the coffee's last new bag.
func (t *turn) readBag(s *scope, today bar.Day) error {
	if s.Coffee.ID == 0 && len(s.coffees) == 1 {
		s.Coffee = s.coffees[0]
	}
	if s.Coffee.ID == 0 {
		return mistake(t.own().WhichCoffee(s.coffees))
	}
	h, err := t.history(s.Coffee.ID)
	if err != nil {
		return err
	}
	s.Span = review.Span{To: today, Person: s.Who.ID}
	for _, e := range h.Entries {
		if w, ok := e.What.(bar.Told); ok && w.Event == bar.NewBag && (w.Coffee == s.Coffee.ID || w.Coffee == 0) {
			s.Span.From = e.Day
		}
	}
	if s.Span.From == "" {
		return mistake(t.in().NoBag(s.Coffee))
	}
	s.said = parse.ThisBag
	s.narrow()
	return nil
}

// lookBack reads and reckons a review.
func (t *turn) lookBack(s scope) (lookBack, error) {
	l := lookBack{scope: s}
	h, err := t.longHistory(s.Span)
	if err != nil {
		return l, err
	}
	l.Lang = t.in()
	if l.Who.ID != 0 {
		l.Lang = t.own()
	}
	l.Coffees, l.Grinders, l.Currency = h.Coffees, h.Grinders, t.bar.Currency
	l.book, err = t.book(h, s.coffees, s.Span)
	l.Review = review.Of(s.Span, l.book)
	return l, err
}

// lookBackSpan is how far back a coffee's shots are looked at.
const lookBackSpan = 90 * 24 * time.Hour

// longHistory reads all that happened in a span and in the one before it, and
// in the last months.
func (t *turn) longHistory(span review.Span) (h bar.History, err error) {
	first := span.Before().From
	if span.From < say.Earliest {
		first = span.From
	}
	since := t.now.Add(-lookBackSpan)
	if at, err := time.ParseInLocation(time.DateOnly, string(first), t.now.Location()); err == nil && at.Before(since) {
		since = at
	}
	err = t.see(func(tx *store.Tx) error {
		var errs [4]error
		h.Bar = t.bar
		h.Coffees, errs[0] = tx.Coffees(t.bar.ID)
		h.Grinders, errs[1] = tx.Grinders(t.bar.ID)
		h.People, errs[2] = tx.People(t.bar.ID)
		h.Entries, errs[3] = tx.Recent(t.bar.ID, since)
		return errors.Join(errs[:]...)
	})
	return h, err
}

// book opens the book of some coffees.
func (t *turn) book(h bar.History, coffees []bar.Coffee, span review.Span) (review.Book, error) {
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
		course, err := t.course(h, c, span.From)
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
func (t *turn) course(h bar.History, coffee bar.Coffee, since bar.Day) (c review.Course, err error) {
	c.Coffee, c.Grinder = coffee, grinderOf(h.Grinders, coffee.Grinder)
	c.Trail, _ = review.TrailOf(h, coffee.ID, since, t.now)
	if len(c.Trail.Steps) == 0 {
		return c, nil
	}
	var said []store.Said
	err = t.see(func(tx *store.Tx) (err error) {
		said, err = tx.AdviceSince(t.bar.ID, coffee.ID, c.Trail.Steps[0].Entry.At)
		return err
	})
	for _, a := range said {
		c.Said = append(c.Said, review.Said{
			Shot: a.Entry, At: a.At, Lever: a.Lever, From: a.From, To: a.To, Unit: a.Unit, Done: a.Followed,
		})
	}
	return c, err
}

// lately is the span of a coffee's page.
func (t *turn) lately() review.Span {
	return review.Span{From: bar.DayOf(t.now.Add(-lookBackSpan)), To: bar.DayOf(t.now)}
}

// files are the pictures of a review.
func (l lookBack) files(dark bool) ([]chat.File, error) {
	var list pictures
	if l.Span.From == l.Span.To && l.Coffee.ID == 0 {
		list.add(l.dayPicture(l.Span.From))
	}
	list.add(l.effectsPicture())
	if l.Coffee.ID != 0 && len(l.book.Courses) == 1 {
		list = append(list, l.coffeePictures(l.book.Courses[0])...)
	} else if l.Grinder.ID != 0 {
		for _, c := range l.book.Courses[:min(2, len(l.book.Courses))] {
			list.add(curvePicture(l.Lang, c, l.Span))
		}
	}
	list.add(l.costPicture())
	list.add(l.calibrationPicture())
	return drawFiles(list, dark)
}

// A picture is one to send, with its name and what it shows.
type picture struct {
	chart.Picture
	name, alt string
}

// pictures are several, in the order in which they are sent.
type pictures []picture

// add adds a picture, if there is one.
func (all *pictures) add(p picture, ok bool) {
	if ok {
		*all = append(*all, p)
	}
}

// drawFiles draws pictures as files.
func drawFiles(list pictures, dark bool) ([]chat.File, error) {
	var files []chat.File
	for _, p := range list {
		data, err := chart.PNG(p.Picture, dark)
		if err != nil {
			return nil, err
		}
		files = append(files, chat.File{Name: p.name + ".png", Alt: p.alt, Data: data})
	}
	return files, nil
}

// coffeeFiles are the pictures of one coffee: its last dial-in, and its time
// over the dial.
func coffeeFiles(l say.Lang, b review.Book, span review.Span, dark bool) ([]chat.File, error) {
	var list pictures
	for _, c := range b.Courses {
		list.add(dialInPicture(l, c, b.Calls, span))
		list.add(curvePicture(l, c, span))
	}
	return drawFiles(list, dark)
}

// driftFiles are the picture that goes with an alert: how the coffee has run
// today, with the shot at which it is told.
func driftFiles(l say.Lang, h bar.History, coffee bar.Coffee, shot bar.EntryID, now time.Time) ([]chat.File, error) {
	trail, _ := advisor.TrailOf(h, coffee.ID, now)
	var list pictures
	list.add(driftPicture(l, review.Course{Coffee: coffee, Trail: trail}, bar.DayOf(now), shot))
	return drawFiles(list, false)
}
