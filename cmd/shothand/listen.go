package main

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"shothand/bot/post"
)

// listenFlag describes -listen.
const listenFlag = "the `address`, such as 192.168.1.20:8398, at which devices in the room may POST /shot; without it nothing listens"

// Times of the server that devices post to.
const (
	headTime  = 5 * time.Second // for the head of a request
	bodyTime  = 10 * time.Second
	replyTime = 30 * time.Second
	idleTime  = time.Minute
	stopTime  = 5 * time.Second // for what is under way when the program stops
)

// servePosts takes what devices post at an address until stop is called. An
// empty address asks for nothing.
func servePosts(address string, desk post.Desk, log *slog.Logger) (stop func(), err error) {
	if address == "" {
		return func() {}, nil
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, errors.New(listenText(address, err))
	}
	log.Info("listen", "address", listener.Addr().String())
	server := &http.Server{
		Handler:           post.New(desk, log, time.Now),
		ReadHeaderTimeout: headTime, ReadTimeout: bodyTime, WriteTimeout: replyTime, IdleTimeout: idleTime,
		MaxHeaderBytes: 8 << 10, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug),
	}
	var serving sync.WaitGroup
	serving.Go(func() {
		if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
			log.Error("listen", "err", err)
		}
	})
	return func() {
		ctx, cancel := context.WithTimeout(context.Background(), stopTime)
		defer cancel()
		if err := server.Shutdown(ctx); err != nil {
			log.Warn("listen", "err", errors.Join(err, server.Close()))
		}
		serving.Wait()
	}, nil
}

// listensText says at the console where devices may post, and to whom the address
// is open that names no machine.
func listensText(address string) string {
	text := "Devices may post to http://" + address + "/shot, by plain HTTP."
	host, port, err := net.SplitHostPort(address)
	if ip := net.ParseIP(host); err == nil && (host == "" || ip != nil && ip.IsUnspecified()) {
		text = "Devices may post to /shot at port " + port + " of this computer, by plain HTTP. Whoever reaches the computer reaches it: name one address to keep it to a network."
	}
	return text
}
