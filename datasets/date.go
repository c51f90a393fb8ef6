package datasets

import (
	"math"
	"strconv"
	"time"
)

// The forms of a date as text, both ISO 8601.
const (
	dateForm     = "2006-01-02"
	dateTimeForm = "2006-01-02 15:04"
)

// A calendar says how numbers in a workbook's cells count days: from 1900, with
// a 29 February that 1900 never had, or from 1904.
type calendar bool

const (
	from1900 calendar = false
	from1904 calendar = true
)

// falseLeapDay is the number of 29 February 1900 in the 1900 system. Numbers
// below it count from 31 December 1899, those above from the day before.
const falseLeapDay = 60

// date is the day and time of day that a number stands for, to the minute. Not
// ok for a number that stands for no day of the years 1900 (or 1904) to 9999.
func (c calendar) date(serial float64) (string, bool) {
	if !(serial >= 0 && serial < 3e6) {
		return "", false
	}
	minutes := math.Round(serial * 24 * 60)
	days := int(minutes) / (24 * 60)
	origin := time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)
	if c == from1900 {
		if days == 0 || days == falseLeapDay {
			return "", false
		}
		origin = time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
		if days < falseLeapDay {
			origin = origin.AddDate(0, 0, 1)
		}
	}
	t := origin.AddDate(0, 0, days).Add(time.Duration(int(minutes)%(24*60)) * time.Minute)
	return dateText(t), t.Year() <= 9999
}

// dateText is the text of a date, with the time of day where it is not midnight.
func dateText(t time.Time) string {
	if t.Hour() == 0 && t.Minute() == 0 {
		return t.Format(dateForm)
	}
	return t.Format(dateTimeForm)
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
