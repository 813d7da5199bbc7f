package discord

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"shothand/bot/chat"
)

// handle handles one event.
func (d *Discord) handle(ctx context.Context, e event) error {
	switch {
	case e.kind == "READY":
		return d.ready(ctx, e.data)
	case strings.HasPrefix(e.kind, "MESSAGE_DELETE"):
		return d.removed(ctx, e)
	case strings.HasPrefix(e.kind, "MESSAGE_"):
		return d.message(ctx, e)
	case strings.HasPrefix(e.kind, "GUILD_"):
		return d.guild(e.kind, e.data)
	}
	return d.channelEvent(e.kind, e.data)
}

// ready begins a session: what came before it may have holes.
func (d *Discord) ready(ctx context.Context, data json.RawMessage) error {
	var r wireReady
	if err := json.Unmarshal(data, &r); err != nil {
		return err
	}
	d.know(identity{r.User.ID, r.Application.ID})
	d.begin(ctx)
	return d.rebind(0)
}

// guild notes what a server is, and reads what was said in it meanwhile.
func (d *Discord) guild(kind string, data json.RawMessage) error {
	var g struct {
		wireGuild
		Unavailable bool     `json:"unavailable"`
		GuildID     string   `json:"guild_id"`
		Role        wireRole `json:"role"`
		RoleID      string   `json:"role_id"`
	}
	if err := json.Unmarshal(data, &g); err != nil {
		return err
	}
	switch kind {
	case "GUILD_CREATE":
		if g.Unavailable {
			return nil
		}
		d.world.addGuild(g.wireGuild)
		select {
		case d.guilds <- g.ID:
		default:
			d.log.Warn("commands not looked at", "server", g.ID)
		}
		return d.catchUpAll(g.ID)
	case "GUILD_DELETE":
		d.world.dropGuild(g.ID)
	case "GUILD_UPDATE":
		d.world.setGuild(g.ID, func(w *wireGuild) { w.OwnerID, w.Roles = g.OwnerID, g.Roles })
	case "GUILD_ROLE_CREATE", "GUILD_ROLE_UPDATE", "GUILD_ROLE_DELETE":
		d.world.setGuild(g.GuildID, func(w *wireGuild) {
			w.Roles = slices.DeleteFunc(slices.Clone(w.Roles), func(r wireRole) bool { return r.ID == g.Role.ID || r.ID == g.RoleID })
			if g.Role.ID != "" {
				w.Roles = append(w.Roles, g.Role)
			}
		})
	}
	return nil
}

// channelEvent notes what became of a channel or thread.
func (d *Discord) channelEvent(kind string, data json.RawMessage) error {
	var c struct {
		wireChannel
		Threads []wireChannel `json:"threads"`
	}
	if err := json.Unmarshal(data, &c); err != nil {
		return err
	}
	switch kind {
	case "CHANNEL_CREATE", "CHANNEL_UPDATE", "THREAD_CREATE", "THREAD_UPDATE":
		d.world.addChannel(c.wireChannel)
	case "THREAD_LIST_SYNC":
		for _, t := range c.Threads {
			d.world.addChannel(t)
		}
	case "CHANNEL_DELETE", "THREAD_DELETE":
		d.world.dropChannel(c.ID)
	}
	return nil
}

// message handles a message that was written or edited.
func (d *Discord) message(ctx context.Context, e event) error {
	if e.kind != "MESSAGE_CREATE" && e.kind != "MESSAGE_UPDATE" {
		return nil
	}
	var m wireMessage
	if err := json.Unmarshal(e.data, &m); err != nil {
		return err
	}
	if !m.written(d.ownID()) || e.kind == "MESSAGE_UPDATE" && m.Edited == nil {
		return nil
	}
	channel, thread, ok, err := d.bar(ctx, m.ChannelID, e)
	if err != nil || !ok || d.world.before(channel, number(m.ID)) { // a command overtakes what was written before it
		return err
	}
	if e.kind == "MESSAGE_UPDATE" {
		d.edited(channel, thread, m)
		return nil
	}
	d.said(channel, thread, m)
	r := d.reachOf(channel)
	r.heard = max(r.heard, number(m.ID))
	return nil
}

// bar returns the bar's channel that a message in a channel or thread is for.
// It is false if that is no bar, or if the event has to wait a moment for what
// stands before it.
func (d *Discord) bar(ctx context.Context, id string, e event) (channel, thread string, ok bool, err error) {
	if c, known := d.world.channel(id); known && !c.thread() && !d.world.isBound(id) {
		return "", "", false, nil
	}
	channel, thread, err = d.place(ctx, id)
	if err != nil || !d.world.isBound(channel) {
		return "", "", false, err
	}
	r := d.reachOf(channel)
	if r.session != d.session {
		if err := d.catchUp(channel); err != nil {
			d.log.Error("catch up", "channel", channel, "err", err)
		}
	}
	if r.holding {
		r.held = append(r.held, e)
		return "", "", false, nil
	}
	return channel, thread, true, nil
}

// removed handles the deletion of messages.
func (d *Discord) removed(ctx context.Context, e event) error {
	var m wireDeleted
	if err := json.Unmarshal(e.data, &m); err != nil {
		return err
	}
	channel, thread, ok, err := d.bar(ctx, m.ChannelID, e)
	if err != nil || !ok {
		return err
	}
	if m.ID != "" {
		m.IDs = append(m.IDs, m.ID)
	}
	for _, id := range m.IDs {
		d.gone(channel, thread, id)
	}
	return nil
}

func (d *Discord) ownID() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.me.user
}

// Keys under which deliveries are remembered.
func saidKey(id string) string { return id }
func goneKey(id string) string { return id + "!" }
func editKey(m wireMessage) string {
	if m.Edited == nil {
		return ""
	}
	return m.ID + "@" + m.Edited.UTC().Format(time.RFC3339Nano)
}

// said delivers a message.
func (d *Discord) said(channel, thread string, m wireMessage) {
	if d.past.has(goneKey(m.ID)) || !d.past.add(saidKey(m.ID)) {
		return
	}
	if m.Edited != nil {
		d.past.add(editKey(m))
	}
	d.deliver(d.text(chat.Text, channel, thread, m))
}

// edited delivers the new text of a message.
func (d *Discord) edited(channel, thread string, m wireMessage) {
	if d.past.has(goneKey(m.ID)) || !d.past.add(editKey(m)) {
		return
	}
	d.past.add(saidKey(m.ID)) // should it come late, it is out of date
	out := d.text(chat.Edited, channel, thread, m)
	out.At = *m.Edited
	d.deliver(out)
}

// gone delivers that a message was deleted.
func (d *Discord) gone(channel, thread, id string) {
	if d.past.add(goneKey(id)) {
		d.deliver(chat.Message{ID: idOf(thread, id), Kind: chat.Deleted, Channel: channel, Thread: thread, At: time.Now()})
	}
}

// text makes a message of what somebody wrote.
func (d *Discord) text(kind chat.Kind, channel, thread string, m wireMessage) chat.Message {
	out := chat.Message{
		ID: idOf(thread, m.ID), Kind: kind, Channel: channel, Thread: thread, Text: *m.Content, At: timeOf(m.ID),
		From: chat.Person{ID: m.Author.ID, Name: shown(m.Author, m.Member)},
	}
	if m.WebhookID != "" {
		out.From.ID, out.Device = m.WebhookID, true
		return out
	}
	if m.Member != nil {
		c, _ := d.world.channel(channel)
		out.Manager = manages(d.world.rights(c.GuildID, channel, m.Author.ID, m.Member.Roles))
		out.Manages = d.world.managed(c.GuildID, m.Author.ID, m.Member.Roles)
	}
	if r := m.Reference; r != nil && r.MessageID != "" {
		where := thread
		if r.ChannelID != "" && r.ChannelID != thread {
			where = ""
		}
		out.ReplyTo = idOf(where, r.MessageID)
	}
	return out
}
