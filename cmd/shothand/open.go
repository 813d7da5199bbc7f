package main

import (
	"errors"

	"shothand/store"
	"shothand/store/file"
)

// defaultDB is the file in the current directory.
const defaultDB = "shothand.db"

// using opens a file of records, does something with it and closes it.
func using(open func(path string) (*store.Store, error), path string, do func(*store.Store) error) error {
	s, err := open(path)
	if err != nil {
		return err
	}
	return errors.Join(do(s), s.Close())
}

// existing opens a file that must be there.
func existing(path string) (*store.Store, error) {
	if err := file.There(path); err != nil {
		return nil, err
	}
	return store.Open(path)
}
