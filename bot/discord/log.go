package discord

import (
	"fmt"
	"log/slog"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/bwmarrin/discordgo"

	"shothand/bot/discord/rest"
)

// maxLogged is how many bytes of a text of discordgo's are logged: its
// warnings hold whole events, with what people wrote.
const maxLogged = 200

// A logFunc is what discordgo logs with.
type logFunc = func(level, caller int, format string, a ...any)

// theirs is where discordgo logs to: it has one function for all its sessions, so
// the last service that listens has it.
var theirs struct { //nolint:gochecknoglobals // as discordgo's own is
	once sync.Once
	to   atomic.Pointer[logFunc]
}

// takeLog makes log where discordgo logs to.
func takeLog(secrets rest.Redactor, log *slog.Logger) {
	to := logger(secrets, log)
	theirs.to.Store(&to)
	theirs.once.Do(func() {
		discordgo.Logger = func(level, caller int, format string, a ...any) {
			(*theirs.to.Load())(level, caller, format, a...)
		}
	})
}

// logger returns the function that discordgo logs with.
func logger(secrets rest.Redactor, log *slog.Logger) logFunc {
	return func(level, _ int, format string, a ...any) {
		text := strings.Join(strings.Fields(secrets.Clean(fmt.Sprintf(format, a...))), " ")
		if len(text) > maxLogged {
			text = strings.ToValidUTF8(text[:maxLogged], "") + "…"
		}
		switch level {
		case discordgo.LogError:
			log.Warn("discordgo", "text", text) // the supervisor mends what it means
		case discordgo.LogWarning, discordgo.LogInformational, discordgo.LogDebug:
			log.Debug("discordgo", "text", text)
		}
	}
}
