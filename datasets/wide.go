package datasets

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/practice/ranges"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A slot is where one attempt of a row stands: the column of each measure. A table with
// one row an attempt has one slot.
type slot struct {
	number  string
	session string
	date    string
	trainee string // where columns are trainees
	columns []int  // by measure; -1 for none
}

// A numberedHead is a column name that holds an attempt number: A1, Trial 2, "Attempt 03",
// 7, "2nd time", attempt_3_errors, time.1.
type numberedHead struct {
	column  int
	key     string // what is left without the numbers
	numbers []int
	date    string
	written bool // the date is not yet in our form
}

var (
	headNumber = regexp.MustCompile(`\d+(?:st|nd|rd|th)?`)
	frameIndex = regexp.MustCompile(`^__index_level_\d+__$`) // the row's number, as data programs write it into Parquet
	headMarks  = regexp.MustCompile(`[\s_.\-#()/:\[\]]+`)
)

// numberedHeads lists the columns whose names hold a number, or are dates.
func (r *logReader) numberedHeads() []numberedHead {
	var out []numberedHead
	for j, name := range r.table.header {
		if name == "" || r.role(name) || slices.Contains(r.layout.Ignore, name) || frameIndex.MatchString(name) {
			continue
		}
		if isDate(name) {
			out = append(out, numberedHead{column: j, date: name})
			continue
		}
		if numberDate.MatchString(name) {
			out = append(out, numberedHead{column: j, date: name, written: true})
			continue
		}
		h := numberedHead{column: j}
		for _, n := range headNumber.FindAllString(name, -1) {
			v, err := strconv.Atoi(strings.TrimRight(n, "stndrh"))
			if err != nil {
				continue
			}
			h.numbers = append(h.numbers, v)
		}
		h.key = strings.TrimSpace(headMarks.ReplaceAllString(headNumber.ReplaceAllString(name, " "), " "))
		if len(h.numbers) > 0 {
			out = append(out, h)
		}
	}
	return out
}

// role reports whether a column is named for something else than a measure.
func (r *logReader) role(name string) bool {
	c := r.cols
	return name != "" && slices.Contains([]string{c.Trainee, c.Arm, c.Task, c.Session, c.Date, c.Attempt, c.Outcome}, name)
}

// slots finds the attempts of a wide table among its column names; nil where the table is
// not wide. What could be two things is asked for.
func (r *logReader) slots() []slot {
	heads := r.numberedHeads()
	if len(heads) < 2 {
		heads = r.wordHeads()
	}
	if len(heads) < 2 || r.yearless(heads) || r.pointsInTime(heads) {
		return nil
	}
	if dated := slices.DeleteFunc(slices.Clone(heads), func(h numberedHead) bool { return h.date == "" }); len(dated) >= 2 {
		return r.datedSlots(dated)
	}
	measure := r.measureOfKeys(heads)
	if measure == nil {
		return nil
	}
	heads = r.unnumbered(heads, measure)
	used := heads[:0:0]
	var left []string
	for _, h := range heads {
		if _, ok := measure[h.key]; ok {
			used = append(used, h)
		} else if !r.saidOtherwise(h.key) {
			left = append(left, r.table.header[h.column])
		}
	}
	if len(used) < 2 {
		return nil
	}
	if len(left) > 0 {
		r.note("numbered-columns-unused", fmt.Sprintf("%s: columns %s have numbers too and are not used; name what they hold with --heads PREFIX=MEASURE (in a study file: wide) or leave them out with --ignore", r.file, problem.List(left, 8)))
	}
	return r.place(used, measure)
}

var (
	clockName  = regexp.MustCompile(`^\d{1,2}[:h.]\d{2}( ?(h|uhr|am|pm))?$`)
	timeUnitIn = regexp.MustCompile(`(?i)^(days?|weeks?|months?|years?|min(utes?)?|hours?|tage?|wochen?|monate?|jahre?|stunden?|jours?|semaines?|mois|ans?|d[ií]as?|semanas?|mes(es)?|a[ñn]os?)$`)
)

// pointsInTime asks where column names are times of day or years, or days, weeks or months
// with gaps between them: when attempts were made, not which.
func (r *logReader) pointsInTime(heads []numberedHead) bool {
	clocks, years, units, gap := 0, 0, 0, false
	for i, h := range heads {
		if h.date != "" {
			return false
		}
		switch {
		case strings.Contains(r.table.header[h.column], ":") && clockName.MatchString(r.table.header[h.column]):
			clocks++
		case len(h.numbers) == 1 && h.numbers[0] >= 1990 && h.numbers[0] <= 2099:
			years++
		case len(h.numbers) == 1 && timeUnitIn.MatchString(h.key):
			units++
			gap = gap || i > 0 && len(heads[i-1].numbers) == 1 && h.numbers[0]-heads[i-1].numbers[0] != 1
		}
	}
	if n := len(heads); clocks < n && years < n && (units < n || !gap) {
		return false
	}
	r.ask("", r.table.header[heads[0].column], "attempt numbers in these column names, which look like points in time: name the columns 1, 2, 3 where each is the next attempt, or put the table into one row an attempt with a column for --date")
	return true
}

// mapsMeasure reports whether some prefix of heads is said to hold a measure.
func (r *logReader) mapsMeasure() bool {
	for _, m := range r.wide {
		if slices.Contains(r.measures, m) {
			return true
		}
	}
	return false
}

// saidOtherwise reports whether heads are said to hold something that is no measure of the study.
func (r *logReader) saidOtherwise(key string) bool {
	for prefix, m := range r.wide {
		own := strings.TrimSpace(headMarks.ReplaceAllString(prefix, " "))
		if (strings.EqualFold(key, own) || endsIn(key, own)) && !slices.Contains(r.measures, m) {
			return true
		}
	}
	return false
}

// measureOfKeys says which measure the columns of each kind hold, as position among the
// measures; nil where that was asked, or there are none.
func (r *logReader) measureOfKeys(heads []numberedHead) map[string]int {
	out := map[string]int{}
	var keys []string
	for _, h := range heads {
		if !slices.Contains(keys, h.key) {
			keys = append(keys, h.key)
		}
	}
	for prefix, m := range r.wide {
		key := strings.TrimSpace(headMarks.ReplaceAllString(prefix, " "))
		if i := slices.Index(r.measures, m); i >= 0 {
			out[key] = i
			for _, k := range keys { // the measure alone may be named, under heads of two rows
				if strings.EqualFold(k, key) || endsIn(k, key) {
					out[k] = i
				}
			}
		} else if !r.study.single || !r.mapsMeasure() {
			r.bad(0, "wide: "+prefix, m, "one of the study's measures: "+strings.Join(r.measures, ", "), problem.ErrUnknown)
		}
	}
	if len(r.wide) > 0 {
		return out
	}
	for _, k := range keys {
		for i, m := range r.measures {
			if name := strings.TrimSpace(headMarks.ReplaceAllString(m, " ")); strings.EqualFold(k, name) || endsIn(k, name) || startsWith(k, name) {
				out[k] = i
				break
			}
		}
	}
	if len(out) > 0 {
		return out
	}
	if len(keys) == 1 {
		out[keys[0]] = 0
		return out
	}
	if i := r.soundsLike(keys); i >= 0 {
		out[keys[i]] = 0
		return out
	}
	slices.Sort(keys)
	for _, name := range r.table.twice {
		if headNumber.MatchString(name) {
			r.bad(r.table.headLine(), name, "", "every attempt to have one column: rename one of these, or leave it out by a name of its own and --ignore", problem.ErrDuplicate)
			return nil
		}
	}
	for _, name := range r.table.header {
		if m := numberThenLetter.FindStringSubmatch(name); m != nil && r.table.column(m[1]) >= 0 {
			r.bad(r.table.headLine(), name, "", fmt.Sprintf("attempts with a number of their own; this column stands beside %s: say --ignore %q where it is no attempt of its own (in a study file: ignore), or give the columns other numbers", m[1], name), problem.ErrAmbiguous)
			return nil
		}
	}
	r.bad(int(r.table.headLine()), "", strings.Join(keys, ", "), "numbered columns of one kind, or a mapping of each prefix to a measure (wide: in the study file, or --heads PREFIX=MEASURE)", problem.ErrUnknown)
	return nil
}

// soundsLike is the one kind of heads whose name is that of the measure, where the measure has no name of its
// own: times among times and errors; -1 for none, or several.
func (r *logReader) soundsLike(keys []string) int {
	sounds := nameOf[r.study.Tasks[0].Measure]
	if r.study.responseSaid || !r.study.single || sounds == nil {
		return -1
	}
	found := -1
	for i, k := range keys {
		if sounds(k) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// numberThenLetter is the name of a column that repeats another: 3b beside 3.
var numberThenLetter = regexp.MustCompile(`^(.*\d)[ _.-]?[a-z]$`)

func endsIn(key, part string) bool {
	return part != "" && strings.HasSuffix(strings.ToLower(key), " "+strings.ToLower(part))
}

func startsWith(key, part string) bool {
	return part != "" && strings.HasPrefix(strings.ToLower(key), strings.ToLower(part)+" ")
}

// unnumbered adds a column that has the name of the numbered ones and no number: data
// programs write time, time.1, time.2, and spreadsheets time, time2, time3.
func (r *logReader) unnumbered(heads []numberedHead, measure map[string]int) []numberedHead {
	for j, name := range r.table.header {
		i, ok := measure[name]
		if !ok || r.role(name) || name == "" {
			continue
		}
		isNumbered := func(h numberedHead) bool { return h.key == name && len(h.numbers) == 1 }
		if !slices.ContainsFunc(heads, isNumbered) {
			continue
		}
		shift := slices.ContainsFunc(heads, func(h numberedHead) bool { return isNumbered(h) && h.numbers[0] == 1 })
		for k, h := range heads {
			if isNumbered(h) && shift {
				heads[k].numbers = []int{h.numbers[0] + 1}
			}
		}
		heads = append([]numberedHead{{column: j, key: name, numbers: []int{1}}}, heads...)
		r.note("first-without-number", fmt.Sprintf("%s: column %s is read as attempt 1, before the numbered ones", r.file, r.measures[i]))
		r.named = append(r.named, name)
	}
	return heads
}

// place puts numbered columns into slots. Two numbers are session and attempt, unless one
// of them is the same everywhere.
func (r *logReader) place(heads []numberedHead, measure map[string]int) []slot {
	most := 0
	for _, h := range heads {
		most = max(most, len(h.numbers))
	}
	varying := func(k int) bool {
		return slices.ContainsFunc(heads, func(h numberedHead) bool {
			return k < len(h.numbers) && k < len(heads[0].numbers) && h.numbers[k] != heads[0].numbers[k]
		})
	}
	var parts []int
	for k := range most {
		if varying(k) {
			parts = append(parts, k)
		}
	}
	if len(parts) == 0 {
		parts = []int{most - 1}
	}
	if len(parts) > 2 {
		r.ask("", r.table.header[heads[0].column], "column names with at most two numbers, session and attempt")
		return nil
	}
	var out []slot
	at := map[[2]int]int{}
	for _, h := range heads {
		key := [2]int{}
		for i, k := range parts {
			if k >= len(h.numbers) {
				r.ask("", r.table.header[h.column], "as many numbers in this column name as in "+r.table.header[heads[0].column])
				return nil
			}
			key[2-len(parts)+i] = h.numbers[k]
		}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			s := slot{number: strconv.Itoa(key[1]), columns: r.noColumns()}
			if len(parts) == 2 {
				s.session = strconv.Itoa(key[0])
			}
			out = append(out, s)
		}
		m := measure[h.key]
		if other := out[i].columns[m]; other >= 0 {
			r.bad(int(r.table.headLine()), r.table.header[h.column], "", fmt.Sprintf("one column for attempt %d of %s; %s is it too: of two conditions, such as hands, take one by --ignore %q and the like (in a study file: ignore), or give the columns other numbers", key[1], r.measures[m], r.table.header[other], r.table.header[h.column]), problem.ErrDuplicate)
			continue
		}
		out[i].columns[m] = h.column
	}
	if len(parts) == 2 {
		r.numberThrough(out)
	}
	r.headsOfKinds(heads, measure)
	for k, s := range out {
		if r.log.FromZero {
			s.number = strconv.Itoa(int(grid.Number(s.number)) + 1)
			out[k].number = s.number
		}
		switch v := grid.Number(s.number); {
		case v == 0:
			r.bad(int(r.table.headLine()), "", s.number, "column names with "+ranges.Attempt.String()+r.zeroWay(), problem.ErrRange)
		case ranges.Attempt.Check(v) != nil:
			r.bad(int(r.table.headLine()), "", s.number, "column names with "+ranges.Attempt.String(), problem.ErrRange)
		case isDayCount(v):
			r.bad(int(r.table.headLine()), "", s.number, "column names with attempt numbers; this one looks like a date that a spreadsheet holds as a number of days", problem.ErrRange)
		}
	}
	return out
}

// numberThrough numbers attempts over all sessions of a wide table.
func (r *logReader) numberThrough(slots []slot) {
	slices.SortStableFunc(slots, func(a, b slot) int {
		return cmp.Or(cmp.Compare(grid.Number(a.session), grid.Number(b.session)), cmp.Compare(grid.Number(a.number), grid.Number(b.number)))
	})
	for i := range slots {
		slots[i].number = strconv.Itoa(i + 1)
	}
	r.through = true
}

func (r *logReader) noColumns() []int {
	out := make([]int, len(r.measures))
	for i := range out {
		out[i] = -1
	}
	return out
}

// datedSlots reads columns whose names are dates: attempts in the order of the dates.
func (r *logReader) datedSlots(heads []numberedHead) []slot {
	if !r.settleHeads(heads) {
		return nil
	}
	slices.SortStableFunc(heads, func(a, b numberedHead) int { return cmp.Compare(a.date, b.date) })
	var out []slot
	for i, h := range heads {
		if i > 0 && h.date == heads[i-1].date || slices.Contains(r.table.twice, h.date) {
			r.bad(int(r.table.headLine()), h.date, "", "every date once among the column names; give attempts of one day numbers, or times of day, in their names", problem.ErrDuplicate)
			return nil
		}
		s := slot{number: strconv.Itoa(i + 1), date: h.date, columns: r.noColumns()}
		s.columns[0] = h.column
		out = append(out, s)
	}
	r.note("numbered-by-date", fmt.Sprintf("%s: the columns are dates; attempts are numbered in their order", r.file))
	return out
}

// settleHeads brings dates among the column names into our form.
func (r *logReader) settleHeads(heads []numberedHead) bool {
	texts := make([][]string, len(r.files))
	for _, h := range heads {
		f := r.table.headSource(h.column)
		texts[f] = append(texts[f], h.date)
	}
	r.settleDates(texts)
	for i, h := range heads {
		if !h.written {
			continue
		}
		f := r.table.headSource(h.column)
		d, ok := r.dateOf(f, h.date)
		if !ok {
			r.askIn(f, "", h.date, "to be told whether day or month comes first in these column names: --dates day-first or --dates month-first (in a study file: dates)")
			return false
		}
		heads[i].date = d
	}
	return true
}

// traineeSlots reads a table in which every column that has no other role is a trainee.
func (r *logReader) traineeSlots() []slot {
	var out []slot
	sums := summing(r.table.names())
	if len(sums) > 0 {
		r.note("summary-columns", fmt.Sprintf("%s: column %s sums up others (mean, total and the like) and is not read as a trainee", r.file, problem.List(sums, 8)))
	}
	for j, name := range r.table.header {
		if name == "" || r.role(name) || slices.Contains(r.layout.Ignore, name) {
			continue
		}
		if slices.Contains(sums, name) {
			continue
		}
		who := cmp.Or(r.layout.Same[name], name)
		if reason := r.study.without(asTrainee, who); reason != "" {
			r.study.out[person{asTrainee, name}], r.study.out[person{asTrainee, who}] = reason, reason
			r.note(reason, fmt.Sprintf("%s: a column is left out (%s)", r.file, r.study.reasonText(reason)))
			continue
		}
		if _, said := r.layout.Same[name]; !said && levelCodes.MatchString(name) {
			r.ask(name, "", fmt.Sprintf("a trainee; this looks like a level or a person that trainees are held against: --ignore %q leaves it out, --same %q makes it a code (in a study file: ignore, same)", name, name+"=CODE"))
		}
		s := slot{trainee: who, columns: r.noColumns()}
		s.columns[0] = j
		out = append(out, s)
	}
	return out
}

// headsOfKinds notes columns of one measure that are called in several ways, such as Run 3 and Run 4 (test),
// and are read by their numbers alone.
func (r *logReader) headsOfKinds(heads []numberedHead, measure map[string]int) {
	if len(r.wide) > 0 {
		return
	}
	kinds := map[int][]string{}
	such := map[int][]string{}
	for _, h := range heads {
		m := measure[h.key]
		if key := strings.ToLower(h.key); !slices.Contains(kinds[m], key) {
			kinds[m], such[m] = append(kinds[m], key), append(such[m], r.table.header[h.column])
		}
	}
	for _, m := range slices.Sorted(maps.Keys(such)) {
		if len(such[m]) > 1 {
			r.note("heads-of-kinds", fmt.Sprintf("%s: columns are called in several ways (%s) and are read as attempts by their numbers alone; where some are tests, or of another hand or task, leave them out by --ignore (in a study file: ignore)", r.file, problem.List(such[m], 4)))
		}
	}
}
