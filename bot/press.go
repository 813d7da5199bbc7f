package bot

import (
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/cups"
	"shothand/bot/device"
	"shothand/bot/figures"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/settings"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/store"
)

// press handles a button. Its state says all; pressing it again changes
// nothing.
func press(t *turn.Turn) ([]turn.Out, error) {
	if t.Msg.Press == pressForget {
		return forgetMe(t)
	}
	if message, ok := strings.CutPrefix(t.Msg.Press, pressMeant+":"); ok {
		return doMeant(t, message)
	}
	verb, id, arg, ok := turn.ReadPress(t.Msg.Press)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if verb == shots.PressNext {
		return shots.ForgetNext(t)
	}
	if verb == answer.PressUnteach {
		return settings.PressUnteach(t, arg)
	}
	var e bar.Entry
	err := t.See(func(tx *store.Tx) (err error) {
		if tx.Seen(t.Bar.ID, t.Msg.ID) {
			return store.ErrSeen
		}
		if e, err = tx.Entry(t.Bar.ID, id); err != nil {
			return turn.Mistake(t.WriterLang().Say(say.OldButton))
		}
		e, err = turn.StandsFor(tx, t.Bar.ID, e)
		return err
	})
	if err != nil {
		return nil, err
	}
	if e.Deleted && verb != turn.PressBack {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	switch verb {
	case turn.PressDid:
		return shots.PressDid(t, r, e, true)
	case turn.PressStill:
		return shots.PressDid(t, r, e, false)
	case turn.PressDialled:
		if s, ok := e.What.(bar.Shot); ok {
			return shots.Dialled(t, r, s.Coffee)
		}
	case turn.PressUncall:
		if _, ok := e.What.(bar.Dialled); ok {
			return shots.TakeOut(t, r, e, "")
		}
	case answer.PressStood:
		return shots.PressStood(t, r, e, arg)
	case turn.PressTaste:
		return shots.PressTaste(t, r, e, arg)
	case cups.PressCups, cups.PressReveal, cups.PressPair, cups.PressBetter, cups.PressMove, cups.PressLeave:
		return cups.PressLayers(t, r, e, verb, arg)
	case answer.PressRecipe:
		return shots.PutRecipe(t, r, e)
	case turn.PressUnset, turn.PressOf:
		return shots.PressUnset(t, r, e, verb, arg)
	case turn.PressCoffee, turn.PressNear, turn.PressBy, turn.PressOrder, turn.PressShot, shots.PressLast, turn.PressOn, turn.PressTo, turn.PressFar:
		if _, shot := e.What.(bar.Shot); shot {
			return shots.PressEdit(t, r, e, verb, arg)
		}
		return shots.PressHeld(t, r, e, verb, arg)
	case turn.PressPosted:
		return shots.PressHeld(t, r, e, verb, arg)
	case turn.PressApart:
		return device.Split(t, r, e)
	case turn.PressBack:
		return shots.PutBackPosted(t, r, e, arg)
	case shots.PressUnsaid:
		return shots.PressUnsay(t, r, e, arg)
	case turn.PressAdd:
		return pressAdd(t, r, e, arg)
	case shots.PressOut:
		return shots.TakeOther(t, r, e)
	case shots.PressPuller:
		return shots.PutPuller(t, r, e, arg)
	case turn.PressThat:
		return shots.PressThat(t, r, e, arg)
	case turn.PressPut:
		return shots.PressPut(t, r, e, arg)
	case turn.PressWas:
		return figures.PressWas(t, r, e, arg)
	case turn.PressFiner:
		return shots.PressFiner(t, r, e, arg)
	case answer.PressTeach:
		return settings.PressTeach(t, e, arg)
	case answer.PressMeans:
		return settings.PressMeans(t, e, arg)
	}
	return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
}

// pressAdd puts the coffee of a held message on the bar, as the command does, and goes
// on with its shot.
func pressAdd(t *turn.Turn, r *recent.Book, e bar.Entry, grinder string) ([]turn.Out, error) {
	p, ok, err := device.ReadHeld(e, r.Vocab())
	if err != nil {
		return nil, err
	}
	if _, held := e.What.(bar.Held); !ok || !held || p.Stranger == "" {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	c := chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: p.Stranger}}}
	_, retired := turn.Retired(r, p.Stranger) // it has its grinder
	if used := r.InUse(); grinder == "" && len(used) > 1 && !retired {
		post := t.Post(chat.Question, t.Lang().WhichSetQuestion(used))
		for _, g := range used[:min(len(used), turn.MaxButtons)] {
			post.Buttons = append(post.Buttons, chat.Button{Label: say.Clip(g.Name), State: turn.PressState(turn.PressAdd, e.ID, g.Name)})
		}
		return []turn.Out{{Post: post}}, nil
	}
	if grinder != "" {
		c.Options = append(c.Options, chat.Option{Name: "grinder", Value: grinder})
	}
	before := *t
	before.Now = e.At.Add(-time.Millisecond) // so that it is taken back after its shot
	added, err := settings.CoffeeAdd(&before, r, c)
	if err != nil {
		return nil, err
	}
	if r, err = t.Book(); err != nil {
		return nil, err
	}
	coffee, err := turn.FindCoffee(r, p.Stranger)
	if err != nil {
		return nil, err
	}
	outs, err := shots.PressHeld(t, r, e, turn.PressCoffee, turn.IDText(coffee.ID))
	if err == nil && len(outs) > 0 && len(added) > 0 {
		outs[0].Text = added[0].Text + "\n" + outs[0].Text
	}
	return outs, err
}
