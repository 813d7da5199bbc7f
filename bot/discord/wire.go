package discord

import (
	"cmp"
	"encoding/json"
	"time"

	"shothand/bot/discord/markup"
)

// The platform's objects, as far as they are read. They are decoded leniently,
// since one message with something new in it must not hide another.

type wireUser struct {
	ID         string `json:"id"`
	Username   string `json:"username"`
	GlobalName string `json:"global_name"`
	Bot        bool   `json:"bot"`
}

type wireMember struct {
	User        *wireUser `json:"user"`
	Nick        string    `json:"nick"`
	Roles       []string  `json:"roles"`
	Permissions string    `json:"permissions"`
}

// shown is what a person is called in a server.
func shown(u *wireUser, m *wireMember) string {
	name := cmp.Or(u.GlobalName, u.Username)
	if m != nil && m.Nick != "" {
		name = m.Nick
	}
	return cmp.Or(markup.Visible(name), markup.Visible(u.Username))
}

type wireReference struct {
	MessageID string `json:"message_id"`
	ChannelID string `json:"channel_id"`
}

type wireMessage struct {
	ID        string         `json:"id"`
	ChannelID string         `json:"channel_id"`
	Author    *wireUser      `json:"author"`
	Member    *wireMember    `json:"member"`
	Content   *string        `json:"content"`
	Edited    *time.Time     `json:"edited_timestamp"`
	Type      int            `json:"type"`
	WebhookID string         `json:"webhook_id"`
	Reference *wireReference `json:"message_reference"`
	Nonce     any            `json:"nonce"`
	// Caused names the interaction that a message answers.
	Caused *struct {
		ID string `json:"id"`
	} `json:"interaction_metadata"`
}

// Types of messages that people write: all others are the platform's own.
const (
	typeDefault = 0
	typeReply   = 19
)

// written reports whether a person has written m, or a webhook has posted it:
// that one a lead may have allowed to. Other bots are left unread.
func (m *wireMessage) written(self string) bool {
	return m.Author != nil && m.Author.ID != "" && m.Author.ID != self && (!m.Author.Bot || m.WebhookID != "") &&
		m.ID != "" && m.Content != nil && (m.Type == typeDefault || m.Type == typeReply)
}

type wireChannel struct {
	ID         string          `json:"id"`
	GuildID    string          `json:"guild_id"`
	ParentID   string          `json:"parent_id"`
	Type       int             `json:"type"`
	Name       string          `json:"name"`
	Overwrites []wireOverwrite `json:"permission_overwrites"`
}

// thread reports whether c is one: in an announcement channel, public or
// private.
func (c *wireChannel) thread() bool { return 10 <= c.Type && c.Type <= 12 }

type wireOverwrite struct {
	ID    string `json:"id"`
	Allow string `json:"allow"`
	Deny  string `json:"deny"`
}

type wireRole struct {
	ID          string `json:"id"`
	Permissions string `json:"permissions"`
}

type wireGuild struct {
	ID       string        `json:"id"`
	OwnerID  string        `json:"owner_id"`
	Roles    []wireRole    `json:"roles"`
	Channels []wireChannel `json:"channels"`
	Threads  []wireChannel `json:"threads"`
}

type wireReady struct {
	User        wireUser `json:"user"`
	Application struct {
		ID string `json:"id"`
	} `json:"application"`
}

type wireDeleted struct {
	ID        string   `json:"id"`
	IDs       []string `json:"ids"`
	ChannelID string   `json:"channel_id"`
}

type wireInteraction struct {
	ID        string       `json:"id"`
	AppID     string       `json:"application_id"`
	Type      int          `json:"type"`
	Token     string       `json:"token"`
	GuildID   string       `json:"guild_id"`
	ChannelID string       `json:"channel_id"`
	Channel   *wireChannel `json:"channel"`
	Member    *wireMember  `json:"member"`
	User      *wireUser    `json:"user"`
	Message   *wireMessage `json:"message"`
	Data      wireData     `json:"data"`
	Locale    string       `json:"locale"`
	Home      string       `json:"guild_locale"`
}

// Types of interactions.
const (
	askedCommand  = 2
	askedPress    = 3
	askedSuggest  = 4
	askedFormDone = 5
)

type wireData struct {
	Name       string       `json:"name"`
	Options    []wireOption `json:"options"`
	CustomID   string       `json:"custom_id"`
	Components []wireFilled `json:"components"`
}

type wireOption struct {
	Name    string          `json:"name"`
	Type    int             `json:"type"`
	Value   json.RawMessage `json:"value"`
	Focused bool            `json:"focused"`
	Options []wireOption    `json:"options"`
}

// text is an option's value as it would be typed.
func (o wireOption) text() string {
	var s string
	if json.Unmarshal(o.Value, &s) == nil {
		return s
	}
	return string(o.Value) // a number or a truth value
}

// A wireFilled is a component of a form that was filled in: a field, or what
// holds fields.
type wireFilled struct {
	CustomID   string       `json:"custom_id"`
	Value      string       `json:"value"`
	Component  *wireFilled  `json:"component"`
	Components []wireFilled `json:"components"`
}
