package bot

import (
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/say"
	"shothand/store"
)

// today tells where each coffee stands: the card of the day.
func (t *turn) today(r *room) ([]Out, error) {
	text, err := t.card(r)
	if err != nil {
		return nil, err
	}
	for _, e := range r.recent {
		if held, asked := e.What.(bar.Held); asked && held.Device == 0 && e.Day == r.day && !e.Deleted {
			text += "\n" + t.in().Waits(e, r.name(e.Person))
		}
	}
	return t.say(chat.Info, text), nil
}

// todayLines returns one for each coffee on the bar.
func (t *turn) todayLines(r *room) ([]say.Today, error) {
	var lines []say.Today
	for _, c := range r.onBar() {
		o, err := t.look(c)
		if err != nil {
			return nil, err
		}
		l := say.Today{Outlook: o, Coffee: c, Caller: r.name(o.Called.Person)}
		l.Grinder, _ = r.grinder(c.Grinder)
		if l.Next, err = t.nextMove(r, l); err != nil {
			return nil, err
		}
		if o.State == advisor.Dialling {
			l.CalledAt, l.Opened = r.reopened(c, l.Grinder)
			l.Next.Done = l.Next.Done || l.Opened.At.After(l.Last.At) // what was advised was of the coffee before
		}
		lines = append(lines, l)
	}
	return lines, nil
}

// nextMove returns what to do with a coffee: as its newest shot was answered, else
// what brings a drift back.
func (t *turn) nextMove(r *room, l say.Today) (m say.Move, err error) {
	if l.State == advisor.Drifting {
		m = say.Move{Lever: l.Drift.Lever, From: l.Drift.From, To: l.Drift.To, Unit: l.Drift.Unit}
	}
	var said store.Said
	var ok bool
	err = t.store.View(func(tx *store.Tx) (err error) {
		said, ok, err = tx.AdviceOf(t.bar.ID, l.Last.ID)
		return err
	})
	moves := said.Lever == bar.Grind || said.Lever == bar.Yield || said.Lever == bar.Dose
	if err != nil || !ok || said.Voided || l.State == advisor.Drifting && !moves {
		return m, err
	}
	m = say.Move{Lever: said.Lever, From: said.From, To: said.To, Unit: said.Unit, Done: said.Followed}
	set, ok := r.dialSet(bar.Entry{At: t.now}, said.Grinder)
	at := set.Dial.From != bar.None && said.Unit == advisor.DialUnit && set.Dial.X == bar.Dial(said.To)
	m.Done = m.Done || ok && said.Lever == bar.Grind && (at || said.Unit == advisor.StepUnit && set.Turned == said.To)
	return m, nil
}

// reopened returns when a coffee was called dialled in today, where that no longer
// stands, and what was told since that has opened it.
func (r *room) reopened(c bar.Coffee, g bar.Grinder) (called time.Time, by say.Happening) {
	for _, e := range r.recent {
		if e.Day != r.day || e.Deleted {
			continue
		}
		switch w := e.What.(type) {
		case bar.Dialled:
			if w.Coffee == c.ID {
				called, by = e.At, say.Happening{}
			}
		case bar.Told:
			its := w.Coffee == c.ID || w.Coffee == 0 && (w.Grinder == 0 || w.Grinder == g.ID)
			if its && w.Event != bar.Moved && !called.IsZero() && by.Text == "" {
				by = say.Happening{At: e.At, Text: r.in().EventName(w, c.Name, g.Name), Who: r.name(e.Person)}
			}
		case bar.Shot, bar.Words, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
	}
	return called, by
}

// why gives the whole account of the last advice on a coffee.
func (t *turn) why(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	h, err := t.history(coffee.ID)
	if err != nil {
		return nil, err
	}
	a, ok := t.advise(h, coffee.ID, t.now)
	if !ok {
		return nil, mistake(t.own().NotPulled(coffee))
	}
	v, err := t.view(h, a)
	if err != nil {
		return nil, err
	}
	text := v.Why()
	if other := v.Otherwise(t.ifTasted(h, a)); other != "" {
		text += "\n" + other
	}
	if said(c, "more") {
		if trail, ok := advisor.TrailOf(h, coffee.ID, t.now); ok && review.HasShown(trail.Worth) { // as the review and the page say it
			v.Learnt.Step = bar.Seconds(trail.Worth.Mid)
		}
		text += "\n" + v.LearntMore()
	}
	if told := r.happenings(); len(told) > 0 {
		text += "\n" + t.in().HappenedToday(told)
	}
	post := t.post(chat.Info, text)
	post.Data = v.Data()
	if said(c, "curve") {
		post.Files, err = lookback.ChancesFiles(t.in(), coffee, t.chances(h, coffee.ID, t.now), isDark(c))
	}
	return []Out{{Post: post}}, err
}

// ifTasted returns what would be advised if all that was said of the last cup were
// one word, for a few words.
func (t *turn) ifTasted(h bar.History, a advisor.Advice) map[string]advisor.Advice {
	if a.State != advisor.Dialling {
		return nil
	}
	other := map[string]advisor.Advice{}
	for _, word := range say.TasteTaps() {
		words, _ := taste.Default().Read(word)
		told := h
		told.Entries = slices.Clone(h.Entries)
		for i, e := range told.Entries {
			if w, ok := e.What.(bar.Words); ok && w.Shot == a.Shot {
				told.Entries[i].Deleted = true
			}
			if s, ok := e.What.(bar.Shot); ok && e.ID == a.Shot {
				s.Words = words
				told.Entries[i].What = s
			}
		}
		if b, ok := t.advise(told, a.Coffee, t.now); ok {
			other[word] = b
		}
	}
	return other
}
