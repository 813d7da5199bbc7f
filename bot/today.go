package bot

import (
	"slices"

	"shothand/advisor"
	"shothand/bot/chat"
)

// today tells where each coffee stands.
func (t *turn) today(r *room) ([]Out, error) {
	var lines []todayLine
	for _, c := range r.onBar() {
		l, err := t.todayLine(r, c)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	return t.say(chat.Info, todayText(r.day, lines, r.happenings())), nil
}

// A todayLine is where one coffee stands today.
type todayLine struct {
	coffee  advisor.Coffee
	grinder advisor.Grinder
	shots   int
	last    advisor.Shot
	state   advisor.State
	caller  string // who called it dialled in
	called  advisor.Entry
}

func (t *turn) todayLine(r *room, c advisor.Coffee) (todayLine, error) {
	l := todayLine{coffee: c}
	l.grinder, _ = r.grinder(c.Grinder)
	shots := r.shots(func(e advisor.Entry, s advisor.Shot) bool { return s.Coffee == c.ID && e.Day == r.day })
	l.shots = len(shots)
	if l.shots == 0 {
		return l, nil
	}
	l.last = shots[0].What.(advisor.Shot)
	h, err := t.history(c.ID)
	if err != nil {
		return l, err
	}
	a, _ := t.advise(h, c.ID, t.now)
	l.state = a.State
	for _, e := range slices.Backward(r.recent) {
		if d, ok := e.What.(advisor.Dialled); ok && d.Coffee == c.ID && e.Day == r.day {
			l.called, l.caller = e, r.name(e.Person)
			break
		}
	}
	return l, nil
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
	v := newView(h, a)
	text := v.whyText()
	if option(c, "more", "") != "" {
		text += "\n" + v.learntText()
	}
	if told := r.happenings(); len(told) > 0 {
		text += "\n" + happenedTodayText(told)
	}
	post := t.post(chat.Info, text)
	post.Data = v.data()
	return []Out{{Post: post}}, nil
}
