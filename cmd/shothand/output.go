package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"shothand/bot/console"
)

// replace writes the file to, whole or not at all: beside it first, and then in
// its place. What stands there already is replaced if ours says, of its first
// bytes, that this command made it, or if force is set; never a file of records.
// Once ctx is done nothing of it is left.
func replace(ctx context.Context, to string, force bool, ours func(head []byte) bool, write func(io.Writer) error) (err error) {
	if real, err := filepath.EvalSymlinks(to); err == nil {
		to = real
	}
	if err := replaceable(to, force, ours); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(to), "."+filepath.Base(to)+".*") // mode 0600
	if err != nil {
		return err
	}
	gone := sync.OnceValue(func() error { return os.Remove(f.Name()) })
	defer context.AfterFunc(ctx, func() { _ = gone() })()
	defer func() {
		if err != nil {
			err = errors.Join(err, gone())
		}
	}()
	if err := errors.Join(write(f), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), to)
}

// replaceable reports why a file may not be replaced.
func replaceable(to string, force bool, ours func(head []byte) bool) error {
	info, err := os.Stat(to)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return errors.New(noFileText(to))
	}
	f, err := os.Open(to)
	if err != nil {
		return err
	}
	head, err := bufio.NewReader(f).Peek(headSize)
	if err := errors.Join(f.Close(), notShort(err)); err != nil {
		return err
	}
	switch {
	case isRecords(head):
		return errors.New(holdsRecordsText(to))
	case info.Size() > 0 && !force && !ours(head):
		return errors.New(notOursText(to))
	}
	return nil
}

// headSize is how much of a file is looked at.
const headSize = 64

// notShort passes over a file that is shorter than what was asked of it.
func notShort(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// isRecords reports whether a file begins as a bbolt file does: its magic number
// stands after the 16 bytes of the page's head, in the machine's byte order.
func isRecords(head []byte) bool {
	little, big := []byte{0xed, 0xda, 0x0c, 0xed}, []byte{0xed, 0x0c, 0xda, 0xed}
	return len(head) >= 20 && (bytes.Equal(head[16:20], little) || bytes.Equal(head[16:20], big))
}

// tell says something on a line of its own, broken between words if out is a
// terminal.
func tell(out io.Writer, text string) error {
	seen := out
	if a, ok := out.(afterwards); ok {
		seen = a.Writer
	}
	_, err := fmt.Fprintln(out, console.Fit(seen, text))
	return err
}
