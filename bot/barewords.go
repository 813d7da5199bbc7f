package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
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

// asked returns the coffee that somebody asks about: of a grinder, the one last pulled on it.
func asked(r *recent.Book, c parse.Call) bar.CoffeeID {
	if c.Of != 0 || len(c.Stands) == 0 {
		return c.Of
	}
	e, ok := r.Newest(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == c.Stands[0] })
	if !ok {
		return 0
	}
	return e.What.(bar.Shot).Coffee
}

// standing tells where dials stand, and where a coffee that was named on them.
func standing(t *turn.Turn, r *recent.Book, c parse.Call) ([]turn.Out, error) {
	var lines []string
	if coffee, ok := r.Coffee(c.Of); ok {
		line, err := todayLine(t, r, coffee)
		if err != nil {
			return nil, err
		}
		lines = append(lines, t.Lang().CoffeeToday(line))
	}
	for _, id := range c.Stands {
		g, _ := r.Grinder(id)
		at, known := r.StandsNow(g)
		e, put := r.LastMove(bar.Entry{At: r.Now}, id)
		var moved bar.Told
		if put {
			moved, _ = e.What.(bar.Told)
		}
		_, pulled := r.Position(bar.Entry{At: r.Now}, g)
		known = known && (put || pulled) // a dial without numbers has a place from the first shot on
		lines = append(lines, t.Lang().Stands(g, at, known, moved, say.Happening{At: e.At, Who: r.NameOf(e.Person)}, e.Day == r.Day))
	}
	return t.Says(chat.Info, strings.Join(lines, "\n")), nil
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
