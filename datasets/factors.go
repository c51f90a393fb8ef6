package datasets

import (
	"context"
	"strings"

	"tyro/datasets/problem"
)

// OpenFactors reads a table with one row a trainee: the first column names the trainee,
// and each of the columns asked for puts the trainee at one of its levels. Rows come in
// the order of the file. A blank or repeated trainee and a blank level are errors.
func OpenFactors(ctx context.Context, path string, columns []string) (trainees []string, levels [][]string, sha256 string, err error) {
	s, err := OpenSheet(ctx, path)
	if err != nil {
		return nil, nil, "", err
	}
	var ps Problems
	var first string
	if names := s.Columns(); len(names) > 0 {
		first = names[0]
	}
	who, err := s.Text(first)
	ps = problem.Append(ps, err)
	by := make([][]string, len(columns))
	for k, name := range columns {
		by[k], err = s.Text(name)
		ps = problem.Append(ps, err)
	}
	if err := ps.OrNil(); err != nil {
		return nil, nil, "", err
	}
	seen := map[string]bool{}
	for i, t := range who {
		if t = strings.TrimSpace(t); t == "" || seen[t] {
			ps = append(ps, s.Bad(i, first, t, "every trainee once", problem.ErrMissing))
		}
		seen[t] = true
		row := make([]string, len(columns))
		for k := range columns {
			if row[k] = strings.TrimSpace(by[k][i]); row[k] == "" {
				ps = append(ps, s.Bad(i, columns[k], "", "the level of the trainee", problem.ErrMissing))
			}
		}
		trainees, levels = append(trainees, t), append(levels, row)
	}
	return trainees, levels, s.SHA256, ps.OrNil()
}
