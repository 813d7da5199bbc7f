package recent

import (
	"slices"

	"shothand/advisor/bar"
)

// FirstHeard returns the unread words that no other message of the last days
// held: a word is said to be unread once.
func (r *Book) FirstHeard(of bar.Entry, unread []string) []string {
	old := map[string]bool{}
	for _, e := range r.Recent {
		if e.ID == of.ID {
			continue
		}
		for _, word := range unreadOf(e) {
			old[bar.Normal(word)] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(unread), func(word string) bool { return old[bar.Normal(word)] })
}

// unreadOf returns the words of an entry that nobody could place.
func unreadOf(e bar.Entry) []string {
	if s, ok := e.What.(bar.Shot); ok {
		return s.Unread
	}
	w, _ := e.What.(bar.Words)
	return w.Unread
}
