package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/recent"
	"shothand/bot/turn"
	"shothand/bot/which"
)

// asksNow are the ways to ask what there is to do.
func asksNow() []string {
	return []string{
		"what now", "now what", "what next", "whats next", "what's next", "what do i do", "what do i do now", "what do i do next", "what should i do", "what should i do now",
		"was jetzt", "was nun", "und jetzt", "was mache ich jetzt", "was soll ich jetzt machen", "e adesso", "e ora", "cosa faccio", "cosa faccio adesso", "cosa faccio ora", "che faccio",
		"y ahora", "y ahora qué", "qué hago", "qué hago ahora", "et maintenant", "je fais quoi", "je fais quoi maintenant", "e agora", "o que faço", "o que faço agora", "que faço agora",
	}
}

// whatNow answers who asks what to do just after a shot with what was advised on it.
// False where a message asks no such thing.
func whatNow(t *turn.Turn, r *recent.Book) ([]turn.Out, bool, error) {
	said := strings.Trim(strings.ToLower(t.Msg.Text), "?¿!. ") // Plain would take the "was" of "was jetzt" for English
	if !slices.Contains(asksNow(), said) && !slices.Contains(asksNow(), strings.Trim(turn.Plain(t.Msg.Text), "?¿ ")) {
		return nil, false, nil
	}
	outs, err := nextFor(t, r, 0)
	return outs, len(outs) > 0, err
}

// nextFor tells what was advised on a coffee, or just after a shot, on that.
func nextFor(t *turn.Turn, r *recent.Book, coffee bar.CoffeeID) ([]turn.Out, error) {
	if e, ok := which.JustPulled(r); ok && coffee == 0 {
		coffee = e.What.(bar.Shot).Coffee
	}
	if _, pulled := r.Newest(func(_ bar.Entry, s bar.Shot) bool { return s.Coffee == coffee }); !pulled {
		return nil, nil
	}
	post, err := answer.Again(t, coffee, "")
	return []turn.Out{{Post: post}}, err
}
