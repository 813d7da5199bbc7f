package discord

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"slices"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"

	"shothand/bot/discord/line"
	"shothand/bot/discord/rest"
)

// identifiesADay is how many sessions are opened in 24 hours at most. The
// platform takes the token away after 1000.
const identifiesADay = 900

// intents are the events that are asked for: servers, messages, and what is
// written in them.
const intents = discordgo.IntentsGuilds | discordgo.IntentsGuildMessages | discordgo.IntentMessageContent

// A gateway keeps a session open, one after the other, until it is told to
// stop or the platform says that there is no use.
type gateway struct {
	token  string
	client *http.Client
	dial   line.DialFunc
	shard  Shard
	times  Timings
	log    *slog.Logger
	clean  rest.Redactor
	// event takes one event. It must return at once: until it does, nothing
	// else is read.
	event func(kind string, data json.RawMessage)
	// renew ends the session that is open; another follows.
	renew chan error

	identified []time.Time // in the last 24 hours
	state      state
}

// A fatalError is a close of the gateway that another try would only meet
// again.
type fatalError struct{ code int }

func (e fatalError) Error() string { return fmt.Sprintf("gateway closed with %d", e.code) }

// fatal returns the error of a close after which the platform wants no other
// try, or nil. The codes are from its documentation.
func fatal(err error) error {
	if dead, ok := errors.AsType[fatalError](err); ok {
		return dead
	}
	closed, ok := errors.AsType[*websocket.CloseError](err)
	if !ok {
		return nil
	}
	switch closed.Code {
	case 4004, 4010, 4011, 4012, 4013, 4014:
		return fatalError{closed.Code}
	}
	return nil
}

// run keeps a session open until ctx is done. Its error is a [fatalError].
func (g *gateway) run(ctx context.Context) error {
	for failures := 0; ; failures++ {
		if err := g.mayIdentify(ctx); err != nil {
			return nil
		}
		began := time.Now()
		err := g.session(ctx)
		if ctx.Err() != nil {
			return nil
		}
		if dead := fatal(err); dead != nil {
			return dead
		}
		if lived := time.Since(began); lived > g.times.Stuck {
			failures = 0
		}
		wait := backoff(g.times, failures)
		g.log.Warn("session ended", "err", g.clean.Err(err), "next_in", wait.String())
		if err := rest.Sleep(ctx, wait); err != nil {
			return nil
		}
	}
}

// backoff is how long to wait after so many failures: doubled each time, and
// between half of it and all, so that bots do not come back in step.
func backoff(t Timings, failures int) time.Duration {
	d := t.BackoffTo
	if failures < 20 {
		d = min(t.Backoff<<failures, t.BackoffTo)
	}
	return d/2 + rand.N(d/2+1)
}

// mayIdentify waits until another session may be opened.
func (g *gateway) mayIdentify(ctx context.Context) error {
	now := time.Now()
	g.identified = slices.DeleteFunc(g.identified, func(at time.Time) bool { return now.Sub(at) > 24*time.Hour })
	var wait time.Duration
	if n := len(g.identified); n > 0 {
		wait = g.times.Identify - now.Sub(g.identified[n-1])
		if n >= identifiesADay {
			wait = 24*time.Hour - now.Sub(g.identified[0])
			g.log.Error("too many sessions today", "sessions", n, "next_in", wait.String())
		}
	}
	if err := rest.Sleep(ctx, wait); err != nil {
		return err
	}
	g.identified = append(g.identified, time.Now())
	return nil
}

// Reasons for which a session is thrown away.
var (
	errSlowOpen = errors.New("not ready in time")
	errStuck    = errors.New("session does not answer")
	errGone     = errors.New("connection lost")
)

// session opens a session and returns when it has ended, with why.
func (g *gateway) session(ctx context.Context) error {
	l := line.New(g.times.Open, g.times.Hello, g.dial, g.log, func(kind string, data json.RawMessage) {
		defer g.recovered(kind)
		g.event(kind, data)
	})
	defer l.Cut()
	gone := make(chan struct{}, 1)
	s, err := g.newSession(l, gone)
	if err != nil {
		return err
	}
	opened := make(chan error, 1)
	go func() { opened <- s.Open() }() // it may never return
	limit := time.NewTimer(g.times.Open)
	defer limit.Stop()
	select {
	case err := <-opened:
		if err != nil {
			return cmp.Or(fatal(err), l.Why(), err)
		}
	case <-limit.C:
		l.Cut() // so that Open lets go of the session
		g.close(s)
		return errSlowOpen
	case <-ctx.Done():
		l.Cut()
		g.close(s)
		return ctx.Err()
	}
	g.log.Info("session open")
	g.state.set(true, time.Now())
	defer func() { g.state.set(false, time.Now()) }()
	err = g.watch(ctx, s, gone)
	l.Mute()
	g.close(s)
	return cmp.Or(l.Why(), err)
}

// newSession makes a session that never mends itself.
func (g *gateway) newSession(l *line.Line, gone chan<- struct{}) (*discordgo.Session, error) {
	s, err := discordgo.New("Bot " + g.token)
	if err != nil {
		return nil, err
	}
	s.Client = g.client
	s.Dialer = l.Dialer()
	s.Identify.Intents = intents
	s.ShardID, s.ShardCount = g.shard.Number, g.shard.Of
	s.Compress = false // so that the line can read
	s.StateEnabled = false
	s.SyncEvents = true // in order
	s.ShouldReconnectOnError = false
	s.ShouldRetryOnRateLimit = false
	s.MaxRestRetries = 0
	s.LogLevel = discordgo.LogWarning // beyond it tokens are printed
	s.AddHandler(func(*discordgo.Session, *discordgo.Disconnect) {
		select {
		case gone <- struct{}{}:
		default:
		}
	})
	return s, nil
}

// recovered ends a panic in the handling of an event: the next one still
// comes.
func (g *gateway) recovered(kind string) {
	if p := recover(); p != nil {
		g.log.Error("panic", "event", kind, "err", g.clean.Clean(fmt.Sprint(p)))
	}
}

// watch returns when s has ended, with why.
func (g *gateway) watch(ctx context.Context, s *discordgo.Session, gone <-chan struct{}) error {
	probe := time.NewTicker(g.times.Probe)
	defer probe.Stop()
	free := time.Now()
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-gone:
			return errGone
		case err := <-g.renew:
			return err
		case <-probe.C:
			if s.TryRLock() {
				s.RUnlock()
				free = time.Now()
			}
			if time.Since(free) > g.times.Stuck {
				return errStuck
			}
		}
	}
}

// close closes s, which may never return from it.
func (g *gateway) close(s *discordgo.Session) {
	closed := make(chan struct{})
	go func() {
		defer close(closed)
		if err := s.Close(); err != nil {
			g.log.Debug("close", "err", g.clean.Err(err))
		}
	}()
	limit := time.NewTimer(g.times.Close)
	defer limit.Stop()
	select {
	case <-closed:
	case <-limit.C:
		g.log.Warn("session does not close")
	}
}
