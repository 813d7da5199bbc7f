package store

import (
	"errors"
	"os"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// Whoever waits for a file that is written anew meanwhile gets the new one.
func TestLockedIsWhatThePathMeans(t *testing.T) {
	s := openTest(t)
	harbourLane(t, s)
	waiting := make(chan struct{})
	opened := make(chan *database)
	go func() {
		defer close(opened)
		close(waiting)
		db, err := openBolt(s.Path(), false, func(*os.File) error { return nil })
		if err != nil {
			t.Error(err)
			return
		}
		opened <- db
	}()
	<-waiting
	time.Sleep(50 * time.Millisecond) // it waits for the lock by now
	if _, _, err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	closeChecked(t, s)
	db := <-opened
	if db == nil {
		t.Fatal("not opened")
	}
	want, err := os.Stat(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucket([]byte("mine"))
		return err
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	got, err := os.Stat(s.Path())
	if err != nil || !os.SameFile(want, got) {
		t.Errorf("another file is at the path, %v", err)
	}
	again, err := bbolt.Open(s.Path(), 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = again.View(func(tx *bbolt.Tx) error {
		if tx.Bucket([]byte("mine")) == nil {
			t.Error("what was written is not in the file")
		}
		return nil
	})
	if err := errors.Join(err, again.Close()); err != nil {
		t.Error(err)
	}
}
