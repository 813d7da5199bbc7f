package store

import (
	"bytes"
	"cmp"
	"math"
	"testing"

	"shothand/advisor/bar"
)

func nan() float64 { return math.NaN() }

// Byte order of entry keys is the order of time, then of id.
func FuzzEntryKeyOrder(f *testing.F) {
	f.Add(int64(9), uint64(1), int64(10), uint64(1))
	f.Add(int64(-1), uint64(1), int64(0), uint64(1)) // about 1970
	f.Add(int64(255), uint64(2), int64(256), uint64(1))
	f.Add(int64(5), uint64(255), int64(5), uint64(256))
	f.Add(int64(math.MinInt64), uint64(0), int64(math.MaxInt64), uint64(0))
	f.Fuzz(func(t *testing.T, at1 int64, id1 uint64, at2 int64, id2 uint64) {
		k1 := entryKey(instant(at1), bar.EntryID(id1))
		k2 := entryKey(instant(at2), bar.EntryID(id2))
		want := cmp.Or(cmp.Compare(at1, at2), cmp.Compare(id1, id2))
		if got := bytes.Compare(k1, k2); got != want {
			t.Errorf("keys of (%d, %d) and (%d, %d) compare as %d, want %d", at1, id1, at2, id2, got, want)
		}
		if at, id := readEntryKey(k1); at != instant(at1) || id != bar.EntryID(id1) {
			t.Errorf("key of (%d, %d) reads as (%d, %d)", at1, id1, at, id)
		}
	})
}
