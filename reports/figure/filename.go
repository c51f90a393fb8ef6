package figure

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
)

// longestName bounds the part of a file name that comes from a code, in letters.
const longestName = 40

// fileNames makes a part of a file name from each code: letters, digits, dashes and
// underscores of ASCII as they are, anything else as an underscore. A code that does
// not come through as it was, that another code differs from in case only, or that
// Windows keeps for a device gets eight digits of its SHA-256, so that different codes
// have different names on every system. A blank code is the single series.
func fileNames(codes []string) []string {
	spelled := map[string]string{} // by small letters: the code; blank where several
	for _, c := range codes {
		small := strings.ToLower(c)
		if other, seen := spelled[small]; seen && other != c {
			c = ""
		}
		spelled[small] = c
	}
	out := make([]string, len(codes))
	for i, c := range codes {
		switch plain := plainName(c); {
		case c == "":
			out[i] = "series"
		case plain == c && spelled[strings.ToLower(c)] == c && !reserved(c) && c != "series":
			out[i] = c
		default:
			out[i] = fmt.Sprintf("%s-%x", plain, sha256.Sum256([]byte(c)))[:len(plain)+9]
		}
	}
	return out
}

// plainName keeps what every file system allows, cut to a moderate length.
func plainName(code string) string {
	var b strings.Builder
	for _, r := range code {
		if b.Len() == longestName {
			break
		}
		switch {
		case r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z':
			b.WriteRune(r)
		default:
			b.WriteByte('_')
		}
	}
	return b.String()
}

// reserved reports whether Windows keeps a name for a device.
func reserved(name string) bool {
	small := strings.ToLower(name)
	if len(small) == 4 && (strings.HasPrefix(small, "com") || strings.HasPrefix(small, "lpt")) {
		return small[3] >= '0' && small[3] <= '9'
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul", "conin$", "conout$"}, small)
}
