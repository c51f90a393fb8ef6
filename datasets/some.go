package datasets

import (
	"context"
	"path/filepath"
	"reflect"

	"tyro/datasets/internal/grid"
)

// A registry has more attempts than a shard of the work on it needs. Of a plain Parquet file
// the rows of the other trainees are passed over page by page, but for the first of each, so
// that everybody keeps their position.

// plain reports whether what a row means hangs on nothing but the row: one row an attempt, in
// columns of numbers, with nothing said of how the table is laid out.
func (c Single) plain(r *grid.Parquet) bool {
	lf := c.Log
	said := LogFile{File: lf.File, Columns: lf.Columns}
	if !reflect.DeepEqual(lf, said) && !reflect.DeepEqual(lf, LogFile{}) {
		return false
	}
	return c.Columns.Trainee != "" && c.Columns.Date == "" && r.IsNumber(c.Columns.Attempt) && r.IsNumber(c.Response)
}

// openSome reads the attempts of those asked for; false where the file is not one of which
// the rest can be passed over, and has to be read whole.
func (s *Study) openSome(ctx context.Context, path string, data []byte, spec Single, lf LogFile) bool {
	file := filepath.Base(path)
	if spec.Whom == nil || grid.FormatOf(data) != "Parquet" {
		return false
	}
	r, err := grid.OpenParquet(file, data)
	if err != nil || !spec.plain(r) {
		return false
	}
	g, people, err := r.ReadSome(ctx, spec.Columns.Trainee, spec.Whom)
	if err != nil {
		return false
	}
	t, err := newTable(g, lf.Layout, s.wantedColumns(lf))
	if err != nil {
		return false
	}
	s.Attempts, err = s.logOf(ctx, t, lf, true)
	return err == nil && s.Attempts.byTrainee(s.Tasks[0].Name).groups() == people
}
