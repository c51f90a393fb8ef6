package datasets

import (
	"hash/maphash"
	"strings"
)

// A cellID stands for the text and kind of a cell; 0 is a blank cell.
type cellID uint32

// A cellKind says what a cell is besides its text. Cells of text files are all written.
type cellKind uint8

const (
	written      cellKind = iota // text, as somebody or some program wrote it
	numeric                      // a number of a spreadsheet, in its shortest form
	shown                        // a number that its format shows with zeros or letters before it: 007, T07
	percent                      // a number shown as a percentage: 85 for 85 %
	span                         // a duration, in seconds
	hourSpan                     // a duration shown as hours and minutes, in seconds
	clock                        // a time of day: 14:05
	day                          // a date: 2026-02-28, or 2026-02-28 14:30
	truth                        // TRUE or FALSE
	uncalculated                 // a formula whose value was never calculated
	broken                       // an error of a formula: #DIV/0!
)

// A pool holds every distinct cell of a file once, so that a cell costs four bytes and
// its text is looked at once, however often it stands in the file.
type pool struct {
	texts []string
	kinds []cellKind
	slots []cellID // open addressing on the hash of text and kind; 0 is empty
	seed  maphash.Seed
	chunk strings.Builder // where texts are kept, many in one piece of memory
	size  int             // bytes of all texts
	from  cellID          // cells before it are kept apart from those put now
}

func newPool() *pool {
	return &pool{texts: []string{""}, kinds: []cellKind{written}, slots: make([]cellID, 1024), seed: maphash.MakeSeed()}
}

// put is the cell with this text and kind.
func (p *pool) put(text string, kind cellKind) cellID {
	if text == "" && kind != uncalculated {
		return 0
	}
	if 2*len(p.texts) > len(p.slots) {
		p.grow()
	}
	at := p.slot(text, kind)
	if id := p.slots[at]; id != 0 {
		return id
	}
	return p.add(at, text, kind)
}

// add puts a cell that the pool does not have into an empty slot.
func (p *pool) add(at int, text string, kind cellKind) cellID {
	id := cellID(len(p.texts))
	p.texts, p.kinds = append(p.texts, p.keep(text)), append(p.kinds, kind)
	p.slots[at] = id
	return id
}

// putWritten is the cell that was written so in a text file.
func (p *pool) putWritten(cell []byte) cellID {
	if !asSeen(cell) {
		return p.put(cleanCell(unguardCell(formulaText(cleanCell(string(cell))))), written)
	}
	if 2*len(p.texts) > len(p.slots) {
		p.grow()
	}
	mask := len(p.slots) - 1
	at := int(maphash.Bytes(p.seed, cell)+uint64(written)) & mask
	for p.slots[at] != 0 && (p.texts[p.slots[at]] != string(cell) || p.kinds[p.slots[at]] != written) {
		at = (at + 1) & mask
	}
	if id := p.slots[at]; id != 0 {
		return id
	}
	return p.add(at, string(cell), written)
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
func (p *pool) slot(text string, kind cellKind) int {
	mask := len(p.slots) - 1
	at := int(maphash.String(p.seed, text)+uint64(kind)) & mask
	for p.slots[at] != 0 && (p.texts[p.slots[at]] != text || p.kinds[p.slots[at]] != kind) {
		at = (at + 1) & mask
	}
	return at
}

func (p *pool) grow() {
	p.slots = make([]cellID, 2*len(p.slots))
	for id := max(1, int(p.from)); id < len(p.texts); id++ {
		p.slots[p.slot(p.texts[id], p.kinds[id])] = cellID(id)
	}
}

// apart makes every cell put from now on another than those before, even of the same text:
// it stands in another file. It gives the first of them.
func (p *pool) apart() cellID {
	clear(p.slots)
	p.from = cellID(len(p.texts))
	return p.from
}

// chunkSize is how much text one piece of memory holds.
const chunkSize = 1 << 16

// keep copies a text, so that the row it was cut from can be let go.
func (p *pool) keep(text string) string {
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

func (p *pool) text(id cellID) string   { return p.texts[id] }
func (p *pool) kind(id cellID) cellKind { return p.kinds[id] }
