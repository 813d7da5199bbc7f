package store

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// Until version 5 what was told once lay among the messages seen, and an entry
// that came with another was told by its clock: what a message told beside its
// shot was 2 ms before it, and that the numbers of a dial began with it 1 ms.

// toldOnceApart puts what was told once into buckets of its own.
func toldOnceApart(b *bbolt.Bucket) error {
	once, err1 := b.CreateBucketIfNotExists([]byte(bucketOnce))
	byTime, err2 := b.CreateBucketIfNotExists([]byte(bucketOnceByTime))
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	seen, seenByTime := b.Bucket([]byte(bucketSeen)), b.Bucket([]byte(bucketSeenByTime))
	var keys [][]byte // not while the bucket is being read
	err := seen.ForEach(func(key, _ []byte) error {
		if wasOnce(string(key)) {
			keys = append(keys, bytes.Clone(key))
		}
		return nil
	})
	for _, key := range keys {
		at := bytes.Clone(seen.Get(key))
		timed := slices.Concat(at, key)
		err = errors.Join(err, once.Put(key, at), byTime.Put(timed, nil), seen.Delete(key), seenByTime.Delete(timed))
	}
	return err
}

// wasOnce reports whether a key among the messages seen is that of something told
// once: "told MESSAGE HASH", "call ENTRY", "together DAY",
// "post DEVICE mistake WHICH".
func wasOnce(key string) bool {
	what, rest, _ := strings.Cut(key, " ")
	switch what {
	case "post":
		_, which, _ := strings.Cut(rest, " ")
		return strings.HasPrefix(which, "mistake ")
	case "told":
		return strings.Contains(rest, " ")
	case "call":
		return rest != "" && strings.Trim(rest, "0123456789") == ""
	case "together":
		_, err := time.Parse(time.DateOnly, rest)
		return err == nil
	}
	return false
}

// nameCompanions makes the entries of a bar that came with another name its
// message.
func nameCompanions(b *bbolt.Bucket) error {
	entries := b.Bucket([]byte(bucketEntries))
	var keys [][]byte
	for _, index := range []string{bucketByCoffee, bucketByGrinder} {
		err := b.Bucket([]byte(index)).ForEach(func(key, kind []byte) error {
			if kindTold.is(kind) || kindMoved.is(kind) {
				keys = append(keys, bytes.Clone(key[8:]))
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	slices.SortFunc(keys, bytes.Compare)
	for _, key := range slices.CompactFunc(keys, bytes.Equal) {
		if err := nameCompanion(entries, key); err != nil {
			return err
		}
	}
	return nil
}

func nameCompanion(entries *bbolt.Bucket, key []byte) error {
	var r entryRecord
	if found, err := file.Get(entries, key, &r); err != nil || !found || r.Message != "" || r.With != "" || r.Told == nil || r.Told.Shown {
		return err
	}
	at, _ := readEntryKey(key)
	began := r.Told.Event == bar.Rezeroed && r.Raw == ""
	with := ""
	if began {
		with = messageAt(entries, at+instant(time.Millisecond), 0)
		r.Told.Shown = with != ""
	}
	if with == "" {
		with = messageAt(entries, at+instant(2*time.Millisecond), r.Person)
	}
	if with == "" {
		return nil
	}
	r.With = with
	return file.Put(entries, key, r)
}

// messageAt returns the message of the entry at an instant, of a person if that is
// not 0; of one that came with another, the other's.
func messageAt(entries *bbolt.Bucket, at instant, by bar.PersonID) string {
	c := entries.Cursor()
	prefix := at.append(nil)
	beside := false
	for key, value := c.Seek(prefix); bytes.HasPrefix(key, prefix); key, value = c.Next() {
		var r entryRecord
		if file.Decode(key, value, &r) != nil || by != 0 && r.Person != by {
			continue
		}
		if r.Message != "" {
			return r.Message
		}
		beside = beside || r.Told != nil
	}
	if beside {
		return messageAt(entries, at+instant(2*time.Millisecond), by)
	}
	return ""
}
