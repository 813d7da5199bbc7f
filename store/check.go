package store

import (
	"bytes"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// Check opens the file at path to be read and checks it as [Store.Check] does.
func Check(path string) error {
	s, err := OpenToRead(path)
	if err != nil {
		return err
	}
	return errors.Join(s.Check(), s.Close())
}

// Check reads the whole file and returns all that is wrong with it: what bbolt
// finds, records that cannot be read, indexes that do not agree with the
// records, and records about something that is not there.
func (s *Store) Check() error {
	return s.Examine(func(tx *bbolt.Tx) error { return (&Tx{tx: tx, store: s}).check() })
}

func (tx *Tx) check() error {
	var all []error
	for err := range tx.tx.Check() {
		all = append(all, err)
	}
	bars, err := tx.Bars()
	all = append(all, err)
	for _, here := range bars {
		all = append(all, tx.checkBar(here.ID))
	}
	return errors.Join(append(all, tx.checkChannels(len(bars)))...)
}

// checkChannels checks that each bar has its channel, and no other channel has
// one.
func (tx *Tx) checkChannels(bars int) error {
	channels := 0
	err := tx.tx.Bucket([]byte(bucketChannels)).ForEach(func(key, _ []byte) error {
		channels++
		id, _ := tx.BarOf(string(key))
		if channel, err := tx.ChannelOf(id); err != nil || channel != string(key) {
			return fmt.Errorf("channel %q is not that of bar %d", key, id)
		}
		return nil
	})
	if err == nil && channels != bars {
		err = fmt.Errorf("%d channels for %d bars", channels, bars)
	}
	return err
}

// A bookkeeping is what the indexes of a bar should hold.
type bookkeeping struct {
	tx   *Tx
	bar  bar.ID
	want map[string]int // number of keys by bucket
}

// expect returns an error unless the key is in the bucket, and counts it.
func (k *bookkeeping) expect(bucket string, key, value []byte) error {
	k.want[bucket]++
	b, err := k.tx.in(k.bar, bucket)
	if err != nil {
		return err
	}
	if found, got := b.Cursor().Seek(key); !bytes.Equal(found, key) || !bytes.Equal(got, value) {
		return fmt.Errorf("bar %d: %s lacks %x", k.bar, bucket, key)
	}
	return nil
}

// counted returns an error if a bucket holds more than was expected.
func (k *bookkeeping) counted(bucket string) error {
	b, err := k.tx.in(k.bar, bucket)
	if err != nil {
		return err
	}
	n := 0
	err = b.ForEach(func(_, _ []byte) error { n++; return nil })
	if err == nil && n != k.want[bucket] {
		err = fmt.Errorf("bar %d: %s has %d keys for %d records", k.bar, bucket, n, k.want[bucket])
	}
	return err
}

// checkBar checks all that a bar has.
func (tx *Tx) checkBar(here bar.ID) error {
	k := &bookkeeping{tx: tx, bar: here, want: map[string]int{}}
	_, err1 := tx.Coffees(here)
	_, err2 := tx.Grinders(here)
	_, err3 := tx.Devices(here)
	err := errors.Join(err1, err2, err3, k.people(),
		k.each(bucketEntries, k.entry),
		k.each(bucketAdvice, k.advice),
		k.each(bucketReplies, k.reply),
		k.each(bucketSeen, k.marked(seenMarks())),
		k.each(bucketOnce, k.marked(onceMarks())),
		k.each(bucketDays, k.day))
	for _, bucket := range []string{
		bucketAccounts, bucketInstants, bucketMessages, bucketByCoffee, bucketByGrinder, bucketByShot,
		bucketAdviceByCoffee, bucketPending, bucketPosts, bucketSeenByTime, bucketOnceByTime,
	} {
		err = errors.Join(err, k.counted(bucket))
	}
	for _, bucket := range barBuckets() {
		err = errors.Join(err, k.counter(bucket))
	}
	return err
}

// each calls check for all keys of a bucket.
func (k *bookkeeping) each(bucket string, check func(key, value []byte) error) error {
	b, err := k.tx.in(k.bar, bucket)
	if err != nil {
		return err
	}
	return eachKey(b, check)
}

func eachKey(b *bbolt.Bucket, check func(key, value []byte) error) error {
	var all []error
	err := b.ForEach(func(key, value []byte) error {
		if err := check(key, value); err != nil {
			all = append(all, err)
		}
		return nil
	})
	return errors.Join(append(all, err)...)
}

func (k *bookkeeping) people() error {
	people, err := k.tx.People(k.bar)
	for _, p := range people {
		err = errors.Join(err, k.expect(bucketAccounts, textKey(p.Account), idKey(p.ID)))
	}
	return err
}

func (k *bookkeeping) entry(key, value []byte) error {
	if _, ok := file.Unseal(key, value); !ok { // one that was read before may be remembered
		return fmt.Errorf("bar %d: entries %x: %w", k.bar, key, file.ErrDamaged)
	}
	e, err := k.tx.entryAt(k.bar, key, nil)
	if err != nil {
		return err
	}
	at, err := instantOf(e.At)
	if err != nil {
		return err
	}
	err = errors.Join(k.tx.checkEntry(k.bar, e), k.expect(bucketInstants, idKey(e.ID), at.append(nil)))
	if !bytes.Equal(key, entryKey(at, e.ID)) {
		err = errors.Join(err, fmt.Errorf("bar %d: entry %d is not where its time is", k.bar, e.ID))
	}
	if e.Message != "" {
		err = errors.Join(err, k.expect(bucketMessages, textKey(e.Message), idKey(e.ID)))
	}
	kind, err2 := newEntryRecord(e)
	err = errors.Join(err, err2)
	for _, p := range places(e, at) {
		err = errors.Join(err, k.expect(p.bucket, p.key, []byte(kind.Kind.String())))
	}
	return err
}

func (k *bookkeeping) advice(key, _ []byte) error {
	s, _, err := k.tx.AdviceOf(k.bar, readID[bar.EntryID](key))
	if err != nil {
		return err
	}
	index, err := saidKey(s)
	if err != nil {
		return err
	}
	return errors.Join(k.expect(bucketAdviceByCoffee, index, nil),
		there(k.tx, k.bar, bucketCoffees, "coffee", s.Coffee))
}

func (k *bookkeeping) reply(key, _ []byte) error {
	r, _, err := k.tx.ReplyOf(k.bar, string(key))
	if err != nil {
		return err
	}
	if r.State == Pending {
		at, err2 := instantOf(r.At)
		err = errors.Join(err2, k.expect(bucketPending, timedKey(at, r.Cause), nil))
	}
	if r.Post == "" {
		return err
	}
	k.want[bucketPosts]++
	if by, found, err2 := k.tx.ReplyByPost(k.bar, r.Post); err2 != nil || !found || by.Cause != r.Cause {
		err = errors.Join(err, err2, fmt.Errorf("bar %d: post %q is not that of reply %q", k.bar, r.Post, r.Cause))
	}
	return err
}

func (k *bookkeeping) marked(in marked) func(key, at []byte) error {
	return func(key, at []byte) error {
		if len(at) != 8 {
			return fmt.Errorf("bar %d: %s %q at no time", k.bar, in.kind, key)
		}
		return k.expect(in.byTime, timedKey(readInstant(at), string(key)), nil)
	}
}

func (k *bookkeeping) day(key, _ []byte) error {
	_, err := k.tx.Deeds(k.bar, bar.Day(key))
	return err
}

// counter returns an error if a bucket counts whose things have no number.
func (k *bookkeeping) counter(bucket string) error {
	switch bucket {
	case bucketCoffees, bucketGrinders, bucketDevices, bucketPeople, bucketEntries:
		return nil
	}
	b, err := k.tx.in(k.bar, bucket)
	if err == nil && b.Sequence() != 0 {
		err = fmt.Errorf("bar %d: %s counts to %d", k.bar, bucket, b.Sequence())
	}
	return err
}
