package main

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/discord/fake"
)

// The first shot opens the day's thread on a card, which is edited as things
// happen, also after a restart, and never posted again.
func TestDiscordCard(t *testing.T) {
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), playCard)
}

func playCard(b *bubble) {
	t, f := b.T, b.Server
	db := filepath.Join(t.TempDir(), "bar.db")
	r := b.join(db)
	bind(t, f)
	shot := f.Say("dial-in", "mara", "18 36 28 grind 5 sweet", "")
	await(t, f, "the answer", hasAnswer(shot, "dial-in"))
	await(t, f, "the thread", func(s *fake.State) bool { return len(s.Threads("dial-in")) == 1 })
	card := f.Threads("dial-in")[0].ID // a thread on a post has its id
	says := func(what string) func(*fake.State) bool {
		return func(s *fake.State) bool {
			m, _ := s.Message(card)
			return strings.Contains(m.Content, what)
		}
	}
	await(t, f, "the card", says("dialling"))
	called := f.Say("dial-in", "jo", "house is dialled in", "")
	await(t, f, "the answer to the call", hasAnswer(called, "dial-in"))
	await(t, f, "the card edited", says("dialled in, 18 → 36 g, 28 s, at 5 (jo"))
	r.stop()
	r = b.join(db)
	moved := f.Say("dial-in", "sam", "18 36 29 grind 4.9 sweet", "")
	await(t, f, "the answer after the restart", hasAnswer(moved, "dial-in"))
	await(t, f, "the card after the restart", says("open again"))
	r.stop()
	if n := len(f.Threads("dial-in")); n != 1 {
		t.Errorf("%d threads", n)
	}
	cards := 0
	for _, m := range f.Posts("dial-in") {
		if strings.Contains(m.Content, "house: ") {
			cards++
		}
	}
	if cards != 1 {
		t.Errorf("%d cards:\n%s", cards, transcript(f, "dial-in"))
	}
}

// What was written in the day's thread while the bot was away is read when it
// comes back, also if nobody had spoken there before, and if the platform has
// put the thread away meanwhile.
func TestDayThreadCaughtUp(t *testing.T) {
	for _, archived := range []bool{false, true} {
		inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), func(b *bubble) {
			t, f := b.T, b.Server
			db := filepath.Join(t.TempDir(), "bar.db")
			r := b.join(db)
			bind(t, f)
			f.Say("dial-in", "mara", "18 36 28 grind 5 sweet", "")
			await(t, f, "the thread", func(s *fake.State) bool { return len(s.Threads("dial-in")) == 1 })
			time.Sleep(time.Minute)
			r.stop()
			thread := f.Threads("dial-in")[0].ID
			away := f.Say(thread, "jo", "18 36 30 a bit bitter", "")
			time.Sleep(10 * time.Hour)
			if archived {
				f.Archive(thread, false)
			}
			time.Sleep(10 * time.Hour)
			r = b.join(db)
			await(t, f, "the answer in the thread", hasAnswer(away, thread))
			r.stop()
			if n := len(answers(f, away, thread, "dial-in")); n != 1 {
				t.Errorf("archived %v: %d answers", archived, n)
			}
		})
	}
}

// The buttons under advice go away once there is newer advice on that coffee,
// also after a restart; those that teach a word stay.
func TestSupersededButtons(t *testing.T) {
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), func(b *bubble) {
		t, f := b.T, b.Server
		db := filepath.Join(t.TempDir(), "bar.db")
		r := b.join(db)
		bind(t, f)
		for _, c := range []struct{ name, options string }{{"Harbour", "left"}, {"Tide", "right"}} {
			sayOrCall(t, f, "mara", "/grinder add name:"+c.options+" finer:lower step:0.1")
			sayOrCall(t, f, "mara", "/coffee add name:"+c.name+" grinder:"+c.options+" dose:18 yield:36 time:25-31")
		}
		var said []string
		say := func(user, text string) {
			time.Sleep(2 * time.Minute)
			id := f.Say("dial-in", user, text, "")
			await(t, f, "the answer to "+text, hasAnswer(id))
			said = append(said, id)
		}
		say("mara", "harbour 18 36 20 grind 5, sour")
		say("jo", "tide 18 36 20 grind 5, sour")
		say("mara", "harbour 18 36 23 grind 4.7, purged, sour, wobbly")
		r.stop()
		r = b.join(db)
		say("mara", "harbour 18 36 24 grind 4.6, purged, sour")
		say("mara", "harbour 18 36 28 grind 4.3, purged, balanced")
		r.stop()
		var left []int
		for _, id := range said {
			left = append(left, len(answers(f, id)[0].Buttons()))
		}
		// did it and still under the only advice on Tide, those and what wobbly
		// may mean, dialled in under the newest.
		if diff := cmp.Diff([]int{0, 2, 3, 0, 1}, left); diff != "" {
			t.Errorf("buttons (-want +got):\n%s\n%s", diff, transcript(f, "dial-in"))
		}
	})
}

// A question about the dial stays until it is answered.
func TestDialQuestionStays(t *testing.T) {
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), func(b *bubble) {
		t, f := b.T, b.Server
		r := b.join(filepath.Join(t.TempDir(), "bar.db"))
		bind(t, f)
		first := f.Say("dial-in", "mara", "18 36 20 grind 5 sour", "")
		await(t, f, "the question", hasAnswer(first))
		time.Sleep(2 * time.Minute)
		await(t, f, "another answer", hasAnswer(f.Say("dial-in", "mara", "18 36 21 grind 5 sour", "")))
		r.stop()
		if n := len(answers(f, first)[0].Buttons()); n != 2 {
			t.Errorf("%d buttons:\n%s", n, transcript(f, "dial-in"))
		}
	})
}

// After an outage each shot is answered once, the newest with what to change,
// those before it with a line.
func TestAnswersAfterAnOutage(t *testing.T) {
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), func(b *bubble) {
		t, f := b.T, b.Server
		r := b.join(filepath.Join(t.TempDir(), "bar.db"))
		bind(t, f)
		f.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 503, Times: -1})
		var said []string
		for _, text := range []string{"18 36 20 grind 5 sour", "18 36 23 grind 4.8 sour", "18 36 25 grind 4.7 sour"} {
			said = append(said, f.Say("dial-in", "mara", text, ""))
			time.Sleep(5 * time.Minute)
		}
		f.Mend()
		for _, id := range said {
			ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
			if err := f.Await(ctx, hasAnswer(id)); err != nil {
				t.Fatal(err, transcript(f, "dial-in"))
			}
			cancel()
		}
		r.stop()
		for i, id := range said {
			posts := answers(f, id)
			if receipt := strings.Contains(posts[0].Content, "On the record"); len(posts) != 1 || receipt != (i < 2) {
				t.Errorf("shot %d:\n%s", i+1, transcript(f, "dial-in"))
			}
		}
	})
}

// In service a shot that is all right gets a tick and no post, also when the program
// is restarted before it was put there. Put right to one that is not, the tick goes
// and a post says so. Where the bot may not react it posts.
func TestTicks(t *testing.T) {
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), func(b *bubble) {
		t, f := b.T, b.Server
		db := filepath.Join(t.TempDir(), "bar.db")
		r := b.join(db)
		bind(t, f)
		sayOrCall(t, f, "mara", "/grinder add name:left finer:lower step:0.1")
		sayOrCall(t, f, "mara", "/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31")
		say := func(text string) string {
			time.Sleep(3 * time.Minute)
			id := f.Say("dial-in", "mara", text, "")
			await(t, f, "the answer to "+text, hasAnswer(id))
			return id
		}
		say("18 36 28 grind 5, sweet")
		say("18 36 28 sweet, dialled in")
		posted := func(id string) int { return len(answers(f, id)) }
		hasTick := func(id string) (yes bool) {
			m, _ := f.Message(id)
			return len(m.Reactions) > 0
		}
		good := say("18 36 28")
		if !hasTick(good) || posted(good) != 0 {
			t.Errorf("a good shot: tick %v, %d posts", hasTick(good), posted(good))
		}
		f.Break(fake.Fault{Method: "PUT", Path: "/channels/*/messages/*/reactions/*/@me", Status: 503, Times: -1})
		waits := f.Say("dial-in", "mara", "18 36 29", "")
		time.Sleep(20 * time.Second)
		r.stop()
		f.Mend()
		r = b.join(db)
		await(t, f, "the tick after the restart", hasAnswer(waits))
		if !hasTick(waits) || posted(waits) != 0 {
			t.Errorf("after a restart: tick %v, %d posts", hasTick(waits), posted(waits))
		}
		f.EditMessage(waits, "18 36 21 sour")
		await(t, f, "the answer to the edit", func(s *fake.State) bool { return len(answers(s, waits)) > 0 })
		if hasTick(waits) || posted(waits) != 1 {
			t.Errorf("put right: tick %v, %d posts", hasTick(waits), posted(waits))
		}
		f.EditMessage(waits, "18 36 28 sweet")
		time.Sleep(time.Minute)
		f.Deny("dial-in", fake.AddReactions)
		denied := say("18 36 28")
		r.stop()
		if hasTick(denied) || posted(denied) != 1 || !answers(f, denied)[0].Silent() {
			t.Errorf("without the right to react: tick %v\n%s", hasTick(denied), transcript(f, "dial-in"))
		}
		for _, m := range f.Posts("dial-in") {
			if quiet := strings.HasPrefix(m.Content, "✓") || strings.Contains(m.Content, "Mon 2 March"); quiet != m.Silent() && m.Interaction == "" {
				t.Errorf("silent %v: %s", m.Silent(), m.Content)
			}
		}
	})
}
