package bot

import (
	"bytes"

	"shothand/bot/carry"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// mostAttached is how large a file may be that goes with a post: what chats
// take without asking for money.
const mostAttached = 8 << 20

// export posts what the bar has, for the person who asked alone: it names
// people.
func (t *turn) export(c chat.Command) ([]Out, error) {
	f, err := carry.FormatOf(t.in(), option(c, "format", string(carry.CSV)))
	if err != nil {
		return nil, err
	}
	var data bytes.Buffer
	err = t.see(func(tx *store.Tx) error {
		data.Reset()
		return carry.Export(tx, t.bar.ID, f, &data)
	})
	if err != nil {
		return nil, err
	}
	if data.Len() > mostAttached {
		return t.private(t.in().ExportTooLarge(string(f)))
	}
	p := t.post(chat.Info, t.in().Export(f == carry.JSONL))
	p.Private = true
	p.Files = []chat.File{{Name: say.ExportName(t.bar, t.now, string(f)), Alt: t.in().ExportAlt(f == carry.JSONL), Data: data.Bytes()}}
	return []Out{{Post: p}}, nil
}
