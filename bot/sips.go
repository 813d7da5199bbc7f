package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/store"
)

// atTheTable takes a message that says what is in the cups, while a tasting is
// going on. It is false for all others.
func (t *turn) atTheTable(r *room) ([]Out, bool, error) {
	e, ok := r.openTable()
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
	b, err := t.tableOf(r, e)
	if err != nil {
		return nil, true, err
	}
	outs, err := t.sip(r, b, said)
	return outs, true, err
}

// sip records what somebody says of the cups, and keeps it back until all are
// in or the leader shows it.
func (t *turn) sip(r *room, b table, said parse.Cups) ([]Out, error) {
	s, err := b.read(t.who.ID, said)
	if err != nil {
		return nil, err
	}
	s.Layers = b.entry.ID
	return t.seat(r, b, s)
}

// seat records sips at a table and answers them.
func (t *turn) seat(r *room, b table, s bar.Sips) ([]Out, error) {
	ahead := s.Split > b.begun.Split
	b.begun.Split = max(b.begun.Split, s.Split)
	s.After = b.shown(s.Split)
	entry := bar.Entry{ID: provisional, Person: t.who.ID, At: t.now, Day: r.day, What: s}
	b.sips = append(slices.Clone(b.sips), entry)
	show := !s.After && b.begun.Tasters > 0 && b.in(s.Split) >= b.begun.Tasters
	if show {
		b.show(s.Split)
	}
	err := t.store.Update(func(tx *store.Tx) error {
		if _, err := t.add(tx, r, s); err != nil {
			return err
		}
		if ahead || show {
			b.entry.What = b.begun
			if err := tx.PutEntry(t.bar.ID, b.entry); err != nil {
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
func (t *turn) answerSips(r *room, b table, s bar.Sips, show bool) ([]Out, error) {
	mine := t.post(chat.Recorded, b.keptText(t.who.ID, s))
	mine.Private = true
	outs := []Out{{Post: mine}}
	if warned, ok := t.caution(r, b.sips[len(b.sips)-1]); ok {
		outs = append(outs, Out{Post: warned})
	}
	switch {
	case show:
		account, err := t.accountPost(r, b, false, false)
		return append(outs, Out{Post: account}), err
	case s.After && b.ofPair():
		return append(outs, Out{Post: t.post(chat.Info, b.pairText())}), nil
	case s.After:
		late := t.post(chat.Info, b.lateText(r.people, t.who.ID, s))
		return append(outs, Out{Post: late}), nil
	}
	return outs, nil
}

// read turns what a message says into sips of the cups on this table.
func (b table) read(who bar.PersonID, said parse.Cups) (bar.Sips, error) {
	s := bar.Sips{Split: said.Split, Sips: said.Sips, Order: said.Order, Better: said.Better}
	switch {
	case b.ofPair() && who == b.entry.Person:
		return s, mistake(leaderVotesText)
	case b.ofPair() && said.Better == "":
		return s, mistake(pairOnlyText)
	case b.ofPair():
		return bar.Sips{Better: said.Better}, nil
	case said.Better != "":
		return s, mistake(noPairText)
	}
	if b.begun.Blind {
		if slices.ContainsFunc(said.Sips, func(x bar.Note) bool { return x.Of != bar.Whole }) {
			return s, mistake(lettersText)
		}
	} else if len(said.Lets) > 0 || said.Order != "" {
		return s, mistake(notBlindText)
	}
	for _, x := range said.Lets {
		x.Of = bar.Layer(strings.Index(b.begun.Key, x.Letter))
		s.Sips = append(s.Sips, x.Note)
	}
	if len(s.Sips) == 0 && s.Order == "" {
		return s, mistake(noCupsText)
	}
	if s.Split == 0 {
		s.Split = b.turnOf(who)
	}
	if s.Split > b.begun.Split+1 || b.begun.IsStruck(s.Split) {
		return s, mistake(noSuchSplitText(s.Split))
	}
	return s, nil
}

// turnOf returns the split that somebody is at: the one being tasted, or the
// next if that was shown and they have tasted it, or it was struck out.
func (b table) turnOf(who bar.PersonID) int {
	split := b.begun.Split
	if b.begun.IsStruck(split) || b.begun.IsShown(split) && b.of(who, split).Complete() {
		return split + 1
	}
	return split
}

// of returns what somebody has said of the cups of a split, the last word of
// each.
func (b table) of(who bar.PersonID, split int) layers.Tasting {
	all := layers.Tasting{Taster: uint64(who), Split: split}
	for _, e := range b.sips {
		if s := e.What.(bar.Sips); e.Person == who && s.Split == split {
			all = all.With(layers.Tasting{Sips: s.Sips})
		}
	}
	return all
}

// tasters returns who has said anything of a split, in the order they began.
func (b table) tasters(split int) []bar.PersonID {
	var all []bar.PersonID
	for _, e := range b.sips {
		if s := e.What.(bar.Sips); s.Split == split && !slices.Contains(all, e.Person) {
			all = append(all, e.Person)
		}
	}
	return all
}

// in returns how many are done with a split, or with the pair.
func (b table) in(split int) int {
	n := 0
	for _, who := range b.tasters(split) {
		if b.ofPair() || b.of(who, split).Complete() {
			n++
		}
	}
	return n
}

// late reports whether somebody had begun with a split only after it was shown.
func (b table) late(who bar.PersonID, split int) bool {
	for _, e := range b.sips {
		if s := e.What.(bar.Sips); e.Person == who && s.Split == split {
			return s.After
		}
	}
	return false
}

// shown reports whether a split, or the pair, has been shown.
func (b table) shown(split int) bool {
	return b.ofPair() && b.begun.Pair.Shown || !b.ofPair() && b.begun.IsShown(split)
}

// show notes that it has been.
func (b *table) show(split int) {
	if b.ofPair() {
		b.begun.Pair.Shown = true
		return
	}
	b.begun.Shown = append(slices.Clone(b.begun.Shown), split)
}

// order returns what somebody put the cups of a split in, or nothing.
func (b table) order(who bar.PersonID, split int) string {
	order := ""
	for _, e := range b.sips {
		if s := e.What.(bar.Sips); e.Person == who && s.Split == split && s.Order != "" && !s.After {
			order = s.Order
		}
	}
	return order
}

// reveal shows what all have said so far.
func (t *turn) reveal(r *room, b table) ([]Out, error) {
	split := b.begun.Split
	if b.ofPair() {
		split = 0
	}
	switch {
	case !t.leads(b):
		return nil, mistake(notLeaderText)
	case len(b.tasters(split)) == 0 || b.begun.IsStruck(split):
		return nil, mistake(nothingToShowText)
	}
	if !b.shown(split) {
		b.show(split)
		if err := t.store.Update(func(tx *store.Tx) error { return t.put(tx, b) }); err != nil {
			return nil, err
		}
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
	b, err := t.tableOf(r, of)
	if err != nil {
		return nil, err
	}
	if said.Split == 0 {
		said.Split = old.Split
	}
	s, err := b.read(e.Person, said)
	if err != nil {
		return nil, err
	}
	s.Layers, s.Split = old.Layers, old.Split
	s.After = old.After || b.shown(s.Split)
	e.Raw, e.What, e.Deleted = t.m.Text, s, false
	err = t.store.Update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) })
	if err != nil {
		return nil, err
	}
	if b, err = t.tableOf(r, of); err != nil {
		return nil, err
	}
	p := t.post(chat.Recorded, correctedText+" "+b.keptText(e.Person, s))
	p.Private = true
	return []Out{{Post: p}}, nil
}
