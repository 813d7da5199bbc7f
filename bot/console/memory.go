package console

import (
	"slices"
	"strconv"
	"strings"

	"shothand/bot/chat"
)

// A posted is what is remembered of a post: enough to press its buttons and
// to see whether an edit says anything new.
type posted struct {
	id      string
	line    int    // the input line it came after, 0 before the first
	cause   string // the message it answers
	channel string
	thread  string
	kind    chat.PostKind
	text    string
	buttons []chat.Button
}

// maxPosts is how many posts are remembered: a day's, and more than anybody
// goes back to.
const maxPosts = 1000

// remember keeps p under id, in place of what was known of it. The caller
// holds c.mu.
func (c *Console) remember(id string, p chat.Post) {
	old, known := c.posts[id]
	if !known {
		old = &posted{id: id, line: c.line.Line, cause: p.Cause, channel: p.Channel, thread: p.Thread}
		c.posts[id] = old
		c.order = append(c.order, old)
		if len(c.order) > maxPosts {
			delete(c.posts, c.order[0].id)
			c.order = c.order[1:]
		}
	}
	old.kind, old.text, old.buttons = p.Kind, p.Text, p.Buttons
}

// newest returns the newest post with buttons for which keep says yes.
func (c *Console) newest(keep func(*posted) bool) (posted, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, p := range slices.Backward(c.order) {
		if len(p.buttons) > 0 && keep(p) {
			return *p, true
		}
	}
	return posted{}, false
}

// standing returns the newest answer, or nothing if it has no buttons. Help, what
// was not read and the like are no answers: the buttons above them still stand.
func (c *Console) standing() posted {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, p := range slices.Backward(c.order) {
		switch {
		case len(p.buttons) > 0:
			return *p
		case p.kind != chat.Info && p.kind != chat.Error && p.kind != chat.Reminder:
			return posted{}
		}
	}
	return posted{}
}

// find returns the button that the first of these names that names any: by its
// label, its place from 1, or the beginning of its label, if of no other.
func find(buttons []chat.Button, names ...string) (chat.Button, bool) {
	for _, name := range names {
		if b, ok := called(buttons, fold(name)); ok {
			return b, true
		}
	}
	return chat.Button{}, false
}

func called(buttons []chat.Button, s string) (chat.Button, bool) {
	if s == "" {
		return chat.Button{}, false
	}
	for _, b := range buttons {
		if s == fold(b.Label) {
			return b, true
		}
	}
	if n, err := strconv.Atoi(s); err == nil && 1 <= n && n <= len(buttons) {
		return buttons[n-1], true
	}
	var found []chat.Button
	for _, b := range buttons {
		if strings.HasPrefix(fold(b.Label), s) {
			found = append(found, b)
		}
	}
	if len(found) != 1 {
		return chat.Button{}, false
	}
	return found[0], true
}

// fold makes labels comparable, however they are spaced and capitalised.
func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
