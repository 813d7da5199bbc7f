package main

import (
	"context"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"shothand/advisor"
	"shothand/bot"
	"shothand/bot/discord"
	"shothand/bot/discord/fake"
	"shothand/store"
)

// newFake starts a Discord to test against. With DISCORD_OPENAPI set, every
// request and answer is held to the platform's description.
func newFake(t *testing.T) *fake.Server {
	t.Helper()
	o := fake.Options{MentionsMustBeOff: true}
	if file := os.Getenv("DISCORD_OPENAPI"); file != "" {
		description, err := fake.LoadDescription(file)
		if err != nil {
			t.Fatal(err)
		}
		o.Description = description
	}
	f := fake.New(o)
	t.Cleanup(func() {
		for _, v := range f.Violations() {
			t.Error("violation:", v)
		}
		f.Close()
	})
	return f
}

// quick are timings for a test.
func quick() discord.Timings {
	return discord.Timings{
		Open: 2 * time.Second, Hello: 500 * time.Millisecond, Identify: 20 * time.Millisecond, Backoff: 20 * time.Millisecond,
		BackoffTo: 200 * time.Millisecond, Probe: 50 * time.Millisecond, Stuck: 2 * time.Second, Close: 2 * time.Second,
		Retry: 10 * time.Millisecond, Grace: 2 * time.Second, Again: 200 * time.Millisecond,
	}
}

// A running is a bot on Discord.
type running struct {
	t    *testing.T
	stop func()
}

// start joins the fake with the records in a file.
func start(t *testing.T, f *fake.Server, db string) *running {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	var done sync.WaitGroup
	stop := sync.OnceFunc(func() { cancel(); done.Wait() })
	records, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	root, err := url.Parse(f.URL)
	if err != nil {
		t.Fatal(err)
	}
	log := slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelInfo}))
	b := bot.New(records, bot.Options{Log: log, Resend: true, Clock: time.Now})
	service := discord.New(discord.Options{
		Token: "x", Root: root, Desk: b, Log: log, Times: quick(),
		Texts: discord.Texts{Nothing: bot.NothingSaidText, Fatal: bot.DiscordClosed, Token: bot.TokenRefused()},
	})
	done.Go(func() {
		if err := b.Run(ctx, service); err != nil {
			t.Error(err)
		}
		if err := records.Close(); err != nil {
			t.Error(err)
		}
	})
	t.Cleanup(stop)
	await(t, f, "commands", func(s *fake.State) bool { return len(s.Commands("Harbour Lane")) > 0 && s.Connections() == 1 })
	return &running{t, stop}
}

// await waits until done says true of the fake.
func await(t *testing.T, f *fake.Server, what string, done func(*fake.State) bool) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 15*time.Second)
	defer cancel()
	if err := f.Await(ctx, done); err != nil {
		t.Fatalf("waiting for %s: %v\n%s", what, err, transcript(f, "dial-in"))
	}
}

// transcript prints what a channel shows.
func transcript(f *fake.Server, channel string) string {
	var b strings.Builder
	for _, m := range f.Messages(channel) {
		b.WriteString(m.Author.Name + ": " + m.Content + "\n")
		for _, button := range m.Buttons() {
			b.WriteString("  [" + button.Label + "]\n")
		}
	}
	return b.String()
}

// bind makes the channel a bar.
func bind(t *testing.T, f *fake.Server) {
	t.Helper()
	if _, err := f.Slash("dial-in", "mara", "setup", map[string]any{"zone": "Europe/Berlin"}); err != nil {
		t.Fatal(err)
	}
	await(t, f, "the answer to /setup", func(s *fake.State) bool { return len(s.Posts("dial-in")) == 1 })
}

// shots reads the shots in a file.
func shots(t *testing.T, db string) (raw []string) {
	t.Helper()
	records, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	defer records.Close()
	err = records.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		for _, b := range bars {
			entries, err := tx.Recent(b.ID, time.Now().Add(-24*time.Hour))
			if err != nil {
				return err
			}
			for _, e := range entries {
				if _, ok := e.What.(advisor.Shot); ok {
					raw = append(raw, e.Raw)
				}
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// answers returns what the bot posted in answer to a message.
func answers(s *fake.State, message string, channels ...string) (list []fake.Message) {
	for _, c := range channels {
		for _, m := range s.Posts(c) {
			if m.ReplyTo == message {
				list = append(list, m)
			}
		}
	}
	return list
}

func hasAnswer(message string, channels ...string) func(*fake.State) bool {
	return func(s *fake.State) bool { return len(answers(s, message, channels...)) > 0 }
}

// The whole way: setup, shots of two people in the channel and in a thread, an
// edit, a deletion, a button, restarts in between.
func TestDiscordDay(t *testing.T) {
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
	before := f.Say("dial-in", "jo", "18 36 22 before anybody asked", "")
	bind(t, f)
	first := f.Say("dial-in", "mara", "18.1 36.4 22 grind 5.2 sour thin", "")
	await(t, f, "the first answer", hasAnswer(first, "dial-in"))
	thread := f.StartThread("dial-in", "jo", "monday")
	inThread := f.Say(thread, "jo", "18 36 24 a bit sour", "")
	await(t, f, "an answer in the thread", hasAnswer(inThread, thread))
	f.EditMessage(first, "18.1 36.4 23 grind 5.2 sour thin")
	await(t, f, "the edited answer", func(s *fake.State) bool {
		return strings.Contains(answers(s, first, "dial-in")[0].Content, "Corrected")
	})
	r.stop()

	away := f.Say("dial-in", "sam", "18 36 26 nice", "")
	chat := f.Say("dial-in", "sam", "anybody seen the milk?", "")
	gone := f.Say("dial-in", "jo", "18 36 99 this never was", "")
	f.DeleteMessage(gone)
	f.EditMessage(inThread, "18 36 25 a bit sour")
	r = start(t, f, db)
	await(t, f, "the answer to what was said meanwhile", hasAnswer(away, "dial-in"))
	await(t, f, "the answer to what was edited meanwhile", func(s *fake.State) bool {
		return strings.Contains(answers(s, inThread, thread)[0].Content, "Corrected")
	})
	post := answers2(f, first)[0]
	if len(post.Buttons()) == 0 {
		t.Fatalf("no buttons:\n%s", transcript(f, "dial-in"))
	}
	if _, err := f.Press(post.ID, post.Buttons()[0].CustomID, "sam"); err != nil {
		t.Fatal(err)
	}
	await(t, f, "the buttons to go", func(s *fake.State) bool {
		m, _ := s.Message(post.ID)
		return len(m.Buttons()) == 0
	})
	r.stop()
	f.DeleteMessage(away)
	r = start(t, f, db)
	await(t, f, "what was deleted to be taken out", func(s *fake.State) bool {
		return strings.Contains(answers(s, away, "dial-in")[0].Content, "Taken out")
	})
	time.Sleep(100 * time.Millisecond)
	r.stop()
	for _, id := range []string{first, inThread} {
		if n := len(answers2(f, id, "dial-in", thread)); n != 1 {
			t.Errorf("message %s has %d answers", id, n)
		}
	}
	for _, id := range []string{before, chat, gone} {
		if n := len(answers2(f, id)); n != 0 {
			t.Errorf("message %s has %d answers", id, n)
		}
	}
	want := []string{"18.1 36.4 23 grind 5.2 sour thin", "18 36 25 a bit sour"}
	if got := shots(t, db); strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("shots %q, want %q", got, want)
	}
	t.Log("\n" + transcript(f, "dial-in") + "\nthread:\n" + transcript(f, thread))
}

// answers2 is answers outside of Await.
func answers2(f *fake.Server, message string, channels ...string) (list []fake.Message) {
	if len(channels) == 0 {
		channels = []string{"dial-in"}
	}
	for _, c := range channels {
		for _, m := range f.Posts(c) {
			if m.ReplyTo == message {
				list = append(list, m)
			}
		}
	}
	return list
}
