package recent

import (
	"math"
	"slices"

	"shothand/advisor/bar"
)

// Provisional stands for the id of an entry that has none yet; the next is of what comes
// after it.
const Provisional bar.EntryID = math.MaxUint64 - 1

// With returns entries with e in its place: by its id, or by its time if it is
// new. A deleted entry is taken out.
func With(entries []bar.Entry, e bar.Entry) []bar.Entry {
	return Into(append(make([]bar.Entry, 0, len(entries)+1), entries...), e)
}

// Into is With for entries that nobody else has: it changes them.
func Into(entries []bar.Entry, e bar.Entry) []bar.Entry {
	if e.ID == 0 {
		e.ID = Provisional
	}
	entries = slices.DeleteFunc(entries, func(old bar.Entry) bool { return old.ID == e.ID })
	if e.Deleted {
		return entries
	}
	at := slices.IndexFunc(entries, func(old bar.Entry) bool { return old.At.After(e.At) })
	if at < 0 {
		at = len(entries)
	}
	return slices.Insert(entries, at, e)
}
