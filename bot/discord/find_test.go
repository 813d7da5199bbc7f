package discord

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/fake"
)

// An answer that is there already is found however much was said between what
// it answers and itself, and each page is read once for all that are looked for.
func TestAnswerFarBehindItsCause(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	f := newFake(t, fake.Options{})
	s := barista(t, f)
	r := listenWith(t, s, quick())
	r.connected()
	eventually(t, "the present", func() bool { return strings.Contains(r.log.String(), "caught up") })
	channel := f.Channel("dial-in").ID
	var causes []string
	for i := range 12 {
		causes = append(causes, f.Say("dial-in", "jo", fmt.Sprintf("chatter before %d", i), ""))
	}
	chatter(f, 3200)
	at := time.Now()
	answer := func(cause, text string, again bool) chat.Post {
		return chat.Post{Kind: chat.Advice, Channel: channel, Cause: cause, At: at, Text: text, Again: again}
	}
	for _, cause := range causes[:6] {
		if _, err := r.d.Send(t.Context(), answer(cause, "finer", false)); err != nil {
			t.Fatal(err)
		}
	}
	before := len(f.Requests())
	for i, cause := range causes {
		p := answer(cause, "recorded, in other words", true)
		p.At = at.Add(time.Hour) // so that no nonce keeps it from coming twice
		if _, err := r.d.Send(t.Context(), p); err != nil {
			t.Fatal(err)
		}
		if n := len(repliesTo(f.Posts("dial-in"), causes[i])); n != 1 {
			t.Errorf("message %d has %d answers", i, n)
		}
	}
	if n := len(f.Requests()) - before; n > 32+1+2*len(causes) {
		t.Errorf("%d calls for %d answers", n, len(causes))
	}
}

// An answer that is made anew in other words is the same answer, and what comes
// besides is not taken for it.
func TestAnswerInOtherWords(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listenWith(t, barista(t, f), quick())
	r.connected()
	id := f.Say("dial-in", "jo", "chatter", "")
	p := chat.Post{Kind: chat.Advice, Channel: f.Channel("dial-in").ID, Cause: id, At: time.Now(), Text: "finer"}
	more := p
	more.Kind, more.Text, more.More = chat.Info, "that was much coffee", true
	if _, err := r.d.Send(t.Context(), more); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"finer", "recorded", "recorded again"} {
		p.Text, p.Again = text, text == "recorded again"
		if _, err := r.d.Send(t.Context(), p); err != nil {
			t.Fatal(err)
		}
	}
	if posts := repliesTo(f.Posts("dial-in"), id); len(posts) != 1 || posts[0].Content != "finer" {
		t.Errorf("answers: %+v", posts)
	}
	if n := len(f.Posts("dial-in")); n != 2 {
		t.Errorf("%d posts", n)
	}
}
