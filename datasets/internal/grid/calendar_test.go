package grid

import "testing"

// Day numbers of both calendars. 25569 is 1 January 1970, the limits are those
// of ECMA-376 part 1 (2016), section 18.17.4; 2 February 2026 is 20486 days
// after 1 January 1970; the calendars differ by 1462 days.
func TestDayNumbers(t *testing.T) {
	for _, c := range []struct {
		calendar Calendar
		serial   float64
		want     string
	}{
		{From1900, 1, "1900-01-01"}, {From1900, 59, "1900-02-28"}, {From1900, 61, "1900-03-01"}, {From1900, 25569, "1970-01-01"},
		{From1900, 25569 + 20486, "2026-02-02"}, {From1900, 46055.5, "2026-02-02 12:00"}, {From1900, 46055 + 9.5/24, "2026-02-02 09:30"},
		{From1900, 46054.99999999, "2026-02-02"}, {From1900, 2958465, "9999-12-31"},
		{From1904, 0, "1904-01-01"}, {From1904, 60, "1904-03-01"}, {From1904, 46055 - 1462, "2026-02-02"}, {From1904, 2957003, "9999-12-31"},
	} {
		if got, ok := c.calendar.Date(c.serial); !ok || got != c.want {
			t.Errorf("%v in calendar %v is %q (%v), want %q", c.serial, c.calendar, got, ok, c.want)
		}
	}
	for _, serial := range []float64{-1, 0, 0.4, 60, 60.5, 2958466, 1e9} {
		if got, ok := From1900.Date(serial); ok {
			t.Errorf("%v is %q, want no day", serial, got)
		}
	}
}
