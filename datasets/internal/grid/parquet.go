package grid

import (
	"context"
	"encoding/binary"
	"fmt"
	"strings"

	"tyro/analysis"
	"tyro/datasets/problem"
)

// Parquet (Apache Parquet format 2) keeps a table column by column, in pieces of pages. It
// is read here and not by a library, because libraries believe what a file says of its own
// size: a few hundred bytes could claim a table of billions of rows. Columns within
// columns, and lists, are not read, which is noted.

// A parquetColumn is a column of the table and how its values are kept.
type parquetColumn struct {
	name     string
	flat     bool
	optional bool // blank cells are marked apart from the values
	kind     int64
	width    int // bytes of a value of fixed length
	meaning  parquetMeaning
}

// The physical kinds of values.
const (
	parquetBoolean = iota
	parquetInt32
	parquetInt64
	parquetInt96
	parquetFloat
	parquetDouble
	parquetBytes
	parquetFixed
)

// mostDescription bounds the description of a file.
const mostDescription = 64 << 20

// A Parquet reads one file.
type Parquet struct {
	file    string
	data    []byte
	grid    *Grid
	columns []parquetColumn
	groups  []thriftValue // the pieces it comes in
	left    int64         // bytes that may still be unpacked
}

func (r *Parquet) damaged(column string, why string) error {
	return problem.Problem{File: r.file, Column: column, Err: problem.ErrFormat, Expect: "a whole Parquet file; this one is damaged (" + why + "): export the table anew, or as CSV"}
}

// ReadParquet reads a Parquet file as a table with its column names in the first row.
func ReadParquet(ctx context.Context, file string, data []byte) (*Grid, error) {
	r, err := OpenParquet(file, data)
	if err != nil {
		return nil, err
	}
	if rows := r.rows(); (rows+1)*len(r.columns) > mostCells {
		return nil, problem.Problem{File: file, Value: fmt.Sprintf("%d rows", rows), Err: problem.ErrFormat, Expect: fmt.Sprintf("at most %d million cells; split the file, or keep the columns needed", mostCells>>20)}
	}
	return r.grid, r.read(ctx)
}

// OpenParquet reads what a Parquet file says of itself: its columns, and the pieces it comes
// in.
func OpenParquet(file string, data []byte) (*Parquet, error) {
	r := &Parquet{file: file, data: data, grid: newGrid(file, "Parquet"), left: MostBytes}
	if len(data) < 12 || string(data[len(data)-4:]) != "PAR1" {
		return nil, r.damaged("", "it does not end as one, or is encrypted")
	}
	n := int64(binary.LittleEndian.Uint32(data[len(data)-8:]))
	if n > int64(len(data)-12) || n > mostDescription {
		return nil, r.damaged("", "its description is longer than the file")
	}
	about, _, err := readThrift(data[int64(len(data)-8)-n : len(data)-8])
	if err != nil {
		return nil, r.damaged("", err.Error())
	}
	if err := r.schema(about.field(2).list); err != nil {
		return nil, err
	}
	rows := about.field(3).number
	if rows < 0 || rows > mostCells {
		return nil, problem.Problem{File: file, Value: fmt.Sprintf("%d rows", rows), Err: problem.ErrFormat, Expect: fmt.Sprintf("at most %d million cells; split the file", mostCells>>20)}
	}
	total := int64(0)
	for _, group := range about.field(4).list {
		if n := group.field(3).number; n < 0 || n > rows-total {
			return nil, r.damaged("", "its pieces have more rows than it says")
		}
		total += group.field(3).number
	}
	if total != rows {
		return nil, r.damaged("", "its pieces have fewer rows than it says")
	}
	for _, group := range about.field(4).list {
		if len(group.field(1).list) != len(r.columns) {
			return nil, r.damaged("", "a piece of it lacks columns")
		}
	}
	r.groups = about.field(4).list
	return r, nil
}

// rows is how many rows the pieces have.
func (r *Parquet) rows() int {
	n := 0
	for _, group := range r.groups {
		n += int(group.field(3).number)
	}
	return n
}

// schema lists the columns.
func (r *Parquet) schema(elements []thriftValue) error {
	if len(elements) < 2 || len(elements) > mostColumns {
		return r.damaged("", fmt.Sprintf("it has %d columns", max(0, len(elements)-1)))
	}
	var nested []string
	for i := 1; i < len(elements); i++ {
		e := elements[i]
		name := Clean(strings.ToValidUTF8(string(e.field(4).bytes), ""))
		leaves := r.leaves(elements, &i, 0)
		if leaves < 0 {
			return r.damaged("", "its columns do not fit each other")
		}
		if e.field(5).number > 0 || e.field(3).number == 2 {
			nested = append(nested, name)
			for range leaves {
				r.columns = append(r.columns, parquetColumn{name: name})
			}
			continue
		}
		c := parquetColumn{name: name, flat: true, optional: e.field(3).number == 1, kind: e.field(1).number, width: int(e.field(2).number), meaning: meaningOf(e)}
		if c.kind < parquetBoolean || c.kind > parquetFixed || c.kind == parquetFixed && (c.width < 1 || c.width > mostText) {
			return r.damaged(name, "its values are of no known kind")
		}
		r.columns = append(r.columns, c)
	}
	if r.grid.Nested = nested; len(nested) > 0 {
		r.grid.Notes = append(r.grid.Notes, analysis.Warning{Code: "nested-columns", Text: fmt.Sprintf("%s: columns %s hold lists or columns of their own and are not read", r.file, problem.List(nested, 8))})
	}
	return nil
}

// leaves counts the columns of values below a column, and moves on to the last of them;
// -1 where there are too few.
func (r *Parquet) leaves(elements []thriftValue, i *int, depth int) int {
	children := elements[*i].field(5).number
	if children <= 0 {
		return 1
	}
	if depth > mostThriftDepth || children > int64(len(elements)) {
		return -1
	}
	n := 0
	for range children {
		if *i++; *i >= len(elements) {
			return -1
		}
		below := r.leaves(elements, i, depth+1)
		if below < 0 {
			return -1
		}
		n += below
	}
	return n
}

// read reads all pieces of all flat columns.
func (r *Parquet) read(ctx context.Context) error {
	g := r.grid
	rows := 1 + r.rows()
	g.Lines, g.Widths = make([]int32, rows), make([]uint16, rows)
	for i := range g.Lines {
		g.Lines[i] = int32(i + 1)
	}
	for j, c := range r.columns {
		if !c.flat {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		cells := append(make([]Cell, 0, rows), g.Pool.Put(c.name, Written))
		for _, group := range r.groups {
			n := int(group.field(3).number)
			got, err := r.chunk(c, group.field(1).list[j].field(3), cells, n)
			if err != nil {
				return err
			}
			cells = got
		}
		g.Cols = append(g.Cols, cells)
		g.held += len(cells)
	}
	if len(g.Cols) == 0 {
		return problem.Problem{File: r.file, Err: problem.ErrMissing, Expect: "columns with one value a row; all are lists or hold columns of their own"}
	}
	return nil
}

// chunk reads the pages of one column in one piece of the table, which has so many rows.
// Empty pages end with the bytes.
func (r *Parquet) chunk(c parquetColumn, about thriftValue, cells []Cell, rows int) ([]Cell, error) {
	if about.field(1).number != c.kind || about.field(5).number != int64(rows) {
		return nil, r.damaged(c.name, "it has another number of values than rows")
	}
	from := about.field(9).number
	if dict := about.field(11); dict.set && dict.number > 0 && dict.number < from {
		from = dict.number
	}
	if from < 4 || from > int64(len(r.data)) {
		return nil, r.damaged(c.name, "it lies outside the file")
	}
	p := pageReader{Parquet: r, column: c, codec: about.field(4).number, cells: cells, rows: rows, encodings: about.field(2).list}
	rest := r.data[from:]
	for p.rows > 0 {
		taken, err := p.page(rest)
		if err != nil {
			return nil, err
		}
		rest = rest[taken:]
	}
	return p.cells, nil
}
