// Package datasets holds what was observed in a study and reads, checks,
// scores and writes it: the study file, the attempt log, the experts' log and
// the ratings, and a bundled demo study.
//
// # Files
//
// A study is a folder with study.yaml, which names its data files, or a single
// table whose columns are named by the caller. Tables are CSV (comma,
// semicolon, tab or bar), XLSX, ODS or Parquet, with one row an attempt, one row a trainee
// or one column a trainee. The source files are never changed.
//
// A table is found in its file by the names of its columns: titles, comments, notes and
// summaries around it are left out and listed. What could mean two things is asked for,
// never guessed, and a study file answers under attempts, experts or ratings with
//
//	attempts:
//	  file: log.xlsx           # or files: [a.csv, b.csv] with files_are: session
//	  sheet: Day 1             # or sheets_are: trainee, session, arm or task
//	  head_rows: 2
//	  skip_rows: 3
//	  decimal: comma           # or point
//	  separator: semicolon     # comma, tab, bar, space
//	  encoding: windows-1252
//	  times: m:ss              # seconds, minutes, hours, days, milliseconds, m.ss, h:mm:ss, m:ss:hh
//	  dates: day-first         # or month-first
//	  unit_suffix: ticks
//	  counted_from_zero: true  # attempts are numbered 0, 1, 2: 0 is the first
//	  over_limit: timeout      # times far above the limit are of attempts stopped late
//	  wide: {T: seconds, E: slips}
//	  columns_are: trainee     # one column a trainee
//	  where: {role: trainee}   # only rows with this text in this column
//	  ignore: [remarks]
//	  fill_down: [trainee]
//	  same: {T01: T1}          # a spelling, and the code that is meant
//	  per_file: {b.csv: {decimal: comma, times: minutes}}
//	codes: {DNF: timeout, x: void, "999": blank}
//
// Of several files each is settled by itself: its decimal mark, times and dates are what its own
// cells show, else what files of the same program show, which is noted. per_file says it of one.
//
// Every file a study file names lies in the study's folder.
//
// # Privacy
//
// Rows of trainees, experts and raters who withdrew or did not consent to the study's purpose
// are left out before anything is made of them, and counted:
//
//	purpose: research
//	privacy:
//	  withdrawn: [T07]
//	  consent:
//	    column: agreed         # of each file: yes, or the purposes agreed to
//	    trainees: {research: [T01, T02], formative: [T01, T03]}
//	    experts: {research: [E1]}
//	    raters: {research: [R1, R2]}
//	  smallest_cell: 5
//
// # Dates
//
// An attempt may carry a date, in the column called date unless the study file
// names another: text as 2026-02-28 or 2026-02-28 14:30 (ISO 8601), with day, month and
// year in another order where the column shows which, or a date cell of a
// spreadsheet. A blank is allowed; any other cell is a problem. Attempts are ordered
// by their numbers; a log without numbers is numbered by its dates.
//
// # The standard
//
// A task's standard is a value with who decided it, when, and on which data; where
// they are known its interval, and the shares of false passes and fails:
//
//	standard:
//	  value: 57
//	  interval: [51.1, 67.9]
//	  method: mean of experts plus 1 SD
//	  decided_by: the lab's standards group
//	  decided_on: 2026-01-12
//	  data: experts.csv
//	  computed: {method: expert-mean, sds: 1, skip_runs: 1}
//
// computed says how it follows from the experts' log, so that it can be computed
// again. Nothing writes into a study file: a decision is put there by hand.
//
// # Attributes of trainees
//
// Site, prior experience and the like are columns of the attempt log, or of a
// table with one row a trainee, and act on parameters of the cohort's curve:
//
//	trainees: {file: trainees.csv}
//	covariates: [{name: experience, on: [rate]}, {name: site, on: [plateau], levels: true}]
//
// Numbers are numbers unless said to be levels; every trainee has one value.
//
// # Watching trainees
//
// A task in the study file may state the failure rates that monitoring charts
// tell apart, decided before looking at the attempts:
//
//	monitor: {acceptable: 0.2, unacceptable: 0.4}
//
// An attempt fails when it does not meet the task's standard. The limits of the
// charts come from these two rates and never from the data; without them the
// report makes no monitoring charts.
//
// # Costs
//
// A task may state what its practice costs, in a currency or any other unit:
//
//	costs: {unit: credits, lab_minutes: 12, examiner_minutes: 4, consumables: 3,
//	  lab_hour_price: 40, examiner_hour_price: 60, per_trainee: 25}
//
// Minutes and consumables are those of one attempt. Without costs nothing is
// said about money.
//
// # A margin
//
// A task may state the largest difference between arms that does not matter in practice,
// with the day it was set. tyro compare takes one that was set before the first attempt:
//
//	margin: {measure: plateau, value: 1.1, kind: equivalence, set_on: 2026-01-12}
//
// The value is a ratio above 1 where arms are compared by ratios (times and counts), else a
// difference above 0. kind is equivalence or non-inferiority.
//
// # Outcomes
//
// done: the measure is exact. timeout: a time is known only to be above the
// limit; a score is at the rule's floor. failed: a hard fail, never a pass, and
// its measure is not comparable. void: an outside reason; excluded, counted and
// reported.
package datasets

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/datasets/problem"
)

// StudyFile is the name of the study file in a study's folder.
const StudyFile = "study.yaml"

// A Study is a study file with its data.
type Study struct {
	Title   string   `yaml:"title"`
	Purpose string   `yaml:"purpose"` // formative, summative or research
	Decides string   `yaml:"decides"` // who decides about trainees
	Seed    uint64   `yaml:"seed"`
	Arms    []string `yaml:"arms"`
	Tasks   []Task   `yaml:"tasks"`

	AttemptFile *LogFile      `yaml:"attempts"`
	ExpertFile  *LogFile      `yaml:"experts"`
	RatingFile  *RatingsFile  `yaml:"ratings"`
	TraineeFile *TraineesFile `yaml:"trainees"`
	// Covariates are attributes of trainees that shift parameters of the
	// cohort's curve.
	Covariates []CovariateChoice `yaml:"covariates"`
	Privacy    *Privacy          `yaml:"privacy"` // nil: nobody is left out
	// Codes says what words in data cells mean: code → outcome.
	Codes map[string]string `yaml:"codes"`

	Attempts Log                 `yaml:"-"`
	Experts  Log                 `yaml:"-"`
	Ratings  *Ratings            `yaml:"-"` // nil when the study has none
	SHA256   string              `yaml:"-"` // of the study file and every data file, in that order
	Notes    []Note              `yaml:"-"` // how the files were read, and what looks odd
	Files    []practice.FileRead `yaml:"-"` // what was read of each log

	attemptSheet, traineeSheet *attributes // where covariates are looked for; nil for none

	out map[person]string // who was left out of the files read so far, and why

	single       bool // one table whose columns the caller named: none is guessed
	measureSaid  bool // the caller said what the measure is
	responseSaid bool // the caller named the column of the measure
	betterSaid   bool // and which way is better
}

// A Task is one thing trainees practise, with the measure followed.
type Task struct {
	Name     string                 `yaml:"name"`
	Measure  Measure                `yaml:"measure"`
	Column   string                 `yaml:"column"` // of the measure; "score" with a scoring rule means its result
	Unit     string                 `yaml:"unit"`
	Better   string                 `yaml:"better"`   // lower or higher
	Limit    float64                `yaml:"limit"`    // time limit; 0 for none
	Counts   []string               `yaml:"counts"`   // columns of error counts
	Standard *practice.Decision     `yaml:"standard"` // nil when none is set
	AtMost   map[string]float64     `yaml:"at_most"`  // error counts a pass may have
	Rule     string                 `yaml:"rule"`     // when a trainee counts as proficient: "2 in a row"
	Horizon  float64                `yaml:"horizon"`  // attempts looked ahead at most
	Scoring  *Scoring               `yaml:"scoring"`
	Monitor  *practice.FailureRates `yaml:"monitor"` // nil when none are stated: then no monitoring charts are made
	Costs    *practice.Costs        `yaml:"costs"`   // nil when none are stated
	Margin   *practice.Margin       `yaml:"margin"`  // nil when none is stated

	RuleGiven bool `yaml:"-"` // the rule comes from the command line, not from the study file
}

// A Measure says what kind of number the response is.
type Measure = practice.Measure

// The measures.
const (
	Time     = practice.Time
	Score    = practice.Score
	Count    = practice.Count
	PassFail = practice.PassFail
)

// A LogFile says how to read an attempt log.
type LogFile struct {
	File     string   `yaml:"file"`
	Files    []string `yaml:"files"`     // several with the same columns, in place of File
	FilesAre string   `yaml:"files_are"` // what each is: trainee, session, arm or task
	Columns  Columns  `yaml:"columns"`
	Layout   `yaml:",inline"`
	// PerFile says of one of several files what holds for it alone, by its name.
	PerFile map[string]FileLayout `yaml:"per_file"`
	// Wide maps the letters before an attempt number in a wide table's column
	// names to measures: {T: seconds, E: wall_punctures} for T1, E1, T2, E2.
	Wide       map[string]string `yaml:"wide"`
	ColumnsAre string            `yaml:"columns_are"`       // trainee: one column a trainee, one row an attempt
	Times      string            `yaml:"times"`             // how times are written: seconds, minutes, m:ss, …
	UnitSuffix string            `yaml:"unit_suffix"`       // what follows the numbers of a measure
	Dates      string            `yaml:"dates"`             // day-first or month-first
	FromZero   bool              `yaml:"counted_from_zero"` // attempts are numbered 0, 1, 2
	OverLimit  string            `yaml:"over_limit"`        // timeout: times far above the limit are timeouts
}

// Columns names the columns of an attempt log; a blank name means the column
// of the canonical name, or none.
type Columns struct {
	Trainee string `yaml:"trainee"`
	Arm     string `yaml:"arm"`
	Task    string `yaml:"task"`
	Session string `yaml:"session"`
	Date    string `yaml:"date"`
	Attempt string `yaml:"attempt"`
	Outcome string `yaml:"outcome"`
}

// A Note is a remark on how the input was read.
type Note = analysis.Warning

// LowerIsBetter reports the direction of the task's measure.
func (t Task) LowerIsBetter() bool { return t.Better == "lower" }

// Plan reads the study file in a folder alone: what is planned, before there are data.
func Plan(ctx context.Context, dir string) (*Study, error) {
	s, _, err := plan(ctx, dir)
	return s, err
}

func plan(ctx context.Context, dir string) (*Study, []byte, error) {
	path := filepath.Join(dir, StudyFile)
	data, err := readFile(ctx, path)
	if errors.Is(err, problem.ErrMissing) {
		return nil, nil, Problem{File: dir, Err: problem.ErrMissing, Expect: "a " + StudyFile + " in the study's folder"}
	}
	if err != nil {
		return nil, nil, err
	}
	s := &Study{out: map[person]string{}}
	if err := decodeYAML(data, s); err != nil {
		return nil, nil, err
	}
	if err := s.settle(); err != nil {
		return nil, nil, err
	}
	return s, data, nil
}

// Open reads the study in a folder.
func Open(ctx context.Context, dir string) (*Study, error) {
	s, data, err := plan(ctx, dir)
	if err != nil {
		return nil, err
	}
	hash := sha256.New()
	hash.Write(data)
	var ps Problems
	read := func(name string, into func(path string, data []byte) error) {
		data, err := readWithin(ctx, dir, name)
		if err == nil {
			hash.Write(data)
			err = into(filepath.Join(dir, name), data)
		}
		ps = problem.Append(ps, err)
	}
	logFile := func(lf *LogFile, into *Log, trainees bool) {
		if lf == nil {
			return
		}
		var all []*table
		names := lf.Files
		if lf.File != "" {
			names = append([]string{lf.File}, names...)
		}
		for _, name := range names {
			read(name, func(path string, data []byte) error {
				t, err := readTable(ctx, path, data, lf.layoutOf(name), s.wantedColumns(*lf))
				all = append(all, t)
				return err
			})
		}
		if len(ps) > 0 {
			return
		}
		t, err := joinFiles(all, names, lf.FilesAre != "")
		if err == nil {
			t.pack()
			*into, err = s.logOf(ctx, t, *lf, trainees)
		}
		ps = problem.Append(ps, err)
	}
	logFile(s.AttemptFile, &s.Attempts, true)
	logFile(s.ExpertFile, &s.Experts, false)
	s.noteBoth()
	s.expertsWorse()
	if len(ps) == 0 {
		ps = append(ps, s.expertsApart()...)
	}
	if s.TraineeFile != nil {
		read(s.TraineeFile.File, func(path string, data []byte) error { return s.readTrainees(ctx, path, data, s.TraineeFile.Trainee) })
	}
	if s.RatingFile != nil {
		s.RatingFile.study = s
		read(s.RatingFile.File, func(path string, data []byte) error {
			r, err := readRatings(ctx, path, data, *s.RatingFile)
			s.Ratings = &r
			if err == nil {
				s.Files = append(s.Files, r.Read)
			}
			return err
		})
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s.tablesUnread(dir)
	if len(ps) == 0 {
		ps = s.withdrawnNowhere()
		s.nameNobodyOut()
	}
	s.SHA256 = hex.EncodeToString(hash.Sum(nil))
	return s, ps.OrNil()
}

// noteBoth notes codes that stand among the trainees and among the experts.
func (s *Study) noteBoth() {
	trainees := map[string]bool{}
	for _, a := range s.Attempts.Attempts {
		trainees[a.Trainee] = true
	}
	var both []string
	for _, a := range s.Experts.Attempts {
		if trainees[a.Trainee] && a.Trainee != "" && !slices.Contains(both, a.Trainee) {
			both = append(both, a.Trainee)
		}
	}
	if len(both) > 0 {
		s.note(Note{Code: "expert-and-trainee", Text: fmt.Sprintf("%s: codes that stand for experts here stand for trainees in %[3]s too (%[2]s); where they are other people give them other codes, and nobody should be held against a standard of their own", s.Experts.File, problem.List(both, 5), s.Attempts.File)})
	}
}

// settle checks the study file and fills defaults.
func (s *Study) settle() error {
	var ps Problems
	bad := func(column, value, expect string, kind error) {
		ps = append(ps, Problem{File: StudyFile, Column: column, Value: value, Expect: expect, Err: kind})
	}
	if s.AttemptFile == nil && s.RatingFile == nil {
		bad("attempts", "", "the name of an attempt log, or of ratings", problem.ErrMissing)
	}
	if s.AttemptFile != nil && len(s.Tasks) == 0 {
		bad("tasks", "", "at least one task", problem.ErrMissing)
	}
	if s.Purpose != "" && !slices.Contains(purposes, s.Purpose) {
		bad("purpose", s.Purpose, "formative, summative or research", problem.ErrUnknown)
	}
	if s.Purpose == "summative" && s.Decides == "" {
		bad("decides", "", "the person who decides about trainees, since the purpose is summative", problem.ErrMissing)
	}
	for _, code := range slices.Sorted(maps.Keys(s.Codes)) {
		ps = problem.Append(ps, CheckCode(code, s.Codes[code]))
	}
	for name, lf := range map[string]*LogFile{"attempts": s.AttemptFile, "experts": s.ExpertFile} {
		if lf != nil {
			ps = append(ps, lf.settle(name)...)
		}
	}
	if p := s.Privacy; p != nil {
		for _, same := range s.sames() {
			p.alike(same)
		}
		if p.SmallestCell != 0 && ranges.SmallestCell.Check(float64(p.SmallestCell)) != nil {
			bad("privacy: smallest_cell", fmt.Sprint(p.SmallestCell), ranges.SmallestCell.String(), problem.ErrRange)
		}
		if p.Consent != nil {
			ps = append(ps, p.Consent.settle(s.Purpose)...)
		}
	}
	if s.RatingFile != nil {
		ps = append(ps, s.RatingFile.Layout.settle("ratings")...)
	}
	ps = append(ps, repeated("arms", s.Arms)...)
	var covariates []string
	for _, c := range s.Covariates {
		covariates = append(covariates, c.Name)
	}
	ps = append(ps, repeated("covariates", covariates)...)
	ps = append(ps, outside(s.headRows())...)
	names := map[string]bool{}
	for i := range s.Tasks {
		t := &s.Tasks[i]
		if names[t.Name] {
			bad("tasks", t.Name, "every task to have its own name", problem.ErrDuplicate)
		}
		names[t.Name] = true
		ps = append(ps, t.settle()...)
	}
	return ps.OrNil()
}

// headRows are the numbers of header rows stated for the data files.
func (s *Study) headRows() []stated {
	var list []stated
	for _, f := range []struct {
		name string
		file *LogFile
	}{{"attempts", s.AttemptFile}, {"experts", s.ExpertFile}} {
		if f.file != nil {
			list = append(list, stated{f.name + ": head_rows", float64(f.file.HeadRows), ranges.HeadRows})
		}
	}
	if s.RatingFile != nil {
		list = append(list, stated{"ratings: head_rows", float64(s.RatingFile.HeadRows), ranges.HeadRows})
	}
	return list
}

// settle checks one task and fills defaults.
func (t *Task) settle() Problems {
	var ps Problems
	bad := func(column, value, expect string, kind error) {
		ps = append(ps, Problem{File: StudyFile, Column: "task " + t.Name + ": " + column, Value: value, Expect: expect, Err: kind})
	}
	if t.Measure == "" {
		t.Measure = Score
	}
	if !slices.Contains([]Measure{Time, Score, Count, PassFail}, t.Measure) {
		bad("measure", string(t.Measure), "time, score, count or pass-fail", problem.ErrUnknown)
	}
	if t.Scoring != nil && t.Column == scoreColumn {
		if way := t.Scoring.better(); t.Better == "" {
			t.Better = way
		} else if t.Better != way {
			bad("better", t.Better, way+", or blank, since the task's score is made by its scoring rule, of which that is better", problem.ErrRange)
		}
	}
	if t.Better == "" {
		t.Better = map[Measure]string{Time: "lower", Count: "lower", Score: "higher", PassFail: "higher"}[t.Measure]
	}
	if t.Better != "lower" && t.Better != "higher" {
		bad("better", t.Better, "lower or higher", problem.ErrUnknown)
	}
	if t.Column == "" {
		bad("column", "", "the column that holds the measure", problem.ErrMissing)
	}
	ps = append(ps, outside(t.numbers())...)
	ps = append(ps, repeated("task "+t.Name+": counts", t.Counts)...)
	if t.Limit > 0 && t.Measure == Time && t.Standard != nil && t.Standard.Value >= t.Limit {
		bad("standard", fmt.Sprint(t.Standard.Value), fmt.Sprintf("a standard below the time limit of %g", t.Limit), problem.ErrRange)
	}
	for _, name := range slices.Sorted(maps.Keys(t.AtMost)) {
		if !slices.Contains(t.Counts, name) {
			bad("at_most", name, "one of the task's counts", problem.ErrUnknown)
		}
	}
	if m := t.Monitor; m != nil && m.Acceptable >= m.Unacceptable {
		bad("monitor", fmt.Sprintf("acceptable %g, unacceptable %g", m.Acceptable, m.Unacceptable), "failure rates with 0 < acceptable < unacceptable < 1", problem.ErrRange)
	}
	if t.Standard != nil {
		checkDecision(*t.Standard, bad)
	}
	if t.Costs != nil {
		ps = append(ps, costProblems(*t.Costs, "task "+t.Name+": costs")...)
	}
	if t.Margin != nil {
		checkMargin(t.Margin, bad)
	}
	if t.Scoring != nil {
		t.Scoring.limit = t.Limit
		ps = append(ps, t.Scoring.settle(*t)...)
	}
	return ps
}

// TaskNamed finds a task; a blank name means the first.
func (s *Study) TaskNamed(name string) (Task, error) {
	for _, t := range s.Tasks {
		if t.Name == name || name == "" {
			return t, nil
		}
	}
	var names []string
	for _, t := range s.Tasks {
		names = append(names, t.Name)
	}
	return Task{}, fmt.Errorf("the study has no task %q; it has %s", name, strings.Join(names, ", "))
}
