package discord

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"net/http"
	"net/url"
	"sync"
	"time"

	"github.com/bwmarrin/discordgo"

	"shothand/bot/chat"
	"shothand/bot/discord/line"
	"shothand/bot/discord/rest"
)

var (
	_ chat.Service  = (*Discord)(nil)
	_ chat.Stripper = (*Discord)(nil)
	_ chat.Ticker   = (*Discord)(nil)
)

// Options say how to reach Discord and whom to ask.
type Options struct {
	Token string
	Root  *url.URL // of the server that stands in for Discord's; nil: Discord's own
	Shard Shard    // the zero value is all servers
	Desk  chat.Desk
	Log   *slog.Logger // nil: nothing is logged
	Texts Texts
	Times Timings // zero: the usual
	// Dial opens a connection to a server; nil: over the network.
	Dial line.DialFunc
}

// Texts are the sentences that the service has to say by itself.
type Texts struct {
	Nothing string               // to whoever gave a command that says nothing
	Fatal   func(code int) error // the gateway closed for good, with what to fix
	Token   error                // the token is not accepted
}

// Discord is the chat service of the servers that a bot was invited to.
type Discord struct {
	o     Options
	log   *slog.Logger
	times Timings
	rest  *rest.Client
	gate  *gateway
	queue *queue

	deliver func(chat.Message) <-chan struct{}
	callers sync.WaitGroup // those who may still deliver
	slots   chan struct{}  // how many interactions are answered at once
	guilds  chan string    // whose commands are to be looked at

	world *world
	past  *past // what was delivered; Listen's goroutine only, as are these three
	// reached is how far each bar was read.
	reached    map[string]*reach
	session    int // counts the gateway's
	sessionCtx context.Context

	endSession  context.CancelFunc
	parts       chan stretch   // what was read of bars
	reading     sync.WaitGroup // who reads them
	slotsToRead chan struct{}  // how many are read at once
	lag         lag
	posted      shelves

	mu    sync.Mutex
	me    identity
	calls map[string]*asking // by the id of the message they became
	ended bool               // nothing may be delivered any more
	specs []chat.Spec
}

// An identity is who the bot is.
type identity struct{ user, app string }

// manyAskings is how many interactions are answered at once.
const manyAskings = 64

// New returns the service. Nothing is sent before it is used.
func New(o Options) *Discord {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Texts.Fatal == nil {
		o.Texts.Fatal = func(code int) error { return fatalError{code} }
	}
	if o.Shard.Of == 0 {
		o.Shard = Shard{0, 1}
	}
	times := o.Times.orUsual()
	clean := rest.NewRedactor(o.Token)
	transport := http.DefaultTransport.(*http.Transport).Clone()
	if o.Dial != nil {
		transport.DialContext = o.Dial
	}
	client := &http.Client{
		Transport:     rest.Redirect{Root: o.Root, Next: transport},
		Timeout:       times.Call,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
	d := &Discord{
		o: o, log: o.Log, times: times, queue: newQueue(),
		slots: make(chan struct{}, manyAskings), guilds: make(chan string, manyGuilds),
		world: newWorld(), reached: map[string]*reach{}, past: newPast(),
		parts: make(chan stretch), slotsToRead: make(chan struct{}, readers), lag: lag{from: map[string]uint64{}},
		calls: map[string]*asking{}, specs: o.Desk.Specs(locales()...), endSession: func() {},
	}
	d.rest = rest.New(rest.Options{
		HTTP: client, Token: o.Token, Agent: "DiscordBot (https://github.com/bwmarrin/discordgo, v" + discordgo.VERSION + ")",
		Secrets: clean, Log: o.Log, Call: times.Call, Retry: times.Retry,
	})
	d.gate = &gateway{
		token: o.Token, client: client, dial: transport.DialContext, shard: o.Shard, times: times, log: o.Log, clean: clean,
		renew: make(chan error, 1),
		state: state{since: time.Now()},
	}
	return d
}

// Listen delivers what is said in the bars' channels until ctx is done. It
// returns an error only if another try would be of no use.
func (d *Discord) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	takeLog(d.rest.Secrets, d.log)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	d.deliver = deliver
	d.begin(ctx)
	defer func() { d.endSession() }()
	d.gate.event = func(kind string, data json.RawMessage) { d.event(ctx, kind, data) }
	if err := d.rebind(0); err != nil {
		return err
	}
	if _, err := d.self(ctx); rest.Status(err) == http.StatusUnauthorized && d.o.Texts.Token != nil {
		return d.o.Texts.Token
	}
	var fatal error
	var parts sync.WaitGroup
	parts.Go(func() { fatal = d.gate.run(ctx); cancel() })
	parts.Go(func() { d.register(ctx) })
	d.work(ctx)
	parts.Wait()
	d.reading.Wait()
	d.mu.Lock()
	d.ended = true
	d.mu.Unlock()
	d.callers.Wait()
	d.rest.HTTP.CloseIdleConnections()
	if dead, ok := errors.AsType[fatalError](fatal); ok {
		return d.o.Texts.Fatal(dead.code)
	}
	return fatal
}

// begin begins a session: what was being read in the last is broken off.
func (d *Discord) begin(ctx context.Context) {
	d.endSession()
	d.sessionCtx, d.endSession = context.WithCancel(ctx) //nolint:gosec // the next begin ends it
	d.session++
}

// self returns who the bot is.
func (d *Discord) self(ctx context.Context) (identity, error) {
	d.mu.Lock()
	me := d.me
	d.mu.Unlock()
	if me.user != "" {
		return me, nil
	}
	var user, app struct {
		ID string `json:"id"`
	}
	if err := d.rest.Do(ctx, rest.Call{Method: http.MethodGet, Path: "/users/@me"}, &user); err != nil {
		return identity{}, err
	}
	if err := d.rest.Do(ctx, rest.Call{Method: http.MethodGet, Path: "/applications/@me"}, &app); err != nil {
		return identity{}, err
	}
	return d.know(identity{user.ID, app.ID}), nil
}

// know notes who the bot is.
func (d *Discord) know(me identity) identity {
	d.mu.Lock()
	defer d.mu.Unlock()
	if me.user != "" {
		d.me.user = me.user
	}
	if me.app != "" {
		d.me.app = me.app
	}
	return d.me
}

// event takes an event of the gateway. What people wait for goes its own way,
// all else in order.
func (d *Discord) event(ctx context.Context, kind string, data json.RawMessage) {
	if kind == "INTERACTION_CREATE" {
		d.hear(ctx, data)
		return
	}
	if !d.queue.put(kind, data) {
		select {
		case d.gate.renew <- errOverflow:
		default:
		}
	}
}

// work handles events until ctx is done, and what was missed between them.
func (d *Discord) work(ctx context.Context) {
	again := time.NewTicker(d.times.Again)
	defer again.Stop()
	for ctx.Err() == nil {
		select {
		case <-ctx.Done():
			return
		case <-again.C:
			d.safely("catch up", func() error { return d.catchUpAll("") })
		case p := <-d.parts:
			d.safely("catch up", func() error { return d.take(ctx, p) })
		case <-d.queue.ready:
		}
		for e, ok := d.queue.take(); ok && ctx.Err() == nil; e, ok = d.queue.take() {
			d.safely(e.kind, func() error { return d.handle(ctx, e) })
		}
	}
}

// safely does something, proof against a bug in it.
func (d *Discord) safely(what string, do func() error) {
	defer d.gate.recovered(what)
	if err := do(); err != nil && !errors.Is(err, context.Canceled) {
		d.log.Error("event", "kind", what, "err", d.rest.Secrets.Err(err))
	}
}
