package console

import (
	"context"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"shothand/bot/chat"

	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// A screen is the far side of a terminal: what a person sees and types.
type screen struct {
	t    *testing.T
	keys *os.File
	tty  *os.File
	mu   sync.Mutex
	seen strings.Builder
}

func newScreen(t *testing.T) *screen {
	t.Helper()
	keys, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { _ = keys.Close() })
	if err := unix.IoctlSetPointerInt(int(keys.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Skip(err)
	}
	n, err := unix.IoctlGetInt(int(keys.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Skip(err)
	}
	tty, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip(err)
	}
	s := &screen{t: t, keys: keys, tty: tty}
	go s.watch()
	return s
}

func (s *screen) watch() {
	b := make([]byte, 4096)
	for {
		n, err := s.keys.Read(b)
		s.mu.Lock()
		s.seen.Write(b[:n])
		s.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (s *screen) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seen.String()
}

func (s *screen) press(keys string) {
	s.t.Helper()
	if _, err := s.keys.WriteString(keys); err != nil {
		s.t.Fatal(err)
	}
}

// wait waits until the screen shows want, after what it showed before.
func (s *screen) wait(want string) {
	s.t.Helper()
	s.until(want, func(text string) bool { return strings.Contains(text, want) })
}

// prompted waits until the screen ends in a prompt: keys pressed before would
// be shown above it.
func (s *screen) prompted(prompt string) {
	s.t.Helper()
	s.until(prompt, func(text string) bool { return strings.HasSuffix(text, prompt) })
}

func (s *screen) until(want string, shown func(text string) bool) {
	s.t.Helper()
	for range 1000 {
		if shown(s.text()) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	s.t.Fatalf("no %q on the screen: %q", want, s.text())
}

// mode is how the terminal is set.
func (s *screen) mode() unix.Termios {
	s.t.Helper()
	m, err := unix.IoctlGetTermios(int(s.tty.Fd()), unix.TCGETS)
	if err != nil {
		s.t.Fatal(err)
	}
	return *m
}

// listen runs a console on s; its error comes when it ends.
func listen(ctx context.Context, s *screen, o Options, answer func(*Console, chat.Message)) (*Console, <-chan error) {
	o.In, o.Out, o.Err, o.Texts = s.tty, s.tty, s.tty, sampleTexts
	c := New(o)
	f := &fakeBot{c: c, answer: func(m chat.Message) { answer(c, m) }}
	ended := make(chan error, 1)
	go func() { ended <- c.Listen(ctx, f.deliver) }()
	return c, ended
}

// A typed session greets, shows who speaks, switches, edits, and gives the
// terminal back as it was.
func TestTypedSession(t *testing.T) {
	for _, dumb := range []bool{false, true} {
		s := newScreen(t)
		before := s.mode()
		c, ended := listen(t.Context(), s, Options{Hint: "a hint", Dumb: dumb}, func(c *Console, m chat.Message) {
			if m.Kind == chat.Text {
				send(t, c, chat.Post{Text: m.From.Name + " in " + m.Channel + " said " + m.Text, Buttons: []chat.Button{{Label: "did it", State: "d"}}})
			}
			if m.Kind == chat.Pressed {
				send(t, c, chat.Post{Text: "pressed " + m.Press})
			}
		})
		s.wait("hello\r\na hint\r\n")
		s.prompted("me> ")
		s.press("@mara\r")
		s.prompted("mara> ")
		s.press("@jo sour\r")
		s.wait("jo in bar said sour")
		s.prompted("mara> ")
		s.press("#tide\r")
		s.prompted("mara #tide> ")
		s.press("thinn\x7f\r")
		s.wait("mara in tide said thin\r\n")
		s.prompted("mara #tide> ")
		s.press("/press did it\r")
		s.wait("/press did it\r\npressed d") // no gap below what was typed
		s.prompted("mara #tide> ")
		if dumb {
			s.press("\x04")
		} else {
			s.press("half a wo")
			s.wait("half a wo")
			send(t, c, chat.Post{Text: "from elsewhere"})
			s.wait("from elsewhere\r\nmara #tide> half a wo")
			s.press("\x03")
		}
		if err := <-ended; err != nil {
			t.Error(err)
		}
		if after := s.mode(); after != before {
			t.Errorf("the terminal was left as %+v, not %+v", after, before)
		}
	}
}

// Where a person types, a number presses the button that has it, as long as
// the last answer has one. One that it has not presses nothing further up. quit
// leaves.
func TestButtonsByNumber(t *testing.T) {
	s := newScreen(t)
	_, ended := listen(t.Context(), s, Options{}, func(c *Console, m chat.Message) {
		switch {
		case m.Kind == chat.Text && m.Text == "ask":
			send(t, c, chat.Post{Text: "which?", Buttons: []chat.Button{{Label: "did it", State: "d"}, {Label: "still 5.2", State: "s"}}})
		case m.Kind == chat.Text && m.Text == "help":
			send(t, c, chat.Post{Kind: chat.Info, Text: "helped"})
		case m.Kind == chat.Text:
			send(t, c, chat.Post{Text: "said " + m.Text})
		case m.Kind == chat.Pressed:
			send(t, c, chat.Post{Text: "pressed " + m.Press})
		}
	})
	s.prompted("me> ")
	for _, step := range []struct{ typed, answer string }{
		{"2", "said 2"},
		{"ask", "[1 did it]  [2 still 5.2]"},
		{"2", "pressed s"},
		{"2", "no 2 in [], above \"did it\""},
		{"22", "said 22"},
		{"ask", "[1 did it]  [2 still 5.2]"},
		{"help", "helped"},
		{"1", "pressed d"},
		{"ask", "[1 did it]  [2 still 5.2]"},
		{"3", "no 3 in [\"did it\" \"still 5.2\"], above \"did it\""},
		{"ask", "[1 did it]  [2 still 5.2]"},
		{"1 a", "said 1 a"},
	} {
		seen := len(s.text())
		s.press(step.typed + "\r")
		s.until(step.answer, func(text string) bool {
			return strings.Contains(text[seen:], step.answer) && strings.HasSuffix(text, "me> ")
		})
	}
	s.press("quit\r")
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// A person whose line means nothing is told so; whoever pipes lines in is not.
func TestLineThatIsNotRead(t *testing.T) {
	answer := func(c *Console, m chat.Message) {
		if m.Text == "18 36 28" {
			send(t, c, chat.Post{Text: "recorded"})
		}
	}
	s := newScreen(t)
	_, ended := listen(t.Context(), s, Options{}, answer)
	for _, step := range []struct{ typed, screen string }{
		{"18 36 28", "me> 18 36 28\r\nrecorded\r\nme> "},
		{"18g 36g", "me> 18g 36g\r\nnot read\r\nme> "},
		{"", "me> \r\nme> "},
	} {
		s.prompted("me> ")
		s.press(step.typed + "\r")
		s.until(step.screen, func(text string) bool { return strings.HasSuffix(text, step.screen) })
	}
	s.press("\x04")
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if _, out, _ := play(t, Options{}, "18g 36g\n", answer); out != "" {
		t.Errorf("piped: %q", out)
	}
}

// What is said breaks between words, at the width that the window has.
func TestPostsAreWrapped(t *testing.T) {
	s := newScreen(t)
	if err := unix.IoctlSetWinsize(int(s.tty.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: 40}); err != nil {
		t.Fatal(err)
	}
	_, ended := listen(t.Context(), s, Options{}, func(c *Console, m chat.Message) {
		if m.Kind == chat.Text {
			send(t, c, chat.Post{Text: "Finer: 5.2 → 5. Then purge a few grams, so that the old grounds are out.", Private: true})
		}
	})
	s.prompted("me> ")
	s.press("x\r")
	s.wait("(for you) Finer: 5.2 → 5. Then purge a\r\n  few grams, so that the old grounds\r\n  are out.\r\n")
	s.press("\x04")
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// The tab key completes, and what is pasted keeps its tabs from doing so.
func TestTabOnATerminal(t *testing.T) {
	s := newScreen(t)
	said := make(chan string, 2)
	_, ended := listen(t.Context(), s, Options{Known: harbour{}}, func(_ *Console, m chat.Message) {
		if m.Kind == chat.Text {
			said <- m.Text
		}
	})
	s.prompted("me> ")
	s.press("/coffee s\thar\t\r")
	if got := <-said; got != "/coffee show Harbour" {
		t.Errorf("said %q", got)
	}
	s.prompted("me> ")
	s.press("\x1b[200~/t\t18\x1b[201~\r")
	if got := <-said; got != "/t\t18" {
		t.Errorf("pasted %q", got)
	}
	s.press("exit\r")
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// What is logged while somebody types stands above what is typed, also once words
// were shown that it may become.
func TestLogAboveWhatIsTyped(t *testing.T) {
	s := newScreen(t)
	aside := NewAside(s.tty)
	said := make(chan string, 1)
	_, ended := listen(t.Context(), s, Options{Known: harbour{}, Aside: aside}, func(_ *Console, m chat.Message) {
		if m.Kind == chat.Text {
			said <- m.Text
		}
	})
	s.prompted("me> ")
	s.press("/coffee \t\t")
	s.until("choices", func(text string) bool { return strings.Contains(text, "\r\nme> /coffee ") })
	if _, err := fmt.Fprintln(aside, "level=WARN"); err != nil {
		t.Fatal(err)
	}
	s.wait("level=WARN\r\nme> /coffee ")
	s.press("list\r")
	if got := <-said; got != "/coffee list" {
		t.Errorf("said %q", got)
	}
	s.press("quit\r")
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if _, err := fmt.Fprintln(aside, "later"); err != nil {
		t.Fatal(err)
	}
	s.wait("later\r\n")
}

// The terminal is given back when the program is told to stop, too.
func TestTypedSessionStops(t *testing.T) {
	s := newScreen(t)
	before := s.mode()
	ctx, cancel := context.WithCancel(t.Context())
	_, ended := listen(ctx, s, Options{}, func(*Console, chat.Message) {})
	s.wait("me> ")
	if raw := s.mode(); raw == before {
		t.Error("the terminal is not in raw mode")
	}
	cancel()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if after := s.mode(); after != before {
		t.Error("the terminal was left in raw mode")
	}
}

// The editor wraps at the width that the window has now.
func TestWindowSizeIsObeyed(t *testing.T) {
	s := newScreen(t)
	size := &unix.Winsize{Row: 24, Col: 10}
	_, ended := listen(t.Context(), s, Options{}, func(*Console, chat.Message) {})
	s.wait("me> ")
	if err := unix.IoctlSetWinsize(int(s.tty.Fd()), unix.TIOCSWINSZ, size); err != nil {
		t.Fatal(err)
	}
	s.press("abcdefghij")
	s.wait("f\r\n") // four of the prompt and six letters are ten
	s.press("\x03")
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func TestHistorySkipsBlanksAndRepetitions(t *testing.T) {
	h := &history{}
	var _ term.History = h
	for _, s := range []string{"a", "", " ", "a", "b"} {
		h.Add(s)
	}
	if h.Len() != 2 || h.At(0) != "b" || h.At(1) != "a" {
		t.Errorf("history %q", *h)
	}
	for i := range 3 * historyLength {
		h.Add(fmt.Sprint(i))
	}
	if h.Len() != historyLength {
		t.Errorf("%d entries", h.Len())
	}
}
