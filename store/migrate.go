package store

import (
	"errors"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"shothand/store/file"
)

// migrations lists all there are, in order. To add one, append it, draw what
// it changes in the package comment, keep a file of the version before in
// testdata/store, and test that it opens. Never change one that was released.
func migrations() []file.Migration {
	return []file.Migration{
		{Version: 1, What: "the buckets at the root", Do: func(tx *bbolt.Tx) error {
			_, err1 := tx.CreateBucket([]byte(bucketChannels))
			_, err2 := tx.CreateBucket([]byte(bucketBars))
			return errors.Join(err1, err2)
		}},
		{Version: 2, What: "the days of each bar", Do: eachBar(func(b *bbolt.Bucket) error {
			_, err := b.CreateBucketIfNotExists([]byte(bucketDays))
			return err
		})},
		{Version: 3, What: "nothing kept of what follows from the entries", Do: eachBar(func(b *bbolt.Bucket) error {
			err := b.DeleteBucket([]byte("posteriors"))
			if errors.Is(err, berrors.ErrBucketNotFound) {
				return nil
			}
			return err
		})},
		{Version: 4, What: "the devices of each bar", Do: eachBar(func(b *bbolt.Bucket) error {
			_, err := b.CreateBucketIfNotExists([]byte(bucketDevices))
			return err
		})},
		{Version: 5, What: "what was told once, and entries that came with another", Do: eachBar(func(b *bbolt.Bucket) error {
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
