package main

import (
	"context"
	"io"
)

// A stoppedError says what was left undone when somebody stopped the program.
type stoppedError string

func (e stoppedError) Error() string { return string(e) }

// exitStopped is what the program exits with then, as shells do after Ctrl-C.
const exitStopped = 130

// heeding is a reader that ends with an error once ctx is done.
type heeding struct {
	ctx context.Context
	in  io.Reader
}

func (h heeding) Read(p []byte) (int, error) {
	if err := h.ctx.Err(); err != nil {
		return 0, err
	}
	return h.in.Read(p)
}

// stoppedImport makes the error of an import that was stopped one that says what
// became of it. An import is taken in wholly or not at all.
func stoppedImport(ctx context.Context, err error) error {
	if err != nil && ctx.Err() != nil {
		return stoppedError(stoppedImportText)
	}
	return err
}

// stoppedDemo takes the half of an invented bar away.
func stoppedDemo(db string) error {
	if err := removeReal(db); err != nil {
		return err
	}
	return stoppedError(stoppedDemoText)
}
