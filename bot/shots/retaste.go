package shots

import (
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
)

// PressUnsaid is the state of a button that brings back what somebody had said of how
// a shot tastes: behind it stand the shot and a retaste.
const PressUnsaid = "unsay"

// A retaste is what a person's words about a shot take the place of, or stand beside.
type retaste struct {
	of   bar.PersonID // whose words they are, 0 where nothing is to be taken back
	name string       // of whom, where somebody else has told it
	shot bool         // the shot's own words are among those before
	ids  []string     // the entries of the words before
	was  []string     // what they were, as typed
}

// lead says what was put right.
func (p retaste) lead(l say.Lang, words []bar.Word, typed string) string {
	switch {
	case p.name != "":
		return l.HeardFrom(p.name)
	case len(p.was) > 0:
		return l.CorrectedFrom([]string{strings.Join(p.was, ", ") + " → " + strings.Join(l.Echoed(words, typed), ", ")})
	}
	return ""
}

// back is the button that takes it back.
func (p retaste) back(l say.Lang, shot bar.EntryID) chat.Button {
	if p.of == 0 || p.name == "" && len(p.was) == 0 {
		return chat.Button{}
	}
	own := "-"
	if p.shot {
		own = "s"
	}
	state := turn.PressState(PressUnsaid, shot, strings.Join(append([]string{turn.IDText(p.of), own}, p.ids...), ","))
	return chat.Button{Label: l.Say(say.BackLabel), State: state}
}

// unsay takes back what this person has said of how a shot tastes, and returns
// the shot without it.
func unsay(t *turn.Turn, r *recent.Book, shot bar.Entry) (bar.Entry, retaste) {
	put := retaste{of: t.Who.ID}
	var changed []bar.Entry
	if s, ok := shot.What.(bar.Shot); ok && shot.Person == t.Who.ID && len(s.Words) > 0 {
		put.shot, put.was = true, t.Lang().Echoed(s.Words, shot.Raw)
		s.Words, s.Unread = nil, nil
		shot.What = s
		changed = append(changed, shot)
	}
	for _, e := range which.WordsOn(r, shot.ID, t.Who.ID) {
		put.ids, put.was = append(put.ids, turn.IDText(e.ID)), append(put.was, t.Lang().Echoed(e.What.(bar.Words).Words, e.Raw)...)
		e.Deleted = true
		changed = append(changed, e)
	}
	putAll(t, r, changed)
	return shot, put
}

// PressUnsay brings a person's words before back, in place of those since.
func PressUnsay(t *turn.Turn, r *recent.Book, shot bar.Entry, arg string) ([]turn.Out, error) {
	parts := strings.Split(arg, ",")
	who, err := strconv.ParseUint(parts[0], 10, 64)
	s, ok := shot.What.(bar.Shot)
	if err != nil || len(parts) < 2 || !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	var changed []bar.Entry
	for _, e := range which.WordsOn(r, shot.ID, bar.PersonID(who)) {
		e.Deleted = !slices.Contains(parts[2:], turn.IDText(e.ID))
		changed = append(changed, e)
	}
	for _, id := range parts[2:] {
		n, err := strconv.ParseUint(id, 10, 64)
		if err != nil {
			return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
		}
		e, err := t.Stored(bar.EntryID(n))
		if err != nil {
			return nil, err
		}
		e.Deleted = false
		changed = append(changed, e)
	}
	if before, ok, err := resolve.ReadShot(shot.Raw, r.Vocab()); parts[1] == "s" && ok && err == nil {
		s.Words, s.Unread = before.Words, before.Unread
		shot.What = s
	}
	putAll(t, r, changed)
	return answer.GiveCorrected(t, r, shot, s.Coffee, t.Lang().Say(say.PutBackWhole), "")
}

// heardFrom records what somebody else is said to taste, "jo says it's bitter", as
// theirs. Who is not known here is asked about.
func heardFrom(t *turn.Turn, r *recent.Book, shot bar.Entry, p parse.Words) ([]turn.Out, error) {
	var names []string
	for _, who := range r.People {
		names = append(names, who.Name)
		if !strings.EqualFold(who.Name, p.By) {
			continue
		}
		other, put := *t, retaste{of: who.ID, name: who.Name}
		if p.By = ""; who.ID == t.Who.ID {
			return Words(t, r, p)
		}
		for _, e := range which.WordsOn(r, shot.ID, who.ID) {
			put.ids = append(put.ids, turn.IDText(e.ID))
		}
		other.Who = who
		return addWords(&other, r, shot, p, put)
	}
	near := say.Nearest(p.By, names)
	return resolve.Ask(t, r, func(e bar.EntryID) chat.Post {
		post := t.Post(chat.Question, t.Lang().WhoseTasteQuestion(p.By, near))
		if near != "" {
			post.Buttons = append(post.Buttons, chat.Button{Label: say.Clip(near), State: turn.PressState(turn.PressBy, e, near)})
		}
		post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Say(say.MineLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)},
			chat.Button{Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e, say.ShotNo)})
		return post
	})
}

// heldWords goes on with words that were asked whose they are.
func heldWords(t *turn.Turn, r *recent.Book, held bar.Entry, p parse.Words, verb, name string) ([]turn.Out, error) {
	held.Deleted = true
	putAll(t, r, []bar.Entry{held})
	t.Msg.Text = held.Raw
	if p.By = ""; verb == turn.PressBy {
		p.By = name
	}
	return Words(t, r, p)
}
