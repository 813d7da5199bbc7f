package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"shothand/bot/sheet"
	"shothand/store"
)

// A scratch is a file that lasts as long as it is open.
type scratch struct{ *os.File }

func newScratch() (scratch, error) {
	f, err := os.CreateTemp("", "shothand-import-*") // mode 0600
	if err != nil {
		return scratch{}, err
	}
	_ = os.Remove(f.Name()) // where that can only be done once it is closed, Close does it
	return scratch{f}, nil
}

// Close takes the file away.
func (s scratch) Close() error {
	err := s.File.Close()
	if gone := os.Remove(s.Name()); !errors.Is(gone, fs.ErrNotExist) {
		err = errors.Join(err, gone)
	}
	return err
}

// importLines adds bars as they were exported. All of them are taken, or none.
// No more than a line is in memory at a time: they wait in a file until all are
// known to be lines of records.
func importLines(from source, out io.Writer) (err error) {
	lines, err := newScratch()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, lines.Close()) }()
	if err := spool(lines, from); err != nil {
		return err
	}
	if _, err := lines.Seek(0, io.SeekStart); err != nil {
		return err
	}
	bars := carried{from: from, lines: json.NewDecoder(lines)}
	if err := from.into(bars.take); err != nil {
		return err
	}
	return tell(out, strings.Join(bars.said, "\n"))
}

// spool writes lines to a file, if all of them can be lines of records.
func spool(to io.Writer, from source) error {
	buffer := bufio.NewWriter(to)
	n, begun := 0, false
	err := eachLine(from.in, func(line []byte, tooLong bool) error {
		n++
		var l store.Line
		switch err := json.Unmarshal(line, &l); {
		case tooLong:
			return errors.New(longLineText(from.name, n))
		case len(bytes.TrimSpace(line)) == 0:
			return buffer.WriteByte('\n')
		case err != nil:
			return errors.New(notJSONText(from.name, n))
		case !begun && !l.Begins():
			return errors.New(noBarLineText(from.name))
		}
		begun = true
		_, err := buffer.Write(append(line, '\n'))
		return err
	})
	if err == nil && !begun {
		return errors.New(noLineText(from.name))
	}
	return errors.Join(err, buffer.Flush())
}

// eachLine calls each with every line of in, without its end. One that is longer
// than [sheet.LongestLine] is passed over, and each is told so.
func eachLine(in io.Reader, each func(line []byte, tooLong bool) error) error {
	read := bufio.NewReaderSize(in, sheet.LongestLine)
	for {
		line, err := read.ReadSlice('\n')
		tooLong := errors.Is(err, bufio.ErrBufferFull)
		for errors.Is(err, bufio.ErrBufferFull) {
			line, err = read.ReadSlice('\n')
		}
		ended := errors.Is(err, io.EOF)
		if err != nil && !ended {
			return err
		}
		if ended && len(line) == 0 && !tooLong {
			return nil
		}
		if err := each(bytes.TrimRight(line, "\r\n"), tooLong); err != nil || ended {
			return err
		}
	}
}

// A carried is bars on their way from lines into a file.
type carried struct {
	from     source
	lines    *json.Decoder
	bar      *store.Carried // that is on its way
	n, first int            // lines so far, and before the bar
	said     []string
}

// updateBytes is how much of lines goes into an update: little memory, and not
// many updates.
const updateBytes = 1 << 20

// take puts all lines into a store.
func (c *carried) take(s *store.Store) error {
	for c.lines.More() {
		if err := c.from.ctx.Err(); err != nil {
			return err
		}
		if err := s.Update(c.some); err != nil {
			return err
		}
	}
	return s.Update(c.end)
}

// some puts the next lines into a store.
func (c *carried) some(tx *store.Tx) error {
	began := c.lines.InputOffset()
	for c.lines.More() && c.lines.InputOffset() < began+updateBytes {
		c.n++
		var l store.Line
		err := c.lines.Decode(&l)
		if err == nil {
			err = c.put(tx, l)
		}
		if err != nil {
			return fmt.Errorf("%s: record %d: %w; nothing was changed", inputName(c.from.name), c.n, err)
		}
	}
	return nil
}

// put puts a line into a store.
func (c *carried) put(tx *store.Tx, l store.Line) (err error) {
	if !l.Begins() {
		c.bar.GoOn(tx)
		return c.bar.Put(l)
	}
	if err := c.end(tx); err != nil {
		return err
	}
	c.first = c.n
	c.bar, err = tx.BeginImport(c.from.channel, l)
	return err
}

// end ends a bar whose lines are there.
func (c *carried) end(tx *store.Tx) error {
	if c.bar == nil {
		return nil
	}
	c.bar.GoOn(tx)
	id, err := c.bar.End()
	if err != nil {
		return err
	}
	name, err := tx.ChannelOf(id)
	c.said = append(c.said, importedBarText(name, c.n-c.first+1, c.from.dry))
	return err
}
