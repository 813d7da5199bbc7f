package bot

import (
	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
)

// today tells where each coffee stands: the card of the day.
func (t *turn) today(r *room) ([]Out, error) {
	text, err := t.card(r)
	if err != nil {
		return nil, err
	}
	return t.say(chat.Info, text), nil
}

// A todayLine is where one coffee stands today.
type todayLine struct {
	advisor.Outlook
	coffee  bar.Coffee
	grinder bar.Grinder
	caller  string // who called it dialled in
}

// last returns the coffee's newest shot.
func (l todayLine) last() bar.Shot {
	s, _ := l.Last.What.(bar.Shot)
	return s
}

// earned returns the shot that was called dialled in.
func (l todayLine) earned() bar.Shot {
	s, _ := l.Earned.What.(bar.Shot)
	return s
}

// todayLines returns one for each coffee on the bar.
func (t *turn) todayLines(r *room) ([]todayLine, error) {
	var lines []todayLine
	for _, c := range r.onBar() {
		o, err := t.look(c)
		if err != nil {
			return nil, err
		}
		l := todayLine{Outlook: o, coffee: c, caller: r.name(o.Called.Person)}
		l.grinder, _ = r.grinder(c.Grinder)
		lines = append(lines, l)
	}
	return lines, nil
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
		return nil, mistake(notPulledText(coffee))
	}
	v, err := t.view(h, a)
	if err != nil {
		return nil, err
	}
	text := v.whyText()
	if said(c, "more") {
		text += "\n" + v.learntText()
	}
	if told := r.happenings(); len(told) > 0 {
		text += "\n" + happenedTodayText(told)
	}
	post := t.post(chat.Info, text)
	post.Data = v.data()
	return []Out{{Post: post}}, nil
}
