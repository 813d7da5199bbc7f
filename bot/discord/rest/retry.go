package rest

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"time"
)

// tries is how often a call is made at most. One that was held back, as it was
// more than the platform takes, is not counted: it has not failed.
const tries = 8

// longestPause is how long to wait between two tries at most.
const longestPause = 4 * time.Second

// Do makes a call and decodes its answer into out, if out is not nil. An answer
// of success that cannot be decoded is [ErrUnread]: what was asked for was
// done.
func (r *Client) Do(ctx context.Context, c Call, out any) error {
	body, kind, err := encode(c.Body, c.Files)
	if err != nil {
		return fmt.Errorf("%s %s: %w", c.Method, routeOf(c), err)
	}
	for try := 1; ; {
		if err := r.limits.wait(ctx, c); err != nil {
			return fmt.Errorf("%s %s: %w", c.Method, routeOf(c), err)
		}
		again, err := r.attempt(ctx, c, body, kind, out)
		if err == nil {
			return nil
		}
		err = r.Secrets.Err(err)
		if !again || try == tries || ctx.Err() != nil {
			return fmt.Errorf("%s %s: %w", c.Method, routeOf(c), err)
		}
		r.Log.Warn("call again", "method", c.Method, "route", routeOf(c), "try", try, "err", err)
		if Status(err) == http.StatusTooManyRequests {
			continue // for as long as was told
		}
		if err := Sleep(ctx, r.pause(try)); err != nil {
			return fmt.Errorf("%s %s: %w", c.Method, routeOf(c), err)
		}
		try++
	}
}

// pause is how long to wait before the next try of a call that failed.
func (r *Client) pause(try int) time.Duration {
	d := min(r.Retry<<(try-1), longestPause)
	return d/2 + rand.N(d/2+1)
}

// attempt makes a call once, and returns whether it may be made again.
func (r *Client) attempt(ctx context.Context, c Call, body []byte, kind string, out any) (again bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, r.Call)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, c.Method, api+c.Path, bytes.NewReader(body))
	if err != nil {
		return false, err
	}
	if !c.Bare {
		req.Header.Set("Authorization", "Bot "+r.Token)
	}
	if kind != "" {
		req.Header.Set("Content-Type", kind)
	}
	req.Header.Set("User-Agent", r.Agent)
	resp, err := r.HTTP.Do(req)
	if err != nil {
		return !c.Once, err
	}
	answer, err := io.ReadAll(io.LimitReader(resp.Body, maxAnswer))
	if err = cmp.Or(err, resp.Body.Close()); err != nil && resp.StatusCode/100 != 2 {
		return !c.Once, err
	}
	r.limits.heed(c, resp, answer)
	switch {
	case resp.StatusCode/100 == 2:
		return false, decoded(answer, err, out)
	case resp.StatusCode == http.StatusTooManyRequests:
		return true, newRefusal(resp, answer) // refused, so nothing was done
	case resp.StatusCode >= 500:
		return !c.Once, newRefusal(resp, answer)
	}
	return false, newRefusal(resp, answer)
}

// Sleep waits for d, or for ctx.
func Sleep(ctx context.Context, d time.Duration) error {
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
