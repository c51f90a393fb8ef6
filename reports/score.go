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
	Rule    ScoringRule    `json:"rule"`
	Scored  int            `json:"n_scored"`
	AtFloor int            `json:"at_floor"`
	AtCap   int            `json:"at_cap"`
	Effects []WeightEffect `json:"effects"`
	Scores  []AttemptScore `json:"scores"`
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
	d.With(a.Warnings)
	return d
}

// Tables lists the attempts, then what each component does.
func (d *Score) Tables() []Table {
	return []Table{d.scoreTable(), d.effectTable()}
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

func (d *Score) effectTable() Table {
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
