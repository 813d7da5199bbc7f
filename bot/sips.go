package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/tasting"
	"shothand/store"
)

// saidOfCups takes a message that says what is in the cups, while a tasting is
// going on. It is false for all others.
func (t *turn) saidOfCups(r *room) ([]Out, bool, error) {
	e, ok := tasting.Open(r.recent, r.now)
	if !ok || strings.HasPrefix(strings.TrimSpace(t.m.Text), "/") {
		return nil, false, nil
	}
	l := e.What.(bar.Layers)
	said, ours, err := parse.CupWords(t.m.Text, l.Blind)
	if !ours && err == nil || (said.Better != "") != (l.Pair.New > 0) {
		return nil, false, nil
	}
	if err != nil {
		return nil, true, err
	}
	b, err := t.tastings(r).Table(e)
	if err != nil {
		return nil, true, err
	}
	outs, err := t.sip(r, b, said)
	return outs, true, err
}

// sip records what somebody says of the cups, and keeps it back until all are
// in or the leader shows it.
func (t *turn) sip(r *room, b layers.Table, said parse.Cups) ([]Out, error) {
	s, err := tasting.Read(t.in(), b, t.who.ID, said)
	if err != nil {
		return nil, err
	}
	s.Layers = b.Entry.ID
	return t.recordSips(r, b, s)
}

// recordSips records what somebody says of the cups, and answers it.
func (t *turn) recordSips(r *room, b layers.Table, s bar.Sips) ([]Out, error) {
	ahead := s.Split > b.Begun.Split
	b.Begun.Split = max(b.Begun.Split, s.Split)
	s.After = b.Shown(s.Split)
	entry := bar.Entry{ID: provisional, Person: t.who.ID, At: t.now, Day: r.day, What: s}
	b.Sips = append(slices.Clone(b.Sips), entry)
	show := !s.After && b.Begun.Tasters > 0 && b.In(s.Split) >= b.Begun.Tasters
	if show {
		b.Show(s.Split)
	}
	err := t.update(func(tx *store.Tx) error {
		if _, err := t.add(tx, r, s); err != nil {
			return err
		}
		if ahead || show {
			b.Entry.What = b.Begun
			if err := tx.PutEntry(t.bar.ID, b.Entry); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return t.answerSips(r, b, s, show)
}

// answerSips tells who tasted what was understood, and all what was said if it
// is time.
func (t *turn) answerSips(r *room, b layers.Table, s bar.Sips, show bool) ([]Out, error) {
	mine := t.post(chat.Recorded, t.own().KeptCups(b, t.who.ID, s))
	mine.Private = true
	outs := []Out{{Post: mine}}
	if warned, ok := t.caution(r, b.Sips[len(b.Sips)-1]); ok {
		outs = append(outs, Out{Post: warned})
	}
	switch {
	case show:
		account, err := t.accountPost(r, b, false, false)
		return append(outs, Out{Post: account}), err
	case s.After && b.OfPair():
		return append(outs, Out{Post: t.post(chat.Info, t.in().Pair(b))}), nil
	case s.After:
		late := t.post(chat.Info, t.in().LateCups(b, r.people, t.who.ID, s))
		return append(outs, Out{Post: late}), nil
	}
	return outs, nil
}

// reveal shows what all have said so far.
func (t *turn) reveal(r *room, b layers.Table) ([]Out, error) {
	split := b.Begun.Split
	if b.OfPair() {
		split = 0
	}
	switch {
	case !t.leads(b):
		return nil, mistake(t.own().Say(say.NotLeader))
	case len(b.Tasters(split)) == 0 || b.Begun.IsStruck(split):
		return nil, mistake(t.own().Say(say.NothingToShow))
	case b.Shown(split):
		return nil, mistake(t.own().Say(say.ShownAlready))
	}
	b.Show(split)
	if err := t.update(func(tx *store.Tx) error { return t.put(tx, b) }); err != nil {
		return nil, err
	}
	p, err := t.accountPost(r, b, false, false)
	return []Out{{Post: p}}, err
}

// editedSips puts right what somebody said of the cups.
func (t *turn) editedSips(r *room, e bar.Entry, old bar.Sips) ([]Out, error) {
	of, err := t.stored(old.Layers)
	if err != nil {
		return nil, err
	}
	l, _ := of.What.(bar.Layers)
	said, ours, err := parse.CupWords(t.m.Text, l.Blind)
	if err != nil {
		return nil, err
	}
	if !ours {
		return t.takeOut(r, e, "")
	}
	b, err := t.tastings(r).Table(of)
	if err != nil {
		return nil, err
	}
	if said.Split == 0 {
		said.Split = old.Split
	}
	s, err := tasting.Read(t.in(), b, e.Person, said)
	if err != nil {
		return nil, err
	}
	s.Layers, s.Split = old.Layers, old.Split
	s.After = old.After || b.Shown(s.Split)
	e.Raw, e.What, e.Deleted = t.m.Text, s, false
	err = t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) })
	if err != nil {
		return nil, err
	}
	if b, err = t.tastings(r).Table(of); err != nil {
		return nil, err
	}
	p := t.post(chat.Recorded, t.own().Say(say.Corrected)+" "+t.own().KeptCups(b, e.Person, s))
	p.Private = true
	return []Out{{Post: p}}, nil
}

// caution returns what somebody hears whose tastings of the day have passed
// the mark with this entry, which the room does not hold yet. So it is said
// once.
func (t *turn) caution(r *room, e bar.Entry) (chat.Post, bool) {
	after := tasting.CaffeineOf(e.Person, e.Day, with(r.recent, e))
	if e.Person == 0 || !after.Past() || tasting.CaffeineOf(e.Person, e.Day, r.recent).Past() {
		return chat.Post{}, false
	}
	p := t.post(chat.Info, t.own().Caution(after.Low, after.High))
	p.Private = true
	return p, true
}
