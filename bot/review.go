package bot

import (
	"errors"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/lookback"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// usualSpan is what a review is of if nobody says.
const usualSpan = "last 4 weeks"

// A scope is what a review is to be made of.
type scope struct {
	say.LookBack
	said    string // the span, in words
	coffees []bar.Coffee
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
		post.Files, err = l.Files(isDark(c))
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

// records are those of the bar, for looking back on them.
func (t *turn) records() lookback.Records {
	return lookback.Records{See: t.see, Bar: t.bar, Now: t.now}
}

// lookBack looks back on what was asked of.
func (t *turn) lookBack(s scope) (lookback.Back, error) {
	s.Lang = t.in()
	if s.Who.ID != 0 {
		s.Lang = t.own()
	}
	return t.records().Of(s.LookBack, s.coffees)
}
