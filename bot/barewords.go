package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
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
func (r *room) justPulled() (bar.Entry, bool) {
	return r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == r.who.ID && r.now.Sub(e.At) <= tasteWindow })
}

// openAdvice reports whether what was advised on this person's last shot waits to be
// done, where a message may say that it was.
func (t *turn) openAdvice(r *room) (open bool, err error) {
	e, ok := r.justPulled()
	if !ok || !slices.Contains(bareDone(), plain(t.m.Text)) {
		return false, nil
	}
	err = t.see(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.bar.ID, e.ID)
		move := said.Lever == bar.Grind || said.Lever == bar.Yield || said.Lever == bar.Dose || said.Lever == bar.Time
		open = ok && move && !said.Followed && !said.Voided
		return err
	})
	return open, err
}

// whatNow answers who asks what to do just after a shot with what was advised on it.
// False where a message asks no such thing.
func (t *turn) whatNow(r *room) ([]Out, bool, error) {
	e, ok := r.justPulled()
	if !ok || !slices.Contains(asksNow(), strings.Trim(plain(t.m.Text), "?¿ ")) {
		return nil, false, nil
	}
	post, err := t.again(e.What.(bar.Shot).Coffee, "")
	return []Out{{Post: post}}, true, err
}
