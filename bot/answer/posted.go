package answer

import (
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// AsksWhose makes the post about an open shot ask how it tasted.
func AsksWhose(l say.Lang, p chat.Post, e bar.EntryID) chat.Post {
	p.Kind, p.Buttons = chat.Question, tasteButtons(l, e)
	return p
}

// ShotShown returns what a device is told of its shot.
func ShotShown(c bar.Coffee, e bar.Entry, newest bool) *turn.PostedShot {
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil
	}
	return &turn.PostedShot{Coffee: c.Name, Dose: float64(s.Dose.X), Yield: float64(s.Yield.X), Time: float64(s.Time.X), At: e.At.UTC(), Newest: newest}
}
