package parse

import "shothand/advisor/bar"

// How many clauses a message with remarks has at the most, and how many tokens. Assumed.
const (
	mostClauses      = 6
	mostRemarkTokens = 26
)

// besideRemarks reads a message that says what was done, and besides why, or how it was:
// "bit sour that, so i've gone one finer". What is left out has no number and tells of
// nothing that may still be done.
func (s *sheet) besideRemarks() (Meaning, bool) {
	clauses := s.clauses()
	if n := len(clauses); n < 2 || n > mostClauses || len(s.tokens) > mostRemarkTokens || s.asks() || s.tokens[0].is(questionWords()...) {
		return nil, false
	}
	for n := len(clauses) - 1; n > 0; n-- {
		for i := 0; i+n <= len(clauses); i++ {
			if !s.remarks(clauses[:i]) || !s.remarks(clauses[i+n:]) {
				continue
			}
			from, to := clauses[i].from, clauses[i+n-1].to
			part := newSheet(s.text[s.tokens[from].start:s.tokens[to-1].end()], s.vocab)
			if m, ok := part.done(); ok {
				return m, true
			}
		}
	}
	return nil, false
}

// onlyFlowed reports whether a shot is told by nothing but how it flowed: a reason for what
// was done, where that was told as well. What is finer and chokes, or coarser and gushes, is
// what came of it: "2 finer, choked".
func onlyFlowed(m Meaning) bool {
	w, ok := m.(Shot)
	if !ok || w.Dose.Said || w.Yield.Said || w.Time.Said || !w.Grind.Said {
		return false
	}
	choked := w.Marks.Has(bar.Choked)
	cameOf := choked && w.Grind.X > 0 || w.Gushed && w.Grind.X < 0
	return w.Grind.Relative && (w.Gushed || choked) && !cameOf
}

// done reads what was done to a dial, or happened.
func (s *sheet) done() (Meaning, bool) {
	m, err := s.copied().asTyped()
	switch w := m.(type) {
	case Set:
		return w, err == nil
	case Happened:
		return w, err == nil && !w.Doubt && !w.All && (w.Coffee != 0 || w.Grinder != 0)
	case Chatter:
		if err == nil {
			return movedInWords(s)
		}
	case Correction:
		return w, err == nil && w.Ignore
	case Shot, Words, Call, CallIt:
	}
	return nil, false
}

// A clause is a run of tokens.
type clause struct{ from, to int }

// clauses cuts a message up where a stop or a word of joining stands.
func (s *sheet) clauses() []clause {
	var list []clause
	from := 0
	end := func(to int) {
		if to > from {
			list = append(list, clause{from, to})
		}
		from = to + 1
	}
	for i, t := range s.tokens {
		if !s.used[i] && t.is(joints()...) {
			end(i)
		}
	}
	end(len(s.tokens))
	return list
}

// joints stand between two clauses.
func joints() []string {
	return []string{
		",", ".", ";", "!", ":", "-", "...", "…", "–", "—", "(", ")", "and", "n", "but", "so", "because", "bc", "cause", "cos", "cuz", "coz", "since", "as", "though", "lol", "haha", "hahaha", "lmao",
		"und", "aber", "weil", "weils", "denn", "also", "deshalb", "da", "e", "ma", "perché", "perchè", "perche", "quindi", "così", "et", "mais", "car", "parce", "donc",
		"y", "pero", "porque", "pq", "así", "que", "q", "mas", "então", "entao", "por",
	}
}

// remarks reports whether clauses say nothing that is to be read.
func (s *sheet) remarks(list []clause) bool {
	for _, c := range list {
		for i := c.from; i < c.to; i++ {
			t := s.tokens[i]
			if t.kind == numberToken || directionOf(t) != 0 || mayStill(t) {
				return false
			}
		}
	}
	return true
}

// mayStill reports whether a word says that something may still be done.
func mayStill(t token) bool {
	return t.is("if", "when", "unless", "next", "later", "tomorrow", "maybe", "perhaps", "could", "should", "would", "might", "try", "plan", "gonna", "will", "let's", "lets", "before",
		"wenn", "falls", "nächste", "nächstes", "später", "morgen", "vielleicht", "könnte", "könnten", "sollte", "sollten", "würde", "versuch",
		"se", "quando", "prossimo", "prossima", "dopo", "domani", "forse", "potrebbe", "dovrebbe", "prova",
		"si", "quand", "prochain", "prochaine", "demain", "peut-être", "pourrait", "devrait", "essaie",
		"cuando", "próximo", "próxima", "luego", "mañana", "quizás", "quizá", "podría", "debería", "prueba",
		"amanhã", "talvez", "poderia", "deveria", "tenta")
}

// negates reports whether a word says that it was not.
func negates(t token) bool {
	return t.is("not", "don't", "dont", "never", "nicht", "nie", "non", "mai", "pas", "nunca", "não")
}
