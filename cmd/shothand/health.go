package main

import (
	"encoding/json"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"shothand/bot"
	"shothand/store"
)

// healthFlag describes -health.
const healthFlag = "the loopback `address`, such as 127.0.0.1:8399, at which /health tells how the bot is; without it nothing listens"

// probeEvery is how often at most the file is tried, whoever asks.
const probeEvery = 5 * time.Second

// A health tells whether the bot can do its work.
type health struct {
	records *store.Store
	log     *slog.Logger
	started time.Time

	mu    sync.Mutex
	tried time.Time
	err   error // of the last try
}

// healthAnswer is what /health says. Add keys; never rename them.
type healthAnswer struct {
	OK      bool   `json:"ok"`
	Version string `json:"version"`
	Uptime  int    `json:"uptime_s"`
	File    string `json:"file"` // "writable" or "not writable"
}

// serveHealth answers on address until stop is called. An empty address asks
// for nothing.
func serveHealth(address string, records *store.Store, log *slog.Logger) (stop func(), err error) {
	if address == "" {
		return func() {}, nil
	}
	if err := checkLoopback(address); err != nil {
		return nil, err
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, err
	}
	log.Info("health", "address", listener.Addr().String())
	mux := http.NewServeMux()
	mux.Handle("GET /health", &health{records: records, log: log, started: time.Now()})
	server := &http.Server{
		Handler: mux, ReadTimeout: 5 * time.Second, WriteTimeout: 10 * time.Second, MaxHeaderBytes: 8 << 10,
		ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn),
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

// checkLoopback refuses an address that others than this machine can reach.
func checkLoopback(address string) error {
	host, err := netip.ParseAddrPort(address)
	if err != nil || !host.Addr().IsLoopback() {
		return errors.New(bot.HealthAddressText(address))
	}
	return nil
}

// ServeHTTP answers 200 if the file takes a write and 503 if it does not.
func (h *health) ServeHTTP(w http.ResponseWriter, _ *http.Request) {
	answer := healthAnswer{OK: true, Version: version(), Uptime: int(time.Since(h.started).Seconds()), File: "writable"}
	status := http.StatusOK
	if err := h.probe(); err != nil {
		answer.OK, answer.File, status = false, "not writable", http.StatusServiceUnavailable
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	if err := json.NewEncoder(w).Encode(answer); err != nil {
		h.log.Debug("health", "err", err) // whoever asked has gone
	}
}

// probe commits a transaction that changes nothing.
func (h *health) probe() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if now := time.Now(); h.tried.IsZero() || now.Sub(h.tried) >= probeEvery {
		h.tried = now
		if h.err = h.records.Update(func(*store.Tx) error { return nil }); h.err != nil {
			h.log.Error("health", "err", h.err)
		}
	}
	return h.err
}
