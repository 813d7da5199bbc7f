package history_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// A word counts where it was said before it was taught as where it was said
// after, with its degree and its denial; and not at all once it is forgotten.
func TestHeard(t *testing.T) {
	own := []bar.Own{{Word: "gribbly", Means: "sour"}, {Word: "snorky"}}
	for _, raw := range []string{
		"18 36 28 gribbly", "18 36 28 not gribbly", "18 36 28 way too gribbly, sweet", "18 36 28 a bit GRIBBLY and snorky", "18 36 28 snorky", "18 36 28 sweet",
	} {
		early, unread := taste.Default().Read(raw)
		late, stillUnread := taste.Default().With(own).Read(raw)
		h := bar.History{Bar: bar.Bar{Words: bar.NewOwnWords(own)}, Entries: []bar.Entry{
			{ID: 1, Raw: raw, What: bar.Shot{Words: early, Unread: unread}},
			{ID: 2, Raw: raw, What: bar.Words{Words: late, Unread: stillUnread}},
		}}
		first := history.Heard(h)
		before, after := first.Entries[0].What.(bar.Shot), first.Entries[1].What.(bar.Words)
		count := func(words []bar.Word) map[bar.Word]int {
			n := map[bar.Word]int{}
			for _, w := range words {
				n[w]++
			}
			return n
		}
		if diff := cmp.Diff(count(after.Words), count(before.Words)); diff != "" {
			t.Errorf("%q before it was taught (-after +before):\n%s", raw, diff)
		}
		if len(before.Unread) > 0 || len(after.Unread) > 0 {
			t.Errorf("%q: unread %q and %q", raw, before.Unread, after.Unread)
		}
		if diff := cmp.Diff(first, history.Heard(first)); diff != "" {
			t.Errorf("%q heard twice:\n%s", raw, diff)
		}
		h.Bar.Words = nil
		if got := history.Heard(h).Entries[0].What.(bar.Shot); len(got.Unread) != len(unread) {
			t.Errorf("%q: unread %q once forgotten, want %q", raw, got.Unread, unread)
		}
	}
}
