package serve

import (
	"log/slog"
	"strings"
	"time"

	"shothand/bot"
	"shothand/bot/chat"
)

// observed handles a message and writes one line about it to the log: where,
// which, what came of it, how long it took. The log holds no name and nothing
// that anybody wrote.
func (r *running) observed(handle func(chat.Message) []bot.Out, j job) []bot.Out {
	began := time.Now() //nolint:forbidigo // Run reads the clock
	outs := r.safely(handle, j.m)
	if j.m.Kind == chat.Tick && len(outs) == 0 { // nothing was due
		return nil
	}
	if !r.log.Enabled(r.ctx, slog.LevelInfo) {
		return outs
	}
	took := time.Since(began) //nolint:forbidigo // as above
	r.log.Info("handled", "bar", r.NumberOf(j.m.Channel), "message", j.m.ID, "kind", whatCame(j),
		"answer", whatWent(outs), "ms", float64(took.Microseconds())/1e3)
	return outs
}

// whatCame names what came in.
func whatCame(j job) string {
	if j.late {
		return "restart"
	}
	switch j.m.Kind {
	case chat.Text:
		return "text"
	case chat.Edited:
		return "edit"
	case chat.Deleted:
		return "delete"
	case chat.Pressed:
		return "press"
	case chat.Called:
		return "command"
	case chat.Tick:
		return "due"
	}
	return "unknown"
}

// whatWent names what went out: the kinds of the posts.
func whatWent(outs []bot.Out) string {
	var kinds []string
	for _, out := range outs {
		if !out.Bare {
			kinds = append(kinds, out.Kind.String())
		}
	}
	if len(kinds) == 0 {
		return "none"
	}
	return strings.Join(kinds, ",")
}
