package console

import (
	"io"
	"os"
	"sync"

	"golang.org/x/term"
)

// An Aside writes what is said beside a session, such as a log. While a line is
// edited on the terminal that it writes to, it stands above that line.
type Aside struct {
	to   io.Writer
	mu   sync.Mutex
	over io.Writer // the editor that draws the terminal, or nil
}

// NewAside returns one that writes to.
func NewAside(to io.Writer) *Aside { return &Aside{to: to} }

// Write writes.
func (a *Aside) Write(b []byte) (int, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.over != nil {
		return a.over.Write(b)
	}
	return a.to.Write(b)
}

// through writes by an editor from now on, if both have a terminal; by none
// where it is nil.
func (a *Aside) through(editor io.Writer) {
	a.mu.Lock()
	defer a.mu.Unlock()
	f, isFile := a.to.(*os.File)
	if a.over = nil; editor != nil && isFile && term.IsTerminal(int(f.Fd())) {
		a.over = editor
	}
}
