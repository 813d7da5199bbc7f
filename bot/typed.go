package bot

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/store"
)

// remember keeps the question among what a message is answered with, so that it
// can be answered by typing.
func remember(t *turn.Turn, outs []turn.Out) error {
	i := slices.IndexFunc(outs, func(o turn.Out) bool { return turn.Asks(o.Post) && o.Cause == t.Msg.ID && !o.Unsaid })
	if t.Bar.ID == 0 || t.Who.ID == 0 && !t.Msg.Device || t.Msg.Kind == chat.Tick {
		return nil
	}
	if i < 0 {
		return passAsked(t, outs)
	}
	if slices.Equal(t.Kept, outs[i].Buttons) {
		return nil // written down with its entry
	}
	return putAsked(t, t.Who.ID, outs[i].Buttons)
}

// passAsked marks the last question so, where a message that did not answer it was
// answered with something else.
func passAsked(t *turn.Turn, outs []turn.Out) error {
	other := slices.ContainsFunc(outs, func(o turn.Out) bool { return o.Cause == t.Msg.ID && turn.ClosesQuestion(o.Post) })
	if !other || len(t.Asking.Taps) == 0 || t.Asking.Kind == turn.Closed {
		return nil
	}
	t.Asking.Kind = turn.Closed
	return t.Update(func(tx *store.Tx) error { return tx.PutReply(t.Bar.ID, t.Asking) })
}

// putAsked keeps what the last question to a person can be answered with.
func putAsked(t *turn.Turn, who bar.PersonID, buttons []chat.Button) error {
	t.Kept = nil
	return t.Update(func(tx *store.Tx) error { return t.KeepAsked(tx, who, buttons) })
}

// typedAnswer takes a message for the answer to the last question, as if its
// button had been pressed. It is false for one that answers none.
func typedAnswer(t *turn.Turn, r *recent.Book) (outs []turn.Out, ours bool, err error) {
	if t.Msg.Kind != chat.Text || len(t.Msg.Text) > parse.MaxText {
		return nil, false, nil
	}
	list, err := t.Asked()
	if err != nil {
		return nil, false, err
	}
	answered := func(tx *store.Tx) error { return t.PutAsked(tx, t.Who.ID, nil) }
	state, ok, before := "", false, false
	_, notPlace := strconv.Atoi(strings.TrimLeft(turn.Plain(t.Msg.Text), "#"))
	for _, q := range list {
		if q.Passed && notPlace == nil || q.Before && taps(q.Taps, turn.PressTaste, turn.PressDid) {
			continue
		}
		if state, ok = answerTo(r, q.Taps, t.Msg.Text); ok {
			answered, before = func(tx *store.Tx) error { return t.Answered(tx, q) }, q.Before
			break
		}
		if outs, ours, err = shots.NewName(t, r, q.Taps); ours || err != nil {
			return outs, ours, err
		}
		if !wordsDo(r, q.Taps, t.Msg.Text) && saysNotThat(r, q.Taps, t.Msg.Text) {
			return shots.AskDenied(t, q.Taps), true, nil
		}
	}
	if !ok {
		if outs, ours, err = putBack(t); ours || err != nil {
			return outs, ours, err
		}
		if outs, ours, err = whatNow(t, r); ours || err != nil {
			return outs, ours, err
		}
		if outs, ours, err = shots.DoneOtherwise(t, r); ours || err != nil {
			return outs, ours, err
		}
		if state, ok, err = shots.DoneButton(t, r); err != nil {
			return nil, false, err
		}
		if !ok {
			state, ok = plainAnswer(r, t.Msg)
		}
		if !ok {
			return noAnswer(t, r, list)
		}
	}
	err = t.Try(func() (bool, error) {
		t.Later(answered)
		outs, err = pressTyped(t, state, shots.AlsoOf(t, r, state)...)
		if _, over := errors.AsType[turn.Mistake](err); over && before { // answered some other way since
			err = nil
		}
		return len(outs) > 0, err
	})
	if err == nil && len(outs) > 0 && chooses([]store.Tap{{State: state}}) && !slices.ContainsFunc(outs, func(o turn.Out) bool { return turn.Asks(o.Post) }) {
		outs = append(outs, shots.AskOpen(t, list, state)...)
	}
	return outs, err != nil || len(outs) > 0, err
}

// noAnswer tells a person whose answer is none what can be answered, or whose question it
// was.
func noAnswer(t *turn.Turn, r *recent.Book, list []turn.Asking) ([]turn.Out, bool, error) {
	said := turn.Plain(t.Msg.Text)
	n, err := strconv.Atoi(said)
	bare := err == nil && 1 <= n && n <= 9 || slices.Contains(yesWords(), said) || slices.Contains(noWords(), said) || shots.NoneOf(said) || inEnglish(said) == string(say.AddItLabel) || slices.Contains(neverMindWords(), said)
	switch {
	case !bare || t.Msg.ReplyTo != "":
	case len(list) == 0 || list[0].Who != t.Who.ID:
		if e, ok := shots.AskedLast(r); ok && len(list) == 0 && err != nil && said != "ok" && said != "okay" && !slices.Contains(neverMindWords(), said) {
			return []turn.Out{{Post: t.PrivatePost(chat.Info, t.WriterLang().Say("I had asked %s that, about “%s”.", r.NameOf(e.Person), say.Clip(e.Raw)))}}, true, nil
		}
	case list[0].Passed || !chooses(list[0].Taps):
	case slices.Contains(neverMindWords(), said):
		t.Later(func(tx *store.Tx) error { return t.PutAsked(tx, t.Who.ID, nil) })
		return t.Says(chat.Info, t.Lang().Say(say.LeftAsItWas)), true, nil
	default:
		var labels []string
		for _, b := range list[0].Taps {
			labels = append(labels, b.Label)
		}
		post := t.Post(chat.Question, t.Lang().Say("That is none of the answers. It can be: %s; or “never mind”.", t.Lang().AnyOf(labels)))
		for _, b := range list[0].Taps {
			post.Buttons = append(post.Buttons, chat.Button{Label: b.Label, State: b.State})
		}
		return []turn.Out{{Post: post}}, true, nil
	}
	return nil, false, nil
}

// chooses reports whether answers are some of which one must be told, and not how a cup
// tastes or what was done.
func chooses(list []store.Tap) bool {
	return taps(list, turn.PressCoffee, turn.PressNear, turn.PressOn, turn.PressTo, turn.PressPut, turn.PressThat, turn.PressAdd, shots.PressLast, turn.PressOrder, turn.PressShot)
}

// taps reports whether the first answer presses one of some verbs.
func taps(list []store.Tap, verbs ...string) bool {
	verb, _, _, _ := turn.ReadPress(list[0].State)
	return slices.Contains(verbs, verb)
}

// pressTyped presses a button for a person who typed what it says, and for other shots
// that wait for the same answer.
func pressTyped(t *turn.Turn, state string, also ...bar.EntryID) (outs []turn.Out, err error) {
	pressed := *t
	pressed.Msg.Kind, pressed.Msg.Press, pressed.Asking = chat.Pressed, state, store.Reply{}
	if len(also) > 0 {
		outs, err = shots.PressAll(&pressed, also, state)
	} else {
		outs, err = press(&pressed)
	}
	if len(outs) > 0 {
		t.Asking, t.Kept, t.KeptBack = pressed.Asking, pressed.Kept, pressed.KeptBack
	}
	return outs, err
}

// answerTo returns the button of a question that a text presses.
func answerTo(r *recent.Book, taps []store.Tap, text string) (state string, ok bool) {
	if state, ok = bare(r, taps, text); ok || wordsDo(r, taps, text) {
		return state, ok
	}
	for _, said := range append([]string{turn.Plain(text)}, barer(turn.Plain(text))...) {
		if state, ok = shots.HeldPlace(r, taps, said); ok {
			return state, true
		}
	}
	if state, ok = wasShot(r, taps, text); ok {
		return state, true
	}
	if state, ok = pullerSaid(r, taps, text); ok {
		return state, true
	}
	if state, ok = shots.HeldCoffee(r, taps, text); ok || saysNotThat(r, taps, text) {
		return state, ok
	}
	return chosen(r.Lang(), taps, text, r.HasName)
}

// wasShot returns the button that says that a message was a shot, of a coffee too if one is
// named: "yeah course it was a shot", "ja das war ein shot, tide".
func wasShot(r *recent.Book, taps []store.Tap, text string) (state string, ok bool) {
	if len(taps) == 0 {
		return "", false
	}
	verb, id, arg, _ := turn.ReadPress(taps[0].State)
	last, held := shots.LastHeld(r)
	both := slices.Contains([]string{"both", "yes both", "yes, both", "both of them", "beide", "ja beide", "ja, beide", "entrambi", "sì entrambi", "tutti e due", "ambos", "sí ambos", "los dos", "les deux", "oui les deux", "os dois", "sim ambos"}, turn.Plain(text))
	switch {
	case verb != turn.PressShot || arg != say.ShotYes:
		return "", false
	case both:
		return taps[0].State, true
	case !held || last != id:
		return "", false
	}
	state = taps[0].State
	said := " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" ,.!", r) }), " ") + " "
	for _, c := range r.OnBar() {
		if rest := strings.Replace(said, " "+strings.ToLower(c.Name)+" ", " ", 1); rest != said {
			said, state, ok = rest, turn.PressState(turn.PressCoffee, id, turn.IDText(c.ID)), true
			break
		}
	}
	for word := range strings.FieldsSeq(said) {
		shot := slices.Contains([]string{"shot", "espresso", "bezug", "estrazione", "extraction", "extracción", "extração", "course", "natürlich", "klar", "certo", "claro", "évidemment", "bien"}, word)
		if ok = ok || shot || slices.Contains(yesWords(), word); !shot && !slices.Contains(yesWords(), word) && !slices.Contains(shotTalk(), word) {
			return "", false
		}
	}
	return state, ok
}

// pullerSaid returns the answer to who pulled a shot where that is said once more: "yeah
// that's kai's", "no it was mine".
func pullerSaid(r *recent.Book, taps []store.Tap, text string) (state string, ok bool) {
	said := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" ,.!", r) })
	if len(taps) < 2 || len(said) < 2 {
		return "", false
	}
	verb, _, asked, _ := turn.ReadPress(taps[0].State)
	yes, no := slices.Contains(yesWords(), said[0]), slices.Contains(noWords(), said[0])
	if verb != shots.PressPuller || !yes && !no {
		return "", false
	}
	for _, word := range said[1:] {
		who := r.Who.ID
		if !slices.Contains([]string{"mine", "me", "meiner", "ich", "mio", "moi", "mien", "mío", "yo", "meu", "eu"}, word) {
			who = calledSo(r, word)
		}
		switch {
		case who != 0:
			yes = yes && turn.IDText(who) == asked
		case !slices.Contains(shotTalk(), word):
			return "", false
		}
	}
	if yes {
		return taps[0].State, true
	}
	return taps[1].State, true
}

// calledSo returns the one of the bar's people whom a word names, "kai" or "kais", or 0.
func calledSo(r *recent.Book, word string) bar.PersonID {
	for _, p := range r.People {
		if name := strings.ToLower(p.Name); word == name || word == name+"s" || word == name+"'s" || word == name+"’s" {
			return p.ID
		}
	}
	return 0
}

// shotTalk are the small words of saying that something was a shot.
func shotTalk() []string {
	return []string{
		"of", "it", "was", "a", "an", "that", "one", "is", "its", "it's", "that's", "thats", "the", "das", "es", "war", "ein", "der", "era", "uno", "un", "è", "il", "c'était", "une", "bon", "fue", "el", "foi", "um", "o", "é", "do", "di", "de", "von", "vom", "del", "du",
	}
}

// bare returns what a word or a picture alone says to a question: that a cup was
// fine, or that a kept message is to be forgotten.
func bare(r *recent.Book, taps []store.Tap, text string) (state string, ok bool) {
	if len(taps) == 0 {
		return "", false
	}
	verb, id, _, _ := turn.ReadPress(taps[0].State)
	said := turn.Plain(text)
	e, shot := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ID == id })
	switch {
	case verb == turn.PressTaste && fineTaste(said) != "":
		return turn.PressState(turn.PressTaste, id, fineTaste(said)), shot && r.Now.Sub(e.At) <= resolve.TasteWindow && !r.TastedBy(e, r.Who.ID)
	case slices.Contains(neverMindWords(), said):
		held := slices.ContainsFunc(r.Recent, func(e bar.Entry) bool {
			_, held := e.What.(bar.Held)
			return e.ID == id && held
		})
		return turn.PressState(turn.PressShot, id, say.ShotNo), held
	}
	return "", false
}

// fineTaste returns what is said of a taste by a word or a picture that means
// anything elsewhere.
func fineTaste(said string) string {
	switch said {
	case "fine", "fine by me", "fine for me", "fine with me", "alright", "all right", "passt", "ça va", "va bene", "está bien", "tudo bem", "prima":
		return "is fine"
	}
	return parse.Face(said)
}

func neverMindWords() []string {
	return []string{"no shot", "not a shot", "never mind", "nevermind", "nvm", "cancel", "stop", "forget it", "annulla", "cancella", "abbrechen", "annuler", "annule", "cancelar", "cancela", "egal", "vergiss es", "laisse tomber", "lascia stare", "lascia perdere", "déjalo", "dejalo", "olvídalo", "deixa", "esquece", "laat maar"}
}

// wordsDo reports whether the last question was how a shot tastes, and the text is
// not the place of one of its answers, or comes too late.
func wordsDo(r *recent.Book, taps []store.Tap, text string) bool {
	if len(taps) == 0 {
		return false
	}
	verb, id, _, _ := turn.ReadPress(taps[0].State)
	if verb != turn.PressTaste {
		return false
	}
	_, err := strconv.Atoi(turn.Plain(text))
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ID == id })
	return err != nil || !ok || r.Now.Sub(e.At) > resolve.TasteWindow || r.TastedBy(e, r.Who.ID)
}

// plainAnswer returns the button under the advice on this person's last shot that
// a message says: that it was done, or which way the dial goes.
func plainAnswer(r *recent.Book, m chat.Message) (state string, ok bool) {
	said := turn.Plain(m.Text)
	done := slices.Contains(doneWords(), said)
	finer := parse.Finer(said)
	lower, higher := finer == bar.Lower || said == r.Lang().Say(say.LowerLabel), finer == bar.Higher || said == r.Lang().Say(say.HigherLabel)
	yes, no := slices.Contains(yesWords(), said), slices.Contains(noWords(), said)
	if m.ReplyTo != "" || !done && !lower && !higher && !yes && !no {
		return "", false
	}
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool {
		return e.ToldBy(r.Who.ID) && !e.At.Before(r.Now.Add(-turn.AnswerWindow))
	})
	if !ok {
		return "", false
	}
	s := e.What.(bar.Shot)
	g, _ := r.Grinder(s.Grinder)
	switch {
	case (yes || no) && s.Grind.From != bar.Said: // "is a lower number finer?" was not asked
		return "", false
	case done: // what is open belongs to the coffee on its grinder, whoever was told
		last, _ := r.Newest(func(_ bar.Entry, other bar.Shot) bool { return other.Grinder == s.Grinder && other.Coffee == s.Coffee })
		return turn.PressState(turn.PressDid, last.ID), true
	case g.Finer != bar.Unknown, (yes || no) && !(g.Step > 0):
		return "", false
	case lower, yes:
		return turn.PressState(turn.PressFiner, e.ID, "lower"), true
	}
	return turn.PressState(turn.PressFiner, e.ID, "higher"), true
}

// doneWords say that advice was done.
func doneWords() []string {
	return []string{"did it", "did that", "done it", "gemacht", "erledigt", "c'est fait", "fatto", "hecho", "feito", "gedaan"}
}

// saysNotThat reports whether a no answers the question whether a far number of a
// message that was kept was meant.
func saysNotThat(r *recent.Book, taps []store.Tap, text string) bool {
	if len(taps) == 0 {
		return false
	}
	verb, id, _, _ := turn.ReadPress(taps[0].State)
	said := turn.Plain(text)
	kept := slices.ContainsFunc(r.Recent, func(e bar.Entry) bool {
		_, held := e.What.(bar.Held)
		return held && e.ID == id
	})
	return kept && verb == turn.PressFar && slices.Contains(noWords(), said) && said != "no shot" && !slices.Contains(neverMindWords(), said)
}

// rememberBack keeps what takes the correction back that a message made, unless it
// was written down with its entry.
func rememberBack(t *turn.Turn, outs []turn.Out) error {
	for _, o := range outs {
		if state := t.BackOf(o.Post); state != "" && o.Cause == t.Msg.ID {
			if state == t.KeptBack {
				return nil
			}
			return t.Update(func(tx *store.Tx) error { return t.RememberBack(tx, o.Post) })
		}
	}
	return nil
}

// uncorrect takes back this person's last correction, if nothing of theirs was
// recorded since.
func uncorrect(t *turn.Turn, newest bar.Entry) (outs []turn.Out, done bool, err error) {
	back, err := lastBack(t)
	if err != nil || len(back.Taps) == 0 || back.At.Before(newest.At) {
		return nil, false, err
	}
	if outs, err = pressTyped(t, back.Taps[0].State); err != nil {
		return nil, true, err
	}
	if t.KeptBack == "" { // else it was written down with its entry
		t.Later(func(tx *store.Tx) error { return t.KeepBack(tx, "") })
	}
	for i := range outs {
		outs[i].Buttons = slices.DeleteFunc(outs[i].Buttons, func(b chat.Button) bool { return b.Label == t.Lang().Say(say.BackLabel) })
	}
	return outs, true, nil
}

// lastBack returns what takes this person's last correction back.
func lastBack(t *turn.Turn) (back store.Reply, err error) {
	err = t.See(func(tx *store.Tx) error {
		back, _, err = tx.ReplyOf(t.Bar.ID, turn.BackKey(t.Who.ID))
		return err
	})
	return back, err
}
