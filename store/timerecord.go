package store

import (
	"errors"
	"time"
)

// A timeRecord is an instant and the offset of the clock it was read off. (RFC
// 3339 alone would cut an offset of seconds.) Embed it.
type timeRecord struct {
	At     string `json:"at"` // RFC 3339, UTC
	Offset int    `json:"offset_s,omitempty"`
}

func newTimeRecord(at time.Time) (timeRecord, error) {
	if _, err := instantOf(at); err != nil {
		return timeRecord{}, err
	}
	_, offset := at.Zone()
	return timeRecord{At: at.UTC().Format(time.RFC3339Nano), Offset: offset}, nil
}

// errOffset is an offset no clock has.
var errOffset = errors.New("offset of a day or more")

// time returns the instant in zone, or by the clock it was read off if zone is
// nil.
func (r timeRecord) time(zone *time.Location) (time.Time, error) {
	at, err := time.Parse(time.RFC3339Nano, r.At)
	if err != nil {
		return time.Time{}, err
	}
	if _, err := instantOf(at); err != nil {
		return time.Time{}, err
	}
	if r.Offset <= -86400 || 86400 <= r.Offset {
		return time.Time{}, errOffset
	}
	switch {
	case zone != nil:
		return at.In(zone), nil
	case r.Offset == 0:
		return at.UTC(), nil
	}
	return at.In(time.FixedZone("", r.Offset)), nil
}
