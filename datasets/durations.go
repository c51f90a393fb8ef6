package datasets

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
)

// TimeForms are the ways in which times are written, where cells leave several open.
func TimeForms() []string {
	return []string{"seconds", "minutes", "hours", "days", "milliseconds", "m.ss", "m:ss", "h:mm:ss", "m:ss:hh"}
}

// hoursAndMinutes is the form of times such as 1:30 that are said to be hours and minutes.
const hoursAndMinutes = "h:mm"

var (
	twoParts    = pattern.New(`^(\d{1,3}):(\d{2})(?:[.,](\d+))?$`)
	threeParts  = pattern.New(`^(\d{1,3}):(\d{2}):(\d{2})(?:[.,](\d+))?$`)
	thousandths = pattern.New(`^(\d{1,3}):(\d{2}):(\d{3})$`)       // minutes, seconds, milliseconds
	dottedTime  = pattern.New(`^(\d{1,3})\.(\d{2})[.,](\d{1,3})$`) // minutes, seconds and a part of a second
	andPart     = regexp.MustCompile(`^(?:and|und|et|y|e|en|,|&)\s+`)
	dayAndTime  = pattern.New(`^(?:1899-12-3[01]|1900-01-0[01]|1904-01-01)[ T](\d{2}:\d{2}:\d{2}(?:\.\d+)?)$`)
	daysAndTime = pattern.New(`^(\d+) days?,? \+?(\d{1,2}:\d{2}:\d{2}(?:\.\d+)?)$`) // as some programs write a span
	isoTime     = pattern.New(`^PT(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:[.,]\d+)?)S)?$`)
	unitPart    = pattern.New(`^\s*(\d+(?:[.,]\d+)?)\s*([[:alpha:]µ]+\.?|''|'|"|′|″|’|”)\s*`)
	minuteDot   = pattern.New(`^\d{1,3}[.,]\d{1,2}$`)
)

// units are the words for units of time, in seconds.
var units = map[string]float64{
	"ms": 0.001, "msec": 0.001, "s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "sek": 1, "seg": 1, `"`: 1, "″": 1, "”": 1, "''": 1,
	"m": 60, "min": 60, "mins": 60, "minute": 60, "minutes": 60, "'": 60, "′": 60, "’": 60, "h": 3600, "hr": 3600, "hrs": 3600, "hour": 3600, "hours": 3600,
}

// duration reads a time in seconds. The form says what plain numbers and colons mean.
func duration(s string, n notation, form string) (float64, bool) {
	if v, ok := n.number(s); ok {
		return plainSeconds(s, v, form)
	}
	if m := dottedTime.FindStringSubmatch(s); m != nil && form == "m.ss" {
		return 60*grid.Number(m[1]) + grid.Number(m[2]+"."+m[3]), grid.Number(m[2]) < 60
	}
	if m := daysAndTime.FindStringSubmatch(s); m != nil {
		v, ok := colonTime(m[2], "h:mm:ss")
		return 86400*grid.Number(m[1]) + v, ok
	}
	if m := dayAndTime.FindStringSubmatch(s); m != nil {
		s = m[1]
	}
	if v, ok := colonTime(s, form); ok {
		return v, true
	}
	v, ok := unitTimes(s)
	if m := isoTime.FindStringSubmatch(s); m != nil && s != "PT" {
		v, ok = 3600*grid.Number(m[1])+60*grid.Number(m[2])+grid.Number(strings.Replace(m[3], ",", ".", 1)), true
	}
	return v, ok && !math.IsInf(v, 0)
}

// plainSeconds are the seconds of a number without a unit.
func plainSeconds(s string, v float64, form string) (float64, bool) {
	v, ok := plainTime(s, v, form)
	return v, ok && !math.IsInf(v, 0)
}

// plainTime is a number without a unit.
func plainTime(s string, v float64, form string) (float64, bool) {
	switch form {
	case "minutes":
		return product(v, 60), true
	case "hours":
		return product(v, 3600), true
	case "days":
		return v * grid.SecondsInDay, true
	case "milliseconds":
		return v / 1000, true
	case "m.ss":
		minutes, seconds, _ := strings.Cut(strings.Replace(s, ",", ".", 1), ".")
		if len(seconds) == 1 { // 1.3 in a column of 1.30 lost its last zero
			seconds += "0"
		}
		return 60*grid.Number(minutes) + grid.Number(seconds), (minuteDot.MatchString(s) || digits(s)) && grid.Number(seconds) < 60
	}
	return v, true
}

// colonTime reads 1:30, 1:30.5, 0:01:30 and, where the form says so, 1:30:50 with hundredths.
func colonTime(s, form string) (float64, bool) {
	if m := twoParts.FindStringSubmatch(s); m != nil && form == hoursAndMinutes {
		return 3600*grid.Number(m[1]) + 60*grid.Number(m[2]), grid.Number(m[2]) < 60 && m[3] == ""
	}
	if m := twoParts.FindStringSubmatch(s); m != nil {
		return 60*grid.Number(m[1]) + grid.Number(m[2]+"."+m[3]), grid.Number(m[2]) < 60
	}
	if m := thousandths.FindStringSubmatch(s); m != nil {
		return 60*grid.Number(m[1]) + grid.Number(m[2]+"."+m[3]), grid.Number(m[2]) < 60
	}
	m := threeParts.FindStringSubmatch(s)
	if m == nil {
		return 0, false
	}
	a, b, c := grid.Number(m[1]), grid.Number(m[2]), grid.Number(m[3]+"."+m[4])
	switch form {
	case "m:ss:hh":
		return 60*a + b + c/100, b < 60 && m[4] == ""
	case "m:ss":
		return 60*a + b, b < 60 && c == 0
	}
	return 3600*a + 60*b + c, b < 60 && c < 60
}

// unitTimes adds up parts with a unit each: 1 min 30 s, 1m30s, 1'30"; a last part
// without one is seconds, and digits after the mark of seconds are a part of one (1'30"5).
func unitTimes(s string) (float64, bool) {
	total, last, parts, spelled := 0.0, 1e9, 0, false
	for s != "" {
		m := unitPart.FindStringSubmatch(s)
		if m == nil {
			if v, ok := (notation{}).number(strings.TrimSpace(s)); ok && parts > 0 && last == 60 && v < 60 {
				return total + v, true
			}
			if parts > 0 && last == 1 && digits(s) && !spelled {
				return total + grid.Number("0."+s), true
			}
			return 0, false
		}
		unit, ok := units[strings.ToLower(strings.TrimSuffix(m[2], "."))]
		if !ok || unit >= last {
			return 0, false
		}
		spelled = !strings.ContainsAny(m[2], `'"′″’”`)
		total, last = total+unit*grid.Number(strings.Replace(m[1], ",", ".", 1)), unit
		s = andPart.ReplaceAllString(s[len(m[0]):], "")
		parts++
	}
	return total, parts > 0
}

// A timeShape counts how the times of a column are written, one for each distinct cell.
type timeShape struct {
	plain, two, three []string
	zeroHours         bool // every cell of three parts begins with 0
	zeroSeconds       bool // every cell of three parts ends in 00
	hundredths        bool // the last of three parts is 60 or more somewhere
}

func shapeOf(texts []string, n notation) timeShape {
	s := timeShape{zeroHours: true, zeroSeconds: true}
	for _, t := range texts {
		if _, ok := n.number(t); ok {
			s.plain = append(s.plain, t)
		} else if twoParts.MatchString(t) {
			s.two = append(s.two, t)
		} else if m := threeParts.FindStringSubmatch(t); m != nil {
			s.three = append(s.three, t)
			s.zeroHours = s.zeroHours && grid.Number(m[1]) == 0
			s.zeroSeconds = s.zeroSeconds && grid.Number(m[3]) == 0 && m[4] == ""
			s.hundredths = s.hundredths || grid.Number(m[3]) >= 60
		}
	}
	return s
}

// threeForm settles what three parts mean: hours, minutes and seconds, or minutes, seconds
// and hundredths. A limit, or a standard, tells where only one reading is near it. Not ok
// where both are left.
func (s timeShape) threeForm(near float64) (form string, ok bool) {
	if len(s.three) == 0 {
		return "", true
	}
	if s.hundredths {
		return "m:ss:hh", true
	}
	fits := func(form string) bool {
		var vs []float64
		for _, t := range s.three {
			v, ok := colonTime(t, form)
			if !ok {
				return false
			}
			vs = append(vs, v)
		}
		slices.Sort(vs)
		middle := vs[len(vs)/2]
		return middle <= 1.2*near && middle >= near/20
	}
	if near > 0 {
		hours, hundredths, minutes := fits("h:mm:ss"), fits("m:ss:hh"), s.zeroSeconds && len(s.three) > 1 && fits("m:ss")
		switch {
		case hours && !hundredths:
			return "h:mm:ss", true
		case !hours && hundredths && !minutes:
			return "m:ss:hh", true
		case !hours && minutes && !s.zeroHours:
			return "m:ss", false
		}
	}
	// Under ten minutes with the hours written: the reading as hundredths would be
	// seconds at most.
	early := true
	for _, t := range s.three {
		v, _ := colonTime(t, "h:mm:ss")
		early = early && v < 1200
	}
	if s.zeroHours && early && !s.zeroSeconds {
		return "h:mm:ss", true
	}
	return "", false
}
