package datasets

import (
	"cmp"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// A judgement is one cell of the judges' table with its place.
type judgement struct {
	round, judge, item string
	chance             float64
}

// judgements reads the judges' chances, round by round: one row a judge and one
// column an item, or one row a judgement. Numbers above 1 make all of them
// percentages.
func (t StandardTable) judgements(s *Sheet) ([]practice.JudgeRound, []Note, error) {
	all, err := t.judgementCells(s)
	if err != nil {
		return nil, nil, err
	}
	var notes []Note
	if slices.ContainsFunc(all, func(j judgement) bool { return j.chance > 1 }) {
		if ps := t.mixed(s, all); ps != nil {
			return nil, nil, ps
		}
		notes = append(notes, Note{Code: "percent", Text: "judgements go above 1 and are read as percentages"})
		for i := range all {
			all[i].chance /= 100
		}
	}
	var rounds, judges, items []string
	at := map[[3]string]float64{}
	add := func(list *[]string, v string) {
		if !slices.Contains(*list, v) {
			*list = append(*list, v)
		}
	}
	for _, j := range all {
		add(&rounds, j.round)
		add(&judges, j.judge)
		add(&items, j.item)
		key := [3]string{j.round, j.judge, j.item}
		if _, twice := at[key]; twice {
			return nil, nil, Problem{File: s.File, Column: j.item, Value: j.judge, Err: problem.ErrDuplicate, Expect: "one judgement of an item by a judge in a round"}
		}
		at[key] = j.chance
	}
	var out []practice.JudgeRound
	var ps Problems
	for _, r := range rounds {
		round := practice.JudgeRound{Name: r}
		for _, j := range judges {
			if !slices.ContainsFunc(all, func(x judgement) bool { return x.round == r && x.judge == j }) {
				continue // left the panel
			}
			var row []float64
			for _, i := range items {
				v, ok := at[[3]string{r, j, i}]
				if !ok || math.IsNaN(v) {
					ps = append(ps, Problem{File: s.File, Column: i, Value: "judge " + j, Err: problem.ErrMissing, Expect: "every judge's judgement of every item in a round"})
				}
				row = append(row, v)
			}
			round.Judges, round.Judgements = append(round.Judges, j), append(round.Judgements, row)
		}
		out = append(out, round)
	}
	return out, notes, ps.OrNil()
}

// mixed asks about judges who write shares where others write percentages: read as percentages, 0.7
// would be 0.7 %, and the standard near 0. Judgements that are all 0 are the same on both scales.
func (t StandardTable) mixed(s *Sheet, all []judgement) error {
	largest, parts := map[string]float64{}, map[string]bool{}
	var judges []string
	for _, j := range all {
		if _, seen := largest[j.judge]; !seen {
			judges = append(judges, j.judge)
		}
		largest[j.judge] = math.Max(largest[j.judge], j.chance)
		parts[j.judge] = parts[j.judge] || j.chance > 0 && j.chance <= 1
	}
	var ps Problems
	for _, j := range judges {
		if largest[j] <= 1 && parts[j] {
			ps = append(ps, Problem{File: s.File, Column: cmp.Or(t.Judge, "judge"), Value: j, Err: problem.ErrAmbiguous, Expect: "judgements on one scale; this judge's are all from 0 to 1, and others go above 1: write all of them from 0 to 1, or all as percentages"})
		}
	}
	return ps.OrNil()
}

// judgementCells lists the judgements in file order.
func (t StandardTable) judgementCells(s *Sheet) ([]judgement, error) {
	judge := cmp.Or(t.Judge, "judge")
	judges, err := s.Text(judge)
	if err != nil {
		return nil, err
	}
	round := t.Round
	if round == "" && s.Has("round") {
		round = "round"
	}
	rounds := make([]string, len(judges))
	if round != "" {
		if rounds, err = s.Text(round); err != nil {
			return nil, err
		}
	}
	item := t.Item
	if item == "" && s.Has("item") {
		item = "item"
	}
	var out []judgement
	if item != "" {
		items, err := s.Text(item)
		if err != nil {
			return nil, err
		}
		chances, err := s.Numbers(cmp.Or(t.Judgement, "chance"))
		if err != nil {
			return nil, err
		}
		for i := range judges {
			out = append(out, judgement{rounds[i], judges[i], items[i], chances[i]})
		}
		return out, nil
	}
	for _, column := range s.Columns() {
		if column == judge || column == round {
			continue
		}
		chances, err := s.Numbers(column)
		if err != nil {
			return nil, err
		}
		for i := range judges {
			out = append(out, judgement{rounds[i], judges[i], column, chances[i]})
		}
	}
	return out, nil
}
