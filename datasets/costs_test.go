package datasets

import (
	"errors"
	"math"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// Everything wrong with the costs is said at once, by its name in the study file.
func TestCosts(t *testing.T) {
	task := Task{Name: "t", Column: "s", Costs: &practice.Costs{Consumables: -1, PerTrainee: math.Inf(1), LabHourPrice: 30, ExaminerHourPrice: 50}}
	err := task.settle().OrNil()
	if err == nil {
		t.Fatal("no problem")
	}
	for _, want := range []string{"costs: consumables", "costs: per_trainee", "costs: lab_minutes", "costs: examiner_minutes"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("nothing about %s in\n%v", want, err)
		}
	}
	if err := CheckCosts(practice.Costs{Unit: "crowns"}); !errors.Is(err, problem.ErrMissing) {
		t.Errorf("no cost at all: %v", err)
	}
	if err := CheckCosts(practice.Costs{LabMinutes: 10}); err != nil {
		t.Errorf("minutes without a price: %v", err)
	}
}
