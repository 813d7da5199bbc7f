package main

import (
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
	"shothand/bot/discord/fake"
	"shothand/bot/post"
	"shothand/store"
)

// A morning of two devices and three people: a scale posts by its webhook, a
// timer over HTTP, both say everything more than once, now and then minutes late,
// while people tap, type and call shots theirs. Every shot is counted once and
// tasted by whom it was tasted.
func TestDevicesMorning(t *testing.T) {
	t.Parallel()
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), playDevices)
}

// A morning is a bar with devices on it.
type morning struct {
	*bubble
	db     string
	r      *running
	server http.Handler
	secret string
	want   []pulled
}

// A pulled is a shot as it should be in the book.
type pulled struct {
	Device, Person, Taste string
	Time                  float64
}

func playDevices(b *bubble) {
	c := &morning{bubble: b, db: filepath.Join(b.TempDir(), "bar.db")}
	c.open()
	bind(b.T, b.Server)
	for _, s := range []struct {
		name    string
		options map[string]any
	}{
		{"grinder add", map[string]any{"name": "left", "finer": "lower", "step": "0.1"}},
		{"coffee add", map[string]any{"name": "Harbour", "grinder": "left", "dose": "18", "yield": "36", "time": "25-31"}},
		{"setup", map[string]any{"device": "scale"}},
		{"setup", map[string]any{"device": "timer", "clock": "pump", "lag": "1 s"}},
	} {
		c.slash(s.name, s.options)
	}
	people := []string{"mara", "jo", "sam"}
	tastes := []string{"sour", "bitter", "thin", "balanced"}
	ways := []func(c *morning, n int, who, taste string){tapped, typedAfter, typedBefore, atOnce, called, lateTapped}
	for n := range 24 {
		if n == 12 {
			c.r.stop()
			c.open()
		}
		ways[n%len(ways)](c, n, people[(n/2)%3], tastes[(n/3)%4])
		c.wrongSecrets()
		time.Sleep(6 * time.Minute)
	}
	c.check()
	c.backlog()
	c.check()
	c.r.stop()
}

// open starts the bot, and what devices post to.
func (c *morning) open() {
	c.r = c.join(c.db)
	c.server = post.New(c.r.bot, slog.New(slog.DiscardHandler), time.Now)
}

// slash lets mara use a command. The secret that she is shown is the timer's.
func (c *morning) slash(name string, options map[string]any) {
	c.Helper()
	id, err := c.Slash("dial-in", "mara", name, options)
	if err != nil {
		c.Fatal(err)
	}
	await(c.T, c.Server, "the answer to "+name, func(s *fake.State) bool { return len(byInteraction(s.Posts("dial-in"), id)) > 0 })
	said := byInteraction(c.Posts("dial-in"), id)[0]
	if _, rest, ok := strings.Cut(said.Content, "shown this once: "); ok {
		c.secret, _, _ = strings.Cut(rest, "\n")
		if said.For != c.User("mara").ID {
			c.Errorf("the secret is shown to %q", said.For)
		}
	}
	if c.secret != "" && options["device"] == nil {
		c.Error("a secret where none was asked for")
	}
}

// shot returns the numbers of the n-th shot as its device shows them.
func (c *morning) shot(n int) (yield, seconds float64) {
	return 36 + float64(n%5)/10, 24 + float64(n%9)*0.7
}

// post lets the device of the n-th shot tell of it, twice over: the scale by
// two messages of its webhook, the timer by three requests. It returns the time
// by the bar's clock.
func (c *morning) post(n int, at time.Time) (device string, seconds float64) {
	yield, seconds := c.shot(n)
	body := fmt.Sprintf(`{"dose_g": 18, "yield_g": %.1f, "time_s": %.1f, "key": "k%d", "at": %q}`, yield, seconds, n, at.Format(time.RFC3339Nano))
	if n%2 == 0 {
		for range 2 {
			c.Post(fake.Message{Channel: "dial-in", Author: fake.User{ID: "900", Name: "scale", Bot: true}, Webhook: "900", Content: body})
		}
		return "scale", seconds
	}
	for range 3 {
		if status, _ := c.request(c.secret, body); status != http.StatusOK {
			c.Errorf("%s: %d", body, status)
		}
	}
	return "timer", seconds + 1 // its clock begins a second late
}

// request posts over HTTP.
func (c *morning) request(secret, body string) (status int, answer map[string]any) {
	ask := httptest.NewRequest(http.MethodPost, "/shot", strings.NewReader(body))
	ask.Header.Set("Authorization", "Bearer "+secret)
	w := httptest.NewRecorder()
	c.server.ServeHTTP(w, ask)
	if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
		c.Errorf("%s: %v", w.Body, err)
	}
	return w.Code, answer
}

// asked waits for the question about a device's newest shot, and returns it.
func (c *morning) asked(device string, since int) fake.Message {
	c.Helper()
	question := func(all []fake.Message) (fake.Message, bool) {
		for _, m := range all[min(since, len(all)):] {
			if strings.Contains(m.Content, "From "+device+", nobody's yet") && len(m.Buttons()) == 4 {
				return m, true
			}
		}
		return fake.Message{}, false
	}
	await(c.T, c.Server, "the question about what "+device+" posted", func(s *fake.State) bool {
		_, ok := question(s.Posts("dial-in"))
		return ok
	})
	m, _ := question(c.Posts("dial-in"))
	return m
}

func (c *morning) expect(device, who, taste string, seconds float64) {
	c.want = append(c.want, pulled{device, who, taste, seconds})
}

func (c *morning) press(m fake.Message, who, label string) {
	c.Helper()
	i := slices.IndexFunc(m.Buttons(), func(b fake.Button) bool { return b.Label == label })
	if i < 0 {
		c.Fatalf("no %s under %q", label, m.Content)
	}
	if _, err := c.Press(m.ID, m.Buttons()[i].CustomID, who); err != nil {
		c.Fatal(err)
	}
}

func (c *morning) say(who, text string) {
	c.Helper()
	id := c.Say("dial-in", who, text, "")
	await(c.T, c.Server, "the answer to "+text, hasAnswer(id))
}

// typed is the n-th shot as people round it, read off the device.
func (c *morning) typed(n int, taste string) string {
	yield, seconds := c.shot(n)
	return fmt.Sprintf("18 %.0f %.0f %s", yield, seconds, taste)
}

func tapped(c *morning, n int, who, taste string) {
	before := len(c.Posts("dial-in"))
	device, seconds := c.post(n, time.Now())
	m := c.asked(device, before)
	time.Sleep(20 * time.Second)
	c.press(m, who, taste)
	c.post(n, time.Now()) // once more, with another time: the key decides
	c.expect(device, who, taste, seconds)
}

func typedAfter(c *morning, n int, who, taste string) {
	before := len(c.Posts("dial-in"))
	device, seconds := c.post(n, time.Now())
	c.asked(device, before)
	time.Sleep(70 * time.Second)
	c.say(who, c.typed(n, taste))
	c.expect(device, who, taste, seconds)
}

func typedBefore(c *morning, n int, who, taste string) {
	ended := time.Now()
	c.say(who, c.typed(n, taste))
	time.Sleep(50 * time.Second)
	device, seconds := c.post(n, ended)
	c.expect(device, who, taste, seconds)
}

// atOnce lets the person and the device speak in the same moment.
func atOnce(c *morning, n int, who, taste string) {
	done := make(chan string)
	go func() { done <- c.Say("dial-in", who, c.typed(n, taste), "") }()
	device, seconds := c.post(n, time.Now())
	await(c.T, c.Server, "the answer", hasAnswer(<-done))
	c.expect(device, who, taste, seconds)
}

func called(c *morning, n int, who, taste string) {
	before := len(c.Posts("dial-in"))
	device, seconds := c.post(n, time.Now())
	c.asked(device, before)
	time.Sleep(30 * time.Second)
	c.say(who, "mine, "+taste)
	c.expect(device, who, taste, seconds)
}

// lateTapped is told of three minutes late, as its time says, and after a shot
// that was pulled later.
func lateTapped(c *morning, n int, who, taste string) {
	at := time.Now()
	time.Sleep(90 * time.Second)
	c.say("jo", "18 40 31 sweet")
	time.Sleep(90 * time.Second)
	before := len(c.Posts("dial-in"))
	device, seconds := c.post(n, at)
	m := c.asked(device, before)
	time.Sleep(20 * time.Second)
	c.press(m, who, taste)
	c.expect(device, who, taste, seconds)
	c.expect("", "jo", "sweet", 31)
}

// wrongSecrets lets somebody try.
func (c *morning) wrongSecrets() {
	for _, secret := range []string{"", "1.2.x", c.secret + "x", c.secret[:20]} {
		if status, _ := c.request(secret, `{"time_s": 27}`); status != http.StatusUnauthorized {
			c.Errorf("secret %q: %d", secret, status)
		}
	}
}

// backlog lets the timer post what a lost network has kept back, in 1,000 posts
// within a minute, and again what was put off. People are answered meanwhile.
func (c *morning) backlog() {
	const shots = 50
	body := func(i int) string {
		at := time.Now().Add(-10 * time.Hour).Truncate(10 * time.Hour).Add(time.Duration(i) * time.Minute)
		return fmt.Sprintf(`{"time_s": %.1f, "key": "old%d", "at": %q}`, 25+float64(i%7)*0.5, i, at.Format(time.RFC3339))
	}
	taken, put, known := 0, 0, 0
	count := func(status int, answer map[string]any) (again bool) {
		switch {
		case status == http.StatusTooManyRequests:
			put++
			return true
		case status != http.StatusOK:
			c.Errorf("%d %v", status, answer)
		case answer["repeated"] == true:
			known++
		default:
			taken++
		}
		return false
	}
	for n := range 1000 {
		if n == 500 {
			c.say("sam", "18 36 27 sweet")
			c.expect("", "sam", "sweet", 27)
		}
		count(c.request(c.secret, body(n%shots)))
		time.Sleep(time.Minute / 1000)
	}
	for i := range shots {
		for count(c.request(c.secret, body(i))) {
			time.Sleep(time.Second)
		}
	}
	c.Logf("of 1,000 posts a minute and %d more: %d taken, %d known already, %d put off", shots, taken, known, put)
	if taken != shots || put < 500 {
		c.Errorf("%d taken of %d, %d known, %d put off", taken, shots, known, put)
	}
	for i := range shots {
		c.want = append(c.want, pulled{"timer", "", "", 26 + float64(i%7)*0.5})
	}
}

// check holds the book to what happened.
func (c *morning) check() {
	c.Helper()
	time.Sleep(time.Minute)
	c.r.stop()
	var got []pulled
	reading(c.T, c.db, func(tx *store.Tx) error {
		bars, err := tx.Bars()
		if err != nil {
			return err
		}
		got, err = book(tx, bars[0].ID)
		return err
	})
	order := func(a, b pulled) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) }
	want := slices.Clone(c.want)
	slices.SortFunc(want, order)
	slices.SortFunc(got, order)
	if diff := cmp.Diff(want, got); diff != "" {
		c.Errorf("the book (-happened +recorded):\n%s", diff)
	}
	c.open()
}

// book reads the shots of a bar, and who said what of each.
func book(tx *store.Tx, here bar.ID) ([]pulled, error) {
	people, err1 := tx.People(here)
	devices, err2 := tx.Devices(here)
	entries, err3 := tx.Recent(here, time.Now().Add(-48*time.Hour))
	var list []pulled
	for _, e := range entries {
		s, ok := e.What.(bar.Shot)
		if !ok {
			continue
		}
		p := pulled{Time: float64(s.Time.X), Taste: words(s.Words)}
		for _, who := range people {
			if who.ID == e.Person {
				p.Person = who.Name
			}
		}
		for _, d := range devices {
			if d.ID == s.Device {
				p.Device = d.Name
			}
		}
		for _, later := range entries {
			if w, ok := later.What.(bar.Words); ok && w.Shot == e.ID && later.Person == e.Person {
				p.Taste += words(w.Words)
			}
		}
		list = append(list, p)
	}
	for _, err := range []error{err1, err2, err3} {
		if err != nil {
			return nil, err
		}
	}
	return list, nil
}

func words(list []bar.Word) string {
	var all []string
	for _, w := range list {
		all = append(all, w.Term)
	}
	return strings.Join(all, ",")
}
