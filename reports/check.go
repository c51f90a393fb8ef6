package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Check is the answer of the command check: how the input was read and what is
// in it.
type Check struct {
	Header
	Read []string   `json:"read"`
	Arms []ArmCount `json:"arms"`
}

// An ArmCount counts an arm's attempts by outcome.
type ArmCount struct {
	Arm         string `json:"arm"`
	Task        string `json:"task"`
	Trainees    int    `json:"trainees"`
	Attempts    int    `json:"attempts"`
	Done        int    `json:"done"`
	Timeouts    int    `json:"timeouts"`
	Failed      int    `json:"failed"`
	Void        int    `json:"void"`
	NoMeasure   int    `json:"no_measure"`
	MinAttempts Number `json:"min_attempts"`
	MaxAttempts Number `json:"max_attempts"`
	Best        Number `json:"best"`
	Median      Number `json:"median"`
	Worst       Number `json:"worst"`
}

// CheckStudy counts what was read; reading itself has already found every
// problem.
func CheckStudy(in *Input) *Check {
	d := &Check{Header: newHeader("check", in), Read: []string{}, Arms: []ArmCount{}}
	for _, n := range in.File.Notes {
		if n.Code == "read" {
			d.Read = append(d.Read, n.Text)
		}
	}
	if in.File.Ratings != nil {
		for _, n := range in.File.Ratings.Notes {
			d.Read = append(d.Read, n.Text)
		}
		for _, it := range in.File.Ratings.Items {
			d.Read = append(d.Read, fmt.Sprintf("item %s (%s): %d subjects, %d raters", it.Name, it.Scale, len(it.Subjects), len(it.Raters)))
		}
	}
	for _, arm := range in.Arms {
		d.Arms = append(d.Arms, countArm(in, arm))
	}
	for _, t := range in.Trainees {
		if n := len(t.Series.Attempt); n < 5 {
			d.Warn("short-series", fmt.Sprintf("trainee %s has %d usable attempts, too few for a projection", t.ID, n))
		}
	}
	return d
}

func countArm(in *Input, arm string) ArmCount {
	a := ArmCount{Arm: arm, Task: in.Task.Name, MinAttempts: Number(math.NaN()), MaxAttempts: Number(math.NaN()), Best: Number(math.NaN()), Median: Number(math.NaN()), Worst: Number(math.NaN())}
	var exact, made []float64
	for _, i := range in.Members(arm) {
		t := in.Trainees[i]
		a.Trainees++
		a.Failed += t.Fails
		a.Void += t.Voids
		a.NoMeasure += t.Blank
		made = append(made, float64(len(t.Counted)))
		for k, v := range t.Series.Response {
			if t.Series.Censored[k] {
				a.Timeouts++
			} else {
				a.Done++
				exact = append(exact, v)
			}
		}
	}
	a.Attempts = a.Done + a.Timeouts + a.Failed + a.Void + a.NoMeasure
	if len(made) > 0 {
		a.MinAttempts, a.MaxAttempts = Number(slices.Min(made)), Number(slices.Max(made))
	}
	if len(exact) > 0 {
		slices.Sort(exact)
		best, worst := exact[0], exact[len(exact)-1]
		if !in.Task.LowerIsBetter() {
			best, worst = worst, best
		}
		mid := exact[len(exact)/2]
		if len(exact)%2 == 0 {
			mid = (mid + exact[len(exact)/2-1]) / 2
		}
		a.Best, a.Median, a.Worst = Number(best), Number(mid), Number(worst)
	}
	return a
}

// Tables lists the arms.
func (d *Check) Tables() []Table {
	t := Table{Name: "check", Title: "What was read", Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "task", Head: "task"}, {Key: "trainees", Head: "trainees"}, {Key: "attempts", Head: "attempts"},
		{Key: "done", Head: "done"}, {Key: "timeouts", Head: "timeouts"}, {Key: "failed", Head: "failed"}, {Key: "void", Head: "void"}, {Key: "no_measure", Head: "no measure"},
		{Key: "min_attempts", Head: "fewest", Show: Whole}, {Key: "max_attempts", Head: "most", Show: Whole},
		{Key: "best", Head: "best"}, {Key: "median", Head: "median"}, {Key: "worst", Head: "worst"},
	}}
	for _, a := range d.Arms {
		t.Rows = append(t.Rows, []any{ArmName(a.Arm), a.Task, a.Trainees, a.Attempts, a.Done, a.Timeouts, a.Failed, a.Void, a.NoMeasure, float64(a.MinAttempts), float64(a.MaxAttempts), float64(a.Best), float64(a.Median), float64(a.Worst)})
	}
	t.Notes = append(t.Notes, "fewest and most: attempts a trainee, void ones apart; best, median and worst of exact measures.")
	if len(d.Read) > 0 {
		t.Notes = append(t.Notes, strings.Join(d.Read, "; ")+".")
	}
	return []Table{t}
}

func Whole(v float64) string { return attemptsText(v, math.Inf(1)) }
