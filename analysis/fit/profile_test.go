package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/models"
)

// The profile interval of a logistic regression: R 4.2.2, confint(glm), which
// interpolates its profile (tolerance 1e-3).
func TestProfileAgainstR(t *testing.T) {
	s := series(t, "curves/pass_fail.csv", "attempt", "pass")
	spec := Spec{Family: models.Logarithmic(), Noise: models.Bernoulli{}}
	f, err := One(s, spec)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name         string
		lower, upper float64
	}{{"start", -5.755288573640129, -0.7044237090300671}, {"slope", 0.5305113710764275, 2.1431367885541692}} {
		e := ProfileInterval(s, spec, f, c.name)
		if math.Abs(e.Lower/c.lower-1) > 1e-3 || math.Abs(e.Upper/c.upper-1) > 1e-3 {
			t.Errorf("%s: %v to %v, R has %v to %v", c.name, e.Lower, e.Upper, c.lower, c.upper)
		}
	}
}

// For a straight line the sum of squares is a parabola, so that the profile is
// the t interval, which the Wald interval of the same fit is too.
func TestProfileOfALine(t *testing.T) {
	s := series(t, "curves/wtloss.csv", "days", "weight_kg")
	for i := range s.Attempt {
		s.Attempt[i]++
	}
	spec := Spec{Family: models.Logarithmic(), Noise: models.Normal{}}
	f, err := One(s, spec)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"start", "slope"} {
		e, w := ProfileInterval(s, spec, f, name), f.param(name)
		if math.Abs(e.Lower/w.Lower-1) > 1e-5 || math.Abs(e.Upper/w.Upper-1) > 1e-5 {
			t.Errorf("%s: profile %v to %v, exact %v to %v", name, e.Lower, e.Upper, w.Lower, w.Upper)
		}
	}
}

// Where the plateau is not bounded the interval is open on that side.
func TestOpenProfile(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.05}), 0.15, 12, 8)
	spec := Spec{Family: models.Exponential(1), Noise: models.Normal{}}
	f, err := One(s, spec)
	if err != nil {
		t.Fatal(err)
	}
	if f.PlateauKnown && !f.Turns {
		if e := ProfileInterval(s, spec, f, "plateau"); !math.IsInf(e.Lower, -1) || math.IsInf(e.Upper, 1) {
			t.Errorf("plateau from %v to %v, want open below", e.Lower, e.Upper)
		}
	}
	quiet := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.05, 40, 8)
	g, err := One(quiet, spec)
	if err != nil {
		t.Fatal(err)
	}
	if e := ProfileInterval(quiet, spec, g, "plateau"); !(e.Lower > 20 && e.Lower < g.Curve.Plateau && e.Upper < 60) {
		t.Errorf("a series that turns: plateau %v from %v to %v", g.Curve.Plateau, e.Lower, e.Upper)
	}
	// The start by name and the start as a level at the first attempt are one.
	e, level := ProfileInterval(quiet, spec, g, "start"), g.profilePin(quiet, spec, Estimate{}, pin{quantity: pinnedLevel, at: 1, other: 40})
	if !(e.Lower < g.Curve.Start() && g.Curve.Start() < e.Upper) || math.Abs(e.Lower/level.Lower-1) > 1e-4 || math.Abs(e.Upper/level.Upper-1) > 1e-4 {
		t.Errorf("start from %v to %v, as a level from %v to %v", e.Lower, e.Upper, level.Lower, level.Upper)
	}
	curve := ProfileCurve(quiet, spec, g, "plateau", 21)
	for i := 1; i < len(curve.Roots); i++ {
		if curve.Roots[i] < curve.Roots[i-1] {
			t.Errorf("the profile falls at %v", curve.Values[i])
		}
	}
}

// The ends of every parameter's interval by definition: of a curve fitted anew with the
// parameter held at an end, the sum of squares is higher by t² residual variances, t the
// 97.5 % point of Student's distribution with n − p degrees of freedom (Bates and Watts,
// 1988, Nonlinear Regression Analysis and Its Applications, section 6.1). With the rate
// held no shape parameter of these curves is left to move.
func TestProfileByDefinition(t *testing.T) {
	for _, family := range []models.Family{models.Exponential(1), models.Power(), models.Wright()} {
		truth := models.Exponential(1).Curve([]float64{40, 140, 0.2})
		s := noisy(truth, 0.05, 30, 11)
		spec := Spec{Family: family, Noise: models.Normal{}}
		f, err := One(s, spec)
		if err != nil {
			t.Fatal(err)
		}
		quantile := distuv.StudentsT{Sigma: 1, Nu: float64(f.DF)}.Quantile(0.975)
		for _, p := range family.Params() {
			e := ProfileInterval(s, spec, f, p.Name)
			for _, end := range []float64{e.Lower, e.Upper} {
				held := spec
				held.Hold = []Hold{{Name: p.Name, Value: end}}
				g, err := One(s, held)
				if err != nil {
					t.Errorf("%s, %s held at %v: %v", family.Name(), p.Name, end, err)
					continue
				}
				if got, want := (g.RSS/f.RSS-1)*float64(f.DF), quantile*quantile; math.Abs(got/want-1) > 1e-3 {
					t.Errorf("%s: with %s held at %v the sum of squares is higher by %v residual variances, want %v", family.Name(), p.Name, end, got, want)
				}
			}
		}
	}
}
