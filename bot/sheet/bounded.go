package sheet

import (
	"bufio"
	"cmp"
	"errors"
	"io"
)

// How much a table may be. No more than a row of it is in memory at a time: it
// waits elsewhere, since what its columns are and how its dates are meant is
// known only at its end.
const (
	LongestLine  = 1 << 20 // bytes, of a row over several lines as well
	LongestCell  = 16 << 10
	LargestTable = 1 << 30 // bytes without the lines that are passed over
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
	long  Refusals // lines that were passed over
	row   int      // bytes since the row began
	total int
	most  int // of total
}

func newBounded(r io.Reader, most int) *bounded {
	return &bounded{in: bufio.NewReaderSize(r, LongestLine), most: cmp.Or(most, LargestTable)}
}

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
	case b.total > b.most:
		return 0, errLargeTable
	}
	return n, nil
}

func (b *bounded) next() error {
	line, err := b.in.ReadSlice('\n')
	b.line++
	if errors.Is(err, bufio.ErrBufferFull) {
		b.long.Add(Refusal{b.line, Reason{Why: LongLine}})
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
