package main

import (
	"context"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// slowAfter is how long something takes before a person is shown that it goes
// on.
const slowAfter = time.Second

// slow does something that may take long. Where standard error is a terminal, it
// shows there that it goes on; what do writes comes after, on a clean line.
func (p program) slow(what string, do func(out io.Writer) error) error {
	g := p.goingOn(what, -1)
	defer g.stop()
	return do(afterwards{g, p.out})
}

// untilStopped is slow for what leaves all as it was when it is cut off: once ctx is
// done it is given a moment to end by itself, and no more.
func (p program) untilStopped(ctx context.Context, what string, do func(out io.Writer) error) error {
	return p.slow(what, func(out io.Writer) error {
		done := make(chan error, 1)
		go func() { done <- do(out) }()
		select {
		case err := <-done:
			return err
		case <-ctx.Done():
		}
		select {
		case err := <-done:
			return err
		case <-time.After(endsByItself):
			return stoppedError(stoppedText)
		}
	})
}

// endsByItself is how long that moment is.
const endsByItself = 300 * time.Millisecond

// A goingOn is what is shown of something that takes long.
type goingOn struct {
	steps atomic.Int64
	ended chan struct{}
	once  sync.Once
	shown sync.WaitGroup
}

// goingOn begins to show what goes on, in so many steps, -1 if nobody knows.
func (p program) goingOn(what string, steps int) *goingOn {
	g := &goingOn{ended: make(chan struct{})}
	if f, ok := p.errOut.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		g.shown.Go(func() { g.show(f, what, steps) })
	}
	return g
}

// step notes that a step is done.
func (g *goingOn) step() { g.steps.Add(1) }

// stop takes what was shown off the screen.
func (g *goingOn) stop() {
	g.once.Do(func() { close(g.ended) })
	g.shown.Wait()
}

func (g *goingOn) show(out *os.File, what string, steps int) {
	next := time.NewTimer(slowAfter)
	defer next.Stop()
	var bar *progressbar.ProgressBar
	restore := func() {}
	defer func() { restore() }()
	for {
		select {
		case <-g.ended:
			if bar != nil {
				_ = bar.Clear() // nobody misses it
			}
			return
		case <-next.C:
		}
		if bar == nil {
			restore = hush(out)
			bar = progressbar.NewOptions(steps, progressbar.OptionSetWriter(out), progressbar.OptionSetDescription(what),
				progressbar.OptionSetWidth(20), progressbar.OptionSetPredictTime(false), progressbar.OptionSetElapsedTime(true),
				progressbar.OptionSetSpinnerChangeInterval(0)) // it is turned here
		}
		if steps > 0 {
			_ = bar.Set64(g.steps.Load())
		} else {
			_ = bar.Add(1)
		}
		_ = bar.RenderBlank() // a screen that is gone is no reason to stop
		next.Reset(100 * time.Millisecond)
	}
}

// afterwards writes once nothing is shown any more.
type afterwards struct {
	*goingOn
	io.Writer
}

// Write stops what is shown and writes.
func (a afterwards) Write(b []byte) (int, error) {
	a.stop()
	return a.Writer.Write(b)
}
