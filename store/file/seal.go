package file

import (
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"hash/crc32"

	"go.etcd.io/bbolt"
)

// SealLen is the length of a space and eight hex digits.
const SealLen = 9

// ErrDamaged is what a record is whose sum is wrong.
var ErrDamaged = errors.New("record damaged")

// Seal returns the JSON of record with the sum that ties it to key.
func Seal(key []byte, record any) ([]byte, error) {
	data, err := json.Marshal(record)
	if err != nil {
		return nil, err
	}
	return appendMark(data, sum(key, data)), nil
}

// Unseal returns the JSON in value, or false if it is not as it was written.
func Unseal(key, value []byte) ([]byte, bool) {
	if len(value) < SealLen {
		return nil, false
	}
	data, mark := value[:len(value)-SealLen], value[len(value)-SealLen:]
	return data, string(mark) == string(appendMark(make([]byte, 0, SealLen), sum(key, data)))
}

// appendMark appends the mark of a sum to b.
func appendMark(b []byte, sum uint32) []byte {
	return hex.AppendEncode(append(b, ' '), binary.BigEndian.AppendUint32(nil, sum))
}

// sealed reports whether value is of the kind that Seal returns. Nothing else
// in the file begins with a brace.
func sealed(value []byte) bool { return len(value) > 0 && value[0] == '{' }

func sum(key, data []byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	return crc32.Update(crc32.Checksum(key, table), table, data)
}

// Put writes record under key.
func Put(b *bbolt.Bucket, key []byte, record any) error {
	value, err := Seal(key, record)
	if err != nil {
		return err
	}
	return b.Put(key, value)
}

// Get reads the record under key into record.
func Get(b *bbolt.Bucket, key []byte, record any) (found bool, err error) {
	value := b.Get(key)
	if value == nil {
		return false, nil
	}
	return true, Decode(key, value, record)
}

// Decode reads value into record.
func Decode(key, value []byte, record any) error {
	data, ok := Unseal(key, value)
	if !ok {
		return ErrDamaged
	}
	return json.Unmarshal(data, record)
}
