package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A standard of 2.5 counts, higher being better, through both commands. All trainees
// make n counts at attempt n, which the logarithmic curve fits without a residual; a
// Poisson count is then 3 or more with chance 1 − exp(−n)(1 + n + n²/2), which is .762
// at attempt 4 and .875 at 5: chance 0.8 is reached at 5. (A count of 2 or more, which a
// standard rounded down would ask for, has that chance from attempt 3 on.)
func TestFractionalStandardThroughCommands(t *testing.T) {
	for n, want := range map[float64]float64{4: 0.762, 5: 0.875} {
		if p := 1 - math.Exp(-n)*(1+n+n*n/2); math.Abs(p-want) > 5e-4 {
			t.Fatalf("by hand: %v at %v", p, n)
		}
	}
	var b strings.Builder
	b.WriteString("who,n,counts\n")
	for i := range 8 {
		for n := 1; n <= 12; n++ {
			fmt.Fprintf(&b, "T%d,%d,%d\n", i+1, n, n)
		}
	}
	path := filepath.Join(t.TempDir(), "log.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{path, "--trainee", "who", "--attempt", "n", "--response", "counts", "--measure", "count", "--better", "higher", "--standard", "2.5", "--family", "logarithmic", "--format", "json"}
	answers := func(list any, of string) (estimate float64, found bool) {
		for _, r := range list.([]any) {
			m := r.(map[string]any)
			if who, named := m["trainee"]; m["definition"] == "pass-chance" && (!named || who == of) {
				return m["estimate"].(float64), true
			}
		}
		return 0, false
	}
	out, _ := tyro(t, 0, append([]string{"proficiency", "--replicates", "40"}, args...)...)
	own, found := answers(decode(t, out)["results"], "T3")
	if !found || own != 5 {
		t.Errorf("proficiency: pass-chance at %v (found %v), want 5", own, found)
	}
	out, _ = tyro(t, 0, append([]string{"cohort"}, args...)...)
	for _, m := range decode(t, out)["trainees"].([]any) {
		if pooled, found := answers(m.(map[string]any)["proficiency"], ""); !found || pooled != own {
			t.Errorf("cohort: pass-chance at %v (found %v), proficiency %v", pooled, found, own)
		}
	}
}
