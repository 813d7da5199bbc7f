package store

import (
	"errors"
	"fmt"
	"strconv"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// format is what the mark of a file of ours says.
const format = "shothand records"

// A migration brings a file from the version before to its own.
type migration struct {
	version int
	what    string
	migrate func(*bbolt.Tx) error
}

// migrations lists all there are, in order. To add one, append it, draw what
// it changes in the package comment, keep a file of the version before in
// testdata/store, and test that it opens. Never change one that was released.
func migrations() []migration {
	return []migration{
		{1, "the buckets at the root", func(tx *bbolt.Tx) error {
			_, err1 := tx.CreateBucket([]byte(bucketChannels))
			_, err2 := tx.CreateBucket([]byte(bucketBars))
			return errors.Join(err1, err2)
		}},
		{2, "the days of each bar", eachBar(func(b *bbolt.Bucket) error {
			_, err := b.CreateBucketIfNotExists([]byte(bucketDays))
			return err
		})},
		{3, "nothing kept of what follows from the entries", eachBar(func(b *bbolt.Bucket) error {
			err := b.DeleteBucket([]byte("posteriors"))
			if errors.Is(err, berrors.ErrBucketNotFound) {
				return nil
			}
			return err
		})},
		{4, "the devices of each bar", eachBar(func(b *bbolt.Bucket) error {
			_, err := b.CreateBucketIfNotExists([]byte(bucketDevices))
			return err
		})},
		{5, "what was told once, and entries that came with another", eachBar(func(b *bbolt.Bucket) error {
			return errors.Join(toldOnceApart(b), nameCompanions(b))
		})},
	}
}

// eachBar migrates the bucket of each bar.
func eachBar(migrate func(*bbolt.Bucket) error) func(*bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		bars := tx.Bucket([]byte(bucketBars))
		return bars.ForEachBucket(func(key []byte) error { return migrate(bars.Bucket(key)) })
	}
}

// latest returns the version that the migrations lead to.
func latest(migrations []migration) int { return migrations[len(migrations)-1].version }

// versionOf returns the version of the file, 0 if nothing has been put in it
// yet, or ErrForeign.
func versionOf(tx *bbolt.Tx) (int, error) {
	mark := tx.Bucket([]byte(bucketMark))
	if mark == nil {
		if key, _ := tx.Cursor().First(); key == nil {
			return 0, nil
		}
		return 0, ErrForeign
	}
	if string(mark.Get([]byte(keyFormat))) != format {
		return 0, ErrForeign
	}
	version, err := strconv.Atoi(string(mark.Get([]byte(keyVersion))))
	if err != nil || version < 1 {
		return 0, errors.New("no version")
	}
	return version, nil
}

// migrate brings the file to the latest version, all in one transaction.
func migrate(db *bbolt.DB, migrations []migration) error {
	version := 0
	read := func(tx *bbolt.Tx) (err error) {
		version, err = versionOf(tx)
		return err
	}
	if err := db.View(read); err != nil || version == latest(migrations) {
		return err
	}
	return db.Update(func(tx *bbolt.Tx) error {
		for _, m := range migrations {
			if m.version <= version {
				continue
			}
			if err := m.migrate(tx); err != nil {
				return fmt.Errorf("version %d, %s: %w", m.version, m.what, err)
			}
		}
		return setVersion(tx, latest(migrations))
	})
}

func setVersion(tx *bbolt.Tx, version int) error {
	mark, err := tx.CreateBucketIfNotExists([]byte(bucketMark))
	if err != nil {
		return err
	}
	return errors.Join(
		mark.Put([]byte(keyFormat), []byte(format)),
		mark.Put([]byte(keyVersion), []byte(strconv.Itoa(version))),
	)
}
