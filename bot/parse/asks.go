package parse

// What makes a message a question.

// asks reports whether a message ends with a question mark.
func (s *sheet) asks() bool {
	return len(s.tokens) > 0 && s.tokens[len(s.tokens)-1].is("?")
}

// asked reports whether a message is a question about shots, not one of them.
func (s *sheet) asked() bool {
	if len(s.tokens) > 1 && s.tokens[0].is("is", "was") && s.tokens[1].is("that", "it", "this") && s.holds("or") { // "is that sour or bitter"
		return true
	}
	if !s.asks() {
		return false
	}
	if s.vocab.Language != "" && s.holds("o", "oppure", "oder", "ou", "u") { // "dolce o salato?"
		return true
	}
	if s.tokens[0].is(questionWords()...) || s.oneOf(0) != "" && s.at(s.skip(1, ",")).is(questionWords()...) {
		return true
	}
	for i := range s.tokens { // "forgive me, but was that not 38 seconds?"
		if s.numbers < 2 && s.at(i).is(",", "but", "aber", "mais", "pero", "mas", "ma") && s.at(i+1).is("was", "wasn't", "wasnt", "is", "isn't", "isnt", "did", "didn't", "didnt") && s.at(i+2).is("that", "it", "this", "you", "he", "she", "they") {
			return true
		}
	}
	return false
}

// questionWords begin a question.
func questionWords() []string {
	return []string{
		"wasn't", "wasnt", "isn't", "isnt", "weren't", "werent", "didn't", "didnt", "doesn't", "doesnt", "who", "what", "when", "where", "why", "how", "which", "did", "does", "do", "is", "are", "was", "were",
		"can", "could", "should", "would", "shall", "will", "has", "have", "any", "anyone",
		"chi", "cosa", "che", "quando", "dove", "come", "com'è", "com’è", "quale", "quanto", "quanta", "wer", "wo", "wann", "wie", "welche", "welcher", "welches", "hat", "ist",
		"qui", "quoi", "quand", "où", "comment", "quel", "quelle", "combien", "est-ce", "quién", "qué", "cuándo", "dónde", "cómo", "cuál", "cuánto",
		"quem", "quê", "onde", "qual", "quanto", "¿",
	}
}
