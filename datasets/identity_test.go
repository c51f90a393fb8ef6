package datasets

import (
	"math/rand/v2"
	"testing"
)

// The short way to a plain code finds what the long one does: a letter beyond ASCII that is
// dropped from codes, a sign of copyright, leads to the long way.
func TestPlainCodesOfASCII(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	signs := "0012tTloOiI.,-_ 'zZ/#"
	for range 100_000 {
		var code []byte
		for range r.IntN(9) {
			code = append(code, signs[r.IntN(len(signs))])
		}
		got, ok := plainASCII(string(code))
		long := plainCode("©" + string(code))
		if !ok || got != long {
			t.Fatalf("%q is %q, the long way %q", code, got, long)
		}
	}
	for code, want := range map[string]string{"T01": "t1", "t-1": "t1", "T 1.0": "t1", "T00": "t0", "Lo1": "101", "1,0": "1", "": ""} {
		if got := plainCode(code); got != want {
			t.Errorf("%q is %q, want %q", code, got, want)
		}
	}
}
