package datasets

import (
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"

	"tyro/analysis/practice"
)

// A Single describes one table that is a whole study, its columns named by the
// caller.
type Single struct {
	Columns  Columns
	Response string // column of the measure
	Measure  Measure
	Better   string
	Limit    float64
	Standard *float64
	Rule     string
	Horizon  float64
}

// OpenTable reads one attempt log as a study. Without a trainee column the
// file is one series, and attempts may be any real numbers.
func OpenTable(path string, spec Single) (*Study, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	task := Task{
		Name: "task", Measure: spec.Measure, Column: spec.Response, Better: spec.Better,
		Limit: spec.Limit, Rule: spec.Rule, RuleGiven: spec.Rule != "", Horizon: spec.Horizon,
	}
	if spec.Standard != nil {
		task.Standard = &practice.Decision{Value: *spec.Standard, Method: "given on the command line", Given: true}
	}
	s := &Study{Title: filepath.Base(path), Tasks: []Task{task}, AttemptFile: &LogFile{File: path, Columns: spec.Columns}, single: true}
	if err := s.settle(); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	s.SHA256 = hex.EncodeToString(sum[:])
	s.Attempts, err = s.readLog(path, data, *s.AttemptFile, spec.Columns.Trainee != "")
	return s, err
}

// OpenRatings reads one table of ratings as a study.
func OpenRatings(path string, rf RatingsFile) (*Study, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, err
	}
	r, err := ReadRatings(path, data, rf)
	if err != nil {
		return nil, err
	}
	return &Study{Title: filepath.Base(path), RatingFile: &rf, Ratings: &r, SHA256: r.SHA256}, nil
}
