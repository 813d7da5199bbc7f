package rest

import (
	"regexp"
	"strings"
)

// A Redactor takes secrets out of texts: the bot's token, and the tokens of
// interactions and webhooks, which stand in the paths of their calls.
type Redactor struct {
	token string
	paths *regexp.Regexp
}

// NewRedactor returns one that knows the bot's token.
func NewRedactor(token string) Redactor {
	return Redactor{token, regexp.MustCompile(`((?:interactions|webhooks)/[0-9]+/)[^/\s"?]+|("token"\s*:\s*")[^"]*`)}
}

// redacted stands for a secret.
const redacted = "[redacted]"

// Clean returns a text without secrets.
func (r Redactor) Clean(s string) string {
	if r.token != "" {
		s = strings.ReplaceAll(s, r.token, redacted)
	}
	return r.paths.ReplaceAllString(s, "${1}${2}"+redacted)
}

// Err returns err without secrets in its text. What it wraps can still be
// asked for.
func (r Redactor) Err(err error) error {
	if err == nil {
		return nil
	}
	if text := r.Clean(err.Error()); text != err.Error() {
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
