// Shothand is a chat bot that helps an espresso bar dial in its coffees.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/netip"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata"

	"shothand/bot"
	"shothand/bot/console"
	"shothand/bot/serve"
	"shothand/cmd/shothand/health"
	"shothand/store"
)

func main() {
	ctx, stop := heedSignals()
	spareThreads()
	collectLater()
	err := run(ctx, os.Args[1:], os.Getenv, os.Stdin, os.Stdout, os.Stderr)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, console.Fit(os.Stderr, "shothand: "+err.Error()))
		os.Exit(exitStatus(err))
	}
}

// heedSignals returns what is done when the program is told to stop. It comes
// before all else, so that no signal kills: that the terminal has gone is no
// reason to stop, and a backup may be asked for before there is one to make.
func heedSignals() (ctx context.Context, stop func()) {
	notifyBackup(make(chan os.Signal, 1)) // startBackups listens when there is something to back up
	signal.Ignore(syscall.SIGHUP)
	return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
}

// spareThreads lets Go run on two threads more than there are processors. One
// that waits for the disk counts as running until the runtime notices, which
// takes it up to 10 ms, and with two processors and a commit always on its way
// that is half of them: 64 bars at once were answered by an eighth slower.
func spareThreads() {
	runtime.GOMAXPROCS(runtime.GOMAXPROCS(0) + 2)
}

// collectLater lets nothing be collected in the first second, unless much is
// taken: the first answer falls in it, and collecting was a fifth of its work.
func collectLater() {
	const much = 128 << 20
	percent, limit := debug.SetGCPercent(-1), debug.SetMemoryLimit(much)
	time.AfterFunc(time.Second, func() {
		debug.SetMemoryLimit(limit)
		debug.SetGCPercent(percent)
	})
}

// runConsole opens the bot on a terminal, or on what is piped in.
func (p program) runConsole(ctx context.Context, o openWith, hint string) (err error) {
	aside := console.NewAside(p.errOut)
	log, err := logger(aside, o.level, false)
	if err != nil {
		return err
	}
	opening := p.goingOn("Opening "+o.db, -1)
	records, err := store.Open(o.db)
	opening.stop()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, records.Close()) }()
	defer endWhenBroken(records, p.errOut)()
	count, last := health.NewMeter(), &health.LastBackup{}
	stopHealth, err := serveHealth(o.health, health.New(log, version(), records, nil, count, last))
	if err != nil {
		return err
	}
	defer stopHealth()
	defer startBackups(log, records, last, *o.keep, false)()
	if hint != "" && !o.json {
		if err := tell(p.errOut, hint); err != nil {
			return err
		}
	}
	shothand := serve.New(bot.New(records, bot.Options{Log: log, Open: true, Meter: count}))
	stopPosts, err := servePosts(o.listen, shothand, log)
	if err != nil {
		return err
	}
	defer stopPosts()
	if o.listen != "" && !o.json {
		if err := tell(p.errOut, listensText(o.listen)); err != nil {
			return err
		}
	}
	service := console.New(console.Options{
		Known: shothand, Now: p.now,
		In: p.in, Out: p.out, Err: p.errOut, Aside: aside, JSON: o.json,
		Dumb:     p.getenv("TERM") == "dumb",
		Managers: split(o.managers),
		FilesDir: o.db + ".files",
		Texts:    func(channel string) console.Texts { return consoleTexts(shothand.Lang(channel)) },
	})
	return shothand.Run(ctx, service)
}

// split returns the names in a list by comma.
func split(names string) []string {
	return strings.FieldsFunc(names, func(r rune) bool { return r == ',' || r == ' ' })
}

// logger returns a log of one line, or one JSON object, an event.
func logger(out io.Writer, level string, asJSON bool) (*slog.Logger, error) {
	var l slog.Level
	if err := l.UnmarshalText([]byte(level)); err != nil {
		return nil, errors.New(levelText(level))
	}
	o := &slog.HandlerOptions{Level: l}
	if asJSON {
		return slog.New(slog.NewJSONHandler(out, o)), nil
	}
	return slog.New(slog.NewTextHandler(out, o)), nil
}

// serveHealth answers on an address of this machine until stop is called. An empty
// address asks for nothing.
func serveHealth(address string, o *health.Observer) (stop func(), err error) {
	host, err := netip.ParseAddrPort(address)
	if address != "" && (err != nil || !host.Addr().IsLoopback()) {
		return nil, errors.New(healthAddressText(address))
	}
	return o.Serve(address)
}
