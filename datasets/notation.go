package datasets

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// A notation says how the numbers of a column are written.
type notation struct {
	decimal string // point, comma or either; blank where no cell has a mark
	groups  bool   // thousands are set apart by the other mark
}

// eitherMark says that points and commas are both decimal marks, as where two people wrote.
const eitherMark = "either"

// DecimalMarks are the words for what stands before decimals.
func DecimalMarks() []string { return []string{"point", "comma", eitherMark} }

// The shapes of a number with marks.
var (
	markedNumber = pattern.New(`^[+-]?\d*[.,]\d+(?:[eE][+-]?\d{1,3})?$|^[+-]?\d+[.,]$`)
	threeAfter   = pattern.New(`^[+-]?[1-9]\d{0,2}[.,]\d{3}$`)
	pointGroups  = pattern.New(`^[+-]?\d{1,3}(?:\.\d{3})+(?:,\d+)?$`)
	commaGroups  = pattern.New(`^[+-]?\d{1,3}(?:,\d{3})+(?:\.\d+)?$`)
	otherGroups  = pattern.New(`^[+-]?\d{1,3}(?:[ '’]\d{3})+(?:[.,]\d+)?$`)
)

// votes are what the cells of a column, or of a file, show of their notation. Each is a
// cell that shows it; blank for none.
type votes struct {
	point, comma             string // a decimal mark for sure
	pointGroups, commaGroups string // marks between thousands for sure
	threePoint, threeComma   string // three digits after the only mark: either
	whole                    string // below 1,000 without a mark
	thousand                 string // 1,000 and more without a mark
}

// add looks at one text.
func (v *votes) add(s string) {
	s = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "%"))
	var seen *string
	points, commas := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case digits(s) && len(s) > 3:
		seen = &v.thousand
	case digits(s):
		seen = &v.whole
	case threeAfter.MatchString(s) && points == 1:
		seen = &v.threePoint
	case threeAfter.MatchString(s):
		seen = &v.threeComma
	case markedNumber.MatchString(s) && points == 1:
		seen = &v.point
	case markedNumber.MatchString(s):
		seen = &v.comma
	case pointGroups.MatchString(s):
		seen = &v.pointGroups
	case commaGroups.MatchString(s):
		seen = &v.commaGroups
	case otherGroups.MatchString(s) && commas == 1:
		seen = &v.comma
	case otherGroups.MatchString(s) && points == 1:
		seen = &v.point
	}
	if seen != nil && *seen == "" {
		*seen = s
	}
}

// settle finds the notation of a column from its own cells, those of the whole file and
// the separator of the file; not ok where two readings are left, with a cell that has them.
func (v votes) settle(file votes, semicolons bool) (n notation, doubt string, ok bool) {
	point, comma := v.point != "" || v.commaGroups != "", v.comma != "" || v.pointGroups != ""
	switch {
	case point && comma:
		return n, cmp.Or(v.comma, v.pointGroups) + " and " + cmp.Or(v.point, v.commaGroups), false
	case point && v.threeComma != "" && v.commaGroups == "":
		return n, v.threeComma, false
	case comma && v.threePoint != "" && v.pointGroups == "":
		return n, v.threePoint, false
	case point:
		return notation{"point", v.commaGroups != ""}, "", true
	case comma:
		return notation{"comma", v.pointGroups != ""}, "", true
	case v.threePoint != "" && v.threeComma != "":
		return n, v.threePoint + " and " + v.threeComma, false
	case v.threePoint != "":
		// A program that writes three decimals writes them everywhere; a person who sets
		// thousands apart leaves smaller numbers without a mark.
		sure := v.whole == "" || v.thousand != "" || file.point != ""
		if file.comma != "" || semicolons && file.point == "" || !sure {
			return n, v.threePoint, false
		}
		return notation{"point", false}, "", true
	case v.threeComma != "":
		if file.comma != "" && file.point == "" {
			return notation{"comma", false}, "", true
		}
		return n, v.threeComma, false
	}
	return n, "", true
}

// plainDigits is a text with the digits and marks of other scripts, and the true minus
// sign, as those of ours.
func plainDigits(s string) string {
	for i := 0; ; i++ {
		if i == len(s) {
			return s
		}
		if s[i] >= 0x80 {
			break
		}
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\u2212' || r == '\ufe63' || r == '\uff0d':
			return '-'
		case r >= '\uff01' && r <= '\uff5e': // full width
			return r - 0xfee0
		case r >= '\u0660' && r <= '\u0669':
			return '0' + r - '\u0660'
		case r >= '\u06f0' && r <= '\u06f9':
			return '0' + r - '\u06f0'
		case r >= '\u0966' && r <= '\u096f':
			return '0' + r - '\u0966'
		case r == '\u066b':
			return '.'
		}
		return r
	}, s)
}

// number reads a number in this notation.
func (n notation) number(s string) (float64, bool) {
	if n.decimal == eitherMark {
		if strings.Count(s, ",")+strings.Count(s, ".") == 1 {
			s = strings.Replace(s, ",", ".", 1)
		}
		n.decimal = "point"
	}
	group, mark := ",", "."
	if n.decimal == "comma" {
		group, mark = ".", ","
	}
	if grid.PlainNumber.MatchString(s) && (mark == "." || !strings.Contains(s, ".")) {
		v, err := strconv.ParseFloat(s, 64)
		return v, err == nil
	}
	switch {
	case otherGroups.MatchString(s):
		s = strings.NewReplacer(" ", "", "'", "", "’", "").Replace(s)
	case n.groups && (mark == "." && commaGroups.MatchString(s) || mark == "," && pointGroups.MatchString(s)):
		s = strings.ReplaceAll(s, group, "")
	}
	if strings.Contains(s, group) {
		return 0, false
	}
	s = strings.Replace(s, mark, ".", 1)
	if !grid.PlainNumber.MatchString(s) {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// notationOf settles the notation of some texts of a column, or says why it cannot.
func notationOf(file, column string, texts []string, whole votes, semicolons bool, forced string) (notation, error) {
	var v votes
	for _, s := range texts {
		v.add(s)
	}
	if forced != "" {
		return notation{forced, forced != eitherMark}, nil
	}
	n, doubt, ok := v.settle(whole, semicolons)
	if ok {
		return n, nil
	}
	expect := "to be told the decimal mark: --decimal point or --decimal comma, or --decimal either where both are one (in a study file: decimal)"
	if threeAfter.MatchString(doubt) {
		as := func(decimal string) string {
			v, _ := notation{decimal, true}.number(doubt)
			return grid.FormatNumber(v)
		}
		expect = fmt.Sprintf("to be told the decimal mark: --decimal point makes it %s, --decimal comma makes it %s (in a study file: decimal)", as("point"), as("comma"))
	}
	return n, Problem{File: file, Column: column, Value: doubt, Err: problem.ErrAmbiguous, Expect: expect}
}
