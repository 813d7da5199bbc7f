package rest

import (
	"context"
	"encoding/json"
	"math"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// limits know until when which calls have to wait. The platform says so with
// each answer; nothing is presumed.
type limits struct {
	mu     sync.Mutex
	global time.Time // no call before
	routes map[string]time.Time
	edge   time.Duration // how long the last wait was that the edge did not tell
}

// maxRoutes is how many routes are remembered; past ones are dropped then.
const maxRoutes = 1000

// How long every call waits after the platform's edge has refused one without
// saying for how long. The second value goes for all but the first such refusal:
// a bar is answered soon after the edge lets go, and a call each 2 s is far below
// the 10,000 refusals in 10 min for which the platform shuts a machine out.
const (
	edgePause  = time.Second
	edgeAtMost = 2 * time.Second
)

// shortestWait is for a refusal that tells of no time at all.
const shortestWait = 100 * time.Millisecond

// longestWait is how long a call is held back at most in one piece, should a
// server ask for nonsense.
const longestWait = time.Hour

// wait returns when c may be made, or with an error when ctx is done.
func (l *limits) wait(ctx context.Context, c Call) error {
	for {
		l.mu.Lock()
		until := l.routes[routeOf(c)]
		if !c.Bare && l.global.After(until) {
			until = l.global
		}
		l.mu.Unlock()
		d := time.Until(until)
		if d <= 0 {
			return ctx.Err()
		}
		if err := Sleep(ctx, d); err != nil {
			return err
		}
	}
}

// heed notes what an answer says of limits.
func (l *limits) heed(c Call, resp *http.Response, answer []byte) {
	h := resp.Header
	if resp.StatusCode != http.StatusTooManyRequests {
		if h.Get("X-Ratelimit-Remaining") == "0" {
			l.hold(routeOf(c), seconds(h.Get("X-Ratelimit-Reset-After")))
		}
		l.mu.Lock()
		l.edge = 0
		l.mu.Unlock()
		return
	}
	var said struct {
		RetryAfter float64 `json:"retry_after"`
		Global     bool    `json:"global"`
	}
	edge := json.Unmarshal(answer, &said) != nil // not the platform itself, its edge
	wait := duration(said.RetryAfter)
	if wait == 0 { // the header's is in whole seconds
		wait = max(seconds(h.Get("Retry-After")), seconds(h.Get("X-Ratelimit-Reset-After")))
	}
	if edge && wait == 0 {
		wait = l.edgeWait()
	}
	wait = max(wait, shortestWait)
	if edge || said.Global || h.Get("X-Ratelimit-Global") == "true" || h.Get("X-Ratelimit-Scope") == "global" {
		l.mu.Lock()
		if until := time.Now().Add(wait); until.After(l.global) {
			l.global = until
		}
		l.mu.Unlock()
	}
	l.hold(routeOf(c), wait)
}

// edgeWait is how long to wait where the edge does not tell.
func (l *limits) edgeWait() time.Duration {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.edge = min(max(2*l.edge, edgePause), edgeAtMost)
	return l.edge
}

// hold keeps calls of a route back for d.
func (l *limits) hold(route string, d time.Duration) {
	if d <= 0 {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.routes) >= maxRoutes {
		for r, until := range l.routes {
			if time.Until(until) <= 0 {
				delete(l.routes, r)
			}
		}
	}
	l.routes[route] = time.Now().Add(d)
}

func seconds(s string) time.Duration {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0
	}
	return duration(x)
}

// duration is x seconds, 0 for what makes no sense.
func duration(x float64) time.Duration {
	if !(0 < x && x <= math.MaxInt32) {
		return 0
	}
	return min(time.Duration(x*float64(time.Second)), longestWait)
}

// routeOf names the calls that share a limit with c: the path with its first
// id, on which limits depend, and without the others and without tokens.
func routeOf(c Call) string {
	path, _, _ := strings.Cut(c.Path, "?")
	parts := strings.Split(strings.TrimPrefix(path, "/"), "/")
	for i, p := range parts {
		if i > 1 && (isNumber(p) || i == 2 && (parts[0] == "interactions" || parts[0] == "webhooks")) {
			parts[i] = "-"
		}
	}
	if parts[0] == "interactions" {
		parts[1] = "-"
	}
	return c.Method + " /" + strings.Join(parts, "/")
}

func isNumber(id string) bool {
	n, err := strconv.ParseUint(id, 10, 64)
	return err == nil && n > 0
}
