package discord

import (
	"fmt"
	"log/slog"
	"regexp"
	"strings"

	"github.com/bwmarrin/discordgo"
)

// maxLogged is how many bytes of a text of discordgo's are logged: its
// warnings hold whole events, with what people wrote.
const maxLogged = 200

// A redactor takes secrets out of texts: the bot's token, and the tokens of
// interactions and webhooks, which stand in the paths of their calls.
type redactor struct {
	token string
	paths *regexp.Regexp
}

func newRedactor(token string) redactor {
	return redactor{token, regexp.MustCompile(`((?:interactions|webhooks)/[0-9]+/)[^/\s"?]+|("token"\s*:\s*")[^"]*`)}
}

// redacted stands for a secret.
const redacted = "[redacted]"

func (r redactor) clean(s string) string {
	if r.token != "" {
		s = strings.ReplaceAll(s, r.token, redacted)
	}
	return r.paths.ReplaceAllString(s, "${1}${2}"+redacted)
}

// err returns err without secrets in its text. What it wraps can still be
// asked for.
func (r redactor) err(err error) error {
	if err == nil {
		return nil
	}
	if text := r.clean(err.Error()); text != err.Error() {
		return redactedError{text, err}
	}
	return err
}

// A redactedError is an error whose text has lost its secrets.
type redactedError struct {
	text string
	err  error
}

func (e redactedError) Error() string { return e.text }
func (e redactedError) Unwrap() error { return e.err }

// logger returns the function that discordgo logs with. It is discordgo's only
// one for all its sessions.
func (r redactor) logger(log *slog.Logger) func(level, caller int, format string, a ...any) {
	return func(level, _ int, format string, a ...any) {
		text := strings.Join(strings.Fields(r.clean(fmt.Sprintf(format, a...))), " ")
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
