package console

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"

	"shothand/bot/chat"
)

// A lineOut is the JSON object of one input line. Add keys; never rename them.
type lineOut struct {
	Line    int       `json:"line"`
	At      string    `json:"at"`
	From    string    `json:"from"`
	Due     []postOut `json:"due"`
	Replies []postOut `json:"replies"`
}

// A postOut is one post in JSON. Add keys; never rename them.
type postOut struct {
	At      string          `json:"at,omitempty"`
	Bar     string          `json:"bar,omitempty"`
	Kind    chat.PostKind   `json:"kind,omitzero"`
	Text    string          `json:"text"`
	Buttons []string        `json:"buttons,omitempty"`
	Private bool            `json:"private,omitempty"`
	Post    string          `json:"post,omitempty"`
	Edits   string          `json:"edits,omitempty"`
	Files   []fileOut       `json:"files,omitempty"`
	Advice  json.RawMessage `json:"advice,omitempty"`
}

// A fileOut is where a file of a post has been written.
type fileOut struct {
	Name string `json:"name"`
	Path string `json:"path"`
}

// encode returns v as one line of JSON that leaves <, > and & as they are.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// stamp writes a time as RFC 3339, with as much of a fraction as it has.
func stamp(at time.Time) string { return at.Format(time.RFC3339Nano) }

// asJSON returns p as it is put in a line's object.
func asJSON(p chat.Post, files []fileOut) (postOut, error) {
	o := postOut{Kind: p.Kind, Text: clean(p.Text), Private: p.Private, Files: files, Buttons: labels(p.Buttons)}
	if p.Data == nil {
		return o, nil
	}
	data, err := encode(p.Data)
	if err != nil {
		return postOut{}, fmt.Errorf("data of a post: %w", err)
	}
	o.Advice = bytes.TrimSpace(data)
	return o, nil
}

// labels returns what stands on the buttons.
func labels(buttons []chat.Button) []string {
	var all []string
	for _, b := range buttons {
		all = append(all, clean(b.Label))
	}
	return all
}

// asText lays p out for people; heading is a line above it, or empty.
func (c *Console) asText(p chat.Post, files []fileOut, heading string) string {
	var all []string
	if heading != "" {
		all = append(all, heading)
	}
	if text := strings.Trim(clean(p.Text), "\n"); text != "" {
		all = append(all, c.marked(text, p))
	}
	if len(p.Buttons) > 0 {
		all = append(all, "   "+c.asButtons(labels(p.Buttons)))
	}
	for _, f := range files {
		all = append(all, "   "+shortPath(f.Path))
	}
	return strings.Join(all, "\n")
}

// marked puts the mark of a private post before text: on its line if there is
// one only, else above.
func (c *Console) marked(text string, p chat.Post) string {
	if !p.Private {
		return text
	}
	switch mark := c.o.Texts(p.Channel).Private; {
	case mark == "":
		return text
	case strings.Contains(text, "\n"):
		return mark + "\n" + text
	default:
		return mark + " " + text
	}
}

// asButtons lays buttons out. Where a person types, each has its number.
func (c *Console) asButtons(labels []string) string {
	var all []string
	for i, label := range labels {
		if c.typed {
			label = strconv.Itoa(i+1) + " " + label
		}
		all = append(all, "["+strings.ReplaceAll(label, " ", hardSpace)+"]")
	}
	return strings.Join(all, "  ")
}

// show writes text as one paragraph. Paragraphs of one line stand together,
// longer ones are set apart. The caller holds c.mu.
func (c *Console) show(text string) error {
	if text == "" {
		return nil
	}
	c.silent = false
	text = wrap(text, c.width())
	tall := strings.Contains(text, "\n")
	gap := ""
	if c.shown && (tall || c.tall) {
		gap = "\n"
	}
	c.shown, c.tall = true, tall
	return c.write([]byte(gap + text + "\n"))
}

// clean takes out of s what could make a terminal do anything but show text:
// control characters other than newline and tab, and what turns the direction
// of writing around.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case unicode.IsControl(r), '\u202a' <= r && r <= '\u202e', '\u2066' <= r && r <= '\u2069':
			return -1
		}
		return r
	}, s)
}
