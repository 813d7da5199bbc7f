package file

import (
	"errors"
	"fmt"
	"strconv"

	"go.etcd.io/bbolt"
)

// The bucket at the root that says that the file is ours, and its keys.
const (
	bucketMark = "shothand"
	keyFormat  = "format"
	keyVersion = "version"
	keyTraces  = "traces"
)

// format is what the mark of a file of ours says.
const format = "shothand records"

// A Migration brings a file from the version before to its own.
type Migration struct {
	Version int
	What    string
	Do      func(*bbolt.Tx) error
}

// latest returns the version that the migrations lead to.
func (of Format) latest() int { return of.Migrations[len(of.Migrations)-1].Version }

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
func (of Format) migrate(db *bbolt.DB) error {
	version := 0
	read := func(tx *bbolt.Tx) (err error) {
		version, err = versionOf(tx)
		return err
	}
	if err := db.View(read); err != nil || version == of.latest() {
		return err
	}
	return db.Update(func(tx *bbolt.Tx) error {
		for _, m := range of.Migrations {
			if m.Version <= version {
				continue
			}
			if err := m.Do(tx); err != nil {
				return fmt.Errorf("version %d, %s: %w", m.Version, m.What, err)
			}
		}
		return setVersion(tx, of.latest())
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

// LeaveTraces notes that what was forgotten may still be on free pages, so that the
// next [Format.Open] compacts the file if nobody did before.
func LeaveTraces(tx *bbolt.Tx) error {
	return tx.Bucket([]byte(bucketMark)).Put([]byte(keyTraces), []byte("yes"))
}

// hasTraces reports whether what was forgotten may still be on free pages.
func hasTraces(db *bbolt.DB) (traces bool, err error) {
	err = db.View(func(tx *bbolt.Tx) error {
		traces = tx.Bucket([]byte(bucketMark)).Get([]byte(keyTraces)) != nil
		return nil
	})
	return traces, err
}

// noTraces notes that there are none.
func noTraces(tx *bbolt.Tx) error { return tx.Bucket([]byte(bucketMark)).Delete([]byte(keyTraces)) }
