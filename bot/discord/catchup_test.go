package discord

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/fake"
)

// A barista is a stub that holds shots alone, as the bot does: chatter leaves
// nothing behind.
func barista(t *testing.T, f *fake.Server) *stub {
	t.Helper()
	return &stub{t: t, f: f, channel: f.Channel("dial-in").ID, shotsOnly: true}
}

// chatter lets people talk, without the bot in between.
func chatter(f *fake.Server, n int) {
	for i := range n {
		f.Say("dial-in", []string{"jo", "sam"}[i%2], fmt.Sprintf("chatter %d", i), "")
	}
}

// However much was said since the first shot of the day, what is new is heard
// after a drop, what stands behind much chatter is found, and what is live does
// not wait for it: also when the program ends before all is read.
func TestMuchToCatchUpWith(t *testing.T) {
	t.Parallel()
	n := 1200
	if testing.Short() {
		n = 400
	}
	f := newFake(t, fake.Options{})
	s := barista(t, f)
	r := listenWith(t, s, quick())
	r.connected()
	shots := []string{r.say("shot one")}
	chatter(f, n)
	shots = append(shots, r.say("shot two"))
	f.NextConnections(fake.Opening{Refuse: 503})
	f.CutConnections()
	shots = append(shots, f.Say("dial-in", "jo", "shot three", ""))
	r.answered(shots[2])
	if err := r.stop(); err != nil {
		t.Fatal(err)
	}

	chatter(f, n/2)
	buried := f.Say("dial-in", "jo", "shot four, behind much", "")
	chatter(f, n)
	f.EditMessage(shots[0], "shot one, edited")
	f.DeleteMessage(shots[1])
	// Reading the channel is slow, so that live ones come in between.
	f.Break(fake.Fault{Method: "GET", Path: "/channels/*/messages", Delay: 100 * time.Millisecond, Times: -1})
	times := quick()
	times.Hold = 50 * time.Millisecond
	r = listenWith(t, s, times)
	r.connected()
	live := f.Say("dial-in", "sam", "shot five, live", "")
	r.answered(live)
	if len(repliesTo(f.Posts("dial-in"), buried)) > 0 {
		t.Error("the live shot waited for all that was said before it")
	}
	if bars, since := r.d.Behind(); bars != 1 || time.Since(since) < 0 {
		t.Errorf("%d bars are behind, since %v", bars, since)
	}
	if err := r.stop(); err != nil { // before the buried one is reached
		t.Fatal(err)
	}
	if len(repliesTo(f.Posts("dial-in"), buried)) > 0 {
		t.Fatal("it was read too soon to show anything")
	}
	f.Mend()
	r = listenWith(t, s, times)
	r.answered(buried)
	eventually(t, "the edit", func() bool { return len(r.messages(chat.Edited)) > 0 })
	eventually(t, "the deletion", func() bool { return len(r.messages(chat.Deleted)) > 0 })
	eventually(t, "the present", func() bool { bars, _ := r.d.Behind(); return bars == 0 })
	r.once(append(slices.Delete(slices.Clone(shots), 1, 2), buried, live)...)
	if left, _ := s.Unread(""); left != "" {
		t.Errorf("left unread from %s", left)
	}
}

// What is live comes in the order of time where the gap is short.
func TestCatchUpInOrder(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	r.say("before")
	f.Break(fake.Fault{Method: "GET", Path: "/channels/*/messages", Delay: 200 * time.Millisecond})
	f.CutConnections()
	for i := range 5 {
		f.Say("dial-in", "jo", fmt.Sprintf("missed %d", i), "")
	}
	r.connected()
	r.say("live")
	var texts []string
	for _, m := range r.messages(chat.Text) {
		texts = append(texts, m.Text)
	}
	if got := strings.Join(texts, ", "); got != "before, missed 0, missed 1, missed 2, missed 3, missed 4, live" {
		t.Error(got)
	}
}
