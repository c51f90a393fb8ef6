package datasets

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A TraineesFile names a table with one row a trainee: prior experience, site and
// other attributes.
type TraineesFile struct {
	File    string `yaml:"file"`
	Trainee string `yaml:"trainee"` // column with the codes; blank: the attempt log's, or trainee
}

// A CovariateChoice asks for an attribute of trainees, a column of the trainees'
// table or of the attempt log, and says on which parameters it acts.
type CovariateChoice struct {
	Name string   `yaml:"name"`
	On   []string `yaml:"on"`
	// Levels takes numbers for names, such as sites called 1, 2 and 3.
	Levels bool `yaml:"levels"`
}

// attributes are a table in which trainees' attributes may stand.
type attributes struct {
	sheet *Sheet
	key   string // column with trainee codes

	coded map[string]string // name → code that stands for it elsewhere; nil where names do
}

// AddTrainees reads a table with one row a trainee beside the study's own data. A
// blank column means the attempt log's, or trainee. The study's hash then covers
// the table too.
func (s *Study) AddTrainees(ctx context.Context, path, column string) error {
	data, err := readFile(ctx, path)
	if err != nil {
		return err
	}
	if err := s.readTrainees(ctx, path, data, column); err != nil {
		return err
	}
	sum := sha256.Sum256(append([]byte(s.SHA256), data...))
	s.SHA256 = hex.EncodeToString(sum[:])
	return nil
}

func (s *Study) readTrainees(ctx context.Context, path string, data []byte, column string) error {
	t, err := readTable(ctx, path, data, Layout{}, slices.DeleteFunc([]string{column}, func(c string) bool { return c == "" }))
	if err != nil {
		return err
	}
	sheet, err := sheetOf(t)
	if err != nil {
		return err
	}
	s.Notes = append(s.Notes, t.notes...)
	if column == "" && s.attemptSheet != nil && sheet.Has(s.attemptSheet.key) {
		column = s.attemptSheet.key
	}
	if column == "" {
		column = "trainee"
	}
	if _, err := sheet.Text(column); err != nil {
		return err
	}
	s.traineeSheet = &attributes{sheet: sheet, key: column}
	return nil
}

// Covariate reads an attribute of the trainees given, from the trainees' table
// where it has the column, else from the attempt log. Every trainee needs one
// value; a value that changes within a trainee, blanks, a single value for all, and
// numbers mixed with words are problems.
func (s *Study) Covariate(c CovariateChoice, trainees []string) (practice.Covariate, error) {
	from := s.traineeSheet
	if from == nil || !from.sheet.Has(c.Name) {
		from = s.attemptSheet
	}
	if from == nil || from.key == "" {
		return practice.Covariate{}, Problem{File: StudyFile, Column: c.Name, Err: problem.ErrMissing, Expect: "trainees, to whom a covariate can belong"}
	}
	cells, err := from.sheet.Text(c.Name)
	if err != nil {
		return practice.Covariate{}, err
	}
	r := covariateReader{attributes: *from, choice: c, wanted: trainees}
	r.collect(cells)
	if len(r.problems) > 0 {
		return practice.Covariate{}, r.problems
	}
	out := r.covariate()
	return out, r.problems.OrNil()
}

// A covariateReader finds one value for each trainee.
type covariateReader struct {
	attributes
	choice   CovariateChoice
	wanted   []string
	order    []string // trainees with a value, as first seen
	value    map[string]string
	row      map[string]int // of the value
	problems Problems
}

func (r *covariateReader) bad(row int, value, expect string, kind error) {
	r.problems = append(r.problems, r.sheet.Bad(row, r.choice.Name, value, expect, kind))
}

// collect takes the first value of every trainee wanted, and reports once each who
// has none or several.
func (r *covariateReader) collect(cells []string) {
	r.value, r.row = map[string]string{}, map[string]int{}
	codes, _ := r.sheet.Text(r.key)
	first, varies := map[string]int{}, map[string]bool{}
	wanted := map[string]bool{}
	for _, id := range r.wanted {
		wanted[id] = true
	}
	for i, id := range codes {
		if code, is := r.coded[id]; is {
			id = code
		}
		if !wanted[id] {
			continue
		}
		if _, seen := first[id]; !seen {
			first[id] = i
		}
		if cells[i] == "" {
			continue
		}
		switch v, seen := r.value[id]; {
		case !seen:
			r.value[id], r.row[id] = cells[i], i
			r.order = append(r.order, id)
		case v != cells[i] && !varies[id]:
			varies[id] = true
			r.bad(i, cells[i], fmt.Sprintf("one value for trainee %s; line %d says %q", id, r.sheet.Line(r.row[id]), v), problem.ErrDuplicate)
		}
	}
	for _, id := range r.wanted {
		row, seen := first[id]
		switch _, has := r.value[id]; {
		case !seen:
			r.problems = append(r.problems, Problem{File: r.sheet.File, Column: r.key, Err: problem.ErrMissing, Expect: fmt.Sprintf("a row for trainee %s", id)})
		case !has:
			r.bad(row, "", fmt.Sprintf("a value for trainee %s", id), problem.ErrMissing)
		}
	}
}

// covariate turns the values into numbers, or levels.
func (r *covariateReader) covariate() practice.Covariate {
	numbers, levels := map[string]float64{}, map[string]string{}
	var words, distinct []string
	seen := map[string]bool{}
	for _, id := range r.order {
		text := r.value[id]
		levels[id] = text
		if !seen[text] {
			seen[text] = true
			distinct = append(distinct, text)
		}
		if v, ok := grid.ParseNumber(text, r.sheet.comma(r.row[id])); ok {
			numbers[id] = v
		} else {
			words = append(words, id)
		}
	}
	name := r.choice.Name
	switch {
	case len(distinct) < 2:
		r.problems = append(r.problems, Problem{File: r.sheet.File, Column: name, Err: problem.ErrRange, Expect: "at least two different values among the trainees"})
	case r.choice.Levels || len(words) == len(r.order):
	case len(words) == 0:
		return practice.Covariate{Name: name, On: r.choice.On, Number: numbers}
	default:
		for _, id := range words {
			r.bad(r.row[id], r.value[id], "a number, as for other trainees, unless the column is said to hold levels", problem.ErrNotNumber)
		}
	}
	return practice.Covariate{Name: name, On: r.choice.On, Levels: distinct, Level: levels}
}

// AttemptColumn is a column of the attempt log by trainee and attempt number, such as the
// device practised on; every attempt of the task must have one.
func (s *Study) AttemptColumn(task, column string) (map[string]map[float64]string, error) {
	t, err := s.TaskNamed(task)
	if err != nil {
		return nil, err
	}
	if s.attemptSheet == nil {
		return nil, Problem{File: StudyFile, Column: column, Err: problem.ErrMissing, Expect: "an attempt log with one row an attempt"}
	}
	cells, err := s.attemptSheet.sheet.Text(column)
	if err != nil {
		return nil, err
	}
	row := map[spot]int{}
	for i := range cells {
		row[s.attemptSheet.sheet.spot(i)] = i
	}
	out := map[string]map[float64]string{}
	var ps Problems
	for _, a := range s.Attempts.Attempts {
		i, ok := row[a.spot()]
		if a.Task != t.Name || !ok {
			continue
		}
		if cells[i] == "" {
			ps = append(ps, s.attemptSheet.sheet.Bad(i, column, "", "a word for every attempt", problem.ErrMissing))
		}
		if out[a.Trainee] == nil {
			out[a.Trainee] = map[float64]string{}
		}
		out[a.Trainee][a.Number] = cells[i]
	}
	return out, ps.OrNil()
}
