package store

import (
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"hash/crc32"

	"go.etcd.io/bbolt"
)

// sealLen is the length of a space and eight hex digits.
const sealLen = 9

// errDamaged is what a record is whose sum is wrong.
var errDamaged = errors.New("record damaged")

// seal returns the JSON of record with the sum that ties it to key.
func seal(key []byte, record any) ([]byte, error) {
	data, err := json.Marshal(record)
	if err != nil {
		return nil, err
	}
	return appendMark(data, sum(key, data)), nil
}

// unseal returns the JSON in value, or false if it is not as it was written.
func unseal(key, value []byte) ([]byte, bool) {
	if len(value) < sealLen {
		return nil, false
	}
	data, mark := value[:len(value)-sealLen], value[len(value)-sealLen:]
	return data, string(mark) == string(appendMark(make([]byte, 0, sealLen), sum(key, data)))
}

// appendMark appends the mark of a sum to b.
func appendMark(b []byte, sum uint32) []byte {
	return hex.AppendEncode(append(b, ' '), binary.BigEndian.AppendUint32(nil, sum))
}

// sealed reports whether value is of the kind that seal returns. Nothing else
// in the file begins with a brace.
func sealed(value []byte) bool { return len(value) > 0 && value[0] == '{' }

func sum(key, data []byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	return crc32.Update(crc32.Checksum(key, table), table, data)
}

// put writes record under key.
func put(b *bbolt.Bucket, key []byte, record any) error {
	value, err := seal(key, record)
	if err != nil {
		return err
	}
	return b.Put(key, value)
}

// get reads the record under key into record.
func get(b *bbolt.Bucket, key []byte, record any) (found bool, err error) {
	value := b.Get(key)
	if value == nil {
		return false, nil
	}
	return true, decode(key, value, record)
}

// decode reads value into record.
func decode(key, value []byte, record any) error {
	data, ok := unseal(key, value)
	if !ok {
		return errDamaged
	}
	return json.Unmarshal(data, record)
}
