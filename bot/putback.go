package bot

import (
	"slices"
	"strings"

	"shothand/bot/turn"
	"shothand/store"
)

// putBackWords are the ways to say that what was just taken out, or put right, is to stand as
// it was.
func putBackWords() []string {
	return []string{
		"put it back", "put that back", "take it back", "take that back", "bring it back", "bring that back", "redo", "restore", "restore it", "restore that", "undo the undo", "undo that undo", "keep it", "keep that one", "keep it after all", "i want it back", "un-delete", "undelete", "undelete it", "put it back in", "leave it in", "leave that in",
		"wiederherstellen", "wieder rein", "doch drin lassen", "doch behalten", "behalten", "hol ihn zurück", "zurückholen", "doch nicht löschen", "rückgängig",
		"rimettilo", "rimettila", "lascialo", "tienila", "ripristina", "ripristinalo", "tienilo", "lo rivoglio",
		"remets-le", "remets le", "remettez-le", "rétablis", "rétablis-le", "garde-le", "garde le",
		"ponlo de vuelta", "restáuralo", "recupéralo", "devuélvelo", "vuelve a ponerlo",
		"põe de volta", "poe de volta", "repõe", "restaura", "recupera", "recupera-o",
	}
}

// mostPutBack is how many words such a message has at the most.
const mostPutBack = 8

// saysPutBack reports whether a message without a number says so, whatever stands around it:
// "hm keep it actually", "nah it was fine, put it back in".
func saysPutBack(said string) bool {
	said = " " + strings.NewReplacer(",", " ", "!", " ", "?", " ", ".", " ").Replace(said) + " "
	if len(strings.Fields(said)) > mostPutBack || strings.ContainsAny(said, "0123456789") {
		return false
	}
	said = " " + strings.Join(strings.Fields(said), " ") + " "
	return slices.ContainsFunc(putBackWords(), func(words string) bool { return strings.Contains(said, " "+words+" ") })
}

// putBack does so. False where a message says no such thing, or nothing was taken out in the
// last minutes.
func putBack(t *turn.Turn) ([]turn.Out, bool, error) {
	if !saysPutBack(turn.Plain(t.Msg.Text)) {
		return nil, false, nil
	}
	var gone, back store.Reply
	err := t.See(func(tx *store.Tx) (err error) {
		if gone, _, err = tx.ReplyOf(t.Bar.ID, turn.GoneKey(t.Who.ID)); err != nil {
			return err
		}
		back, _, err = tx.ReplyOf(t.Bar.ID, turn.BackKey(t.Who.ID))
		return err
	})
	if err != nil {
		return nil, false, err
	}
	last := gone
	if len(gone.Taps) == 0 || len(back.Taps) > 0 && back.At.After(gone.At) {
		last = back
	}
	if len(last.Taps) == 0 || t.Now.Sub(last.At) > turn.AnswerWindow {
		return nil, false, nil
	}
	outs, err := pressTyped(t, last.Taps[0].State)
	if err != nil {
		return nil, true, err
	}
	t.Later(func(tx *store.Tx) error { return t.KeepGone(tx, 0) })
	if t.KeptBack == "" {
		t.Later(func(tx *store.Tx) error { return t.KeepBack(tx, "") })
	}
	return outs, true, nil
}
