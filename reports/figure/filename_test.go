package figure

import (
	"strings"
	"testing"
)

// Different codes have different file names, also where case does not count, short
// and of letters that every system allows.
func TestFileNames(t *testing.T) {
	codes := []string{"T01", "a/b", "a_b", "a.b", "a b", "A_B", "x", "X", "CON", "nul", "com1", "com10", "series", "", "../../x", "é", "è", "..", strings.Repeat("k", 300), strings.Repeat("k", 301)}
	names := fileNames(codes)
	seen := map[string]string{}
	for i, n := range names {
		small := strings.ToLower(n)
		if other, taken := seen[small]; taken {
			t.Errorf("%q and %q are both called %s", codes[i], other, n)
		}
		seen[small] = codes[i]
		if len(n) == 0 || len(n) > longestName+9 || strings.Trim(n, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-") != "" || reserved(n) {
			t.Errorf("%q is called %q", codes[i], n)
		}
	}
	for i, want := range map[int]string{0: "T01", 11: "com10", 13: "series"} {
		if names[i] != want {
			t.Errorf("%q is called %q, want %q", codes[i], names[i], want)
		}
	}
	// The first eight digits of sha256("a/b"), as sha256sum prints them.
	if names[1] != "a_b-c14cddc0" {
		t.Errorf("a/b is called %q", names[1])
	}
}
