package discord

import (
	"encoding/json"
	"errors"
	"strings"
	"sync"
	"time"
)

// manyEvents is how many events may wait. Should more come, the session is
// given up and what was missed is read by REST.
const manyEvents = 4096

var errOverflow = errors.New("more events than can be handled")

// An event is one event of the gateway.
type event struct {
	kind string
	data json.RawMessage
}

// A queue keeps events in order, without ever making the gateway wait.
type queue struct {
	ready chan struct{} // holds one when there may be something

	mu     sync.Mutex
	events []event
	moved  time.Time // when the first of them became the first
	lost   bool      // something was dropped: nothing counts before the next session
}

func newQueue() *queue { return &queue{ready: make(chan struct{}, 1)} }

// put adds an event. It is false when the queue had to drop it. A new session
// begins with an empty queue, since all before it will be read anew.
func (q *queue) put(kind string, data json.RawMessage) bool {
	if !wanted(kind) {
		return true
	}
	q.mu.Lock()
	if kind == "READY" {
		q.events, q.lost = nil, false
	}
	if q.lost = q.lost || len(q.events) >= manyEvents; !q.lost {
		if len(q.events) == 0 {
			q.moved = time.Now()
		}
		q.events = append(q.events, event{kind, data})
	}
	lost := q.lost
	q.mu.Unlock()
	select {
	case q.ready <- struct{}{}:
	default:
	}
	return !lost
}

// take takes the oldest event.
func (q *queue) take() (event, bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if len(q.events) == 0 {
		q.events = nil
		return event{}, false
	}
	q.moved = time.Now()
	e := q.events[0]
	q.events[0] = event{}
	q.events = q.events[1:]
	return e, true
}

// wanted reports whether events of a kind are handled.
func wanted(kind string) bool {
	for _, prefix := range []string{"READY", "GUILD_CREATE", "GUILD_DELETE", "GUILD_UPDATE", "GUILD_ROLE_", "CHANNEL_", "THREAD_", "MESSAGE_"} {
		if strings.HasPrefix(kind, prefix) {
			return !strings.HasPrefix(kind, "MESSAGE_REACTION")
		}
	}
	return false
}

// manyPast is how many deliveries are remembered.
const manyPast = 8192

// A past remembers what was delivered, so that nothing is twice: events come
// twice now and then, and what is read by REST comes as an event as well.
type past struct {
	known map[string]bool
	order []string
	next  int
}

func newPast() *past { return &past{known: map[string]bool{}, order: make([]string, manyPast)} }

// has reports whether key was added.
func (p *past) has(key string) bool { return p.known[key] }

// add reports whether key is new, and remembers it.
func (p *past) add(key string) bool {
	if p.known[key] {
		return false
	}
	delete(p.known, p.order[p.next])
	p.known[key], p.order[p.next] = true, key
	p.next = (p.next + 1) % manyPast
	return true
}
