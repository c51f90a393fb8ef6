package grid

import (
	"context"
	"slices"

	"tyro/datasets/problem"
)

// IsNumber reports whether a column of this name holds plain numbers.
func (r *Parquet) IsNumber(name string) bool {
	i := slices.IndexFunc(r.columns, func(c parquetColumn) bool { return c.name == name })
	if i < 0 || !r.columns[i].flat {
		return false
	}
	kind, meaning := r.columns[i].kind, r.columns[i].meaning.what
	return (kind == parquetInt32 || kind == parquetInt64 || kind == parquetFloat || kind == parquetDouble) && (meaning == "" || meaning == "unsigned")
}

// ReadSome reads the rows of some trainees, and the first row of every other. It counts the
// trainees.
func (r *Parquet) ReadSome(ctx context.Context, trainee string, whom func(nth int) bool) (g *Grid, people int, err error) {
	g = r.grid
	who := slices.IndexFunc(r.columns, func(c parquetColumn) bool { return c.name == trainee && c.flat })
	if who < 0 {
		return nil, 0, problem.Problem{File: r.file, Column: trainee, Err: problem.ErrMissing, Expect: "a column of this name"}
	}
	g.Lines, g.Widths = []int32{1}, []uint16{0}
	keep := make([][]int32, len(r.groups)) // rows of each piece
	asked := map[Cell]bool{}               // of those seen
	line := int32(1)
	cells := []Cell{}
	for k, group := range r.groups {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		if cells, err = r.chunk(r.columns[who], group.field(1).list[who].field(3), cells[:0], int(group.field(3).number)); err != nil {
			return nil, 0, err
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
				g.Lines, g.Widths = append(g.Lines, line), append(g.Widths, 0)
			}
		}
	}
	for j, c := range r.columns {
		if !c.flat {
			continue
		}
		col := append(make([]Cell, 0, len(g.Lines)), g.Pool.Put(c.name, Written))
		for k, group := range r.groups {
			if err := ctx.Err(); err != nil {
				return nil, 0, err
			}
			if cells, err = r.chunk(c, group.field(1).list[j].field(3), cells[:0], int(group.field(3).number)); err != nil {
				return nil, 0, err
			}
			for _, i := range keep[k] {
				col = append(col, cells[i])
			}
		}
		g.Cols = append(g.Cols, col)
		if g.held += len(col); g.held > mostCells {
			return nil, 0, errPage
		}
	}
	return g, people, nil
}
