// Package parse reads what people write to the bot: text in, meaning out. It
// knows no clock and no disk.
//
// A line that begins with a slash is a command and goes to [Command]. All
// else goes to [Shorthand]: the text is cut into tokens (tokens.go,
// numbers.go) on a sheet, the bar's names are found (names.go), rules take what
// they know (sheet.go, labels.go, grind.go, marks.go), numbers without a
// label get their places (shorthand.go, places.go, order.go), and what is left is read as
// taste (words.go). A message with dose, yield and time of a shot's size is
// recorded, asked about or refused (core.go).
//
// What is said of a shot or a dial later is read by the form of the sentence
// first (correct.go, dialset.go). What no form has is read by
// what the message holds, in any order: hints for a reading are weighed against
// every word of something else (correctwords.go; correctinanyorder.go for numbers put right,
// takenout.go for shots taken out, turned.go for dials, shotinanyorder.go for
// shots; remarks.go passes over what says why). Whatever is then not surely meant
// for the bot is Chatter.
package parse

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxText is the longest message that is read, in characters.
const MaxText = 2000

// Message reads any message. The error is a Mistake.
func Message(text string, v Vocab) (Meaning, error) {
	text = clean(text)
	if c, ok := standAsked(text, v); ok {
		return c, nil
	}
	if name := bareCommand(text, v); name != "" {
		text = "/" + name
	}
	if !isCommand(text) {
		return Shorthand(text, v)
	}
	c, err := Command(text)
	if err != nil {
		return nil, err
	}
	return Call{Command: c}, nil
}

// Shorthand reads a message as a person writes it: a shot, words of taste, a
// correction, something that happened, or nothing for us. The error is a
// Mistake.
func Shorthand(text string, v Vocab) (Meaning, error) {
	text = clean(text)
	if long(text) {
		return tooLong(text, v)
	}
	const wrong = "wrong, " // is a no: "wrong, that was harbour on 5.3"
	if len(text) > len(wrong) && strings.EqualFold(text[:len(wrong)], wrong) {
		text = "no, " + text[len(wrong):]
	}
	s := newSheet(text, v)
	if c, ok := s.copied().dayAsked(); ok {
		return c, nil
	}
	m, err := s.understood()
	if w, ok := m.(Words); ok && len(w.Words) == 1 && s.hinted()&wrongHint != 0 { // "mal el café, era tide"
		if m, ok := s.otherCoffee(); ok {
			return m, nil
		}
	}
	if _, chatter := m.(Chatter); chatter && err == nil {
		if m, ok := s.copied().question(); ok {
			return m, nil
		}
		if m, ok := asked(text, v); ok {
			return m, nil
		}
		if m, ok := s.otherCoffee(); ok {
			return m, nil
		}
		if m, ok := s.copied().tasteInTalk(); ok {
			return m, nil
		}
		if c, told, ok := s.pulledAt(); ok {
			return c, nil
		} else if told {
			return m, err
		}
		if m, ok := s.copied().setFor(); ok {
			return m, nil
		}
		if m, ok := movedInWords(s.copied()); ok {
			return m, nil
		}
		if m, ok := s.besideRemarks(); ok {
			return m, nil
		}
		if m, ok := s.turned(); ok {
			return m, nil
		}
		if m, ok := s.copied().noSuchCoffee(); ok {
			return nil, m
		}
	}
	return m, err
}

// understood is Shorthand for a text that is not too long, whatever names it may
// have meant.
func (s *sheet) understood() (Meaning, error) {
	if m, ok := s.gave(); ok {
		return m, nil
	}
	if m, ok := s.standsNow(); ok {
		return m, nil
	}
	if c, ok := s.putRight(true); ok {
		return c, nil
	}
	if m, ok := s.copied().tasteInstead(); ok {
		return m, nil
	}
	m, err := s.copied().asTyped()
	if set, is := m.(Set); is && err == nil && s.goesOn(set) {
		return Correction{Grind: set.Grind}, nil
	}
	if err == nil && onlyFlowed(m) {
		if m, ok := s.besideRemarks(); ok {
			if set, is := m.(Set); is && !set.Label {
				return set, nil
			}
		}
		if w, is := m.(Shot); is { // "went finer gusher"
			return Set{Grind: w.Grind, Coffee: w.Coffee, Grinder: w.Grinder}, nil
		}
	}
	if misplaced, doubtful := s.misplaced(m, err); misplaced && s.numbers >= 3 {
		if shot, ok := s.inAnyOrder(doubtful); ok {
			return shot, nil
		}
	}
	if _, chatter := m.(Chatter); chatter && err == nil {
		if c, ok := s.putRight(false); ok {
			return c, nil
		}
		if m, ok := takenOut(s); ok {
			return m, nil
		}
		if m, ok := s.unled(); ok {
			return m, nil
		}
	}
	return m, err
}

// isCommand reports whether a name follows a slash at the beginning.
func isCommand(text string) bool {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), "/")
	r, _ := utf8.DecodeRuneInString(rest)
	return ok && unicode.IsLetter(r)
}

// clean makes text whole characters.
func clean(text string) string { return strings.ToValidUTF8(text, "\uFFFD") }

func long(text string) bool {
	return len(text) > MaxText && utf8.RuneCountInString(text) > MaxText
}

// headWords is how many words of a message that is too long are read, to see
// whether it starts like a shot.
const headWords = 5

// tooLong tells a shot that goes on for too long from other long messages,
// which are left alone.
func tooLong(text string, v Vocab) (Meaning, error) {
	head := text[:400]
	words := strings.Fields(head)
	for n := min(headWords, len(words)); n > 0; n-- {
		m, err := Shorthand(strings.Join(words[:n], " "), v)
		if _, ok := m.(Shot); ok && err == nil {
			return nil, Mistake{Kind: TooLong, What: cut(strings.Join(words[:n], " ")), More: "2000 characters"}
		}
	}
	return Chatter{}, nil
}
