package resolve

import (
	"cmp"
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// CoffeeButtons are the answers to which coffee it is.
func CoffeeButtons(e bar.EntryID, coffees []bar.Coffee) []chat.Button {
	var list []chat.Button
	for _, c := range coffees[:min(len(coffees), turn.MaxButtons)] {
		list = append(list, chat.Button{Label: c.Name, State: turn.PressState(turn.PressCoffee, e, turn.IDText(c.ID))})
	}
	return list
}

// orderButtons are its answers.
func orderButtons(l say.Lang, e bar.EntryID, p parse.Shot) []chat.Button {
	var coffee []string // that was asked before
	if p.Coffee != 0 {
		coffee = []string{turn.IDText(p.Coffee)}
	}
	state := func(order string) string {
		return turn.PressState(turn.PressOrder, e, append([]string{order}, coffee...)...)
	}
	return []chat.Button{
		{Label: l.Trio(p.Better), State: state(say.OrderBetter)},
		{Label: l.Say(say.AsTypedLabel), State: state(say.OrderTyped)},
	}
}

// NoShotButton says that a message is no shot.
func NoShotButton(l say.Lang, e bar.EntryID) chat.Button {
	return chat.Button{Label: l.Say(say.NoShotLabel), State: turn.PressState(turn.PressShot, e, say.ShotNo)}
}

// ReadShot reads text that was a shot before, in free text or by command.
func ReadShot(text string, v parse.Vocab) (parse.Shot, bool, error) {
	meaning, err := parse.Message(text, v)
	if err != nil {
		return parse.Shot{}, false, err
	}
	if call, ok := meaning.(parse.Call); ok && call.Command.Name == "shot" {
		s, err := parse.ShotOf(call.Command, v)
		return s, err == nil, err
	}
	s, ok := meaning.(parse.Shot)
	return s, ok, nil
}

// OrderPost asks in which order the numbers of a held message stand.
func OrderPost(t *turn.Turn, e bar.EntryID, p parse.Shot) chat.Post {
	post := t.Post(chat.Question, t.Lang().OrderQuestion(p))
	post.Buttons = orderButtons(t.Lang(), e, p)
	return post
}

// StrangerPost asks which coffee a held message means by a name that is none.
func StrangerPost(t *turn.Turn, r *recent.Book, e bar.EntryID, p parse.Shot) chat.Post {
	coffees := r.OnBar()
	slices.SortStableFunc(coffees, func(a, b bar.Coffee) int { return cmp.Compare(far(a, p.Near), far(b, p.Near)) })
	near, _ := r.Coffee(p.Near)
	add := say.AddItLabel
	_, retired := turn.Retired(r, p.Stranger)
	post := t.Post(chat.Question, t.Lang().StrangerQuestion(p, near.Name))
	if retired {
		post.Text, add = t.Lang().RetiredQuestion(p.Stranger), say.PutItBackLabel
	}
	post.Buttons = CoffeeButtons(e, coffees)
	more := []chat.Button{NoShotButton(t.Lang(), e)}
	if p.Near != 0 {
		post.Buttons[0].State = turn.PressState(turn.PressNear, e, turn.IDText(p.Near))
	} else {
		more = slices.Insert(more, 0, chat.Button{Label: t.Lang().Say(add), State: turn.PressState(turn.PressAdd, e)})
	}
	post.Buttons = append(post.Buttons[:min(len(post.Buttons), turn.MaxButtons-len(more))], more...)
	if retired { // most likely that
		post.Buttons = slices.Concat(more[:1], post.Buttons[:len(post.Buttons)-len(more)], more[1:])
	}
	return post
}

// far is 0 for the coffee that is near.
func far(c bar.Coffee, near bar.CoffeeID) int {
	if c.ID == near {
		return 0
	}
	return 1
}

// NamePost asks whether what could not be read of a held message is the name of a bar's
// first coffee.
func NamePost(t *turn.Turn, e bar.EntryID, p parse.Shot) chat.Post {
	post := t.Post(chat.Question, t.Lang().NameQuestion(p))
	post.Buttons = []chat.Button{
		{Label: t.Lang().Say(say.YesLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)},
		{Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e, say.ShotNameless)},
		NoShotButton(t.Lang(), e),
	}
	return post
}

// PiecePost says that a weight that came before its shot is kept until the rest is said.
func PiecePost(t *turn.Turn, e bar.EntryID, p parse.Shot) chat.Post {
	post := t.Post(chat.Question, t.Lang().PieceKept(p))
	post.Buttons = []chat.Button{NoShotButton(t.Lang(), e)}
	return post
}

// DoubtPost asks whether a held message is a shot.
func DoubtPost(t *turn.Turn, r *recent.Book, e bar.EntryID, p parse.Shot) chat.Post {
	coffee, _ := r.Which(p.Coffee)
	post := t.Post(chat.Question, t.Lang().DoubtQuestion(p, cmp.Or(coffee.Name, p.Stranger)))
	post.Buttons = []chat.Button{{Label: t.Lang().Say(say.YesLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)}, NoShotButton(t.Lang(), e)}
	return post
}

// SeveralPost asks whether a held message tells so many shots.
func SeveralPost(t *turn.Turn, e bar.EntryID, shots []string) chat.Post {
	post := t.Post(chat.Question, t.Lang().SeveralQuestion(shots))
	post.Buttons = []chat.Button{{Label: t.Lang().Say(say.YesLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)}, NoShotButton(t.Lang(), e)}
	return post
}

// CoffeePost asks which coffee a held message is about.
func CoffeePost(t *turn.Turn, r *recent.Book, e bar.EntryID) chat.Post {
	post := t.Post(chat.Question, t.Lang().CoffeeQuestion(r.OnBar()))
	post.Buttons = CoffeeButtons(e, r.OnBar())
	return post
}
