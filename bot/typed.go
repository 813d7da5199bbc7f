package bot

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
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
	who, state, ok := t.Who.ID, "", false
	_, notPlace := strconv.Atoi(strings.TrimLeft(turn.Plain(t.Msg.Text), "#"))
	for _, q := range list {
		if q.Passed && notPlace == nil {
			continue
		}
		if state, ok = answerTo(r, q.Taps, t.Msg.Text); ok {
			who = q.Who
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
		if outs, ours, err = whatNow(t, r); ours || err != nil {
			return outs, ours, err
		}
		if state, ok, err = shots.DoneButton(t, r); err != nil {
			return nil, false, err
		}
		if !ok {
			state, ok = plainAnswer(r, t.Msg)
		}
		if !ok {
			return nil, false, nil
		}
	}
	err = t.Try(func() (bool, error) {
		t.Later(func(tx *store.Tx) error { return t.PutAsked(tx, who, nil) })
		outs, err = pressTyped(t, state)
		return len(outs) > 0, err
	})
	return outs, err != nil || len(outs) > 0, err
}

// pressTyped presses a button for a person who typed what it says.
func pressTyped(t *turn.Turn, state string) ([]turn.Out, error) {
	pressed := *t
	pressed.Msg.Kind, pressed.Msg.Press, pressed.Asking = chat.Pressed, state, store.Reply{}
	outs, err := press(&pressed)
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
	if state, ok = shots.HeldCoffee(r, taps, text); ok || saysNotThat(r, taps, text) {
		return state, ok
	}
	return chosen(r.In(), taps, text, r.HasName)
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
	case "👍", "😋", "😍", "🤤", "👌":
		return "nice"
	case "fine", "alright", "all right", "passt", "ça va", "va bene", "está bien", "tudo bem", "prima":
		return "is fine"
	}
	return ""
}

func neverMindWords() []string {
	return []string{"never mind", "nevermind", "nvm", "cancel", "stop", "forget it", "annulla", "cancella", "abbrechen", "annuler", "annule", "cancelar", "cancela", "egal", "vergiss es", "laisse tomber", "lascia stare", "lascia perdere", "déjalo", "dejalo", "olvídalo", "deixa", "esquece", "laat maar"}
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
	lower, higher := finer == bar.Lower || said == r.In().Say(say.LowerLabel), finer == bar.Higher || said == r.In().Say(say.HigherLabel)
	yes, no := slices.Contains(yesWords(), said), slices.Contains(noWords(), said)
	if m.ReplyTo != "" || !done && !lower && !higher && !yes && !no {
		return "", false
	}
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool {
		return e.Person == r.Who.ID && !e.At.Before(r.Now.Add(-turn.AnswerWindow))
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

// chosen returns the state of the button that a text names: by its label or the
// beginning of it, its place from 1, or yes and no. Names are never taken for
// another label that is spelt nearly so.
func chosen(l say.Lang, taps []store.Tap, text string, isName func(string) bool) (state string, ok bool) {
	said := turn.Plain(text)
	if said == "" || len(taps) == 0 {
		return "", false
	}
	for _, b := range taps {
		if label := turn.Plain(b.Label); said == label || inEnglish(said) == label || turn.Plain(l.Say(say.English(inEnglish(said)))) == label || turn.Plain(l.Term(said)) == label {
			return b.State, true
		}
	}
	if n := place(said, len(taps)); 1 <= n && n <= len(taps) {
		return taps[n-1].State, true
	}
	if state, ok := number(taps, said); ok {
		return state, true
	}
	if state, ok := yesOrNo(taps, said); ok {
		return state, true
	}
	if state, ok := named(taps, said, isName(said)); ok {
		return state, true
	}
	if bare := barer(said); bare != said {
		return chosen(l, taps, bare, isName)
	}
	return "", false
}

// barer returns an answer without the yes before it, "yes add it", and without what people
// put behind one, "the second one i think".
func barer(said string) string {
	first, rest, more := strings.Cut(said, " ")
	if more && slices.Contains(yesWords(), strings.Trim(first, ",")) {
		return rest
	}
	for _, behind := range []string{
		"please", "pls", "i think", "i guess", "i believe", "i reckon", "probably", "maybe", "thanks", "thank you", "thx", "cheers", "then", "mate", "sorry", "for sure", "definitely", "of course", "that is", "that's it",
		"bitte", "glaube ich", "denke ich", "danke", "per favore", "credo", "penso", "direi", "grazie", "por favor", "creo", "gracias", "s'il te plaît", "stp", "je crois", "je pense", "merci", "acho", "acho eu", "obrigado", "obrigada",
	} {
		if before, ok := strings.CutSuffix(said, " "+behind); ok {
			return strings.TrimRight(before, " ,")
		}
	}
	return said
}

// place returns which of n answers a text names by its place, from 1: "2", "#2", "the
// second one", "the last". 0 is none.
func place(said string, n int) int {
	if i, err := strconv.Atoi(strings.TrimLeft(said, "#")); err == nil {
		return i
	}
	for _, article := range []string{"the ", "der ", "die ", "das ", "il ", "la ", "l'", "lo ", "el ", "le ", "o ", "a "} {
		said = strings.TrimPrefix(said, article)
	}
	said = strings.TrimSuffix(strings.TrimSuffix(said, " one"), " uno")
	for i, words := range [][]string{
		{"last", "letzte", "letzter", "ultimo", "ultima", "último", "última", "dernier", "dernière"},
		{"first", "1st", "erste", "erster", "primo", "prima", "primero", "primera", "premier", "première", "primeiro", "primeira"},
		{"second", "2nd", "zweite", "zweiter", "secondo", "seconda", "segundo", "segunda", "deuxième", "second", "seconde"},
		{"third", "3rd", "dritte", "dritter", "terzo", "terza", "tercero", "tercera", "troisième", "terceiro", "terceira"},
		{"fourth", "4th", "vierte", "vierter", "quarto", "quarta", "cuarto", "cuarta", "quatrième"},
	} {
		if slices.Contains(words, said) {
			return cmp.Or(i, n)
		}
	}
	return 0
}

// number returns the state of a button that a number makes which none of them has:
// where a dial stands, or what a far number was.
func number(taps []store.Tap, said string) (state string, ok bool) {
	verb, id, arg, _ := turn.ReadPress(taps[0].State)
	if verb != turn.PressTo && verb != turn.PressFar {
		return "", false
	}
	x, err := parse.Position(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(said, "s"), "g")))
	timed := strings.Contains(arg[:max(0, strings.LastIndex(arg, "="))], string(say.TimeFigure))
	at := strings.LastIndex(arg, "=")
	switch _, label := single(taps, func(label string) bool { return strings.Contains(label, said) }); {
	case err != nil, strings.HasSuffix(said, "s") && verb == turn.PressFar && !timed: // "28 s" is no yield
		return "", false
	case verb == turn.PressTo:
		return shots.DialButton(id, x), true
	case at >= 0 && !label:
		return turn.PressState(turn.PressFar, id, arg[:at+1]+strconv.FormatFloat(x, 'g', 6, 64)), true
	}
	return "", false
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

// inEnglish returns the label of a button that is said in another language.
func inEnglish(said string) string {
	switch said {
	case "new", "new one", "a new one", "new coffee", "a new coffee", "it's new", "its new", "add", "add that", "add as new", "neu", "neuer", "ein neuer", "nuovo", "è nuovo", "uno nuovo", "nuevo", "es nuevo", "uno nuevo",
		"nouveau", "un nouveau", "novo", "um novo", "é novo":
		return string(say.AddItLabel)
	case "tempo", "zeit", "die zeit", "temps", "le temps", "tiempo", "el tiempo", "il tempo", "o tempo", "seconds", "secs":
		return string(say.TimeFigure)
	case "resa", "la resa", "ertrag", "rendement", "rendimento", "rendimiento", "out":
		return string(say.YieldFigure)
	case "dosis", "die dosis", "la dose", "la dosis", "a dose":
		return string(say.DoseFigure)
	case "grind", "setting", "macinatura", "la macinatura", "mahlgrad", "der mahlgrad", "mouture", "la mouture", "molienda", "la molienda", "moagem", "a moagem":
		return string(say.DialFigure)
	}
	return said
}

// yesOrNo returns the button that a yes or a no presses. Yes is the first where
// the question asks whether that is so.
func yesOrNo(taps []store.Tap, said string) (string, bool) {
	verb, _, _, _ := turn.ReadPress(taps[0].State)
	last := taps[len(taps)-1]
	lastVerb, _, arg, _ := turn.ReadPress(last.State)
	refuses := lastVerb == turn.PressShot && arg == say.ShotNo
	_, _, what, _ := turn.ReadPress(taps[0].State)
	first := verb == turn.PressShot && what != say.ShotNo || verb == turn.PressFar || verb == turn.PressOrder || verb == turn.PressNear || verb == turn.PressDialled || verb == shots.PressLast || len(taps) == 1 && verb == turn.PressPut
	meant := strings.HasPrefix(taps[0].State, pressMeant+":")
	nameless := slices.IndexFunc(taps, func(b store.Tap) bool { return strings.HasSuffix(b.State, ":"+say.ShotNameless) })
	switch {
	case meant && slices.Contains(yesWords(), said):
		return taps[0].State, true
	case meant && slices.Contains(noWords(), said):
		return pressMeant + ":", true
	case first && slices.Contains(yesWords(), said):
		return taps[0].State, true
	case slices.Contains(noWords(), said) && said != "no shot" && !slices.Contains(neverMindWords(), said) && nameless >= 0:
		return taps[nameless].State, true
	case slices.Contains(noWords(), said) && (refuses || verb == turn.PressOrder):
		return last.State, true
	}
	return "", false
}

// named returns the only button whose label begins so, or, where that is no name
// itself, is spelt nearly so.
func named(taps []store.Tap, said string, isName bool) (state string, ok bool) {
	if strings.ContainsAny(said, "0123456789") { // "28" of "28 s", not of "18 → 28 g in 30 s"
		return single(taps, func(label string) bool {
			return strings.TrimSuffix(strings.TrimSuffix(strings.TrimPrefix(label, "yes, "), " s"), " g") == strings.TrimSuffix(strings.TrimSuffix(said, "s"), "g")
		})
	}
	if len([]rune(said)) < 2 {
		return "", false
	}
	for _, near := range []func(label string) bool{
		func(label string) bool { return strings.HasPrefix(label, said) },
		func(label string) bool { return !isName && taste.Edits(said, label)*3 < len(label) && len(said) >= 4 },
	} {
		if state, ok = single(taps, near); ok {
			return state, true
		}
	}
	return "", false
}

// single returns the only button whose label fits.
func single(taps []store.Tap, fits func(label string) bool) (state string, ok bool) {
	n := 0
	for _, b := range taps {
		if fits(turn.Plain(b.Label)) {
			state, n = b.State, n+1
		}
	}
	return state, n == 1
}

func yesWords() []string {
	return []string{"yes", "yep", "yeah", "yup", "y", "yess", "yse", "yea", "yeh", "ye", "ya", "sure", "ok", "okay", "right", "correct", "exactly", "👍", "ja", "genau", "oui", "sì", "si", "sí", "sim", "yes, that", "yes that's right"}
}

func noWords() []string {
	return []string{"no", "nope", "nah", "n", "nein", "non", "nee", "não", "nao", "👎", "no shot", "wrong", "never mind", "nevermind"}
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
		outs[i].Buttons = slices.DeleteFunc(outs[i].Buttons, func(b chat.Button) bool { return b.Label == t.In().Say(say.BackLabel) })
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
