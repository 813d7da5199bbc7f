package parse

import "testing"

// What is appended to a list that is made once must not be written behind it, where all that
// read at the same time would share it.
func TestListsMadeOnceHaveNoRoomBehind(t *testing.T) {
	for name, list := range map[string][]string{
		"bags": bagWords(), "new": newWords(), "opened": openWords(), "poured": pouredWords(), "empty": emptyWords(), "roasted": roastWords(),
		"set": setWords(), "now": nowWords(), "up and down": upsAndDowns(), "standing": standing(), "swapped": swapWords(), "held": holdWords(),
	} {
		if cap(list) > len(list) {
			t.Errorf("%s: %d words, with room for %d", name, len(list), cap(list))
		}
	}
}
