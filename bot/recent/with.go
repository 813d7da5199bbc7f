package recent

import (
	"math"

	"shothand/advisor/bar"
)

// Provisional stands for the id of an entry that has none yet; the next is of what comes
// after it.
const Provisional bar.EntryID = math.MaxUint64 - 1

// With returns entries with e in its place: by its id, or by its time if it is
// new. A deleted entry is taken out.
func With(entries []bar.Entry, e bar.Entry) []bar.Entry {
	if e.ID == 0 {
		e.ID = Provisional
	}
	list := make([]bar.Entry, 0, len(entries)+1)
	placed := e.Deleted
	for _, old := range entries {
		if !placed && old.At.After(e.At) {
			list, placed = append(list, e), true
		}
		if old.ID != e.ID {
			list = append(list, old)
		}
	}
	if !placed {
		list = append(list, e)
	}
	return list
}
