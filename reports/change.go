package reports

import (
	"fmt"
	"math"
	"strconv"

	"tyro/analysis/change"
	"tyro/analysis/study"
)

// Changes is the answer of curve --changes.
type Changes struct {
	Header
	Scale   string       `json:"scale"` // log or identity: of sizes
	Changes []ChangeLine `json:"changes"`

	level float64
}

// A ChangeLine is the likeliest break of one trainee's series.
type ChangeLine struct {
	Trainee    string `json:"trainee"`
	Arm        string `json:"arm"`
	After      Number `json:"after_attempt"`
	Kind       string `json:"kind"`
	Size       Number `json:"size"`
	Ratio      Number `json:"likelihood_ratio"`
	P          Number `json:"p"` // the false-alarm rate in one series
	PAdjusted  Number `json:"p_adjusted"`
	Attempts   int    `json:"attempts"`
	Replicates int    `json:"replicates"`
}

// NewChanges words the answer.
func NewChanges(s *study.Study, a *study.Changes) *Changes {
	d := &Changes{Header: headerOf("curve", s), Scale: "identity", Changes: []ChangeLine{}, level: s.Options.Level}
	if a.Log {
		d.Scale = "log"
	}
	for _, c := range a.Each {
		d.Changes = append(d.Changes, ChangeLine{c.Trainee, c.Arm, Number(c.After), c.Kind, Number(c.Size), Number(c.Ratio), Number(c.P), Number(c.PAdjusted), c.N, c.Replicates})
	}
	d.With(a.Warnings)
	return d
}

// Tables are a row a trainee; notes name those whose series has a break beyond false
// alarms.
func (d *Changes) Tables() []Table {
	rows := d.Changes
	t := Table{Name: "changes", Title: "The likeliest change of method in every trainee's series", Columns: []Column{
		Words("trainee", "trainee", rows, func(c ChangeLine) string { return c.Trainee }),
		Words("arm", "arm", rows, func(c ChangeLine) string { return ArmName(c.Arm) }),
		Counts("attempts", "attempts", rows, func(c ChangeLine) int { return c.Attempts }),
		Numbers("after_attempt", "after attempt", rows, func(c ChangeLine) Number { return c.After }, ThreeDigits),
		Words("kind", "change", rows, func(c ChangeLine) string { return c.Kind }),
		Numbers("size", "size", rows, func(c ChangeLine) Number { return c.Size }, ThreeDigits),
		Numbers("likelihood_ratio", "", rows, func(c ChangeLine) Number { return c.Ratio }, nil),
		Numbers("p", "false alarms", rows, func(c ChangeLine) Number { return c.P }, PValue),
		Numbers("p_adjusted", "p (Holm)", rows, func(c ChangeLine) Number { return c.PAdjusted }, PValue),
		Counts("replicates", "", rows, func(c ChangeLine) int { return c.Replicates }),
	}}
	for _, c := range rows {
		if float64(c.PAdjusted) <= 1-d.level {
			t.Notes = append(t.Notes, d.words(c))
		}
	}
	if len(t.Notes) == 0 {
		t.Notes = append(t.Notes, "No series has a break beyond what false alarms would give, with the looking at all trainees allowed for; that does not show that nobody changed method.")
	}
	t.Notes = append(t.Notes, "False alarms: how often a series without a break has so large a one somewhere, by simulation. Every series has a likeliest break. Nothing is changed in any curve because of it: ask the trainee.")
	if d.Scale == "log" {
		t.Notes = append(t.Notes, "Sizes are differences of logarithms of the time: −0.10 is about 10 % faster.")
	}
	return []Table{t}
}

func (d *Changes) words(c ChangeLine) string {
	size := Significant(float64(c.Size), 3)
	if d.Scale == "log" {
		size = Significant(100*math.Expm1(float64(c.Size)), 2) + " %"
	}
	what := "the level jumps by " + size
	if c.Kind == change.Slope {
		what = "the slope changes by " + size + " an attempt"
	}
	return fmt.Sprintf("Trainee %s: after attempt %s %s (p %s after Holm's adjustment).", c.Trainee, strconv.FormatFloat(float64(c.After), 'g', -1, 64), what, pText(float64(c.PAdjusted)))
}
