package bot

import (
	"errors"
	"io"
	"time"

	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/parse"
	"shothand/bot/say"
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
	r, err := t.room()
	if err != nil {
		return err
	}
	c := chat.Command{Name: "review", Options: []chat.Option{{Name: command.FreeWords, Value: since}}}
	scope, err := t.scope(r, c)
	if m, ok := errors.AsType[parse.Mistake](err); ok {
		return errors.New(say.Lang{}.Mistake(m))
	}
	if err != nil {
		return err
	}
	l, err := t.lookBack(scope)
	if err != nil {
		return err
	}
	return l.WritePage(w, t.bar)
}

// reporter returns a turn of nobody in a bar.
func reporter(s *store.Store, channel string, now time.Time) (*turn, error) {
	t := &turn{tools: New(s, Options{}).tools, m: chat.Message{Channel: channel, At: now}}
	err := s.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		if err != nil {
			return err
		}
		if channel == "" && len(bars) == 1 {
			t.bar = bars[0]
			return nil
		}
		id, ok := tx.BarOf(channel)
		if !ok {
			return errors.New(say.Lang{}.WhichBarOf(channel, len(bars)))
		}
		t.bar, err = tx.Bar(id)
		return err
	})
	t.now = s.InZone(now, t.bar.Zone)
	return t, err
}
