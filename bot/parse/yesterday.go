package parse

import "strings"

// dayBefore finds the word for yesterday, -1 where it is not said.
func (s *sheet) dayBefore() int {
	for i, t := range s.tokens {
		if t.is("yesterday", "yesterday's", "yesterdays", "gestern", "gestrige", "gestriger", "hier", "d'hier", "ieri", "ayer", "ontem") {
			return i
		}
	}
	return -1
}

// ofYesterday reads what puts a shot of the day before right: "yesterday's last
// tide shot was 25 s".
func ofYesterday(s *sheet) (Meaning, bool) {
	i := s.dayBefore()
	if i < 0 || s.asked() {
		return nil, false
	}
	of, last := s.shot.Coffee, s.holds("last", "letzte", "letzter", "dernier", "ultimo", "último")
	plain := []byte(s.text)
	for j, t := range s.tokens {
		if j == i || s.used[j] {
			copy(plain[t.start:t.end()], strings.Repeat(" ", len(t.text)))
		}
	}
	rest := newSheet(string(plain), Vocab{})
	for _, read := range []func(*sheet) (Meaning, bool){amend, correction} {
		m, ok := read(rest)
		if c, is := m.(Correction); ok && is && !c.Ignore && !c.Weak {
			c.Yesterday, c.Of, c.Last = true, of, last
			return c, true
		}
	}
	return nil, false
}
