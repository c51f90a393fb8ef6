package datasets

import (
	"context"
	"path/filepath"
	"reflect"
	"slices"
)

// A registry has more attempts than a shard of the work on it needs. Of a plain Parquet file
// the rows of the other trainees are passed over page by page, but for the first of each, so
// that everybody keeps their position.

// plain reports whether what a row means hangs on nothing but the row: one row an attempt, in
// columns of numbers, with nothing said of how the table is laid out.
func (c Single) plain(r *parquetReader) bool {
	lf := c.Log
	said := LogFile{File: lf.File, Columns: lf.Columns}
	if !reflect.DeepEqual(lf, said) && !reflect.DeepEqual(lf, LogFile{}) {
		return false
	}
	number := func(name string) bool {
		i := slices.IndexFunc(r.columns, func(c parquetColumn) bool { return c.name == name })
		if i < 0 || !r.columns[i].flat {
			return false
		}
		kind, meaning := r.columns[i].kind, r.columns[i].meaning.what
		return (kind == parquetInt32 || kind == parquetInt64 || kind == parquetFloat || kind == parquetDouble) && (meaning == "" || meaning == "unsigned")
	}
	return c.Columns.Trainee != "" && c.Columns.Date == "" && number(c.Columns.Attempt) && number(c.Response)
}

// openSome reads the attempts of those asked for; false where the file is not one of which
// the rest can be passed over, and has to be read whole.
func (s *Study) openSome(ctx context.Context, path string, data []byte, spec Single, lf LogFile) bool {
	file := filepath.Base(path)
	if spec.Whom == nil || formatOf(data) != "Parquet" {
		return false
	}
	r, groups, err := openParquet(file, data)
	if err != nil || !spec.plain(r) {
		return false
	}
	people, err := r.readSome(ctx, groups, spec.Columns.Trainee, spec.Whom)
	if err != nil {
		return false
	}
	t, err := newTable(r.grid, lf.Layout, s.wantedColumns(lf))
	if err != nil {
		return false
	}
	s.Attempts, err = s.logOf(ctx, t, lf, true)
	return err == nil && s.Attempts.byTrainee(s.Tasks[0].Name).groups() == people
}

// readSome reads the rows of some trainees, and the first row of every other. It counts the
// trainees.
func (r *parquetReader) readSome(ctx context.Context, groups []thriftValue, trainee string, whom func(nth int) bool) (people int, err error) {
	g := r.grid
	who := slices.IndexFunc(r.columns, func(c parquetColumn) bool { return c.name == trainee && c.flat })
	if who < 0 {
		return 0, Problem{File: r.file, Column: trainee, Err: ErrMissing, Expect: "a column of this name"}
	}
	g.lines, g.widths = []int32{1}, []uint16{0}
	keep := make([][]int32, len(groups)) // rows of each piece
	asked := map[cellID]bool{}           // of those seen
	line := int32(1)
	cells := []cellID{}
	for k, group := range groups {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if cells, err = r.chunk(r.columns[who], group.field(1).list[who].field(3), cells[:0], int(group.field(3).number)); err != nil {
			return 0, err
		}
		for i, id := range cells {
			line++
			wanted, seen := asked[id]
			if !seen {
				wanted = id == 0 || whom(people)
				asked[id] = wanted
				people++
			}
			if wanted || !seen {
				keep[k] = append(keep[k], int32(i))
				g.lines, g.widths = append(g.lines, line), append(g.widths, 0)
			}
		}
	}
	for j, c := range r.columns {
		if !c.flat {
			continue
		}
		col := append(make([]cellID, 0, len(g.lines)), g.pool.put(c.name, written))
		for k, group := range groups {
			if err := ctx.Err(); err != nil {
				return 0, err
			}
			if cells, err = r.chunk(c, group.field(1).list[j].field(3), cells[:0], int(group.field(3).number)); err != nil {
				return 0, err
			}
			for _, i := range keep[k] {
				col = append(col, cells[i])
			}
		}
		g.cols = append(g.cols, col)
		if g.held += len(col); g.held > mostCells {
			return 0, errPage
		}
	}
	return people, nil
}
