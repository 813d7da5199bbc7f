package bot

import (
	"slices"

	"shothand/advisor/bar"
)

// A voice is what one person, or several of one mind, said of a shot.
type voice struct {
	people []bar.PersonID
	names  []string
	said   []string // as typed
}

// voicesOn returns what was said of a shot and by whom, in the order in which
// they spoke.
func voicesOn(h bar.History, shot bar.EntryID) []voice {
	var voices []voice
	for _, e := range h.Entries {
		s, pulled := e.What.(bar.Shot)
		later, ok := e.What.(bar.Words)
		switch {
		case pulled && e.ID == shot:
			voices = heard(voices, e.Person, echoed(s.Words, e.Raw))
		case ok && later.Shot == shot:
			voices = heard(voices, e.Person, echoed(later.Words, e.Raw))
		}
	}
	voices = agreed(voices)
	for i, v := range voices {
		for _, id := range v.people {
			voices[i].names = append(voices[i].names, nameOf(h.People, id))
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

// nameOf returns a person's name.
func nameOf(people []bar.Person, id bar.PersonID) string {
	for _, p := range people {
		if p.ID == id && p.Name != "" {
			return p.Name
		}
	}
	return someone // forgotten
}

// clipped returns the names, none too long to print.
func (v voice) clipped() []string {
	names := make([]string, len(v.names))
	for i, n := range v.names {
		names[i] = clip(n)
	}
	return names
}
