package grid

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// A numberFormat says what the numbers of cells with it mean (ECMA-376 part 1, section
// 18.8.30).
type numberFormat struct {
	kind   Kind
	prefix string // shown before the digits
	zeros  int    // digits shown at least
	suffix string
	words  string // shown beside a plain number
}

// builtinFormats are the formats that workbooks name by number alone; those not listed
// show plain numbers.
func builtinFormat(id int) string {
	switch {
	case id >= 14 && id <= 17, id >= 27 && id <= 31, id == 36, id >= 50 && id <= 58:
		return "yyyy-mm-dd"
	case id == 22:
		return "yyyy-mm-dd h:mm"
	case id >= 32 && id <= 35:
		return "h:mm:ss"
	}
	return map[int]string{9: "0%", 10: "0.00%", 18: "h:mm AM/PM", 19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 45: "mm:ss", 46: "[h]:mm:ss", 47: "mm:ss.0"}[id]
}

var (
	quotedPart   = regexp.MustCompile(`"[^"]*"|\\.|_.|\*.`)
	bracketPart  = regexp.MustCompile(`\[[^\]]*\]`)
	elapsedPart  = regexp.MustCompile(`(?i)\[(h+|m+|s+)\]`)
	halfDay      = regexp.MustCompile(`(?i)am/pm|a/p`)
	zerosShown   = regexp.MustCompile(`^((?:"[^"]*"|\\.)*)(0+)((?:"[^"]*"|\\.)*)$`)
	literalMarks = strings.NewReplacer(`"`, "", `\`, "")
)

// formatNamed reads the code of a number format.
func formatNamed(code string) numberFormat {
	first, _, _ := strings.Cut(code, ";")
	if m := zerosShown.FindStringSubmatch(first); m != nil && (len(m[2]) > 1 || m[1] != "") {
		return numberFormat{kind: shown, prefix: literalMarks.Replace(m[1]), zeros: len(m[2]), suffix: literalMarks.Replace(m[3])}
	}
	bare := quotedPart.ReplaceAllString(first, "")
	elapsed := elapsedPart.FindString(bare)
	bare = strings.ToLower(bracketPart.ReplaceAllStringFunc(bare, func(s string) string {
		if elapsedPart.MatchString(s) {
			return strings.Trim(s, "[]")
		}
		return ""
	}))
	if strings.EqualFold(strings.TrimSpace(bare), "general") {
		return numberFormat{kind: Numeric}
	}
	has := func(letters string) bool { return strings.ContainsAny(bare, letters) }
	switch {
	case strings.Contains(bare, "%"):
		return numberFormat{kind: Percent}
	case halfDay.MatchString(bare) && !has("yd"):
		return numberFormat{kind: Clock}
	case has("yd"), has("m") && !has("hs"):
		if elapsed != "" {
			return numberFormat{kind: Span}
		}
		return numberFormat{kind: Day}
	case has("h") && !has("s"):
		return numberFormat{kind: HourSpan}
	case has("hs"):
		return numberFormat{kind: Span}
	}
	return numberFormat{kind: Numeric, words: wordsOf(first)}
}

// wordsOf is what a format shows beside the digits of a number.
func wordsOf(code string) string {
	var out []string
	for _, part := range quotedPart.FindAllString(bracketPart.ReplaceAllString(code, ""), -1) {
		if part[0] == '_' || part[0] == '*' {
			continue
		}
		if word := strings.TrimSpace(literalMarks.Replace(part)); word != "" && !SecondsWord.MatchString(word) && !strings.ContainsAny(word, "()-+$€£") {
			out = append(out, word)
		}
	}
	return strings.Join(out, " ")
}

// wordsBeside is what stands beside the digits of a number as it is shown.
func wordsBeside(shown string) string {
	word := strings.Trim(shown, "0123456789.,+-−'’ ")
	if word == "E" || SecondsWord.MatchString(word) || !strings.ContainsFunc(word, unicode.IsLetter) || strings.ContainsAny(word, "0123456789()$€£") {
		return ""
	}
	return word
}

// SecondsInDay turns the days of a spreadsheet's times into seconds.
const SecondsInDay = 24 * 60 * 60

// cell is the text and kind of a number with this format.
func (f numberFormat) cell(v float64, days Calendar) (string, Kind) {
	switch f.kind {
	case shown:
		if v == math.Trunc(v) && v >= 0 && v < 1e15 {
			digits := strconv.FormatFloat(v, 'f', 0, 64)
			return f.prefix + strings.Repeat("0", max(0, f.zeros-len(digits))) + digits + f.suffix, shown
		}
	case Percent:
		return FormatNumber(math.Round(v*1e12) / 1e10), Percent
	case Span, HourSpan:
		if v >= 365 { // a day with a time of day, of which only the time is shown
			if d, ok := days.Date(v); ok {
				return d, Day
			}
		}
		return FormatNumber(math.Round(v*SecondsInDay*1e6) / 1e6), f.kind
	case Clock:
		minutes := int(math.Round(v*24*60)) % (24 * 60)
		return strconv.Itoa(minutes/60) + ":" + strconv.Itoa(100 + minutes%60)[1:], Clock
	case Day:
		if v > 0 && v < 1 { // no day at all: a time that was given the format of a date
			return FormatNumber(math.Round(v*SecondsInDay*1e6) / 1e6), Span
		}
		if d, ok := days.Date(v); ok {
			return d, Day
		}
	}
	return FormatNumber(v), Numeric
}

// SecondsWord are words for seconds, and what else stands in brackets and is no unit.
var SecondsWord = regexp.MustCompile(`(?i)^(s|se[ckg]s?|sn|saniye|sekund\w*|second\w*|segund\w*|secs|sekunti\w*|másodperc|mp|sekuncl\w*|sekundy|vteřin\w*|с|сек\w*|δ|δευτ\w*|秒|秒数|초|שניות|שנ|ثانية|ثانیه|ثوان|ثواني|detik|giây|วินาที|total|gesamt|raw|net|brutto|netto)$`)
