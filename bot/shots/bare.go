package shots

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// bareDone say that advice was done, while one is open.
func bareDone() []string {
	return []string{"done", "all done", "ok done", "done that", "ok did it", "ok did that", "yeah did that", "yep did that", "yes did that", "yeah done", "yep done", "yes done", "✅", "fertig", "gemacht", "ok gemacht", "hab ich gemacht", "hab's gemacht", "erledigt", "fait", "ok fait", "c'est fait", "fatto", "ok fatto", "hecho", "ok hecho", "ya está", "feito", "ok feito", "listo", "listo ya", "pronto"}
}

// unchanged say that nothing was changed, whatever was advised.
func unchanged() []string {
	return []string{"as before", "same as before", "like before", "left as before", "wie vorher", "wie zuvor", "come prima", "como antes", "comme avant", "igual que antes", "uguale a prima", "pareil qu'avant", "igual a antes", "nothing changed", "forgot to change the grind", "forgot to change the grinder", "forgot to change it", "never changed the grind", "never changed the grinder", "never changed it", "didn't change the grind", "didnt change the grind", "no change", "didn't do it", "didnt do it", "i didn't do it", "i didnt do it", "didn't change anything", "i didn't change anything", "i didnt change anything", "not yet", "not done yet", "noch nicht", "nix gemacht", "non ancora", "pas encore", "todavía no", "aún no", "ainda não"}
}

// sameGrind say so of the dial, or that the last shot was pulled where the one before was.
func sameGrind() []string {
	return []string{"same grind", "same setting", "same dial", "stessa macinatura", "gleicher mahlgrad", "même mouture", "misma molienda", "mesma moagem"}
}

// openAdvice returns what was advised on this person's last shot, if it waits to be
// done.
func openAdvice(t *turn.Turn, r *recent.Book) (said store.Said, open bool, err error) {
	e, ok := which.OwnWithin(r, resolve.LateTaste)
	if !ok {
		return said, false, nil
	}
	said, ok, err = t.AdviceOf(e.ID)
	ok = ok && r.Now.Sub(said.At) <= turn.AnswerWindow
	move := said.Lever == bar.Grind || said.Lever == bar.Yield || said.Lever == bar.Dose || said.Lever == bar.Time
	return said, ok && move && !said.Followed && !said.Voided, err
}

// DoneButton returns the button under the last advice that a bare word presses: that it
// was done, or that nothing was changed.
func DoneButton(t *turn.Turn, r *recent.Book) (state string, ok bool, err error) {
	typed := turn.Plain(t.Msg.Text)
	if strings.ContainsAny(typed, "0123456789") {
		return "", false, nil
	}
	done, still := slices.Contains(bareDone(), typed), slices.Contains(append(unchanged(), sameGrind()...), typed)
	if !done && !still {
		return "", false, nil
	}
	if e, ok := orderDone(r); ok && done {
		return turn.PressState(turn.PressShot, e.ID, say.ShotYes), true, nil
	}
	said, open, err := openAdvice(t, r)
	if e, ok := which.JustPulled(r); still && ok && slices.Contains(sameGrind(), typed) { // else it is of that shot
		open = open && said.Lever == bar.Grind && e.What.(bar.Shot).Grind.From == bar.Said
	}
	if done {
		return turn.PressState(turn.PressDid, said.Entry), open, err
	}
	return turn.PressState(turn.PressStill, said.Entry), open, err
}

// stillFigure takes "still 36" for the dose or the yield that it is near: that what was
// advised of it was not done, or that the shot did not have it. "Still 5.4" is of the dial
// where that is where it was to be turned from.
func stillFigure(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Correction) ([]turn.Out, bool, error) {
	s, ok := e.What.(bar.Shot)
	if !ok || !p.Still || p.Grind.Relative || p.Grind.Odd {
		return nil, false, nil
	}
	list, _ := figures.Readings(r, s, p.Grind.X, false)
	list = slices.DeleteFunc(list, func(f say.Figure) bool { return f == say.TimeFigure }) // no time stays
	if len(list) != 1 {
		return nil, false, nil
	}
	said, open, err := openAdvice(t, r)
	if list[0] == say.DialFigure {
		if err != nil || !open || said.Lever != bar.Grind || said.Unit != advisor.DialUnit || said.Entry != e.ID || math.Abs(said.From-p.Grind.X) > 1e-6 {
			return nil, false, err
		}
		outs, err := PressDid(t, r, e, false)
		return outs, true, err
	}
	if err != nil || open && said.Lever != bar.Grind && said.Entry == e.ID && math.Abs(said.From-p.Grind.X) < 0.05 {
		outs, err := PressDid(t, r, e, false)
		return outs, true, err
	}
	p = figures.Only(parse.Correction{Bare: parse.Number{X: p.Grind.X, Said: true}}, list[0])
	outs, err := correctShot(t, r, e, p)
	return outs, true, err
}

// DoneOtherwise takes where the dial was put, or how far it was turned, behind a word that
// what was advised of it was done, or a place alone: "done, 5.0", "yes 4.9", "5.0".
func DoneOtherwise(t *turn.Turn, r *recent.Book) ([]turn.Out, bool, error) {
	rest, said := afterDone(strings.ToLower(strings.TrimSpace(t.Msg.Text)))
	if !said && !mayBePlace(rest) || t.Msg.ReplyTo != "" {
		return nil, false, nil
	}
	if e, pulled := which.JustPulled(r); !said && pulled && e.What.(bar.Shot).Grind.From == bar.None { // it answers where the dial was
		return nil, false, nil
	}
	m, err := parse.Shorthand("now "+rest, r.Vocab())
	set, ok := m.(parse.Set)
	if err != nil || !ok || !set.Grind.Said || !said && set.Grind.Text != rest {
		return nil, false, nil
	}
	advice, open, err := openAdvice(t, r)
	if err != nil || !open || advice.Lever != bar.Grind {
		return nil, false, err
	}
	set.Weak, set.Label = !said, false
	if set.Grinder == 0 && set.Coffee == 0 {
		set.Grinder = advice.Grinder
	}
	outs, err := Set(t, r, set)
	return outs, err != nil || len(outs) > 0, err
}

// mayBePlace reports whether text may be a place on a dial alone: it has a fraction, and no
// more numbers than one between two has.
func mayBePlace(text string) bool { return !manyNumbers(text) && strings.ContainsAny(text, ".,") }

// manyNumbers reports whether text has the numbers of a shot.
func manyNumbers(text string) bool {
	numbers := 0
	for word := range strings.FieldsSeq(text) {
		if '0' <= word[0] && word[0] <= '9' {
			numbers++
		}
	}
	return numbers > 2
}

// afterDone returns what stands behind a word that advice was done, and whether one does.
func afterDone(text string) (rest string, said bool) {
	if text == "" || '0' <= text[0] && text[0] <= '9' {
		return text, false
	}
	for _, done := range append(bareDone(), "ok", "okay", "yes", "yep", "yeah", "ja", "jo", "sì", "si", "oui", "sí", "sim", "gemacht", "fatto", "hecho", "feito", "did it") {
		after, ok := strings.CutPrefix(text, done)
		if trimmed := strings.TrimLeft(after, " ,:-"); ok && trimmed != after && (!said || len(trimmed) < len(rest)) {
			rest, said = trimmed, true
		}
	}
	if !said {
		return text, false
	}
	return rest, true
}
