package lookback

import (
	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/say/past"
)

// The pictures, for tests that fill the records through a bot.

// A Picture is one to send.
type Picture = picture

// EffectsPicture shows what the changes did to the time.
func (l Back) EffectsPicture() (Picture, bool) { return l.effectsPicture() }

// CostPicture shows what mornings cost.
func (l Back) CostPicture() (Picture, bool) { return l.costPicture() }

// CalibrationPicture shows how the times that were believed held.
func (l Back) CalibrationPicture() (Picture, bool) { return l.calibrationPicture() }

// TroublePicture shows what gives trouble.
func (l Back) TroublePicture() (Picture, bool) { return l.troublePicture() }

// DayPicture shows a day's shots by the clock.
func (l Back) DayPicture(day bar.Day) (Picture, bool) { return l.dayPicture(day) }

// CurvePicture shows a coffee's time over the dial.
func CurvePicture(l past.Lang, c review.Course, span review.Span) (Picture, bool) {
	return curvePicture(l, c, span)
}
