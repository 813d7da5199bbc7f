package answer

import (
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say/bycup"
	"shothand/bot/tasting"
	"shothand/bot/turn"
)

// Caution returns what somebody hears whose tastings of the day have passed
// the mark with this entry, which the Book does not hold yet. So it is said
// once, and not to those who have read of it that day where a tasting began.
func Caution(t *turn.Turn, r *recent.Book, e bar.Entry) (chat.Post, bool) {
	after := tasting.CaffeineOf(e.Person, e.Day, recent.With(r.Recent, e))
	if e.Person == 0 || tasting.Warned(e, r.Recent) || !after.Past() || tasting.CaffeineOf(e.Person, e.Day, r.Recent).Past() {
		return chat.Post{}, false
	}
	return t.PrivatePost(chat.Info, bycup.In(t.WriterLang()).Caution(after.Low, after.High)), true
}
