package datasets

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"unicode"

	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
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
	*Place
	Number  float64 // attempt, from 1; any real number in a single series
	Line    int32
	row     int32  // of Log.values
	date    int32  // of Log.dates
	part    uint16 // sheet or file of several, as Log.parts lists them
	Outcome Outcome
}

// A Log is an attempt log in file order.
type Log struct {
	File     string
	Measures []string
	Attempts []Attempt
	values   []float64 // as many an attempt as there are measures
	places   []*Place
	dates    []string // the first is blank
	parts    []string // names of sheets or files put together; nil for one
}

// Values are the measures of an attempt of the log, in the order of Measures; NaN where blank.
func (l Log) Values(a Attempt) []float64 {
	from, n := int(a.row)*len(l.Measures), len(l.Measures)
	return l.values[from : from+n : from+n]
}

// Date is the day of an attempt, as 2026-02-28, or 2026-02-28 14:30; blank where not given.
func (l Log) Date(a Attempt) string {
	if a.date == 0 {
		return ""
	}
	return l.dates[a.date]
}

// Add puts an attempt with its measures at the end of the log. Its place belongs to no other
// log.
func (l *Log) Add(a Attempt, values ...float64) {
	if n := int(a.Place.nth); n >= len(l.places) || l.places[n] != a.Place {
		a.Place.nth = int32(len(l.places))
		l.places = append(l.places, a.Place)
	}
	a.row = int32(len(l.Attempts))
	if n := len(l.Measures); n > 0 {
		a.row = int32(len(l.values) / n)
	}
	l.values = append(l.values, values...)
	l.Attempts = append(l.Attempts, a)
}

// dateOf is the number of a date among those of the log.
func (l *Log) dateOf(text string) int32 {
	if text == "" {
		return 0
	}
	if len(l.dates) == 0 {
		l.dates = append(l.dates, "")
	}
	l.dates = append(l.dates, text)
	return int32(len(l.dates) - 1)
}

// place is the file, or the sheet of it, in which an attempt stands.
func (l Log) place(a Attempt) string {
	if l.parts == nil {
		return l.File
	}
	return l.parts[a.part]
}

// A spot is a row of a log that several sheets or files make.
type spot struct {
	part uint16
	line int32
}

func (a Attempt) spot() spot { return spot{a.part, a.Line} }

// Dated reports whether any attempt has a date.
func (l Log) Dated() bool {
	return slices.ContainsFunc(l.Attempts, func(a Attempt) bool { return a.date != 0 })
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
			for _, c := range t.Scoring.columns() {
				add(c)
			}
		}
		for _, c := range t.Counts {
			add(c)
		}
	}
	return out
}

// wantedColumns are the names that help to find the table: those that the caller gave,
// else the trainee's.
func (s *Study) wantedColumns(lf LogFile) []string {
	c := lf.Columns
	names := []string{c.Trainee, c.Attempt, c.Arm, c.Task, c.Session, c.Date, c.Outcome}
	if c.Attempt != "" || c.Date != "" {
		names = append(names, s.measures()...)
	}
	names = slices.DeleteFunc(names, func(n string) bool { return n == "" || n == sheetColumn && lf.SheetsAre != "" })
	if len(names) == 0 && !s.single {
		names = []string{"trainee"}
	}
	return names
}

// readLog reads an attempt log and reports every problem in it. Trainees' logs must have
// whole attempt numbers from 1 and no attempt twice.
func (s *Study) readLog(ctx context.Context, path string, data []byte, lf LogFile, trainees bool) (Log, error) {
	t, err := readTable(ctx, path, data, lf.Layout, s.wantedColumns(lf))
	if err != nil {
		return Log{}, err
	}
	t.pack()
	if len(data) > largeFile {
		data = nil
		runtime.GC() // else the file's bytes stay beside the attempts made of them
	}
	return s.logOf(ctx, t, lf, trainees)
}

// largeFile is where the memory of a file that was read is worth collecting.
const largeFile = 16 << 20

// logOf reads the attempts of a table.
func (s *Study) logOf(ctx context.Context, t *table, lf LogFile, trainees bool) (Log, error) {
	r := &logReader{study: s, table: t, file: t.file, layout: lf.Layout, log: lf, cols: lf.Columns, wide: lf.Wide, files: slices.Clone(t.files()), notes: t.notes}
	if !s.single {
		r.cols = lf.Columns.orCanonical(t.header, trainees)
	}
	r.sheetRole()
	r.expert = !trainees
	r.honour()
	r.problems = append(r.problems, t.missing(lf.Layout)...)
	r.measures = s.measures()
	for f := range r.files {
		from, to := t.span(f)
		r.files[f].votes = t.votesIn(from, to)
	}
	if err := r.arrange(); err != nil {
		return Log{}, err
	}
	log, err := r.read(ctx)
	if err != nil {
		return Log{}, err
	}
	r.placed = log.placing()
	r.series = r.placed.series()
	if trainees {
		s.attemptSheet = &attributes{sheet: r.asSheet(), key: r.cols.Trainee}
		r.checkKeys(&log)
		r.attemptKinds()
		r.checkDates(log)
		r.ruleDoubts(log)
		r.nobodies()
		r.turnedAround()
		r.seriesDoubts(&log)
		for j, m := range r.readers {
			m.doubtClock(r, &log, j)
		}
	} else if r.cols.Trainee != "" {
		r.checkExperts(&log)
		r.nobodies()
	}
	r.runningTotals(&log)
	r.noteRepeats(log)
	r.likeAttempts()
	r.checkVersion()
	for _, t := range s.Tasks {
		if j := slices.Index(r.measures, t.Column); j >= 0 && r.cols.Trainee != "" {
			r.shifts(&log, t.Name, j)
		}
	}
	r.checkUnused()
	r.besides()
	r.measureIsMean()
	r.relations(&log)
	r.suspects()
	for _, t := range s.Tasks {
		if j := slices.Index(r.measures, t.Column); j >= 0 && r.cols.Trainee != "" {
			r.lostMarks(&log, t.Name, j)
			r.sameAgain(&log, t.Name, j)
			r.attemptCopied(&log, t.Name, j)
			r.apartByOne(&log, t.Name, j)
			r.neverWorse(&log, t.Name, j)
			r.runOnInParts(&log, t.Name, j)
			r.someWithoutColon(&log, t.Name, j)
			r.numbersAsText(&log, t, j)
			r.exchanged(&log, t.Name, j)
			r.cutDigits(&log, t.Name, j)
			r.roundedBy(&log, j)
		}
	}
	for _, m := range r.readers {
		m.oneNumberOften(r)
	}
	r.getsWorse(&log)
	for _, t := range s.Tasks {
		r.beginAnew(&log, t)
	}
	r.turnedRound(&log)
	r.sessionsApart(&log)
	r.someRunOn(&log)
	for _, t := range s.Tasks {
		if j := slices.Index(r.measures, t.Column); j >= 0 && r.cols.Trainee != "" {
			r.someGetWorse(&log, t.Name, j)
		}
	}
	r.within()
	r.codesOfParts()
	r.roleAgain()
	r.otherOrder(&log)
	r.unreadDates(&log)
	r.risesForAll(&log)
	r.unitsApart()
	r.stoppedApart()
	r.armOfEach(&log)
	r.codesBeside()
	r.otherUnit()
	for _, f := range r.pictures(log) {
		s.Files = append(s.Files, f)
		s.note(r.describe(f))
	}
	s.Notes = append(s.Notes, r.notes...)
	return log, r.problems.OrNil()
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
	table    *table
	file     string
	layout   Layout
	log      LogFile
	cols     Columns
	wide     map[string]string
	measures []string
	readers  []*measureReader // by measure
	slotted  []slot           // of a wide table; one slot with every measure otherwise
	startEnd []string         // columns that say when attempts began and ended
	isWide   bool
	expert   bool // the log is the experts', or a single series
	through  bool // attempts of a wide table are numbered over its sessions
	files    []source
	problems Problems
	notes    []Note
	named    []string // columns used beside those of roles and measures
	aside    []string // columns of what looks like a second table beside the first
	remarked []string // columns whose remarks were spoken of

	numbers       []float64            // attempt numbers by cell; NaN for one not read
	behind        *bool                // all attempts have one word behind their numbers; nil where nobody asked
	dates         []int32              // by cell, of the log's dates; 0 for one not read
	moments       map[grid.Cell]string // date and time with seconds, where order needs them
	inUTC         map[grid.Cell]string // the same by the clock of UTC, of cells that say how far theirs is from it
	zones         []string             // such distances as cells have them; blank for none
	dateCells     []grid.Cell          // of each attempt, where order needs them
	dateOrders    []string             // of each file
	reported      map[spot]bool        // rows whose date was reported
	timeouts      []int                // of each file, attempts made timeouts because their time reached the limit
	over          []spot               // those above it
	early         []spot               // timeouts before the limit
	gaps          []bool               // of each trainee: its numbers leave some out
	sameDate      tie
	apart         string    // what tells rows of the same attempt apart, as last found
	allTwice      bool      // of the trainee whose rows these are: every attempt stands there twice
	order         []float64 // room for numbers that are sorted
	placed        placing
	numberedCodes map[string]bool       // codes with an attempt number in some row
	listed        map[int][]writtenCell // distinct cells by column
	listedRows    int
	series        seriesList
}

func (r *logReader) bad(line int, column, value, expect string, kind error) {
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Column: column, Value: value, Expect: expect, Err: kind})
}

// badAttempt is a problem of an attempt.
func (r *logReader) badAttempt(a Attempt, column, value, expect string, kind error) {
	r.problems = append(r.problems, Problem{File: r.placeOf(a.spot()), Line: int(a.Line), Column: column, Value: value, Expect: expect, Err: kind})
}

// placeOf is the file, or the sheet, of a row.
func (r *logReader) placeOf(at spot) string {
	if r.table.parts == nil {
		return r.file
	}
	return r.table.parts[at.part].name
}

// spotOf is where a row of the table stands.
func (r *logReader) spotOf(i int) spot {
	return spot{uint16(r.table.partAt(i)), int32(r.table.line(i))}
}

// lines lists some rows: by their lines, in several files with the file of each.
func (r *logReader) lines(at []spot) string {
	var out []string
	for _, s := range at {
		text := fmt.Sprint(s.line)
		if len(r.table.parts) > 1 {
			text += " of " + r.placeOf(s)
		}
		out = append(out, text)
	}
	return problem.List(out, 8)
}

// badAt is a problem in a row of the table.
func (r *logReader) badAt(i int, column, value, expect string, kind error) {
	r.problems = append(r.problems, Problem{File: r.table.place(i), Line: r.table.line(i), Column: column, Value: value, Expect: expect, Err: kind})
}

// ask is a problem that only the user can settle: something could be two things.
func (r *logReader) ask(column, value, expect string) {
	r.bad(0, column, value, expect, problem.ErrAmbiguous)
}

func (r *logReader) note(code, text string) {
	if n := (Note{Code: code, Text: text}); !slices.Contains(r.notes, n) {
		r.notes = append(r.notes, n)
	}
}

// headLine is the line of the names, as far as the rows below them tell.
func (t *table) headLine() int {
	if len(t.keep) == 0 {
		return 1
	}
	return max(1, int(t.lines[t.keep[0]])-1)
}

// sheetRole gives the names of sheets their role.
func (r *logReader) sheetRole() {
	is := r.layout.SheetsAre
	if r.log.FilesAre != "" {
		is = r.log.FilesAre
	}
	switch is {
	case "trainee":
		r.cols.Trainee = sheetColumn
	case "session":
		r.cols.Session = sheetColumn
	case "arm":
		r.cols.Arm = sheetColumn
	case "task":
		r.cols.Task = sheetColumn
	}
}

// arrange finds where attempts stand in the table, and checks that every column needed is
// there.
func (r *logReader) arrange() error {
	t := r.table
	if len(r.problems) > 0 {
		return r.problems
	}
	r.canonicalOutcome()
	repeats := r.cols.Attempt == "" && r.cols.Date == "" && r.cols.Trainee != "" && len(r.wide) == 0 && len(r.measures) > 0 && slices.Contains(t.twice, r.measures[0])
	for _, name := range t.twice {
		if repeats && slices.Contains(r.measures, name) {
			continue
		}
		if r.role(name) || slices.Contains(r.measures, name) {
			r.bad(t.headLine(), name, "", "every column to have its own name: rename one, and put a table that stands beside another below it or into a file of its own", problem.ErrDuplicate)
		}
	}
	switch hasResponse := len(r.measures) > 0 && t.column(r.measures[0]) >= 0; {
	case r.log.ColumnsAre == "trainee":
		r.slotted, r.isWide = r.traineeSlots(), true
		r.cols.Trainee = sheetColumn
	case repeats:
		r.slotted, r.isWide = r.repeatedNames(), true
	case r.cols.Attempt == "" && r.cols.Trainee != "" && (!hasResponse || len(r.wide) > 0 || r.repeatedResponse()):
		r.slotted = r.slots()
		r.isWide = r.slotted != nil
	}
	if len(r.problems) > 0 {
		return r.problems
	}
	if r.isWide && r.log.ColumnsAre == "" {
		r.cols.Outcome = ""
		r.note("wide-table", fmt.Sprintf("%s is wide: %d attempts beside each other, read as %s", r.file, len(r.slotted), strings.Join(r.slotMeasures(), " and ")))
	}
	need := []string{r.cols.Arm, r.cols.Task, r.cols.Session, r.cols.Date, r.cols.Attempt, r.cols.Outcome}
	if r.log.ColumnsAre == "" {
		need = append([]string{r.cols.Trainee}, need...)
	}
	if !r.isWide {
		need = append(need, r.measures...)
	}
	for _, c := range need {
		switch {
		case c == "" || t.column(c) >= 0:
		case r.study.single && !r.study.responseSaid && slices.Contains(r.measures, c):
			r.bad(t.headLine(), "", "", "to be told which column holds the measure: --response COL; the file has "+problem.List(t.names(), 40)+r.wayTo(c), problem.ErrMissing)
		default:
			r.bad(t.headLine(), c, "", "a column of this name; the file has "+problem.List(t.names(), 40)+r.wayTo(c), problem.ErrMissing)
		}
	}
	if r.cols.Attempt == "" && r.cols.Date == "" && (!r.isWide || r.log.ColumnsAre != "") {
		r.bad(t.headLine(), "attempt", "", "a column with attempt numbers, or with dates to number them by: --attempt or --date names it (in a study file: columns: attempt, date); the file has "+problem.List(t.names(), 40), problem.ErrMissing)
	}
	r.lacking()
	if !r.isWide {
		s := slot{columns: r.noColumns()}
		for j, m := range r.measures {
			s.columns[j] = t.column(m)
		}
		r.slotted = []slot{s}
	}
	return r.problems.OrNil()
}

// wayTo is the way out where a column is not there.
func (r *logReader) wayTo(name string) string {
	numbers := 0
	for _, h := range r.table.names() {
		once, _, _ := strings.Cut(h, " (column ")
		_, ok := grid.ParseNumber(once, strings.Contains(once, ","))
		if _, time := colonTime(once, ""); ok || time {
			numbers++
		}
	}
	switch {
	case r.table.read.Encoding == "Windows-1252" && strings.ContainsFunc(name, func(c rune) bool { return c > 0x24f }):
		return "; the file is not UTF-8 and is read as Windows-1252, which has no such letters: it is in another encoding: save it as UTF-8, or say --encoding (in a study file: encoding)"
	case r.table.isNested(name):
		return "; its cells hold lists or columns of their own, which are not read: write one row an attempt"
	case len(r.table.names()) == 1 && !r.table.spreadsheet:
		return r.oneColumnWay()
	case slices.Contains(r.measures, name) && r.cols.Trainee == "" && r.cols.Attempt != "" && r.table.column(r.cols.Attempt) >= 0:
		return "; where every other column is a trainee say --columns-are trainee (in a study file: columns_are)"
	case numbers > 1 && r.table.headLine() == 1:
		return "; its first line looks like data: write the names of the columns above it"
	}
	if way := r.otherCapitals(name); way != "" || r.study.single {
		return way
	}
	return "; say which it is, in the study file: columns: {trainee: NAME, attempt: NAME}"
}

// oneColumnWay is the way out where no separator was found.
func (r *logReader) oneColumnWay() string {
	return " as its only column: say --separator space (or comma, semicolon, tab, bar; in a study file: separator) where it holds several"
}

// otherCapitals is the way out where only capitals differ.
func (r *logReader) otherCapitals(name string) string {
	for _, h := range r.table.names() {
		if strings.EqualFold(h, name) {
			return fmt.Sprintf("; did you mean %s?", h)
		}
	}
	return ""
}

// canonicalOutcome uses a column called outcome that nobody named, where all its cells are
// outcomes: without it failed attempts would count as done.
func (r *logReader) canonicalOutcome() {
	j := r.table.column("outcome")
	if !r.study.single || r.cols.Outcome != "" || j < 0 || slices.Contains(r.layout.Ignore, "outcome") {
		return
	}
	for _, c := range r.distinct(j) {
		_, isOutcome := outcomeByName(c.text)
		if _, isCode := r.code(c.text); !isOutcome && !isCode {
			return
		}
	}
	r.cols.Outcome = "outcome"
	r.note("outcome-used", fmt.Sprintf("%s: column outcome says how attempts ended and is used, though no flag names it", r.file))
}

// repeatedResponse reports whether the response stands again beside itself with a number:
// time, time.1, time.2.
func (r *logReader) repeatedResponse() bool {
	for _, h := range r.numberedHeads() {
		if h.key == r.measures[0] && len(h.numbers) == 1 {
			return true
		}
	}
	return false
}

func (r *logReader) slotMeasures() []string {
	var out []string
	for j, m := range r.measures {
		if slices.ContainsFunc(r.slotted, func(s slot) bool { return s.columns[j] >= 0 }) {
			out = append(out, m)
		}
	}
	return out
}

// kindOf is the measure that a column holds, with the limit of a time and its standard.
func (r *logReader) kindOf(column string) (kind Measure, limit, standard float64) {
	for _, t := range r.study.Tasks {
		switch {
		case t.Column == column:
			if t.Standard != nil && (t.Measure == Time || t.Measure == Score) {
				standard = t.Standard.Value
			}
			return t.Measure, t.Limit, standard
		case t.Scoring != nil && t.Scoring.Time == column:
			return Time, t.Limit, 0
		case slices.Contains(t.Counts, column):
			return Count, 0, 0
		}
	}
	return Score, 0, 0
}

// headsOf is what the names of columns beside each other are without their numbers; blank where they differ.
func (r *logReader) headsOf(columns []int) string {
	words := ""
	for k, j := range columns {
		own := strings.Join(strings.Fields(headNumber.ReplaceAllString(r.table.header[j], " ")), " ")
		if !r.isWide || r.log.ColumnsAre != "" || k > 0 && own != words {
			return ""
		}
		words = own
	}
	return words
}

// called reports whether the name of a measure, or what stands above its columns, is of some kind.
func (m *measureReader) called(is func(string) bool) bool {
	return is(m.name) || m.heads != "" && is(m.heads)
}

// spoken is what a note calls the measure by, where it is about its name.
func (m *measureReader) spoken() string { return cmp.Or(m.heads, m.name) }

// readMeasures settles what the cells of every measure mean.
func (r *logReader) readMeasures() {
	for j, name := range r.measures {
		m := &measureReader{name: name}
		m.kind, m.limit, m.standard = r.kindOf(name)
		m.unit = r.unitSaid(name)
		for _, s := range r.slotted {
			if s.columns[j] >= 0 {
				m.columns = append(m.columns, s.columns[j])
			}
		}
		m.heads = r.headsOf(m.columns)
		m.read(r)
		m.exact = slices.ContainsFunc(m.cells, func(c writtenCell) bool {
			v := m.readings[c.id].value
			return m.limit > 0 && v > littleBeyond*m.limit && v != math.Trunc(v)
		})
		m.doubtMeasure(r)
		m.doubtBlankCounts(r)
		r.readers = append(r.readers, m)
	}
}

// texts are the cells of a role's column, with the spellings that are said to be the same
// made one.
func (r *logReader) texts(column string) func(i int) string {
	j := r.table.column(column)
	if column == "" || j < 0 {
		return func(int) string { return "" }
	}
	return func(i int) string {
		s := r.table.text(i, j)
		if same, ok := r.layout.Same[s]; ok {
			return same
		}
		return s
	}
}

// read turns the table into attempts.
func (r *logReader) read(ctx context.Context) (Log, error) {
	r.dropHeads()
	r.dropSummaries()
	r.dropFooters()
	r.dropNamelessSums()
	r.readMeasures()
	t := r.table
	log := Log{File: r.file, parts: t.partNames(), Measures: r.measures, Attempts: make([]Attempt, 0, t.rows()*len(r.slotted)), values: make([]float64, 0, t.rows()*len(r.slotted)*len(r.measures))}
	trainee, arm, task, session := r.texts(r.cols.Trainee), r.texts(r.cols.Arm), r.texts(r.cols.Task), r.texts(r.cols.Session)
	date, attempt, outcome := t.column(r.cols.Date), t.column(r.cols.Attempt), r.texts(r.cols.Outcome)
	if r.cols.Date == "" {
		date = -1
	}
	r.settleDates(r.datesOf(date))
	r.timeouts = make([]int, len(r.files))
	doneCells := make([][]bool, len(r.measures))
	for j := range doneCells {
		doneCells[j] = make([]bool, len(t.pool.Texts))
	}
	codes, places := map[string]Outcome{}, placeList{}
	var last *Place      // of the attempt before
	var values []float64 // of one attempt
	slotDates := make([]int32, len(r.slotted))
	for k, s := range r.slotted {
		slotDates[k] = log.dateOf(s.date)
	}
	var blanks []spot
	var between []int // of these, the rows of a long table
	for i := range t.keep {
		if err := grid.Stopped(ctx, i); err != nil {
			return Log{}, err
		}
		who := trainee(i)
		if r.cols.Trainee != "" && who == "" && r.log.ColumnsAre == "" && !r.blankEverywhere(i) {
			if r.nameless(i) {
				r.badAt(i, r.cols.Trainee, "", "a trainee code and an attempt"+r.namelessWay(i)+r.fillWay(i), problem.ErrMissing)
				t.drop(i, "neither a trainee nor an attempt")
				continue
			}
			r.badAt(i, r.cols.Trainee, "", "a trainee code"+r.fillWay(i), problem.ErrMissing)
		}
		before, part := len(log.Attempts), uint16(t.partAt(i))
		for k, s := range r.slotted {
			blank := true
			for _, j := range s.columns {
				id := t.cell(i, j)
				blank = blank && (id == 0 || r.isNothing(id))
			}
			if blank && r.cols.Outcome == "" {
				if !r.isWide {
					blanks, between = append(blanks, r.spotOf(i)), append(between, i)
					t.drop(i, "no measure")
				}
				continue
			}
			at := Place{Trainee: who, Arm: arm(i), Task: task(i), Session: session(i)}
			if s.session != "" {
				at.Session = s.session
			}
			if s.trainee != "" {
				at.Trainee = s.trainee
			}
			known := r.knownTask(&at, i)
			if last == nil || last.Trainee != at.Trainee || last.Session != at.Session || last.Arm != at.Arm || last.Task != at.Task {
				last = places.of(at)
			}
			a := Attempt{Place: last, Line: int32(t.line(i)), row: int32(len(log.Attempts)), part: part, date: slotDates[k]}
			if date >= 0 {
				a.date = r.date(&log, i, date)
				if r.cols.Attempt == "" && !r.isWide {
					r.dateCells = append(r.dateCells, t.cell(i, date))
				}
			}
			switch {
			case s.number != "":
				a.Number = grid.Number(s.number)
			case attempt >= 0:
				a.Number = r.attemptNumber(i, attempt)
			default:
				a.Number = float64(len(log.Attempts) + 1) // numbered by date below
			}
			if word := outcome(i); word != "" {
				o, read := codes[word]
				if !read {
					n := len(r.problems)
					o = r.outcome(i, word)
					if len(r.problems) == n {
						codes[word] = o
					}
				}
				a.Outcome = o
			}
			values = values[:0]
			for j, c := range s.columns {
				v := math.NaN()
				if id := t.cell(i, c); id != 0 {
					got := r.readers[j].readings[id]
					switch got.state {
					case isNumber:
						v = got.value
						if a.Outcome == Done {
							doneCells[j][id] = true
						}
					case isOver:
						v = got.value
						if a.Outcome == Done {
							a.Outcome = Timeout
						}
					case isCode:
						if a.Outcome == Done {
							a.Outcome = got.outcome
						}
					case isBad:
						v = math.NaN()
					}
				}
				values = append(values, v)
			}
			if known != nil {
				r.settle(&a, values, known, i, s)
			}
			log.values, log.Attempts = append(log.values, values...), append(log.Attempts, a)
		}
		if r.isWide && len(log.Attempts) == before {
			t.drop(i, "no measure")
			blanks, between = append(blanks, r.spotOf(i)), append(between, i)
		}
	}
	log.places = places.all
	for j, m := range r.readers {
		m.doubtSentinels(r, doneCells[j])
	}
	r.askLimit(len(log.Attempts))
	r.onceAsked()
	if len(blanks) > 0 {
		r.sayBetween(between, log)
		r.note("blank-rows", fmt.Sprintf("%s: %d rows have no %s and no outcome, and are not attempts (line %s)", r.file, len(blanks), strings.Join(r.measures, " or "), r.lines(blanks)))
	}
	r.noteLimits()
	if r.log.FromZero && !slices.ContainsFunc(log.Attempts, func(a Attempt) bool { return a.Number == 1 }) {
		r.note("no-attempt-zero", fmt.Sprintf("%s: attempts are said to be counted from 0, but none has the number 0", r.file))
	}
	return log, nil
}

// sayBetween notes rows of one cell of words between attempts, which may say something of those
// below them.
func (r *logReader) sayBetween(rows []int, log Log) {
	if len(log.Attempts) == 0 {
		return
	}
	last := log.Attempts[len(log.Attempts)-1].spot()
	var said []string
	var lines []int32
	for _, i := range rows[:min(len(rows), mostSimilar)] {
		at, filled := r.spotOf(i), ""
		for j := range r.table.header {
			switch s := r.table.text(i, j); {
			case s == "":
			case filled != "" || !strings.ContainsFunc(s, unicode.IsLetter):
				filled = "several"
			default:
				filled = s
			}
		}
		if who := log.Attempts[0].Trainee; (r.isWide || strings.ContainsAny(filled, "0123456789")) && shapeOfCode(filled) == shapeOfCode(who) {
			continue // somebody without attempts
		}
		if filled != "" && filled != "several" && at.part == last.part && at.line < last.line {
			said, lines = append(said, filled), append(lines, at.line)
		}
	}
	if onlyMonths(said) {
		return
	}
	for k, s := range said {
		r.note("words-between-rows", fmt.Sprintf("%s: line %d says %q and nothing else; the rows below it are read like those above: take them out of the table where they do not count", r.file, lines[k], problem.Clip(s)))
	}
}

// askLimit asks about the limit where most times are above it.
func (r *logReader) askLimit(attempts int) {
	over := 0
	for _, p := range r.problems {
		if p.Err == problem.ErrRange && strings.Contains(p.Expect, "the limit of") && slices.Contains(r.measures, p.Column) {
			over++
		}
	}
	asked := slices.ContainsFunc(r.problems, func(p Problem) bool { return strings.HasPrefix(p.Expect, "to be told the unit") })
	if attempts < 4 || 2*over <= attempts || asked {
		return
	}
	for _, t := range r.study.Tasks {
		if t.Limit > 0 && t.Measure == Time && slices.Contains(r.measures, t.Column) {
			r.ask(t.Column, "", fmt.Sprintf("to be told the unit, since %d of %d times are above the limit of %g s: give the limit in seconds, as in --limit 300 for five minutes, or say how the times are written with --times (in a study file: limit, times)", over, attempts, t.Limit))
			return
		}
	}
}

// onceAsked takes away what is said of single cells of a column about whose unit, or of a
// cell about whose meaning the user is asked anyway.
func (r *logReader) onceAsked() {
	units, cells := map[string]bool{}, map[[2]string]bool{}
	for _, p := range r.problems {
		if p.Err == problem.ErrAmbiguous && p.Line == 0 {
			units[p.Column] = units[p.Column] || strings.HasPrefix(p.Expect, "to be told the unit")
			cells[[2]string{p.Column, p.Value}] = true
		}
	}
	r.problems = slices.DeleteFunc(r.problems, func(p Problem) bool {
		return p.Err == problem.ErrRange && (units[p.Column] || cells[[2]string{p.Column, p.Value}])
	})
}

// fillWay is the way out for a blank code below a filled one.
func (r *logReader) fillWay(i int) string {
	if i > 0 {
		return fmt.Sprintf(" (where blanks repeat the cell above say --fill-down %s, in a study file: fill_down)", r.cols.Trainee)
	}
	return ""
}

// blankEverywhere reports whether a row has nothing where attempts stand.
func (r *logReader) blankEverywhere(i int) bool {
	for _, s := range r.slotted {
		for _, j := range s.columns {
			if r.table.cell(i, j) != 0 {
				return false
			}
		}
	}
	return r.cols.Outcome == "" && r.isWide
}

// isNothing reports whether a cell holds a word for nothing.
func (r *logReader) isNothing(id grid.Cell) bool {
	for _, m := range r.readers {
		if int(id) < len(m.readings) && m.readings[id].state != isBlank {
			return false
		}
	}
	return true
}

var attemptWord = pattern.New(`^(?:(?:\pL+[\s_.-]*){1,3}|[#])[\s_.-]*0*(\d+)$|^0*(\d+)(?:\.|st|nd|rd|th|er|ère|e|ème|º|ª|°|\s*(?:of|von|de|sur|/)\s*\d+)$`)

// numberFirst is an attempt with a word behind its number: 1. Versuch, 2nd try.
var numberFirst = pattern.New(`^0*(\d+)(?:\.|st|nd|rd|th|er|re|ère|e|ème|º|ª|°)?\s+(\pL{3,})\.?$`)

// oneWordBehind reports whether all attempts have the same word behind their numbers, which is found out
// once.
func (r *logReader) oneWordBehind(j int) bool {
	if r.behind == nil {
		word, one := "", true
		for _, c := range r.distinct(j) {
			m := numberFirst.FindStringSubmatch(c.text)
			if one = m != nil && (word == "" || strings.EqualFold(m[2], word)); !one {
				break
			}
			word = m[2]
		}
		r.behind = &one
	}
	return *r.behind
}

func (r *logReader) attemptNumber(i, j int) (v float64) {
	id := r.table.cell(i, j)
	if r.numbers == nil {
		r.numbers = slices.Repeat([]float64{math.NaN()}, len(r.table.pool.Texts))
	}
	if v := r.numbers[id]; v == v {
		return v
	}
	cell, before := r.table.textOf(id), len(r.problems)
	defer func() {
		if len(r.problems) == before { // a cell that is wrong is reported wherever it stands
			r.numbers[id] = v
		}
	}()
	v, ok := grid.ParseNumber(plainDigits(cell), false)
	if m := attemptWord.FindStringSubmatch(cell); !ok && m != nil {
		v, ok = grid.Number(cmp.Or(m[1], m[2])), true
		if !r.notedCode("attempt-words") {
			r.note("attempt-words", fmt.Sprintf("%s: attempts such as %q are read by their number", r.file, cell))
		}
	}
	if m := numberFirst.FindStringSubmatch(cell); !ok && m != nil && r.oneWordBehind(j) {
		v, ok = grid.Number(m[1]), true
		if !r.notedCode("attempt-words") {
			r.note("attempt-words", fmt.Sprintf("%s: attempts such as %q are read by their number", r.file, cell))
		}
	}
	if !ok {
		if n := slices.Index(romanWords, strings.ToLower(cell)); n >= 0 && r.romanAttempts(j) {
			v, ok = float64(n+1), true
			r.note("attempt-words", fmt.Sprintf("%s: attempts are written as Roman numbers", r.file))
		}
	}
	whole := r.cols.Trainee != ""
	written := v
	if whole && r.log.FromZero {
		v++
	}
	switch {
	case cell == "":
		r.badAt(i, r.cols.Attempt, cell, "an attempt number"+r.noAttemptWay(i), problem.ErrMissing)
	case r.table.kind(id) == grid.Day, isDate(cell):
		r.badAt(i, r.cols.Attempt, cell, "an attempt number; this is a date, and --date COL without --attempt numbers attempts by date (in a study file: columns: date); where a spreadsheet made days of numbers such as 1-2, type them anew in cells that are text", problem.ErrNotNumber)
	case !ok && dayName.MatchString(cell):
		r.badAt(i, r.cols.Attempt, cell, "an attempt number; a spreadsheet may have made a day of it: type the numbers anew", problem.ErrNotNumber)
	case !ok:
		r.badAt(i, r.cols.Attempt, cell, fmt.Sprintf("an attempt number; a row that is no attempt, such as a warm-up, is left out by --without %q (in a study file: without), and what is one needs a number of its own", r.cols.Attempt+"="+cell), problem.ErrNotNumber)
	case whole && compact.MatchString(cell) && isDate(cell[:4]+"-"+cell[4:6]+"-"+cell[6:8]):
		r.badAt(i, r.cols.Attempt, cell, "an attempt number; this looks like a date, and --date COL without --attempt numbers attempts by date (in a study file: columns: date)", problem.ErrRange)
	case whole && isDayCount(written):
		r.badAt(i, r.cols.Attempt, cell, "an attempt number; this one looks like a date that a spreadsheet holds as a number of days", problem.ErrRange)
	case whole && written == 0 && !r.log.FromZero:
		r.badAt(i, r.cols.Attempt, cell, ranges.Attempt.String()+r.zeroWay(), problem.ErrRange)
	case whole && v != math.Trunc(v):
		r.badAt(i, r.cols.Attempt, cell, ranges.Attempt.String()+"; where it is session and attempt in one, put them into two columns and name them with --session and --attempt (in a study file: columns: session, attempt)", problem.ErrRange)
	case whole && ranges.Attempt.Check(v) != nil:
		r.badAt(i, r.cols.Attempt, cell, ranges.Attempt.String(), problem.ErrRange)
	case !whole && ranges.AttemptLabel.Check(v) != nil:
		r.badAt(i, r.cols.Attempt, cell, ranges.AttemptLabel.String(), problem.ErrRange)
	}
	return v
}

// romanAttempts reports whether all attempts are written as Roman numbers, the first among them.
func (r *logReader) romanAttempts(j int) bool {
	cells := r.distinct(j)
	one := false
	for _, c := range cells {
		n := slices.Index(romanWords, strings.ToLower(c.text))
		if n < 0 {
			return false
		}
		one = one || n == 0
	}
	return one && len(cells) >= 3
}

// attemptKinds notes attempts that are called by several words, such as W1 and T2, and are read
// by their numbers alone.
func (r *logReader) attemptKinds() {
	j := r.table.column(r.cols.Attempt)
	if r.cols.Attempt == "" || j < 0 || r.numbers == nil {
		return
	}
	var kinds, such []string
	for _, c := range r.distinct(j) {
		if math.IsNaN(r.numbers[c.id]) || numeral(c.text[0]) {
			continue // not read, or a number and what makes it an ordinal
		}
		word := lettersOf(c.text)
		if slices.Contains(romanWords, word) || slices.Contains(kinds, word) || !attemptWord.MatchString(c.text) && word != "" {
			continue
		}
		kinds, such = append(kinds, word), append(such, c.text)
	}
	if len(kinds) > 1 {
		r.note("attempts-of-kinds", fmt.Sprintf("%s: attempts are called by several words (%s) and are read by their numbers alone; where some are warm-ups or tests, leave them out with --without (in a study file: without)", r.file, problem.List(such, 4)))
	}
}

// zeroWay are the ways out where an attempt has the number 0.
func (r *logReader) zeroWay() string {
	way := "; where attempts are counted from 0 say --counted-from-zero (in a study file: counted_from_zero)"
	if r.cols.Attempt != "" {
		way += fmt.Sprintf("; where it is no attempt leave it out: --without %s=0 (without)", r.cols.Attempt)
	}
	return way
}

// isDayCount reports whether a number is what spreadsheets hold for a day of the years
// 1982 to 2119.
func isDayCount(v float64) bool { return v >= 30000 && v <= 80000 && v == math.Trunc(v) }

// plainOutcomes are other words for how an attempt ended that can mean one thing only.
var plainOutcomes = map[string]Outcome{
	"completed": Done, "complete": Done, "finished": Done,
	"timed out": Timeout, "timed-out": Timeout, "time out": Timeout, "time-out": Timeout, "time up": Timeout, "time is up": Timeout,
}

func (r *logReader) outcome(i int, cell string) Outcome {
	if cell == "" {
		return Done
	}
	if o, ok := outcomeByName(cell); ok {
		return o
	}
	if o, ok := r.code(cell); ok {
		return o
	}
	if o, ok := plainOutcomes[strings.ToLower(cell)]; ok {
		return o
	}
	r.badAt(i, r.cols.Outcome, cell, fmt.Sprintf("done, timeout, failed or void, or a code of the study's table (--code %q=OUTCOME, in a study file: codes)", cell), problem.ErrUnknown)
	return Void
}

// What a code can mean besides an outcome.
const (
	asValue = "value" // a number like others
	asBlank = "blank" // no value
)

// code is the outcome that a code of the study's table stands for.
func (r *logReader) code(cell string) (Outcome, bool) {
	if name, ok := r.study.Codes[cell]; ok {
		return outcomeByName(name)
	}
	return Done, false
}

// farBeyond is how many times the limit a time must be to be taken for a misread one:
// attempts are stopped at the limit, not at five times of it. A little above the limit is
// the hand that stops the watch.
const (
	farBeyond    = 5
	littleBeyond = 1.1
)

// settle makes outcome and measure agree: a time at the limit is a timeout, a timeout
// without a time stands at the limit, and a done attempt has a measure.
func (r *logReader) settle(a *Attempt, values []float64, t *Task, i int, s slot) {
	col := slices.Index(r.measures, t.Column)
	if t.Measure == Time && col >= 0 && t.Limit > 0 {
		r.settleLimit(a, &values[col], t, col, i, s)
	} else if timed := t.scoredTime(); timed != "" && t.Limit > 0 {
		col := slices.Index(r.measures, timed)
		r.settleLimit(a, &values[col], t, col, i, s)
	}
	if t.Measure == Time && col >= 0 && a.Outcome == Timeout && t.Limit == 0 && math.IsNaN(values[col]) {
		r.badAt(i, t.Column, "", "the time at which the attempt was stopped, since the task has no limit", problem.ErrMissing)
	}
	if a.Outcome == Done && col >= 0 && math.IsNaN(values[col]) && !r.isReported(i, s.columns[col]) {
		r.badAt(i, t.Column, "", "a value, since the outcome is done", problem.ErrMissing)
	}
	r.score(a, values, t)
}

// isReported reports whether a cell was found bad already.
func (r *logReader) isReported(i, j int) bool {
	id := r.table.cell(i, j)
	return id != 0 && slices.ContainsFunc(r.readers, func(m *measureReader) bool { return m.readings[id].state == isBad })
}

// settleLimit makes a time and its outcome agree with the limit.
func (r *logReader) settleLimit(a *Attempt, value *float64, t *Task, col, i int, s slot) {
	v, late := *value, r.log.OverLimit == Timeout.String()
	shownAs := func() string { return grid.FormatNumber(v) }
	switch a.Outcome {
	case Done:
		switch {
		case !(v >= t.Limit):
			return
		case v > littleBeyond*t.Limit && !late && strings.Contains(r.table.text(i, s.columns[col]), ":") && r.log.Times == "":
			r.badAt(i, r.measures[col], r.table.text(i, s.columns[col]), fmt.Sprintf("how long the attempt took, up to the limit of %g s; this is %g s: where it is the time of day, put how long the attempt took into the table; where the parts mean something else say so with --times (in a study file: times), and --over-limit timeout where attempts were stopped late (over_limit)", t.Limit, v), problem.ErrRange)
		case v >= farBeyond*t.Limit && !late:
			r.badAt(i, r.measures[col], shownAs(), fmt.Sprintf("a time near the limit of %g; divided by 60 it is %.4g, so minutes:seconds may have been read as hours:minutes (then say --times m:ss, in a study file: times)", t.Limit, v/60), problem.ErrRange)
		case v > littleBeyond*t.Limit && !late && r.readers[col].exact:
			r.badAt(i, r.measures[col], shownAs(), fmt.Sprintf("a time up to the limit of %g; say --over-limit timeout where attempts were stopped late and count as stopped at the limit (in a study file: over_limit), and give another limit where this is not that of the task", t.Limit), problem.ErrRange)
		case v > littleBeyond*t.Limit && !late:
			r.badAt(i, r.measures[col], shownAs(), fmt.Sprintf("a time up to the limit of %g; divided by 10 it is %.4g, so a decimal mark may be missing: correct it, or say --over-limit timeout where attempts were stopped late (in a study file: over_limit)", t.Limit, v/10), problem.ErrRange)
		default:
			if v > t.Limit {
				r.over = append(r.over, a.spot())
			}
			r.timeouts[r.table.sourceAt(i)]++
		}
		a.Outcome, *value = Timeout, t.Limit
	case Timeout:
		if v < t.Limit*0.98 {
			r.early = append(r.early, a.spot())
			return // it is known only to be above this
		}
		*value = t.Limit
	}
}

// noteLimits says what the limit changed.
func (r *logReader) noteLimits() {
	if len(r.over) > 0 {
		r.note("over-limit", fmt.Sprintf("%s: %d attempts took longer than the limit and count as timeouts at it (line %s)", r.file, len(r.over), r.lines(r.over)))
	}
	if len(r.early) > 0 {
		r.note("timeout-before-limit", fmt.Sprintf("%s: %d timeouts have a time below the limit and count as stopped at that time (line %s)", r.file, len(r.early), r.lines(r.early)))
	}
}

// knownTask is the study's task of a row, the first where it names none; nil, and reported,
// where the study has none of this name.
func (r *logReader) knownTask(at *Place, i int) *Task {
	if at.Task == "" && len(r.study.Tasks) > 0 {
		at.Task = r.study.Tasks[0].Name
	}
	for k := range r.study.Tasks {
		if r.study.Tasks[k].Name == at.Task {
			return &r.study.Tasks[k]
		}
	}
	var names []string
	for _, t := range r.study.Tasks {
		names = append(names, t.Name)
	}
	r.badAt(i, r.cols.Task, at.Task, "a task of the study file: "+strings.Join(names, ", ")+sameWay(at.Task, names)+" (or leave its rows out: without, in a study file)", problem.ErrUnknown)
	return nil
}

// sameWay is the way out where a word is one of some others, spelled otherwise.
func sameWay(word string, others []string) string {
	for _, o := range others {
		if plainCode(o) == plainCode(word) {
			return fmt.Sprintf("; where %q is %q say --same %q (in a study file: same)", word, o, word+"="+o)
		}
	}
	return ""
}
