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
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/prometheus/client_golang/prometheus/testutil"

	"shothand/bot"
	"shothand/bot/discord"
	"shothand/bot/discord/fake"
	"shothand/bot/serve"
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
	*observer
	records *store.Store
	url     string
}

// observed opens a file, and answers on a port of its own. Connect returns what
// serves it, or is nil for the console.
func observed(t *testing.T, connect func(*store.Store, *meter) connection) *watched {
	t.Helper()
	records, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = records.Close() }) // some tests close it themselves
	count, conn := newMeter(), connection(nil)
	if connect != nil {
		conn = connect(records, count)
	}
	var lines strings.Builder
	log := slog.New(slog.NewTextHandler(&lines, nil))
	o := &watched{observer: newObserver(log, records, conn, count, &lastBackup{}), records: records}
	stop, err := serveHealth("127.0.0.1:0", o.observer)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(stop)
	_, address, _ := strings.Cut(strings.TrimSpace(lines.String()), "address=")
	o.url = "http://" + address
	return o
}

// A bot that can write says so, one that cannot does as well, and neither says
// anything of who was there.
func TestHealth(t *testing.T) {
	o := observed(t, nil)
	status, got := ask(t, o.url+"/health")
	if status != http.StatusOK || !got.OK || got.File != "writable" || !strings.HasPrefix(got.Version, "shothand") || got.Gateway != "none" || got.Bytes == 0 {
		t.Errorf("%d %+v", status, got)
	}
	if status, _ := ask(t, o.url+"/"); status != http.StatusNotFound {
		t.Errorf("something else: %d", status)
	}
	if err := o.records.Close(); err != nil {
		t.Fatal(err)
	}
	o.known = tried{}
	status, got = ask(t, o.url+"/health")
	if status != http.StatusServiceUnavailable || got.OK || got.File != "not writable" || len(got.Why) != 1 {
		t.Errorf("closed: %d %+v", status, got)
	}
}

// Records that never answer keep nobody waiting for long, and are asked once.
func TestHealthOfRecordsThatHang(t *testing.T) {
	t.Parallel()
	o := observed(t, nil)
	asked, hang := make(chan struct{}, 8), make(chan struct{})
	defer close(hang)
	o.try = func() tried {
		asked <- struct{}{}
		<-hang
		return tried{}
	}
	for range 2 {
		status, got := ask(t, o.url+"/health")
		if status != http.StatusServiceUnavailable || got.File != "no answer" || !slices.Equal(got.Why, []string{"the records did not answer within 2s"}) {
			t.Errorf("%d %+v", status, got)
		}
	}
	if got := page(t, o.url+"/metrics"); !strings.Contains(got, "\nshothand_ok 0\n") || strings.Contains(got, "replies_pending") {
		t.Errorf("metrics:\n%s", got)
	}
	if len(asked) != 1 {
		t.Errorf("asked %d times", len(asked))
	}
}

func TestTroubles(t *testing.T) {
	now := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	ago := func(d time.Duration) time.Time { return now.Add(-d) }
	for name, c := range map[string]struct {
		look
		kinds string
	}{
		"well":                {look{connected: true, up: true, since: ago(time.Hour)}, ""},
		"the console":         {look{}, ""},
		"just lost":           {look{connected: true, since: ago(20 * time.Second)}, ""},
		"deaf":                {look{connected: true, since: ago(31 * time.Second)}, "deaf"},
		"takes up nothing":    {look{connected: true, up: true, since: ago(time.Hour), waiting: time.Minute}, "held"},
		"catching up":         {look{connected: true, up: true, since: ago(time.Minute), bars: 3, unread: ago(100 * time.Hour), behind: time.Minute}, ""},
		"never catches up":    {look{connected: true, up: true, since: ago(time.Hour), bars: 3, unread: ago(time.Hour), behind: time.Hour}, "behind"},
		"replies under way":   {look{tried: tried{pending: 2, oldest: ago(time.Minute)}, sent: ago(time.Hour)}, ""},
		"nothing goes out":    {look{tried: tried{pending: 2, oldest: ago(6 * time.Minute)}, sent: ago(time.Hour)}, "stuck"},
		"one bar's right out": {look{tried: tried{pending: 1, oldest: ago(time.Hour)}, sent: ago(time.Minute)}, ""},
		"no write":            {look{tried: tried{err: errors.New("full")}}, "file"},
		"no answer, and deaf": {look{tried: tried{slow: true}, connected: true, since: ago(time.Hour)}, "slow deaf"},
	} {
		c.now = now
		var kinds []string
		for _, tr := range c.troubles() {
			kinds = append(kinds, tr.kind)
		}
		if got := strings.Join(kinds, " "); got != c.kinds {
			t.Errorf("%s: %q, want %q", name, got, c.kinds)
		}
		if a := answerOf(c.look, ago(time.Hour)); a.OK != (c.kinds == "") || len(a.Why) != len(kinds) {
			t.Errorf("%s: answered %+v", name, a)
		}
	}
}

// The log holds the beginning and the end of a trouble, at warn, once each.
func TestTroubleIsLoggedOnce(t *testing.T) {
	var lines strings.Builder
	log := slog.New(slog.NewTextHandler(&lines, nil))
	now := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	deaf := look{now: now, connected: true, since: now.Add(-time.Minute)}
	told := tell(log, deaf, nil)
	deaf.now = now.Add(time.Minute)
	told = tell(log, deaf, told)
	told = tell(log, look{now: now}, told)
	tell(log, look{now: now}, told)
	stamp := regexp.MustCompile(`time=\S+ `)
	want := `level=WARN msg="not well" what=deaf why="not connected for 1m0s"` + "\n" + `level=INFO msg="well again" what=deaf` + "\n"
	if got := stamp.ReplaceAllString(lines.String(), ""); got != want {
		t.Errorf("logged\n%swant\n%s", got, want)
	}
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
	o = observed(t, func(records *store.Store, m *meter) connection {
		b = serve.New(bot.New(records, bot.Options{Resend: true, Clock: time.Now, Meter: m}))
		service = discord.New(discord.Options{
			Root: root, Token: "x", Times: quick(), Desk: b, Log: slog.New(slog.NewTextHandler(t.Output(), nil)),
			Texts: discord.Texts{Nothing: nothingSaidText, Fatal: discordClosed, Token: tokenRefused()},
		})
		return service
	})
	forward = &atomic.Int64{}
	o.clock = func() time.Time { return time.Now().Add(time.Duration(forward.Load())) }
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
	until(t, o.url, func(a healthAnswer, metrics string) bool {
		return a.OK && a.Gateway == "up" && a.Pending == 0 && strings.Contains(metrics, "\nshothand_gateway_up 1\n") &&
			strings.Contains(metrics, "\nshothand_shots_recorded_total 1\n") && strings.Contains(metrics, "\nshothand_advice_seconds_count ") &&
			!strings.Contains(metrics, "\nshothand_replies_sent_total 0\n")
	})
	f.NextConnections(slices.Repeat([]fake.Opening{{Refuse: 503}}, 10000)...)
	f.CutConnections()
	until(t, o.url, func(a healthAnswer, metrics string) bool {
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
		there     func(healthAnswer) bool
	}{
		{"stuck", "and none was sent meanwhile", fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 503, Times: -1}, func(a healthAnswer) bool { return a.Pending == 1 }},
		{"behind", "not read up to the present", fake.Fault{Method: "GET", Path: "/channels/*/messages", Status: 503, Times: -1}, func(a healthAnswer) bool { return a.Behind == 1 }},
	} {
		t.Run(test.name, func(t *testing.T) {
			f, o, forward := observedOnDiscord(t)
			await(t, f, "a look at what was missed", func(s *fake.State) bool { // it begins a moment after the bar was set up
				return slices.ContainsFunc(s.Requests(), func(r fake.Request) bool {
					return r.Method == "GET" && strings.HasSuffix(r.Path, "/messages") && r.Status == 200
				})
			})
			until(t, o.url, func(a healthAnswer, _ string) bool {
				return a.OK && a.Gateway == "up" && a.Behind == 0 && a.Pending == 0
			})
			f.Break(test.fault)
			if test.name == "behind" {
				f.CutConnections()
			}
			f.Say("dial-in", "mara", "18.1 36.4 24 sour thin", "")
			until(t, o.url, func(a healthAnswer, _ string) bool { return a.OK && a.Gateway == "up" && test.there(a) })
			forward.Store(int64(10 * time.Minute))
			until(t, o.url, func(a healthAnswer, metrics string) bool {
				return !a.OK && len(a.Why) == 1 && strings.Contains(a.Why[0], test.why) && strings.Contains(metrics, "\nshothand_ok 0\n")
			})
			f.Mend()
			until(t, o.url, func(a healthAnswer, _ string) bool { return a.OK && a.Behind == 0 && a.Pending == 0 })
		})
	}
}

// until asks until what is answered is as it should be.
func until(t *testing.T, at string, done func(healthAnswer, string) bool) {
	t.Helper()
	var a healthAnswer
	var metrics string
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		_, a = ask(t, at+"/health")
		if metrics = page(t, at+"/metrics"); done(a, metrics) {
			return
		}
	}
	t.Fatalf("in the end %+v\n%s", a, metrics)
}

// A backup that was made is told of with what is known of it.
func TestHealthOfBackups(t *testing.T) {
	o := observed(t, nil)
	if _, got := ask(t, o.url+"/health"); got.Backup != "" || got.Checked != "" {
		t.Errorf("before any: %+v", got)
	}
	dir := backupDir(o.records.Path())
	if _, err := o.records.BackupInto(dir, time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC), file.Keep{Days: 7, Weeks: 4, Months: 6}); err != nil {
		t.Fatal(err)
	}
	if err := o.last.found(dir); err != nil {
		t.Fatal(err)
	}
	if _, got := ask(t, o.url+"/health"); got.Backup != "2026-03-02T07:00:00Z" || got.Checked != backupUnread {
		t.Errorf("found: %+v", got)
	}
	asked := make(chan os.Signal, 1)
	ctx, cancel := context.WithCancel(t.Context())
	var keeping sync.WaitGroup
	keeping.Go(func() {
		keepBackups(ctx, o.log, o.records, o.last, file.Keep{Days: 7, Weeks: 4, Months: 6}, false, asked)
	})
	asked <- os.Interrupt
	until(t, o.url, func(a healthAnswer, metrics string) bool {
		return a.Checked == backupSound && a.Backup > "2026-03-02T07:00:00Z" && strings.Contains(metrics, "\nshothand_last_backup_ok 1\n")
	})
	if err := errors.Join(os.RemoveAll(dir), os.WriteFile(dir, nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	asked <- os.Interrupt
	until(t, o.url, func(a healthAnswer, metrics string) bool {
		return a.Checked == backupFailed && strings.Contains(metrics, "\nshothand_last_backup_ok 0\n")
	})
	cancel()
	keeping.Wait()
}

// The names of what is measured are as Prometheus wants them.
func TestMetricNames(t *testing.T) {
	problems, err := testutil.GatherAndLint(registryOf(observed(t, nil).observer))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Errorf("%s: %s", p.Metric, p.Text)
	}
}

// get returns what is at a URL.
func get(t *testing.T, at string) (status int, body []byte) {
	t.Helper()
	request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, at, nil)
	if err != nil {
		t.Fatal(err)
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	body, err = io.ReadAll(response.Body)
	if err := errors.Join(err, response.Body.Close()); err != nil {
		t.Fatal(err)
	}
	return response.StatusCode, body
}

// page returns what is at a URL, as text.
func page(t *testing.T, at string) string {
	t.Helper()
	_, body := get(t, at)
	return string(body)
}

// ask asks /health.
func ask(t *testing.T, at string) (status int, a healthAnswer) {
	t.Helper()
	status, body := get(t, at)
	if status != http.StatusNotFound {
		if err := json.Unmarshal(body, &a); err != nil {
			t.Fatal(err)
		}
	}
	return status, a
}
