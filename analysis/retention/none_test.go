package retention

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"tyro/analysis/resample"
)

// At one rate alone the chance is that of Student's t: for 1, 2, 4 and 7 the mean is 3.5 and its
// standard error √(21/3)/2, t = 2.6458, and above that lies 0.03864 on 3 degrees of freedom (R:
// pt(2.645751, 3, lower = FALSE)). Two rates that are the same are as one.
func TestLossByChanceIsStudents(t *testing.T) {
	one := []float64{1, 2, 4, 7}
	for _, scores := range [][][]float64{{one}, {one, one}} {
		p, err := byChance(context.Background(), resample.Sampling{Replicates: 200_000}, "test", scores)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "p", p, 0.0386371, 0.0015) // 3 standard errors of 200,000 draws
	}
}

// Two rates whose numbers have nothing to do with each other, for very many trainees: the larger
// of two independent normal numbers is above 1.5 with chance 1 − 0.933193² = 0.129151.
func TestLossByChanceOverRates(t *testing.T) {
	const n = 400
	a, b := make([]float64, n), make([]float64, n)
	for i := range a { // squares sum to n, products to 0; the sum of a is 1.5·√n = 30
		a[i], b[i] = 1, 1
		if i >= 215 {
			a[i] = -1
		}
		if i%2 == 0 {
			b[i] = -1
		}
	}
	a[0], b[0] = 1, -1
	dot, sum := 0.0, 0.0
	for i := range a {
		dot, sum = dot+a[i]*b[i], sum+a[i]
	}
	if math.Abs(dot) > 2 || sum != 30 {
		t.Fatalf("product %v, sum %v", dot, sum)
	}
	p, err := byChance(context.Background(), resample.Sampling{Replicates: 20_000}, "test", [][]float64{a, b})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", p, 0.129151, 0.008)
}

// The sum of squares falls, to first order, by twice the sum of the trainees' numbers when a
// bit of loss is let in: the one is worked out from the other's definition.
func TestLossScoresAreTheSlope(t *testing.T) {
	people := unlost(7, 9, 0.15)
	f := &calendarFit{shape: Exponential, free: []int{0, 1, 2}, breaks: breaksOf(people)}
	for _, x := range people {
		f.walkers = append(f.walkers, walkerOf(x, f.breaks))
	}
	f.low = path{math.Log(0.01), math.Log(0.05), math.Log(1e-3 / 30)}
	f.high = path{math.Log(5), math.Log(10), math.Log(5)}
	scores := f.lossScores()
	if len(scores) != places {
		t.Fatalf("%d rates of regaining, want %d", len(scores), places)
	}
	g := f.scratch()
	once := make([]float64, len(f.walkers))
	for i := range once {
		once[i] = 1
	}
	least, best := math.Inf(1), path{}
	for k := range 20_001 { // where the curve without loss fits best
		p := path{math.Log(0.2) + (math.Log(0.6)-math.Log(0.2))*float64(k)/20_000, 0, math.Inf(-1)}
		if v := g.rss(p, once); v < least {
			least, best = v, p
		}
	}
	for k, of := range scores {
		regains := f.low[1] + (f.high[1]-f.low[1])*float64(k)/(places-1)
		const up = 1e-2 // of the lowest rate, whose loss the scores are of
		fall := least - g.rss(path{best[0], regains, f.low[2] + math.Log(up)}, once)
		sum := 0.0
		for _, v := range of {
			sum += v
		}
		near(t, "slope", sum, fall/2/up, 2e-3*math.Abs(sum)+2e-7)
	}
}

// unlost are trainees who learn as TestCourseWithoutNoise's do, and lose nothing.
func unlost(seed, n int, noise float64) []Trainee {
	r := rand.New(rand.NewPCG(uint64(seed), 3))
	var out []Trainee
	for i := range n {
		t := Trainee{ID: string(rune('a' + i))}
		level, above, left := 3.8+0.12*r.NormFloat64(), 1.2+0.2*r.NormFloat64(), 1.0
		for s, days := range []float64{math.NaN(), 2, 30} {
			x := Session{Gap: days}
			for range []int{12, 6, 6}[s] {
				x.Attempts = append(x.Attempts, Attempt{Value: level + above*left + noise*r.NormFloat64()})
				left *= math.Exp(-0.35)
			}
			t.Sessions = append(t.Sessions, x)
		}
		out = append(out, t)
	}
	return out
}

// Where nothing is lost it is told from chance seldom, and what is said of it says the same
// everywhere.
func TestCourseOfNothingLost(t *testing.T) {
	told := 0
	for seed := range 60 {
		cs, err := Courses(context.Background(), unlost(seed, 8, 0.15), Options{Lower: true, Sampling: resample.Sampling{Seed: uint64(seed), Replicates: 99, Workers: 1}})
		if err != nil {
			t.Fatal(err)
		}
		c := cs[0]
		if c.Loses {
			told++
		}
		for _, k := range c.Kept {
			if !math.IsNaN(k.Upper) && c.Loses != (k.Upper < 1) {
				t.Errorf("study %d: loses %t, kept after %g days up to %v", seed, c.Loses, k.Days, k.Upper)
			}
		}
		if !math.IsNaN(c.Rate.Lower) && (c.Loses != (c.Rate.Lower > 0) || !c.Loses && !math.IsInf(c.HalfLife.Upper, 1)) {
			t.Errorf("study %d: loses %t, rate from %v, half-life to %v", seed, c.Loses, c.Rate.Lower, c.HalfLife.Upper)
		}
	}
	if told > 8 { // of 60 with chance 0.05: 9 or more in 0.3 % of runs
		t.Errorf("a loss is told in %d of 60 studies in which nothing is lost", told)
	}
}

// Where nothing is lost the test rejects at 5 % in about 5 % of studies: 1,000 of 12 trainees,
// outside 3 to 7 % with chance 0.005.
func TestLossTestKeepsItsLevel(t *testing.T) {
	const studies = 1000
	rejected := 0
	for seed := range studies {
		people := unlost(seed, 12, 0.15)
		f := &calendarFit{shape: Exponential, free: []int{0, 1, 2}, breaks: breaksOf(people)}
		for _, x := range people {
			f.walkers = append(f.walkers, walkerOf(x, f.breaks))
		}
		f.low = path{math.Log(0.01), math.Log(0.05), math.Log(1e-3 / 30)}
		f.high = path{math.Log(5), math.Log(10), math.Log(5)}
		p, err := f.none(context.Background(), resample.Sampling{Seed: uint64(seed), Replicates: 199, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		if p <= 0.05 {
			rejected++
		}
	}
	if rejected < 30 || rejected > 70 {
		t.Errorf("%d of %d studies", rejected, studies)
	}
}
