package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"shothand/bot"
	"shothand/bot/discord"
	"shothand/bot/discord/fake"
	"shothand/bot/serve"
	"shothand/cmd/shothand/health"
	"shothand/store"
	"shothand/store/file"
)

// Only this machine may ask, and only for one thing.
func TestHealthIsForThisMachine(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	for _, address := range []string{
		"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:0", "localhost", "127.0.0.1", "example.org:80", "[::ffff:192.0.2.1]:80", "8399", "127.0.0.1:x", "unix:/tmp/x",
	} {
		said, err := call(t, "", "console", "-db", db, "-health", address)
		if err == nil || !strings.Contains(err.Error(), "-health "+address) {
			t.Errorf("%s: %v %s", address, err, said)
		}
	}
	if _, err := call(t, "", "console", "-db", db, "-health", "[::1]:0"); err != nil && !strings.Contains(err.Error(), "assign") {
		t.Errorf("[::1]:0: %v", err) // a machine may have no IPv6
	}
}

// A watched is a file of records with an observer that is asked over HTTP.
type watched struct {
	*health.Observer
	last    *health.LastBackup
	records *store.Store
	url     string
}

// observed opens a file, and answers on a port of its own. Connect returns what
// serves it, or is nil for the console.
func observed(t *testing.T, connect func(*store.Store, *health.Meter) health.Connection) *watched {
	t.Helper()
	records, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = records.Close() }) // some tests close it themselves
	count, conn := health.NewMeter(), health.Connection(nil)
	if connect != nil {
		conn = connect(records, count)
	}
	var lines strings.Builder
	log := slog.New(slog.NewTextHandler(&lines, nil))
	o := &watched{last: &health.LastBackup{}, records: records}
	o.Observer = health.New(log, version(), records, conn, count, o.last)
	stop, err := serveHealth("127.0.0.1:0", o.Observer)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(stop)
	_, address, _ := strings.Cut(strings.TrimSpace(lines.String()), "address=")
	o.url = "http://" + address
	return o
}

// observedOnDiscord is a bot on the fake Discord, watched, with a clock that a test may
// put forward.
func observedOnDiscord(t *testing.T) (f *fake.Server, o *watched, forward *atomic.Int64) {
	t.Helper()
	f = newFake(t)
	root, err := url.Parse(f.URL)
	if err != nil {
		t.Fatal(err)
	}
	var b *serve.Runner
	var service *discord.Discord
	o = observed(t, func(records *store.Store, m *health.Meter) health.Connection {
		b = serve.New(bot.New(records, bot.Options{Resend: true, Clock: time.Now, Meter: m}))
		service = discord.New(discord.Options{
			Root: root, Token: "x", Times: quick(), Desk: b, Log: slog.New(slog.NewTextHandler(t.Output(), nil)),
			Texts: discord.Texts{Nothing: nothingSaidText, Fatal: discordClosed, Token: tokenRefused()},
		})
		return service
	})
	forward = &atomic.Int64{}
	o.Clock = func() time.Time { return time.Now().Add(time.Duration(forward.Load())) }
	ctx, cancel := context.WithCancel(t.Context())
	var done sync.WaitGroup
	done.Go(func() {
		if err := b.Run(ctx, service); err != nil {
			t.Error(err)
		}
	})
	t.Cleanup(func() { cancel(); done.Wait() })
	await(t, f, "commands", func(s *fake.State) bool { return len(s.Commands("Harbour Lane")) > 0 && s.Connections() == 1 })
	bind(t, f)
	return f, o, forward
}

// On Discord a shot is counted, the gateway is told of, and so is its loss.
func TestHealthOnDiscord(t *testing.T) {
	t.Parallel()
	f, o, _ := observedOnDiscord(t)
	f.Say("dial-in", "mara", "18.1 36.4 24 sour thin", "")
	await(t, f, "the advice", func(s *fake.State) bool { return len(s.Posts("dial-in")) > 1 })
	until(t, o.url, func(a health.Answer, metrics string) bool {
		return a.OK && a.Gateway == "up" && a.Pending == 0 && strings.Contains(metrics, "\nshothand_gateway_up 1\n") &&
			strings.Contains(metrics, "\nshothand_shots_recorded_total 1\n") && strings.Contains(metrics, "\nshothand_advice_seconds_count ") &&
			!strings.Contains(metrics, "\nshothand_replies_sent_total 0\n")
	})
	f.NextConnections(slices.Repeat([]fake.Opening{{Refuse: 503}}, 10000)...)
	f.CutConnections()
	until(t, o.url, func(a health.Answer, metrics string) bool {
		return a.Gateway == "down" && strings.Contains(metrics, "\nshothand_gateway_up 0\n")
	})
}

// Replies that cannot be sent, and a bar that cannot be read, are no trouble at
// first, and one when they last.
func TestHealthOfWhatLasts(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name, why string
		fault     fake.Fault
		there     func(health.Answer) bool
	}{
		{"stuck", "and none was sent meanwhile", fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 503, Times: -1}, func(a health.Answer) bool { return a.Pending == 1 }},
		{"behind", "not read up to the present", fake.Fault{Method: "GET", Path: "/channels/*/messages", Status: 503, Times: -1}, func(a health.Answer) bool { return a.Behind == 1 }},
	} {
		t.Run(test.name, func(t *testing.T) {
			f, o, forward := observedOnDiscord(t)
			await(t, f, "a look at what was missed", func(s *fake.State) bool { // it begins a moment after the bar was set up
				return slices.ContainsFunc(s.Requests(), func(r fake.Request) bool {
					return r.Method == "GET" && strings.HasSuffix(r.Path, "/messages") && r.Status == 200
				})
			})
			until(t, o.url, func(a health.Answer, _ string) bool {
				return a.OK && a.Gateway == "up" && a.Behind == 0 && a.Pending == 0
			})
			f.Break(test.fault)
			if test.name == "behind" {
				f.CutConnections()
			}
			f.Say("dial-in", "mara", "18.1 36.4 24 sour thin", "")
			until(t, o.url, func(a health.Answer, _ string) bool { return a.OK && a.Gateway == "up" && test.there(a) })
			forward.Store(int64(10 * time.Minute))
			until(t, o.url, func(a health.Answer, metrics string) bool {
				return !a.OK && len(a.Why) == 1 && strings.Contains(a.Why[0], test.why) && strings.Contains(metrics, "\nshothand_ok 0\n")
			})
			f.Mend()
			until(t, o.url, func(a health.Answer, _ string) bool { return a.OK && a.Behind == 0 && a.Pending == 0 })
		})
	}
}

// until asks until what is answered is as it should be.
func until(t *testing.T, at string, done func(health.Answer, string) bool) {
	t.Helper()
	var a health.Answer
	var metrics string
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		a = ask(t, at+"/health")
		if metrics = page(t, at+"/metrics"); done(a, metrics) {
			return
		}
	}
	t.Fatalf("in the end %+v\n%s", a, metrics)
}

// A backup that was made is told of with what is known of it.
func TestHealthOfBackups(t *testing.T) {
	o := observed(t, nil)
	if got := ask(t, o.url+"/health"); got.Backup != "" || got.Checked != "" {
		t.Errorf("before any: %+v", got)
	}
	dir := backupDir(o.records.Path())
	if _, err := o.records.BackupInto(dir, time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC), file.Keep{Days: 7, Weeks: 4, Months: 6}); err != nil {
		t.Fatal(err)
	}
	if err := o.last.Found(dir); err != nil {
		t.Fatal(err)
	}
	if got := ask(t, o.url+"/health"); got.Backup != "2026-03-02T07:00:00Z" || got.Checked != health.BackupUnread {
		t.Errorf("found: %+v", got)
	}
	asked := make(chan os.Signal, 1)
	ctx, cancel := context.WithCancel(t.Context())
	var keeping sync.WaitGroup
	keeping.Go(func() {
		keepBackups(ctx, slog.New(slog.DiscardHandler), o.records, o.last, file.Keep{Days: 7, Weeks: 4, Months: 6}, false, asked)
	})
	asked <- os.Interrupt
	until(t, o.url, func(a health.Answer, metrics string) bool {
		return a.Checked == health.BackupSound && a.Backup > "2026-03-02T07:00:00Z" && strings.Contains(metrics, "\nshothand_last_backup_ok 1\n")
	})
	if err := errors.Join(os.RemoveAll(dir), os.WriteFile(dir, nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	asked <- os.Interrupt
	until(t, o.url, func(a health.Answer, metrics string) bool {
		return a.Checked == health.BackupFailed && strings.Contains(metrics, "\nshothand_last_backup_ok 0\n")
	})
	cancel()
	keeping.Wait()
}

// get returns what is at a URL.
func get(t *testing.T, at string) []byte {
	t.Helper()
	request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, at, nil)
	if err != nil {
		t.Fatal(err)
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(response.Body)
	if err := errors.Join(err, response.Body.Close()); err != nil {
		t.Fatal(err)
	}
	return body
}

// page returns what is at a URL, as text.
func page(t *testing.T, at string) string {
	t.Helper()
	body := get(t, at)
	return string(body)
}

// ask asks /health.
func ask(t *testing.T, at string) (a health.Answer) {
	t.Helper()
	body := get(t, at)
	if err := json.Unmarshal(body, &a); err != nil {
		t.Fatal(err)
	}
	return a
}
