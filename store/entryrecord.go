package store

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"shothand/advisor/bar"
)

// entryRecord is the on-disk form of an [bar.Entry]: its kind, and the
// field of that name. Add fields; never rename them.
type entryRecord struct {
	Kind    string  `json:"kind"`
	Message string  `json:"message,omitempty"`
	Person  uint64  `json:"person,omitempty"`
	Day     bar.Day `json:"day,omitempty"`
	Raw     string  `json:"raw,omitempty"`
	Deleted bool    `json:"deleted,omitempty"`
	timeRecord

	Shot    *shotRecord    `json:"shot,omitempty"`
	Words   *wordsRecord   `json:"words,omitempty"`
	Told    *toldRecord    `json:"told,omitempty"`
	Dialled *dialledRecord `json:"dialled,omitempty"`
	Setting *settingRecord `json:"setting,omitempty"`
	Layers  *layersRecord  `json:"layers,omitempty"`
	Sips    *sipsRecord    `json:"sips,omitempty"`
	Held    *heldRecord    `json:"held,omitempty"` // left out: by a person
}

// The kinds of entry.
const (
	kindShot    = "shot"
	kindWords   = "words"
	kindTold    = "told"
	kindDialled = "dialled"
	kindSetting = "setting"
	kindLayers  = "layers"
	kindSips    = "sips"
	kindHeld    = "held"  // its text is all there is, of a person's
	kindMoved   = "moved" // is a told that is in no history
)

// wordsRecord is the on-disk form of [bar.Words].
type wordsRecord struct {
	Shot   uint64       `json:"shot"`
	Words  []wordRecord `json:"words,omitempty"`
	Unread []string     `json:"unread,omitempty"`
}

// toldRecord is the on-disk form of [bar.Told].
type toldRecord struct {
	Event   string `json:"event"`
	Coffee  uint64 `json:"coffee,omitempty"`
	Grinder uint64 `json:"grinder,omitempty"`

	Dial   valueRecord `json:"dial,omitzero"`
	Turned float64     `json:"turned_steps,omitempty"`
	Purged bool        `json:"purged,omitempty"`
}

// dialledRecord is the on-disk form of [bar.Dialled].
type dialledRecord struct {
	Coffee uint64 `json:"coffee"`
	Shot   uint64 `json:"shot,omitempty"`
}

// settingRecord is the on-disk form of an [bar.Setting].
type settingRecord struct {
	BarID     uint64         `json:"bar_id,omitempty"`
	Bar       *barFields     `json:"bar,omitempty"`
	CoffeeID  uint64         `json:"coffee_id,omitempty"`
	Coffee    *coffeeRecord  `json:"coffee,omitempty"`
	GrinderID uint64         `json:"grinder_id,omitempty"`
	Grinder   *grinderRecord `json:"grinder,omitempty"`
	Added     bool           `json:"added,omitempty"`
	ToBar     *barFields     `json:"to_bar,omitempty"`
	ToCoffee  *coffeeRecord  `json:"to_coffee,omitempty"`
	ToGrinder *grinderRecord `json:"to_grinder,omitempty"`
	DeviceID  uint64         `json:"device_id,omitempty"`
	Device    *deviceRecord  `json:"device,omitempty"`
	ToDevice  *deviceRecord  `json:"to_device,omitempty"`
}

// heldRecord is the on-disk form of a [bar.Held].
type heldRecord struct {
	Device uint64 `json:"device"`
}

func newEntryRecord(e bar.Entry) (entryRecord, error) {
	at, err := newTimeRecord(e.At)
	if err != nil {
		return entryRecord{}, err
	}
	r := entryRecord{
		Message: text(e.Message), Person: uint64(e.Person), Day: e.Day, Raw: e.Raw,
		Deleted: e.Deleted, timeRecord: at,
	}
	return r, r.setWhat(e.What)
}

func (r *entryRecord) setWhat(what bar.What) (err error) {
	switch w := what.(type) {
	case bar.Shot:
		r.Kind = kindShot
		r.Shot, err = newShotRecord(w)
	case bar.Words:
		r.Kind = kindWords
		r.Words = &wordsRecord{Shot: uint64(w.Shot), Words: newWordRecords(w.Words), Unread: w.Unread}
	case bar.Told:
		r.Kind = kindTold
		r.Told = &toldRecord{Coffee: uint64(w.Coffee), Grinder: uint64(w.Grinder)}
		r.Told.Turned, r.Told.Purged = w.Turned, w.Purged
		f := first{}
		r.Told.Dial = record(&f, w.Dial)
		r.Told.Event = keep(&f, func() (string, error) { return word(w.Event, eventWord) })
		if err = f.err; w.Event == bar.Moved {
			r.Kind = kindMoved
		}
	case bar.Dialled:
		r.Kind = kindDialled
		r.Dialled = &dialledRecord{Coffee: uint64(w.Coffee), Shot: uint64(w.Shot)}
	case bar.Setting:
		r.Kind = kindSetting
		r.Setting, err = newSettingRecord(w)
	case bar.Layers:
		r.Kind = kindLayers
		r.Layers, err = newLayersRecord(w)
	case bar.Sips:
		r.Kind = kindSips
		r.Sips, err = newSipsRecord(w)
	case bar.Held:
		r.Kind = kindHeld
		if w.Device != 0 {
			r.Held = &heldRecord{Device: uint64(w.Device)}
		}
	case nil:
		err = errors.New("entry tells nothing")
	}
	return err
}

// entry returns the entry of r, its time in zone, or by its own clock if zone
// is nil.
func (r entryRecord) entry(id bar.EntryID, zone *time.Location) (bar.Entry, error) {
	at, err := r.time(zone)
	if err != nil {
		return bar.Entry{}, err
	}
	what, err := r.what()
	if err != nil {
		return bar.Entry{}, err
	}
	return bar.Entry{
		ID: id, Message: r.Message, Person: bar.PersonID(r.Person), At: at, Day: r.Day, Raw: r.Raw,
		Deleted: r.Deleted, What: what,
	}, nil
}

func (r entryRecord) what() (bar.What, error) {
	switch {
	case r.Kind == kindShot && r.Shot != nil:
		return r.Shot.shot()
	case r.Kind == kindWords && r.Words != nil:
		w := r.Words
		return bar.Words{Shot: bar.EntryID(w.Shot), Words: tasteWords(w.Words), Unread: slices.Clip(w.Unread)}, nil
	case (r.Kind == kindTold || r.Kind == kindMoved) && r.Told != nil:
		f := first{}
		return bar.Told{
			Event:  keep(&f, func() (bar.Event, error) { return choice(r.Told.Event, eventWord) }),
			Coffee: bar.CoffeeID(r.Told.Coffee), Grinder: bar.GrinderID(r.Told.Grinder),
			Dial: value[bar.Dial](&f, r.Told.Dial), Turned: r.Told.Turned, Purged: r.Told.Purged,
		}, f.err
	case r.Kind == kindDialled && r.Dialled != nil:
		return bar.Dialled{Coffee: bar.CoffeeID(r.Dialled.Coffee), Shot: bar.EntryID(r.Dialled.Shot)}, nil
	case r.Kind == kindSetting && r.Setting != nil:
		return r.Setting.setting()
	case r.Kind == kindLayers && r.Layers != nil:
		return r.Layers.layers()
	case r.Kind == kindSips && r.Sips != nil:
		return r.Sips.sips()
	case r.Kind == kindHeld:
		if r.Held == nil {
			return bar.Held{}, nil
		}
		return bar.Held{Device: bar.DeviceID(r.Held.Device)}, nil
	}
	return nil, fmt.Errorf("unknown or empty kind %q", r.Kind)
}

// touched returns the record of v, nil if it was not touched.
func touched[T comparable, R any](f *first, v T, record func(T) (R, error)) *R {
	var zero T
	if v == zero {
		return nil
	}
	r := keep(f, func() (R, error) { return record(v) })
	return &r
}

// state returns what r holds, the zero value for nil.
func state[T, R, ID any](f *first, r *R, read func(R, ID) (T, error), id ID) T {
	if r == nil {
		var zero T
		return zero
	}
	return keep(f, func() (T, error) { return read(*r, id) })
}

// newSettingRecord leaves out what was not touched.
func newSettingRecord(s bar.Setting) (*settingRecord, error) {
	r := &settingRecord{
		BarID: uint64(s.Bar.ID), CoffeeID: uint64(s.Coffee.ID), GrinderID: uint64(s.Grinder.ID), Added: s.Added,
		DeviceID: uint64(s.Device.ID),
	}
	f := first{}
	r.Bar, r.ToBar = touched(&f, s.Bar, newBarFields), touched(&f, s.ToBar, newBarFields)
	r.Coffee, r.ToCoffee = touched(&f, s.Coffee, newCoffeeRecord), touched(&f, s.ToCoffee, newCoffeeRecord)
	r.Grinder, r.ToGrinder = touched(&f, s.Grinder, newGrinderRecord), touched(&f, s.ToGrinder, newGrinderRecord)
	r.Device, r.ToDevice = touched(&f, s.Device, newDeviceRecord), touched(&f, s.ToDevice, newDeviceRecord)
	return r, f.err
}

func (r settingRecord) setting() (bar.Setting, error) {
	s, f := bar.Setting{Added: r.Added}, first{}
	here, coffee, grinder := bar.ID(r.BarID), bar.CoffeeID(r.CoffeeID), bar.GrinderID(r.GrinderID)
	s.Bar, s.ToBar = state(&f, r.Bar, barFields.bar, here), state(&f, r.ToBar, barFields.bar, here)
	s.Coffee, s.ToCoffee = state(&f, r.Coffee, coffeeRecord.coffee, coffee), state(&f, r.ToCoffee, coffeeRecord.coffee, coffee)
	s.Grinder, s.ToGrinder = state(&f, r.Grinder, grinderRecord.grinder, grinder), state(&f, r.ToGrinder, grinderRecord.grinder, grinder)
	device := bar.DeviceID(r.DeviceID)
	s.Device, s.ToDevice = state(&f, r.Device, deviceRecord.device, device), state(&f, r.ToDevice, deviceRecord.device, device)
	return s, f.err
}
