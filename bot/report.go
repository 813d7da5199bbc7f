package bot

import (
	"io"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/report"
	"shothand/bot/turn"
	"shothand/store"
)

// Report writes the review of a bar as one page that needs nothing else. Since
// is a span as /review takes it, or empty.
func Report(w io.Writer, s *store.Store, of bar.ID, since string, now time.Time) error {
	t, err := reporter(s, of, now)
	if err != nil {
		return err
	}
	r, err := t.Book()
	if err != nil {
		return err
	}
	c := chat.Command{Name: "review", Options: []chat.Option{{Name: command.FreeWords, Value: since}}}
	return report.WritePage(w, t, r, c)
}

// reporter returns a turn of nobody in a bar.
func reporter(s *store.Store, of bar.ID, now time.Time) (*turn.Turn, error) {
	t := &turn.Turn{Tools: New(s, Options{}).tools, Msg: chat.Message{At: now}}
	err := s.View(func(tx *store.Tx) (err error) {
		t.Bar, err = tx.Bar(of)
		return err
	})
	t.Now = s.InZone(now, t.Bar.Zone)
	return t, err
}
