package discord

import (
	"cmp"
	"context"
	"sync"
	"time"

	"shothand/bot/chat"
)

// shelfLife is for how long it is kept what was found in a place.
const shelfLife = 5 * time.Minute

// A shelf is what the bot has posted in a place, from one number to another, so
// that looking for the answers to a thousand messages reads each page once.
type shelf struct {
	mu       sync.Mutex
	from, to uint64
	used     time.Time
	posts    []wireMessage
}

// shelves are those of all places.
type shelves struct {
	mu sync.Mutex
	of map[string]*shelf
}

// get returns the shelf of a place. Old ones are thrown away.
func (s *shelves) get(place string) *shelf {
	s.mu.Lock()
	defer s.mu.Unlock()
	kept := map[string]*shelf{}
	for name, old := range s.of {
		if time.Since(old.used) < shelfLife {
			kept[name] = old
		}
	}
	if kept[place] == nil {
		kept[place] = &shelf{}
	}
	kept[place].used = time.Now()
	s.of = kept
	return kept[place]
}

// fill reads what the bot has posted in a place since a number, as far as that
// is not on the shelf.
func (d *Discord) fill(ctx context.Context, s *shelf, channel, thread, me string, from uint64) error {
	if s.to == 0 || from < s.from {
		s.from, s.to, s.posts = from, from, nil
	}
	for {
		messages, err := d.page(ctx, channel, thread, s.to)
		if err != nil {
			return err
		}
		for _, m := range messages {
			if m.Author != nil && m.Author.ID == me && m.Content != nil {
				s.posts = append(s.posts, m)
			}
		}
		to := max(s.to, newest(messages))
		if len(messages) < page || to == s.to {
			s.to = to
			return nil
		}
		s.to = to
	}
}

// find looks for p among what the bot has posted since its cause, and returns
// the id of the post that stands last, or nothing.
func (d *Discord) find(ctx context.Context, p chat.Post, parts []outgoing) (string, error) {
	me, err := d.self(ctx)
	if err != nil {
		return "", err
	}
	_, cause, isMessage := cutID(p.Cause)
	from := number(cause)
	if from == 0 {
		from = moment(p.At.Add(-span))
	}
	s := d.posted.get(cmp.Or(p.Thread, p.Channel))
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := d.fill(ctx, s, p.Channel, p.Thread, me.user, from); err != nil {
		return "", err
	}
	last := parts[len(parts)-1].Content
	id := ""
	for _, m := range s.posts {
		answers := isMessage && m.Reference != nil && m.Reference.MessageID == cause || m.Caused != nil && m.Caused.ID == cause
		same := m.Nonce == nonce(p, len(parts)-1) || *m.Content == last && (!isMessage || len(parts) > 1)
		if (answers || same) && number(m.ID) > number(id) && number(m.ID) > from {
			id = m.ID
		}
	}
	if id == "" {
		return "", nil
	}
	return idOf(p.Thread, id), nil
}
