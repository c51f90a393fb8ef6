package datasets

import (
	"context"
	"fmt"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// OpenCategoryWeights reads how far each pair of categories agrees: a table whose first
// column, and whose other heads, are the categories, with a number from 0 to 1 in every
// cell.
func OpenCategoryWeights(ctx context.Context, path string) (practice.CategoryWeights, error) {
	var out practice.CategoryWeights
	s, err := OpenSheet(ctx, path)
	if err != nil {
		return out, err
	}
	columns := s.Columns()
	rows, err := s.Text(columns[0])
	if err != nil {
		return out, err
	}
	out.Categories = columns[1:]
	out.Weights = make([][]float64, len(out.Categories))
	var ps Problems
	for i, name := range rows {
		if !slices.Contains(out.Categories, name) {
			ps = append(ps, s.Bad(i, columns[0], name, "one of the categories that head the other columns", problem.ErrUnknown))
		}
		if slices.Contains(rows[:i], name) {
			ps = append(ps, s.Bad(i, columns[0], name, "each category once", problem.ErrDuplicate))
		}
	}
	for _, c := range out.Categories {
		if !slices.Contains(rows, c) {
			ps = append(ps, Problem{File: s.File, Line: 1, Column: c, Err: problem.ErrMissing, Expect: "a row for the category, as there is a column"})
		}
		cells, err := s.Numbers(c)
		ps = problem.Append(ps, err)
		if err != nil {
			continue
		}
		for i, v := range cells {
			if !(v >= 0 && v <= 1) {
				ps = append(ps, s.Bad(i, c, fmt.Sprint(v), "a weight from 0 (no agreement) to 1 (full)", problem.ErrRange))
			}
			if k := slices.Index(out.Categories, rows[i]); k >= 0 {
				out.Weights[k] = append(out.Weights[k], v)
			}
		}
	}
	return out, ps.OrNil()
}
