package datasets

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// StandardRows says what a row is in a table from which a standard is set.
type StandardRows string

// The kinds of rows.
const (
	ExpertRows    StandardRows = "experts"    // an expert, or one run of an expert
	GroupRows     StandardRows = "groups"     // a trainee with a value, judged competent or not yet
	RatingRows    StandardRows = "ratings"    // a trainee with a value and a rating
	JudgementRows StandardRows = "judgements" // a judge with a column an item, or one judgement
	ClassRows     StandardRows = "classes"    // a class of items of a judge
	ValueRows     StandardRows = "values"     // a trainee with a value, beside a table of judges' bounds
)

// A StandardTable says how to read a table from which a standard is set. A blank
// column name means the canonical one, given beside each.
type StandardTable struct {
	Rows    StandardRows
	Measure Measure // time, score or count; blank means score
	Lower   bool    // smaller values are better

	Response  string // score
	Expert    string // expert; where the table has none, every row is an expert
	Run       string // run; where the table has none, runs are in file order
	Competent string // competent: 1 or 0
	Rating    string // global_rating, else rating
	Judge     string // judge
	Round     string // round; where the table has none, there is one round
	Item      string // item; where the table has none, every other column is an item
	Judgement string // chance; for classes share
	Class     string // class
	Count     string // items: how many are in the class

	// Items are columns whose sum is a trainee's value where Response is blank, Raters
	// those whose mean is; one of the two, or neither.
	Items, Raters []string

	// Bounds is a table with one row a judge: the lowest and highest standard, and the
	// lowest and highest percentage failing, that the judge accepts.
	Bounds                           string
	MinCut, MaxCut, MinFail, MaxFail string // min_cut, max_cut, min_fail, max_fail

	// Trainees is a table with the value of every trainee, for standards from experts
	// or judges; blank for none.
	Trainees string
}

// OpenStandardTable reads a table from which a standard is set: experts as practice,
// everything else as evidence. The task has the measure, and the name of the values
// as its response.
func OpenStandardTable(ctx context.Context, path string, t StandardTable) (practice.Practice, error) {
	p := practice.Practice{
		Title:    filepath.Base(path),
		Task:     practice.Task{Measure: cmp.Or(t.Measure, Score), Response: t.label(), Lower: t.Lower},
		Evidence: &practice.Evidence{PartsAreRaters: len(t.Raters) > 0},
	}
	s, err := OpenSheet(ctx, path)
	if err != nil {
		return p, err
	}
	p.SHA256 = s.SHA256
	e := p.Evidence
	switch t.Rows {
	case ExpertRows:
		p.Experts, err = t.experts(s)
		if t.Expert == "" && !s.Has("expert") {
			p.Notes = append(p.Notes, severalRows(s, "an expert", "where rows are runs of the same people, name the column with --expert")...)
		}
	case JudgementRows:
		e.Rounds, p.Notes, err = t.judgements(s)
	case ClassRows:
		e.Classes, err = t.classes(s)
	case GroupRows, RatingRows, ValueRows:
		err = t.judged(s, e)
		p.Notes = append(p.Notes, severalRows(s, "a trainee", oneRow)...)
	default:
		err = fmt.Errorf("rows of %q: expected experts, groups, ratings, judgements, classes or values", t.Rows)
	}
	if err != nil {
		return p, err
	}
	if t.Rows == ValueRows {
		if err = t.bounds(ctx, &p); err != nil {
			return p, err
		}
	}
	if t.Trainees != "" {
		return p, t.trainees(ctx, &p)
	}
	return p, nil
}

// label is what the values are called.
func (t StandardTable) label() string {
	if t.Response == "" && len(t.parts()) > 0 {
		return "score"
	}
	return cmp.Or(t.Response, "score")
}

// parts are the columns that make up a trainee's value.
func (t StandardTable) parts() []string {
	if len(t.Raters) > 0 {
		return t.Raters
	}
	return t.Items
}

// values are a column, or made of the parts where no column is named; not known
// where a part is not.
func (t StandardTable) values(s *Sheet) (values []float64, parts [][]float64, err error) {
	for k, name := range t.parts() {
		column, err := s.Numbers(name)
		if err != nil {
			return nil, nil, err
		}
		if k == 0 {
			parts = make([][]float64, len(column))
		}
		for i, v := range column {
			parts[i] = append(parts[i], v)
		}
	}
	if t.Response != "" || parts == nil {
		values, err = t.measured(s)
		return values, parts, err
	}
	for _, row := range parts {
		v := 0.0
		for _, part := range row {
			v += part
		}
		if len(t.Raters) > 0 {
			v /= float64(len(row))
		}
		values = append(values, v)
	}
	return values, parts, nil
}

// measured is the column of the measure.
func (t StandardTable) measured(s *Sheet) ([]float64, error) {
	name := cmp.Or(t.Response, "score")
	if t.Measure != Time {
		return s.Numbers(name)
	}
	values, err := s.Seconds(name)
	if err != nil {
		return nil, err
	}
	var ps Problems
	for i, v := range values {
		if v <= 0 {
			ps = append(ps, s.Bad(i, name, fmt.Sprint(v), "a time above 0", problem.ErrRange))
		}
	}
	return values, ps.OrNil()
}

// experts are people with their runs, in the order first seen.
func (t StandardTable) experts(s *Sheet) ([]practice.Trainee, error) {
	values, err := t.measured(s)
	if err != nil {
		return nil, err
	}
	run := make([]float64, len(values))
	for i := range run {
		run[i] = float64(i + 1)
	}
	who := t.Expert
	if who == "" && s.Has("expert") {
		who = "expert"
	}
	var out []practice.Trainee
	if who == "" {
		for i := range values {
			out = append(out, practice.Measured("", run[i:i+1], values[i:i+1]))
		}
		return out, nil
	}
	names, err := s.Text(who)
	if err != nil {
		return nil, err
	}
	order := t.Run
	if order == "" && s.Has("run") {
		order = "run"
	}
	if order != "" {
		if run, err = s.Numbers(order); err != nil {
			return nil, err
		}
	}
	var ps Problems
	for i, name := range names {
		if name == "" {
			ps = append(ps, s.Bad(i, who, "", "the expert of this row", problem.ErrMissing))
		}
		if math.IsNaN(run[i]) {
			ps = append(ps, s.Bad(i, order, "", "the number of this run", problem.ErrMissing))
		}
	}
	if len(ps) > 0 {
		return nil, ps
	}
	return people(names, run, values), nil
}

// people sorts rows into people, in the order first seen, and their attempts by
// number.
func people(names []string, number, values []float64) []practice.Trainee {
	var out []practice.Trainee
	at := map[string]int{}
	for i, name := range names {
		k, known := at[name]
		if !known {
			k = len(out)
			at[name] = k
			out = append(out, practice.Trainee{ID: name})
		}
		out[k].Attempts = append(out[k].Attempts, practice.Attempt{Number: number[i], Response: values[i], Clean: true})
	}
	for _, p := range out {
		slices.SortStableFunc(p.Attempts, func(a, b practice.Attempt) int { return cmp.Compare(a.Number, b.Number) })
	}
	return out
}

// judged reads trainees' values with what was judged of each.
func (t StandardTable) judged(s *Sheet, e *practice.Evidence) (err error) {
	if e.Values, e.Parts, err = t.values(s); err != nil {
		return err
	}
	switch t.Rows {
	case GroupRows:
		return t.groups(s, e)
	case RatingRows:
		name := t.Rating
		if name == "" && s.Has("global_rating") {
			name = "global_rating"
		}
		e.Ratings, err = s.Numbers(cmp.Or(name, "rating"))
	}
	return err
}

// groups reads 1 for competent and 0 for not yet; whoever was not judged has no
// value either.
func (t StandardTable) groups(s *Sheet, e *practice.Evidence) error {
	name := cmp.Or(t.Competent, "competent")
	cells, err := s.Text(name)
	if err != nil {
		return err
	}
	e.Competent = make([]bool, len(cells))
	var ps Problems
	for i, cell := range cells {
		switch cell {
		case "1":
			e.Competent[i] = true
		case "0":
		case "":
			e.Values[i] = math.NaN()
		default:
			ps = append(ps, s.Bad(i, name, cell, "1 for competent or 0 for not yet", problem.ErrUnknown))
		}
	}
	return ps.OrNil()
}

// trainees reads the values of trainees who had no part in the standard.
func (t StandardTable) trainees(ctx context.Context, p *practice.Practice) error {
	e := p.Evidence
	if e.Values != nil {
		return errors.New("the table of this method holds the trainees already; a second one is for standards from experts or judges")
	}
	s, err := OpenSheet(ctx, t.Trainees)
	if err != nil {
		return err
	}
	p.SHA256 = joinedHash(p.SHA256, s.SHA256)
	p.Notes = append(p.Notes, severalRows(s, "a trainee", oneRow)...)
	e.Values, e.Parts, err = t.values(s)
	return err
}

// oneRow is the way out where a trainee has several rows.
const oneRow = "keep one row a trainee, such as the last attempt or the mean of all"

// whoColumns are names of columns that say of whom a row is.
var whoColumns = regexp.MustCompile(`(?i)^((expert|surgeon|operator|physician|trainee|participant|candidate|student|learner|subject|person|resident)([ _]?(no|nr|number|id|code)\.?)?|id|code|name|who|experte|person|teilnehmer(in)?|proband(in)?|kandidat(in)?|lernende[rn]?|participante?|candidat|sujet|stagiaire|étudiant(e)?|alumno|residente|aluno|allievo|deelnemer|cursist|elev|kursant|uczestnik)$`)

// severalRows notes a column that names the same people in several rows where every row counts as
// a person of its own: rows of one person are alike, so that the interval would be too short.
func severalRows(s *Sheet, as, way string) []Note {
	for _, column := range s.Columns() {
		if !whoColumns.MatchString(column) {
			continue
		}
		names, err := s.Text(column)
		if err != nil {
			continue
		}
		rows, people := 0, map[string]bool{}
		for _, name := range names {
			if name != "" {
				rows, people[name] = rows+1, true
			}
		}
		if len(people) < rows {
			return []Note{{Code: "several-rows", Text: fmt.Sprintf("%s: column %s has %d names in %d rows, and every row counts as %s of its own, so that the standard looks surer than it is; %s", s.File, column, len(people), rows, as, way)}}
		}
	}
	return nil
}

// joinedHash is the hash of two files' hashes, in order.
func joinedHash(a, b string) string {
	sum := sha256.Sum256([]byte(a + b))
	return hex.EncodeToString(sum[:])
}

// bounds reads what each judge accepts.
func (t StandardTable) bounds(ctx context.Context, p *practice.Practice) error {
	if t.Bounds == "" {
		return errors.New("the judges' bounds are missing: expected a table with one row a judge")
	}
	s, err := OpenSheet(ctx, t.Bounds)
	if err != nil {
		return err
	}
	p.SHA256 = joinedHash(p.SHA256, s.SHA256)
	var columns [4][]float64
	var ps Problems
	for k, name := range []string{cmp.Or(t.MinCut, "min_cut"), cmp.Or(t.MaxCut, "max_cut"), cmp.Or(t.MinFail, "min_fail"), cmp.Or(t.MaxFail, "max_fail")} {
		if columns[k], err = s.Numbers(name); err != nil {
			return err
		}
		for i, v := range columns[k] {
			if math.IsNaN(v) {
				ps = append(ps, s.Bad(i, name, "", "all four bounds of every judge", problem.ErrMissing))
			}
		}
	}
	for j := range columns[0] {
		p.Evidence.Bounds = append(p.Evidence.Bounds, practice.JudgeBounds{LowestCut: columns[0][j], HighestCut: columns[1][j], LowestFail: columns[2][j], HighestFail: columns[3][j]})
	}
	return ps.OrNil()
}

// classes reads the judges' classes of items, one row a class of a judge.
func (t StandardTable) classes(s *Sheet) ([]practice.JudgeClasses, error) {
	class, count, share := cmp.Or(t.Class, "class"), cmp.Or(t.Count, "items"), cmp.Or(t.Judgement, "share")
	judges, err := s.Text(cmp.Or(t.Judge, "judge"))
	if err != nil {
		return nil, err
	}
	names, err := s.Text(class)
	if err != nil {
		return nil, err
	}
	counts, err := s.Numbers(count)
	if err != nil {
		return nil, err
	}
	shares, err := s.Numbers(share)
	if err != nil {
		return nil, err
	}
	var out []practice.JudgeClasses
	var ps Problems
	seen := map[[2]string]bool{}
	for i, j := range judges {
		key := [2]string{j, names[i]}
		if seen[key] {
			ps = append(ps, s.Bad(i, class, names[i], "a class once for judge "+j, problem.ErrDuplicate))
		}
		seen[key] = true
		if n := counts[i]; !(n >= 0) || n != math.Trunc(n) {
			ps = append(ps, s.Bad(i, count, fmt.Sprint(n), "a whole number of items", problem.ErrRange))
		}
		if v := shares[i]; !(v >= 0 && v <= 1) {
			ps = append(ps, s.Bad(i, share, fmt.Sprint(v), "a share from 0 to 1", problem.ErrRange))
		}
		k := slices.IndexFunc(out, func(x practice.JudgeClasses) bool { return x.Judge == j })
		if k < 0 {
			k = len(out)
			out = append(out, practice.JudgeClasses{Judge: j})
		}
		out[k].Items, out[k].Shares = append(out[k].Items, int(counts[i])), append(out[k].Shares, shares[i])
	}
	if len(ps) > 0 {
		return nil, ps
	}
	return out, nil
}
