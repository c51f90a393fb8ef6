package datasets

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
)

// DateOrders are the ways to write a date in numbers that the file must show.
func DateOrders() []string { return []string{"day-first", "month-first", daysFrom1900, daysFrom1904} }

// Days counted in a text file, as a spreadsheet holds dates.
const (
	daysFrom1900 = "days-from-1900"
	daysFrom1904 = "days-from-1904"
)

var (
	numberDate = regexp.MustCompile(`^(\d{1,2})([./-])(\d{1,2})[./-](\d{4}|\d{2})(?:[ T,]+(\d{1,2}:\d{2})(?::\d{2}(?:\.\d+)?)?(?: ?([AaPp])\.?[Mm]\.?)?)?$`)
	weekday    = regexp.MustCompile(`(?i)^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+|^(?:mo|di|mi|do|fr|sa|so)\.?,?\s+`)
	compact    = regexp.MustCompile(`^(\d{4})(\d{2})(\d{2})(?:T(\d{2})(\d{2})(?:\d{2})?)?$`)
	isoMoment  = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})[ T](\d{1,2}:\d{2})(?::(\d{2})(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?$`)
	slashDate  = regexp.MustCompile(`^(\d{4})[/.](\d{1,2})[/.](\d{1,2})$`)
)

// wordDates are forms with the month as a word.
var wordDates = []string{"2 Jan 2006", "02 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006", "2-Jan-2006", "02-Jan-2006", "2-Jan-06"}

// settleDates finds the order of day and month of every file from its own dates: a number
// above 12 is a day. A file that shows none is read as those written like it.
func (r *logReader) settleDates(texts [][]string) {
	r.dates, r.moments = map[cellID]string{}, map[spot]string{}
	if r.dateOrders == nil {
		r.dateOrders = make([]string, len(r.files))
	}
	for f := range r.files {
		r.dateOrders[f] = first(r.said(f).Dates, r.dateOrders[f], orderOf(texts[f]))
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
			r.takenFrom(f, first(r.cols.Date, "names"), "dates "+r.dateOrders[f])
		}
	}
}

// datesOf are the distinct dates of a column, file by file.
func (r *logReader) datesOf(j int) [][]string {
	texts := make([][]string, len(r.files))
	if j < 0 {
		return texts
	}
	for _, c := range r.table.distinctInFiles([]int{j}) {
		texts[c.source] = append(texts[c.source], c.text)
	}
	return texts
}

// orderOf is the order that dates show: a number above 12 is a day; blank where they show
// none, or both.
func orderOf(texts []string) string {
	dayFirst, monthFirst := false, false
	for _, s := range texts {
		if m := numberDate.FindStringSubmatch(weekday.ReplaceAllString(s, "")); m != nil {
			dayFirst = dayFirst || number(m[1]) > 12
			monthFirst = monthFirst || number(m[3]) > 12
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

// date reads the date of a row; blank where it is blank.
func (r *logReader) date(i, j int) string {
	id := r.table.cell(i, j)
	if id == 0 {
		return ""
	}
	cell := r.table.textOf(id)
	if m := isoMoment.FindStringSubmatch(cell); m != nil && r.cols.Attempt == "" {
		r.moments[r.spotOf(i)] = m[1] + " " + twoDigitHour(m[2]) + ":" + first(m[3], "00")
	}
	if d, ok := r.dates[id]; ok {
		return d
	}
	d, ok := r.dateOf(r.table.sourceOf(id), cell)
	if !ok {
		r.badDate(i, cell)
		return ""
	}
	r.dates[id] = d
	return d
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
	cell = weekday.ReplaceAllString(cell, "")
	if m := compact.FindStringSubmatch(cell); m != nil && !file.spreadsheet {
		d := m[1] + "-" + m[2] + "-" + m[3]
		if m[4] != "" && m[4]+m[5] != "0000" {
			d += " " + m[4] + ":" + m[5]
		}
		return d, isDate(d)
	}
	if m := isoMoment.FindStringSubmatch(cell); m != nil {
		clock := twoDigitHour(m[2])
		if clock == "00:00" {
			return m[1], isDate(m[1])
		}
		return m[1] + " " + clock, isDate(m[1] + " " + clock)
	}
	if m := slashDate.FindStringSubmatch(cell); m != nil {
		d := fmt.Sprintf("%s-%02d-%02d", m[1], int(number(m[2])), int(number(m[3])))
		return d, isDate(d)
	}
	for _, form := range wordDates {
		if t, err := time.Parse(form, cell); err == nil {
			return dateText(t), true
		}
	}
	if m := numberDate.FindStringSubmatch(cell); m != nil && order != "" && m[2] != "" {
		d, mon, year := m[1], m[3], m[4]
		if order == "month-first" {
			d, mon = mon, d
		}
		if len(year) == 2 {
			year = "20" + year
		}
		text := fmt.Sprintf("%s-%02d-%02d", year, int(number(mon)), int(number(d)))
		if clock := dayClock(m[5], m[6]); clock != "" && clock != "00:00" {
			text += " " + clock
		}
		return text, isDate(text)
	}
	if serial, ok := parseNumber(cell, false); ok {
		switch {
		case order == daysFrom1900:
			return from1900.date(serial)
		case order == daysFrom1904:
			return from1904.date(serial)
		case file.spreadsheet:
			return file.calendar.date(serial)
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
	h := int(number(hours))
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
	if v, ok := parseNumber(cell, false); ok && isDayCount(v) && !r.files[f].spreadsheet {
		expect += "; where it counts days as a spreadsheet does say --dates days-from-1900 or days-from-1904 (in a study file: dates)"
	}
	if v, ok := parseNumber(cell, false); ok && v >= 1e9 {
		expect += "; where it counts seconds from 1970 on, write dates"
	}
	if numberDate.MatchString(cell) && r.dateOrders[f] == "" {
		expect += "; the column does not show whether day or month comes first: say --dates day-first or --dates month-first (in a study file: dates)"
		if len(r.files) > 1 {
			expect += r.aloneWay(f)
		}
	}
	r.badAt(i, r.cols.Date, cell, expect, ErrFormat)
}

// Gaps between two attempts that look like something else than practice.
const (
	longGap  = 60 * 24 * time.Hour
	eraYears = 3
)

// checkDates notes trainees whose dates run against their attempt numbers, long breaks
// within practice, and dates years apart.
func (r *logReader) checkDates(log Log) {
	type last struct {
		number float64
		date   string
	}
	if !log.Dated() {
		return
	}
	seen, noted := map[traineeTask]last{}, map[traineeTask]bool{}
	low, high := "", ""
	against, breaks, short := 0, 0, 0
	example := ""
	for _, a := range log.byNumber() {
		k := traineeTask{a.Trainee, a.Task}
		before, ok := seen[k]
		if a.Date == "" {
			continue
		}
		if low == "" || a.Date < low {
			low = a.Date
		}
		if a.Date > high {
			high = a.Date
		}
		n := min(len(a.Date), len(before.date)) // a day against a day with a time
		if ok && !noted[k] && a.Date[:n] < before.date[:n] {
			noted[k] = true
			if against++; against <= mostNamed {
				r.note("dates-out-of-order", fmt.Sprintf("trainee %s: attempt %g is dated %s, before attempt %g on %s; numbers are kept as given", a.Trainee, a.Number, a.Date, before.number, before.date))
			}
		}
		if ok {
			switch days := between(before.date, a.Date); {
			case days > longGap:
				breaks++
				example = fmt.Sprintf("trainee %s, %d days before attempt %g", a.Trainee, int(days.Hours()/24), a.Number)
			case days >= 0:
				short++
			}
		}
		seen[k] = last{a.Number, a.Date}
	}
	if against > mostNamed {
		r.note("dates-out-of-order", fmt.Sprintf("%d more trainees have dates that run against their attempt numbers; numbers are kept as given", against-mostNamed))
	}
	if breaks > 0 && short > breaks {
		r.note("long-break", fmt.Sprintf("%s: %d attempts come more than %d days after the one before (%s) and count as the next attempts; leave them out where they are a test of what was kept", r.file, breaks, int(longGap.Hours()/24), example))
	}
	if low != "" && number(high[:4])-number(low[:4]) > eraYears {
		r.note("dates-far-apart", fmt.Sprintf("%s: dates run from %s to %s; years may be wrong, or days were counted from 1904 and not 1900", r.file, low, high))
	}
}

// between is the time from one date to another.
func between(from, to string) time.Duration {
	at := func(s string) time.Time {
		t, err := time.Parse(dateTimeForm, s)
		if err != nil {
			t, _ = time.Parse(dateForm, s)
		}
		return t
	}
	return at(to).Sub(at(from))
}
