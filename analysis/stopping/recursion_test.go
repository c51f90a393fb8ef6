package stopping

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

func parse(t testing.TB, text string) Rule {
	t.Helper()
	r, err := practice.ParseRule(text)
	if err != nil {
		t.Fatal(err)
	}
	return Rule{r}
}

// TestMetByFibonacci: with p = 1/2 the sequences of n without two passes in a
// row are counted by Fibonacci numbers: 144 of 1024 for n = 10, so 1 − 144/1024
// have met the rule.
func TestMetByFibonacci(t *testing.T) {
	got, err := parse(t, "2 in a row").MetBy(Constant(0.5, 10))
	if err != nil {
		t.Fatal(err)
	}
	a, b := 1.0, 2.0 // sequences of 0 and 1 attempts
	for n := 1; n <= 10; n++ {
		if want := 1 - b/math.Pow(2, float64(n)); got[n-1] != want {
			t.Errorf("met by %d: %v, want %v", n, got[n-1], want)
		}
		a, b = b, a+b
	}
	if got[9] != 0.859375 {
		t.Errorf("met by 10: %v, want 0.859375", got[9])
	}
}

// TestPracticeTable: passes in a row have mean (1 − p^k)/(p^k(1 − p)) (Feller,
// 1968, An Introduction to Probability Theory and its Applications, volume 1,
// XIII.7). The rest is a printed table of two in a row by 10 attempts with its
// mean, and of two in a row with 12 passes in all by 20 and 40 with its mean;
// each is held to the digits printed.
func TestPracticeTable(t *testing.T) {
	two, both := parse(t, "2 in a row"), parse(t, "2 in a row and 12 in all")
	for _, c := range []struct {
		p, by10, mean2   float64
		by20, by40, mean float64
		digits           float64 // half the last place of by20 and by40
	}{
		{0.30, 0.50, 14.4, 0.005, 0.56, 40.2, 0.0005},
		{0.50, 0.86, 6.0, 0.25, 0.997, 24.0, 0.005},
		{0.70, 0.99, 3.5, 0.89, 1.00, 17.1, 0.005},
		{0.841, 1.00, 2.6, 1.00, 1.00, 14.3, 0.005},
		{0.977, 1.00, 2.1, 1.00, 1.00, 12.3, 0.005},
	} {
		check := func(what string, got, want, half float64) {
			t.Helper()
			if !(math.Abs(got-want) <= half+1e-12) {
				t.Errorf("p = %g, %s: %.5f, want %g", c.p, what, got, want)
			}
		}
		r2, _ := two.MetBy(Constant(c.p, 10))
		rb, _ := both.MetBy(Constant(c.p, 40))
		check("two in a row by 10", r2[9], c.by10, 0.005)
		check("both by 20", rb[19], c.by20, c.digits)
		by40 := 0.005
		if c.by40 == 0.997 {
			by40 = 0.0005
		}
		check("both by 40", rb[39], c.by40, by40)
		m2, _ := two.MeanAttempts(c.p)
		mb, _ := both.MeanAttempts(c.p)
		check("mean of two in a row", m2, c.mean2, 0.05)
		check("mean of both", mb, c.mean, 0.05)
		if want := (1 - c.p*c.p) / (c.p * c.p * (1 - c.p)); !(math.Abs(m2-want) <= 1e-12*want) {
			t.Errorf("p = %g: mean %v, want %v", c.p, m2, want)
		}
	}
}

// TestMeanAttemptsExtreme: the closed form above at a mean of 10^20 attempts.
func TestMeanAttemptsExtreme(t *testing.T) {
	got, err := parse(t, "10 in a row").MeanAttempts(0.01)
	want := (1 - math.Pow(0.01, 10)) / (math.Pow(0.01, 10) * 0.99)
	if err != nil || !(math.Abs(got-want) <= 1e-12*want) {
		t.Errorf("mean %v (%v), want %v", got, err, want)
	}
	if got, _ := parse(t, "7 in all").MeanAttempts(0.25); !(math.Abs(got-28) <= 1e-12*28) {
		t.Errorf("7 in all at 1/4: mean %v, want 28 (negative binomial)", got)
	}
	if got, _ := parse(t, "3 of last 5").MeanAttempts(0); !math.IsInf(got, 1) {
		t.Errorf("chance 0: mean %v, want +Inf", got)
	}
}

// lastFirstMet is the definition itself: the attempt at which the last of the
// clauses is first met; 0 when one is not.
func lastFirstMet(r Rule, passes []bool) int {
	last := 0
	for _, c := range r.Rule {
		k := practice.Rule{c}.FirstMet(passes)
		if k == 0 {
			return 0
		}
		last = max(last, k)
	}
	return last
}

// enumerate adds up the chances of all 2^n sequences by when the rule is met.
func enumerate(r Rule, chance []float64) []float64 {
	out := make([]float64, len(chance))
	passes := make([]bool, len(chance))
	for bits := range 1 << len(chance) {
		mass := 1.0
		for i, p := range chance {
			passes[i] = bits>>i&1 == 1
			if passes[i] {
				mass *= p
			} else {
				mass *= 1 - p
			}
		}
		if k := lastFirstMet(r, passes); k > 0 {
			for n := k - 1; n < len(out); n++ {
				out[n] += mass
			}
		}
	}
	return out
}

var mixedRules = []string{
	"1 in a row", "3 in a row", "4 in all", "3 of last 5", "5 of last 5", "2 of last 9",
	"2 in a row and 5 in all", "3 of last 5 and 2 in a row", "3 of last 4 and 4 of last 8",
	"2 of last 3 and 6 in all", "2 in a row and 3 of last 6 and 5 in all", "4 in a row and 3 of last 7 and 2 in all",
}

func TestMetByEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, text := range mixedRules {
		rule := parse(t, text)
		chance := make([]float64, 12)
		for i := range chance {
			chance[i] = r.Float64()
		}
		got, err := rule.MetBy(chance)
		if err != nil {
			t.Fatal(err)
		}
		for n, want := range enumerate(rule, chance) {
			if !(math.Abs(got[n]-want) <= 1e-12) {
				t.Errorf("%s met by %d: %v, want %v", text, n+1, got[n], want)
			}
		}
	}
}

// TestMetByRandomRules: any rule, against all sequences of ten attempts.
func TestMetByRandomRules(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for range 60 {
		var rule Rule
		for range 1 + r.IntN(4) {
			c := practice.Clause{Need: 1 + r.IntN(4)}
			switch r.IntN(3) {
			case 0:
				c.InAll, c.Need = true, c.Need+r.IntN(4)
			case 1:
				c.Of = c.Need + r.IntN(5)
			}
			rule.Rule = append(rule.Rule, c)
		}
		chance := make([]float64, 10)
		for i := range chance {
			chance[i] = r.Float64()
		}
		got, err := rule.MetBy(chance)
		if err != nil {
			t.Fatal(err)
		}
		for n, want := range enumerate(rule, chance) {
			if !(math.Abs(got[n]-want) <= 1e-12) {
				t.Errorf("%s met by %d: %v, want %v", rule, n+1, got[n], want)
			}
		}
	}
}

// TestMeanAgreesWithMetBy: a mean is the sum of the chances not yet met.
func TestMeanAgreesWithMetBy(t *testing.T) {
	for _, text := range mixedRules {
		rule := parse(t, text)
		by, err := rule.MetBy(Constant(0.6, 3000))
		if err != nil {
			t.Fatal(err)
		}
		want := 1.0
		for _, m := range by {
			want += 1 - m
		}
		if got, err := rule.MeanAttempts(0.6); err != nil || !(math.Abs(got-want) <= 1e-9*want) {
			t.Errorf("%s: mean %v (%v), want %v", text, got, err, want)
		}
	}
}

// TestMetBySimulated draws sequences with a pass chance that rises over the
// attempts; testdata/proficiency/recursion does so with a million a rule.
func TestMetBySimulated(t *testing.T) {
	const draws = 20000
	chance := make([]float64, 40)
	for i := range chance {
		chance[i] = 0.9 - 0.8*math.Exp(-0.08*float64(i))
	}
	for _, text := range []string{"2 in a row and 10 in all", "8 of last 10"} {
		rule := parse(t, text)
		want, err := rule.MetBy(chance)
		if err != nil {
			t.Fatal(err)
		}
		counts := make([]float64, len(chance))
		r := resample.Stream(1, "test/"+text, 0)
		passes := make([]bool, len(chance))
		for range draws {
			for i, p := range chance {
				passes[i] = r.Float64() < p
			}
			if k := lastFirstMet(rule, passes); k > 0 {
				counts[k-1]++
			}
		}
		total := 0.0
		for n := range counts {
			total += counts[n] / draws
			se := math.Sqrt(want[n] * (1 - want[n]) / draws)
			if math.Abs(total-want[n]) > 5*se+1e-3 {
				t.Errorf("%s met by %d: simulated %v, recursion %v (SE %v)", text, n+1, total, want[n], se)
			}
		}
	}
}

func TestRecursionRefuses(t *testing.T) {
	if _, err := parse(t, "20 of last 60").MetBy(Constant(0.5, 3)); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a window with too many states: %v", err)
	}
	for _, p := range []float64{-0.1, 1.1, math.NaN()} {
		if _, err := parse(t, "2 in a row").MetBy([]float64{p}); err == nil {
			t.Errorf("chance %v: no error", p)
		}
	}
	if _, err := (Rule{}).MetBy([]float64{0.5}); err == nil {
		t.Error("an empty rule: no error")
	}
}

// TestPatterns: a window has as many states as ways to fall short of it: at
// most 2 passes in 4 attempts are 1 + 4 + 6.
func TestPatterns(t *testing.T) {
	for text, want := range map[string]int{"3 of last 5": 11, "2 of last 9": 9, "5 of last 5": 16, "6 of last 12": 1024} {
		rule := parse(t, text)
		rec, err := NewRecursion(rule.Rule)
		if err != nil || rec.States() != want || patterns(rule.Rule[0]) != float64(want) {
			t.Errorf("%s: %d states (%v), want %d", text, rec.States(), err, want)
		}
	}
}

func TestRecursionDropsImpliedClauses(t *testing.T) {
	rec, err := NewRecursion(parse(t, "1000 in all and 1000 in a row and 900 of last 950").Rule)
	if err != nil || rec.States() != 1000 {
		t.Errorf("%v states (%v), want 1000", rec.States(), err)
	}
}

func BenchmarkMetBy(b *testing.B) {
	rec, err := NewRecursion(parse(b, "2 in a row and 12 in all").Rule)
	if err != nil {
		b.Fatal(err)
	}
	chance := Constant(0.5, 200)
	for b.Loop() {
		if _, err := rec.MetBy(chance); err != nil {
			b.Fatal(err)
		}
	}
}
