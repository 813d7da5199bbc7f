package shots

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// mostWhich is how many shots a question offers.
const mostWhich = 4

// correctYesterday puts a shot of the day before right: this person's last, where
// that is meant or the only one, else the one that is tapped.
func correctYesterday(t *turn.Turn, r *recent.Book, p parse.Correction) ([]turn.Out, error) {
	day := bar.DayOf(t.Now.Add(-24 * time.Hour))
	of := func(own bool) []bar.Entry {
		return r.Shots(func(e bar.Entry, s bar.Shot) bool {
			return e.Day == day && (p.Of == 0 || s.Coffee == p.Of) && own == (e.Person == r.Who.ID)
		})
	}
	list := of(true)
	sure := len(list) == 1 || len(list) > 1 && p.Last
	if len(list) == 0 {
		list = of(false)
	}
	if len(list) == 0 {
		return nil, turn.Mistake(t.WriterLang().Say(say.NothingYesterday))
	}
	if outs := askWhich(t, r, list, p); !sure && outs != nil {
		return outs, nil
	}
	return correctShot(t, r, list[0], p)
}

// askWhich asks which of several shots a number is of, nil where it fits none.
func askWhich(t *turn.Turn, r *recent.Book, list []bar.Entry, p parse.Correction) []turn.Out {
	post := t.Post(chat.Question, "")
	for _, e := range list {
		s := e.What.(bar.Shot)
		fits := p
		if p.Bare.Said {
			could, sure := figures.Readings(r, s, p.Bare.X, p.Mass)
			if !sure {
				continue
			}
			fits = figures.Only(p, could[0])
		}
		f, x, ok := figureSaid(fits)
		if !ok || len(post.Buttons) == mostWhich {
			continue
		}
		coffee, _ := r.Coffee(s.Coffee)
		post.Text = t.Lang().WhichQuestion(x, f)
		post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().WhichLabel(e, s, coffee), State: figures.ButtonState(e.ID, f, x, bar.Said)})
	}
	if len(post.Buttons) == 0 {
		return nil
	}
	no := turn.PressState(turn.PressShot, list[0].ID, say.ShotNo)
	post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Say(say.NoLabel), State: no})
	return []turn.Out{{Post: post}}
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
