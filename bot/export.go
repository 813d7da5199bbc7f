package bot

import (
	"bytes"

	"shothand/bot/carry"
	"shothand/bot/chat"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// mostAttached is how large a file may be that goes with a post: what chats
// take without asking for money.
const mostAttached = 8 << 20

// export posts what the bar has, for the person who asked alone: it names
// people.
func export(t *turn.Turn, c chat.Command) ([]turn.Out, error) {
	f, err := carry.FormatOf(t.Lang(), turn.Option(c, "format", string(carry.CSV)))
	if err != nil {
		return nil, err
	}
	var data bytes.Buffer
	err = t.See(func(tx *store.Tx) error {
		data.Reset()
		return carry.Export(tx, t.Bar.ID, f, &data)
	})
	if err != nil {
		return nil, err
	}
	if data.Len() > mostAttached {
		return t.Private(setup.In(t.Lang()).ExportTooLarge(string(f)))
	}
	p := t.PrivatePost(chat.Info, setup.In(t.Lang()).Export(f == carry.JSONL))
	p.Files = []chat.File{{Name: setup.ExportName(t.Bar, t.Now, string(f)), Alt: setup.In(t.Lang()).ExportAlt(f == carry.JSONL), Data: data.Bytes()}}
	return []turn.Out{{Post: p}}, nil
}
