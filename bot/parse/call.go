package parse

import (
	"slices"
	"strings"
	"unicode/utf8"

	"shothand/advisor/bar"
	"shothand/bot/chat"
)

// ShotOf reads the values of a /shot command, whose words without a name are
// shorthand. Nothing of it is chatter: whoever calls means a shot. A value
// never becomes part of a line, so that it cannot say more than its option.
// The error is a Mistake.
func ShotOf(c chat.Command, v Vocab) (Shot, error) {
	var free []string
	for _, o := range c.Options {
		if o.Name == "" || o.Name == "text" {
			free = append(free, o.Value)
		}
	}
	s := newSheet(clean(strings.Join(free, "\n")), v)
	s.run()
	for _, o := range c.Options {
		if err := s.option(o); err != nil {
			return Shot{}, err
		}
	}
	return s.called(strings.Join(free, " "))
}

// called settles the shot that a command holds.
func (s *sheet) called(text string) (Shot, error) {
	words, unread := s.readWords(len(s.tokens))
	s.shot.Words, s.shot.Unread = append(words, s.shot.Words...), append(unread, s.shot.Unread...)
	bare := s.bare()
	switch {
	case s.unsure.Kind != 0:
		return Shot{}, s.unsure
	case s.clash || len(s.stray) > 0 || bare > 3 || !s.assign():
		return Shot{}, Mistake{Kind: BadOption, What: cut(text), Would: "dose, yield and time, each once"}
	case !s.anyShot() && s.said() == 0 && len(s.shot.Words) == 0 && s.shot.Marks == 0:
		return Shot{}, Mistake{Kind: MissingOption, What: "text"}
	}
	s.checkOrder(bare)
	if err := Check(s.shot.inBetterOrder()); err != nil {
		return Shot{}, err
	}
	return s.shot, nil
}

// option takes one named option of /shot.
func (s *sheet) option(o chat.Option) error {
	switch o.Name {
	case "dose":
		return s.measured(o, dosePlace, "grams, as 18 or 18.2 g")
	case "yield":
		return s.measured(o, yieldPlace, "grams, as 36 or 36.5 g")
	case "time":
		return s.measured(o, timePlace, "seconds, as 28 or 28 s")
	case "grind":
		return s.dialOption(o)
	case "coffee":
		return s.coffeeOption(o)
	case "taste":
		words, unread := s.lex.read(o.Value)
		s.shot.Words, s.shot.Unread = append(s.shot.Words, words...), append(s.shot.Unread, unread...)
	case "purged":
		return s.purgedOption(o)
	}
	return nil
}

func (o optionError) mistake(would Would) error {
	return Mistake{Kind: BadOption, What: cut(o.Name + ":" + o.Value), Would: would}
}

// An optionError is an option whose value does not do.
type optionError chat.Option

func (s *sheet) measured(o chat.Option, p place, would Would) error {
	q, ok := measure(o.Value)
	if !ok {
		return optionError(o).mistake(would)
	}
	clash := s.clash
	s.put(p, q)
	if s.clash && !clash {
		return optionError(o).mistake(would)
	}
	return nil
}

// dialOption reads a position of a dial, or a move of it.
func (s *sheet) dialOption(o chat.Option) error {
	t := newSheet(clean(o.Value), Vocab{})
	n := t.step(0, false)
	if n == 0 {
		if n = t.dialLength(0, true); n > 0 {
			t.setGrind(t.readDial(0, n))
		}
	}
	if n == 0 || n != len(t.tokens) || s.shot.Grind.Said {
		return optionError(o).mistake("a position as 5.2, or a move as 2 finer")
	}
	s.shot.Grind = t.shot.Grind
	return nil
}

// coffeeOption finds the coffee that a value names: all of its name, or its
// beginning if no other begins so.
func (s *sheet) coffeeOption(o chat.Option) error {
	id, err := Coffee(o.Value, s.vocab.Coffees)
	if err != nil {
		return err
	}
	s.shot.Coffee = id
	return nil
}

// Coffee finds the coffee that a whole value names, by its name, or any beginning or
// word of it that no other shares. The error is a Mistake.
func Coffee(value string, coffees []Name[bar.CoffeeID]) (bar.CoffeeID, error) {
	return named(value, coffees)
}

func named[T any](value string, names []Name[T]) (T, error) {
	var all, near []string
	for _, n := range names {
		all = append(all, n.Name)
	}
	found := Called(value, all)
	if len(found) == 1 {
		return names[found[0]].ID, nil
	}
	var none T
	if len(found) == 0 {
		return none, Mistake{Kind: BadOption, What: cut(value), More: strings.Join(all, ", ")}
	}
	for _, i := range found {
		near = append(near, all[i])
	}
	return none, Mistake{Kind: Ambiguous, What: cut(value), More: strings.Join(near, ", ")}
}

// Called returns which of some names a value is: the whole of one, else those of which it
// is the beginning or a word, as in what is typed without a command.
func Called(value string, names []string) (found []int) {
	plain := func(text string) string { return strings.Join(strings.Fields(fold(text)), " ") }
	low := plain(value)
	for i, name := range names {
		switch whole := plain(name); {
		case low == whole:
			return []int{i}
		case low == "":
		case strings.HasPrefix(whole, low), utf8.RuneCountInString(low) > 1 && slices.Contains(strings.Fields(whole), low):
			found = append(found, i)
		}
	}
	return found
}

func (s *sheet) purgedOption(o chat.Option) error {
	switch fold(strings.TrimSpace(o.Value)) {
	case "yes", "true", "y", "1":
		s.shot.Marks |= bar.Purged
	case "no", "false", "n", "0":
		s.shot.Marks |= bar.NotPurged
	default:
		return optionError(o).mistake("yes or no")
	}
	return nil
}
