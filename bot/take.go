package bot

import (
	"errors"
	"fmt"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/cups"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/bot/which"
)

// text handles a message in free text.
func text(t *turn.Turn) ([]turn.Out, error) {
	seen, err := t.Seen()
	if err != nil || seen && t.Msg.Kind == chat.Text { // what put something right may be edited
		return nil, err
	}
	if told, err := told(t); err != nil || told {
		return nil, err
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	if outs, ours, err := cups.SaidOfCups(t, r); ours || err != nil {
		return outs, err
	}
	if outs, ours, err := typedAnswer(t, r); ours || err != nil {
		return outs, err
	}
	if rest, ok := parse.Mine(t.Msg.Text); ok && t.Msg.Kind == chat.Text {
		if outs, ours, err := shots.ClaimPosted(t, r, rest); ours || err != nil {
			return outs, err
		}
	}
	if outs, ours, err := shots.NameFirst(t, r); ours || err != nil {
		return outs, err
	}
	if outs, ours, err := shots.BareTime(t, r); ours || err != nil {
		return outs, err
	}
	v := vocab(t, r)
	if v.Righted, err = righted(t, r); err != nil {
		return nil, err
	}
	meaning, err := parse.Message(t.Msg.Text, v)
	if m, ok := errors.AsType[parse.Mistake](err); ok && m.Kind == parse.PerhapsCoffee {
		if _, pulled := which.JustPulled(r); !pulled {
			return nil, nil
		}
	}
	if parse.IsSeveral(err) && t.Msg.Kind == chat.Text && t.Msg.ReplyTo == "" {
		if list := parse.Shots(t.Msg.Text, v); len(list) > 0 {
			return resolve.Ask(t, r, func(e bar.EntryID) chat.Post { return resolve.SeveralPost(t, e, list) })
		}
	}
	if err != nil {
		return nil, err
	}
	if outs, ours, err := mendRefused(t, r, meaning); ours || err != nil {
		return outs, err
	}
	return take(t, r, v, meaning)
}

// vocab is what a message is read with: the bar's words, and what who writes has just pulled.
func vocab(t *turn.Turn, r *recent.Book) parse.Vocab {
	v := r.Vocab()
	v.Answer = t.Msg.ReplyTo != ""
	if e, pulled := which.JustPulled(r); pulled {
		v.Untasted = !r.TastedBy(e, t.Who.ID)
		s, _ := e.What.(bar.Shot)
		g, _ := r.Grinder(s.Grinder)
		v.Unplaced = s.Grind.From == bar.None || !(g.Step > 0) // nobody has said what its dial shows
	}
	if e, pulled := which.OwnWithin(r, turn.AnswerWindow); pulled {
		v.Pulled = which.Pulled(e.What.(bar.Shot))
		for _, w := range which.SaidOf(r, e, t.Who.ID) {
			v.Tasted = append(v.Tasted, w.Term)
		}
	}
	v.Stands, v.Steps = map[bar.GrinderID]float64{}, map[bar.GrinderID]float64{}
	for _, g := range r.InUse() {
		v.Steps[g.ID] = float64(g.Step)
		if at, ok := r.StandsNow(g); ok {
			v.Stands[g.ID] = float64(at)
		}
	}
	return v
}

// concerned is how long after a bar's last shot a message may be about one. Assumed.
const concerned = 30 * time.Minute

// take does what a message means, which was read with v.
func take(t *turn.Turn, r *recent.Book, v parse.Vocab, meaning parse.Meaning) ([]turn.Out, error) {
	switch w := meaning.(type) {
	case parse.Shot:
		return shots.Shot(t, r, w)
	case parse.Words:
		return shots.Words(t, r, w)
	case parse.Call:
		switch {
		case w.Asked != (parse.Asked{}):
			return askedOfBook(t, r, w)
		case w.Next:
			return nextFor(t, r, asked(r, w))
		case len(w.Stands) > 0:
			return standing(t, r, w)
		}
		return doCommand(t, w.Command)
	case parse.Correction:
		if since, err := saidSince(t, r); w.Vague && (since || err != nil) {
			return undo(t)
		}
		return shots.Correct(t, r, w)
	case parse.Happened:
		return shots.Happened(t, r, w)
	case parse.Set:
		return shots.Set(t, r, w)
	case parse.CallIt:
		return shots.CallIt(t, r, w)
	case parse.Chatter:
		if _, pulled := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return r.Now.Sub(e.At) <= concerned }); pulled && t.Msg.Kind == chat.Text && parse.Concerns(t.Msg.Text, v) {
			return nil, turn.Mistake(t.WriterLang().Say(say.NotTaken))
		}
		return nil, nil
	}
	return nil, fmt.Errorf("meaning %T", meaning)
}
