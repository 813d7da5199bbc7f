package advisor

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// What is undone is the change that was made, and nothing that came since.
func TestOwnWordsRestore(t *testing.T) {
	word := rapid.SampledFrom([]string{"gribbly", "snorky", "wumply"})
	means := rapid.SampledFrom([]string{"sour", "bitter", ""})
	change := func(t *rapid.T, o bar.OwnWords, label string) bar.OwnWords {
		w := word.Draw(t, label)
		if rapid.Bool().Draw(t, label+" forgotten") {
			return o.Forget(w)
		}
		return o.Teach(w, means.Draw(t, label+" means"))
	}
	rapid.Check(t, func(t *rapid.T) {
		var start bar.OwnWords
		for range 3 {
			start = change(t, start, "before")
		}
		after := change(t, start, "change")
		if got := after.Restore(start, after); !got.Equal(start) {
			t.Errorf("%q changed to %q is restored to %q", start, after, got)
		}
		later := change(t, after, "later")
		got := later.Restore(start, after)
		for _, w := range []string{"gribbly", "snorky", "wumply"} {
			was, ok1 := start.Means(w)
			is, ok2 := after.Means(w)
			now, ok3 := later.Means(w)
			want, okWant := now, ok3
			if (was != is || ok1 != ok2) && is == now && ok2 == ok3 {
				want, okWant = was, ok1
			}
			if m, ok := got.Means(w); m != want || ok != okWant {
				t.Errorf("%s: %q, %v; want %q, %v (%q, %q, %q)", w, m, ok, want, okWant, start, after, later)
			}
		}
	})
}

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
		first := Heard(h)
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
		if diff := cmp.Diff(first, Heard(first)); diff != "" {
			t.Errorf("%q heard twice:\n%s", raw, diff)
		}
		h.Bar.Words = nil
		if got := Heard(h).Entries[0].What.(bar.Shot); len(got.Unread) != len(unread) {
			t.Errorf("%q: unread %q once forgotten, want %q", raw, got.Unread, unread)
		}
	}
}

// Advice follows what a taught word means.
func TestTaughtWordsAreJudged(t *testing.T) {
	s := newStage(lower(), recipe())
	s.silent(5, 28, "gribbly")
	s.Entries[0].Raw = "18 36 28 grind 5 gribbly"
	if a, _ := Advise(s.History, 1, s.now); !because(a, why.Untasted) {
		t.Errorf("before it was taught: %v", a.Reasons)
	}
	s.Bar.Words = s.Bar.Words.Teach("gribbly", "sour")
	if a, _ := Advise(s.History, 1, s.now); !because(a, why.UnderExtracted) {
		t.Errorf("after: %v", a.Reasons)
	}
}
