// Package rest makes Discord's REST calls: it waits as the platform asks, and calls
// again where that can do no harm.
package rest

import (
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"slices"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/markup"
)

// api is where REST calls go, unless they are redirected.
const api = "https://discord.com/api/v10"

// A Client makes REST calls. It waits as the platform asks, in a way that can be
// called off, and makes a call again where that can do no harm.
type Client struct {
	Options
	limits *limits
}

// Options say how a client calls.
type Options struct {
	HTTP    *http.Client
	Token   string
	Agent   string
	Secrets Redactor
	Log     *slog.Logger
	Call    time.Duration // for one call
	Retry   time.Duration // after the first failed call, doubled with each
}

// New returns a client that knows of no limits yet.
func New(o Options) *Client { return &Client{o, &limits{routes: map[string]time.Time{}}} }

// Held is until when every call is held back.
func (r *Client) Held() time.Time {
	r.limits.mu.Lock()
	defer r.limits.mu.Unlock()
	return r.limits.global
}

// A Call is one REST call.
type Call struct {
	Method string
	Path   string
	Body   any
	Files  []chat.File
	// Once says that the call must not be made again after it may have been
	// received. A message carries a nonce, and a change comes to the same.
	Once bool
	// Bare says that the call carries its own token in its path and is not
	// counted among the bot's.
	Bare bool
}

// maxAnswer is how many bytes of an answer are read.
const maxAnswer = 8 << 20

// ErrUnread is an answer of success that cannot be read.
var ErrUnread = errors.New("done, but the answer cannot be read")

func decoded(answer []byte, err error, out any) error {
	if out == nil || err == nil && len(answer) == 0 {
		return nil
	}
	if err == nil {
		err = json.Unmarshal(answer, out)
	}
	if err != nil {
		return fmt.Errorf("%w: %w", ErrUnread, err)
	}
	return nil
}

// A refusal is a call that the platform refused.
type refusal struct {
	Status  int
	Code    int    `json:"code"`
	Message string `json:"message"`
}

func newRefusal(resp *http.Response, answer []byte) *refusal {
	e := &refusal{Status: resp.StatusCode}
	if json.Unmarshal(answer, e) != nil || e.Message == "" {
		e.Message = http.StatusText(resp.StatusCode)
	}
	return e
}

// Error says what the platform said.
func (e *refusal) Error() string {
	return fmt.Sprintf("status %d, code %d: %s", e.Status, e.Code, markup.Label(e.Message, 200))
}

// Codes of refusals, from the platform's documentation.
const (
	UnknownChannel   = 10003
	UnknownMessage   = 10008
	UnknownWebhook   = 10015
	UnknownAsking    = 10062
	AnsweredAlready  = 40060
	TooManyReactions = 30010
	MissingAccess    = 50001
	MissingRight     = 50013
	ExpiredToken     = 50027
	Archived         = 50083
	ReactionBlocked  = 90001
	ThreadThere      = 160004
	ThreadLocked     = 160005
)

// Refused reports whether err is a refusal with one of the codes.
func Refused(err error, codes ...int) bool {
	e, ok := errors.AsType[*refusal](err)
	if !ok {
		return false
	}
	return slices.Contains(codes, e.Code)
}

// Status is the HTTP status of a refusal, 0 for other errors.
func Status(err error) int {
	if e, ok := errors.AsType[*refusal](err); ok {
		return e.Status
	}
	return 0
}
