package reports

import (
	"fmt"
	"math"

	"tyro/analysis/study"
)

// TaskComparisons is the answer of compare --all-tasks.
type TaskComparisons struct {
	Header
	Family    int                    `json:"tests_adjusted_together"`
	Contrasts []TaskContrast         `json:"contrasts"`
	Tasks     map[string]*Comparison `json:"tasks"`

	level float64
}

// A TaskContrast is a contrast of one of the tasks.
type TaskContrast struct {
	Task string `json:"task"`
	Contrast
}

// NewTaskComparisons words the answers, one a task.
func NewTaskComparisons(tasks []*study.Study, as []study.TaskComparison) *TaskComparisons {
	d := &TaskComparisons{Header: headerOf("compare", tasks[0]), Contrasts: []TaskContrast{}, Tasks: map[string]*Comparison{}, level: tasks[0].Options.Level}
	for k, a := range as {
		c := NewComparison(tasks[k], a.Comparison)
		d.Tasks[a.Task] = c
		for _, x := range c.Contrasts {
			d.Contrasts = append(d.Contrasts, TaskContrast{a.Task, x})
			if !math.IsNaN(float64(x.P)) {
				d.Family++
			}
		}
		for _, w := range c.Warnings {
			d.Warn(w.Code, "task "+a.Task+": "+w.Text)
		}
	}
	return d
}

// Tables are one table of all contrasts, with the task before the measure.
func (d *TaskComparisons) Tables() []Table {
	var rows []Contrast
	for _, c := range d.Contrasts {
		one := c.Contrast
		one.Measure = c.Task + ": " + one.Measure
		rows = append(rows, one)
	}
	t := contrastTable("compare", fmt.Sprintf("Arms compared on %d tasks", len(d.Tasks)), rows, d.level)
	t.Notes = append([]string{fmt.Sprintf("p (Holm) takes the %d tests of all tasks together as one family.", d.Family)}, leftOpen(rows)...)
	return []Table{t}
}
