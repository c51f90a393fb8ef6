package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/study"
)

// Check is the answer of the command check: how the input was read and what is
// in it.
type Check struct {
	Header
	Read  []string   `json:"read"`
	Files []FileRead `json:"files"`
	Arms  []ArmCount `json:"arms"`
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

	behind study.Behind
}

// NewCheck words what was read; reading itself has already found every problem.
func NewCheck(s *study.Study) *Check {
	arms, warnings := s.Counts()
	return NewCheckOf(s, arms, warnings)
}

// NewCheckOf is NewCheck with counts that a [study.Tally] made, of a study without its
// trainees.
func NewCheckOf(s *study.Study, arms []study.ArmCount, warnings study.Warnings) *Check {
	d := &Check{Header: headerOf("check", s), Read: []string{}, Files: filesRead(s), Arms: []ArmCount{}}
	for _, n := range s.Notes {
		if n.Code == "read" {
			d.Read = append(d.Read, n.Text)
		}
	}
	for _, n := range s.ItemNotes {
		if n.Code == "read" {
			d.Read = append(d.Read, n.Text)
		} else {
			d.Warn(n.Code, n.Text)
		}
	}
	for _, it := range s.Items {
		d.Read = append(d.Read, fmt.Sprintf("item %s (%s): %d subjects, %d raters", it.Name, it.Scale, len(it.Subjects), len(it.Raters)))
	}
	for _, a := range arms {
		d.Arms = append(d.Arms, ArmCount{
			Arm: a.Arm, Task: s.Task.Name, Trainees: a.Trainees, Attempts: a.Attempts(), Done: a.Done, Timeouts: a.Timeouts, Failed: a.Failed,
			Void: a.Void, NoMeasure: a.Unmeasured, MinAttempts: Number(a.Fewest), MaxAttempts: Number(a.Most),
			Best: Number(a.Best), Median: Number(a.Median), Worst: Number(a.Worst), behind: a.Behind,
		})
	}
	d.With(warnings)
	return d
}

// Tables lists the arms.
func (d *Check) Tables() []Table {
	rows := d.Arms
	t := Table{Name: "check", Title: "What was read", Columns: []Column{
		Words("arm", "arm", rows, func(a ArmCount) string { return study.ArmName(a.Arm) }),
		Words("task", "task", rows, func(a ArmCount) string { return a.Task }),
		Counts("trainees", "trainees", rows, func(a ArmCount) int { return a.Trainees }),
		Counts("attempts", "attempts", rows, func(a ArmCount) int { return a.Attempts }),
		Counts("done", "done", rows, func(a ArmCount) int { return a.Done }),
		Counts("timeouts", "timeouts", rows, func(a ArmCount) int { return a.Timeouts }),
		Counts("failed", "failed", rows, func(a ArmCount) int { return a.Failed }),
		Counts("void", "void", rows, func(a ArmCount) int { return a.Void }),
		Counts("no_measure", "no measure", rows, func(a ArmCount) int { return a.NoMeasure }),
		Numbers("min_attempts", "fewest", rows, func(a ArmCount) Number { return a.MinAttempts }, Whole),
		Numbers("max_attempts", "most", rows, func(a ArmCount) Number { return a.MaxAttempts }, Whole),
		Numbers("best", "best", rows, func(a ArmCount) Number { return a.Best }, nil),
		Numbers("median", "median", rows, func(a ArmCount) Number { return a.Median }, nil),
		Numbers("worst", "worst", rows, func(a ArmCount) Number { return a.Worst }, nil),
	}}
	t.Notes = append(t.Notes, "fewest and most: attempts a trainee, void ones apart; best, median and worst of exact measures.")
	if len(d.Read) > 0 {
		t.Notes = append(t.Notes, strings.Join(d.Read, "; ")+".")
	}
	out := []Table{t}
	if len(d.Files) > 0 {
		out = append(out, d.fileTable(), d.columnTable())
		if dropped := d.droppedTable(); d.anyDropped() {
			out = append(out, dropped)
		}
	}
	return out
}

// anyDropped reports whether some row was not used.
func (d *Check) anyDropped() bool {
	for _, f := range d.Files {
		if len(f.Dropped) > 0 {
			return true
		}
	}
	return false
}

func Whole(v float64) string { return attemptsText(v, math.Inf(1)) }
