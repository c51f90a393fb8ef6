package grid

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"math/bits"
	"slices"

	"github.com/klauspost/compress/snappy"
	"github.com/klauspost/compress/zstd"

	"tyro/datasets/problem"
)

// mostPage bounds a page; writers make them of about a million bytes.
const mostPage = 128 << 20

// A pageReader reads the pages of one column in one piece of the table.
type pageReader struct {
	*Parquet
	column    parquetColumn
	codec     int64
	dict      []Cell
	encodings []thriftValue // that the column says it uses
	cells     []Cell
	rows      int // still to be read
}

var errPage = errors.New("a page ends too early")

// page reads the page at the start of some bytes, and says how many it takes.
func (p *pageReader) page(data []byte) (int, error) {
	head, n, err := readThrift(data[:min(len(data), 1<<20)])
	if err != nil {
		return 0, p.damaged(p.column.name, err.Error())
	}
	size, packed := head.field(2).number, head.field(3).number
	if packed < 0 || packed > int64(len(data)-n) || size < 0 || size > mostPage {
		return 0, p.damaged(p.column.name, fmt.Sprintf("a page says it has %d bytes, %d packed", size, packed))
	}
	body := data[n : n+int(packed)]
	if sum := head.field(4); sum.set && uint32(sum.number) != crc32.ChecksumIEEE(body) {
		return 0, p.damaged(p.column.name, "a page is not as it was written")
	}
	switch head.field(1).number {
	case 0:
		err = p.dataPage(head.field(5), body, int(size))
	case 2:
		err = p.dictionary(head.field(7), body, int(size))
	case 3:
		err = p.secondPage(head.field(8), body, int(size))
	}
	var known problem.Problem
	if err != nil && !errors.As(err, &known) {
		err = p.damaged(p.column.name, err.Error())
	}
	return n + int(packed), err
}

// unpack unpacks a page to the size that it says.
func (p *pageReader) unpack(body []byte, size int) ([]byte, error) {
	if p.left -= int64(size); p.left < 0 {
		return nil, problem.Problem{File: p.file, Err: problem.ErrFormat, Expect: fmt.Sprintf("a file that unpacks to at most %d million bytes", MostBytes>>20)}
	}
	var out []byte
	var err error
	switch p.codec {
	case 0:
		out = body
	case 1:
		if n, lenErr := snappy.DecodedLen(body); lenErr != nil || n != size {
			return nil, errPage
		}
		out, err = snappy.Decode(nil, body)
	case 2:
		var z *gzip.Reader
		if z, err = gzip.NewReader(bytes.NewReader(body)); err == nil {
			out, err = io.ReadAll(io.LimitReader(z, int64(size)+1))
		}
	case 6:
		var z *zstd.Decoder
		if z, err = zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderMaxMemory(uint64(max(size, 8<<20))), zstd.WithDecoderMaxWindow(mostPage)); err == nil {
			out, err = z.DecodeAll(body, nil)
			z.Close()
		}
	default:
		name := map[int64]string{3: "LZO", 4: "Brotli", 5: "LZ4", 7: "LZ4"}[p.codec]
		return nil, problem.Problem{File: p.file, Column: p.column.name, Err: problem.ErrFormat, Expect: fmt.Sprintf("pages packed by Snappy, Zstandard or gzip, or not at all; these are packed by %s: export the table anew with one of those, or as CSV", cmp.Or(name, "something else"))}
	}
	if err == nil && len(out) != size {
		err = errPage
	}
	return out, err
}

// dictionary reads the values that pages name by number.
func (p *pageReader) dictionary(head thriftValue, body []byte, size int) error {
	out, err := p.unpack(body, size)
	if err != nil {
		return err
	}
	n := head.field(1).number
	if e := head.field(2).number; e != 0 && e != 2 || n < 0 || n > int64(len(out)) {
		return errPage
	}
	p.dict, err = p.values(0, out, int(n))
	return err
}

// dataPage reads a page of the first form: marks of blanks and values packed together.
func (p *pageReader) dataPage(head thriftValue, body []byte, size int) error {
	n := head.field(1).number
	if n < 0 || n > int64(p.rows) {
		return fmt.Errorf("a page has %d values for %d rows", n, p.rows)
	}
	out, err := p.unpack(body, size)
	if err != nil {
		return err
	}
	var marks []byte
	if p.column.optional {
		if head.field(3).number != 3 || len(out) < 4 {
			return errPage
		}
		length := binary.LittleEndian.Uint32(out)
		if int64(length) > int64(len(out)-4) {
			return errPage
		}
		marks, out = out[4:4+length], out[4+length:]
	}
	return p.place(head.field(2).number, marks, out, int(n))
}

// secondPage reads a page of the second form: marks of blanks beside the packed values.
func (p *pageReader) secondPage(head thriftValue, body []byte, size int) error {
	n := head.field(1).number
	defs, reps := head.field(5).number, head.field(6).number
	if n < 0 || n > int64(p.rows) || reps != 0 || defs < 0 || defs > int64(len(body)) || defs > int64(size) {
		return errPage
	}
	marks, out := body[:defs], body[defs:]
	if packed := head.field(7); !packed.set || packed.number == 1 {
		var err error
		if out, err = p.unpack(out, size-int(defs)); err != nil {
			return err
		}
	}
	return p.place(head.field(4).number, marks, out, int(n))
}

// place puts a page's values into the rows that have one.
func (p *pageReader) place(encoding int64, marks, data []byte, n int) error {
	given := n
	var has []uint32
	if p.column.optional {
		var err error
		if has, err = hybrid(marks, 1, n); err != nil {
			return err
		}
		given = 0
		for _, h := range has {
			given += int(h)
		}
	}
	if !slices.ContainsFunc(p.encodings, func(v thriftValue) bool { return v.number == encoding }) {
		return fmt.Errorf("a page in an encoding that its column does not list, number %d", encoding)
	}
	values, err := p.values(encoding, data, given)
	if err != nil {
		return err
	}
	if has == nil {
		p.cells = append(p.cells, values...)
	} else {
		k := 0
		for _, h := range has {
			id := Cell(0)
			if h == 1 {
				id = values[k]
				k++
			}
			p.cells = append(p.cells, id)
		}
	}
	p.rows -= n
	return nil
}

// values reads so many values of an encoding.
func (p *pageReader) values(encoding int64, data []byte, n int) ([]Cell, error) {
	c, pool := p.column, p.grid.Pool
	switch {
	case n == 0:
		return nil, nil
	case encoding == 2 || encoding == 8:
		if len(data) < 1 || data[0] > 32 {
			return nil, errPage
		}
		ids, err := hybrid(data[1:], int(data[0]), n)
		if err != nil {
			return nil, err
		}
		out := make([]Cell, n)
		for i, id := range ids {
			if int64(id) >= int64(len(p.dict)) {
				return nil, errors.New("a value that its list does not have")
			}
			out[i] = p.dict[id]
		}
		return out, nil
	case encoding == 3 && c.kind == parquetBoolean:
		if len(data) < 4 {
			return nil, errPage
		}
		flags, err := hybrid(data[4:], 1, n)
		out := make([]Cell, len(flags))
		for i, f := range flags {
			out[i] = truthCell(pool, f == 1)
		}
		return out, err
	case encoding == 5 && (c.kind == parquetInt32 || c.kind == parquetInt64):
		numbers, _, err := deltas(data, n)
		if err != nil {
			return nil, err
		}
		out := make([]Cell, n)
		for i, v := range numbers {
			if c.kind == parquetInt32 {
				v = int64(int32(v))
			}
			if out[i], err = c.whole(pool, v); err != nil {
				return nil, err
			}
		}
		return out, nil
	case encoding == 6 && c.kind == parquetBytes, encoding == 7 && (c.kind == parquetBytes || c.kind == parquetFixed):
		return p.deltaTexts(data, n, encoding == 7)
	case encoding == 9:
		joined, err := unsplit(data, n, c)
		if err != nil {
			return nil, err
		}
		return p.plain(joined, n)
	case encoding == 0:
		return p.plain(data, n)
	}
	return nil, problem.Problem{File: p.file, Column: c.name, Err: problem.ErrFormat, Expect: fmt.Sprintf("values in a known encoding, not number %d: export the table anew, or as CSV", encoding)}
}

func truthCell(p *Pool, yes bool) Cell {
	return p.Put(map[bool]string{true: "TRUE", false: "FALSE"}[yes], Truth)
}

// fixedWidth is the bytes of a value; 0 where they differ.
func (c parquetColumn) fixedWidth() int {
	return map[int64]int{parquetInt32: 4, parquetFloat: 4, parquetInt64: 8, parquetDouble: 8, parquetInt96: 12, parquetFixed: c.width}[c.kind]
}

// plain reads values one after another.
func (p *pageReader) plain(data []byte, n int) ([]Cell, error) {
	c, pool := p.column, p.grid.Pool
	width := c.fixedWidth()
	switch {
	case c.kind == parquetBoolean && n > 8*len(data), width > 0 && n > len(data)/width, c.kind == parquetBytes && n > len(data)/4:
		return nil, errPage
	}
	out := make([]Cell, n)
	var err error
	for i := range out {
		if width > 0 {
			at := data[i*width:]
			switch c.kind {
			case parquetInt32:
				out[i], err = c.whole(pool, int64(int32(binary.LittleEndian.Uint32(at))))
			case parquetInt64:
				out[i], err = c.whole(pool, int64(binary.LittleEndian.Uint64(at)))
			case parquetFloat:
				out[i] = floatCell(pool, float64(math.Float32frombits(binary.LittleEndian.Uint32(at))), 32)
			case parquetDouble:
				out[i] = floatCell(pool, math.Float64frombits(binary.LittleEndian.Uint64(at)), 64)
			case parquetInt96:
				out[i], err = moment96(pool, at[:12])
			case parquetFixed:
				out[i], err = c.bytes(pool, at[:width])
			}
		} else if c.kind == parquetBoolean {
			out[i] = truthCell(pool, data[i/8]>>(i%8)&1 == 1)
		} else {
			if len(data) < 4 || int64(binary.LittleEndian.Uint32(data)) > int64(len(data)-4) {
				return nil, errPage
			}
			length := int(binary.LittleEndian.Uint32(data))
			out[i], err = c.bytes(pool, data[4:4+length])
			data = data[4+length:]
		}
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// deltaTexts reads texts whose lengths stand before them; with prefixes each says how much
// it shares with the one before.
func (p *pageReader) deltaTexts(data []byte, n int, prefixes bool) ([]Cell, error) {
	var shared []int64
	if prefixes {
		var taken int
		var err error
		if shared, taken, err = deltas(data, n); err != nil {
			return nil, err
		}
		data = data[taken:]
	}
	lengths, taken, err := deltas(data, n)
	if err != nil {
		return nil, err
	}
	data = data[taken:]
	out := make([]Cell, n)
	var last []byte
	for i, length := range lengths {
		if length < 0 || length > int64(len(data)) {
			return nil, errPage
		}
		text := data[:length]
		if prefixes {
			if shared[i] < 0 || shared[i] > int64(len(last)) || shared[i]+length > mostText {
				return nil, errPage
			}
			if p.left -= shared[i]; p.left < 0 {
				return nil, errPage
			}
			text = append(last[:shared[i]:shared[i]], text...)
			last = text
		}
		if out[i], err = p.column.bytes(p.grid.Pool, text); err != nil {
			return nil, err
		}
		data = data[length:]
	}
	return out, nil
}

// unsplit puts the bytes of numbers together, which stand apart by place.
func unsplit(data []byte, n int, c parquetColumn) ([]byte, error) {
	width := c.fixedWidth()
	if width == 0 || n > len(data)/width {
		return nil, errPage
	}
	out := make([]byte, n*width)
	for k := range width {
		for i := range n {
			out[i*width+k] = data[k*n+i]
		}
	}
	return out, nil
}

// hybrid reads so many numbers of a width in bits, as runs of one number and as numbers
// packed side by side.
func hybrid(data []byte, width, n int) ([]uint32, error) {
	out := make([]uint32, 0, n)
	for len(out) < n {
		head, taken := binary.Uvarint(data)
		if taken <= 0 || head>>1 == 0 {
			return nil, errPage
		}
		data = data[taken:]
		if head&1 == 0 {
			size := (width + 7) / 8
			if len(data) < size {
				return nil, errPage
			}
			v := uint32(0)
			for k := range size {
				v |= uint32(data[k]) << (8 * k)
			}
			data = data[size:]
			for range min(head>>1, uint64(n-len(out))) {
				out = append(out, v)
			}
			continue
		}
		count := min(head>>1, uint64(n)) * 8
		for k := range min(count, uint64(n-len(out))) {
			v, err := packed(data, int(k)*width, width)
			if err != nil {
				return nil, err
			}
			out = append(out, uint32(v))
		}
		data = data[min(uint64(len(data)), head>>1*uint64(width)):]
	}
	return out, nil
}

// packed reads a number of a width at a bit.
func packed(data []byte, bit, width int) (uint64, error) {
	if bit+width > 8*len(data) {
		return 0, errPage
	}
	v := uint64(0)
	for k := 0; k < width; {
		at := (bit + k) % 8
		take := min(8-at, width-k)
		v |= uint64(data[(bit+k)/8]>>at&(1<<take-1)) << k
		k += take
	}
	return v, nil
}

// deltas reads so many whole numbers as differences from one to the next, and says how many
// bytes they take.
func deltas(data []byte, n int) (out []int64, taken int, err error) {
	rest := data
	next := func() (v uint64) {
		u, k := binary.Uvarint(rest)
		if k <= 0 {
			err = errPage
			return 0
		}
		rest = rest[k:]
		return u
	}
	signed := func() int64 { u := next(); return int64(u>>1) ^ -int64(u&1) }
	block, minis, total, last := next(), next(), next(), signed()
	if err != nil || total != uint64(n) || minis == 0 || minis > 512 || block == 0 || block > 1<<20 || block%minis != 0 || block/minis%32 != 0 || bits.OnesCount64(block/minis) == 0 {
		return nil, 0, errPage
	}
	out = append(make([]int64, 0, n), last)
	for len(out) < n {
		least := signed()
		if err != nil || len(rest) < int(minis) {
			return nil, 0, errPage
		}
		widths := rest[:minis]
		rest = rest[minis:]
		for _, w := range widths {
			if len(out) >= n {
				break
			}
			size := int(block/minis) * int(w) / 8
			if w > 64 || size > len(rest) {
				return nil, 0, errPage
			}
			for k := 0; k < int(block/minis) && len(out) < n; k++ {
				v, err := packed(rest, k*int(w), int(w))
				if err != nil {
					return nil, 0, err
				}
				last += least + int64(v)
				out = append(out, last)
			}
			rest = rest[size:]
		}
	}
	return out, len(data) - len(rest), nil
}
