package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
	"shothand/store"
)

// bareDone say that advice was done, while one is open.
func bareDone() []string {
	return []string{"done", "all done", "ok done", "done that", "✅", "fertig", "fait", "listo", "listo ya", "pronto"}
}

// asksNow are the ways to ask what there is to do.
func asksNow() []string {
	return []string{
		"what now", "now what", "what next", "whats next", "what's next", "what do i do", "what do i do now", "what do i do next", "what should i do", "what should i do now",
		"was jetzt", "was nun", "und jetzt", "was mache ich jetzt", "was soll ich jetzt machen", "e adesso", "e ora", "cosa faccio", "cosa faccio adesso", "cosa faccio ora", "che faccio",
		"y ahora", "y ahora qué", "qué hago", "qué hago ahora", "et maintenant", "je fais quoi", "je fais quoi maintenant", "e agora", "o que faço", "o que faço agora", "que faço agora",
	}
}

// justPulled returns this person's last shot, if it is of the last minutes.
func justPulled(r *recent.Book) (bar.Entry, bool) {
	return r.Newest(func(e bar.Entry, _ bar.Shot) bool {
		return e.Person == r.Who.ID && r.Now.Sub(e.At) <= resolve.TasteWindow
	})
}

// openAdvice reports whether what was advised on this person's last shot waits to be
// done, where a message may say that it was.
func openAdvice(t *turn.Turn, r *recent.Book) (open bool, err error) {
	e, ok := justPulled(r)
	if !ok || !slices.Contains(bareDone(), turn.Plain(t.Msg.Text)) {
		return false, nil
	}
	err = t.See(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.Bar.ID, e.ID)
		move := said.Lever == bar.Grind || said.Lever == bar.Yield || said.Lever == bar.Dose || said.Lever == bar.Time
		open = ok && move && !said.Followed && !said.Voided
		return err
	})
	return open, err
}

// whatNow answers who asks what to do just after a shot with what was advised on it.
// False where a message asks no such thing.
func whatNow(t *turn.Turn, r *recent.Book) ([]turn.Out, bool, error) {
	e, ok := justPulled(r)
	if !ok || !slices.Contains(asksNow(), strings.Trim(turn.Plain(t.Msg.Text), "?¿ ")) {
		return nil, false, nil
	}
	post, err := answer.Again(t, e.What.(bar.Shot).Coffee, "")
	return []turn.Out{{Post: post}}, true, err
}
