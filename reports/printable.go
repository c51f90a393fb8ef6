package reports

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Printable shows what could act on a terminal, or is not allowed in SVG and HTML, as
// text: control characters and escape codes as \x1b, marks that turn the direction of
// writing as \u202e, bytes that are no UTF-8 as \xff. Everything else stays.
func Printable(s string) string { return PrintableBut(s, "") }

// PrintableBut is [Printable] but for the characters to keep.
func PrintableBut(s, keep string) string {
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(s[i:], string(utf8.RuneError)):
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case strings.ContainsRune(keep, r) || !acts(r):
			b.WriteRune(r)
		case r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// acts reports whether a character does something rather than show: controls, marks of
// direction, separators of lines, and code points that XML does not know.
func acts(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029' || r == '\ufffe' || r == '\uffff'
}
