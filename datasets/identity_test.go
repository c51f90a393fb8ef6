package datasets

import (
	"math/rand/v2"
	"regexp"
	"testing"
)

// The short way to a plain code finds what the long one does, and leaves to it only titles and a
// letter O before a digit.
func TestPlainCodesOfASCII(t *testing.T) {
	left := regexp.MustCompile(`(?i)^(dr|mrs?|ms|sr)[. ]|o[^a-z0-9]*[0-9]`)
	r := rand.New(rand.NewPCG(5, 6))
	signs := "0012tTloOiI.,-_ 'zZ/#DrmS"
	for range 200_000 {
		var code []byte
		for range r.IntN(9) {
			code = append(code, signs[r.IntN(len(signs))])
		}
		got, ok := plainASCII(string(code))
		if !ok && !left.Match(code) {
			t.Fatalf("%q is left to the long way", code)
		}
		if long := plainAny(string(code)); ok && got != long {
			t.Fatalf("%q is %q, the long way %q", code, got, long)
		}
	}
	for code, want := range map[string]string{
		"T01": "t1", "t-1": "t1", "T 1.0": "t1", "T00": "t0", "1,0": "1", "": "",
		"TO1": "t1", "T-O7": "t7", "Lo1": "11", // as T01, T07 and L01
		"Dr. Ash": "ash", "prof Dr Ash": "ash", "Dr Ash": "ash", "Drake": "drake",
		"Müller": "mue11er", "Mueller": "mue11er",
	} {
		if got := plainCode(code); got != want {
			t.Errorf("%q is %q, want %q", code, got, want)
		}
	}
}
