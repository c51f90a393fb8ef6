package reports

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"tyro/analysis/standard"
	"tyro/datasets"
)

// StandardColumns name the columns of the tables a standard is read from; a
// blank name means the canonical one.
type StandardColumns struct {
	Response  string // score
	Time      bool   // the response is a time
	Expert    string // expert; without it every row is an expert
	Run       string // run; without it runs are in file order
	SkipRuns  int
	Summary   string // mean, median, best or last of an expert's runs
	Competent string // competent: 1 or 0
	Rating    string // rating
	Judge     string // judge
	Item      string // of a table with one row a judgement; without it every other column is an item
	Judgement string // chance; of the same table
	Round     string // round
	JudgeFile string // hofstee: the judges' bounds

	// TraineeFile is a table with the response of every trainee, whom a standard
	// from experts or judges would pass or fail; blank for none.
	TraineeFile string

	MinCut, MaxCut, MinFail, MaxFail string

	Class, Count string   // ebel: class, items
	Items        []string // columns whose sum is the trainees' score, for its reliability; nil for none
	Raters       []string // columns whose mean is the trainees' score, one a rater; nil for none
}

func or(name, canonical string) string {
	if name == "" {
		return canonical
	}
	return name
}

// ReadStandard reads what a method needs from a table, as a study without
// tasks and the values.
func ReadStandard(ctx context.Context, path, method string, lower bool, c StandardColumns) (*datasets.Study, StandardData, error) {
	s, err := datasets.OpenSheet(ctx, path)
	if err != nil {
		return nil, StandardData{}, err
	}
	study := &datasets.Study{Title: filepath.Base(path), SHA256: s.SHA256}
	var data StandardData
	fromJudges := method == AngoffMethod || method == EbelMethod
	if !fromJudges && len(c.parts()) == 0 && !s.Has(or(c.Response, "score")) {
		_, err := s.Numbers(or(c.Response, "score"))
		return nil, data, fmt.Errorf("%w (name it with --response)", err)
	}
	switch {
	case FromExperts(method):
		data, err = readExperts(s, lower, c.withoutParts())
	case method == ContrastingGroups:
		data, err = readGroups(s, c)
	case method == BorderlineGroup || method == BorderlineRegression:
		data, err = readRatings(s, c)
	case method == AngoffMethod:
		data, study.Notes, err = readJudgements(s, c)
	case method == EbelMethod:
		data, err = readClasses(s, c)
	default:
		data, err = readCompromise(ctx, s, study, c)
	}
	if err == nil && c.TraineeFile != "" {
		err = readTrainees(ctx, study, &data, c)
	} else if err == nil && data.Trainees != nil {
		data.Parts, err = c.partsOf(s)
	}
	data.Label, data.PartsAreRaters = c.label(), len(c.Raters) > 0
	return study, data, err
}

// parts are the columns that make up the trainees' score.
func (c StandardColumns) parts() []string {
	if len(c.Raters) > 0 {
		return c.Raters
	}
	return c.Items
}

func (c StandardColumns) withoutParts() StandardColumns {
	c.Items, c.Raters = nil, nil
	return c
}

// label names the values for a figure's axis.
func (c StandardColumns) label() string {
	if c.Response == "" && len(c.parts()) > 0 {
		return "score"
	}
	return or(c.Response, "score")
}

// partsOf reads the parts, [trainee][part].
func (c StandardColumns) partsOf(s *datasets.Sheet) ([][]float64, error) {
	var out [][]float64
	for k, name := range c.parts() {
		column, err := s.Numbers(name)
		if err != nil {
			return nil, err
		}
		for i, v := range column {
			if k == 0 {
				out = append(out, nil)
			}
			out[i] = append(out[i], v)
		}
	}
	return out, nil
}

// readTrainees adds the values of trainees who had no part in the standard.
func readTrainees(ctx context.Context, study *datasets.Study, data *StandardData, c StandardColumns) error {
	if data.Trainees != nil {
		return errors.New("this method's own table has the trainees; --trainees is for standards from experts or judges")
	}
	s, err := datasets.OpenSheet(ctx, c.TraineeFile)
	if err != nil {
		return err
	}
	if data.Trainees, err = c.values(s); err != nil {
		return err
	}
	if data.Parts, err = c.partsOf(s); err != nil {
		return err
	}
	study.SHA256 = joinedHash(study.SHA256, s.SHA256)
	return nil
}

// joinedHash is the hash of two files' hashes, in order.
func joinedHash(a, b string) string {
	sum := sha256.Sum256([]byte(a + b))
	return hex.EncodeToString(sum[:])
}

// values are the trainees' scores: a column, or the sum of the items' columns or
// the mean of the raters' where no column is named; unknown where a part is.
func (c StandardColumns) values(s *datasets.Sheet) ([]float64, error) {
	if c.Response == "" && len(c.parts()) > 0 {
		table, err := c.partsOf(s)
		out := make([]float64, len(table))
		for i, row := range table {
			for _, v := range row {
				out[i] += v
			}
			if len(c.Raters) > 0 {
				out[i] /= float64(len(row))
			}
		}
		return out, err
	}
	if c.Time {
		return s.Seconds(or(c.Response, "score"))
	}
	return s.Numbers(or(c.Response, "score"))
}

func readExperts(s *datasets.Sheet, lower bool, c StandardColumns) (StandardData, error) {
	values, err := c.values(s)
	if err != nil {
		return StandardData{}, err
	}
	expert := c.Expert
	if expert == "" && s.Has("expert") {
		expert = "expert"
	}
	if expert == "" {
		return StandardData{Experts: values, Runs: single(values)}, nil
	}
	who, err := s.Text(expert)
	if err != nil {
		return StandardData{}, err
	}
	order := make([]float64, len(values))
	for i := range order {
		order[i] = float64(i)
	}
	if run := c.Run; run != "" || s.Has("run") {
		if order, err = s.Numbers(or(run, "run")); err != nil {
			return StandardData{}, err
		}
	}
	return summedUp(who, order, values, lower, c)
}

// single is one run an expert.
func single(values []float64) [][]float64 {
	out := make([][]float64, len(values))
	for i, v := range values {
		out[i] = []float64{v}
	}
	return out
}

// summedUp makes one value an expert, in the order first seen.
func summedUp(who []string, order, values []float64, lower bool, c StandardColumns) (StandardData, error) {
	type run struct{ at, value float64 }
	runs := map[string][]run{}
	var names []string
	for i, w := range who {
		if runs[w] == nil {
			names = append(names, w)
		}
		runs[w] = append(runs[w], run{order[i], values[i]})
	}
	var table [][]float64
	several := false
	for _, n := range names {
		slices.SortStableFunc(runs[n], func(a, b run) int {
			switch {
			case a.at < b.at:
				return -1
			case a.at > b.at:
				return 1
			}
			return 0
		})
		var row []float64
		for _, r := range runs[n] {
			row = append(row, r.value)
		}
		several = several || len(row) > 1
		table = append(table, row)
	}
	out, err := standard.Summaries(table, c.Summary, c.SkipRuns, lower)
	if err != nil {
		return StandardData{}, err
	}
	data := StandardData{Experts: out, Names: names, Runs: table, SkipRuns: c.SkipRuns}
	if several {
		data.RunsEach = "the " + or(c.Summary, "mean") + " of their runs"
		switch {
		case c.SkipRuns == 1:
			data.RunsEach += " but the first"
		case c.SkipRuns > 1:
			data.RunsEach += fmt.Sprintf(" but the first %d", c.SkipRuns)
		}
	}
	return data, nil
}

// StudyExperts takes the experts of a study folder: done runs at the task.
func StudyExperts(in *Input, q StandardQuestion, c StandardColumns) (StandardData, error) {
	log := in.Study.Experts
	var who []string
	var order, values []float64
	for _, a := range log.Attempts {
		if a.Task != in.Task.Name {
			continue
		}
		v := math.NaN()
		if a.Outcome == datasets.Done {
			v = log.Response(a, in.Task)
		}
		who, order, values = append(who, a.Trainee), append(order, a.Number), append(values, v)
	}
	if len(who) == 0 {
		return StandardData{}, errors.New("the study has no experts; name their log in the study file (experts:)")
	}
	data, err := summedUp(who, order, values, in.Task.LowerIsBetter(), c)
	data.Label, data.Computed = in.Task.Column, q.computed(c)
	return data, err
}

// readGroups reads a value and a judgement, 1 or 0, for each trainee.
func readGroups(s *datasets.Sheet, c StandardColumns) (StandardData, error) {
	values, err := c.values(s)
	if err != nil {
		return StandardData{}, err
	}
	column := or(c.Competent, "competent")
	cells, err := s.Text(column)
	if err != nil {
		return StandardData{}, fmt.Errorf("%w (name it with --competent)", err)
	}
	data := StandardData{Trainees: values, Competent: make([]bool, len(cells))}
	var ps datasets.Problems
	for i, cell := range cells {
		switch cell {
		case "1":
			data.Competent[i] = true
		case "0":
		case "":
			data.Trainees[i] = math.NaN() // not judged
		default:
			ps = append(ps, s.Bad(i, column, cell, "1 for competent or 0 for not yet", datasets.ErrUnknown))
		}
	}
	if len(ps) > 0 {
		return StandardData{}, ps
	}
	return data, nil
}

func readRatings(s *datasets.Sheet, c StandardColumns) (StandardData, error) {
	values, err := c.values(s)
	if err != nil {
		return StandardData{}, err
	}
	column := c.Rating
	if column == "" && s.Has("global_rating") {
		column = "global_rating"
	}
	ratings, err := s.Numbers(or(column, "rating"))
	if err != nil {
		return StandardData{}, fmt.Errorf("%w (name it with --rating)", err)
	}
	return StandardData{Trainees: values, Ratings: ratings}, nil
}

// A judgement is one cell of the judges' table with its place.
type judgement struct {
	round, judge, item string
	chance             float64
}

// readJudgements reads rounds of judgements, from a table with one row a judge
// and one column an item, or with one row a judgement.
func readJudgements(s *datasets.Sheet, c StandardColumns) (StandardData, []datasets.Note, error) {
	all, err := judgements(s, c)
	if err != nil {
		return StandardData{}, nil, err
	}
	var notes []datasets.Note
	top := 0.0
	for _, j := range all {
		top = math.Max(top, j.chance)
	}
	if top > 1 {
		notes = append(notes, datasets.Note{Code: "percent", Text: "judgements go above 1 and are read as percentages"})
		for i := range all {
			all[i].chance /= 100
		}
	}
	var data StandardData
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
			return data, nil, datasets.Problem{File: s.File, Column: j.item, Value: j.judge, Err: datasets.ErrDuplicate, Expect: "one judgement of an item by a judge in a round"}
		}
		at[key] = j.chance
	}
	var ps datasets.Problems
	for _, r := range rounds {
		round := JudgeRound{Name: r}
		for _, j := range judges {
			if !slices.ContainsFunc(all, func(x judgement) bool { return x.round == r && x.judge == j }) {
				continue // left the panel
			}
			var row []float64
			for _, i := range items {
				v, ok := at[[3]string{r, j, i}]
				if !ok || math.IsNaN(v) {
					ps = append(ps, datasets.Problem{File: s.File, Column: i, Value: "judge " + j, Err: datasets.ErrMissing, Expect: "every judge's judgement of every item in a round"})
				}
				row = append(row, v)
			}
			round.Judges, round.Judgements = append(round.Judges, j), append(round.Judgements, row)
		}
		data.Rounds = append(data.Rounds, round)
	}
	if len(ps) > 0 {
		return StandardData{}, nil, ps
	}
	return data, notes, nil
}

func judgements(s *datasets.Sheet, c StandardColumns) ([]judgement, error) {
	judge := or(c.Judge, "judge")
	judges, err := s.Text(judge)
	if err != nil {
		return nil, fmt.Errorf("%w (name it with --judge)", err)
	}
	round := c.Round
	if round == "" && s.Has("round") {
		round = "round"
	}
	rounds := make([]string, len(judges))
	if round != "" {
		if rounds, err = s.Text(round); err != nil {
			return nil, err
		}
	}
	item := c.Item
	if item == "" && s.Has("item") {
		item = "item"
	}
	var out []judgement
	if item != "" {
		items, err := s.Text(item)
		if err != nil {
			return nil, err
		}
		chances, err := s.Numbers(or(c.Judgement, "chance"))
		if err != nil {
			return nil, fmt.Errorf("%w (name it with --judgement)", err)
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

// readCompromise reads trainees' values and, from a second table, each judge's
// bounds.
func readCompromise(ctx context.Context, s *datasets.Sheet, study *datasets.Study, c StandardColumns) (StandardData, error) {
	values, err := c.values(s)
	if err != nil {
		return StandardData{}, err
	}
	if c.JudgeFile == "" {
		return StandardData{}, errors.New("hofstee needs the judges' bounds too: give their table with --judges FILE")
	}
	b, err := datasets.OpenSheet(ctx, c.JudgeFile)
	if err != nil {
		return StandardData{}, err
	}
	study.SHA256 = joinedHash(s.SHA256, b.SHA256)
	var columns [4][]float64
	for k, name := range []string{or(c.MinCut, "min_cut"), or(c.MaxCut, "max_cut"), or(c.MinFail, "min_fail"), or(c.MaxFail, "max_fail")} {
		if columns[k], err = b.Numbers(name); err != nil {
			return StandardData{}, fmt.Errorf("%w (name the bounds with --min-cut, --max-cut, --min-fail, --max-fail)", err)
		}
	}
	data := StandardData{Trainees: values}
	for j := range columns[0] {
		data.Bounds = append(data.Bounds, standard.Bound{LowestCut: columns[0][j], HighestCut: columns[1][j], LowestFail: columns[2][j], HighestFail: columns[3][j]})
	}
	return data, nil
}

// readClasses reads the judges' classes of items, one row a class of a judge.
func readClasses(s *datasets.Sheet, c StandardColumns) (StandardData, error) {
	judges, err := s.Text(or(c.Judge, "judge"))
	if err != nil {
		return StandardData{}, fmt.Errorf("%w (name it with --judge)", err)
	}
	classes, err := s.Text(or(c.Class, "class"))
	if err != nil {
		return StandardData{}, fmt.Errorf("%w (name it with --class)", err)
	}
	counts, err := s.Numbers(or(c.Count, "items"))
	if err != nil {
		return StandardData{}, fmt.Errorf("%w (name it with --count)", err)
	}
	shares, err := s.Numbers(or(c.Judgement, "share"))
	if err != nil {
		return StandardData{}, fmt.Errorf("%w (name it with --judgement)", err)
	}
	var data StandardData
	var ps datasets.Problems
	seen := map[[2]string]bool{}
	for i, j := range judges {
		if key := [2]string{j, classes[i]}; seen[key] {
			ps = append(ps, s.Bad(i, or(c.Class, "class"), classes[i], "a class once for judge "+j, datasets.ErrDuplicate))
		} else {
			seen[key] = true
		}
		if n := counts[i]; !(n >= 0) || n != math.Trunc(n) {
			ps = append(ps, s.Bad(i, or(c.Count, "items"), fmt.Sprint(n), "a whole number of items", datasets.ErrRange))
		}
		if v := shares[i]; !(v >= 0 && v <= 1) {
			ps = append(ps, s.Bad(i, or(c.Judgement, "share"), fmt.Sprint(v), "a share from 0 to 1", datasets.ErrRange))
		}
		k := slices.IndexFunc(data.Classes, func(x JudgeClasses) bool { return x.Judge == j })
		if k < 0 {
			k = len(data.Classes)
			data.Classes = append(data.Classes, JudgeClasses{Judge: j})
		}
		data.Classes[k].Items, data.Classes[k].Shares = append(data.Classes[k].Items, int(counts[i])), append(data.Classes[k].Shares, shares[i])
	}
	if len(ps) > 0 {
		return StandardData{}, ps
	}
	return data, nil
}
