package fake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"
)

// Permissions, as bits of Discord's permission integer.
const (
	ManageChannels       = 1 << 4
	AddReactions         = 1 << 6
	ViewChannel          = 1 << 10
	SendMessages         = 1 << 11
	EmbedLinks           = 1 << 14
	AttachFiles          = 1 << 15
	ReadMessageHistory   = 1 << 16
	UseCommands          = 1 << 31
	CreatePublicThreads  = 1 << 35
	SendMessagesInThread = 1 << 38

	everyonePermissions = AddReactions | ViewChannel | SendMessages | EmbedLinks | AttachFiles |
		ReadMessageHistory | UseCommands | CreatePublicThreads | SendMessagesInThread
)

// A User is a person or a bot.
type User struct {
	ID, Name string
	Bot      bool
	Locale   string // of their client; "" is en-US
}

func (u *User) locale() string { return cmp.Or(u.Locale, "en-US") }

// A Guild is one team's place.
type Guild struct {
	ID, Name string
	Locale   string          // that its owner prefers; "" is en-US
	Owner    string          // user id
	Lead     string          // id of the role that manages channels
	Members  map[string]bool // user id → has the Lead role
}

func (g *Guild) locale() string { return cmp.Or(g.Locale, "en-US") }

// A Channel is a text channel or, with a Parent, a public thread.
type Channel struct {
	ID, Guild, Name  string
	Parent           string // the thread's channel
	Owner            string // the thread's, a user id
	Archived, Locked bool
	ArchiveMinutes   int
	Created          time.Time
	ArchivedAt       time.Time
	Denied           int64 // permissions the bot lacks here
}

// epochMillis is the first moment of 2015, from which ids count.
const epochMillis = 1420070400000

// newID returns the next id. Ids rise, also within a millisecond.
func (st *State) newID() string {
	next := uint64(time.Now().UnixMilli()-epochMillis) << 22
	st.lastID = max(st.lastID+1, next)
	return strconv.FormatUint(st.lastID, 10)
}

// harbourLane makes the default guild: mara manages it, jo and sam pull shots.
func (st *State) harbourLane() {
	guild := st.addGuild("Harbour Lane")
	st.addChannel(guild, "dial-in")
	st.addChannel(guild, "general")
	st.addUser(guild, "mara", true)
	st.addUser(guild, "jo", false)
	st.addUser(guild, "sam", false)
}

func (st *State) addGuild(name string) *Guild {
	g := &Guild{ID: st.newID(), Name: name, Owner: st.newID(), Lead: st.newID(), Members: map[string]bool{st.Bot.ID: false}}
	st.guilds = append(st.guilds, g)
	return g
}

func (st *State) addChannel(g *Guild, name string) *Channel {
	c := &Channel{ID: st.newID(), Guild: g.ID, Name: name, Created: time.Now()}
	st.channels = append(st.channels, c)
	return c
}

func (st *State) addUser(g *Guild, name string, manages bool) *User {
	u := st.findUser(name)
	if u == nil {
		u = &User{ID: st.newID(), Name: name}
		st.users = append(st.users, u)
	}
	g.Members[u.ID] = manages
	return u
}

// AddGuild makes a guild with the bot in it, tells the bot and returns its id.
func (s *Server) AddGuild(name string) (id string) {
	s.do(func() {
		g := s.state.addGuild(name)
		id = g.ID
		s.dispatch(event{name: "GUILD_CREATE", guild: g.ID, intent: intentGuilds, data: s.state.guildCreateJSON(g)})
	})
	return id
}

// AddChannel makes a text channel in a guild, tells the bot and returns its id.
func (s *Server) AddChannel(guild, name string) (id string) {
	s.do(func() {
		c := s.state.addChannel(s.state.mustGuild(guild), name)
		id = c.ID
		s.dispatch(event{name: "CHANNEL_CREATE", guild: c.Guild, intent: intentGuilds, data: s.state.channelJSON(c)})
	})
	return id
}

// AddUser makes name a member of a guild and returns the user's id. One name
// is one user, in however many guilds.
func (s *Server) AddUser(guild, name string, manages bool) (id string) {
	s.do(func() { id = s.state.addUser(s.state.mustGuild(guild), name, manages).ID })
	return id
}

// Prefer sets the locale of a guild.
func (s *Server) Prefer(guild, locale string) {
	s.do(func() { s.state.mustGuild(guild).Locale = locale })
}

// Speak sets the locale of a user's client.
func (s *Server) Speak(user, locale string) {
	s.do(func() { s.state.mustUser(user).Locale = locale })
}

// Deny takes permissions from the bot in a channel; Deny(channel, 0) gives all back.
func (s *Server) Deny(channel string, permissions int64) {
	s.do(func() { s.state.mustChannel(channel).Denied = permissions })
}

// A mistake is a test's or a person's own: something that is not there.
type mistake string

// Error says what the mistake was.
func (m mistake) Error() string { return "fake: " + string(m) }

func mistaken(format string, args ...any) mistake { return mistake(fmt.Sprintf(format, args...)) }

// find returns the first that is such, or nil.
func find[T any](list []*T, such func(*T) bool) *T {
	if i := slices.IndexFunc(list, such); i >= 0 {
		return list[i]
	}
	return nil
}

// must returns what was found under a key, and panics if that is nothing.
func must[T any](found *T, what, key string) *T {
	if found == nil {
		panic(mistaken("no %s %q", what, key))
	}
	return found
}

func (st *State) mustGuild(key string) *Guild {
	return must(find(st.guilds, func(g *Guild) bool { return g.ID == key || g.Name == key }), "guild", key)
}

func (st *State) mustChannel(key string) *Channel {
	return must(st.findChannel(key), "channel or thread", key)
}

func (st *State) mustUser(key string) *User { return must(st.findUser(key), "user", key) }

// findChannel finds by id or by name, the newest first: a thread of today
// comes before one of the same name of yesterday.
func (st *State) findChannel(key string) *Channel {
	for _, c := range slices.Backward(st.channels) {
		if c.ID == key || c.Name == key {
			return c
		}
	}
	return nil
}

func (st *State) channelByID(id string) *Channel {
	return find(st.channels, func(c *Channel) bool { return c.ID == id })
}

func (st *State) guildByID(id string) *Guild {
	return find(st.guilds, func(g *Guild) bool { return g.ID == id })
}

func (st *State) findUser(key string) *User {
	return find(st.users, func(u *User) bool { return u.ID == key || u.Name == key })
}
