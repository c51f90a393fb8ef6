package datasets

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strconv"

	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/datasets/problem"
)

// UntilColumns name the columns of a table with one row a trainee; Arm and Since may
// be blank.
type UntilColumns struct{ Until, Met, Arm, Since string }

// OpenUntil reads a table with one row a trainee: the attempts until the rule was met,
// or the last attempt seen without.
func OpenUntil(ctx context.Context, path string, c UntilColumns) (practice.Practice, error) {
	s, err := OpenSheet(ctx, path)
	if err != nil {
		return practice.Practice{}, err
	}
	rows, err := s.until(c)
	return practice.Practice{Title: filepath.Base(path), SHA256: s.SHA256, Until: rows}, err
}

// until reads every row, and reports every problem of all of them.
func (s *Sheet) until(c UntilColumns) ([]practice.Until, error) {
	attempts, err := s.Numbers(c.Until)
	if err != nil {
		return nil, err
	}
	met, err := s.Text(c.Met)
	if err != nil {
		return nil, err
	}
	arms, since := make([]string, len(met)), make([]float64, len(met))
	for i := range since {
		since[i] = math.NaN()
	}
	if c.Arm != "" {
		if arms, err = s.Text(c.Arm); err != nil {
			return nil, err
		}
	}
	if c.Since != "" {
		if since, err = s.Numbers(c.Since); err != nil {
			return nil, err
		}
	}
	var ps Problems
	var out []practice.Until
	for i, a := range attempts {
		u := practice.Until{Arm: arms[i], Attempt: a, Met: met[i] == "1", Since: since[i]}
		switch {
		case math.IsNaN(a):
			ps = append(ps, s.Bad(i, c.Until, "", "the attempt at which the rule was met, or the last one seen", problem.ErrMissing))
		case u.Met && a == 0:
			ps = append(ps, s.Bad(i, c.Until, fmt.Sprint(a), "attempts above 0, or 0 for a trainee seen at none", problem.ErrRange))
		case ranges.Until.Check(a) != nil:
			ps = append(ps, s.Bad(i, c.Until, strconv.FormatFloat(a, 'f', -1, 64), ranges.Until.String(), problem.ErrRange))
		}
		if met[i] != "0" && met[i] != "1" {
			ps = append(ps, s.Bad(i, c.Met, met[i], "1 where the rule was met or 0", problem.ErrUnknown))
		}
		if c.Since != "" && u.Met && !(u.Since >= 0 && u.Since <= a) {
			ps = append(ps, s.Bad(i, c.Since, fmt.Sprint(u.Since), fmt.Sprintf("the last assessment without, from 0 to %g", a), problem.ErrRange))
		}
		out = append(out, u)
	}
	if len(ps) > 0 {
		return nil, ps
	}
	return out, nil
}
