package taste

import (
	"shothand/advisor/bar"
)

// InCompany reads one word that another language has and that alone may be no
// word of it, as beside others of that language: "dolce". It is false for any
// other word.
func (l *Lexicon) InCompany(token string) (bar.Word, bool) {
	key := normal(token, true)
	for _, t := range l.tongues {
		if m, ok := t.phrases[key]; ok && m.role == term && m.doubtful {
			return bar.Word{Term: l.entries[m.entry].Term, Degree: 1}, true
		}
	}
	return bar.Word{}, false
}
