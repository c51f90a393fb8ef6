package datasets

import "tyro/datasets/internal/grid"

// A packedColumn is a column of at most 256 different cells, a byte each: arms, sessions and
// attempt numbers of a large log repeat, and their rows are what takes its memory.
type packedColumn struct {
	cells []grid.Cell
	at    []uint8 // of each row, its place among cells
}

// largeTable is from how many rows on columns are packed.
const largeTable = 1 << 16

// pack packs the columns of a large table that hold few different cells. The table is not
// changed after, but for the rows that count.
func (t *table) pack() {
	if len(t.lines) < largeTable {
		return
	}
	t.packed = make([]packedColumn, len(t.cols))
	places := make([]uint16, len(t.pool.Texts)) // from 1
	for j, col := range t.cols {
		if p, ok := packColumn(col, places); ok {
			t.packed[j], t.cols[j] = p, nil
		}
		clear(places)
	}
}

func packColumn(col []grid.Cell, places []uint16) (packedColumn, bool) {
	var p packedColumn
	p.at = make([]uint8, len(col))
	for i, id := range col {
		if places[id] == 0 {
			if len(p.cells) == 256 {
				return p, false
			}
			p.cells = append(p.cells, id)
			places[id] = uint16(len(p.cells))
		}
		p.at[i] = uint8(places[id] - 1)
	}
	return p, len(col) > 0
}
