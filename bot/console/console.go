// Package console is the chat service of a terminal: lines in, posts out.
//
// A line is [time] [@name] [#bar] [id:X] text, or device:X in the place of @name. Four commands are the console's
// own, as they stand for what people do to messages in a chat: /edit N text,
// /delete N, /press N label and /reply N text, where N is the number of an
// input line. Where a person types, a number alone presses the button that has
// it, and quit leaves. Everything else is carried without being read.
package console

import (
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"time"

	"shothand/bot/chat"
)

var _ chat.Service = (*Console)(nil)

// Options say what a console reads, where it writes and how.
type Options struct {
	In       io.Reader
	Out, Err io.Writer
	Aside    *Aside                     // where others write meanwhile, or nil
	JSON     bool                       // one JSON object for each input line
	Dumb     bool                       // the terminal knows no escape sequences
	Managers []string                   // who may manage; empty: everyone
	Me       string                     // who speaks where a line does not say; empty: "me"
	Bar      string                     // where; empty: "bar"
	FilesDir string                     // where pictures are written, made when first needed
	Hint     string                     // said at the start of a typed session, or empty
	Now      func() time.Time           // nil: the machine's clock
	Known    Known                      // what the tab key completes words by; nil: it completes nothing
	Texts    func(channel string) Texts // in the language of the bar there
}

// Known is what the bot says while somebody still types.
type Known interface {
	// Specs returns the commands there are.
	Specs(locales ...string) []chat.Spec
	// Suggest returns values for the option being typed, the likeliest first.
	Suggest(chat.Asking) []string
	// People returns the names of those who have spoken in a channel.
	People(channel string) []string
}

// Texts are the sentences that the console has to say by itself.
type Texts struct {
	Welcome string // the first lines of a typed session
	Keys    string // after the help of a typed session; empty: nothing
	Empty   string // on Err, when the input said nothing at all
	Private string // stands before a post that only its reader sees
	Edited  string // stands above a post that is said again, changed

	BadTime        func(word string) string                          // a word in a time's shape that is none
	BadLineNumber  func(word string) string                          // no message came from that line; word may be empty
	AfterNumber    func(number, rest string) string                  // what follows a line's number is surplus, or missing where rest is empty
	Unread         string                                            // to a person at the keyboard, whose line got no answer; empty: nothing
	NothingToPress string                                            // no post with buttons is meant
	Called         func(label string) string                         // what a button that is called so in English is called
	NoSuchNumber   func(n string, has []string, above string) string // the last answer has no button n, perhaps none; above is one further up
	ButtonChoices  func(said string, all []string) string            // no button, or several, are called so; said may be empty
}

// Console is the chat service of a terminal.
type Console struct {
	o Options

	mu       sync.Mutex
	out      io.Writer  // Out, or the terminal drawn on it
	typed    bool       // a person sits there
	me, bar  string     // who speaks there, and where
	width    func() int // of the terminal, in columns; 0: not known
	shown    bool       // something stands above, after which
	tall     bool       // a blank line reads better
	line     lineOut    // the line being answered
	at       time.Time  // its time, or when the console was made
	answered bool       // posts are replies to line, no longer due before it
	silent   bool       // nothing was said of line yet
	ended    bool       // no line will come any more
	broken   error      // why nothing can be written any more
	posts    map[string]*posted
	order    []*posted
}

// DefaultBar is the bar of lines that name none.
const DefaultBar = "bar"

// New returns a console.
func New(o Options) *Console {
	if o.In == nil {
		o.In = strings.NewReader("")
	}
	if o.Out == nil {
		o.Out = io.Discard
	}
	if o.Err == nil {
		o.Err = io.Discard
	}
	if o.Me == "" {
		o.Me = "me"
	}
	if o.Bar == "" {
		o.Bar = DefaultBar
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	// A missing sentence must not end a session.
	c := &Console{o: o, out: o.Out, me: o.Me, bar: o.Bar, posts: map[string]*posted{}, width: func() int { return 0 }}
	c.at = c.now()
	return c
}

// Send shows p, or keeps it for the object of its line.
func (c *Console) Send(_ context.Context, p chat.Post) (string, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	id := newID()
	if p.Again { // it may have been shown already, and nobody can tell
		return id, nil
	}
	files, err := c.keep(p.Files)
	if err != nil {
		return "", err
	}
	if c.o.JSON {
		err = c.collect(p, files, func(o *postOut) { o.Post = id })
	} else {
		err = c.show(c.asText(p, files, ""))
	}
	if err != nil {
		return "", err
	}
	c.remember(id, p)
	return id, nil
}

// Edit replaces the post with that id. What people have read already is not
// shown again, nor is what the clock changes in a post above.
func (c *Console) Edit(_ context.Context, id string, p chat.Post) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	old, known := c.posts[id]
	if !c.o.JSON && (p.Due || known && old.text == p.Text && len(p.Files) == 0) {
		c.remember(id, p)
		return nil
	}
	files, err := c.keep(p.Files)
	if err != nil {
		return err
	}
	if c.o.JSON {
		err = c.collect(p, files, func(o *postOut) { o.Edits = id })
	} else {
		err = c.show(c.asText(p, files, c.o.Texts(p.Channel).Edited))
	}
	if err != nil {
		return err
	}
	c.remember(id, p)
	return nil
}

// collect puts p in the object of the line. The caller holds c.mu.
func (c *Console) collect(p chat.Post, files []fileOut, name func(*postOut)) error {
	if c.ended {
		return fmt.Errorf("send a post: %w", errEnded)
	}
	o, err := asJSON(p, files)
	if err != nil {
		return fmt.Errorf("send a post: %w", err)
	}
	name(&o)
	if c.answered && !p.Due {
		c.line.Replies = append(c.line.Replies, o)
		return nil
	}
	at := p.At
	if at.IsZero() {
		at = c.at
	}
	o.At, o.Bar = stamp(at), p.Channel
	c.line.Due = append(c.line.Due, o)
	return nil
}

// begin starts the answer to line n. A line that a person has typed stands
// between the posts before and after it.
func (c *Console) begin(n int, at time.Time, from string, typed bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.shown = c.shown && !typed
	c.line.Line, c.line.At, c.line.From = n, stamp(at), from
	c.at = at
	c.silent = true
}

// answering says whether posts are replies from now on.
func (c *Console) answering(yes bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.answered = yes
}

// cut writes what has been sent of an answer that will not be completed. A
// line without an object may or may not have been taken; an empty object would
// claim that there was nothing to say.
func (c *Console) cut() error {
	c.mu.Lock()
	empty := len(c.line.Due)+len(c.line.Replies) == 0
	c.mu.Unlock()
	if empty {
		return nil
	}
	return c.finish()
}

// finish writes the object of the line.
func (c *Console) finish() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	o := c.line
	c.line.Due, c.line.Replies, c.answered = nil, nil, false
	if !c.o.JSON || c.broken != nil {
		return c.broken
	}
	if o.Due == nil {
		o.Due = []postOut{}
	}
	if o.Replies == nil {
		o.Replies = []postOut{}
	}
	text, err := encode(o)
	if err != nil {
		return fmt.Errorf("answer line %d: %w", o.Line, err)
	}
	return c.write(text)
}

// write is the one place where anything is written. The caller holds c.mu.
func (c *Console) write(text []byte) error {
	if c.broken != nil {
		return c.broken
	}
	if _, err := c.out.Write(text); err != nil {
		c.broken = fmt.Errorf("write to the console: %w", err)
	}
	return c.broken
}

// now reads the clock as people do: by the local zone, without more of a
// fraction than anybody wants to see.
func (c *Console) now() time.Time { return c.o.Now().Truncate(time.Millisecond) }

// newID returns an id that no other message or post has, in this process or
// another on the same records.
func newID() string {
	return strconv.FormatInt(time.Now().UnixMilli(), 36) + "-" + strings.ToLower(rand.Text()[:12])
}
