package discord

import (
	"encoding/json"
	"strings"

	"shothand/bot/chat"
	"shothand/bot/discord/markup"
)

// Limits of forms, from the platform's documentation.
const (
	maxTitle  = 45
	maxHint   = 100
	maxTyped  = 1000
	maxFields = 5
)

// A modal is a form as the platform shows it.
type modal struct {
	ID         string       `json:"custom_id"`
	Title      string       `json:"title"`
	Components []modalField `json:"components"`
}

type modalField struct {
	Type      int       `json:"type"`
	Label     string    `json:"label"`
	Component modalText `json:"component"`
}

type modalText struct {
	Type     int    `json:"type"`
	ID       string `json:"custom_id"`
	Style    int    `json:"style"` // 1: one line, 2: several
	Hint     string `json:"placeholder,omitempty"`
	Required bool   `json:"required"`
	Most     int    `json:"max_length"`
}

// formOf returns a form to show. Its id holds what the form will call, so that
// it outlives a restart, and the number of what opened it, since phones show
// old contents under an id they know.
func formOf(opener string, f chat.Form) modal {
	m := modal{ID: formID(opener, f.Command), Title: markup.Label(f.Title, maxTitle)}
	for _, field := range f.Fields[:min(len(f.Fields), maxFields)] {
		style := 1
		if field.Long {
			style = 2
		}
		m.Components = append(m.Components, modalField{
			Type: componentLabel, Label: markup.Label(field.Label, maxTitle),
			Component: modalText{
				Type: componentText, ID: field.Name, Style: style,
				Hint: markup.Label(field.Hint, maxHint), Required: field.Required, Most: maxTyped,
			},
		})
	}
	return m
}

// formID packs a command. Options for which there is no room are left out, the
// last first.
func formID(opener string, c chat.Command) string {
	for n := len(c.Options); ; n-- {
		parts := []string{c.Name}
		for _, o := range c.Options[:n] {
			parts = append(parts, o.Name, o.Value)
		}
		packed, err := json.Marshal(parts)
		if id := opener + string(packed); err == nil && markup.Length(id) <= maxState || n == 0 {
			return id
		}
	}
}

// filled reads a form that was filled in. It is false for one that is none of
// the bot's.
func filled(data wireData) (chat.Command, bool) {
	i := strings.IndexByte(data.CustomID, '[')
	var parts []string
	if i < 0 || json.Unmarshal([]byte(data.CustomID[i:]), &parts) != nil || len(parts)%2 != 1 {
		return chat.Command{}, false
	}
	c := chat.Command{Name: parts[0]}
	for i := 1; i < len(parts); i += 2 {
		c.Options = append(c.Options, chat.Option{Name: parts[i], Value: parts[i+1]})
	}
	var take func([]wireFilled)
	take = func(list []wireFilled) {
		for _, f := range list {
			if value := strings.TrimSpace(f.Value); f.CustomID != "" && value != "" {
				c.Options = append(c.Options, chat.Option{Name: f.CustomID, Value: value})
			}
			if f.Component != nil {
				take([]wireFilled{*f.Component})
			}
			take(f.Components)
		}
	}
	take(data.Components)
	return c, true
}
