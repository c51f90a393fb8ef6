package grid

import "strings"

// formulaStarts are the characters with which a spreadsheet program begins a formula
// when it opens a CSV file, with the full-width forms that some of them take for the
// same.
const formulaStarts = "=+-@\t\r\n＝＋－＠"

// Guard makes a text cell of a CSV file safe to open in a spreadsheet program: one
// that would be run as a formula gets an apostrophe before it. Plain numbers stay as
// they are. Reading a CSV file takes the apostrophe away again, so that a code reads
// back as it was written.
func Guard(s string) string {
	if !startsFormula(strings.TrimLeft(s, "'")) || PlainNumber.MatchString(s) {
		return s
	}
	return "'" + s
}

// Unguard takes away the apostrophe that Guard put there.
func Unguard(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && startsFormula(strings.TrimLeft(rest, "'")) {
		return rest
	}
	return s
}

func startsFormula(s string) bool {
	for _, r := range s {
		return strings.ContainsRune(formulaStarts, r)
	}
	return false
}

// GuardAll guards every cell of a row.
func GuardAll(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = Guard(c)
	}
	return out
}
