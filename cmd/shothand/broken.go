package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"shothand/store"
)

// lookEvery is how often a bot to which nobody speaks looks whether its file
// is still there and whole.
const lookEvery = time.Second

// endWhenBroken ends the program, with a sentence and the status of what only
// a person can mend, when the file is cut short, overwritten or replaced under
// it. It waits for nothing: what uses the file then may never return.
func endWhenBroken(s *store.Store, errOut io.Writer) (stop func()) {
	done := make(chan struct{})
	go func() {
		select {
		case <-done:
		case <-s.Broken():
			_, _ = fmt.Fprintln(errOut, "shothand: "+s.Err().Error()) // there is nobody else to tell
			os.Exit(exitConfig)
		}
	}()
	go func() {
		for {
			select {
			case <-done:
				return
			case <-time.After(lookEvery):
				_ = s.Look() // told of by Broken
			}
		}
	}()
	return func() { close(done) }
}
