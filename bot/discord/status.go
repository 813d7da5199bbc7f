package discord

import (
	"sync"
	"time"
)

// A state is whether the gateway's session is open, and since when that has
// been so.
type state struct {
	mu    sync.Mutex
	up    bool
	since time.Time
}

func (s *state) set(up bool, at time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.up, s.since = up, at
}

// Gateway returns whether the bot hears what is said, and since when it does or
// does not: for whoever watches the program.
func (d *Discord) Gateway() (up bool, since time.Time) {
	s := &d.gate.state
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.up, s.since
}

// Waiting returns for how long nothing of what was heard has been taken up, 0
// if nothing waits.
func (d *Discord) Waiting() time.Duration {
	d.queue.mu.Lock()
	defer d.queue.mu.Unlock()
	if len(d.queue.events) == 0 {
		return 0
	}
	return time.Since(d.queue.moved)
}
