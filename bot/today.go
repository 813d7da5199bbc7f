package bot

import (
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/advisor/taste"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// today tells where each coffee stands: the card of the day.
func today(t *turn.Turn, r *recent.Book) ([]turn.Out, error) {
	text, err := cardText(t, r)
	if err != nil {
		return nil, err
	}
	waits := waiting(t, r)
	if len(waits) > 0 && len(r.OnBar()) == 0 { // a shot was posted
		text = t.Lang().NoCoffee("", nil)
	}
	return t.Says(chat.Info, strings.Join(append([]string{text}, waits...), "\n")), nil
}

// waiting tells what was asked today and not answered.
func waiting(t *turn.Turn, r *recent.Book) (lines []string) {
	for _, e := range r.Recent {
		if held, asked := e.What.(bar.Held); asked && held.Device == 0 && e.Day == r.Day && !e.Deleted {
			lines = append(lines, t.Lang().Waits(e, r.NameOf(e.Person)))
		}
	}
	return lines
}

// todayLines returns one for each coffee on the bar.
func todayLines(t *turn.Turn, r *recent.Book) ([]say.Today, error) {
	var lines []say.Today
	for _, c := range r.OnBar() {
		l, err := todayLine(t, r, c)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	return lines, nil
}

// todayLine returns where a coffee stands today.
func todayLine(t *turn.Turn, r *recent.Book, c bar.Coffee) (say.Today, error) {
	o, err := t.Look(c)
	if err != nil {
		return say.Today{}, err
	}
	l := say.Today{Outlook: o, Coffee: c, Caller: r.NameOf(o.Called.Person)}
	l.Grinder, _ = r.Grinder(c.Grinder)
	if l.Next, err = nextMove(t, r, l); err != nil {
		return l, err
	}
	if o.State == advisor.Drifting {
		if l.Drift.Since, err = answer.Since(t, c.ID, o.Drift); err != nil {
			return l, err
		}
	}
	l.Tasted, l.Last = r.TastedBy(o.Last, 0), r.AsNumbered(o.Last)
	if o.State == advisor.Dialling {
		l.CalledAt, l.Opened = reopened(r, c, l.Grinder)
		l.Next.Done = l.Next.Done || l.Opened.At.After(l.Last.At) // what was advised was of the coffee before
	}
	return l, nil
}

// nextMove returns what to do with a coffee: as its newest shot was answered, else
// what brings a drift back.
func nextMove(t *turn.Turn, r *recent.Book, l say.Today) (m say.Move, err error) {
	if l.State == advisor.Drifting {
		m = say.Move{Lever: l.Drift.Lever, From: l.Drift.From, To: l.Drift.To, Unit: l.Drift.Unit}
	}
	said, ok, err := t.AdviceOf(l.Last.ID)
	moves := said.Lever == bar.Grind || said.Lever == bar.Yield || said.Lever == bar.Dose
	if err != nil || !ok || said.Voided || l.State == advisor.Drifting && !moves {
		return m, err
	}
	m = say.Move{Lever: said.Lever, From: said.From, To: said.To, Unit: said.Unit, Done: said.Followed}
	set, ok := r.DialSet(bar.Entry{At: t.Now}, said.Grinder)
	at := set.Dial.From != bar.None && said.Unit == advisor.DialUnit && set.Dial.X == bar.Dial(said.To)
	m.Done = m.Done || ok && said.Lever == bar.Grind && (at || said.Unit == advisor.StepUnit && set.Turned == said.To)
	return m, nil
}

// reopened returns when a coffee was called dialled in today, where that no longer
// stands, and what was told since that has opened it.
func reopened(r *recent.Book, c bar.Coffee, g bar.Grinder) (called time.Time, by say.Happening) {
	for _, e := range r.Recent {
		if e.Day != r.Day || e.Deleted {
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
				by = say.Happening{At: e.At, Text: r.Lang().EventName(w, c.Name, g.Name), Who: r.NameOf(e.Person)}
			}
		case bar.Shot, bar.Words, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
	}
	return called, by
}

// why gives the whole account of the last advice on a coffee.
func why(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	if len(r.OnBar()) == 0 && len(waiting(t, r)) > 0 {
		return today(t, r)
	}
	coffee, err := t.Meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	h, err := t.History(coffee.ID)
	if err != nil {
		return nil, err
	}
	a, ok := t.Advise(h, coffee.ID, t.Now)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().NotPulled(coffee))
	}
	v, err := answer.View(t, h, a)
	if err != nil {
		return nil, err
	}
	text := v.Why()
	if other := v.Otherwise(ifTasted(t, h, a)); other != "" {
		text += "\n" + other
	}
	if turn.Said(c, "more") {
		if trail, ok := advisor.TrailOf(h, coffee.ID, t.Now); ok && review.HasShown(trail.Worth) { // as the review and the page say it
			v.Learnt.Step = bar.Seconds(trail.Worth.Mid)
		}
		text += "\n" + v.LearntMore()
	}
	if told := r.Happenings(); len(told) > 0 {
		text += "\n" + t.Lang().HappenedToday(told)
	}
	post := t.Post(chat.Info, text)
	post.Data = v.Data()
	if turn.Said(c, "curve") {
		post.Files, err = lookback.ChancesFiles(t.Lang(), coffee, t.Chances(h, coffee.ID, t.Now), turn.IsDark(c))
	}
	return []turn.Out{{Post: post}}, err
}

// ifTasted returns what would be advised if all that was said of the last cup were
// one word, for a few words.
func ifTasted(t *turn.Turn, h bar.History, a advisor.Advice) map[string]advisor.Advice {
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
		if b, ok := t.Advise(told, a.Coffee, t.Now); ok {
			other[word] = b
		}
	}
	return other
}
