package discord

import (
	"crypto/sha256"
	"encoding/base32"
	"strconv"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/markup"
	"shothand/bot/discord/rest"
)

// Limits of what is sent, from the platform's documentation.
const (
	maxContent   = 2000 // characters
	maxLabel     = 80
	maxRow       = 5 // buttons
	maxRows      = 5
	maxState     = 100
	maxAlt       = 1024
	maxNonce     = 25
	maxThread    = 100
	maxFiles     = 10
	flagNoEmbeds = 1 << 2 // links show no previews
	flagPrivate  = 1 << 6
	flagSilent   = 1 << 12 // rings nobody
)

// An outgoing is a message on its way out.
type outgoing struct {
	Content    string      `json:"content"`
	Flags      int         `json:"flags,omitempty"`
	Nonce      string      `json:"nonce,omitempty"`
	Enforce    bool        `json:"enforce_nonce,omitempty"`
	Mentions   mentions    `json:"allowed_mentions"`
	Components []row       `json:"components"`
	Files      *[]attached `json:"attachments,omitempty"`
	Answers    *answers    `json:"message_reference,omitempty"`
}

// mentions says who is notified of a message: nobody, as an empty list is no
// null.
type mentions struct {
	Parse   []string `json:"parse"`
	Replied bool     `json:"replied_user"`
}

func nobody() mentions { return mentions{Parse: []string{}} }

// answers names the message that another answers. That it is gone does no
// harm.
type answers struct {
	MessageID string `json:"message_id"`
	ChannelID string `json:"channel_id"`
	MustBe    bool   `json:"fail_if_not_exists"`
}

type attached struct {
	ID   string `json:"id"`
	Name string `json:"filename"`
	Alt  string `json:"description,omitempty"`
}

// Components and their styles.
const (
	componentRow    = 1
	componentButton = 2
	componentText   = 4
	componentLabel  = 18
	styleQuiet      = 2
)

type row struct {
	Type       int      `json:"type"`
	Components []button `json:"components"`
}

type button struct {
	Type  int    `json:"type"`
	Style int    `json:"style"`
	Label string `json:"label"`
	State string `json:"custom_id"`
}

// pieces makes of a post what is sent for it: one message or, of a long text,
// several. Buttons and files go with the last.
func pieces(p chat.Post) []outgoing {
	var list []outgoing
	for _, text := range markup.Split(markup.Plain(p.Text), maxContent) {
		list = append(list, outgoing{Content: text, Flags: flagNoEmbeds, Mentions: nobody(), Components: []row{}})
	}
	last := &list[len(list)-1]
	last.Components = rows(p.Buttons)
	if len(p.Files) > 0 {
		files := attachedTo(p.Files)
		last.Files = &files
	}
	return list
}

// carried returns those of a post's files that go with o: all or none.
func (o outgoing) carried(files []chat.File) []chat.File {
	if o.Files == nil {
		return nil
	}
	return files
}

// rows lays out buttons. One whose state is too long to come back is left out,
// as is one whose state is there already.
func rows(buttons []chat.Button) []row {
	list := []row{}
	seen := map[string]bool{}
	for _, b := range buttons {
		if b.State == "" || len(b.State) > maxState || seen[b.State] {
			continue
		}
		seen[b.State] = true
		text := markup.Label(b.Label, maxLabel)
		if text == "" {
			text = "–"
		}
		if n := len(list); n == 0 || len(list[n-1].Components) == maxRow {
			if n == maxRows {
				break
			}
			list = append(list, row{Type: componentRow})
		}
		r := &list[len(list)-1]
		r.Components = append(r.Components, button{componentButton, styleQuiet, text, b.State})
	}
	return list
}

func attachedTo(files []chat.File) []attached {
	list := []attached{}
	for i, f := range files {
		list = append(list, attached{strconv.Itoa(i), rest.FileName(f.Name), markup.Label(f.Alt, maxAlt)})
	}
	return list
}

// nonce names one message by what caused it, so that the platform takes it
// once however often it is sent. An answer that is made anew may say it in other
// words and is still the answer.
func nonce(p chat.Post, part int) string {
	h := sha256.New()
	which := p.At.UTC().Format(time.RFC3339Nano)
	if _, _, isMessage := cutID(p.Cause); !isMessage || p.More || p.Due {
		which = p.Kind.String() + p.Text
	}
	for _, s := range []string{p.Channel, p.Thread, p.Cause, which, strconv.Itoa(part)} {
		h.Write([]byte(strconv.Itoa(len(s)) + ":" + s)) // a hash never fails
	}
	return base32.HexEncoding.WithPadding(base32.NoPadding).EncodeToString(h.Sum(nil))[:maxNonce]
}
