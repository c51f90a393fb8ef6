package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"tyro/analysis/change"
	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// changeReplicates is how many series without a break each trainee's is compared with,
// unless asked otherwise.
const changeReplicates = 999

// Changes are the likeliest breaks of the trainees' series.
type Changes struct {
	Each     []TraineeChange
	Log      bool // sizes are differences of logarithms
	Warnings Warnings
}

// A TraineeChange is one trainee's likeliest break.
type TraineeChange struct {
	Trainee, Arm string
	change.Break
	PAdjusted float64 // Holm, over the trainees
}

// Changes looks for a change of method in every trainee's series: an attempt after which
// the level jumps or the slope is new.
func (s *Study) Changes(ctx context.Context) (*Changes, error) {
	switch s.Task.Measure {
	case practice.Time, practice.Score:
	default:
		return nil, errors.New("a break is looked for in times and scores; the task's measure is neither")
	}
	out := &Changes{Log: s.Task.Measure == practice.Time}
	sampling := s.Sampling()
	if s.Options.Replicates == 0 {
		sampling.Replicates = changeReplicates
	}
	sampling.Workers = 1 // trainees are worked on side by side
	found := make([]*TraineeChange, len(s.Trainees))
	few, capped := 0, 0
	for _, t := range s.Trainees {
		for _, a := range t.Attempts {
			if a.Measured() && a.Censored {
				capped++
			}
		}
	}
	err := resample.Each(ctx, len(s.Trainees), s.shown(), func() func(int) error {
		return func(i int) error {
			t := s.Trainees[i]
			var attempt, value []float64
			for _, a := range t.Attempts {
				if a.Measured() && !a.Censored {
					v := a.Response
					if out.Log {
						v = math.Log(v)
					}
					attempt, value = append(attempt, a.Number), append(value, v)
				}
			}
			b, err := change.Scan(ctx, attempt, value, t.ID, sampling)
			if errors.Is(err, change.ErrChange) {
				return nil
			}
			found[i] = &TraineeChange{Trainee: t.ID, Arm: t.Arm, Break: b}
			return err
		}
	})
	if err != nil {
		return nil, err
	}
	var ps []float64
	for _, f := range found {
		if f == nil {
			few++
			continue
		}
		out.Each, ps = append(out.Each, *f), append(ps, f.P)
	}
	for i, p := range compare.Holm(ps) {
		out.Each[i].PAdjusted = p
	}
	if few > 0 {
		out.Warnings.Add("too-few-attempts", fmt.Sprintf("%s fewer than %d usable attempts and %s not looked at", counted(few, "trainee has", "trainees have"), change.MinAttempts, isAre(few)))
	}
	if capped > 0 {
		out.Warnings.Add("timeouts-left-out", counted(capped, "timeout is", "timeouts are")+" left out of the scan")
	}
	if len(out.Each) == 0 {
		return nil, fmt.Errorf("no trainee has %d usable attempts, so no break can be looked for", change.MinAttempts)
	}
	return out, nil
}
