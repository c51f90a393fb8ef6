package fit

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
	"tyro/models"
)

// For straight lines with normal noise the deviance is n·log(1 + F/(n − 2)), so
// that the simulated p value estimates that of the exact F test (any text on
// linear regression; here Draper and Smith, 1998, section 1.7).
func TestLikelihoodRatioOfALine(t *testing.T) {
	s := noisy(models.Logarithmic().Curve([]float64{10, -0.6}), 0, 14, 3)
	r := newRand(5)
	for i := range s.Response {
		s.Response[i] += r.NormFloat64()
	}
	got, err := LikelihoodRatio(context.Background(), s, Spec{Family: models.Constant(), Noise: models.Normal{}},
		Spec{Family: models.Logarithmic(), Noise: models.Normal{}}, resample.Sampling{Replicates: 4000, Seed: 3}, "")
	if err != nil {
		t.Fatal(err)
	}
	var mx, my, sxx, sxy, syy float64
	n := float64(len(s.Attempt))
	for i, x := range s.Attempt {
		mx += math.Log(x) / n
		my += s.Response[i] / n
	}
	for i, x := range s.Attempt {
		dx, dy := math.Log(x)-mx, s.Response[i]-my
		sxx, sxy, syy = sxx+dx*dx, sxy+dx*dy, syy+dy*dy
	}
	tt := sxy / math.Sqrt(sxx) / math.Sqrt((syy-sxy*sxy/sxx)/(n-2))
	want := n * math.Log1p(tt*tt/(n-2))
	if d := digits(got.Deviance, want); !(d >= 8) || got.DF != 1 || got.Replicates != 4000 {
		t.Errorf("deviance %v, want %v; %+v", got.Deviance, want, got)
	}
	exact := 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 2}.Survival(math.Abs(tt))
	if se := math.Sqrt(exact * (1 - exact) / 4000); math.Abs(got.P-exact) > 4*se {
		t.Errorf("p %v, exact %v", got.P, exact)
	}
	if !(got.PChi < exact) {
		t.Errorf("chi-square p %v is not below the exact %v, as it must be in a short series", got.PChi, exact)
	}
}
