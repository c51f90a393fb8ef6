package grid

import (
	"encoding/binary"
	"errors"
)

// A thriftValue is a value of the compact form in which Parquet keeps what it says about
// its data (Apache Thrift, compact protocol). Only what a table needs is kept.
type thriftValue struct {
	number int64
	bytes  []byte
	list   []thriftValue
	fields map[int16]thriftValue
	set    bool
}

func (v thriftValue) field(ids ...int16) thriftValue {
	for _, id := range ids {
		v = v.fields[id]
	}
	return v
}

// Bounds of a description; a table of 20,000 columns in many pieces stays far below them.
const (
	mostThriftValues = 2 << 20
	mostThriftDepth  = 24
)

var errThrift = errors.New("its description cannot be read")

// A thriftReader reads one structure. Nothing that the bytes claim is believed beyond the
// bytes that are there.
type thriftReader struct {
	data   []byte
	at     int
	values int
}

// readThrift reads the structure at the start of some bytes, and says how many it takes.
func readThrift(data []byte) (thriftValue, int, error) {
	r := thriftReader{data: data}
	v, err := r.structure(0)
	return v, r.at, err
}

func (r *thriftReader) byte() (byte, error) {
	if r.at >= len(r.data) {
		return 0, errThrift
	}
	r.at++
	return r.data[r.at-1], nil
}

func (r *thriftReader) unsigned() (uint64, error) {
	v, n := binary.Uvarint(r.data[r.at:])
	if n <= 0 {
		return 0, errThrift
	}
	r.at += n
	return v, nil
}

func (r *thriftReader) signed() (int64, error) {
	u, err := r.unsigned()
	return int64(u>>1) ^ -int64(u&1), err
}

func (r *thriftReader) structure(depth int) (thriftValue, error) {
	out := thriftValue{fields: map[int16]thriftValue{}, set: true}
	if depth > mostThriftDepth {
		return out, errThrift
	}
	id := int16(0)
	for {
		b, err := r.byte()
		if err != nil {
			return out, err
		}
		if b == 0 {
			return out, nil
		}
		if step := b >> 4; step != 0 {
			id += int16(step)
		} else {
			v, err := r.signed()
			if err != nil {
				return out, err
			}
			id = int16(v)
		}
		v, err := r.value(b&0xf, false, depth)
		if err != nil {
			return out, err
		}
		out.fields[id] = v
	}
}

// value reads a value of a kind: 1 and 2 true and false (a byte within lists), 3 a byte, 4
// to 6 numbers, 7 a double, 8 bytes, 9 and 10 lists, 11 a map, 12 a structure.
func (r *thriftReader) value(kind byte, listed bool, depth int) (v thriftValue, err error) {
	if r.values++; r.values > mostThriftValues {
		return v, errThrift
	}
	v.set = true
	switch kind {
	case 1, 2:
		if listed {
			kind, err = r.byte()
		}
		v.number = int64(kind & 1)
	case 3:
		var b byte
		b, err = r.byte()
		v.number = int64(int8(b))
	case 4, 5, 6:
		v.number, err = r.signed()
	case 7:
		if r.at+8 > len(r.data) {
			return v, errThrift
		}
		r.at += 8
	case 8:
		n, err := r.unsigned()
		if err != nil || n > uint64(len(r.data)-r.at) {
			return v, errThrift
		}
		v.bytes = r.data[r.at : r.at+int(n)]
		r.at += int(n)
	case 9, 10:
		return r.items(depth)
	case 11:
		return v, r.skipMap(depth)
	case 12:
		return r.structure(depth + 1)
	default:
		err = errThrift
	}
	return v, err
}

// items reads a list, whose every item takes a byte at least.
func (r *thriftReader) items(depth int) (v thriftValue, err error) {
	v.set = true
	b, err := r.byte()
	if err != nil || depth > mostThriftDepth {
		return v, errThrift
	}
	n := uint64(b >> 4)
	if n == 15 {
		if n, err = r.unsigned(); err != nil {
			return v, err
		}
	}
	if n > uint64(len(r.data)-r.at) {
		return v, errThrift
	}
	for range n {
		item, err := r.value(b&0xf, true, depth+1)
		if err != nil {
			return v, err
		}
		v.list = append(v.list, item)
	}
	return v, nil
}

func (r *thriftReader) skipMap(depth int) error {
	n, err := r.unsigned()
	if err != nil || n > uint64(len(r.data)-r.at) || depth > mostThriftDepth {
		return errThrift
	}
	if n == 0 {
		return nil
	}
	kinds, err := r.byte()
	if err != nil {
		return err
	}
	for range n {
		for _, kind := range []byte{kinds >> 4, kinds & 0xf} {
			if _, err := r.value(kind, true, depth+1); err != nil {
				return err
			}
		}
	}
	return nil
}
