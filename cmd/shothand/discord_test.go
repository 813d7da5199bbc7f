package main

import (
	"context"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/bot"
	"shothand/bot/discord"
	"shothand/bot/discord/fake"
	"shothand/bot/serve"
	"shothand/store"
)

// newFake starts a Discord to test against.
func newFake(t *testing.T) *fake.Server {
	t.Helper()
	f := fake.New(fakeOptions(t))
	cleanFake(t, f)
	return f
}

// fakeOptions are those of a strict Discord. With DISCORD_OPENAPI set, every
// request and answer is held to the platform's description.
func fakeOptions(t *testing.T) fake.Options {
	t.Helper()
	o := fake.Options{MentionsMustBeOff: true}
	if file := os.Getenv("DISCORD_OPENAPI"); file != "" {
		description, err := fake.LoadDescription(file)
		if err != nil {
			t.Fatal(err)
		}
		o.Description = description
	}
	return o
}

// cleanFake closes a fake in the end, when nothing may have been wrong.
func cleanFake(t *testing.T, f *fake.Server) {
	t.Cleanup(func() {
		for _, v := range f.Violations() {
			t.Error("violation:", v)
		}
		f.Close()
	})
}

// quick are timings for a test.
func quick() discord.Timings {
	return discord.Timings{
		Open: 10 * time.Second, Hello: 500 * time.Millisecond, Identify: 20 * time.Millisecond, Backoff: 20 * time.Millisecond,
		BackoffTo: 200 * time.Millisecond, Probe: 50 * time.Millisecond, Stuck: 2 * time.Second, Close: 2 * time.Second,
		Retry: 10 * time.Millisecond, Grace: 2 * time.Second, Again: 200 * time.Millisecond,
	}
}

// A running is a bot on Discord.
type running struct {
	t    *testing.T
	stop func()
	bot  *serve.Runner
}

// start joins the fake with the records in a file.
func start(t *testing.T, f *fake.Server, db string) *running {
	t.Helper()
	return startWith(t, f, db, discord.Options{Times: quick()})
}

// startWith joins the fake, with options of which it sets the rest.
func startWith(t *testing.T, f *fake.Server, db string, o discord.Options) *running {
	t.Helper()
	return startBy(t, f, db, o, time.Now)
}

// startBy joins the fake with a clock of its own.
func startBy(t *testing.T, f *fake.Server, db string, o discord.Options, clock func() time.Time) *running {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	var done sync.WaitGroup
	stop := sync.OnceFunc(func() { cancel(); done.Wait() })
	records, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	if o.Root, err = url.Parse(f.URL); err != nil {
		t.Fatal(err)
	}
	o.Log = slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelInfo}))
	b := serve.New(bot.New(records, bot.Options{Log: o.Log, Resend: true, Clock: clock}))
	o.Token, o.Desk = "x", b
	o.Texts = discord.Texts{Nothing: nothingSaidText, Fatal: discordClosed, Token: tokenRefused()}
	service := discord.New(o)
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
	return &running{t, stop, b}
}

// await waits until done says true of the fake.
func await(t *testing.T, f *fake.Server, what string, done func(*fake.State) bool) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
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

// shots reads the shots in a file as they were said.
func shots(t *testing.T, db string) (raw []string) {
	t.Helper()
	for _, e := range shotsSince(t, db, time.Now().Add(-24*time.Hour)) {
		raw = append(raw, e.Raw)
	}
	return raw
}

// shotsSince returns the shots of all bars in a file since an instant, without
// deleted ones.
func shotsSince(t *testing.T, db string, since time.Time) (list []bar.Entry) {
	t.Helper()
	reading(t, db, func(tx *store.Tx) error {
		bars, err := tx.Bars()
		for _, b := range bars {
			entries, err := tx.Recent(b.ID, since)
			if err != nil {
				return err
			}
			for _, e := range entries {
				if _, ok := e.What.(bar.Shot); ok {
					list = append(list, e)
				}
			}
		}
		return err
	})
	return list
}

// answers returns what the bot posted in answer to a message, in dial-in unless
// channels are named. A fake shows its posts, and so does its state in Await.
func answers(s interface{ Posts(string) []fake.Message }, message string, channels ...string) (list []fake.Message) {
	if len(channels) == 0 {
		channels = []string{"dial-in"}
	}
	for _, c := range channels {
		for _, m := range s.Posts(c) {
			if m.ReplyTo == message {
				list = append(list, m)
			}
		}
	}
	return list
}

// withoutCaution leaves out the caution of the day, which is a post of its own.
func withoutCaution(posts []fake.Message) []fake.Message {
	return slices.DeleteFunc(posts, func(m fake.Message) bool { return strings.Contains(m.Content, "caffeine") })
}

// or that it has a tick.
func hasAnswer(message string, channels ...string) func(*fake.State) bool {
	return func(s *fake.State) bool {
		return len(answers(s, message, channels...)) > 0 || ticked(s, message)
	}
}

// ticked reports whether the bot has put its tick on a message.
func ticked(s *fake.State, message string) bool {
	m, _ := s.Message(message)
	return slices.ContainsFunc(m.Reactions, func(r string) bool { return strings.HasPrefix(r, "✅ ") })
}

// The whole way: setup, shots of two people in the channel and in a thread, an
// edit, a deletion, a button, restarts in between.
func TestDiscordDay(t *testing.T) {
	t.Parallel()
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

	away := f.Say("dial-in", "sam", "18 36 21 sour", "")
	chat := f.Say("dial-in", "sam", "anybody seen the milk?", "")
	gone := f.Say("dial-in", "jo", "18 36 99 this never was", "")
	f.DeleteMessage(gone)
	f.EditMessage(inThread, "18 36 25 a bit sour")
	r = start(t, f, db)
	await(t, f, "the answer to what was said meanwhile", hasAnswer(away, "dial-in"))
	await(t, f, "the answer to what was edited meanwhile", func(s *fake.State) bool {
		return strings.Contains(answers(s, inThread, thread)[0].Content, "Corrected")
	})
	post := answers(f, away)[0]
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
		if n := len(answers(f, id, "dial-in", thread)); n != 1 {
			t.Errorf("message %s has %d answers", id, n)
		}
	}
	for _, id := range []string{before, chat, gone} {
		if n := len(answers(f, id)); n != 0 {
			t.Errorf("message %s has %d answers", id, n)
		}
	}
	want := []string{"18.1 36.4 23 grind 5.2 sour thin", "18 36 25 a bit sour"}
	if got := shots(t, db); strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("shots %q, want %q", got, want)
	}
	t.Log("\n" + transcript(f, "dial-in") + "\nthread:\n" + transcript(f, thread))
}

// A program killed between the write and the reply sends the reply when it
// starts again, once, whether it had come through or not.
func TestRestartBetweenWriteAndReply(t *testing.T) {
	for _, through := range []bool{false, true} {
		f := newFake(t)
		db := filepath.Join(t.TempDir(), "bar.db")
		r := start(t, f, db)
		bind(t, f)
		if !through { // the platform is out of reach until the program is gone
			f.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 503, Times: -1})
		}
		thread := f.StartThread("dial-in", "jo", "monday")
		id := f.Say(thread, "jo", "18 36 22 grind 5.2 sour", "")
		if through {
			await(t, f, "the answer", hasAnswer(id, thread))
		} else {
			await(t, f, "a try", func(s *fake.State) bool {
				for _, q := range s.Requests() {
					if q.Status == 503 {
						return true
					}
				}
				return false
			})
		}
		r.stop()
		f.Mend()
		if through {
			unsend(t, f, db, thread+"/"+id)
		}
		r = start(t, f, db)
		await(t, f, "the answer", hasAnswer(id, "dial-in", thread))
		time.Sleep(200 * time.Millisecond)
		if n := len(answers(f, id, "dial-in", thread)); n != 1 {
			t.Errorf("through %v: %d answers\n%s", through, n, transcript(f, "dial-in"))
		}
		r.stop()
		if got := shots(t, db); len(got) != 1 {
			t.Errorf("through %v: shots %q", through, got)
		}
		reading(t, db, func(tx *store.Tx) error {
			bar, _ := tx.BarOf(f.Channel("dial-in").ID)
			pending, err := tx.PendingReplies(bar)
			if len(pending) > 0 {
				t.Errorf("through %v: still pending: %+v", through, pending)
			}
			return err
		})
	}
}

// unsend forgets that a reply was sent, as a kill just after it does.
func unsend(t *testing.T, f *fake.Server, db, cause string) {
	t.Helper()
	records, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	if err := records.Update(func(tx *store.Tx) error {
		bar, _ := tx.BarOf(f.Channel("dial-in").ID)
		reply, _, err := tx.ReplyOf(bar, cause)
		if err != nil {
			return err
		}
		reply.State, reply.Post = store.Pending, ""
		return tx.PutReply(bar, reply)
	}); err != nil {
		t.Fatal(err)
	}
	if err := records.Close(); err != nil {
		t.Fatal(err)
	}
}

// Nothing is read, and little said, where nobody has set a bar up.
func TestUnboundChannel(t *testing.T) {
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
	f.Say("dial-in", "jo", "18 36 22 sour", "")
	for _, c := range []struct {
		user, name string
		options    map[string]any
		want       string
	}{
		{"jo", "today", nil, "/setup zone:Europe/Berlin"},
		{"mara", "setup", nil, "Give its zone"},
		{"mara", "setup", map[string]any{"zone": "Nowhere/Land"}, "No zone is called"},
	} {
		id, err := f.Slash("dial-in", c.user, c.name, c.options)
		if err != nil {
			t.Fatal(err)
		}
		await(t, f, "an answer", func(s *fake.State) bool { return len(byInteraction(s.Posts("dial-in"), id)) == 1 })
		if a := byInteraction(f.Posts("dial-in"), id)[0]; a.For == "" || !strings.Contains(a.Content, c.want) {
			t.Errorf("/%s %v: %+v", c.name, c.options, a)
		}
	}
	bind2 := func(channel string) {
		id, err := f.Slash(channel, "mara", "setup", map[string]any{"zone": "Europe/Berlin"})
		if err != nil {
			t.Fatal(err)
		}
		await(t, f, "a bar", func(s *fake.State) bool {
			a := byInteraction(s.Posts(channel), id)
			return len(a) == 1 && a[0].For == "" && strings.Contains(a[0].Content, channel)
		})
	}
	bind2("dial-in")
	bind2("general") // two bars in one server
	for _, channel := range []string{"dial-in", "general"} {
		id := f.Say(channel, "jo", "18 36 25 sour", "")
		await(t, f, "the answer", hasAnswer(id, channel))
	}
	r.stop()
	if got := shots(t, db); len(got) != 2 || slices.Contains(got, "18 36 22 sour") {
		t.Errorf("shots %q: one was said where there was no bar", got)
	}
}

func byInteraction(posts []fake.Message, id string) []fake.Message {
	return slices.DeleteFunc(posts, func(m fake.Message) bool { return m.Interaction != id })
}

// Errors are answered once, also when the program starts anew; their edit is
// read.
func TestMistakeOnce(t *testing.T) {
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
	bind(t, f)
	id := f.Say("dial-in", "jo", "18 in 400 out 28 s", "")
	await(t, f, "the mistake", hasAnswer(id, "dial-in"))
	for range 2 {
		r.stop()
		r = start(t, f, db)
		last := f.Say("dial-in", "jo", "18 36 22 sour", "")
		await(t, f, "another answer", hasAnswer(last, "dial-in"))
	}
	if n := len(answers(f, id)); n != 1 {
		t.Errorf("%d answers\n%s", n, transcript(f, "dial-in"))
	}
	f.EditMessage(id, "18 in 40 out 28 s sour")
	await(t, f, "the edit's answer", func(s *fake.State) bool { return len(answers(s, id, "dial-in")) == 2 })
	r.stop()
	if got := shots(t, db); len(got) != 3 {
		t.Errorf("shots %q", got)
	}
}

// An empty /shot opens a form, and coffees are suggested.
func TestShotForm(t *testing.T) {
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	start(t, f, db)
	bind(t, f)
	f.Say("dial-in", "jo", "18 36 22 grind 5.2 sour", "")
	id, err := f.Slash("dial-in", "jo", "shot", nil)
	if err != nil {
		t.Fatal(err)
	}
	await(t, f, "the form", func(s *fake.State) bool { i, _ := s.Interaction(id); return i.Form != nil })
	done, err := f.SubmitModal(id, map[string]string{"time": "26,5", "taste": "a bit sour"})
	if err != nil {
		t.Fatal(err)
	}
	await(t, f, "the answer", func(s *fake.State) bool { return len(byInteraction(s.Posts("dial-in"), done)) == 1 })
	id, err = f.Autocomplete("dial-in", "jo", "dialled", map[string]any{"coffee": "ho"}, "coffee")
	if err != nil {
		t.Fatal(err)
	}
	await(t, f, "choices", func(s *fake.State) bool { i, _ := s.Interaction(id); return len(i.Choices) == 1 })
}
