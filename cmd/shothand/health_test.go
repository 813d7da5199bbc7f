package main

import (
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"shothand/store"
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

// A bot that can write says so, one that cannot does as well, and neither says
// anything of who was there.
func TestHealth(t *testing.T) {
	records, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	var lines strings.Builder
	log := slog.New(slog.NewTextHandler(&lines, nil))
	stop, err := serveHealth("127.0.0.1:0", records, log)
	if err != nil {
		t.Fatal(err)
	}
	defer stop()
	_, address, _ := strings.Cut(strings.TrimSpace(lines.String()), "address=")
	status, got := ask(t, "http://"+address+"/health")
	if status != http.StatusOK || !got.OK || got.File != "writable" || !strings.HasPrefix(got.Version, "shothand") {
		t.Errorf("%d %+v", status, got)
	}
	if status, _ := ask(t, "http://"+address+"/"); status != http.StatusNotFound {
		t.Errorf("something else: %d", status)
	}
	if err := records.Close(); err != nil {
		t.Fatal(err)
	}
	broken := &health{records: records, log: log}
	if err := broken.probe(); err == nil {
		t.Error("a closed file takes writes")
	}
}

func ask(t *testing.T, url string) (status int, a healthAnswer) {
	t.Helper()
	request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	if err := response.Body.Close(); err != nil {
		t.Fatal(err)
	}
	if response.StatusCode == http.StatusOK {
		if err := json.Unmarshal(body, &a); err != nil {
			t.Fatal(err)
		}
	}
	return response.StatusCode, a
}
