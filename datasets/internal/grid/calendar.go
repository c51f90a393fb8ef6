package grid

import (
	"math"
	"time"
)

// The forms of a date as text, both ISO 8601.
const (
	DateForm     = "2006-01-02"
	DateTimeForm = "2006-01-02 15:04"
)

// A Calendar says how numbers in a workbook's cells count days: from 1900, with
// a 29 February that 1900 never had, or from 1904.
type Calendar bool

const (
	From1900 Calendar = false
	From1904 Calendar = true
)

// falseLeapDay is the number of 29 February 1900 in the 1900 system. Numbers
// below it count from 31 December 1899, those above from the day before.
const falseLeapDay = 60

// Date is the day and time of day that a number stands for, to the minute. Not
// ok for a number that stands for no day of the years 1900 (or 1904) to 9999.
func (c Calendar) Date(serial float64) (string, bool) {
	if !(serial >= 0 && serial < 3e6) {
		return "", false
	}
	minutes := math.Round(serial * 24 * 60)
	days := int(minutes) / (24 * 60)
	origin := time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)
	if c == From1900 {
		if days == 0 || days == falseLeapDay {
			return "", false
		}
		origin = time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
		if days < falseLeapDay {
			origin = origin.AddDate(0, 0, 1)
		}
	}
	t := origin.AddDate(0, 0, days).Add(time.Duration(int(minutes)%(24*60)) * time.Minute)
	return DateText(t), t.Year() <= 9999
}

// DateText is the text of a date, with the time of day where it is not midnight.
func DateText(t time.Time) string {
	if t.Hour() == 0 && t.Minute() == 0 {
		return t.Format(DateForm)
	}
	return t.Format(DateTimeForm)
}
