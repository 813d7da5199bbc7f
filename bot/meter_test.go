package bot

import (
	"testing"
	"time"

	"shothand/bot/chat"
)

// What was answered and not sent is pending, until it is too old to be sent.
func TestPending(t *testing.T) {
	b, at := newBot(t), morning()
	for i, id := range []string{"a", "b"} {
		b.Handle(chat.Message{ID: id, Channel: "bar", From: chat.Person{ID: "1", Name: "mara"}, At: at.Add(time.Duration(i) * time.Minute), Text: "18 36 28"})
	}
	for after, want := range map[time.Duration]int{2 * time.Minute: 2, lateAtMost + 30*time.Second: 1, 2 * lateAtMost: 0} {
		n, oldest, err := Pending(b.tools.Store, at.Add(after))
		if err != nil || n != want || (n == 2) != oldest.Equal(at) {
			t.Errorf("after %v: %d of %v, %v", after, n, oldest, err)
		}
	}
}
