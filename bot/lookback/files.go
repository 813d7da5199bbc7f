package lookback

import (
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/say/past"
)

// Files are the pictures of a review.
func (l Back) Files(dark bool) ([]chat.File, error) {
	var list pictures
	if l.Span.From == l.Span.To && l.Coffee.ID == 0 {
		list.add(l.dayPicture(l.Span.From))
	}
	list.add(l.effectsPicture())
	if l.Coffee.ID != 0 && len(l.Book.Courses) == 1 {
		list = append(list, l.coffeePictures(l.Book.Courses[0])...)
	} else if l.Grinder.ID != 0 {
		for _, c := range l.Book.Courses[:min(2, len(l.Book.Courses))] {
			list.add(curvePicture(l.Lang, c, l.Span))
		}
	}
	list.add(l.costPicture())
	list.add(l.calibrationPicture())
	return drawFiles(list, dark)
}

// A picture is one to send, with its name and what it shows.
type picture struct {
	chart.Picture
	name, alt string
}

// pictures are several, in the order in which they are sent.
type pictures []picture

// add adds a picture, if there is one.
func (all *pictures) add(p picture, ok bool) {
	if ok {
		*all = append(*all, p)
	}
}

// drawFiles draws pictures as files.
func drawFiles(list pictures, dark bool) ([]chat.File, error) {
	var files []chat.File
	for _, p := range list {
		data, err := chart.PNG(p.Picture, dark)
		if err != nil {
			return nil, err
		}
		files = append(files, chat.File{Name: p.name + ".png", Alt: p.alt, Data: data})
	}
	return files, nil
}

// CoffeeFiles are the pictures of one coffee: its last dial-in, and its time
// over the dial.
func CoffeeFiles(l say.Lang, b review.Book, span review.Span, dark bool) ([]chat.File, error) {
	var list pictures
	for _, c := range b.Courses {
		list.add(dialInPicture(past.In(l), c, b.Calls, span))
		list.add(curvePicture(past.In(l), c, span))
	}
	return drawFiles(list, dark)
}

// DriftFiles are the picture that goes with an alert: how the coffee has run
// today, with the shot at which it is told.
func DriftFiles(l say.Lang, h bar.History, coffee bar.Coffee, shot bar.EntryID, now time.Time) ([]chat.File, error) {
	trail, _ := advisor.TrailOf(h, coffee.ID, now)
	var list pictures
	list.add(driftPicture(past.In(l), review.Course{Coffee: coffee, Trail: trail}, bar.DayOf(now), shot))
	return drawFiles(list, false)
}

// LayersFiles are the picture that goes with the account of a tasting.
func LayersFiles(l say.Lang, a layers.Account, dark bool) ([]chat.File, error) {
	var list pictures
	list.add(layersPicture(past.In(l), a))
	return drawFiles(list, dark)
}
