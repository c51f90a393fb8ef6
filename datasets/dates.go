package datasets

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// DateOrders are the ways to write a date in numbers that the file must show.
func DateOrders() []string {
	return []string{"day-first", "month-first", yearFirst, daysFrom1900, daysFrom1904}
}

// yearFirst is the order of dates such as 26-03-04, with two digits for the year.
const yearFirst = "year-first"

// Days counted in a text file, as a spreadsheet holds dates.
const (
	daysFrom1900 = "days-from-1900"
	daysFrom1904 = "days-from-1904"
)

var (
	numberDate = pattern.New(`^(\d{1,2})([./-]) ?(\d{1,2})[./-] ?(\d{4}|\d{2})\.?(?:[ T,]+(\d{1,2}:\d{2})(?::\d{2}(?:\.\d+)?)?(?: ?([AaPp])\.?[Mm]\.?)?)?$`)
	weekday    = regexp.MustCompile(`(?i)^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+|^(?:mo|di|mi|do|fr|sa|so)\.?,?\s+`)
	compact    = pattern.New(`^(\d{4})(\d{2})(\d{2})(?:T(\d{2})(\d{2})(?:\d{2})?)?$`)
	isoMoment  = pattern.New(`^(\d{4}-\d{2}-\d{2})[ T](\d{1,2}:\d{2})(?::(\d{2})(?:\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?$`)
	slashDate  = pattern.New(`^(\d{4})[/.] ?(\d{1,2})[/.] ?(\d{1,2})\.?$`)
)

// wordDates are forms with the month as a word.
var wordDates = []string{"2 Jan 2006", "02 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006", "2-Jan-2006", "02-Jan-2006", "2-Jan-06", "02Jan2006", "2Jan2006"}

// clockForms stand behind a date with its month as a word.
var clockForms = []string{"", " 15:04", ", 15:04", " 3:04 PM", ", 3:04 PM"}

// settleDates finds the order of day and month of every file from its own dates: a number
// above 12 is a day. A file that shows none is read as those written like it.
func (r *logReader) settleDates(texts [][]string) {
	r.dates, r.moments = make([]int32, len(r.table.pool.Texts)), map[grid.Cell]string{}
	r.inUTC, r.zones = map[grid.Cell]string{}, nil
	if r.dateOrders == nil {
		r.dateOrders = make([]string, len(r.files))
	}
	for f := range r.files {
		r.dateOrders[f] = cmp.Or(r.said(f).Dates, r.dateOrders[f], orderOf(texts[f]))
	}
	for f := range r.files {
		if r.dateOrders[f] != "" || !slices.ContainsFunc(texts[f], numberDate.MatchString) {
			continue
		}
		shown := map[string]bool{}
		for _, k := range r.alike(f) {
			shown[orderOf(texts[k])] = true
		}
		if delete(shown, ""); len(shown) == 1 {
			r.dateOrders[f] = sortedKeys(shown)[0]
			r.takenFrom(f, cmp.Or(r.cols.Date, "names"), "dates "+r.dateOrders[f])
		}
	}
}

// datesOf are the distinct dates of a column, file by file.
func (r *logReader) datesOf(j int) [][]string {
	texts := make([][]string, len(r.files))
	if j < 0 {
		return texts
	}
	for _, c := range r.distinctInFiles(j) {
		texts[c.source] = append(texts[c.source], c.text)
	}
	return texts
}

// orderOf is the order that dates show: a number above 12 is a day; blank where they show
// none, or both.
func orderOf(texts []string) string {
	if yearsFirst(texts) {
		return yearFirst
	}
	dayFirst, monthFirst := false, false
	for _, s := range texts {
		if s != "" && (s[0] < '0' || s[0] > '9') {
			s = weekday.ReplaceAllString(s, "")
		}
		if m := numberDate.FindStringSubmatch(s); m != nil {
			dayFirst = dayFirst || grid.Number(m[1]) > 12
			monthFirst = monthFirst || grid.Number(m[3]) > 12
		}
	}
	switch {
	case dayFirst && !monthFirst:
		return "day-first"
	case monthFirst && !dayFirst:
		return "month-first"
	}
	return ""
}

// yearsFirst reports whether dates have a year of two digits before the month: in all of them the first part is one
// number, or two that follow each other, while the last ones differ, as days do.
func yearsFirst(texts []string) bool {
	first, last := map[string]bool{}, map[string]bool{}
	for _, s := range texts {
		m := numberDate.FindStringSubmatch(s)
		if m == nil || len(m[1]) != 2 || len(m[4]) != 2 || grid.Number(m[3]) > 12 || grid.Number(m[4]) > 31 {
			return false
		}
		first[m[1]], last[m[4]] = true, true
	}
	if len(last) < 3 || len(first) > 2 {
		return false
	}
	years := sortedKeys(first)
	return len(years) == 1 || grid.Number(years[1]) == grid.Number(years[0])+1 && len(last) > 4
}

// date reads the date of a row, and is its number among the log's; 0 where it is blank.
func (r *logReader) date(log *Log, i, j int) int32 {
	id := r.table.cell(i, j)
	if id == 0 || r.dates[id] != 0 {
		return r.dates[id]
	}
	cell := r.table.textOf(id)
	if r.cols.Attempt == "" {
		if day, clock, seconds, ok := isoParts(cell); ok {
			r.moments[id] = day + " " + twoDigitHour(clock) + ":" + cmp.Or(seconds, "00")
		}
	}
	r.zone(id, cell)
	d, ok := r.dateOf(r.table.sourceOf(id), cell)
	if !ok {
		r.badDate(i, cell)
		return 0
	}
	r.dates[id] = log.dateOf(d)
	return r.dates[id]
}

// isoParts are the day, the time of day and the seconds of a moment written as ISO 8601 has it.
func isoParts(cell string) (day, clock, seconds string, ok bool) {
	if shaped(cell, "0000-00-00 00:00:00") && (cell[10] == ' ' || cell[10] == 'T') {
		return cell[:10], cell[11:16], cell[17:], true
	}
	m := isoMoment.FindStringSubmatch(cell)
	if m == nil {
		return "", "", "", false
	}
	return m[1], m[2], m[3], true
}

// zone notes how far the clock of a moment is from UTC, and puts moments of several such clocks on
// one for their order.
func (r *logReader) zone(id grid.Cell, cell string) {
	zone := ""
	if n := len(cell); n > len("2026-01-02 9:00") && (cell[n-1] == 'Z' || strings.ContainsAny(cell[n-6:], "+-")) {
		if m := isoMoment.FindStringSubmatch(cell); m != nil {
			zone = strings.ReplaceAll(m[4], ":", "")
		}
	}
	if !slices.Contains(r.zones, zone) {
		r.zones = append(r.zones, zone)
	}
	if zone == "" || r.moments[id] == "" {
		return
	}
	if t, err := time.Parse(time.DateTime+" Z0700", r.moments[id]+" "+zone); err == nil {
		r.inUTC[id] = t.UTC().Format(time.DateTime)
	}
}

// noteZones notes dates of several clocks.
func (r *logReader) noteZones() {
	if len(r.zones) < 2 {
		return
	}
	var named []string
	for _, zone := range r.zones {
		named = append(named, cmp.Or(strings.Replace(zone, "Z", "+0000", 1), "none"))
	}
	slices.Sort(named)
	if named = slices.Compact(named); len(named) < 2 {
		return
	}
	order := ""
	if r.cols.Attempt == "" && r.oneClock() {
		order = "; attempts without numbers are put in the order in which they were made"
	} else if r.cols.Attempt == "" {
		order = ", and attempts without numbers are put in the order of these"
	}
	r.note("several-clocks", fmt.Sprintf("%s: dates are written by several clocks (from UTC: %s); day and time of day are taken as they are written%s", r.file, problem.List(named, mostNamed), order))
}

// oneClock reports whether all moments can be put on one clock.
func (r *logReader) oneClock() bool { return !slices.Contains(r.zones, "") }

// shaped reports whether a text has a digit wherever a form has 0, any letter where it has a
// space, and is like the form elsewhere.
func shaped(s, form string) bool {
	if len(s) != len(form) {
		return false
	}
	for i := range len(s) {
		switch form[i] {
		case '0':
			if s[i] < '0' || s[i] > '9' {
				return false
			}
		case ' ':
		default:
			if s[i] != form[i] {
				return false
			}
		}
	}
	return true
}

// twoDigitHour writes 9:00 as 09:00, so that times of day sort as text.
func twoDigitHour(clock string) string {
	if len(clock) == len("9:00") {
		return "0" + clock
	}
	return clock
}

// dateOf reads one cell of a file as a date. In a spreadsheet a number is a count of days (ECMA-376
// part 1, section 18.17.4).
func (r *logReader) dateOf(f int, cell string) (string, bool) {
	order, file := r.dateOrders[f], r.files[f]
	if isDate(cell) {
		return cell, true
	}
	if cell != "" && (cell[0] < '0' || cell[0] > '9') {
		cell = weekday.ReplaceAllString(cell, "")
	}
	if m := compact.FindStringSubmatch(cell); m != nil && !file.spreadsheet {
		d := m[1] + "-" + m[2] + "-" + m[3]
		if m[4] != "" && m[4]+m[5] != "0000" {
			d += " " + m[4] + ":" + m[5]
		}
		return d, isDate(d)
	}
	if day, clock, _, ok := isoParts(cell); ok {
		if clock = twoDigitHour(clock); clock == "00:00" {
			return day, isDate(day)
		}
		moment := day + " " + clock
		return moment, isDate(moment)
	}
	if m := slashDate.FindStringSubmatch(cell); m != nil {
		d := fmt.Sprintf("%s-%02d-%02d", m[1], int(grid.Number(m[2])), int(grid.Number(m[3])))
		return d, isDate(d)
	}
	for _, form := range wordDates {
		for _, clock := range clockForms {
			if t, err := time.Parse(form+clock, cell); err == nil {
				return grid.DateText(t), true
			}
		}
	}
	if d, ok := wordedDate(cell); ok {
		return d, true
	}
	if m := numberDate.FindStringSubmatch(cell); m != nil && order != "" && m[2] != "" {
		d, mon, year := m[1], m[3], m[4]
		switch {
		case order == "month-first":
			d, mon = mon, d
		case order == yearFirst && len(year) == 2:
			d, year = year, d
		}
		if len(year) == 2 {
			year = "20" + year
		}
		text := fmt.Sprintf("%s-%02d-%02d", year, int(grid.Number(mon)), int(grid.Number(d)))
		if clock := dayClock(m[5], m[6]); clock != "" && clock != "00:00" {
			text += " " + clock
		}
		return text, isDate(text)
	}
	if serial, ok := grid.ParseNumber(cell, false); ok {
		switch {
		case order == daysFrom1900:
			return grid.From1900.Date(serial)
		case order == daysFrom1904:
			return grid.From1904.Date(serial)
		case file.spreadsheet:
			return file.calendar.Date(serial)
		}
	}
	return "", false
}

// dayClock is a time of day as hh:mm, with the letter of a clock of twelve hours.
func dayClock(clock, half string) string {
	hours, minutes, ok := strings.Cut(clock, ":")
	if !ok {
		return ""
	}
	h := int(grid.Number(hours))
	if half != "" {
		if h < 1 || h > 12 {
			return "99:99" // no time of day
		}
		h %= 12
		if strings.EqualFold(half, "p") {
			h += 12
		}
	}
	return fmt.Sprintf("%02d:%s", h, minutes)
}

// badDate reports a cell once, though a wide table repeats it for every attempt.
func (r *logReader) badDate(i int, cell string) {
	at := r.spotOf(i)
	if r.reported[at] {
		return
	}
	if r.reported == nil {
		r.reported = map[spot]bool{}
	}
	r.reported[at] = true
	f := r.table.sourceAt(i)
	expect := "a date as 2026-02-28 (year-month-day), with a time of day as 2026-02-28 14:30, or a blank"
	if r.files[f].spreadsheet {
		expect = "a date cell, or a date as 2026-02-28 (year-month-day), with a time of day as 2026-02-28 14:30, or a blank"
	}
	if v, ok := grid.ParseNumber(cell, false); ok && isDayCount(v) && !r.files[f].spreadsheet {
		expect += "; where it counts days as a spreadsheet does say --dates days-from-1900 or days-from-1904 (in a study file: dates)"
	}
	if v, ok := grid.ParseNumber(cell, false); ok && v >= 1e9 {
		expect += "; where it counts seconds from 1970 on, write dates"
	}
	if numberDate.MatchString(cell) && r.dateOrders[f] == "" {
		expect += "; the column does not show whether day or month comes first: say --dates day-first or --dates month-first (in a study file: dates)"
		if len(r.files) > 1 {
			expect += r.aloneWay(f)
		}
	}
	r.badAt(i, r.cols.Date, cell, expect, problem.ErrFormat)
}

// Gaps between two attempts that look like something else than practice.
const (
	longGap  = 60 * 24 * time.Hour
	eraYears = 3
)

// checkDates notes trainees whose dates run against their attempt numbers, long breaks
// within practice, and dates years apart.
func (r *logReader) checkDates(log Log) {
	if !log.Dated() {
		return
	}
	r.noteZones()
	minutes := make([]int64, len(log.dates))
	for k, d := range log.dates {
		minutes[k] = minuteOf(d)
	}
	// earlier is the order of notes: by number, then as the file has it.
	earlier := func(i, k int32) int {
		return cmp.Or(cmp.Compare(log.Attempts[i].Number, log.Attempts[k].Number), cmp.Compare(i, k))
	}
	used := make([]bool, len(log.dates))
	var against [][2]int32                     // of a trainee, the first attempt dated before the one before it, and that one
	var late [2]int32                          // the last of attempts after a break, and the one before it
	breaks, short, told, changes := 0, 0, 0, 0 // told: breaks at which the session named changes, of all such changes
	for g := range r.series.groups() {
		rows := r.series.of(g)
		if !slices.IsSortedFunc(rows, earlier) {
			rows = slices.Clone(rows)
			slices.SortFunc(rows, earlier)
		}
		before, noted := int32(-1), false
		for _, i := range rows {
			date := log.Attempts[i].date
			if date == 0 {
				continue
			}
			used[date] = true
			if before >= 0 {
				was := log.Attempts[before].date
				changed := r.cols.Session != "" && log.Attempts[i].Session != log.Attempts[before].Session
				if changed {
					changes++
				}
				if !noted && runsBack(log.dates[was], log.dates[date]) {
					against, noted = append(against, [2]int32{i, before}), true
				}
				switch gap := minutes[date] - minutes[was]; {
				case gap > int64(longGap/time.Minute):
					if changed {
						told++
					}
					if breaks++; breaks == 1 || earlier(late[0], i) < 0 {
						late = [2]int32{i, before}
					}
				case gap >= 0:
					short++
				}
			}
			before = i
		}
	}
	slices.SortFunc(against, func(a, b [2]int32) int { return earlier(a[0], b[0]) })
	for _, pair := range against[:min(len(against), mostNamed)] {
		a, before := log.Attempts[pair[0]], log.Attempts[pair[1]]
		r.note("dates-out-of-order", fmt.Sprintf("trainee %s: attempt %g is dated %s, before attempt %g on %s; numbers are kept as given", a.Trainee, a.Number, log.Date(a), before.Number, log.Date(before)))
	}
	if len(against) > mostNamed {
		r.note("dates-out-of-order", fmt.Sprintf("%d more trainees have dates that run against their attempt numbers; numbers are kept as given", len(against)-mostNamed))
	}
	if known := told == breaks && changes == told; breaks > 0 && short > breaks && !known { // else the session says it
		a := log.Attempts[late[0]]
		days := (minutes[a.date] - minutes[log.Attempts[late[1]].date]) / minutesInDay
		r.note("long-break", fmt.Sprintf("%s: %d attempts come more than %d days after the one before (trainee %s, %d days before attempt %g) and count as the next attempts; leave them out where they are a test of what was kept", r.file, breaks, int(longGap.Hours()/24), a.Trainee, days, a.Number))
	}
	column := "the names of the columns"
	if r.cols.Date != "" {
		column = "column " + r.cols.Date
	}
	r.misdated(datingOf(&log, column, minutes, func(i int) int32 { return log.Attempts[i].date }))
	low, high := "", ""
	for k, d := range log.dates {
		if used[k] && (low == "" || d < low) {
			low = d
		}
		if used[k] {
			high = max(high, d)
		}
	}
	if low > "2100" || low != "" && high < "1950" {
		r.note("other-calendar", fmt.Sprintf("%s: all dates are from %s to %s; they may be of another calendar: dates of the common one go into the table", r.file, low, high))
	}
	if low != "" && grid.Number(high[:4])-grid.Number(low[:4]) > eraYears {
		r.note("dates-far-apart", fmt.Sprintf("%s: dates run from %s to %s; years may be wrong, or days were counted from 1904 and not 1900", r.file, low, high))
	}
}

// runsBack reports whether a date is before another, a day against a day where one of them has
// no time of day.
func runsBack(from, to string) bool {
	n := min(len(from), len(to))
	return to[:n] < from[:n]
}

const minutesInDay = 24 * 60

// minuteOf counts the minutes to a date; 0 for a blank one.
func minuteOf(date string) int64 {
	if date == "" {
		return 0
	}
	at := func(from, to int) int {
		n, _ := strconv.Atoi(date[from:to])
		return n
	}
	hour, minute := 0, 0
	if len(date) > len(grid.DateForm) {
		hour, minute = at(11, 13), at(14, 16)
	}
	return time.Date(at(0, 4), time.Month(at(5, 7)), at(8, 10), hour, minute, 0, 0, time.UTC).Unix() / 60
}

// isDate reports whether a text is a day of the calendar, with or without a
// time of day.
func isDate(s string) bool {
	at := func(from, to int) int {
		n, _ := strconv.Atoi(s[from:to])
		return n
	}
	switch {
	case shaped(s, "0000-00-00"):
	case !shaped(s, "0000-00-00 00:00") || s[10] != ' ' || at(11, 13) > 23 || at(14, 16) > 59:
		return false
	}
	month, day := at(5, 7), at(8, 10)
	t := time.Date(at(0, 4), time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return int(t.Month()) == month && t.Day() == day
}
