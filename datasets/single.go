package datasets

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"path/filepath"
	"slices"

	"tyro/analysis/practice"
)

// A Single describes one table that is a whole study, its columns named by the
// caller.
type Single struct {
	Columns  Columns
	Response string // column of the measure; blank: numbers beside each other in a wide table, called as the measure
	Measure  Measure
	Better   string
	Limit    float64
	Standard *float64
	Rule     string
	Horizon  float64

	Codes map[string]string // what words in cells mean: code → outcome
	Log   LogFile           // how the table is laid out and written

	// Whom says whose attempts are needed, by the trainee's position from 0 in the order first
	// seen; nil: everybody's. Of a Parquet file only those are read, and one attempt of each
	// other trainee.
	Whom func(nth int) bool
}

// task is the one task of the table.
func (c Single) task() Task {
	t := Task{
		Name: practice.UnnamedTask, Measure: c.Measure, Column: c.column(), Better: c.Better,
		Limit: c.Limit, Rule: c.Rule, RuleGiven: c.Rule != "", Horizon: c.Horizon,
	}
	if c.Standard != nil {
		t.Standard = &practice.Decision{Value: *c.Standard, Method: "given on the command line", Given: true}
	}
	return t
}

// column is the name of the measure: as the caller names it, else the one that heads are said to hold and
// that sounds like it, else the word for the measure.
func (c Single) column() string {
	if c.Response != "" {
		return c.Response
	}
	named := slices.Compact(slices.Sorted(maps.Values(c.Log.Wide)))
	if sounds := nameOf[c.Measure]; len(named) > 1 && sounds != nil {
		named = slices.DeleteFunc(named, func(m string) bool { return !sounds(m) })
	}
	if len(named) == 1 {
		return named[0]
	}
	return string(c.Measure)
}

// OpenTable reads one attempt log as a study. Without a trainee column the
// file is one series, and attempts may be any real numbers.
func OpenTable(ctx context.Context, path string, spec Single) (*Study, error) {
	data, err := readFile(ctx, path)
	if err != nil {
		return nil, err
	}
	lf := spec.Log
	lf.File, lf.Columns = path, spec.Columns
	sum := sha256.Sum256(data)
	fresh := func() (*Study, error) {
		s := &Study{Title: filepath.Base(path), Tasks: []Task{spec.task()}, AttemptFile: &lf, Codes: spec.Codes, single: true, measureSaid: spec.Measure != "", responseSaid: spec.Response != "", betterSaid: spec.Better != "", SHA256: hex.EncodeToString(sum[:])}
		return s, s.settle()
	}
	s, err := fresh()
	if err != nil {
		return nil, err
	}
	if s.openSome(ctx, path, data, spec, lf) {
		return s, nil
	}
	if s, err = fresh(); err != nil {
		return nil, err
	}
	people := spec.Columns.Trainee != "" || lf.SheetsAre == "trainee" || lf.ColumnsAre == "trainee"
	s.Attempts, err = s.readLog(ctx, path, data, lf, people)
	return s, err
}

// OpenRatings reads one table of ratings as a study.
func OpenRatings(ctx context.Context, path string, rf RatingsFile) (*Study, error) {
	data, err := readFile(ctx, path)
	if err != nil {
		return nil, err
	}
	r, err := readRatings(ctx, path, data, rf)
	if err != nil {
		return nil, err
	}
	return &Study{Title: filepath.Base(path), RatingFile: &rf, Ratings: &r, SHA256: r.SHA256, Files: []practice.FileRead{r.Read}}, nil
}

// Practised is the one task as the analyses know it, without a table of it.
func (c Single) Practised() (practice.Task, error) {
	t := c.task()
	if err := t.settle().OrNil(); err != nil {
		return practice.Task{}, err
	}
	return t.practised()
}
