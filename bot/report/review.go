package report

import (
	"errors"
	"io"
	"slices"
	"strings"

	"shothand/bot/say"
	"shothand/bot/say/past"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/lookback"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/turn"
)

// usualSpan is what a review is of if nobody says.
const usualSpan = "last 4 weeks"

// A scope is what a review is to be made of.
type scope struct {
	past.LookBack
	said    string // the span, in words
	coffees []bar.Coffee
}

// Review looks back, as /review asks for it.
func Review(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	if sides, ok := sidesOf(r, c); ok {
		return sideBySide(t, r, sides)
	}
	if rest, ok := ofBars(c); ok {
		return bars(t, c, rest)
	}
	s, err := scopeOf(t, r, c)
	if err != nil {
		return nil, err
	}
	l, err := lookBack(t, s)
	if err != nil {
		return nil, err
	}
	post := t.Post(chat.Info, l.Text(turn.Said(c, "more")))
	post.Private = s.Who.ID != 0
	if l.Review.Shots > 0 && turn.Option(c, "pictures", "") != "no" {
		post.Files, err = l.Files(turn.IsDark(c))
	}
	return []turn.Out{{Post: post}}, err
}

// scopeOf reads what a review is asked of.
func scopeOf(t *turn.Turn, r *recent.Book, c chat.Command) (s scope, err error) {
	s.coffees = r.Coffees
	words := turn.Option(c, command.FreeWords, "")
	if name := turn.Option(c, "coffee", ""); name != "" {
		s.Coffee, err = turn.FindCoffee(r, name)
	} else {
		s.Coffee, words = leading(r, words)
	}
	if err != nil {
		return s, err
	}
	if name := turn.Option(c, "grinder", ""); name != "" {
		if s.Grinder, err = turn.FindGrinder(r, name); err != nil {
			return s, err
		}
	} else if s.Coffee.ID == 0 {
		s.Grinder, words = leadingGrinder(r, words)
	}
	name := turn.Option(c, "person", "")
	if first, rest, _ := strings.Cut(words, " "); name == "" && isMe(first) {
		name, words = first, strings.TrimSpace(rest)
		if s.Coffee.ID == 0 {
			s.Coffee, words = leading(r, words)
		}
	}
	if name != "" {
		if !strings.EqualFold(name, t.Who.Name) && !isMe(name) {
			return s, turn.Mistake(t.WriterLang().Say(past.NotYours))
		}
		s.Who = t.Who
	}
	s.narrow()
	said := words
	if since := turn.Option(c, "since", ""); since != "" {
		said = strings.TrimSpace(since + " " + words) // "since:1 march"
		if _, err := parse.SpanOf(parse.SpanInEnglish(said), r.Day); words != "" && err != nil {
			return s, turn.Mistake(t.WriterLang().SinceTwice(words, since))
		}
		if !bounded(parse.SpanInEnglish(said)) {
			said = "since " + said
		}
	}
	err = read(t, &s, said, r.Day)
	if s.Coffee.ID == 0 && s.Grinder.ID == 0 && err != nil {
		err = misspeltCoffee(r, words, err)
	}
	return s, err
}

// misspeltCoffee returns the mistake of a name that words begin with, if they begin
// with nearly that of a coffee or that of a retired one, else another.
func misspeltCoffee(r *recent.Book, words string, other error) error {
	first, _, _ := strings.Cut(words, " ")
	_, err := turn.FindCoffee(r, first)
	m, isName := errors.AsType[turn.Misnamed](err)
	if _, gone := turn.Retired(r, first); gone || isName && m.Right != "" {
		return err
	}
	return other
}

// isMe reports whether a word stands for whoever says it.
func isMe(word string) bool {
	return slices.Contains([]string{"me", "mine", "io", "mie", "ich", "moi", "yo", "eu", "mí", "mim"}, strings.ToLower(word))
}

// bounded reports whether a span that was given as since: is meant to end
// where its words do.
func bounded(said string) bool {
	low := strings.ToLower(said)
	return strings.HasPrefix(low, "since ") || strings.HasPrefix(low, "last ") || strings.HasPrefix(low, "this ")
}

// leading takes the name of a coffee off the front of words, if they begin with
// one.
func leading(r *recent.Book, words string) (bar.Coffee, string) {
	for _, c := range r.OnBar() {
		if len(words) >= len(c.Name) && strings.EqualFold(words[:len(c.Name)], c.Name) {
			return c, strings.TrimSpace(words[len(c.Name):])
		}
	}
	return bar.Coffee{}, words
}

// leadingGrinder takes the name of a grinder off the front of words, with or
// without the word before it.
func leadingGrinder(r *recent.Book, words string) (bar.Grinder, string) {
	text := words
	if first, rest, _ := strings.Cut(words, " "); strings.EqualFold(first, "grinder") {
		text = strings.TrimSpace(rest)
	}
	for _, g := range r.InUse() {
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
func read(t *turn.Turn, s *scope, said string, today bar.Day) error {
	if said == "" {
		said = usualSpan
	}
	english := parse.SpanInEnglish(said)
	if strings.TrimPrefix(english, "since ") == parse.ThisBag {
		return readBag(t, s, today)
	}
	span, err := parse.SpanOf(english, today)
	if err != nil {
		_, err = parse.SpanOf(said, today) // which says it as it was typed
	}
	s.Span, s.said = review.Span{From: span.From, To: span.To, Person: s.Who.ID}, said
	return err
}

// readBag sets the days since the coffee's last new bag.
func readBag(t *turn.Turn, s *scope, today bar.Day) error {
	if s.Coffee.ID == 0 && len(s.coffees) == 1 {
		s.Coffee = s.coffees[0]
	}
	if s.Coffee.ID == 0 {
		return turn.Mistake(t.WriterLang().WhichCoffee(s.coffees))
	}
	h, err := t.History(s.Coffee.ID)
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
		return turn.Mistake(past.In(t.Lang()).NoBag(s.Coffee))
	}
	s.said = parse.ThisBag
	s.narrow()
	return nil
}

// records are those of the bar, for looking back on them.
func records(t *turn.Turn) lookback.Records {
	return lookback.Records{See: t.See, Bar: t.Bar, Now: t.Now}
}

// lookBack looks back on what was asked of.
func lookBack(t *turn.Turn, s scope) (lookback.Back, error) {
	s.Lang = past.In(t.Lang())
	if s.Who.ID != 0 {
		s.Lang = past.In(t.WriterLang())
	}
	return records(t).Of(s.LookBack, s.coffees)
}

// WritePage writes what a review command asks for as one page that needs nothing else.
func WritePage(w io.Writer, t *turn.Turn, r *recent.Book, c chat.Command) error {
	scope, err := scopeOf(t, r, c)
	if m, ok := errors.AsType[parse.Mistake](err); ok {
		return errors.New(say.Lang{}.Mistake(m))
	}
	if err != nil {
		return err
	}
	l, err := lookBack(t, scope)
	if err != nil {
		return err
	}
	return l.WritePage(w, t.Bar)
}
