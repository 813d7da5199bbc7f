package history

import (
	"cmp"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// MaxShots is how many of a coffee's shots are replayed at most.
const MaxShots = 200

// Block is by how many shots the past is cut at once, so that what is replayed
// stays the same from one shot to the next.
const Block = 20

// Recent returns the entries worth replaying: not deleted and, of each coffee,
// not too many. How old they may be is for whoever collects them to say.
func Recent(h bar.History) []bar.Entry {
	skip := map[bar.CoffeeID]int{}
	for _, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok && !e.Deleted {
			skip[s.Coffee]++
		}
	}
	for id, n := range skip {
		skip[id] = max(0, n-MaxShots+Block-1) / Block * Block
	}
	var kept []bar.Entry
	for _, e := range h.Entries {
		if e.Deleted {
			continue
		}
		if s, ok := e.What.(bar.Shot); ok && skip[s.Coffee] > 0 {
			skip[s.Coffee]--
			continue
		}
		kept = append(kept, e)
	}
	slices.SortStableFunc(kept, func(a, b bar.Entry) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	return kept
}

// Later collects the words that came after their shots.
func Later(entries []bar.Entry) map[bar.EntryID][]taste.Tasting {
	later := map[bar.EntryID][]taste.Tasting{}
	for _, e := range entries {
		if w, ok := e.What.(bar.Words); ok && !e.Deleted {
			later[w.Shot] = append(later[w.Shot], taste.Tasting{Taster: uint64(e.Person), Words: w.Words})
		}
	}
	return later
}

// Tastings returns what was said of a shot, with it and later, the words of each
// taster joined, in the order in which they spoke.
func Tastings(e bar.Entry, s bar.Shot, later []taste.Tasting) []taste.Tasting {
	var merged []taste.Tasting
	for _, t := range slices.Concat([]taste.Tasting{{Taster: uint64(e.Person), Words: s.Words}}, later) {
		if len(t.Words) == 0 {
			continue
		}
		i := slices.IndexFunc(merged, func(m taste.Tasting) bool { return m.Taster == t.Taster })
		if i < 0 {
			i, merged = len(merged), append(merged, taste.Tasting{Taster: t.Taster, Whole: true})
		}
		merged[i].Words = append(merged[i].Words, t.Words...)
	}
	return merged
}
