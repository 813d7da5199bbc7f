package console

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
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
	Kind    chat.PostKind   `json:"kind"`
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
	text := strings.Trim(clean(p.Text), "\n")
	if p.Private && c.o.Texts.Private != "" {
		text = c.o.Texts.Private + " " + text
	}
	if text != "" {
		all = append(all, text)
	}
	if len(p.Buttons) > 0 {
		all = append(all, "   ["+strings.Join(labels(p.Buttons), "]  [")+"]")
	}
	for _, f := range files {
		all = append(all, "   "+f.Path)
	}
	return strings.Join(all, "\n")
}

// show writes text as one paragraph. Paragraphs of one line stand together,
// longer ones are set apart. The caller holds c.mu.
func (c *Console) show(text string) error {
	if text == "" {
		return nil
	}
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

// keep writes the files of the post with that id and says where they are.
func (c *Console) keep(id string, files []chat.File) ([]fileOut, error) {
	if len(files) == 0 {
		return nil, nil
	}
	if c.o.FilesDir == "" {
		return nil, errors.New("keep files of a post: no directory was given")
	}
	if err := os.MkdirAll(c.o.FilesDir, 0o700); err != nil {
		return nil, fmt.Errorf("keep files of a post: %w", err)
	}
	var all []fileOut
	for i, f := range files {
		path := filepath.Join(c.o.FilesDir, fmt.Sprintf("%s-%d-%s", fileName(id), i+1, fileName(f.Name)))
		if err := os.WriteFile(path, f.Data, 0o600); err != nil {
			return nil, fmt.Errorf("keep files of a post: %w", err)
		}
		all = append(all, fileOut{Name: clean(f.Name), Path: path})
	}
	return all, nil
}

// fileName makes of name one that is safe on any disk; its end is kept, for
// the sake of the extension.
func fileName(name string) string {
	safe := strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '.', r == '-', r == '_':
			return r
		}
		return '-'
	}, name)
	return safe[max(0, len(safe)-maxName):]
}
