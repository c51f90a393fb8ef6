package agreement

import (
	"math"
	"testing"
)

func TestSeverities(t *testing.T) {
	// On a complete table a severity is the grand mean minus the rater's mean,
	// with standard error √(MSE·(1 − 1/k)/n) and (n−1)(k−1) degrees of freedom.
	// Shrout and Fleiss (1979): means 46/6, 15/6, 26/6, 40/6; MSE 1.019444.
	s, err := Severities(shroutFleiss, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	grand := 127. / 24
	se := math.Sqrt(1.0194444444444443 * 0.75 / 6)
	for j, sum := range []float64{46, 15, 26, 40} {
		near(t, "severity", s[j].Estimate, grand-sum/6)
		near(t, "SE", s[j].SE, se)
		near(t, "lower", s[j].Lower, grand-sum/6-2.131449545559323*se) // t, 15 df
	}
}

func TestSeverityWithGaps(t *testing.T) {
	// R 4.2.2: lm(score ~ subject + rater) with sum contrasts, two ratings
	// missing; testdata/agreement/severity.R.
	r := make(Ratings, len(shroutFleiss))
	for i, row := range shroutFleiss {
		r[i] = append([]float64{}, row...)
	}
	r[0][1], r[3][3] = math.NaN(), math.NaN()
	s, err := Severities(r, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for j, want := range severityReference {
		within(t, "severity", s[j].Estimate, want[0], 1e-7)
		within(t, "SE", s[j].SE, want[1], 1e-7)
	}
}

// Two raters who never met are compared through a third; raters without any
// link are not.
func TestPairsThatNeverOverlap(t *testing.T) {

	r := Ratings{{10, 12, nan, nan, nan}, {20, 22, nan, nan, nan}, {nan, 30, 33, nan, nan}, {nan, 40, 43, nan, nan}, {nan, nan, nan, 5, 6}, {nan, nan, nan, 8, 9}}
	s, err := Severities(r, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first against third, through the second", s[0].Estimate-s[2].Estimate, 5)
	for j, want := range []int{0, 0, 0, 1, 1} {
		if s[j].Group != want {
			t.Errorf("rater %d is in group %d, want %d", j, s[j].Group, want)
		}
	}
	apart := 0
	for _, p := range Pairs(r, nil) {
		if p.Both == 0 {
			apart++
		}
	}
	if apart != 7 {
		t.Errorf("%d pairs never met, want 7", apart)
	}
}

// A rater who is 5 points above another in every subject is 2.5 more lenient than the two on average; that
// what is left over is rounding tells nothing of how sure this is.
func TestSeverityWithoutResidual(t *testing.T) {
	var r Ratings
	for _, v := range []float64{10.1, 12.7, 14.3, 9.9, 20.6, 17.2} {
		r = append(r, []float64{v, v + 5})
	}
	s, err := Severities(r, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the strict one", s[0].Estimate, 2.5)
	for _, x := range s {
		if x.SE != 0 || !math.IsNaN(x.Lower) || !math.IsNaN(x.Upper) {
			t.Errorf("%+v: an interval without residual variation", x)
		}
	}
}

// A third rater who alone rated the last subject cannot be held against the others: unknown, not 0.
func TestSeverityOfOneAlone(t *testing.T) {
	s, err := Severities(Ratings{{5, 6, nan}, {4, 4, nan}, {7, 9, nan}, {3, 3, nan}, {nan, nan, 8}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first", s[0].Estimate, 0.375)
	if !math.IsNaN(s[2].Estimate) || s[2].Ratings != 1 {
		t.Errorf("%+v", s[2])
	}
}

func TestDrift(t *testing.T) {
	// Without noise: rater 2 loses 0.5 points a week against rater 1, so that
	// relative to the panel severity rises by 0.25 and falls by 0.25.
	var r Ratings
	var when [][]float64
	for i := range 8 {
		week := float64(i)
		v := 50 + 3*float64(i%3)
		r = append(r, []float64{v, v + 1 - 0.5*week})
		when = append(when, []float64{week, week})
	}
	s, err := SeveritiesOverTime(r, when, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drift of the second rater", s[1].Drift, 0.25)
	near(t, "drift of the first rater", s[0].Drift, -0.25)
}

func TestDecisionFlips(t *testing.T) {
	// By hand, cut 5: subjects (9,2,5,8): 3 pass, 1 fails: 3 of 6 pairs flip;
	// (6,1,3,2): 3/6; (8,4,6,8): 3/6; (7,1,2,6): 4/6; (10,5,6,9): 0; (6,2,4,7):
	// 4/6. Mean 17/36; five of six subjects are split.
	f, err := DecisionFlips(ctx, shroutFleiss, Cut{At: 5}, quick)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pairs that flip", f.PairRate.Estimate, 17./36)
	near(t, "subjects split", f.Split.Estimate, 5./6)
	near(t, "pass rate of the second", f.PassRate[1], 1./6)
	lower, _ := DecisionFlips(ctx, shroutFleiss, Cut{At: 4.5, Lower: true}, quick)
	near(t, "the same decisions the other way round", lower.PairRate.Estimate, 17./36)
}

func TestReadings(t *testing.T) {
	c := Coefficient{Name: "icc(a,1)", Estimate: 0.8, Lower: 0.62, Upper: 0.92}
	if r := KooLi.Read(c); r.Text != "moderate to excellent" || r.Scale != "Koo and Li" || r.Source == "" {
		t.Errorf("%+v", r)
	}
	if r := Cicchetti.Read(c); r.Text != "good to excellent" {
		t.Errorf("%+v", r)
	}
	c.Lower = math.NaN()
	if r := KooLi.Read(c); r.From != "" {
		t.Errorf("a coefficient without an interval is read: %+v", r)
	}
}

// From lm, see testdata/agreement/severity.R: estimate and standard error.
var severityReference = [][2]float64{{-2.338541667, 0.3489267248}, {2.493303571, 0.3794900403}, {0.9947916667, 0.3489267248}, {-1.149553571, 0.3794900403}}
