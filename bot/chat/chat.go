// Package chat is the port between the bot and the places people talk to it:
// what a message, a post, a choice of buttons and a file are, and what a
// service does.
package chat

import (
	"context"
	"slices"
	"time"

	"shothand/advisor/closed"
)

// A Service carries messages in and posts out.
type Service interface {
	// Listen hands every message to deliver, in order, until ctx is done or
	// there are no more. Deliver waits while the bar's queue is full and
	// returns a channel that is closed when all that the message caused has
	// been sent; a service that does not care may ignore it.
	Listen(ctx context.Context, deliver func(Message) (done <-chan struct{})) error
	// Send posts p and returns the post's id.
	Send(ctx context.Context, p Post) (id string, err error)
	// Edit replaces the text, buttons and files of the post with that id.
	Edit(ctx context.Context, id string, p Post) error
}

// A Stripper is a service that can take the buttons off a post of a channel and
// leave the rest as it is.
type Stripper interface {
	Strip(ctx context.Context, channel, post string) error
}

// A Ticker is a service that can put a tick on a message in place of a post that
// says no more than that. What it has ticked has the post id [Ticked].
type Ticker interface {
	// Tick ticks the message that p answers. It is false where it cannot, and p is
	// to be sent.
	Tick(ctx context.Context, p Post) (done bool, err error)
	// Untick takes the tick off again: something else is said of it now.
	Untick(ctx context.Context, p Post) error
}

// Ticked stands where the id of a post would, for an answer that was a tick on
// the message itself.
const Ticked = "ticked"

// A Kind is what sort of message came in.
type Kind int

// The kinds.
const (
	Text    Kind = iota
	Edited       // Text is the new text of the message with this ID
	Deleted      // the message with this ID is gone
	Pressed      // a button
	Called       // a command, already in parts
	Tick         // nobody spoke; time has come to At
)

// A Message is one thing that came in.
type Message struct {
	ID      string // unique in its service; for Edited and Deleted the original's
	Kind    Kind
	Channel string // of the bar
	Thread  string // within the channel, or empty
	From    Person
	Device  bool     // From is no person but what posts by itself, a webhook
	Manager bool     // may manage the channel
	Manages []string // the other channels that they are known to manage; Everywhere for all
	Alone   bool     // an answer can be for its writer alone
	At      time.Time
	ReplyTo string // id of the message or post this answers, or empty
	Text    string // for Text and Edited
	Command Command
	Press   string // State of the button pressed
	Post    string // id of the post whose button was pressed
	Title   string // what people call the channel, or empty where it is not known
	Locale  string // the writer's own, as "pt-BR", or empty where it is not known
	Home    string // the locale of the server that the channel is on, or empty
}

// Everywhere stands for every channel, where one person manages them all.
const Everywhere = "*"

// MayManage reports whether whoever wrote is known to manage a channel.
func (m Message) MayManage(channel string) bool {
	return channel == m.Channel && m.Manager || slices.Contains(m.Manages, channel) || slices.Contains(m.Manages, Everywhere)
}

// A Person is somebody who writes.
type Person struct {
	ID   string
	Name string
}

// A Command is a command in parts: what the text parser's first stage makes
// of a line, and what a service with typed commands delivers.
type Command struct {
	Name    string   // "coffee add"
	Options []Option // in the order given
}

// An Option is one name:value of a command. Words without a name are joined
// in one option with an empty name.
type Option struct{ Name, Value string }

// A PostKind is what sort of post goes out.
type PostKind int

// The kinds of post.
const (
	Advice PostKind = iota + 1
	Recorded
	Question
	Error
	Info
	Reminder
	Alert
)

// kindNames are the names of the kinds, as records and the log have them.
func kindNames() []string {
	return []string{
		Advice: "advice", Recorded: "recorded", Question: "question", Error: "error",
		Info: "info", Reminder: "reminder", Alert: "alert",
	}
}

// KindOf returns the kind of that name, or none.
func KindOf(name string) PostKind { return max(0, PostKind(slices.Index(kindNames(), name))) }

// String returns the kind's name, empty for none.
func (k PostKind) String() string { return closed.Name(k, kindNames()) }

// MarshalText writes a kind as its name.
func (k PostKind) MarshalText() ([]byte, error) { return closed.Marshal(k, kindNames()) }

// UnmarshalText reads it back.
func (k *PostKind) UnmarshalText(text []byte) error { return closed.Unmarshal(k, text, kindNames()) }

// A Post is one thing that goes out.
type Post struct {
	Kind    PostKind
	Channel string
	Thread  string
	Cause   string // id of the message it answers, or of whatever else caused it
	At      time.Time
	Text    string
	Buttons []Button
	Files   []File
	Private bool // only for the person who wrote
	Due     bool // caused by the clock, not by a message
	More    bool // the cause was answered already; this is besides
	// Opens is the name of a thread to open on this post, or empty. The
	// thread's id is the post's.
	Opens string
	// Again says that the post may be there already, from before a crash: the
	// service looks for it first and returns it if it finds it.
	Again bool
	Tick  bool // all that it says is that it was noted and all is well
	Data  any  // what a program reading along is told, or nil
}

// Quiet reports whether it need ring nobody's phone: it notes something, or nobody
// asked for it and it needs no hand.
func (p Post) Quiet() bool { return p.Kind == Recorded || p.Due && p.Kind == Info }

// A Button is one answer to tap.
type Button struct {
	Label string
	State string // comes back as Message.Press; at most 100 bytes
}

// A File goes with a post.
type File struct {
	Name string // "harbour.png"
	Alt  string // what it shows
	Data []byte
}
