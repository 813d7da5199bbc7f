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

// A record is the on-disk form of a value, with the same fields, so that one is
// converted to the other and a field that one of them lacks does not build. What
// is kept elsewhere, such as in the key, is tagged "-".

// entryRecord is the on-disk form of a [bar.Entry]: its kind, and the field of
// that name.
type entryRecord struct {
	Kind entryKind `json:"kind"`
	entryFields
	timeRecord

	Shot    *shotRecord    `json:"shot,omitempty"`
	Words   *wordsRecord   `json:"words,omitempty"`
	Told    *toldRecord    `json:"told,omitempty"`
	Dialled *dialledRecord `json:"dialled,omitempty"`
	Setting *settingRecord `json:"setting,omitempty"`
	Layers  *layersRecord  `json:"layers,omitempty"`
	Sips    *sipsRecord    `json:"sips,omitempty"`
	Held    heldRecord     `json:"held,omitzero"` // left out: by a person
}

type entryFields struct {
	ID      bar.EntryID  `json:"-"`
	Message string       `json:"message,omitempty"`
	With    string       `json:"with,omitempty"`
	Person  bar.PersonID `json:"person,omitempty"`
	At      time.Time    `json:"-"`
	Day     bar.Day      `json:"day,omitempty"`
	Raw     string       `json:"raw,omitempty"`
	Deleted bool         `json:"deleted,omitempty"`
	What    bar.What     `json:"-"`
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

// shotRecord is the on-disk form of a [bar.Shot].
type shotRecord struct {
	Coffee  bar.CoffeeID           `json:"coffee"`
	Grinder bar.GrinderID          `json:"grinder,omitempty"`
	Grind   bar.Value[bar.Dial]    `json:"grind_dial,omitzero"`
	Turned  float64                `json:"turned_steps,omitempty"`
	Dose    bar.Value[bar.Grams]   `json:"dose_g,omitzero"`
	Yield   bar.Value[bar.Grams]   `json:"yield_g,omitzero"`
	Meant   bar.Grams              `json:"meant_g,omitempty"`
	Time    bar.Value[bar.Seconds] `json:"time_s,omitzero"`
	Marks   bar.Marks              `json:"marks,omitempty"`

	TDS       bar.Percent `json:"tds_percent,omitempty"`
	Water     bar.Celsius `json:"water_c,omitempty"`
	FirstDrip bar.Seconds `json:"first_drip_s,omitempty"`

	Words  []bar.Word `json:"words,omitempty"`
	Unread []string   `json:"unread,omitempty"`

	Device bar.DeviceID `json:"device,omitempty"`
	Posted bar.EntryID  `json:"posted_as,omitempty"`
	TimeSD bar.Seconds  `json:"time_sd_s,omitempty"`
}

// wordsRecord is the on-disk form of [bar.Words].
type wordsRecord struct {
	Shot   bar.EntryID `json:"shot"`
	Words  []bar.Word  `json:"words,omitempty"`
	Unread []string    `json:"unread,omitempty"`
}

// toldRecord is the on-disk form of [bar.Told].
type toldRecord struct {
	Event   bar.Event     `json:"event"`
	Coffee  bar.CoffeeID  `json:"coffee,omitempty"`
	Grinder bar.GrinderID `json:"grinder,omitempty"`

	Dial   bar.Value[bar.Dial] `json:"dial,omitzero"`
	Turned float64             `json:"turned_steps,omitempty"`
	Purged bool                `json:"purged,omitempty"`
	Shown  bool                `json:"shown,omitempty"`
}

// dialledRecord is the on-disk form of [bar.Dialled].
type dialledRecord struct {
	Coffee bar.CoffeeID `json:"coffee"`
	Shot   bar.EntryID  `json:"shot,omitempty"`
}

// heldRecord is the on-disk form of a [bar.Held].
type heldRecord struct {
	Device bar.DeviceID `json:"device"`
}

// layersRecord is the on-disk form of [bar.Layers].
type layersRecord struct {
	Coffee  bar.CoffeeID `json:"coffee"`
	Method  bar.Method   `json:"method"`
	Dose    bar.Grams    `json:"dose_g,omitempty"`
	Yield   bar.Grams    `json:"yield_g,omitempty"`
	Time    bar.Seconds  `json:"time_s,omitempty"`
	Tasters int          `json:"tasters,omitempty"`
	Blind   bool         `json:"blind,omitempty"`
	Key     string       `json:"key,omitempty"`
	Split   int          `json:"split,omitempty"`
	Shown   []int        `json:"shown,omitempty"`
	Struck  []int        `json:"struck,omitempty"`
	Pair    bar.Pair     `json:"pair,omitzero"`
	Stopped bool         `json:"stopped,omitempty"`
}

// sipsRecord is the on-disk form of [bar.Sips].
type sipsRecord struct {
	Layers bar.EntryID `json:"layers"`
	Split  int         `json:"split,omitempty"`
	After  bool        `json:"after,omitempty"`
	Sips   []bar.Note  `json:"sips,omitempty"`
	Order  string      `json:"order,omitempty"`
	Better string      `json:"better,omitempty"`
}

// settingRecord is the on-disk form of a [bar.Setting]: what was touched.
type settingRecord struct {
	BarID     bar.ID         `json:"bar_id,omitempty"`
	Bar       *barFields     `json:"bar,omitempty"`
	CoffeeID  bar.CoffeeID   `json:"coffee_id,omitempty"`
	Coffee    *coffeeRecord  `json:"coffee,omitempty"`
	GrinderID bar.GrinderID  `json:"grinder_id,omitempty"`
	Grinder   *grinderRecord `json:"grinder,omitempty"`
	Added     bool           `json:"added,omitempty"`
	ToBar     *barFields     `json:"to_bar,omitempty"`
	ToCoffee  *coffeeRecord  `json:"to_coffee,omitempty"`
	ToGrinder *grinderRecord `json:"to_grinder,omitempty"`
	DeviceID  bar.DeviceID   `json:"device_id,omitempty"`
	Device    *deviceRecord  `json:"device,omitempty"`
	ToDevice  *deviceRecord  `json:"to_device,omitempty"`
}

func newEntryRecord(e bar.Entry) (entryRecord, error) {
	at, err := newTimeRecord(e.At)
	r := entryRecord{entryFields: entryFields(e), timeRecord: at}
	return r, errors.Join(err, r.setWhat(e.What))
}

func (r *entryRecord) setWhat(what bar.What) error {
	switch w := what.(type) {
	case bar.Shot:
		r.Kind, r.Shot = kindShot, (*shotRecord)(&w)
	case bar.Words:
		r.Kind, r.Words = kindWords, (*wordsRecord)(&w)
	case bar.Told:
		r.Kind, r.Told = kindTold, (*toldRecord)(&w)
		if w.Event == bar.Moved {
			r.Kind = kindMoved
		}
	case bar.Dialled:
		r.Kind, r.Dialled = kindDialled, (*dialledRecord)(&w)
	case bar.Setting:
		r.Kind, r.Setting = kindSetting, newSettingRecord(w)
	case bar.Layers:
		r.Kind, r.Layers = kindLayers, (*layersRecord)(&w)
	case bar.Sips:
		r.Kind, r.Sips = kindSips, (*sipsRecord)(&w)
	case bar.Held:
		r.Kind, r.Held = kindHeld, heldRecord(w)
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
	e := bar.Entry(r.entryFields)
	e.ID, e.At, e.What = id, at, what
	return e, errors.Join(err1, err2)
}

// what returns what r tells. Its slices are shared (see cache), so that they have
// no room to be appended to.
func (r entryRecord) what() (bar.What, error) {
	switch {
	case r.Kind == kindShot && r.Shot != nil:
		s := bar.Shot(*r.Shot)
		s.Words, s.Unread = slices.Clip(s.Words), slices.Clip(s.Unread)
		return s, nil
	case r.Kind == kindWords && r.Words != nil:
		w := bar.Words(*r.Words)
		w.Words, w.Unread = slices.Clip(w.Words), slices.Clip(w.Unread)
		return w, nil
	case (r.Kind == kindTold || r.Kind == kindMoved) && r.Told != nil && r.Told.Event != 0:
		return bar.Told(*r.Told), nil
	case r.Kind == kindDialled && r.Dialled != nil:
		return bar.Dialled(*r.Dialled), nil
	case r.Kind == kindSetting && r.Setting != nil:
		return r.Setting.setting(), nil
	case r.Kind == kindLayers && r.Layers != nil:
		l := bar.Layers(*r.Layers)
		l.Shown, l.Struck = slices.Clip(l.Shown), slices.Clip(l.Struck)
		return l, nil
	case r.Kind == kindSips && r.Sips != nil:
		return clipped(bar.Sips(*r.Sips)), nil
	case r.Kind == kindHeld:
		return bar.Held(r.Held), nil
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

// touched returns the record of v, nil if it was not touched.
func touched[T, R any](v T, record func(T) R) *R {
	if reflect.ValueOf(v).IsZero() {
		return nil
	}
	r := record(v)
	return &r
}

// state returns what r holds, the zero value for nil.
func state[T, R, ID any](r *R, read func(R, ID) T, id ID) (t T) {
	if r == nil {
		return t
	}
	return read(*r, id)
}

func newSettingRecord(s bar.Setting) *settingRecord {
	return &settingRecord{
		Added: s.Added,
		BarID: s.Bar.ID, Bar: touched(s.Bar, newBarFields), ToBar: touched(s.ToBar, newBarFields),
		CoffeeID: s.Coffee.ID, Coffee: touched(s.Coffee, newCoffeeRecord), ToCoffee: touched(s.ToCoffee, newCoffeeRecord),
		GrinderID: s.Grinder.ID, Grinder: touched(s.Grinder, newGrinderRecord), ToGrinder: touched(s.ToGrinder, newGrinderRecord),
		DeviceID: s.Device.ID, Device: touched(s.Device, newDeviceRecord), ToDevice: touched(s.ToDevice, newDeviceRecord),
	}
}

func (r settingRecord) setting() bar.Setting {
	return bar.Setting{
		Added: r.Added,
		Bar:   state(r.Bar, barFields.bar, r.BarID), ToBar: state(r.ToBar, barFields.bar, r.BarID),
		Coffee: state(r.Coffee, coffeeRecord.coffee, r.CoffeeID), ToCoffee: state(r.ToCoffee, coffeeRecord.coffee, r.CoffeeID),
		Grinder: state(r.Grinder, grinderRecord.grinder, r.GrinderID), ToGrinder: state(r.ToGrinder, grinderRecord.grinder, r.GrinderID),
		Device: state(r.Device, deviceRecord.device, r.DeviceID), ToDevice: state(r.ToDevice, deviceRecord.device, r.DeviceID),
	}
}
