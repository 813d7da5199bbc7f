package bot

import (
	"slices"
	"testing"

	"shothand/bot/chat"
	"shothand/bot/turn"
)

// A question that may not have been sent is asked again as it was, after a crash.
func TestQuestionsAfterACrash(t *testing.T) {
	for _, text := range []string{
		"went to 50", "1mm finer", "too slow, 35", "18 36 2 7", "18 36 24 grind 52 sour", "mocca 18 36 24 sour", "harbor 18 36 24", "20 40 60", "18 28 36",
		"sam says 18 36 24 sour",
	} {
		here := messagesBar(t)
		b, done := here.open(t, here.file)
		outs := b.Handle(here.message("mara", text, 3))
		if len(outs) == 0 || outs[0].Kind != chat.Question {
			t.Errorf("%q is no question", text)
			done()
			continue
		}
		again := b.Resume("harbour-lane")
		if n := len(again); n == 0 || again[n-1].Text != outs[0].Text || len(again[n-1].Buttons) != len(outs[0].Buttons) {
			t.Errorf("%q: asked %q, and after a crash %+v", text, outs[0].Text, again)
		}
		done()
	}
}

// So is one about a number that an edit has put in; and once it is answered, the
// answer to the edit is told again, not the question.
func TestEditsAfterACrash(t *testing.T) {
	here := messagesBar(t)
	b, done := here.open(t, here.file)
	defer done()
	first := here.message("mara", "18 36 24 grind 5.1 sour", 3)
	b.Handle(first)
	edit := here.message("mara", "18 36 24 grind 51 sour", 4)
	edit.Kind, edit.ID = chat.Edited, first.ID
	outs := b.Handle(edit)
	if len(outs) == 0 || outs[0].Kind != chat.Question {
		t.Fatalf("the edit is answered with %+v", outs)
	}
	if again := b.Resume("harbour-lane"); !asksAgain(again, outs[0]) {
		t.Errorf("asked %q, and after a crash %+v", outs[0].Text, again)
	}
	b.Handle(here.message("mara", "5.1", 5))
	if again := b.Resume("harbour-lane"); asksAgain(again, outs[0]) {
		t.Errorf("asked again after the answer: %+v", again)
	}
}

// asksAgain reports whether one of some posts is a question as it was.
func asksAgain(outs []turn.Out, was turn.Out) bool {
	return slices.ContainsFunc(outs, func(o turn.Out) bool {
		return o.Text == was.Text && o.Cause == was.Cause && len(o.Buttons) == len(was.Buttons) && o.Again
	})
}
