package fake

import (
	"encoding/json"
	"slices"
	"time"
)

// An object is a JSON object.
type object = map[string]any

// A Message is one message in a channel or thread. Embeds and Components are
// as Discord would show them.
type Message struct {
	ID, Channel string
	Author      User
	Type        int // 0 text, 19 reply; the rest are system messages
	Content     string
	Embeds      []map[string]any
	Components  []map[string]any
	Files       []File
	ReplyTo     string // message id
	Webhook     string // id, if a webhook posted it
	Interaction string // id of the interaction it answers
	For         string // id of the only user who sees it; "" if all do
	Thinking    bool   // deferred and not yet filled in
	Created     time.Time
	Edited      time.Time
	Deleted     bool
	Nonce       string
	// Pings names whom it notifies: user and role ids, "everyone", "here".
	Pings []string
	// Reactions are "emoji user-id".
	Reactions []string

	flags int
}

// A File is an attachment.
type File struct {
	ID, Name    string
	Description string // alt text
	Type        string // media type
	Data        []byte
}

// A Button is one button of a message.
type Button struct {
	CustomID string `json:"custom_id"`
	Label    string `json:"label"`
	Disabled bool   `json:"disabled,omitempty"`
}

// Bits of a message's flags.
const (
	flagHasThread    = 1 << 5
	flagEphemeral    = 1 << 6
	flagLoading      = 1 << 7
	flagSilent       = 1 << 12
	flagComponentsV2 = 1 << 15
)

// Buttons returns the buttons of m in reading order.
func (m Message) Buttons() []Button {
	var list []Button
	for _, c := range components(m.Components) {
		if number(c["type"]) == componentButton {
			list = append(list, Button{CustomID: text(c["custom_id"]), Label: text(c["label"]), Disabled: c["disabled"] == true})
		}
	}
	return list
}

// Silent reports whether m rang nobody's phone.
func (m Message) Silent() bool { return m.flags&flagSilent != 0 }

func (m *Message) clone() Message {
	c := *m
	c.Embeds, c.Components = cloneAll(m.Embeds), cloneAll(m.Components)
	c.Files, c.Pings, c.Reactions = slices.Clone(m.Files), slices.Clone(m.Pings), slices.Clone(m.Reactions)
	return c
}

func cloneAll(list []object) []object {
	if list == nil {
		return nil
	}
	all := make([]object, len(list))
	for i, o := range list {
		all[i] = cloneJSON(o)
	}
	return all
}

// cloneJSON copies o deeply: what is JSON is so again after a round trip.
func cloneJSON(o object) object {
	var c object
	if err := json.Unmarshal(mustMarshal(o), &c); err != nil {
		panic("fake: " + err.Error())
	}
	return c
}

// mustMarshal panics on what is not JSON, which only a mistake in this package makes.
func mustMarshal(v any) []byte {
	raw, err := json.Marshal(v)
	if err != nil {
		panic("fake: " + err.Error())
	}
	return raw
}

// text, number and list read a decoded JSON value; what is of another kind is
// the zero value.
func text(v any) string {
	s, _ := v.(string)
	return s
}

func number(v any) int {
	switch n := v.(type) {
	case float64:
		return int(n)
	case int:
		return n
	}
	return 0
}

func list(v any) []any {
	l, _ := v.([]any)
	return l
}

func objects(v any) []object {
	if l, ok := v.([]object); ok {
		return l
	}
	var all []object
	for _, e := range list(v) {
		if o, ok := e.(object); ok {
			all = append(all, o)
		}
	}
	return all
}

// components returns all components under list, rows and containers among them.
func components(list []object) []object {
	var all []object
	for _, c := range list {
		all = append(all, c)
		all = append(all, components(objects(c["components"]))...)
		for _, inner := range []string{"component", "accessory"} {
			if o, ok := c[inner].(object); ok {
				all = append(all, components([]object{o})...)
			}
		}
	}
	return all
}
