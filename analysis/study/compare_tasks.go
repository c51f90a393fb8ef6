package study

import (
	"context"
	"fmt"

	"tyro/analysis/compare"
)

// A TaskComparison is the comparison of one task among several.
type TaskComparison struct {
	Task string
	*Comparison
}

// CompareTasks compares the arms on several tasks of a study in one go. All main contrasts
// of all tasks are one family: their p values are adjusted together.
func CompareTasks(ctx context.Context, tasks []*Study, o CompareOptions) ([]TaskComparison, error) {
	var out []TaskComparison
	var all []compare.Contrast
	for _, s := range tasks {
		c, err := s.Compare(ctx, o)
		if err != nil {
			return nil, fmt.Errorf("task %s: %w", s.Task.Name, err)
		}
		out, all = append(out, TaskComparison{s.Task.Name, c}), append(all, c.Contrasts...)
	}
	compare.AdjustWithin(all, func(compare.Contrast) string { return "" })
	at := 0
	for _, t := range out {
		at += copy(t.Contrasts, all[at:at+len(t.Contrasts)])
	}
	return out, nil
}
