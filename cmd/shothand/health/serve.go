package health

import (
	"encoding/json"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// Answer is what /health says. Add keys; never rename them.
type Answer struct {
	OK      bool     `json:"ok"`
	Why     []string `json:"why,omitempty"` // it is not
	Version string   `json:"version"`
	Uptime  int      `json:"uptime_s"`
	File    string   `json:"file"` // "writable", "not writable" or "no answer"

	Gateway string  `json:"gateway"`              // "up", "down", or "none" on the console
	Since   int     `json:"gateway_s"`            // for so long
	Lag     float64 `json:"catch_up_lag_s"`       // how far behind what has been said
	Behind  int     `json:"bars_behind"`          // that are not read up to the present
	Pending int     `json:"replies_pending"`      // written and not known to be sent
	Oldest  int     `json:"oldest_pending_s"`     // how long the oldest has waited
	Backup  string  `json:"last_backup"`          // when, or empty for none
	Checked string  `json:"last_backup_is"`       // what is known of it, or that the last try made none
	Bytes   int64   `json:"store_bytes,omitzero"` // of the file
}

// answerOf puts what was seen into words.
func answerOf(l look, version string, start time.Time) Answer {
	a := Answer{
		OK: true, Version: version, Uptime: int(l.now.Sub(start).Seconds()), File: "writable", Gateway: "none",
		Lag: l.lag().Seconds(), Behind: l.bars, Pending: l.pending, Checked: l.checked, Bytes: l.bytes,
	}
	for _, t := range l.troubles() {
		a.OK, a.Why = false, append(a.Why, t.text)
	}
	switch {
	case l.slow:
		a.File = "no answer"
	case l.err != nil:
		a.File = "not writable"
	}
	if l.connected {
		if a.Gateway, a.Since = "down", int(l.now.Sub(l.since).Seconds()); l.up {
			a.Gateway = "up"
		}
	}
	if !l.oldest.IsZero() {
		a.Oldest = int(l.now.Sub(l.oldest).Seconds())
	}
	if !l.backup.IsZero() {
		a.Backup = l.backup.UTC().Format(time.RFC3339)
	}
	return a
}

// Serve answers on address until stop is called. An empty address asks
// for nothing.
func (o *Observer) Serve(address string) (stop func(), err error) {
	if address == "" {
		return func() {}, nil
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, err
	}
	log := o.log
	log.Info("health", "address", listener.Addr().String())
	errorLog := slog.NewLogLogger(log.Handler(), slog.LevelWarn)
	mux := http.NewServeMux()
	mux.Handle("GET /health", handler{o})
	mux.Handle("GET /metrics", promhttp.HandlerFor(o.registry(), promhttp.HandlerOpts{ErrorLog: errorLog}))
	server := &http.Server{
		Handler: mux, ReadTimeout: 5 * time.Second, WriteTimeout: 10 * time.Second, MaxHeaderBytes: 8 << 10, ErrorLog: errorLog,
	}
	var serving sync.WaitGroup
	serving.Go(func() {
		if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
			log.Error("health", "err", err)
		}
	})
	return func() {
		if err := server.Close(); err != nil {
			log.Warn("health", "err", err)
		}
		serving.Wait()
	}, nil
}

// A handler tells whether the bot can do its work.
type handler struct{ *Observer }

// ServeHTTP answers 200 if the bot is well and 503, with why, if it is not.
func (h handler) ServeHTTP(w http.ResponseWriter, _ *http.Request) {
	answer := answerOf(h.look(), h.version, h.start)
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	if !answer.OK {
		w.WriteHeader(http.StatusServiceUnavailable)
	}
	if err := json.NewEncoder(w).Encode(answer); err != nil {
		h.log.Debug("health", "err", err) // whoever asked has gone
	}
}
