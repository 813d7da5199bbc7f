package discord

import (
	"fmt"
	"log/slog"
	"strings"

	"github.com/bwmarrin/discordgo"

	"shothand/bot/discord/rest"
)

// maxLogged is how many bytes of a text of discordgo's are logged: its
// warnings hold whole events, with what people wrote.
const maxLogged = 200

// logger returns the function that discordgo logs with. It is discordgo's only
// one for all its sessions.
func logger(secrets rest.Redactor, log *slog.Logger) func(level, caller int, format string, a ...any) {
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
