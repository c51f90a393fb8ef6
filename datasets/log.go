package datasets

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
)

// An Outcome says how an attempt ended.
type Outcome = practice.Outcome

// The outcomes; see the package comment.
const (
	Done    = practice.Done
	Timeout = practice.Timeout
	Failed  = practice.Failed
	Void    = practice.Void
)

func outcomeByName(s string) (Outcome, bool) {
	for _, o := range []Outcome{Done, Timeout, Failed, Void} {
		if strings.EqualFold(s, o.String()) {
			return o, true
		}
	}
	return Done, false
}

// An Attempt is one row of an attempt log.
type Attempt struct {
	Trainee, Arm, Task, Session string
	Date                        string    // 2026-02-28, or 2026-02-28 14:30; blank where not given
	Number                      float64   // attempt, from 1; any real number in a single series
	Values                      []float64 // in the order of Log.Measures; NaN where blank
	Outcome                     Outcome
	Line                        int
}

// A Log is an attempt log in file order.
type Log struct {
	File     string
	Measures []string
	Attempts []Attempt
}

// Dated reports whether any attempt has a date.
func (l Log) Dated() bool {
	return slices.ContainsFunc(l.Attempts, func(a Attempt) bool { return a.Date != "" })
}

// byNumber lists the attempts in the order of their numbers.
func (l Log) byNumber() []Attempt {
	out := slices.Clone(l.Attempts)
	slices.SortStableFunc(out, func(a, b Attempt) int { return cmp.Compare(a.Number, b.Number) })
	return out
}

// Column is the position of a measure; -1 when the log lacks it.
func (l Log) Column(measure string) int { return slices.Index(l.Measures, measure) }

// measures lists the measure columns that the study's tasks need.
func (s *Study) measures() []string {
	var out []string
	add := func(name string) {
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	for _, t := range s.Tasks {
		if t.Scoring == nil || t.Column != scoreColumn {
			add(t.Column)
		}
		if t.Scoring != nil {
			add(t.Scoring.Time)
		}
		for _, c := range t.Counts {
			add(c)
		}
	}
	return out
}

// readLog reads an attempt log and reports every problem in it. Trainees' logs
// must have whole attempt numbers from 1 and no attempt twice.
func (s *Study) readLog(ctx context.Context, path string, data []byte, lf LogFile, trainees bool) (Log, error) {
	t, err := readTable(ctx, path, data, lf.HeadRows)
	if err != nil {
		return Log{}, err
	}
	r := &logReader{study: s, file: t.file, comma: usesDecimalComma(t), spreadsheet: t.separator == 0, calendar: t.calendar, cols: lf.Columns}
	if !s.single {
		r.cols = lf.Columns.orCanonical(t.header, trainees)
	}
	r.measures = s.measures()
	f, err := newFrame(t)
	if err != nil {
		return Log{}, err
	}
	if f, err = r.arrange(f, lf); err != nil {
		return Log{}, err
	}
	log, err := r.read(ctx, f)
	if err != nil {
		return Log{}, err
	}
	if trainees {
		s.attemptSheet = &attributes{&Sheet{File: t.file, table: t, comma: r.comma}, r.cols.Trainee}
		r.checkKeys(log)
		r.checkDates(log)
	}
	s.note(r.describe(t, log))
	s.Notes = append(s.Notes, r.notes...)
	return log, r.problems.orNil()
}

func (s *Study) note(n Note) { s.Notes = append(s.Notes, n) }

// orCanonical fills blank column names with the canonical ones that exist.
func (c Columns) orCanonical(header []string, trainees bool) Columns {
	fill := func(p *string, names ...string) {
		for _, n := range names {
			if *p == "" && slices.Contains(header, n) {
				*p = n
			}
		}
	}
	if trainees {
		fill(&c.Trainee, "trainee")
	} else {
		fill(&c.Trainee, "expert", "trainee")
	}
	fill(&c.Arm, "arm")
	fill(&c.Task, "task")
	fill(&c.Session, "session")
	fill(&c.Date, "date")
	fill(&c.Attempt, "attempt", "run")
	fill(&c.Outcome, "outcome")
	return c
}

// A logReader turns the cells of one log into attempts and collects problems.
type logReader struct {
	study    *Study
	file     string
	comma    bool
	cols     Columns
	measures []string
	problems Problems
	notes    []Note

	spreadsheet bool
	calendar    calendar
	reported    map[int]bool // lines whose date was reported
}

func (r *logReader) bad(line int, column, value, expect string, kind error) {
	r.problems = append(r.problems, Problem{r.file, line, column, value, expect, kind})
}

// wideColumn is a column name that ends in an attempt number: A1, Trial 2,
// "Attempt 03", 7.
var wideColumn = regexp.MustCompile(`^(.*?)[\s_.-]*0*(\d+)$`)

// arrange brings a wide table to one row an attempt and checks that every
// column needed is there.
func (r *logReader) arrange(f frame, lf LogFile) (frame, error) {
	if r.cols.Attempt == "" && r.cols.Trainee != "" {
		blocks, measures, err := r.blocks(f, lf.Wide)
		if err != nil {
			return f, err
		}
		if len(blocks) > 0 {
			var keys []string
			for _, k := range []string{r.cols.Trainee, r.cols.Arm, r.cols.Task, r.cols.Session, r.cols.Date} {
				if k != "" && f.has(k) {
					keys = append(keys, k)
				}
			}
			r.cols.Attempt, r.cols.Outcome = "attempt", ""
			r.notes = append(r.notes, Note{Code: "wide-table", Text: fmt.Sprintf("%s is wide: %d attempts beside each other, read as %s", r.file, len(blocks), strings.Join(measures, " and "))})
			return f.long(keys, r.cols.Attempt, measures, blocks)
		}
	}
	need := append([]string{r.cols.Trainee, r.cols.Arm, r.cols.Task, r.cols.Session, r.cols.Date, r.cols.Attempt, r.cols.Outcome}, r.measures...)
	for _, c := range need {
		if c != "" && !f.has(c) {
			r.bad(1, c, "", "a column of this name; the file has "+strings.Join(headers(f), ", "), ErrMissing)
		}
	}
	if r.cols.Attempt == "" {
		r.bad(1, "attempt", "", "a column with attempt numbers; the file has "+strings.Join(headers(f), ", "), ErrMissing)
	}
	return f, r.problems.orNil()
}

func headers(f frame) []string {
	return slices.DeleteFunc(f.df.Names(), func(n string) bool { return n == lineColumn })
}

// blocks finds the attempts of a wide table among its column names. Without a
// mapping all numbered columns must share one prefix and hold the measure.
func (r *logReader) blocks(f frame, mapping map[string]string) (blocks []block, measures []string, err error) {
	at := map[string]int{}
	prefixes := map[string]bool{}
	for _, name := range headers(f) {
		m := wideColumn.FindStringSubmatch(name)
		if m == nil || slices.Contains([]string{r.cols.Trainee, r.cols.Arm, r.cols.Task, r.cols.Session, r.cols.Date}, name) {
			continue
		}
		prefix, number := m[1], m[2]
		measure, mapped := mapping[prefix]
		if len(mapping) > 0 && !mapped {
			continue
		}
		if !mapped {
			prefixes[prefix] = true
			measure = r.measures[0]
		}
		i, ok := at[number]
		if !ok {
			i = len(blocks)
			at[number] = i
			blocks = append(blocks, block{number, map[string]string{}})
		}
		blocks[i].columns[measure] = name
		if !slices.Contains(measures, measure) {
			measures = append(measures, measure)
		}
	}
	if len(prefixes) > 1 {
		r.bad(1, "", strings.Join(slices.Sorted(func(yield func(string) bool) {
			for p := range prefixes {
				if !yield(p) {
					return
				}
			}
		}), ", "), "numbered columns of one kind, or a mapping of each prefix to a measure (wide: in the study file)", ErrUnknown)
		return nil, nil, r.problems
	}
	if len(blocks) < 2 {
		return nil, nil, nil
	}
	return blocks, measures, nil
}

// read turns the long frame into attempts.
func (r *logReader) read(ctx context.Context, f frame) (Log, error) {
	log := Log{File: r.file, Measures: r.measures}
	lines := f.lines()
	trainee, arm, task, session := f.text(r.cols.Trainee), f.text(r.cols.Arm), f.text(r.cols.Task), f.text(r.cols.Session)
	date, attempt, outcome := f.text(r.cols.Date), f.text(r.cols.Attempt), f.text(r.cols.Outcome)
	cells := make([][]string, len(r.measures))
	for j, m := range r.measures {
		cells[j] = f.text(m)
	}
	wide := r.cols.Outcome == ""
	for i, line := range lines {
		if err := stopped(ctx, i); err != nil {
			return Log{}, err
		}
		a := Attempt{Trainee: trainee[i], Arm: arm[i], Task: task[i], Session: session[i], Line: line}
		blank := true
		for j := range cells {
			blank = blank && cells[j][i] == ""
		}
		if wide && blank {
			continue // a wide table has no attempt there
		}
		if r.cols.Trainee != "" && a.Trainee == "" {
			r.bad(line, r.cols.Trainee, "", "a trainee code", ErrMissing)
		}
		a.Date = r.date(line, date[i])
		a.Number = r.attemptNumber(line, attempt[i])
		a.Outcome = r.outcome(line, outcome[i])
		for j := range cells {
			v, code := r.value(line, r.measures[j], cells[j][i])
			if code != nil && a.Outcome == Done {
				a.Outcome = *code
			}
			a.Values = append(a.Values, v)
		}
		r.settle(&a)
		log.Attempts = append(log.Attempts, a)
	}
	return log, nil
}

func (r *logReader) attemptNumber(line int, cell string) float64 {
	v, ok := parseNumber(cell, r.comma)
	whole := r.cols.Trainee != ""
	switch {
	case cell == "":
		r.bad(line, r.cols.Attempt, cell, "an attempt number", ErrMissing)
	case !ok:
		r.bad(line, r.cols.Attempt, cell, "an attempt number", ErrNotNumber)
	case whole && ranges.Attempt.Check(v) != nil:
		r.bad(line, r.cols.Attempt, cell, ranges.Attempt.String(), ErrRange)
	case !whole && ranges.AttemptLabel.Check(v) != nil:
		r.bad(line, r.cols.Attempt, cell, ranges.AttemptLabel.String(), ErrRange)
	}
	return v
}

func (r *logReader) outcome(line int, cell string) Outcome {
	if cell == "" {
		return Done
	}
	if o, ok := outcomeByName(cell); ok {
		return o
	}
	if o, ok := r.code(cell); ok {
		return o
	}
	r.bad(line, r.cols.Outcome, cell, "done, timeout, failed or void, or a code of the study's table", ErrUnknown)
	return Void
}

func (r *logReader) code(cell string) (Outcome, bool) {
	if name, ok := r.study.Codes[cell]; ok {
		return outcomeByName(name)
	}
	return Done, false
}

// farBeyond is how many times the limit a time must be to be taken for a
// misread one: attempts are stopped at the limit, not at five times of it.
const farBeyond = 5

// value reads a measure; a code of the study's table gives an outcome instead.
func (r *logReader) value(line int, column, cell string) (float64, *Outcome) {
	if cell == "" {
		return math.NaN(), nil
	}
	kind, limit := r.kindOf(column)
	parse := parseNumber
	if kind == Time {
		parse = parseSeconds
	}
	v, ok := parse(cell, r.comma)
	if !ok {
		if o, known := r.code(cell); known {
			return math.NaN(), &o
		}
		if o, known := outcomeByName(cell); known && r.cols.Outcome == "" {
			return math.NaN(), &o
		}
		r.bad(line, column, cell, "a number, or a code of the study's table", ErrNotNumber)
		return math.NaN(), nil
	}
	switch {
	case kind == Time && ranges.Duration.Check(v) != nil:
		r.bad(line, column, cell, ranges.Duration.String(), ErrRange)
	case kind == Count && ranges.Errors.Check(v) != nil:
		r.bad(line, column, cell, ranges.Errors.String(), ErrRange)
	case ranges.Response.Check(v) != nil:
		r.bad(line, column, cell, ranges.Response.String(), ErrRange)
	case kind == PassFail && v != 0 && v != 1:
		r.bad(line, column, cell, "1 for a pass or 0", ErrRange)
	case kind == Time && limit > 0 && v >= farBeyond*limit:
		r.bad(line, column, cell, fmt.Sprintf("a time near the limit of %g; divided by 60 it is %g, so minutes:seconds may have been read as hours:minutes", limit, v/60), ErrRange)
	}
	return v, nil
}

// kindOf is the measure that a column holds, with the limit of a time.
func (r *logReader) kindOf(column string) (Measure, float64) {
	for _, t := range r.study.Tasks {
		switch {
		case t.Column == column:
			return t.Measure, t.Limit
		case t.Scoring != nil && t.Scoring.Time == column:
			return Time, t.Limit
		case slices.Contains(t.Counts, column):
			return Count, 0
		}
	}
	return Score, 0
}

// settle makes outcome and measure agree: a time at the limit is a timeout, a
// timeout without a time stands at the limit, and a done attempt has a measure.
func (r *logReader) settle(a *Attempt) {
	t, ok := r.taskOf(a)
	if !ok {
		return
	}
	col := slices.Index(r.measures, t.Column)
	if t.Measure == Time && col >= 0 {
		if t.Limit > 0 && a.Outcome == Done && a.Values[col] >= t.Limit {
			a.Outcome = Timeout
		}
		if a.Outcome == Timeout && t.Limit > 0 {
			a.Values[col] = t.Limit
		}
		if a.Outcome == Timeout && t.Limit == 0 && math.IsNaN(a.Values[col]) {
			r.bad(a.Line, t.Column, "", "the time at which the attempt was stopped, since the task has no limit", ErrMissing)
		}
	}
	if a.Outcome == Done && col >= 0 && math.IsNaN(a.Values[col]) {
		r.bad(a.Line, t.Column, "", "a value, since the outcome is done", ErrMissing)
	}
	r.score(a, t)
}

func (r *logReader) taskOf(a *Attempt) (Task, bool) {
	if a.Task == "" && len(r.study.Tasks) > 0 {
		a.Task = r.study.Tasks[0].Name
	}
	for _, t := range r.study.Tasks {
		if t.Name == a.Task {
			return t, true
		}
	}
	r.bad(a.Line, r.cols.Task, a.Task, "a task of the study file", ErrUnknown)
	return Task{}, false
}

// checkKeys finds attempts given twice, gaps in the numbering, trainees in two
// arms and codes that differ only in spelling.
func (r *logReader) checkKeys(log Log) {
	type key struct{ trainee, task string }
	lines := map[key]map[float64]int{}
	arms := map[string]string{}
	spelled := map[string]string{}
	var order []key
	for _, a := range log.Attempts {
		k := key{a.Trainee, a.Task}
		if lines[k] == nil {
			lines[k] = map[float64]int{}
			order = append(order, k)
		}
		if first, seen := lines[k][a.Number]; seen && r.cols.Trainee != "" {
			r.bad(a.Line, r.cols.Attempt, strconv.FormatFloat(a.Number, 'g', -1, 64), fmt.Sprintf("each attempt of trainee %s once; it is also on line %d", a.Trainee, first), ErrDuplicate)
		} else {
			lines[k][a.Number] = a.Line
		}
		if arm, seen := arms[a.Trainee]; seen && arm != a.Arm {
			r.bad(a.Line, r.cols.Arm, a.Arm, fmt.Sprintf("trainee %s in one arm only; earlier rows say %q", a.Trainee, arm), ErrDuplicate)
		}
		arms[a.Trainee] = a.Arm
		if len(r.study.Arms) > 0 && a.Arm != "" && !slices.Contains(r.study.Arms, a.Arm) {
			r.bad(a.Line, r.cols.Arm, a.Arm, "one of the study's arms: "+strings.Join(r.study.Arms, ", "), ErrUnknown)
		}
		plain := strings.TrimLeft(strings.ToLower(strings.Join(strings.Fields(strings.NewReplacer(",", " ", ".", " ", "-", " ").Replace(a.Trainee)), "")), "0")
		if other, seen := spelled[plain]; seen && other != a.Trainee {
			r.notes = append(r.notes, Note{Code: "similar-codes", Text: fmt.Sprintf("trainee codes %q and %q look alike; they are kept apart", other, a.Trainee)})
		} else {
			spelled[plain] = a.Trainee
		}
	}
	if r.cols.Trainee == "" {
		return
	}
	for _, k := range order {
		top := 0.0
		for n := range lines[k] {
			top = math.Max(top, n)
		}
		if missing := int(top) - len(lines[k]); missing > 0 && top <= ranges.Attempt.Max {
			r.notes = append(r.notes, Note{Code: "attempt-gaps", Text: fmt.Sprintf("trainee %s lacks %d of the attempts up to %g; numbers are kept as given", k.trainee, missing, top)})
		}
	}
}

// describe says how the file was read.
func (r *logReader) describe(t table, log Log) Note {
	sep := map[rune]string{0: "a spreadsheet", ',': "cells separated by commas", ';': "cells separated by semicolons", '\t': "cells separated by tabs"}[t.separator]
	mark := ""
	if r.comma {
		mark = ", decimal commas"
	}
	return Note{Code: "read", Text: fmt.Sprintf("%s: %d rows, %d attempts, %s%s", filepath.Base(t.file), len(t.rows), len(log.Attempts), sep, mark)}
}
