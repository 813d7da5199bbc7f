package say

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// Echoed returns words of taste as they were typed: what is understood as gross
// was "horrible". Misspelt words, comparisons and other languages' words are
// said as they were understood, and so are all where a bar is not answered in
// English.
func (l Lang) Echoed(spoken []bar.Word, raw string) []string {
	typed := lowered(raw)
	words := []string{}
	for _, w := range spoken {
		if form := typedForm(w, typed); form != "" && l.English() {
			w.Term = form
		}
		if s := l.WordText(w); !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return words
}

// lowered returns the words of a text, in lower case, each between spaces.
func lowered(text string) string {
	text = strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(text))
	return " " + strings.Join(strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsMark(r) }), " ") + " "
}

// typedForm returns the form of a word that stands in a text, the longest, or
// nothing if the word itself does or none.
func typedForm(w bar.Word, typed string) string {
	e, ok := taste.Default().Entry(w.Term)
	if !ok || w.Than || strings.Contains(typed, " "+w.Term+" ") {
		return ""
	}
	plain := !w.Not && w.Degree == 1
	forms := slices.DeleteFunc(slices.Clone(e.Forms), func(form string) bool {
		return !strings.Contains(typed, " "+form+" ") || !plain && strings.Contains(form, " ")
	})
	if len(forms) == 0 {
		return ""
	}
	return slices.MaxFunc(forms, func(a, b string) int { return cmp.Compare(len(a), len(b)) })
}

// A voice is what one person, or several of one mind, said of a shot.
type voice struct {
	people []bar.PersonID
	names  []string
	said   []string // as typed
}

// voicesOn returns what was said of a shot and by whom, in the order in which
// they spoke.
func (l Lang) voicesOn(h bar.History, shot bar.EntryID) []voice {
	var voices []voice
	for _, e := range h.Entries {
		switch w := e.What.(type) {
		case bar.Shot:
			if e.ID == shot {
				voices = heard(voices, e.Person, l.Echoed(w.Words, e.Raw))
			}
		case bar.Words:
			if w.Shot == shot {
				voices = heard(voices, e.Person, l.Echoed(w.Words, e.Raw))
			}
		case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
	}
	voices = agreed(voices)
	for i, v := range voices {
		for _, id := range v.people {
			voices[i].names = append(voices[i].names, l.NameOf(h.People, id))
		}
	}
	return voices
}

// heard adds what one person said.
func heard(voices []voice, who bar.PersonID, said []string) []voice {
	if len(said) == 0 {
		return voices
	}
	for i, v := range voices {
		if v.people[0] == who {
			for _, s := range said {
				if !slices.Contains(v.said, s) {
					voices[i].said = append(voices[i].said, s)
				}
			}
			return voices
		}
	}
	return append(voices, voice{people: []bar.PersonID{who}, said: said})
}

// agreed joins the people who said the same.
func agreed(voices []voice) []voice {
	var joined []voice
	for _, v := range voices {
		i := slices.IndexFunc(joined, func(j voice) bool { return slices.Equal(j.said, v.said) })
		if i < 0 {
			joined = append(joined, v)
			continue
		}
		joined[i].people = append(joined[i].people, v.people...)
	}
	return joined
}
