package store

import (
	"fmt"

	"shothand/advisor/bar"
)

// barRecord is the on-disk form of an [bar.Bar] and its channel. Add
// fields; never rename them.
type barRecord struct {
	Channel string `json:"channel"`
	barFields
}

// barFields is the on-disk form of an [bar.Bar] without its id.
type barFields struct {
	Name  string `json:"name,omitempty"`
	Zone  string `json:"zone,omitempty"`
	Order string `json:"order"`
	Ends  string `json:"ends,omitempty"` // left out: by the scale
	Drip  bool   `json:"clock_from_first_drip,omitempty"`

	Opens  bar.TimeOfDay `json:"opens,omitempty"`
	Closes bar.TimeOfDay `json:"closes,omitempty"`
	Remind bar.TimeOfDay `json:"remind,omitempty"`
	Days   []string      `json:"days,omitempty"`        // left out: every day
	Crew   []string      `json:"crew_levers,omitempty"` // left out: every lever
	Words  []ownRecord   `json:"own_words,omitempty"`
}

// ownRecord is the on-disk form of a [bar.Own]. Add fields; never rename them.
type ownRecord struct {
	Word  string `json:"word"`
	Means string `json:"means,omitempty"` // left out: no word of taste
}

func newOwnRecords(words bar.OwnWords) []ownRecord {
	var list []ownRecord
	for _, o := range words.List() {
		list = append(list, ownRecord{Word: text(o.Word), Means: text(o.Means)})
	}
	return list
}

func (r barFields) words() bar.OwnWords {
	var list []bar.Own
	for _, o := range r.Words {
		list = append(list, bar.Own{Word: o.Word, Means: o.Means})
	}
	return bar.NewOwnWords(list)
}

func newBarFields(b bar.Bar) (barFields, error) {
	f := first{}
	r := barFields{Name: b.Name, Zone: b.Zone, Drip: b.FromDrip, Opens: b.Opens, Closes: b.Closes, Remind: b.Remind, Words: newOwnRecords(b.Words)}
	r.Days = setWords(&f, b.Days, weekdayWord)
	r.Crew = setWords(&f, b.Crew, bar.Lever.String)
	r.Order = keep(&f, func() (string, error) { return word(b.Order, orderWord) })
	if b.Ends != bar.ByScale {
		r.Ends = keep(&f, func() (string, error) { return word(b.Ends, endsWord) })
	}
	return r, f.err
}

func (r barFields) bar(id bar.ID) (bar.Bar, error) {
	f := first{}
	b := bar.Bar{ID: id, Name: r.Name, Zone: r.Zone, FromDrip: r.Drip, Opens: r.Opens, Closes: r.Closes, Remind: r.Remind, Words: r.words()}
	b.Days = keep(&f, func() (bar.Weekdays, error) { return setOf[bar.Weekdays](r.Days, weekdayWord) })
	b.Crew = keep(&f, func() (bar.Levers, error) { return setOf[bar.Levers](r.Crew, bar.Lever.String) })
	b.Order = keep(&f, func() (bar.Order, error) { return choice(r.Order, orderWord) })
	if r.Ends != "" {
		b.Ends = keep(&f, func() (bar.Ends, error) { return choice(r.Ends, endsWord) })
	}
	return b, f.err
}

// BarOf returns the bar of a channel, or false if it has none.
func (tx *Tx) BarOf(channel string) (bar.ID, bool) {
	id := tx.tx.Bucket([]byte(bucketChannels)).Get(textKey(channel))
	if len(id) != 8 {
		return 0, false
	}
	return readID[bar.ID](id), true
}

// AddBar adds b as the bar of a channel that has none yet, and returns it with
// its id.
func (tx *Tx) AddBar(channel string, b bar.Bar) (bar.Bar, error) {
	if id, ok := tx.BarOf(channel); ok {
		return bar.Bar{}, fmt.Errorf("channel %q is bar %d already", channel, id)
	}
	next, err := tx.bars().NextSequence()
	if err != nil {
		return bar.Bar{}, err
	}
	b.ID = bar.ID(next)
	bucket, err := tx.bars().CreateBucket(idKey(b.ID))
	if err != nil {
		return bar.Bar{}, err
	}
	for _, name := range barBuckets() {
		if _, err := bucket.CreateBucket([]byte(name)); err != nil {
			return bar.Bar{}, err
		}
	}
	if err := tx.tx.Bucket([]byte(bucketChannels)).Put(textKey(channel), idKey(b.ID)); err != nil {
		return bar.Bar{}, err
	}
	return b, tx.putBar(channel, b)
}

// PutBar replaces what is known of a bar.
func (tx *Tx) PutBar(b bar.Bar) error {
	channel, err := tx.ChannelOf(b.ID)
	if err != nil {
		return err
	}
	return tx.putBar(channel, b)
}

func (tx *Tx) putBar(channel string, b bar.Bar) error {
	fields, err := newBarFields(b)
	if err != nil {
		return fmt.Errorf("bar %d: %w", b.ID, err)
	}
	record := barRecord{Channel: text(channel), barFields: fields}
	return put(tx.bar(b.ID), []byte(keyBar), record)
}

// Bar returns the bar with that id.
func (tx *Tx) Bar(id bar.ID) (bar.Bar, error) {
	b, err := tx.knownBar(id)
	return b.Bar, err
}

// ChannelOf returns the channel of a bar.
func (tx *Tx) ChannelOf(id bar.ID) (string, error) {
	b, err := tx.knownBar(id)
	return b.channel, err
}

// A knownBar is a bar and its channel.
type knownBar struct {
	bar.Bar
	channel string
}

func (tx *Tx) knownBar(id bar.ID) (b knownBar, err error) {
	bucket := tx.bar(id)
	if bucket == nil {
		return b, missing("bar", id)
	}
	value := bucket.Get([]byte(keyBar))
	if value == nil {
		return b, missing("bar", id)
	}
	b, err = readThing(tx, thingKey{bar: id}, value, func() (b knownBar, err error) {
		var r barRecord
		if err := decode([]byte(keyBar), value, &r); err != nil {
			return b, err
		}
		b.channel = r.Channel
		b.Bar, err = r.bar(id)
		return b, err
	})
	if err != nil {
		return knownBar{}, fmt.Errorf("bar %d: %w", id, err)
	}
	return b, nil
}

// Bars returns all bars, in the order they were added.
func (tx *Tx) Bars() ([]bar.Bar, error) {
	var bars []bar.Bar
	err := tx.bars().ForEachBucket(func(key []byte) error {
		b, err := tx.Bar(readID[bar.ID](key))
		bars = append(bars, b)
		return err
	})
	return bars, err
}
