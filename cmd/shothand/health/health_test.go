package health

import (
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/prometheus/client_golang/prometheus/testutil"

	"shothand/store"
)

// A watched is a file of records with an observer that is asked over HTTP.
type watched struct {
	*Observer
	records *store.Store
	url     string
}

// observed opens a file, and answers on a port of its own.
func observed(t *testing.T) *watched {
	t.Helper()
	records, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = records.Close() }) // some tests close it themselves
	var lines strings.Builder
	log := slog.New(slog.NewTextHandler(&lines, nil))
	o := &watched{Observer: New(log, "shothand", records, nil, NewMeter(), &LastBackup{}), records: records}
	stop, err := o.Serve("127.0.0.1:0")
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
	o := observed(t)
	status, got := ask(t, o.url+"/health")
	if status != http.StatusOK || !got.OK || got.File != "writable" || got.Version != "shothand" || got.Gateway != "none" || got.Bytes == 0 {
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
	o := observed(t)
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
		if a := answerOf(c.look, "shothand", ago(time.Hour)); a.OK != (c.kinds == "") || len(a.Why) != len(kinds) {
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

// The names of what is measured are as Prometheus wants them.
func TestMetricNames(t *testing.T) {
	problems, err := testutil.GatherAndLint(observed(t).registry())
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
func ask(t *testing.T, at string) (status int, a Answer) {
	t.Helper()
	status, body := get(t, at)
	if status != http.StatusNotFound {
		if err := json.Unmarshal(body, &a); err != nil {
			t.Fatal(err)
		}
	}
	return status, a
}
