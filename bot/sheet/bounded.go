package sheet

import (
	"bufio"
	"bytes"
	"errors"
	"io"
)

// How much a table may be: it waits in memory as it was written, since what its
// columns are and how its dates are meant is known only at its end.
const (
	LongestLine  = 1 << 20  // bytes, of a row over several lines as well
	LargestTable = 64 << 20 // bytes without the lines that are passed over
)

// What ends the reading of a table.
var (
	errLongRow    = errors.New("a row over too many lines")
	errLargeTable = errors.New("too large a table")
)

// A bounded reader reads lines. One that is too long is passed over: an empty
// line stands for it, so that those after it keep their numbers.
type bounded struct {
	in    *bufio.Reader
	rest  []byte // of the line
	line  int
	long  []int // lines that were passed over
	row   int   // bytes since the row began
	total int
}

func newBounded(r io.Reader) *bounded { return &bounded{in: bufio.NewReaderSize(r, LongestLine)} }

// Read reads the rest of a line, or from the next.
func (b *bounded) Read(p []byte) (int, error) {
	if len(b.rest) == 0 {
		if err := b.next(); err != nil {
			return 0, err
		}
	}
	n := copy(p, b.rest)
	b.rest = b.rest[n:]
	b.row, b.total = b.row+n, b.total+n
	switch {
	case b.row > LongestLine:
		return 0, errLongRow
	case b.total > LargestTable:
		return 0, errLargeTable
	}
	return n, nil
}

func (b *bounded) next() error {
	line, err := b.in.ReadSlice('\n')
	b.line++
	if errors.Is(err, bufio.ErrBufferFull) {
		b.long = append(b.long, b.line)
		for errors.Is(err, bufio.ErrBufferFull) {
			_, err = b.in.ReadSlice('\n')
		}
		line = []byte("\n")
	}
	if b.rest = line; errors.Is(err, io.EOF) && len(line) > 0 {
		return nil
	}
	return err
}

// A spool keeps what is written to it, in pieces, so that it never holds much
// more than that.
type spool struct{ pieces [][]byte }

const pieceSize = 64 << 10

// Write keeps p.
func (s *spool) Write(p []byte) (int, error) {
	last := len(s.pieces) - 1
	if last < 0 || len(s.pieces[last])+len(p) > cap(s.pieces[last]) {
		s.pieces = append(s.pieces, make([]byte, 0, max(pieceSize, len(p))))
		last++
	}
	s.pieces[last] = append(s.pieces[last], p...)
	return len(p), nil
}

// reader reads what was kept.
func (s *spool) reader() io.Reader {
	var all []io.Reader
	for _, piece := range s.pieces {
		all = append(all, bytes.NewReader(piece))
	}
	return io.MultiReader(all...)
}
