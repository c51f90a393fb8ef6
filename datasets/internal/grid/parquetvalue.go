package grid

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// A parquetMeaning says what the values of a column are.
type parquetMeaning struct {
	what  string        // "", decimal, date, moment, clock, unsigned, uuid, half
	scale int           // of a decimal
	unit  time.Duration // of a moment or a time of day
}

// meaningOf reads it from the column's description: the newer form, else the older.
func meaningOf(e thriftValue) parquetMeaning {
	units := map[int16]time.Duration{1: time.Millisecond, 2: time.Microsecond, 3: time.Nanosecond}
	unit := func(v thriftValue) time.Duration {
		for id, u := range units {
			if v.field(2, id).set {
				return u
			}
		}
		return time.Millisecond
	}
	if logical := e.field(10); logical.set {
		switch {
		case logical.field(5).set:
			return parquetMeaning{what: "decimal", scale: int(logical.field(5, 1).number)}
		case logical.field(6).set:
			return parquetMeaning{what: "date"}
		case logical.field(7).set:
			return parquetMeaning{what: "clock", unit: unit(logical.field(7))}
		case logical.field(8).set:
			return parquetMeaning{what: "moment", unit: unit(logical.field(8))}
		case logical.field(10).set:
			if signed := logical.field(10, 2); signed.set && signed.number == 0 {
				return parquetMeaning{what: "unsigned"}
			}
		case logical.field(14).set:
			return parquetMeaning{what: "uuid"}
		case logical.field(15).set:
			return parquetMeaning{what: "half"}
		}
	}
	if older := e.field(6); older.set {
		switch older.number {
		case 5:
			return parquetMeaning{what: "decimal", scale: int(e.field(7).number)}
		case 6:
			return parquetMeaning{what: "date"}
		case 7, 8:
			return parquetMeaning{what: "clock", unit: map[int64]time.Duration{7: time.Millisecond, 8: time.Microsecond}[older.number]}
		case 9, 10:
			return parquetMeaning{what: "moment", unit: map[int64]time.Duration{9: time.Millisecond, 10: time.Microsecond}[older.number]}
		case 11, 12, 13, 14:
			return parquetMeaning{what: "unsigned"}
		}
	}
	return parquetMeaning{}
}

// whole is the cell of a whole number.
func (c parquetColumn) whole(p *Pool, v int64) (Cell, error) {
	switch c.meaning.what {
	case "decimal":
		return c.decimal(p, big.NewInt(v))
	case "date":
		if v < -1e6 || v > 3e6 {
			return 0, fmt.Errorf("a date %d days from 1970", v)
		}
		return p.Put(time.Unix(v*86400, 0).UTC().Format(DateForm), Day), nil
	case "moment":
		return c.moment(p, v)
	case "clock":
		n := time.Duration(v) * c.meaning.unit
		if v < 0 || v > int64(24*time.Hour/c.meaning.unit) {
			return 0, fmt.Errorf("a time of day %d", v)
		}
		seconds := strconv.FormatFloat(float64(n%time.Minute)/1e9, 'f', -1, 64)
		if n%time.Minute < 10*time.Second {
			seconds = "0" + seconds
		}
		return p.Put(fmt.Sprintf("%d:%02d:%s", n/time.Hour, n%time.Hour/time.Minute, seconds), Written), nil
	case "unsigned":
		if c.kind == parquetInt32 {
			v = int64(uint32(v))
		}
		return p.Put(strconv.FormatUint(uint64(v), 10), Numeric), nil
	}
	return p.Put(strconv.FormatInt(v, 10), Numeric), nil
}

// moment is the cell of a day with its time, to the second.
func (c parquetColumn) moment(p *Pool, v int64) (Cell, error) {
	per := int64(time.Second / c.meaning.unit)
	seconds := v / per
	if v%per < 0 {
		seconds--
	}
	t := time.Unix(seconds, 0).UTC()
	if t.Year() < 1800 || t.Year() > 9999 {
		return 0, fmt.Errorf("a moment %d", v)
	}
	if t.Second() == 0 {
		return p.Put(DateText(t), Day), nil
	}
	return p.Put(t.Format("2006-01-02 15:04:05"), Written), nil
}

// decimal is the cell of a number with so many decimals.
func (c parquetColumn) decimal(p *Pool, v *big.Int) (Cell, error) {
	if c.meaning.scale < 0 || c.meaning.scale > 76 {
		return 0, fmt.Errorf("a number with %d decimals", c.meaning.scale)
	}
	s := new(big.Int).Abs(v).String()
	if n := c.meaning.scale; n > 0 {
		s = strings.Repeat("0", max(0, n+1-len(s))) + s
		s = strings.TrimRight(strings.TrimRight(s[:len(s)-n]+"."+s[len(s)-n:], "0"), ".")
	}
	if v.Sign() < 0 {
		s = "-" + s
	}
	return p.Put(s, Numeric), nil
}

// bytes is the cell of a text, or of what fixed bytes stand for.
func (c parquetColumn) bytes(p *Pool, b []byte) (Cell, error) {
	switch {
	case len(b) > mostText:
		return 0, fmt.Errorf("a cell of %d characters", len(b))
	case c.meaning.what == "decimal":
		if len(b) > 64 {
			return 0, fmt.Errorf("a number of %d bytes", len(b))
		}
		v := new(big.Int).SetBytes(b)
		if len(b) > 0 && b[0] >= 0x80 {
			v.Sub(v, new(big.Int).Lsh(big.NewInt(1), uint(8*len(b))))
		}
		return c.decimal(p, v)
	case c.meaning.what == "uuid" && len(b) == 16:
		return p.Put(fmt.Sprintf("%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:]), Written), nil
	case c.meaning.what == "half", !utf8.Valid(b):
		return 0, fmt.Errorf("bytes that are no text")
	}
	return p.putSeen(string(b)), nil
}

// number is the cell of a number with a fraction.
func floatCell(p *Pool, v float64, bits int) Cell {
	switch {
	case math.IsNaN(v):
		return 0
	case math.IsInf(v, 0):
		return p.Put(fmt.Sprint(v), Written)
	}
	return p.Put(strconv.FormatFloat(v, 'g', -1, bits), Numeric)
}

// moment96 is the cell of the oldest form of a moment: nanoseconds of a Julian day.
func moment96(p *Pool, b []byte) (Cell, error) {
	days := int64(binary.LittleEndian.Uint32(b[8:])) - 2440588
	seconds := int64(binary.LittleEndian.Uint64(b)) / 1e9
	if days < -1e5 || days > 3e6 || seconds < 0 || seconds > 86400 {
		return 0, fmt.Errorf("a moment on day %d", days)
	}
	return parquetColumn{meaning: parquetMeaning{unit: time.Second}}.moment(p, days*86400+seconds)
}
