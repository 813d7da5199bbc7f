package store

import (
	"fmt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// barRecord is the on-disk form of a [bar.Bar] and its channel.
type barRecord struct {
	Channel string `json:"channel"`
	bar.Bar
}

func barAs(b bar.Bar, id bar.ID) bar.Bar { b.ID = id; return b }

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
	if err := file.Put(tx.bar(b.ID), []byte(keyBar), barRecord{channel, b}); err != nil {
		return fmt.Errorf("bar %d: %w", b.ID, err)
	}
	return nil
}

// Bar returns the bar with that id.
func (tx *Tx) Bar(id bar.ID) (bar.Bar, error) {
	b, err := tx.barRecord(id)
	return b.Bar, err
}

// ChannelOf returns the channel of a bar.
func (tx *Tx) ChannelOf(id bar.ID) (string, error) {
	b, err := tx.barRecord(id)
	return b.Channel, err
}

func (tx *Tx) barRecord(id bar.ID) (barRecord, error) {
	var value []byte
	if bucket := tx.bar(id); bucket != nil {
		value = bucket.Get([]byte(keyBar))
	}
	if value == nil {
		return barRecord{}, missing("bar", id)
	}
	b, err := readThing(tx, thingKey{bar: id}, value, func() (r barRecord, err error) {
		err = file.Decode([]byte(keyBar), value, &r)
		r.ID = id
		return r, err
	})
	if err != nil {
		return barRecord{}, fmt.Errorf("bar %d: %w", id, err)
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
