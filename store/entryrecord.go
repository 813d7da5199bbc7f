package store

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/closed"
)

// A value is kept as it is, each field under the name in its tag; what is kept
// elsewhere, such as in the key, is tagged "-". A record adds what else there is.

// entryRecord is the on-disk form of a [bar.Entry]: its kind, and the field of
// that name.
type entryRecord struct {
	Kind entryKind `json:"kind"`
	bar.Entry
	timeRecord

	Shot    *bar.Shot      `json:"shot,omitempty"`
	Words   *bar.Words     `json:"words,omitempty"`
	Told    *bar.Told      `json:"told,omitempty"`
	Dialled *bar.Dialled   `json:"dialled,omitempty"`
	Setting *settingRecord `json:"setting,omitempty"`
	Layers  *bar.Layers    `json:"layers,omitempty"`
	Sips    *bar.Sips      `json:"sips,omitempty"`
	Held    bar.Held       `json:"held,omitzero"` // left out: by a person
}

// An entryKind is what an entry tells.
type entryKind int

// The kinds of entry.
const (
	kindShot entryKind = iota + 1
	kindWords
	kindTold
	kindDialled
	kindSetting
	kindLayers
	kindSips
	kindHeld  // its text is all there is, of a person's
	kindMoved // is a told that is in no history
)

func entryKinds() []string {
	return []string{
		kindShot: "shot", kindWords: "words", kindTold: "told", kindDialled: "dialled", kindSetting: "setting",
		kindLayers: "layers", kindSips: "sips", kindHeld: "held", kindMoved: "moved",
	}
}

// String names k, as the indexes do.
func (k entryKind) String() string { return closed.Name(k, entryKinds()) }

// MarshalText names k, as records do.
func (k entryKind) MarshalText() ([]byte, error) { return closed.Marshal(k, entryKinds()) }

// UnmarshalText sets k to the kind of that name.
func (k *entryKind) UnmarshalText(text []byte) error { return closed.Unmarshal(k, text, entryKinds()) }

// is reports whether an index calls an entry of that kind.
func (k entryKind) is(name []byte) bool { return string(name) == k.String() }

// settingRecord is the on-disk form of a [bar.Setting]: what was touched.
type settingRecord struct {
	BarID     bar.ID        `json:"bar_id,omitempty"`
	Bar       *bar.Bar      `json:"bar,omitempty"`
	CoffeeID  bar.CoffeeID  `json:"coffee_id,omitempty"`
	Coffee    *coffeeRecord `json:"coffee,omitempty"`
	GrinderID bar.GrinderID `json:"grinder_id,omitempty"`
	Grinder   *bar.Grinder  `json:"grinder,omitempty"`
	Added     bool          `json:"added,omitempty"`
	ToBar     *bar.Bar      `json:"to_bar,omitempty"`
	ToCoffee  *coffeeRecord `json:"to_coffee,omitempty"`
	ToGrinder *bar.Grinder  `json:"to_grinder,omitempty"`
	DeviceID  bar.DeviceID  `json:"device_id,omitempty"`
	Device    *bar.Device   `json:"device,omitempty"`
	ToDevice  *bar.Device   `json:"to_device,omitempty"`
}

func newEntryRecord(e bar.Entry) (entryRecord, error) {
	at, err := newTimeRecord(e.At)
	r := entryRecord{Entry: e, timeRecord: at}
	return r, errors.Join(err, r.setWhat(e.What))
}

func (r *entryRecord) setWhat(what bar.What) error {
	switch w := what.(type) {
	case bar.Shot:
		r.Kind, r.Shot = kindShot, &w
	case bar.Words:
		r.Kind, r.Words = kindWords, &w
	case bar.Told:
		r.Kind, r.Told = kindTold, &w
		if w.Event == bar.Moved {
			r.Kind = kindMoved
		}
	case bar.Dialled:
		r.Kind, r.Dialled = kindDialled, &w
	case bar.Setting:
		r.Kind, r.Setting = kindSetting, newSettingRecord(w)
	case bar.Layers:
		r.Kind, r.Layers = kindLayers, &w
	case bar.Sips:
		r.Kind, r.Sips = kindSips, &w
	case bar.Held:
		r.Kind, r.Held = kindHeld, w
	case nil:
		return errors.New("entry tells nothing")
	}
	return nil
}

// entry returns the entry of r, its time in zone, or by its own clock if zone
// is nil.
func (r entryRecord) entry(id bar.EntryID, zone *time.Location) (bar.Entry, error) {
	at, err1 := r.time(zone)
	what, err2 := r.what()
	e := r.Entry
	e.ID, e.At, e.What = id, at, what
	return e, errors.Join(err1, err2)
}

// what returns what r tells. Its slices are shared (see cache), so that they have
// no room to be appended to.
func (r entryRecord) what() (bar.What, error) {
	switch {
	case r.Kind == kindShot && r.Shot != nil:
		s := *r.Shot
		s.Words, s.Unread = slices.Clip(s.Words), slices.Clip(s.Unread)
		return s, nil
	case r.Kind == kindWords && r.Words != nil:
		w := *r.Words
		w.Words, w.Unread = slices.Clip(w.Words), slices.Clip(w.Unread)
		return w, nil
	case (r.Kind == kindTold || r.Kind == kindMoved) && r.Told != nil && r.Told.Event != 0:
		return *r.Told, nil
	case r.Kind == kindDialled && r.Dialled != nil:
		return *r.Dialled, nil
	case r.Kind == kindSetting && r.Setting != nil:
		return r.Setting.setting(), nil
	case r.Kind == kindLayers && r.Layers != nil:
		l := *r.Layers
		l.Shown, l.Struck = slices.Clip(l.Shown), slices.Clip(l.Struck)
		return l, nil
	case r.Kind == kindSips && r.Sips != nil:
		return clipped(*r.Sips), nil
	case r.Kind == kindHeld:
		return r.Held, nil
	}
	return nil, fmt.Errorf("empty kind %q", r.Kind)
}

func clipped(s bar.Sips) bar.Sips {
	s.Sips = slices.Clip(s.Sips)
	for i := range s.Sips {
		n := &s.Sips[i]
		n.Words, n.Unread, n.Scores = slices.Clip(n.Words), slices.Clip(n.Unread), slices.Clip(n.Scores)
	}
	return s
}

// touched returns v, nil if it was not touched.
func touched[T any](v T) *T {
	if reflect.ValueOf(v).IsZero() {
		return nil
	}
	return &v
}

// state returns what a setting holds, with the id it has, the zero value for nil.
func state[R, T, ID any](r *R, thing func(R, ID) T, id ID) (t T) {
	if r == nil {
		return t
	}
	return thing(*r, id)
}

func newSettingRecord(s bar.Setting) *settingRecord {
	coffee := func(c bar.Coffee) *coffeeRecord { return touched(newCoffeeRecord(c)) }
	return &settingRecord{
		Added: s.Added,
		BarID: s.Bar.ID, Bar: touched(s.Bar), ToBar: touched(s.ToBar),
		CoffeeID: s.Coffee.ID, Coffee: coffee(s.Coffee), ToCoffee: coffee(s.ToCoffee),
		GrinderID: s.Grinder.ID, Grinder: touched(s.Grinder), ToGrinder: touched(s.ToGrinder),
		DeviceID: s.Device.ID, Device: touched(s.Device), ToDevice: touched(s.ToDevice),
	}
}

func (r settingRecord) setting() bar.Setting {
	return bar.Setting{
		Added: r.Added,
		Bar:   state(r.Bar, barAs, r.BarID), ToBar: state(r.ToBar, barAs, r.BarID),
		Coffee: state(r.Coffee, coffeeRecord.coffee, r.CoffeeID), ToCoffee: state(r.ToCoffee, coffeeRecord.coffee, r.CoffeeID),
		Grinder: state(r.Grinder, grinderAs, r.GrinderID), ToGrinder: state(r.ToGrinder, grinderAs, r.GrinderID),
		Device: state(r.Device, deviceAs, r.DeviceID), ToDevice: state(r.ToDevice, deviceAs, r.DeviceID),
	}
}
