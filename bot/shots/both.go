package shots

import (
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/turn"
)

// setBoth notes where two grinders were put by one message, which one tap takes back. Where
// either would have to be asked about, each is to be said by itself.
func setBoth(t *turn.Turn, r *recent.Book, p parse.Set) ([]turn.Out, error) {
	unsure := parse.Mistake{Kind: parse.SeveralDials, What: p.Both[0], More: p.Both[1]}
	entry := bar.Entry{Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: p.Both[0]}
	also := bar.Entry{With: t.Msg.ID, Person: t.Who.ID, At: toldAt(t.Now), Day: r.Day, Raw: p.Both[1]}
	first, ok := r.Settable(p)
	second, too := r.Settable(*p.Also)
	if !ok || !too || first.ID == second.ID {
		return nil, unsure
	}
	q := *p.Also
	p.Also, p.Grind, q.Grind = nil, stepsOrPlace(r, entry, p.Grind, first), stepsOrPlace(r, also, q.Grind, second)
	if p.Grind.Odd || q.Grind.Odd || setDoubt(t, r, entry, p, first) != nil || setDoubt(t, r, also, q, second) != nil {
		return nil, unsure
	}
	told, text, err := moved(t, r, also, q, second)
	if err != nil {
		return nil, err
	}
	also.What = told
	putAll(t, r, []bar.Entry{also})
	outs, err := PutSet(t, r, entry, p, first)
	for i := range outs {
		outs[i].Text += "\n" + text
	}
	return outs, err
}

// setWaiting notes what the same person had told before of a dial that was asked about as
// well, once it was said of which grinder that is: one answer is enough for all.
func setWaiting(t *turn.Turn, r *recent.Book, answered bar.Entry, g bar.Grinder) (lead string, err error) {
	for _, e := range r.Recent {
		held, ok := e.What.(bar.Held)
		if !ok || held.Device != 0 || e.Deleted || e.Person != answered.Person || e.Day != answered.Day || !recent.Earlier(e, answered) {
			continue
		}
		m, err := parse.Message(e.Raw, r.Vocab())
		p, is := m.(parse.Set)
		if _, known := r.Settable(p); err != nil || !is || known || p.Also != nil {
			continue
		}
		p.Grinder, p.Grind = g.ID, stepsOrPlace(r, e, p.Grind, g)
		if p.Grind.Odd || setDoubt(t, r, e, p, g) != nil {
			continue
		}
		told, text, err := moved(t, r, e, p, g)
		if err != nil {
			return "", err
		}
		e.What = told
		putAll(t, r, []bar.Entry{e})
		lead += text + "\n"
	}
	return lead, nil
}
