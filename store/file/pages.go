package file

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// Kinds of page, and the flag of an element that is a bucket.
const (
	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10
	bucketFlag   = 0x01

	elementLen   = 16 // of a branch or leaf page
	bucketHeader = 16 // root 8, sequence 8, then the page itself if root is 0
)

// errPage is a page that cannot be what it is used as.
var errPage = errors.New("a page is not what it should be")

// A walk visits every page of a file once, trusting nothing it reads.
type walk struct {
	r        io.ReaderAt
	pageSize uint64
	high     uint64 // pages from here on do not exist
	used     []bool // by number of page
	damaged  bool   // a record has a wrong sum
}

func newWalk(r io.ReaderAt, m meta) *walk {
	return &walk{r: r, pageSize: m.pageSize, high: m.high, used: make([]bool, m.high)}
}

// file checks the buckets from the root and the list of free pages: together
// they hold each page once.
func (w *walk) file(m meta) error {
	if m.high < 4 {
		return errPage
	}
	w.used[0], w.used[1] = true, true
	if err := w.bucket(m.root); err != nil {
		return err
	}
	if m.freelist == noFreelist {
		return nil
	}
	if err := w.freelist(m.freelist); err != nil {
		return err
	}
	for id, used := range w.used {
		if !used {
			return fmt.Errorf("page %d is lost", id)
		}
	}
	return nil
}

// take marks a page as used.
func (w *walk) take(id uint64) error {
	if id >= w.high || w.used[id] {
		return fmt.Errorf("page %d is out of range or used twice", id)
	}
	w.used[id] = true
	return nil
}

// read takes page id and what overflows from it, and returns its bytes.
func (w *walk) read(id uint64) (page, error) {
	if err := w.take(id); err != nil {
		return nil, err
	}
	b := make(page, w.pageSize)
	if _, err := w.r.ReadAt(b, int64(id*w.pageSize)); err != nil {
		return nil, err
	}
	if b.id() != id {
		return nil, fmt.Errorf("page %d calls itself %d", id, b.id())
	}
	overflow := b.overflow()
	if overflow == 0 {
		return b, nil
	}
	for n := range overflow {
		if err := w.take(id + 1 + n); err != nil {
			return nil, err
		}
	}
	b = make(page, w.pageSize*(overflow+1))
	_, err := w.r.ReadAt(b, int64(id*w.pageSize))
	return b, err
}

// bucket checks the pages of the bucket whose root is page id.
func (w *walk) bucket(id uint64) error { return w.tree(id, &order{}) }

func (w *walk) tree(id uint64, keys *order) error {
	p, err := w.read(id)
	if err != nil {
		return err
	}
	switch p.flags() {
	case branchPage:
		return w.branch(p, keys)
	case leafPage:
		return w.leaf(p, keys)
	}
	return errPage
}

func (w *walk) branch(p page, keys *order) error {
	if p.count() == 0 {
		return errPage
	}
	for n := range p.count() {
		e, ok := p.element(n)
		if !ok {
			return errPage
		}
		key, _, ok := p.data(n, binary.NativeEndian.Uint32(e), binary.NativeEndian.Uint32(e[4:]), 0)
		if !ok || !keys.next(key, true) {
			return errPage
		}
		if err := w.tree(binary.NativeEndian.Uint64(e[8:]), keys); err != nil {
			return err
		}
	}
	return nil
}

func (w *walk) leaf(p page, keys *order) error {
	for n := range p.count() {
		e, ok := p.element(n)
		if !ok {
			return errPage
		}
		key, value, ok := p.data(n, binary.NativeEndian.Uint32(e[4:]), binary.NativeEndian.Uint32(e[8:]), binary.NativeEndian.Uint32(e[12:]))
		if !ok || !keys.next(key, false) {
			return errPage
		}
		if err := w.value(binary.NativeEndian.Uint32(e), key, value); err != nil {
			return err
		}
	}
	return nil
}

// value checks what a leaf holds under a key: a record or a bucket.
func (w *walk) value(flags uint32, key, value []byte) error {
	switch flags {
	case 0:
		if sealed(value) {
			_, ok := Unseal(key, value)
			w.damaged = w.damaged || !ok
		}
		return nil
	case bucketFlag:
		if len(value) < bucketHeader {
			return errPage
		}
		if root := binary.NativeEndian.Uint64(value); root != 0 {
			return w.bucket(root)
		}
		return w.inline(value[bucketHeader:])
	}
	return errPage
}

// inline checks a bucket small enough to lie within its parent's page.
func (w *walk) inline(p page) error {
	if len(p) < pageHeader || p.flags() != leafPage {
		return errPage
	}
	return w.leaf(p, &order{})
}

// freelist checks the list of free pages on page id.
func (w *walk) freelist(id uint64) error {
	p, err := w.read(id)
	if err != nil {
		return err
	}
	if p.flags() != freelistPage {
		return errPage
	}
	ids, count := p[pageHeader:], p.count()
	if count == 0xFFFF { // too many to count in two bytes
		count, ids = binary.NativeEndian.Uint64(ids), ids[8:]
	}
	if count > uint64(len(ids))/8 {
		return errPage
	}
	for n := range count {
		if err := w.take(binary.NativeEndian.Uint64(ids[8*n:])); err != nil {
			return err
		}
	}
	return nil
}

// An order checks that the keys of a bucket ascend. Those on a branch page
// stand again on the page below.
type order struct {
	last   []byte
	branch bool
}

func (o *order) next(key []byte, branch bool) bool {
	c := 1
	if o.last != nil {
		c = bytes.Compare(key, o.last)
	}
	ok := c > 0 || c == 0 && o.branch
	o.last, o.branch = key, branch
	return ok
}

// A page is the bytes of a page and of what overflows from it.
type page []byte

func (p page) id() uint64       { return binary.NativeEndian.Uint64(p) }
func (p page) flags() uint16    { return binary.NativeEndian.Uint16(p[8:]) }
func (p page) count() uint64    { return uint64(binary.NativeEndian.Uint16(p[10:])) }
func (p page) overflow() uint64 { return uint64(binary.NativeEndian.Uint32(p[12:])) }

// element returns the head of the nth element.
func (p page) element(n uint64) ([]byte, bool) {
	from := pageHeader + n*elementLen
	if from+elementLen > uint64(len(p)) {
		return nil, false
	}
	return p[from : from+elementLen], true
}

// data returns the key and value of the nth element, which lie at pos from
// its head.
func (p page) data(n uint64, pos, keyLen, valueLen uint32) (key, value []byte, ok bool) {
	from := pageHeader + n*elementLen + uint64(pos)
	mid := from + uint64(keyLen)
	to := mid + uint64(valueLen)
	if to > uint64(len(p)) || from < pageHeader+p.count()*elementLen {
		return nil, nil, false
	}
	return p[from:mid], p[mid:to], true
}
