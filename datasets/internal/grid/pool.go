package grid

import (
	"hash/maphash"
	"strings"
)

// A Cell stands for the text and kind of a cell; 0 is a blank cell.
type Cell uint32

// A Kind says what a cell is besides its text. Cells of text files are all written.
type Kind uint8

const (
	Written      Kind = iota // text, as somebody or some program wrote it
	Numeric                  // a number of a spreadsheet, in its shortest form
	shown                    // a number that its format shows with zeros or letters before it: 007, T07
	Percent                  // a number shown as a percentage: 85 for 85 %
	Span                     // a duration, in seconds
	HourSpan                 // a duration shown as hours and minutes, in seconds
	Clock                    // a time of day: 14:05
	Day                      // a date: 2026-02-28, or 2026-02-28 14:30
	Truth                    // TRUE or FALSE
	Uncalculated             // a formula whose value was never calculated
	Broken                   // an error of a formula: #DIV/0!
)

// A Pool holds every distinct cell of a file once, so that a cell costs four bytes and
// its text is looked at once, however often it stands in the file.
type Pool struct {
	Texts   []string
	kinds   []Kind
	slots   []Cell // open addressing on the hash of text and kind; 0 is empty
	seed    maphash.Seed
	chunk   strings.Builder // where texts are kept, many in one piece of memory
	size    int             // bytes of all texts
	forms   map[Cell]string // of cells seen otherwise than written, how they were first written
	twoWays map[Cell]bool   // of these, such as were written in other ways too
	guarded map[Cell]bool   // cells written with an apostrophe of their own, which another guarded
	from    Cell            // cells before it are kept apart from those put now
}

// NewPool is a pool with the blank cell alone.
func NewPool() *Pool {
	return &Pool{Texts: []string{""}, kinds: []Kind{Written}, slots: make([]Cell, 1024), seed: maphash.MakeSeed()}
}

// Put is the cell with this text and kind.
func (p *Pool) Put(text string, kind Kind) Cell {
	if text == "" && kind != Uncalculated {
		return 0
	}
	if 2*len(p.Texts) > len(p.slots) {
		p.grow()
	}
	at := p.slot(text, kind)
	if id := p.slots[at]; id != 0 {
		return id
	}
	return p.add(at, text, kind)
}

// add puts a cell that the pool does not have into an empty slot.
func (p *Pool) add(at int, text string, kind Kind) Cell {
	id := Cell(len(p.Texts))
	p.Texts, p.kinds = append(p.Texts, p.keep(text)), append(p.kinds, kind)
	p.slots[at] = id
	return id
}

// putWritten is the cell that was written so in a text file.
func (p *Pool) putWritten(cell []byte) Cell {
	if !asSeen(cell) {
		return p.putUnguarded(string(cell))
	}
	if 2*len(p.Texts) > len(p.slots) {
		p.grow()
	}
	mask := len(p.slots) - 1
	at := int(maphash.Bytes(p.seed, cell)+uint64(Written)) & mask
	for p.slots[at] != 0 && (p.Texts[p.slots[at]] != string(cell) || p.kinds[p.slots[at]] != Written) {
		at = (at + 1) & mask
	}
	if id := p.slots[at]; id != 0 {
		if p.forms != nil {
			return p.putSeen(string(cell))
		}
		return id
	}
	return p.add(at, string(cell), Written)
}

// putUnguarded is the cell with a text of which a guard is taken away.
func (p *Pool) putUnguarded(text string) Cell {
	seen := Clean(text)
	plain := Unguard(formulaText(seen))
	if plain == seen {
		return p.putSeen(text)
	}
	plain = Clean(plain)
	id := p.Put(plain, Written)
	if ownApostrophe(plain) {
		if p.guarded == nil {
			p.guarded = map[Cell]bool{}
		}
		p.guarded[id] = true
	}
	return id
}

// asSeen reports whether a cell holds what is seen of it, so that there is nothing to clean.
func asSeen(cell []byte) bool {
	if len(cell) == 0 || cell[0] == ' ' || cell[0] == '\'' || cell[0] == '=' || cell[len(cell)-1] == ' ' {
		return false
	}
	for _, b := range cell {
		if b < 0x20 || b >= 0x80 {
			return false
		}
	}
	return true
}

// slot is where a cell is, or would be put.
func (p *Pool) slot(text string, kind Kind) int {
	mask := len(p.slots) - 1
	at := int(maphash.String(p.seed, text)+uint64(kind)) & mask
	for p.slots[at] != 0 && (p.Texts[p.slots[at]] != text || p.kinds[p.slots[at]] != kind) {
		at = (at + 1) & mask
	}
	return at
}

func (p *Pool) grow() {
	p.slots = make([]Cell, 2*len(p.slots))
	for id := max(1, int(p.from)); id < len(p.Texts); id++ {
		p.slots[p.slot(p.Texts[id], p.kinds[id])] = Cell(id)
	}
}

// Apart makes every cell put from now on another than those before, even of the same text:
// it stands in another file. It gives the first of them.
func (p *Pool) Apart() Cell {
	clear(p.slots)
	p.from = Cell(len(p.Texts))
	return p.from
}

// chunkSize is how much text one piece of memory holds.
const chunkSize = 1 << 16

// keep copies a text, so that the row it was cut from can be let go.
func (p *Pool) keep(text string) string {
	p.size += len(text)
	if len(text) > chunkSize/4 {
		return strings.Clone(text)
	}
	if p.chunk.Cap()-p.chunk.Len() < len(text) {
		p.chunk = strings.Builder{}
		p.chunk.Grow(chunkSize)
	}
	from := p.chunk.Len()
	p.chunk.WriteString(text)
	return p.chunk.String()[from:]
}

// Text is the text of a cell.
func (p *Pool) Text(id Cell) string { return p.Texts[id] }

// Kind is the kind of a cell.
func (p *Pool) Kind(id Cell) Kind { return p.kinds[id] }
