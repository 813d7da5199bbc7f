package file

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Why a file is refused; a [Error] wraps one of them.
var (
	ErrCorrupt = errors.New("file damaged")      // cut short, or bytes of it changed
	ErrForeign = errors.New("file not ours")     // not bbolt, or somebody else's
	ErrLocked  = errors.New("file in use")       // another process has it open
	ErrNewer   = errors.New("file is newer")     // written by a later version
	ErrAccess  = errors.New("file out of reach") // missing, forbidden, a directory
)

// A Error says in one sentence why a file was refused and what to do. The
// file is as it was.
type Error struct {
	Path    string
	Problem string // "is cut short: …"
	Hint    string // what to do
	Kind    error  // ErrCorrupt, ErrForeign, ErrLocked, ErrNewer or ErrAccess
	Cause   error  // what lies under it, or nil
}

// Error returns the sentence.
func (e *Error) Error() string { return e.Path + " " + e.Problem + "; " + e.Hint }

// Unwrap returns the kind and the cause.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}

func corrupt(path, problem string) *Error {
	return &Error{
		Path: path, Problem: problem, Kind: ErrCorrupt,
		Hint: "nothing was changed: put a backup in its place, or move it away to begin anew",
	}
}

func foreign(path string) *Error {
	return &Error{
		Path: path, Problem: "was not written by shothand", Kind: ErrForeign,
		Hint: "nothing was changed: name another file with --db",
	}
}

// unreachable words what the system said of a file.
func unreachable(path string, err error) *Error {
	e := &Error{
		Path: path, Problem: "cannot be opened", Kind: ErrAccess, Cause: err,
		Hint: "name another file with --db",
	}
	switch {
	case errors.Is(err, fs.ErrPermission):
		e.Problem, e.Hint = "may not be read and written by this user", "change who may, or name another file with --db"
	case errors.Is(err, fs.ErrNotExist):
		e.Problem, e.Hint = "lies in a directory that does not exist", "make "+filepath.Dir(path)+" or name another file with --db"
	default:
		if inner, ok := errors.AsType[*fs.PathError](err); ok {
			e.Problem += " (" + inner.Err.Error() + ")"
		}
	}
	return e
}

// There returns a [Error] if there is no file at path, or an empty one,
// which [Open] would make.
func There(path string) error {
	e := &Error{Path: path, Problem: "is not there", Hint: "name another file with --db", Kind: ErrAccess}
	info, err := os.Stat(path)
	switch {
	case err != nil:
		e.Cause = err
		return e
	case info.Mode().IsRegular() && info.Size() == 0:
		e.Problem, e.Hint, e.Kind = "is empty", "put a backup in its place, or name another file with --db", ErrCorrupt
		return e
	}
	return nil
}

// inspect looks at the file from outside, and reports whether it is yet to be
// made: absent or empty.
func inspect(path string) (fresh bool, err error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return true, parentExists(path, err)
	case err != nil:
		return false, unreachable(path, err)
	case info.IsDir():
		return false, &Error{Path: path, Problem: "is a directory", Kind: ErrAccess, Hint: "name a file in it with --db"}
	case !info.Mode().IsRegular():
		return false, &Error{Path: path, Problem: "is not a regular file", Kind: ErrAccess, Hint: "name another file with --db"}
	case info.Size() == 0:
		return true, nil
	}
	return false, nil
}

// inspectPages checks every page in use of a file that is locked: a page that
// is being written looks damaged. It reports whether a record's sum is wrong,
// which matters only if the file is ours.
func inspectPages(path string, f *os.File) (damaged bool, err error) {
	m, err := sizedMeta(path, f)
	if err != nil {
		return false, err
	}
	w := newWalk(f, m)
	if err := w.file(m); err != nil {
		return false, corrupt(path, "is damaged ("+err.Error()+")")
	}
	return w.damaged, nil
}

// parentExists turns the absence of a file into an error if there is no place
// to make it in.
func parentExists(path string, cause error) error {
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		return unreachable(path, cause)
	}
	return nil
}

// sizedMeta returns the newest meta of a file that is as long as it says.
func sizedMeta(path string, f *os.File) (meta, error) {
	m, err := newestMeta(path, f)
	if err != nil {
		return meta{}, err
	}
	info, err := f.Stat() // after the metas: a file in use only grows
	if err != nil {
		return meta{}, unreachable(path, err)
	}
	if need := m.high * m.pageSize; uint64(info.Size()) < need {
		return meta{}, corrupt(path, fmt.Sprintf("is cut short (%d bytes of at least %d)", info.Size(), need))
	}
	return m, nil
}

// The layout of a bbolt file, version 2 (go.etcd.io/bbolt v1.5.0,
// internal/common: meta.go, page.go, types.go), in the byte order of the
// machine that wrote it.
const (
	pageHeader  = 16 // id 8, flags 2, count 2, overflow 4
	metaLen     = 64 // of a meta, its sum in the last 8
	boltMagic   = 0xED0CDAED
	boltVersion = 2
	noFreelist  = ^uint64(0)
	minPage     = 1 << 10
	maxPage     = 1 << 24
)

// A meta is what one of the first two pages says.
type meta struct {
	pageSize, root, freelist, high, txid uint64
}

// newestMeta reads both metas. Both must be whole: bbolt would go on with the
// older one, and an acknowledged record would be gone without a word. (The
// disk writes a sector whole, so that a power cut leaves none half written.)
func newestMeta(path string, r io.ReaderAt) (meta, error) {
	first, ok0, bolt0 := readMeta(r, 0)
	size := first.pageSize
	if !ok0 {
		size = uint64(os.Getpagesize())
	}
	second, ok1, bolt1 := readMeta(r, int64(size))
	switch {
	case ok0 && ok1:
	case bolt0 || bolt1:
		return meta{}, corrupt(path, "is damaged or cut short at its beginning")
	default:
		return meta{}, foreign(path)
	}
	newest := first
	if second.txid > first.txid {
		newest = second
	}
	if newest.high > uint64(1<<62)/newest.pageSize || first.pageSize != second.pageSize {
		return meta{}, corrupt(path, "is damaged at its beginning")
	}
	return newest, nil
}

// readMeta reads the meta on the page at offset. It tells whether it is whole,
// and whether it was at least meant as one.
func readMeta(r io.ReaderAt, offset int64) (m meta, whole, bolt bool) {
	var b [pageHeader + metaLen]byte
	n, err := r.ReadAt(b[:], offset)
	order := binary.NativeEndian
	page := b[pageHeader:]
	bolt = n >= pageHeader+4 && order.Uint32(page) == boltMagic
	if n < len(b) || (err != nil && !errors.Is(err, io.EOF)) {
		return meta{}, false, bolt
	}
	m = meta{
		pageSize: uint64(order.Uint32(page[8:])),
		root:     order.Uint64(page[16:]),
		freelist: order.Uint64(page[32:]),
		high:     order.Uint64(page[40:]),
		txid:     order.Uint64(page[48:]),
	}
	h := fnv.New64a()
	_, _ = h.Write(page[:metaLen-8]) // a hash never fails
	whole = bolt && order.Uint32(page[4:]) == boltVersion &&
		order.Uint64(page[56:]) == h.Sum64() &&
		minPage <= m.pageSize && m.pageSize <= maxPage
	return m, whole, bolt
}
