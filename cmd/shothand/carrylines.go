package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"shothand/bot/sheet"
	"shothand/store"
)

// importLines adds bars as they were exported. All of them are taken, or none.
// No more than a line is in memory at a time: they wait in a file, since a
// transaction may read them again.
func importLines(from source, out io.Writer) (err error) {
	lines, err := os.CreateTemp("", "shothand-import-*") // mode 0600
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, lines.Close()) }()
	if err := os.Remove(lines.Name()); err != nil { // it lasts while it is open
		return err
	}
	if err := spool(lines, from); err != nil {
		return err
	}
	s, err := store.Open(from.db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	write := s.Update
	if from.dry {
		write = s.Try
	}
	var said []string
	err = write(func(tx *store.Tx) (err error) {
		if _, err := lines.Seek(0, io.SeekStart); err != nil {
			return err
		}
		said, err = importBars(tx, from, lines)
		return err
	})
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, strings.Join(said, "\n"))
	return err
}

// spool writes lines to a file, if all of them can be lines of records.
func spool(to io.Writer, from source) error {
	buffer := bufio.NewWriter(to)
	n := 0
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
		case n == 1 && !l.Begins():
			return errors.New(noBarLineText(from.name))
		}
		_, err := buffer.Write(append(line, '\n'))
		return err
	})
	if err == nil && n == 0 {
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

// importBars adds the bars of lines.
func importBars(tx *store.Tx, from source, lines io.Reader) (said []string, err error) {
	var bar *store.Carried
	n, first := 0, 0
	end := func() error {
		if bar == nil {
			return nil
		}
		id, err := bar.End()
		if err != nil {
			return err
		}
		name, err := tx.ChannelOf(id)
		said = append(said, importedBarText(name, n-first+1, from.dry))
		return err
	}
	d := json.NewDecoder(lines)
	for ; d.More(); n++ {
		var l store.Line
		err := d.Decode(&l)
		if err == nil && l.Begins() {
			if err = end(); err == nil {
				first = n + 1
				bar, err = tx.BeginImport(from.channel, l)
			}
		} else if err == nil {
			err = bar.Put(l)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: record %d: %w; nothing was changed", inputName(from.name), n+1, err)
		}
	}
	return said, end()
}
