package sheet

import (
	"bufio"
	"errors"
	"io"
)

// How much a table may be: what is read waits in memory until all of it is known.
const (
	LongestLine  = 1 << 20  // bytes
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
	case b.row > 2*LongestLine:
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
