package cups

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
	"shothand/bot/shots"
	"shothand/bot/tasting"
	"shothand/bot/turn"
	"shothand/store"
)

// SaidOfCups takes a message that says what is in the cups, while a tasting is
// going on. It is false for all others.
func SaidOfCups(t *turn.Turn, r *recent.Book) ([]turn.Out, bool, error) {
	e, ok := tasting.Open(r.Recent, r.Now)
	if !ok || strings.HasPrefix(strings.TrimSpace(t.Msg.Text), "/") {
		return nil, false, nil
	}
	l := e.What.(bar.Layers)
	said, ours, err := parse.CupWords(t.Msg.Text, l.Blind)
	if !ours && err == nil || (said.Better != "") != (l.Pair.New > 0) {
		return nil, false, nil
	}
	if err != nil {
		return nil, true, err
	}
	b, err := Tastings(t, r).Table(e)
	if err != nil {
		return nil, true, err
	}
	outs, err := sip(t, r, b, said)
	return outs, true, err
}

// sip records what somebody says of the cups, and keeps it back until all are
// in or the leader shows it.
func sip(t *turn.Turn, r *recent.Book, b layers.Table, said parse.Cups) ([]turn.Out, error) {
	s, err := tasting.Read(t.Lang(), b, t.Who.ID, said)
	if err != nil {
		return nil, err
	}
	s.Layers = b.Entry.ID
	return recordSips(t, r, b, s)
}

// recordSips records what somebody says of the cups, and answers it.
func recordSips(t *turn.Turn, r *recent.Book, b layers.Table, s bar.Sips) ([]turn.Out, error) {
	ahead := s.Split > b.Begun.Split
	b.Begun.Split = max(b.Begun.Split, s.Split)
	s.After = b.Shown(s.Split)
	entry := bar.Entry{ID: recent.Provisional, Person: t.Who.ID, At: t.Now, Day: r.Day, What: s}
	b.Sips = append(slices.Clone(b.Sips), entry)
	show := !s.After && b.Begun.Tasters > 0 && b.In(s.Split) >= b.Begun.Tasters
	if show {
		b.Show(s.Split)
	}
	err := t.Update(func(tx *store.Tx) error {
		if _, err := add(t, tx, r, s); err != nil {
			return err
		}
		if ahead || show {
			b.Entry.What = b.Begun
			if err := tx.PutEntry(t.Bar.ID, b.Entry); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return answerSips(t, r, b, s, show)
}

// answerSips tells who tasted what was understood, and all what was said if it
// is time.
func answerSips(t *turn.Turn, r *recent.Book, b layers.Table, s bar.Sips, show bool) ([]turn.Out, error) {
	outs := []turn.Out{{Post: t.PrivatePost(chat.Recorded, bycup.In(t.WriterLang()).KeptCups(b, t.Who.ID, s))}}
	if warned, ok := answer.Caution(t, r, b.Sips[len(b.Sips)-1]); ok {
		outs = append(outs, turn.Out{Post: warned})
	}
	switch {
	case show:
		account, err := accountPost(t, r, b, s.Split, false)
		return append(outs, turn.Out{Post: account}), err
	case s.After && b.OfPair():
		return append(outs, turn.Out{Post: t.Post(chat.Info, bycup.In(t.Lang()).Pair(b))}), nil
	case s.After:
		late := t.Post(chat.Info, bycup.In(t.Lang()).LateCups(b, r.People, t.Who.ID, s))
		return append(outs, turn.Out{Post: late}), nil
	}
	return outs, nil
}

// reveal shows what all have said so far.
func reveal(t *turn.Turn, r *recent.Book, b layers.Table) ([]turn.Out, error) {
	split := b.Begun.Split
	if b.OfPair() {
		split = 0
	}
	switch {
	case !leads(t, b):
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NotLeader))
	case len(b.Tasters(split)) == 0 || b.Begun.IsStruck(split):
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NothingToShow))
	case b.Shown(split):
		return nil, turn.Mistake(t.WriterLang().Say(bycup.ShownAlready))
	}
	b.Show(split)
	if err := t.Update(func(tx *store.Tx) error { return put(t, tx, b) }); err != nil {
		return nil, err
	}
	p, err := accountPost(t, r, b, split, false)
	return []turn.Out{{Post: p}}, err
}

// EditedSips puts right what somebody said of the cups.
func EditedSips(t *turn.Turn, r *recent.Book, e bar.Entry, old bar.Sips) ([]turn.Out, error) {
	of, err := t.Stored(old.Layers)
	if err != nil {
		return nil, err
	}
	l, _ := of.What.(bar.Layers)
	said, ours, err := parse.CupWords(t.Msg.Text, l.Blind)
	if err != nil {
		return nil, err
	}
	if !ours {
		return shots.TakeOut(t, r, e, "")
	}
	b, err := Tastings(t, r).Table(of)
	if err != nil {
		return nil, err
	}
	if said.Split == 0 {
		said.Split = old.Split
	}
	s, err := tasting.Read(t.Lang(), b, e.Person, said)
	if err != nil {
		return nil, err
	}
	s.Layers, s.Split = old.Layers, old.Split
	s.After = old.After || b.Shown(s.Split)
	e.Raw, e.What, e.Deleted = t.Msg.Text, s, false
	err = t.Update(func(tx *store.Tx) error { return tx.PutEntry(t.Bar.ID, e) })
	if err != nil {
		return nil, err
	}
	if b, err = Tastings(t, r).Table(of); err != nil {
		return nil, err
	}
	p := t.PrivatePost(chat.Recorded, t.WriterLang().Say(say.Corrected)+" "+bycup.In(t.WriterLang()).KeptCups(b, e.Person, s))
	return []turn.Out{{Post: p}}, nil
}
