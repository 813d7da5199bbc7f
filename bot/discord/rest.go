package discord

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"slices"
	"time"

	"shothand/bot/chat"
)

// api is where REST calls go, unless they are redirected.
const api = "https://discord.com/api/v10"

// A rest makes REST calls. It waits as the platform asks, in a way that can be
// called off, and makes a call again where that can do no harm.
type rest struct {
	http   *http.Client
	token  string
	agent  string
	clean  redactor
	log    *slog.Logger
	times  Timings
	limits *limits
}

// A call is one REST call.
type call struct {
	method string
	path   string
	body   any
	files  []chat.File
	// once says that the call must not be made again after it may have been
	// received. A message carries a nonce, and a change comes to the same.
	once bool
	// bare says that the call carries its own token in its path and is not
	// counted among the bot's.
	bare bool
}

// tries is how often a call is made at most. One that was held back, as it was
// more than the platform takes, is not counted: it has not failed.
const tries = 8

// longestPause is how long to wait between two tries at most.
const longestPause = 4 * time.Second

// maxAnswer is how many bytes of an answer are read.
const maxAnswer = 8 << 20

// do makes a call and decodes its answer into out, if out is not nil. An answer
// of success that cannot be decoded is [errUnread]: what was asked for was
// done.
func (r *rest) do(ctx context.Context, c call, out any) error {
	body, kind, err := encode(c.body, c.files)
	if err != nil {
		return fmt.Errorf("%s %s: %w", c.method, routeOf(c), err)
	}
	for try := 1; ; {
		if err := r.limits.wait(ctx, c); err != nil {
			return fmt.Errorf("%s %s: %w", c.method, routeOf(c), err)
		}
		again, err := r.attempt(ctx, c, body, kind, out)
		if err == nil {
			return nil
		}
		err = r.clean.err(err)
		if !again || try == tries || ctx.Err() != nil {
			return fmt.Errorf("%s %s: %w", c.method, routeOf(c), err)
		}
		r.log.Warn("call again", "method", c.method, "route", routeOf(c), "try", try, "err", err)
		if status(err) == http.StatusTooManyRequests {
			continue // for as long as was told
		}
		if err := sleep(ctx, r.pause(try)); err != nil {
			return fmt.Errorf("%s %s: %w", c.method, routeOf(c), err)
		}
		try++
	}
}

// pause is how long to wait before the next try of a call that failed.
func (r *rest) pause(try int) time.Duration {
	d := min(r.times.Retry<<(try-1), longestPause)
	return d/2 + rand.N(d/2+1)
}

// attempt makes a call once, and returns whether it may be made again.
func (r *rest) attempt(ctx context.Context, c call, body []byte, kind string, out any) (again bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, r.times.Call)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, c.method, api+c.path, bytes.NewReader(body))
	if err != nil {
		return false, err
	}
	if !c.bare {
		req.Header.Set("Authorization", "Bot "+r.token)
	}
	if kind != "" {
		req.Header.Set("Content-Type", kind)
	}
	req.Header.Set("User-Agent", r.agent)
	resp, err := r.http.Do(req)
	if err != nil {
		return !c.once, err
	}
	answer, err := io.ReadAll(io.LimitReader(resp.Body, maxAnswer))
	if err = cmp.Or(err, resp.Body.Close()); err != nil && resp.StatusCode/100 != 2 {
		return !c.once, err
	}
	r.limits.heed(c, resp, answer)
	switch {
	case resp.StatusCode/100 == 2:
		return false, decoded(answer, err, out)
	case resp.StatusCode == http.StatusTooManyRequests:
		return true, newAPIError(resp, answer) // refused, so nothing was done
	case resp.StatusCode >= 500:
		return !c.once, newAPIError(resp, answer)
	}
	return false, newAPIError(resp, answer)
}

// errUnread is an answer of success that cannot be read.
var errUnread = errors.New("done, but the answer cannot be read")

func decoded(answer []byte, err error, out any) error {
	if out == nil || err == nil && len(answer) == 0 {
		return nil
	}
	if err == nil {
		err = json.Unmarshal(answer, out)
	}
	if err != nil {
		return fmt.Errorf("%w: %w", errUnread, err)
	}
	return nil
}

// An apiError is a call that the platform refused.
type apiError struct {
	Status  int
	Code    int    `json:"code"`
	Message string `json:"message"`
}

func newAPIError(resp *http.Response, answer []byte) *apiError {
	e := &apiError{Status: resp.StatusCode}
	if json.Unmarshal(answer, e) != nil || e.Message == "" {
		e.Message = http.StatusText(resp.StatusCode)
	}
	return e
}

// Error says what the platform said.
func (e *apiError) Error() string {
	return fmt.Sprintf("status %d, code %d: %s", e.Status, e.Code, label(e.Message, 200))
}

// Codes of refusals, from the platform's documentation.
const (
	unknownChannel   = 10003
	unknownMessage   = 10008
	unknownWebhook   = 10015
	unknownAsking    = 10062
	answeredAlready  = 40060
	tooManyReactions = 30010
	missingAccess    = 50001
	missingRight     = 50013
	expiredToken     = 50027
	archived         = 50083
	reactionBlocked  = 90001
	threadThere      = 160004
	threadLocked     = 160005
)

// refused reports whether err is a refusal with one of the codes.
func refused(err error, codes ...int) bool {
	e, ok := errors.AsType[*apiError](err)
	if !ok {
		return false
	}
	return slices.Contains(codes, e.Code)
}

// status is the HTTP status of a refusal, 0 for other errors.
func status(err error) int {
	if e, ok := errors.AsType[*apiError](err); ok {
		return e.Status
	}
	return 0
}

// sleep waits for d, or for ctx.
func sleep(ctx context.Context, d time.Duration) error {
	if d <= 0 {
		return ctx.Err()
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
