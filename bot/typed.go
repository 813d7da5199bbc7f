package bot

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// answerWindow is how long a question can be answered by typing. Assumed.
const answerWindow = 15 * time.Minute

// askedKey is the cause under which the last question to a person is kept.
func askedKey(who bar.PersonID) string {
	return "asked " + idText(who)
}

// remember keeps the question among what a message is answered with, so that it
// can be answered by typing.
func (t *turn) remember(outs []Out) error {
	i := slices.IndexFunc(outs, func(o Out) bool {
		return o.Kind == chat.Question && len(o.Buttons) > 0 && o.Cause == t.m.ID && !o.Unsaid
	})
	if t.bar.ID == 0 || t.who.ID == 0 && !t.m.Device || t.m.Kind == chat.Tick {
		return nil
	}
	if i < 0 {
		return t.passAsked(outs)
	}
	return t.putAsked(t.who.ID, outs[i].Buttons)
}

// passed marks a question after which something else with buttons was said to the
// person: a number is no answer to it any more, it may be meant for those.
const passed = "passed"

// passAsked marks the last question so, where a message that did not answer it was
// answered with something else.
func (t *turn) passAsked(outs []Out) error {
	other := slices.ContainsFunc(outs, func(o Out) bool {
		return o.Cause == t.m.ID && (len(o.Buttons) > 0 || o.Kind == chat.Advice || o.Kind == chat.Recorded)
	})
	if !other || len(t.asking.Taps) == 0 || t.asking.Kind == passed {
		return nil
	}
	t.asking.Kind = passed
	return t.update(func(tx *store.Tx) error { return tx.PutReply(t.bar.ID, t.asking) })
}

// putAsked keeps what the last question to a person can be answered with.
func (t *turn) putAsked(who bar.PersonID, buttons []chat.Button) error {
	asked := store.Reply{Cause: askedKey(who), Kind: chat.Question.String(), State: store.Sent, At: t.now, Thread: t.m.Thread}
	for _, b := range buttons {
		asked.Taps = append(asked.Taps, store.Tap{Label: b.Label, State: b.State})
	}
	return t.update(func(tx *store.Tx) error {
		if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
			return err
		}
		return tx.PutReply(t.bar.ID, asked)
	})
}

// typedAnswer takes a message for the answer to the last question, as if its
// button had been pressed. It is false for one that answers none.
func (t *turn) typedAnswer(r *room) (outs []Out, ours bool, err error) {
	if t.m.Kind != chat.Text || len(t.m.Text) > parse.MaxText {
		return nil, false, nil
	}
	list, err := t.asked()
	if err != nil {
		return nil, false, err
	}
	who, state, ok := t.who.ID, "", false
	_, notPlace := strconv.Atoi(strings.TrimLeft(plain(t.m.Text), "#"))
	for _, q := range list {
		if q.passed && notPlace == nil {
			continue
		}
		if state, ok = r.answerTo(q.taps, t.m.Text); ok {
			who = q.who
			break
		}
		if !r.wordsDo(q.taps, t.m.Text) && r.saysNotThat(q.taps, t.m.Text) {
			return t.notThat(q.taps), true, nil
		}
	}
	if !ok {
		if outs, ours, err = t.whatNow(r); ours || err != nil {
			return outs, ours, err
		}
		open, err := t.openAdvice(r)
		if state, ok = r.plainAnswer(t.m, open); !ok || err != nil {
			return nil, false, err
		}
	}
	pressed := *t
	pressed.m.Kind, pressed.m.Press = chat.Pressed, state
	outs, err = pressed.pressed()
	if err != nil || len(outs) == 0 {
		return nil, err != nil, err
	}
	t.asking = store.Reply{}
	return outs, true, t.putAsked(who, nil)
}

// answerTo returns the button of a question that a text presses.
func (r *room) answerTo(taps []store.Tap, text string) (state string, ok bool) {
	if state, ok = r.bare(taps, text); ok || r.wordsDo(taps, text) {
		return state, ok
	}
	if state, ok = r.heldCoffee(taps, text); ok || r.saysNotThat(taps, text) {
		return state, ok
	}
	return chosen(r.in(), taps, text, r.hasName)
}

// bare returns what a word or a picture alone says to a question: that a cup was
// fine, or that a kept message is to be forgotten.
func (r *room) bare(taps []store.Tap, text string) (state string, ok bool) {
	if len(taps) == 0 {
		return "", false
	}
	verb, id, _, _ := readPress(taps[0].State)
	said := plain(text)
	e, shot := r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.ID == id })
	switch {
	case verb == pressTaste && fineTaste(said) != "":
		return pressState(pressTaste, id, fineTaste(said)), shot && r.now.Sub(e.At) <= tasteWindow && !r.tastedBy(e, r.who.ID)
	case slices.Contains(neverMindWords(), said):
		held := slices.ContainsFunc(r.recent, func(e bar.Entry) bool {
			_, held := e.What.(bar.Held)
			return e.ID == id && held
		})
		return pressState(pressShot, id, say.ShotNo), held
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
	return []string{"never mind", "nevermind", "nvm", "forget it", "egal", "vergiss es", "laisse tomber", "lascia stare", "lascia perdere", "déjalo", "dejalo", "olvídalo", "deixa", "esquece", "laat maar"}
}

// wordsDo reports whether the last question was how a shot tastes, and the text is
// not the place of one of its answers, or comes too late.
func (r *room) wordsDo(taps []store.Tap, text string) bool {
	if len(taps) == 0 {
		return false
	}
	verb, id, _, _ := readPress(taps[0].State)
	if verb != pressTaste {
		return false
	}
	_, err := strconv.Atoi(plain(text))
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.ID == id })
	return err != nil || !ok || r.now.Sub(e.At) > tasteWindow || r.tastedBy(e, r.who.ID)
}

// An asking is a question that can be answered by typing: to a person, or to
// whoever answers first, 0.
type asking struct {
	who    bar.PersonID
	taps   []store.Tap
	passed bool
}

// asked returns what can be answered to the last questions, the newest first: to
// the person who writes and to anybody, or of the post that is answered.
func (t *turn) asked() (list []asking, err error) {
	err = t.see(func(tx *store.Tx) error {
		if t.m.ReplyTo != "" {
			reply, found, err := tx.ReplyByPost(t.bar.ID, t.m.ReplyTo)
			if err != nil || !found || reply.Entry == 0 {
				return err
			}
			e, err := tx.Entry(t.bar.ID, reply.Entry)
			if err != nil {
				return err
			}
			asked, found, err := t.askedOf(tx, e.Person)
			if found && (e.Person != 0 || asks(asked, e.ID)) {
				list = []asking{{e.Person, asked.Taps, false}}
			}
			return err
		}
		own, found1, err1 := t.askedOf(tx, t.who.ID)
		any, found2, err2 := t.askedOf(tx, 0)
		list = nil
		if t.asking = (store.Reply{}); found1 {
			t.asking = own
		}
		if found1 && !own.At.Before(t.now.Add(-answerWindow)) {
			list = append(list, asking{t.who.ID, own.Taps, own.Kind == passed})
		}
		if found2 && !any.At.Before(t.now.Add(-answerWindow)) {
			list = append(list, asking{0, any.Taps, any.Kind == passed})
		}
		if len(list) == 2 && any.At.After(own.At) {
			slices.Reverse(list)
		}
		return errors.Join(err1, err2)
	})
	return list, err
}

func (t *turn) askedOf(tx *store.Tx, who bar.PersonID) (store.Reply, bool, error) {
	asked, found, err := tx.ReplyOf(t.bar.ID, askedKey(who))
	return asked, found && len(asked.Taps) > 0 && asked.Thread == t.m.Thread, err
}

// asks reports whether a question is about an entry.
func asks(q store.Reply, e bar.EntryID) bool {
	_, id, _, _ := readPress(q.Taps[0].State)
	return id == e
}

// plainAnswer returns the button under the advice on this person's last shot that
// a message says: that it was done, or which way the dial goes.
func (r *room) plainAnswer(m chat.Message, open bool) (state string, ok bool) {
	said := plain(m.Text)
	done := slices.Contains(doneWords(), said) || open && slices.Contains(bareDone(), said)
	lower, higher := said == "lower" || said == r.in().Say(say.LowerLabel), said == "higher" || said == r.in().Say(say.HigherLabel)
	yes, no := slices.Contains(yesWords(), said), slices.Contains(noWords(), said)
	if m.ReplyTo != "" || !done && !lower && !higher && !yes && !no {
		return "", false
	}
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool {
		return e.Person == r.who.ID && !e.At.Before(r.now.Add(-answerWindow))
	})
	if !ok {
		return "", false
	}
	s := e.What.(bar.Shot)
	g, _ := r.grinder(s.Grinder)
	switch {
	case (yes || no) && s.Grind.From != bar.Said: // "is a lower number finer?" was not asked
		return "", false
	case done: // what is open belongs to the grinder, whoever was told
		last, _ := r.newest(func(_ bar.Entry, other bar.Shot) bool { return other.Grinder == s.Grinder })
		return pressState(pressDid, last.ID), true
	case g.Finer != bar.Unknown, (yes || no) && !(g.Step > 0):
		return "", false
	case lower, yes:
		return pressState(pressFiner, e.ID, "lower"), true
	}
	return pressState(pressFiner, e.ID, "higher"), true
}

// doneWords say that advice was done.
func doneWords() []string {
	return []string{"did it", "did that", "done it", "gemacht", "erledigt", "c'est fait", "fatto", "hecho", "feito", "gedaan"}
}

// chosen returns the state of the button that a text names: by its label or the
// beginning of it, its place from 1, or yes and no. Names are never taken for
// another label that is spelt nearly so.
func chosen(l say.Lang, taps []store.Tap, text string, isName func(string) bool) (state string, ok bool) {
	said := plain(text)
	if said == "" || len(taps) == 0 {
		return "", false
	}
	for _, b := range taps {
		if label := plain(b.Label); said == label || inEnglish(said) == label || plain(l.Say(say.English(inEnglish(said)))) == label || plain(l.Term(said)) == label {
			return b.State, true
		}
	}
	if n, err := strconv.Atoi(strings.TrimLeft(said, "#")); err == nil && 1 <= n && n <= len(taps) {
		return taps[n-1].State, true
	}
	if state, ok := number(taps, said); ok {
		return state, true
	}
	if state, ok := yesOrNo(taps, said); ok {
		return state, true
	}
	return named(taps, said, isName(said))
}

// number returns the state of a button that a number makes which none of them has:
// where a dial stands, or what a far number was.
func number(taps []store.Tap, said string) (state string, ok bool) {
	verb, id, arg, _ := readPress(taps[0].State)
	if verb != pressTo && verb != pressFar {
		return "", false
	}
	x, err := parse.Position(strings.TrimSuffix(strings.TrimSuffix(said, "s"), "g"))
	at := strings.LastIndex(arg, "=")
	switch _, label := single(taps, func(label string) bool { return strings.Contains(label, said) }); {
	case err != nil:
		return "", false
	case verb == pressTo:
		return toState(id, x), true
	case at >= 0 && !label:
		return pressState(pressFar, id, arg[:at+1]+strconv.FormatFloat(x, 'g', 6, 64)), true
	}
	return "", false
}

// saysNotThat reports whether a no answers the question whether a far number of a
// message that was kept was meant.
func (r *room) saysNotThat(taps []store.Tap, text string) bool {
	if len(taps) == 0 {
		return false
	}
	verb, id, _, _ := readPress(taps[0].State)
	said := plain(text)
	kept := slices.ContainsFunc(r.recent, func(e bar.Entry) bool {
		_, held := e.What.(bar.Held)
		return held && e.ID == id
	})
	return kept && verb == pressFar && slices.Contains(noWords(), said) && said != "no shot" && !slices.Contains(neverMindWords(), said)
}

// inEnglish returns the label of a button that is said in another language.
func inEnglish(said string) string {
	switch said {
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

// hasName reports whether a coffee or a grinder is called so.
func (r *room) hasName(said string) bool {
	return slices.ContainsFunc(r.coffees, func(c bar.Coffee) bool { return strings.EqualFold(c.Name, said) }) ||
		slices.ContainsFunc(r.grinders, func(g bar.Grinder) bool { return strings.EqualFold(g.Name, said) })
}

// yesOrNo returns the button that a yes or a no presses. Yes is the first where
// the question asks whether that is so.
func yesOrNo(taps []store.Tap, said string) (string, bool) {
	verb, _, _, _ := readPress(taps[0].State)
	last := taps[len(taps)-1]
	lastVerb, _, arg, _ := readPress(last.State)
	refuses := lastVerb == pressShot && arg == say.ShotNo
	first := verb == pressShot || verb == pressFar || verb == pressOrder || verb == pressNear || verb == pressDialled || len(taps) == 1 && verb == pressPut
	meant := strings.HasPrefix(taps[0].State, pressMeant+":")
	switch {
	case meant && slices.Contains(yesWords(), said):
		return taps[0].State, true
	case meant && slices.Contains(noWords(), said):
		return pressMeant + ":", true
	case first && slices.Contains(yesWords(), said):
		return taps[0].State, true
	case slices.Contains(noWords(), said) && (refuses || verb == pressOrder):
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
		if fits(plain(b.Label)) {
			state, n = b.State, n+1
		}
	}
	return state, n == 1
}

// plain makes an answer comparable: without case, stops and the small words that
// people put around it.
func plain(text string) string {
	low := strings.ToLower(strings.Join(strings.Fields(text), " "))
	low = strings.Trim(low, " .!,")
	for _, before := range []string{"it was ", "that was ", "it's ", "that's ", "was ", "still ", "at ", "the ", "i meant "} {
		low = strings.TrimPrefix(low, before)
	}
	return strings.Trim(strings.TrimSuffix(low, " please"), " .!,")
}

func yesWords() []string {
	return []string{"yes", "yep", "yeah", "yup", "y", "ok", "okay", "right", "correct", "exactly", "👍", "ja", "genau", "oui", "sì", "si", "sí", "sim", "yes, that", "yes that's right"}
}

func noWords() []string {
	return []string{"no", "nope", "nah", "n", "nein", "non", "nee", "não", "nao", "👎", "no shot", "wrong", "never mind", "nevermind"}
}

// backKey is the cause under which what takes a person's last correction back is
// kept.
func backKey(who bar.PersonID) string { return "back " + idText(who) }

// rememberBack keeps what takes the correction back that a message made.
func (t *turn) rememberBack(outs []Out) error {
	for _, o := range outs {
		i := slices.IndexFunc(o.Buttons, func(b chat.Button) bool {
			return b.Label == t.in().Say(say.BackLabel) && (!strings.HasPrefix(b.State, pressUnset+":") || strings.Count(b.State, ":") > 1)
		})
		if i >= 0 && o.Cause == t.m.ID {
			back, err := t.lastBack()
			if err != nil || len(back.Taps) > 0 && back.Taps[0].State == t.m.Press {
				return errors.Join(err, t.putBackKey(nil)) // it was taken back by a tap
			}
			return t.putBackKey([]store.Tap{{Label: t.in().Say(say.BackLabel), State: o.Buttons[i].State}})
		}
	}
	return nil
}

func (t *turn) putBackKey(taps []store.Tap) error {
	back := store.Reply{Cause: backKey(t.who.ID), Kind: chat.Recorded.String(), State: store.Sent, At: t.now, Taps: taps}
	return t.update(func(tx *store.Tx) error { return tx.PutReply(t.bar.ID, back) })
}

// uncorrect takes back this person's last correction, if nothing of theirs was
// recorded since.
func (t *turn) uncorrect(newest bar.Entry) (outs []Out, done bool, err error) {
	back, err := t.lastBack()
	if err != nil || len(back.Taps) == 0 || back.At.Before(newest.At) {
		return nil, false, err
	}
	pressed := *t
	pressed.m.Kind, pressed.m.Press = chat.Pressed, back.Taps[0].State
	if outs, err = pressed.pressed(); err != nil {
		return nil, true, err
	}
	for i := range outs {
		outs[i].Buttons = slices.DeleteFunc(outs[i].Buttons, func(b chat.Button) bool { return b.Label == t.in().Say(say.BackLabel) })
	}
	return outs, true, t.putBackKey(nil)
}

// lastBack returns what takes this person's last correction back.
func (t *turn) lastBack() (back store.Reply, err error) {
	err = t.see(func(tx *store.Tx) error {
		back, _, err = tx.ReplyOf(t.bar.ID, backKey(t.who.ID))
		return err
	})
	return back, err
}
