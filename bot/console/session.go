package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"syscall"
	"time"

	"shothand/bot/chat"
)

// errEnded is what a post meets that comes too late for any object.
var errEnded = errors.New("the input has ended")

// tickEvery is how often a typed session looks for what is due.
const tickEvery = time.Minute

// A session is one run of Listen. Only Listen's goroutine uses it.
type session struct {
	c        *Console
	deliver  func(chat.Message) <-chan struct{}
	typed    bool // a person sits there: names alone switch, time runs
	me       string
	bar      string
	standing time.Time // the last time a line told, zero before
	seen     []string  // bars spoken in, in that order
	said     []said    // by input line, from the first
	heard    bool      // a line said something
}

// A said is the message that an input line was about; id is empty if none.
type said struct{ id, channel string }

// An input is what reading a line gave.
type input struct {
	text string
	err  error
}

// Listen delivers a message for each input line and waits for its answer,
// until the input ends or ctx is done.
func (c *Console) Listen(ctx context.Context, deliver func(chat.Message) (done <-chan struct{})) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	src, typed, leave := c.open()
	defer leave()
	s := &session{c: c, deliver: deliver, typed: typed, me: c.o.Me, bar: c.o.Bar}
	c.setEnded(false)
	defer c.setEnded(true)
	err := s.run(ctx, src)
	if err == nil && !s.heard && !typed && ctx.Err() == nil && c.o.Texts(c.bar).Empty != "" {
		_, err = fmt.Fprintln(c.o.Err, c.o.Texts(c.bar).Empty)
	}
	return err
}

func (c *Console) setEnded(yes bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.ended = yes
}

// run answers line after line. It returns nil when ctx is done, too.
func (s *session) run(ctx context.Context, src source) error {
	ask, got := make(chan string), make(chan input)
	go read(ctx, src, ask, got)
	if s.typed {
		s.see(s.bar)
		s.tick(ctx, s.now())
	}
	for {
		select {
		case ask <- s.prompt():
		case <-ctx.Done():
			return nil
		}
		in, ok := s.await(ctx, got)
		if !ok || ended(in.err) {
			return nil
		}
		if in.err != nil {
			return fmt.Errorf("read line %d: %w", len(s.said)+1, in.err)
		}
		if s.typed && leaves(in.text) {
			return nil
		}
		if s.typed && fold(in.text) == "now" {
			s.standing = time.Time{}
			continue
		}
		if err := s.answer(ctx, in.text); err != nil {
			return err
		}
	}
}

// leaves reports whether a person asks to leave.
func leaves(text string) bool {
	switch strings.TrimPrefix(fold(text), "/") {
	case "quit", "exit", "bye":
		return true
	}
	return false
}

// read reads a line each time it is asked to. It is a goroutine of its own,
// as a read cannot be called off; it ends with the first read after ctx.
func read(ctx context.Context, src source, ask <-chan string, got chan<- input) {
	for {
		var prompt string
		select {
		case prompt = <-ask:
		case <-ctx.Done():
			return
		}
		text, err := src.next(prompt)
		select {
		case got <- input{text, err}:
		case <-ctx.Done():
			return
		}
	}
}

// ended reports whether err means that there is no more input: at its end, or
// with nobody at the other side.
func ended(err error) bool {
	return errors.Is(err, io.EOF) || errors.Is(err, io.ErrClosedPipe) || errors.Is(err, os.ErrClosed) ||
		errors.Is(err, syscall.EBADF) || errors.Is(err, syscall.EIO)
}

// await waits for the next line. Where time runs, it posts meanwhile what is
// due; a clock that stands still at a line's time makes nothing due.
func (s *session) await(ctx context.Context, got <-chan input) (input, bool) {
	var minute <-chan time.Time
	if s.typed {
		t := time.NewTicker(tickEvery)
		defer t.Stop()
		minute = t.C
	}
	for {
		select {
		case in := <-got:
			return in, true
		case <-minute:
			s.tick(ctx, s.now())
		case <-ctx.Done():
			return input{}, false
		}
	}
}

// now is the time of a line that does not tell one.
func (s *session) now() time.Time {
	if !s.standing.IsZero() {
		return s.standing
	}
	return s.c.now()
}

func (s *session) see(bar string) {
	if !slices.Contains(s.seen, bar) {
		s.seen = append(s.seen, bar)
	}
}

// answer posts what is due by the time of a line, then has the line answered.
func (s *session) answer(ctx context.Context, text string) error {
	l := parseLine(text)
	s.heard = s.heard || !l.blank()
	if !l.at.IsZero() {
		s.standing = l.at
	}
	at, who, bar := s.now(), or(l.name, s.me), or(l.bar, s.bar)
	s.said = append(s.said, said{})
	s.c.begin(len(s.said), at, who, s.typed)
	if !l.blank() && l.badTime == "" {
		s.see(bar)
	}
	if !s.tick(ctx, at) {
		return nil
	}
	s.c.answering(true)
	defer s.c.answering(false)
	m := chat.Message{ID: or(l.id, newID()), Channel: bar, From: person(who), Manager: s.manages(who), Manages: s.managed(who), Alone: true, At: at}
	if l.device != "" {
		m.From, m.Device, m.Manager, m.Manages = chat.Person{Name: l.device}, true, false, nil
	}
	mistake := s.fill(&m, l)
	switch {
	case mistake != "":
		post := chat.Post{Kind: chat.Error, Channel: m.Channel, At: at, Text: mistake}
		if _, err := s.c.Send(ctx, post); err != nil {
			return err
		}
	case m.Kind == chat.Text && m.Text == "":
		s.turn(l)
	default:
		s.said[len(s.said)-1] = said{m.ID, m.Channel}
		if !s.hand(ctx, m) {
			return s.c.cut()
		}
		if err := errors.Join(s.unread(m), s.keys(m)); err != nil {
			return err
		}
	}
	return s.c.finish()
}

// unread tells a person that what was typed got no answer: in a chat people
// talk to each other, here only to the bot.
func (s *session) unread(m chat.Message) error {
	s.c.mu.Lock()
	defer s.c.mu.Unlock()
	if !s.typed || !s.c.silent || m.Kind != chat.Text {
		return nil
	}
	return s.c.show(s.c.o.Texts(m.Channel).Unread)
}

// keys tells a person who asked for help what this terminal has beside it.
func (s *session) keys(m chat.Message) error {
	asked := slices.Contains([]string{"help", "aiuto", "hilfe", "aide", "ayuda", "ajuda"}, strings.TrimPrefix(fold(m.Text), "/"))
	if !s.typed || !asked {
		return nil
	}
	s.c.mu.Lock()
	defer s.c.mu.Unlock()
	return s.c.show(s.c.o.Texts(m.Channel).Keys)
}

// fill completes m by what l asks for, or returns what is wrong with l.
func (s *session) fill(m *chat.Message, l line) (mistake string) {
	if l.badTime != "" {
		return s.c.o.Texts(m.Channel).BadTime(clean(l.badTime))
	}
	if l.verb == say {
		m.Text = l.text
		return s.chosen(m, l.text)
	}
	if l.verb == press {
		return s.press(m, l.text)
	}
	n, word, tail := cutNumber(l.text)
	about, ok := s.message(n)
	if !ok {
		return s.c.o.Texts(m.Channel).BadLineNumber(clean(word))
	}
	if (tail == "") != (l.verb == remove) {
		return s.c.o.Texts(m.Channel).AfterNumber(word, clean(tail))
	}
	m.Channel = about.channel
	switch l.verb {
	case edit:
		m.Kind, m.ID, m.Text = chat.Edited, about.id, tail
	case remove:
		m.Kind, m.ID = chat.Deleted, about.id
	case reply:
		m.ReplyTo, m.Text = about.id, tail
	case say, press: // above
	}
	return ""
}

// message returns the message that input line n was about.
func (s *session) message(n int) (said, bool) {
	if n < 1 || n > len(s.said) || s.said[n-1].id == "" {
		return said{}, false
	}
	return s.said[n-1], true
}

// press makes m the press of the button that text names.
func (s *session) press(m *chat.Message, text string) (mistake string) {
	p, b, mistake := s.button(m.Channel, text)
	if mistake != "" {
		return mistake
	}
	pressed(m, p, b)
	return ""
}

func pressed(m *chat.Message, p posted, b chat.Button) {
	m.Kind, m.Press, m.Post = chat.Pressed, b.State, p.id
	if p.channel != "" {
		m.Channel, m.Thread = p.channel, p.thread
	}
}

// chosen makes m the press of the button that has the number text, where a person
// types and the last answer has such a button. Of one further up a number may mean
// another than it did there, so none of those is pressed by it.
func (s *session) chosen(m *chat.Message, text string) (mistake string) {
	n, word, rest := cutNumber(text)
	latest, any := s.c.newest(func(*posted) bool { return true })
	if !s.typed || n == 0 || n > 9 || rest != "" || !any {
		return ""
	}
	p := s.c.standing()
	if n <= len(p.buttons) {
		m.Text = ""
		pressed(m, p, p.buttons[n-1])
		return ""
	}
	if slices.Contains(labels(latest.buttons), word) {
		return "" // it says what it means
	}
	return s.c.o.Texts(m.Channel).NoSuchNumber(word, labels(p.buttons), clean(latest.buttons[0].Label))
}

// button finds the button that text names: "N label" on the newest post that
// answers line N, else "label" on the newest post there is, as a number may
// belong to a label such as "28 s".
func (s *session) button(channel, text string) (p posted, b chat.Button, mistake string) {
	n, word, label := cutNumber(text)
	onLine, answered := s.answering(n)
	texts := s.c.o.Texts(channel)
	if b, ok := find(onLine.buttons, label, texts.Called(label)); ok {
		return onLine, b, ""
	}
	latest, exists := s.c.newest(func(*posted) bool { return true })
	if b, ok := find(latest.buttons, text, texts.Called(text)); ok {
		return latest, b, ""
	}
	_, known := s.message(n)
	switch {
	case n > 0 && label != "" && answered:
		mistake = texts.ButtonChoices(clean(label), labels(onLine.buttons))
	case n > 0 && label != "" && !known:
		mistake = texts.BadLineNumber(word)
	case n > 0 && label != "" || !exists:
		mistake = texts.NothingToPress
	default:
		mistake = texts.ButtonChoices(clean(text), labels(latest.buttons))
	}
	return posted{}, chat.Button{}, mistake
}

// answering returns the newest post with buttons that answers line n, or an
// edit of its message.
func (s *session) answering(n int) (posted, bool) {
	about, known := s.message(n)
	return s.c.newest(func(p *posted) bool {
		return n > 0 && p.line == n || known && p.cause == about.id
	})
}

// turn switches the speaker or the bar of a typed session.
func (s *session) turn(l line) {
	if s.typed && l.verb == say {
		s.me, s.bar = or(l.name, s.me), or(l.bar, s.bar)
		s.c.mu.Lock()
		defer s.c.mu.Unlock()
		s.c.me, s.c.bar = s.me, s.bar
	}
}

// tick posts what is due at at in every bar seen, and reports whether ctx
// still runs.
func (s *session) tick(ctx context.Context, at time.Time) bool {
	for _, bar := range s.seen {
		if !s.hand(ctx, chat.Message{ID: newID(), Kind: chat.Tick, Channel: bar, At: at}) {
			return false
		}
	}
	return ctx.Err() == nil
}

// hand delivers m and waits for all that it causes, or for ctx.
func (s *session) hand(ctx context.Context, m chat.Message) bool {
	done := s.deliver(m)
	if done == nil {
		return true
	}
	select {
	case <-done:
		return true
	case <-ctx.Done():
		return false
	}
}

func (s *session) manages(who string) bool {
	return len(s.c.o.Managers) == 0 || slices.ContainsFunc(s.c.o.Managers, func(m string) bool {
		return strings.EqualFold(m, who)
	})
}

// managed returns the channels that somebody manages: all or none.
func (s *session) managed(who string) []string {
	if s.manages(who) {
		return []string{chat.Everywhere}
	}
	return nil
}

// prompt shows who speaks, where if not in the usual bar, and when if a line has
// told a time, at which the clock stands.
func (s *session) prompt() string {
	prompt := s.me
	if s.bar != s.c.o.Bar {
		prompt += " #" + s.bar
	}
	if !s.standing.IsZero() {
		prompt += s.standing.Format(" (2 January 15:04)")
	}
	return prompt + "> "
}

// person is somebody known by a name alone, however it is capitalised.
func person(name string) chat.Person {
	return chat.Person{ID: strings.ToLower(name), Name: name}
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}
