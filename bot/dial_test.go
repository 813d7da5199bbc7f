package bot

import (
	"encoding/json"
	"strings"
	"testing"

	"shothand/bot/chat"
	"shothand/bot/turn"
)

// A program reads positions as numbers, and as they are written where they are
// no plain numbers.
func TestOddDialsInTheData(t *testing.T) {
	for dial, want := range map[string]string{
		"small:5":  `"from":2.6,"to":2.2,"unit":"dial","from_text":"2.3","to_text":"2.1"`,
		"step:0.1": `"from":2.3,"to":2.1,"unit":"dial"}`,
	} {
		b := newBot(t)
		var last []turn.Out
		for i, text := range []string{
			"/grinder add name:left finer:lower " + dial,
			"/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31",
			"18 36 21 grind 2.3 sour thin",
		} {
			last = b.Handle(chat.Message{
				ID: string(rune('a' + i)), Kind: chat.Text, Channel: "bar", From: chat.Person{ID: "1", Name: "mara"}, Manager: true,
				At: morning(), Text: text,
			})
		}
		data, err := json.Marshal(last[0].Data)
		if err != nil || !strings.Contains(string(data), want) {
			t.Errorf("%s: %s lacks %s", dial, data, want)
		}
	}
}
