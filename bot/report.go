package bot

import (
	"errors"
	"io"
	"time"

	"shothand/bot/say/setup"

	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// Report writes the review of a bar as one page that needs nothing else. The
// bar is the one of the channel, or the only one if channel is empty; since is
// a span as /review takes it, or empty.
func Report(w io.Writer, s *store.Store, channel, since string, now time.Time) error {
	t, err := reporter(s, channel, now)
	if err != nil {
		return err
	}
	r, err := t.Book()
	if err != nil {
		return err
	}
	c := chat.Command{Name: "review", Options: []chat.Option{{Name: command.FreeWords, Value: since}}}
	scope, err := scopeOf(t, r, c)
	if m, ok := errors.AsType[parse.Mistake](err); ok {
		return errors.New(say.Lang{}.Mistake(m))
	}
	if err != nil {
		return err
	}
	l, err := lookBack(t, scope)
	if err != nil {
		return err
	}
	return l.WritePage(w, t.Bar)
}

// reporter returns a turn of nobody in a bar.
func reporter(s *store.Store, channel string, now time.Time) (*turn.Turn, error) {
	t := &turn.Turn{Tools: New(s, Options{}).tools, Msg: chat.Message{Channel: channel, At: now}}
	err := s.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		if err != nil {
			return err
		}
		if channel == "" && len(bars) == 1 {
			t.Bar = bars[0]
			return nil
		}
		id, ok := tx.BarOf(channel)
		if !ok {
			return errors.New(setup.In(say.Lang{}).WhichBarOf(channel, len(bars)))
		}
		t.Bar, err = tx.Bar(id)
		return err
	})
	t.Now = s.InZone(now, t.Bar.Zone)
	return t, err
}
