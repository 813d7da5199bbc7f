package bot

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// mostWhich is how many shots a question offers.
const mostWhich = 4

// correctYesterday puts a shot of the day before right: this person's last, where
// that is meant or the only one, else the one that is tapped.
func (t *turn) correctYesterday(r *room, p parse.Correction) ([]Out, error) {
	day := bar.DayOf(t.now.Add(-24 * time.Hour))
	of := func(own bool) []bar.Entry {
		return r.shots(func(e bar.Entry, s bar.Shot) bool {
			return e.Day == day && (p.Of == 0 || s.Coffee == p.Of) && own == (e.Person == r.who.ID)
		})
	}
	list := of(true)
	sure := len(list) == 1 || len(list) > 1 && p.Last
	if len(list) == 0 {
		list = of(false)
	}
	if len(list) == 0 {
		return nil, mistake(t.own().Say(say.NothingYesterday))
	}
	if outs := t.askWhich(r, list, p); !sure && outs != nil {
		return outs, nil
	}
	return t.correctShot(r, list[0], p)
}

// askWhich asks which of several shots a number is of, nil where it fits none.
func (t *turn) askWhich(r *room, list []bar.Entry, p parse.Correction) []Out {
	post := t.post(chat.Question, "")
	for _, e := range list {
		s := e.What.(bar.Shot)
		fits := p
		if p.Bare.Said {
			g, _ := r.grinder(s.Grinder)
			figures, sure := readings(s, g, p.Bare.X, p.Mass)
			if !sure {
				continue
			}
			fits = only(p, figures[0])
		}
		f, x, ok := figureSaid(fits)
		if !ok || len(post.Buttons) == mostWhich {
			continue
		}
		coffee, _ := r.coffee(s.Coffee)
		post.Text = t.in().WhichQuestion(x, f)
		post.Buttons = append(post.Buttons, chat.Button{Label: t.in().WhichLabel(e, s, coffee), State: putState(e.ID, f, x, bar.Said)})
	}
	if len(post.Buttons) == 0 {
		return nil
	}
	no := pressState(pressShot, list[0].ID, say.ShotNo)
	post.Buttons = append(post.Buttons, chat.Button{Label: t.in().Say(say.NoLabel), State: no})
	return []Out{{Post: post}}
}

// figureSaid returns the only number that a correction puts right.
func figureSaid(p parse.Correction) (f say.Figure, x float64, ok bool) {
	switch {
	case p.Dose.Said:
		return say.DoseFigure, p.Dose.X, true
	case p.Yield.Said:
		return say.YieldFigure, p.Yield.X, true
	case p.Time.Said:
		return say.TimeFigure, p.Time.X, true
	case p.Grind.Said && !p.Grind.Relative && !p.Grind.Odd:
		return say.DialFigure, p.Grind.X, true
	}
	return "", 0, false
}
