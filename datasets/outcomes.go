package datasets

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// OutcomeColumns name the columns of a table with one row a trainee and one number for
// each; all but Response and Arm may be blank.
type OutcomeColumns struct {
	Response, Arm string
	Baselines     []string // numbers from before training
	Second        string   // the number after a second period by the other curriculum; Arm is then that of the first
	Prior         string   // practice on a substitute before
	Met           string   // 1 where Response is the practice until the rule was met, else 0
	Cluster       string
}

// OpenOutcomes reads a table with one row a trainee: a number after training, and
// what is known from before.
func OpenOutcomes(ctx context.Context, path string, c OutcomeColumns) (practice.Practice, error) {
	s, err := OpenSheet(ctx, path)
	if err != nil {
		return practice.Practice{}, err
	}
	out := practice.Practice{Title: filepath.Base(path), SHA256: s.SHA256, Baselines: c.Baselines}
	out.Endpoints, err = s.outcomes(c)
	return out, err
}

// outcomes reads every row, and reports every problem of all of them.
func (s *Sheet) outcomes(c OutcomeColumns) ([]practice.Endpoint, error) {
	var ps Problems
	numbers := func(column string) []float64 {
		v, err := s.Numbers(column)
		ps = problem.Append(ps, err)
		return v
	}
	text := func(column string) []string {
		v, err := s.Text(column)
		ps = problem.Append(ps, err)
		return v
	}
	values, arms := numbers(c.Response), text(c.Arm)
	var before [][]float64
	for _, name := range c.Baselines {
		before = append(before, numbers(name))
	}
	var prior, second []float64
	if c.Second != "" {
		second = numbers(c.Second)
	}
	var met, cluster []string
	if c.Prior != "" {
		prior = numbers(c.Prior)
	}
	if c.Met != "" {
		met = text(c.Met)
	}
	if c.Cluster != "" {
		cluster = text(c.Cluster)
	}
	if second != nil && len(ps) == 0 && !slices.ContainsFunc(second, func(v float64) bool { return !math.IsNaN(v) }) {
		ps = append(ps, s.Bad(0, c.Second, "", "a number of the second period for some trainees, or no --second to compare the first period alone", problem.ErrMissing))
	}
	if len(ps) > 0 {
		return nil, ps
	}
	var out []practice.Endpoint
	for i, v := range values {
		o := practice.Endpoint{Arm: arms[i], Value: v, Second: math.NaN(), Prior: math.NaN(), Met: true}
		if second != nil {
			o.Second = second[i]
		}
		if o.Arm == "" {
			ps = append(ps, s.Bad(i, c.Arm, "", "the trainee's arm", problem.ErrMissing))
		}
		for _, b := range before {
			o.Baseline = append(o.Baseline, b[i])
		}
		if prior != nil {
			if o.Prior = prior[i]; !(o.Prior >= 0) {
				ps = append(ps, s.Bad(i, c.Prior, fmt.Sprint(o.Prior), "practice on the substitute, 0 for none", problem.ErrRange))
			}
			if !(v >= 0) {
				ps = append(ps, s.Bad(i, c.Response, fmt.Sprint(v), "practice on the task, from 0", problem.ErrRange))
			}
		}
		if met != nil {
			if o.Met = met[i] == "1"; met[i] != "0" && met[i] != "1" {
				ps = append(ps, s.Bad(i, c.Met, met[i], "1 where the rule was met or 0", problem.ErrUnknown))
			}
		}
		if cluster != nil {
			if o.Cluster = cluster[i]; o.Cluster == "" {
				ps = append(ps, s.Bad(i, c.Cluster, "", "the trainee's site or session group", problem.ErrMissing))
			}
		}
		out = append(out, o)
	}
	return out, ps.OrNil()
}
