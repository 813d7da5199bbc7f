package fake

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// Message types that tests ask for by name; every other number is taken too.
const (
	TypeText          = 0
	TypePin           = 6
	TypeJoin          = 7
	TypeThreadCreated = 18
	TypeReply         = 19
	TypeThreadStarter = 21
)

// Say lets a user write in a channel or thread, in answer to a message if
// replyTo is not "", and returns the message's id. Users, channels and threads
// are named by id or name, here and everywhere.
func (s *Server) Say(channel, user, text, replyTo string) (id string) {
	s.do(func() {
		m := &Message{Channel: s.state.mustChannel(channel).ID, Author: *s.state.mustUser(user), Content: text, ReplyTo: replyTo}
		if replyTo != "" {
			m.Type = TypeReply
		}
		id = s.post(m)
	})
	return id
}

// Post is Say for everything out of the ordinary: m may be a system message, a
// webhook's, another bot's (its Author need not be a member), or hold
// components nobody has seen before. Its id and time are set.
func (s *Server) Post(m Message) (id string) {
	s.do(func() {
		m.Channel = s.state.mustChannel(m.Channel).ID
		if m.Author.ID == "" {
			m.Author = s.stranger(m.Author)
		}
		id = s.post(&m)
	})
	return id
}

func (s *Server) stranger(u User) User {
	if known := s.state.findUser(u.Name); known != nil {
		return *known
	}
	u.ID = s.state.newID()
	return u
}

// SayUnknown lets another bot post a message with a component of a type that
// no library of today knows, and returns its id.
func (s *Server) SayUnknown(channel string) string {
	return s.Post(Message{
		Channel: channel, Author: User{Name: "gadget", Bot: true}, Content: "look",
		Components: []map[string]any{unknownComponent()},
	})
}

// unknownType is a type of component that there is none of.
const unknownType = 99

func unknownComponent() object { return object{"type": unknownType, "id": 1, "shape": "round"} }

// post files a new message, un-archives its thread and tells the bot.
func (s *Server) post(m *Message) string {
	m.ID, m.Created = s.state.newID(), time.Now()
	s.wake(s.state.mustChannel(m.Channel))
	if m.Author != s.state.Bot {
		m.Pings = s.state.pings(m.Content, nil, false)
	}
	s.state.messages = append(s.state.messages, m)
	s.dispatchMessage("MESSAGE_CREATE", m)
	return m.ID
}

// wake un-archives a thread that somebody writes in.
func (s *Server) wake(c *Channel) {
	if c.Archived && !c.Locked {
		c.Archived = false
		s.threadEvent("THREAD_UPDATE", c)
	}
}

// EditMessage lets the author change what they wrote.
func (s *Server) EditMessage(id, text string) {
	s.do(func() {
		m := s.state.mustMessage(id)
		m.Content, m.Edited = text, time.Now()
		s.dispatchMessage("MESSAGE_UPDATE", m)
	})
}

// DeleteMessage removes a message.
func (s *Server) DeleteMessage(id string) {
	s.do(func() { s.remove(s.state.mustMessage(id)) })
}

func (s *Server) remove(m *Message) {
	m.Deleted = true
	if m.For != "" {
		return
	}
	s.dispatch(event{
		name: "MESSAGE_DELETE", guild: s.state.guildOf(m.Channel), intent: intentMessages,
		data: object{"id": m.ID, "channel_id": m.Channel, "guild_id": s.state.guildOf(m.Channel)},
	})
}

func (st *State) mustMessage(id string) *Message {
	m := st.message(id)
	if m == nil || m.Deleted {
		panic(mistaken("no message %q", id))
	}
	return m
}

// StartThread lets a user open a thread in a channel and returns its id.
func (s *Server) StartThread(channel, user, name string) (id string) {
	s.do(func() {
		id = s.openThread(s.state.mustChannel(channel), s.state.mustUser(user), s.state.newID(), name, 1440).ID
	})
	return id
}

// Archive puts a thread away; a locked one stays away when somebody writes in it.
func (s *Server) Archive(thread string, locked bool) {
	s.do(func() {
		c := s.state.mustChannel(thread)
		c.Archived, c.Locked, c.ArchivedAt = true, locked, time.Now()
		s.threadEvent("THREAD_UPDATE", c)
	})
}

func (s *Server) openThread(parent *Channel, owner *User, id, name string, minutes int) *Channel {
	c := &Channel{
		ID: id, Guild: parent.Guild, Name: name, Parent: parent.ID, Owner: owner.ID,
		ArchiveMinutes: minutes, Created: time.Now(), Denied: parent.Denied,
	}
	s.state.channels = append(s.state.channels, c)
	s.threadEvent("THREAD_CREATE", c)
	return c
}

func (s *Server) threadEvent(name string, c *Channel) {
	data := s.state.channelJSON(c)
	if name == "THREAD_CREATE" {
		data["newly_created"] = true
	}
	s.dispatch(event{name: name, guild: c.Guild, intent: intentGuilds, data: data})
}

// React lets a user put an emoji under a message.
func (s *Server) React(message, user, emoji string) {
	s.do(func() { s.react(s.state.mustMessage(message), s.state.mustUser(user).ID, emoji) })
}

func (s *Server) react(m *Message, user, emoji string) {
	reaction := emoji + " " + user
	if slices.Contains(m.Reactions, reaction) {
		return
	}
	m.Reactions = append(m.Reactions, reaction)
	s.dispatch(event{
		name: "MESSAGE_REACTION_ADD", guild: s.state.guildOf(m.Channel), intent: intentReactions,
		data: object{
			"user_id": user, "channel_id": m.Channel, "message_id": m.ID, "guild_id": s.state.guildOf(m.Channel),
			"emoji": object{"id": nil, "name": emoji}, "burst": false, "type": 0,
		},
	})
}

func cutReaction(r string) (emoji, user string, ok bool) { return strings.Cut(r, " ") }

// shards tells whether a shard serves a guild.
func shards(guild string, shard [2]int) bool {
	id, err := strconv.ParseUint(guild, 10, 64)
	if err != nil || shard[1] == 0 {
		return true
	}
	return (id>>22)%uint64(shard[1]) == uint64(shard[0])
}
