package reports

import (
	"fmt"
	"math"

	"tyro/analysis/study"
)

// Score is the answer of the command score: every attempt's score beside what it is made
// of, and what each component does.
type Score struct {
	Header
	Rule     ScoringRule    `json:"rule"`
	Scored   int            `json:"n_scored"`
	AtFloor  int            `json:"at_floor"`
	AtCap    int            `json:"at_cap"`
	Effects  []WeightEffect `json:"effects"`
	Standard ScoreStandard  `json:"standard"`
	Steps    []WeightStep   `json:"weight_steps"`
	Moves    []StatusMove   `json:"status_changes"`
	Scores   []AttemptScore `json:"scores"`

	step float64
}

// A ScoreStandard is the standard that the experts' scores make under the rule as it is.
type ScoreStandard struct {
	Method   string `json:"method"`
	Estimate Number `json:"estimate"`
	Experts  int    `json:"n_experts"`
	Trainees int    `json:"n_trainees"`
	Meeting  int    `json:"meeting"`
}

// A WeightStep is what a weight changed by the step does to scores, standard and status.
type WeightStep struct {
	Component string `json:"component"`
	Weight    Number `json:"weight"`
	To        Number `json:"changed_to"`
	Changed   Number `json:"mean_score_change"`
	RankKept  Number `json:"rank_correlation"`
	Standard  Number `json:"standard"`
	Moved     Number `json:"standard_change"`
	Meeting   int    `json:"meeting"`
	Gain      int    `json:"newly_meeting"`
	Lose      int    `json:"no_longer_meeting"`
}

// A StatusMove is a trainee whose status a changed weight changes.
type StatusMove struct {
	Trainee   string `json:"trainee"`
	Component string `json:"component"`
	To        Number `json:"changed_to"`
	Meets     bool   `json:"meets"`
}

// A ScoringRule is the rule under which scores were made.
type ScoringRule struct {
	Task    string `json:"task"`
	Version string `json:"version"`
	Date    string `json:"date"`
	Starts  string `json:"starts"`
	Stops   string `json:"stops"`
	Better  string `json:"better"`
	Start   Number `json:"start"`
	Floor   Number `json:"floor"`
	Cap     Number `json:"cap"`
	Experts Number `json:"experts"`
}

// An AttemptScore is an attempt's score with its components.
type AttemptScore struct {
	Trainee string      `json:"trainee"`
	Arm     string      `json:"arm"`
	Attempt Number      `json:"attempt"`
	Outcome string      `json:"outcome"`
	Score   Number      `json:"score"`
	Version string      `json:"scoring_version"`
	Parts   []ScorePart `json:"parts"`
}

// A ScorePart is a component as observed, and the points it adds.
type ScorePart struct {
	Component string `json:"component"`
	Value     Number `json:"value"`
	Points    Number `json:"points"`
}

// A WeightEffect is what one component does to the scores.
type WeightEffect struct {
	Component string `json:"component"`
	Mean      Number `json:"mean_points"`
	Largest   Number `json:"largest_points"`
	Changed   Number `json:"mean_change_without"`
	RankKept  Number `json:"rank_correlation_without"`
}

// NewScore words the scores of a study.
func NewScore(s *study.Study, a *study.Scores) *Score {
	sheet := a.Sheet
	better := "higher"
	if sheet.Lower {
		better = "lower"
	}
	d := &Score{
		Header: headerOf("score", s), Scored: a.Scored, AtFloor: a.AtFloor, AtCap: a.AtCap, Effects: []WeightEffect{}, Scores: []AttemptScore{},
		Rule: ScoringRule{
			Task: sheet.Task, Version: sheet.Version, Date: sheet.Date, Starts: sheet.Starts, Stops: sheet.Stops, Better: better,
			Start: Number(sheet.Start), Floor: Number(sheet.Floor), Cap: Number(sheet.Cap), Experts: Number(sheet.Experts),
		},
	}
	if sheet.Experts == 0 {
		d.Rule.Experts = Number(math.NaN())
	}
	for _, e := range a.Weights {
		d.Effects = append(d.Effects, WeightEffect{e.Component, Number(e.Mean), Number(e.Largest), Number(e.Changed), Number(e.RankKept)})
	}
	for _, x := range sheet.Attempts {
		row := AttemptScore{Trainee: x.Trainee, Arm: x.Arm, Attempt: Number(x.Number), Outcome: x.Outcome.String(), Score: Number(x.Score), Version: sheet.Version, Parts: []ScorePart{}}
		for _, p := range x.Parts {
			row.Parts = append(row.Parts, ScorePart{p.Name, Number(p.Value), Number(p.Adds)})
		}
		d.Scores = append(d.Scores, row)
	}
	d.Standard = ScoreStandard{a.Rule.Method, Number(a.Standard), a.Experts, a.Trainees, a.Meeting}
	d.Steps, d.Moves, d.step = []WeightStep{}, []StatusMove{}, sheet.Step
	for _, w := range a.Steps {
		d.Steps = append(d.Steps, WeightStep{w.Component, Number(w.From), Number(w.To), Number(w.Changed), Number(w.RankKept), Number(w.Standard), Number(w.Standard - a.Standard), w.Meeting, w.Gain, w.Lose})
	}
	for _, m := range a.Moves {
		d.Moves = append(d.Moves, StatusMove{m.Trainee, m.Component, Number(m.To), m.Meets})
	}
	d.With(a.Warnings)
	return d
}

// Tables lists the attempts, then what each component and each weight does.
func (d *Score) Tables() []Table {
	out := []Table{d.scoreTable(), d.EffectTable()}
	if len(d.Steps) > 0 {
		out = append(out, d.StepTable())
	}
	if len(d.Moves) > 0 {
		out = append(out, d.moveTable())
	}
	return out
}

// StepTable is what each weight does to scores, standard and status.
func (d *Score) StepTable() Table {
	rows := d.Steps
	t := Table{Name: "score-weights", Title: fmt.Sprintf("What changes when a weight is %g %% smaller or larger", 100*d.step), Columns: []Column{
		Words("component", "component", rows, func(w WeightStep) string { return w.Component }),
		Numbers("weight", "weight", rows, func(w WeightStep) Number { return w.Weight }, nil),
		Numbers("changed_to", "changed to", rows, func(w WeightStep) Number { return w.To }, nil),
		Numbers("mean_score_change", "score changes by", rows, func(w WeightStep) Number { return w.Changed }, nil),
		Numbers("rank_correlation", "ranks kept", rows, func(w WeightStep) Number { return w.RankKept }, nil),
		Numbers("standard", "standard", rows, func(w WeightStep) Number { return w.Standard }, nil),
		Numbers("standard_change", "standard moves by", rows, func(w WeightStep) Number { return w.Moved }, nil),
		Counts("meeting", "meet it", rows, func(w WeightStep) int { return w.Meeting }),
		Counts("newly_meeting", "newly", rows, func(w WeightStep) int { return w.Gain }),
		Counts("no_longer_meeting", "no longer", rows, func(w WeightStep) int { return w.Lose }),
	}}
	t.Notes = append(t.Notes, "One weight is changed at a time; of bands all points together, from 1. score changes by: on average over the trainees' scores.")
	if s := d.Standard; math.IsNaN(float64(s.Estimate)) {
		t.Hide("standard", "standard_change", "meeting", "newly_meeting", "no_longer_meeting")
		t.Notes = append(t.Notes, "There is no standard from experts' scores, so nothing is said of who meets one.")
	} else {
		t.Notes = append(t.Notes, fmt.Sprintf("standard: from the scores of %s (%s), made anew with the changed weight; as the rule is: %s, and %d of %d trainees meet it.",
			Count(s.Experts, "expert"), s.Method, Significant(float64(s.Estimate), 4), s.Meeting, s.Trainees))
	}
	return t
}

// moveTable lists whose status a changed weight changes.
func (d *Score) moveTable() Table {
	rows := d.Moves
	return Table{Name: "score-status", Title: "Whose status a changed weight changes", Columns: []Column{
		Words("trainee", "trainee", rows, func(m StatusMove) string { return m.Trainee }),
		Words("component", "weight of", rows, func(m StatusMove) string { return m.Component }),
		Numbers("changed_to", "changed to", rows, func(m StatusMove) Number { return m.To }, nil),
		Flags("meets", "then meets the standard", rows, func(m StatusMove) bool { return m.Meets }),
	}}
}

// scoreTable shows no score without the time and the counts it is made of.
func (d *Score) scoreTable() Table {
	rows := d.Scores
	t := Table{Name: "scores", Title: fmt.Sprintf("Scores at %s, rule version %s", d.Rule.Task, d.Rule.Version), Columns: []Column{
		Words("trainee", "trainee", rows, func(a AttemptScore) string { return a.Trainee }),
		Words("arm", "arm", rows, func(a AttemptScore) string { return study.ArmName(a.Arm) }),
		Numbers("attempt", "attempt", rows, func(a AttemptScore) Number { return a.Attempt }, Whole),
		Words("outcome", "outcome", rows, func(a AttemptScore) string { return a.Outcome }),
		Numbers("score", "score", rows, func(a AttemptScore) Number { return a.Score }, nil),
	}}
	if len(rows) > 0 {
		for k, p := range rows[0].Parts {
			t.Columns = append(t.Columns,
				Numbers(p.Component, p.Component, rows, func(a AttemptScore) Number { return a.Parts[k].Value }, nil),
				Numbers(p.Component+"_points", "points", rows, func(a AttemptScore) Number { return a.Parts[k].Points }, nil))
		}
	}
	t.Columns = append(t.Columns, Words("scoring_version", "version", rows, func(a AttemptScore) string { return a.Version }))
	t.Notes = append(t.Notes, "points: what the component adds to the score; a hard fail and a void attempt have no score. Scores of another version must not be compared with these.")
	if d.Rule.Starts != "" || d.Rule.Stops != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("The clock starts: %s. It stops: %s.", first(d.Rule.Starts, "not said"), first(d.Rule.Stops, "not said")))
	}
	return t
}

// EffectTable is what each component does to the scores.
func (d *Score) EffectTable() Table {
	rows := d.Effects
	t := Table{Name: "score-effects", Title: "What each component does to the scores", Columns: []Column{
		Words("component", "component", rows, func(e WeightEffect) string { return e.Component }),
		Numbers("mean_points", "points on average", rows, func(e WeightEffect) Number { return e.Mean }, nil),
		Numbers("largest_points", "most in one score", rows, func(e WeightEffect) Number { return e.Largest }, nil),
		Numbers("mean_change_without", "change without it", rows, func(e WeightEffect) Number { return e.Changed }, nil),
		Numbers("rank_correlation_without", "ranks kept without it", rows, func(e WeightEffect) Number { return e.RankKept }, nil),
	}}
	t.Notes = append(t.Notes,
		"change without it: of a score on average, if the component counted for nothing; ranks kept: rank correlation of the trainees' mean scores with and without it, 1 where it changes no rank.",
		fmt.Sprintf("%d attempts have a score; %d stand at the floor and %d at the cap.", d.Scored, d.AtFloor, d.AtCap))
	return t
}
