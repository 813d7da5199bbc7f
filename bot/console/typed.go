package console

import (
	"errors"
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// open returns where lines come from, whether a person types them, and what
// to do at the end.
func (c *Console) open() (src source, typed bool, leave func()) {
	in, out, ok := terminals(c.o.In, c.o.Out)
	if c.o.JSON || !ok {
		return newLines(c.o.In), false, func() {}
	}
	c.typed, c.width = true, func() int { return columns(out) }
	if !c.o.Dumb {
		if state, err := term.MakeRaw(int(in.Fd())); err == nil {
			src, leave := c.openRaw(in, out, state)
			c.greet()
			return src, true, leave
		}
	}
	c.greet()
	return &prompted{c: c, lines: newLines(in)}, true, func() {}
}

// terminals returns in and out if both are terminals.
func terminals(in io.Reader, out io.Writer) (i, o *os.File, ok bool) {
	i, isFile := in.(*os.File)
	if !isFile || !term.IsTerminal(int(i.Fd())) {
		return nil, nil, false
	}
	o, isFile = out.(*os.File)
	if !isFile || !term.IsTerminal(int(o.Fd())) {
		return nil, nil, false
	}
	return i, o, true
}

// openRaw draws a line editor on a terminal that is in raw mode. What it
// returns puts the terminal back as state was.
func (c *Console) openRaw(in, out *os.File, state *term.State) (source, func()) {
	k := &keyboard{in: in, out: out}
	k.t = term.NewTerminal(k, "")
	k.t.History = &history{}
	k.t.AutoCompleteCallback = c.onKey
	k.t.SetBracketedPasteMode(true) // what is pasted is taken as it is, tabs too
	k.resize()
	c.redirect(k.t)
	if c.o.Aside != nil {
		c.o.Aside.through(k.t)
	}
	return k, func() {
		if c.o.Aside != nil {
			c.o.Aside.through(nil)
		}
		c.redirect(out)
		k.t.SetBracketedPasteMode(false)
		_ = term.Restore(int(in.Fd()), state) // nothing can be done about it here
		_, _ = io.WriteString(out, "\n")      // past the prompt
	}
}

func (c *Console) redirect(out io.Writer) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.out = out
}

// greet says what a person should know first.
func (c *Console) greet() {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, text := range []string{c.o.Texts(c.bar).Welcome, c.o.Hint} {
		if text != "" {
			_ = c.write([]byte(wrap(text, c.width()) + "\n")) // the first answer will tell
		}
	}
}

// columns returns how wide a terminal is, 0 where that is not known. The last
// column stays free: some terminals begin a new line when it is filled.
func columns(out *os.File) int {
	width, _, err := term.GetSize(int(out.Fd()))
	if err != nil {
		return 0
	}
	return max(0, width-1)
}

// A keyboard is a line editor on a terminal in raw mode.
type keyboard struct {
	t       *term.Terminal
	in, out *os.File
}

func (k *keyboard) next(prompt string) (string, error) {
	k.t.SetPrompt(prompt)
	text, err := k.t.ReadLine()
	if errors.Is(err, term.ErrPasteIndicator) {
		err = nil
	}
	return tidy(text), err
}

// Read reads keys. The window may have changed since the last one; to look
// here needs no signal, which not every system has.
func (k *keyboard) Read(keys []byte) (int, error) {
	if len(keys) == 0 { // the editor is full of an escape sequence that never ends
		return 0, io.EOF
	}
	n, err := k.in.Read(keys)
	k.resize()
	return n, err
}

// Write draws what the editor wants drawn.
func (k *keyboard) Write(b []byte) (int, error) { return k.out.Write(b) }

func (k *keyboard) resize() {
	if width, height, err := term.GetSize(int(k.out.Fd())); err == nil && width > 0 {
		_ = k.t.SetSize(width, height)
	}
}

// prompted reads lines from a terminal that edits them itself.
type prompted struct {
	c *Console
	*lines
}

func (p *prompted) next(prompt string) (string, error) {
	p.c.mu.Lock()
	err := p.c.write([]byte(prompt))
	p.c.mu.Unlock()
	if err != nil {
		return "", err
	}
	return p.lines.next(prompt)
}

// history holds the lines typed, the oldest first.
type history []string

// historyLength is more than anybody goes back with an arrow key.
const historyLength = 200

// Add keeps entry, unless it is blank or a repetition.
func (h *history) Add(entry string) {
	if strings.TrimSpace(entry) == "" || len(*h) > 0 && (*h)[len(*h)-1] == entry {
		return
	}
	*h = append((*h)[max(0, len(*h)-historyLength+1):], entry)
}

// Len returns the number of entries.
func (h *history) Len() int { return len(*h) }

// At returns an entry, 0 being the newest.
func (h *history) At(i int) string { return (*h)[len(*h)-1-i] }
