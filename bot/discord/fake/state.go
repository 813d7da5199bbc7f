package fake

import (
	"slices"
	"time"
)

// A State is everything the fake holds. Its methods return copies, and are
// for the function given to [Server.Await]; outside of it use [Server]'s.
type State struct {
	// Bot is the bot's user, whose id is also the application's.
	Bot User

	url          string
	lastID       uint64
	guilds       []*Guild
	channels     []*Channel
	users        []*User
	messages     []*Message
	interactions []*Interaction
	commands     map[string][]object // by guild id; global ones under ""
	requests     []*Request
	violations   []string
	identifies   []time.Time
	resumes      int
	open         int
}

// A Request is a REST call that the bot made.
type Request struct {
	At           time.Time
	Method, Path string // the path begins after /api/vN
	Body         string // JSON; of a multipart body its payload_json
	Status       int    // what it was answered with; 0 while it is served
}

func newState(url string, empty bool) *State {
	st := &State{url: url, commands: map[string][]object{}}
	st.Bot = User{ID: st.newID(), Name: "shothand", Bot: true}
	st.users = append(st.users, &st.Bot)
	if !empty {
		st.harbourLane()
	}
	return st
}

// Messages returns the messages of a channel or thread that were not deleted,
// the oldest first, those for one person's eyes among them.
func (st *State) Messages(channel string) []Message {
	c := st.mustChannel(channel)
	var list []Message
	for _, m := range st.messages {
		if m.Channel == c.ID && !m.Deleted {
			list = append(list, m.clone())
		}
	}
	return list
}

// Posts returns what the bot itself said in a channel or thread, as Messages does.
func (st *State) Posts(channel string) []Message {
	return slices.DeleteFunc(st.Messages(channel), func(m Message) bool { return m.Author != st.Bot })
}

// Message returns one message, also a deleted one; false if there never was one.
func (st *State) Message(id string) (Message, bool) {
	if m := st.message(id); m != nil {
		return m.clone(), true
	}
	return Message{}, false
}

func (st *State) message(id string) *Message {
	for _, m := range slices.Backward(st.messages) {
		if m.ID == id {
			return m
		}
	}
	return nil
}

// Interaction returns how an interaction stands; false if there never was one.
func (st *State) Interaction(id string) (Interaction, bool) {
	if i := find(st.interactions, func(i *Interaction) bool { return i.ID == id }); i != nil {
		return i.clone(), true
	}
	return Interaction{}, false
}

// Threads returns a channel's threads, archived ones too, the oldest first.
func (st *State) Threads(channel string) []Channel {
	parent := st.mustChannel(channel)
	var list []Channel
	for _, c := range st.channels {
		if c.Parent == parent.ID {
			list = append(list, *c)
		}
	}
	return list
}

// Commands returns the commands registered for a guild; "" means the global ones.
func (st *State) Commands(guild string) []map[string]any {
	if guild != "" {
		guild = st.mustGuild(guild).ID
	}
	list := make([]map[string]any, len(st.commands[guild]))
	for i, c := range st.commands[guild] {
		list[i] = cloneJSON(c)
	}
	return list
}

// Requests returns the REST calls so far, the last 5000 at least.
func (st *State) Requests() []Request {
	list := make([]Request, len(st.requests))
	for i, r := range st.requests {
		list[i] = *r
	}
	return list
}

// Violations returns what was wrong with requests and answers so far.
func (st *State) Violations() []string { return slices.Clone(st.violations) }

// Connections returns how many gateway connections have had READY or RESUMED
// and are open.
func (st *State) Connections() int { return st.open }

// Identifies returns when the bot identified itself.
func (st *State) Identifies() []time.Time { return slices.Clone(st.identifies) }

// Resumes returns how often a session was resumed.
func (st *State) Resumes() int { return st.resumes }

// look returns what f makes of the state, under the lock.
func look[T any](s *Server, f func(*State) T) T {
	s.mu.Lock()
	defer s.mu.Unlock()
	return f(s.state)
}

// Bot returns the bot's user.
func (s *Server) Bot() User { return look(s, func(st *State) User { return st.Bot }) }

// Guild returns a guild's id by its name.
func (s *Server) Guild(name string) string {
	return look(s, func(st *State) string { return st.mustGuild(name).ID })
}

// Channel returns a channel or thread by its id or name.
func (s *Server) Channel(key string) Channel {
	return look(s, func(st *State) Channel { return *st.mustChannel(key) })
}

// User returns a user by id or name.
func (s *Server) User(key string) User {
	return look(s, func(st *State) User { return *st.mustUser(key) })
}

// Messages is [State.Messages].
func (s *Server) Messages(channel string) []Message {
	return look(s, func(st *State) []Message { return st.Messages(channel) })
}

// Posts is [State.Posts].
func (s *Server) Posts(channel string) []Message {
	return look(s, func(st *State) []Message { return st.Posts(channel) })
}

// Message is [State.Message].
func (s *Server) Message(id string) (m Message, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.state.Message(id)
}

// Interaction is [State.Interaction].
func (s *Server) Interaction(id string) (i Interaction, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.state.Interaction(id)
}

// Threads is [State.Threads].
func (s *Server) Threads(channel string) []Channel {
	return look(s, func(st *State) []Channel { return st.Threads(channel) })
}

// Commands is [State.Commands].
func (s *Server) Commands(guild string) []map[string]any {
	return look(s, func(st *State) []map[string]any { return st.Commands(guild) })
}

// Requests is [State.Requests].
func (s *Server) Requests() []Request { return look(s, (*State).Requests) }

// Violations is [State.Violations].
func (s *Server) Violations() []string { return look(s, (*State).Violations) }

// Connections is [State.Connections].
func (s *Server) Connections() int { return look(s, (*State).Connections) }

// Identifies is [State.Identifies].
func (s *Server) Identifies() []time.Time { return look(s, (*State).Identifies) }

// Resumes is [State.Resumes].
func (s *Server) Resumes() int { return look(s, (*State).Resumes) }
