package bot

import (
	"testing"

	"shothand/bot/chat"
)

// A question that may not have been sent is asked again as it was, after a crash.
func TestQuestionsAfterACrash(t *testing.T) {
	for _, text := range []string{
		"went to 50", "18 36 24 grind 52 sour", "mocca 18 36 24 sour", "harbor 18 36 24", "20 40 60", "18 28 36",
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
		again := b.resume("harbour-lane")
		if n := len(again); n == 0 || again[n-1].Text != outs[0].Text || len(again[n-1].Buttons) != len(outs[0].Buttons) {
			t.Errorf("%q: asked %q, and after a crash %+v", text, outs[0].Text, again)
		}
		done()
	}
}
