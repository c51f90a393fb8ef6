package grid

import "strings"

// formulaStarts are the characters with which a spreadsheet program begins a formula
// when it opens a CSV file, with the full-width forms that some of them take for the
// same.
const formulaStarts = "=+-@\t\r\n＝＋－＠"

// Guard makes a text cell of a CSV file safe to open in a spreadsheet program: one
// that would be run as a formula gets an apostrophe before it, and so does one that begins
// with an apostrophe of its own. Plain numbers stay as they are. Reading a CSV file takes the
// apostrophe away again, so that a code reads back as it was written.
func Guard(s string) string {
	if startsFormula(strings.TrimLeft(s, "'")) && !PlainNumber.MatchString(s) || ownApostrophe(s) {
		return "'" + s
	}
	return s
}

// ownApostrophe reports whether a text begins with an apostrophe that closes nowhere, such as
// '07, which reading would take for that of a spreadsheet.
func ownApostrophe(s string) bool {
	return len(s) > 1 && s[0] == '\'' && s[len(s)-1] != '\''
}

// Unguard takes away the apostrophe that Guard put there.
func Unguard(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && (startsFormula(strings.TrimLeft(rest, "'")) || ownApostrophe(rest)) {
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
