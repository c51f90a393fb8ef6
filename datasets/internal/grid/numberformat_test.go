package grid

import (
	"math"
	"testing"
	"time"
)

func FuzzNumberFormat(f *testing.F) {
	for _, s := range []string{"[m]:ss.0", "0%", "000", `"T"00`, "yyyy-mm-dd", "h:mm AM/PM", "#,##0.00;[Red]-0", ""} {
		f.Add(s, 0.5)
	}
	f.Fuzz(func(t *testing.T, code string, v float64) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return
		}
		text, kind := formatNamed(code).cell(v, From1900)
		if kind != Day {
			return
		}
		if _, err := time.Parse(DateForm, text[:min(len(text), len(DateForm))]); err != nil {
			t.Errorf("%v in the format %q is the date %q", v, code, text)
		}
	})
}
