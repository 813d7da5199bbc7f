package taste

import (
	"maps"

	"shothand/advisor/bar"
)

// In returns the lexicon of a bar that writes in a language, "" for any: only of its
// words is another taken for a misspelling.
func (l *Lexicon) In(lang string) *Lexicon {
	if lang == "" {
		return l
	}
	c := *l
	c.home = lang
	return &c
}

// With returns the lexicon with a bar's own words. Read finds them under the
// word itself, with the degree and the negation they are said with; another
// lexicon's Judge passes them over. A word whose meaning the lexicon does not
// know is left out.
func (l *Lexicon) With(own []bar.Own) *Lexicon {
	if len(own) == 0 {
		return l
	}
	c := *l
	c.entries, c.terms = l.Entries(), maps.Clone(l.terms)
	c.taught = maps.Clone(l.taught)
	if c.taught == nil {
		c.taught = make(map[string]meaning, len(own))
	}
	for _, o := range own {
		key := normal(o.Word, false)
		e, ok := l.Entry(o.Means)
		switch {
		case key == "":
		case o.Means == "":
			c.taught[key] = meaning{role: filler}
		case ok:
			e.Term = key
			c.terms[key] = len(c.entries)
			c.taught[key] = meaning{role: term, entry: len(c.entries), degree: 1}
			c.entries = append(c.entries, e)
		}
	}
	return &c
}
