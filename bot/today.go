package bot

import (
	"shothand/bot/chat"
	"shothand/bot/say"
)

// today tells where each coffee stands: the card of the day.
func (t *turn) today(r *room) ([]Out, error) {
	text, err := t.card(r)
	if err != nil {
		return nil, err
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
		return nil, mistake(say.NotPulled(coffee))
	}
	v, err := t.view(h, a)
	if err != nil {
		return nil, err
	}
	text := v.Why()
	if said(c, "more") {
		text += "\n" + v.LearntMore()
	}
	if told := r.happenings(); len(told) > 0 {
		text += "\n" + say.HappenedToday(told)
	}
	post := t.post(chat.Info, text)
	post.Data = v.Data()
	return []Out{{Post: post}}, nil
}
