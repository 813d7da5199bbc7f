package discord

import (
	"context"
	"net/http"
	"slices"
	"sync"

	"shothand/bot/discord/rest"
)

// A world is what is known of servers, channels and threads, and which of the
// channels are bars.
type world struct {
	mu       sync.Mutex
	guilds   map[string]wireGuild // without its channels
	channels map[string]wireChannel
	bound    map[string]uint64 // the number of what made a channel a bar, 0 where that was before this process
}

func newWorld() *world {
	return &world{guilds: map[string]wireGuild{}, channels: map[string]wireChannel{}, bound: map[string]uint64{}}
}

// addGuild notes a server with its channels and threads.
func (w *world) addGuild(g wireGuild) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, c := range slices.Concat(g.Channels, g.Threads) {
		c.GuildID = g.ID
		w.channels[c.ID] = c
	}
	g.Channels, g.Threads = nil, nil
	w.guilds[g.ID] = g
}

// setGuild notes what has changed of a server.
func (w *world) setGuild(id string, change func(*wireGuild)) {
	w.mu.Lock()
	defer w.mu.Unlock()
	g := w.guilds[id]
	g.ID = id
	change(&g)
	w.guilds[id] = g
}

func (w *world) dropGuild(id string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	delete(w.guilds, id)
	for key, c := range w.channels {
		if c.GuildID == id {
			delete(w.channels, key)
		}
	}
}

func (w *world) addChannel(c wireChannel) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.channels[c.ID] = c
}

func (w *world) dropChannel(id string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	delete(w.channels, id)
}

func (w *world) channel(id string) (wireChannel, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	c, ok := w.channels[id]
	return c, ok
}

// threadsOf returns the known threads of a channel.
func (w *world) threadsOf(channel string) []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	var list []string
	for _, c := range w.channels {
		if c.thread() && c.ParentID == channel {
			list = append(list, c.ID)
		}
	}
	return list
}

func (w *world) isBound(channel string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	_, bound := w.bound[channel]
	return bound
}

// before reports whether a message was written before its channel was a bar.
func (w *world) before(channel string, message uint64) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return message < w.bound[channel]
}

func (w *world) boundChannels() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	var list []string
	for c := range w.bound {
		list = append(list, c)
	}
	slices.Sort(list)
	return list
}

// bind notes which channels are bars. Those that are new were made so by the
// message of that number.
func (w *world) bind(channels []string, by uint64) {
	w.mu.Lock()
	defer w.mu.Unlock()
	bound := map[string]uint64{}
	for _, c := range channels {
		if number(c) == 0 {
			continue
		}
		bound[c] = by
		if was, known := w.bound[c]; known {
			bound[c] = was
		}
	}
	w.bound = bound
}

// rebind asks the bot which channels are bars. Those that are new were made so by
// the command of that number, if it is not 0.
func (d *Discord) rebind(by uint64) error {
	channels, err := d.o.Desk.Channels()
	if err != nil {
		return err
	}
	d.world.bind(channels, by)
	return nil
}

// place returns the channel of a channel or thread, and the thread if it is
// one. What the gateway has not told of is asked for.
func (d *Discord) place(ctx context.Context, id string) (channel, thread string, err error) {
	c, known := d.world.channel(id)
	if !known {
		if err := d.rest.Do(ctx, rest.Call{Method: http.MethodGet, Path: "/channels/" + id}, &c); err != nil {
			return "", "", err
		}
		d.world.addChannel(c)
	}
	if c.thread() {
		return c.ParentID, c.ID, nil
	}
	return id, "", nil
}

// Rights, as bits of the platform's permission integer.
const (
	rightAdministrator  = 1 << 3
	rightViewChannel    = 1 << 10
	rightManageChannels = 1 << 4
)

// manages reports whether a permission integer has the right to manage the
// channel it is for.
func manages(permissions uint64) bool {
	return permissions&(rightAdministrator|rightManageChannels) != 0
}

// sees reports whether a permission integer has the right to see the channel it is
// for.
func sees(permissions uint64) bool {
	return permissions&(rightAdministrator|rightViewChannel) != 0
}

// rights works out a member's rights in a channel, as the platform documents
// it: the server's roles, then what the channel takes and gives.
func (w *world) rights(guild, channel, user string, roles []string) uint64 {
	w.mu.Lock()
	defer w.mu.Unlock()
	g := w.guilds[guild]
	if g.OwnerID != "" && g.OwnerID == user {
		return rightAdministrator
	}
	var all uint64
	for _, r := range g.Roles {
		if r.ID == guild || slices.Contains(roles, r.ID) {
			all |= number(r.Permissions)
		}
	}
	if all&rightAdministrator != 0 {
		return all
	}
	change := func(match func(wireOverwrite) bool) {
		var allow, deny uint64
		for _, o := range w.channels[channel].Overwrites {
			if match(o) {
				allow, deny = allow|number(o.Allow), deny|number(o.Deny)
			}
		}
		all = all&^deny | allow
	}
	change(func(o wireOverwrite) bool { return o.ID == guild })
	change(func(o wireOverwrite) bool { return o.ID != guild && slices.Contains(roles, o.ID) })
	change(func(o wireOverwrite) bool { return o.ID == user })
	return all
}

// managed returns the bars' channels of a server that a person may manage and
// see, as far as its roles and the channels' overwrites are known.
func (w *world) managed(guild, user string, roles []string) []string {
	var list []string
	for _, channel := range w.boundChannels() {
		if c, known := w.channel(channel); known && c.GuildID == guild && guild != "" {
			if r := w.rights(guild, channel, user, roles); manages(r) && sees(r) {
				list = append(list, channel)
			}
		}
	}
	return list
}
