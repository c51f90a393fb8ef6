package cohort

import (
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/models"
)

// A published set of growth data with its exact maximum likelihood, in R 4.2.2
// (testdata/cohort/public.R).
type public struct {
	name, file                    string
	trainee, arm, attempt, answer string
	family                        models.Family
	spec                          func(*Spec)
	fixed, se                     []float64
	sd, residual, logLik          float64
}

func logisticFromZero(s *Spec) {
	s.UseStart, s.Hold = true, []fit.Hold{{Name: Start, Value: 0}}
}

func commonStart(s *Spec) { s.UseStart = true }

var publics = []public{
	{
		"chicks on four diets, Crowder and Hand (1990); R's datasets::ChickWeight", "public_chicks.csv", "chick", "diet", "day", "weight",
		models.Logistic(), logisticFromZero,
		[]float64{268.48117301825, 53.38365591811, 117.26769215966, 89.43084007488, 15.43845945923, -2.02403296699},
		[]float64{20.372500981, 28.281605069, 28.674664329, 28.485484805, 0.745510757, 0.036552393},
		71.62801358, 14.85257259, -2474.493322683,
	},
	{
		"CO2 uptake of grasses, Potvin, Lechowicz and Tardif (1990); R's datasets::CO2", "public_co2.csv", "plant", "arm", "conc", "uptake",
		models.Exponential(0), commonStart,
		[]float64{42.46831742832, -3.99934291903, -10.88766551789, -23.05508377353, -10.41908569342, -4.82587964477},
		[]float64{1.335263786, 1.790101381, 1.796197059, 1.825096138, 3.349088125, 0.081071638},
		1.943379942, 2.364020852, -200.715870268,
	},
	{
		"leaf weight of two soybean varieties, Davidian and Giltinan (1995); R's nlme::Soybean", "public_soybean.csv", "plot", "variety", "day", "weight",
		models.Logistic(), logisticFromZero,
		[]float64{16.93286706181, 4.35789004131, 55.48868325543, -2.18458667078},
		[]float64{0.722154468, 0.966666284, 0.455478500, 0.032244711},
		3.199923524, 1.320807855, -759.0720825197,
	},
	{
		"density of an assay, Davidian and Giltinan (1995); R's datasets::DNase", "public_dnase.csv", "run", "", "log_conc", "density",
		models.Logistic(), logisticFromZero,
		[]float64{2.488134185675, 1.521036407422, -0.094179429173},
		[]float64{0.050261117, 0.042451378, 0.014896685},
		0.09265691642, 0.03092503585, 345.296766706,
	},
	{
		"ultrafiltration by pressure, Vonesh and Carter (1992); R's nlme::Dialyzer", "public_dialyzer.csv", "subject", "flow", "pressure", "rate",
		models.Exponential(0), commonStart,
		[]float64{48.202197709245, 10.470301981162, -21.519769190120, 0.440185938209},
		[]float64{1.157663376, 1.515476925, 2.176053246, 0.050978102},
		2.891856631, 3.735859447, -396.5630323239,
	},
}

// fixedInOrder lists plateau with its arms, then start or midpoint, then the log
// rate, as R's scripts do.
func fixedInOrder(c *Cohort) []Effect {
	var out []Effect
	for _, name := range []string{"plateau", Start, "midpoint", "rate"} {
		for _, e := range c.Fixed {
			if e.Parameter == name && !e.Held {
				out = append(out, e)
			}
		}
	}
	return out
}

// Public growth data with a logistic or an exponential curve, one parameter of
// which differs: the likelihood is closed, so the fit must reach its maximum.
// Tolerances: fixed effects and log-likelihood 1e-5, spreads 1e-5 relative,
// standard errors 0.1 %. Of the other sets that R's packages bring, Indometh,
// Theoph, Cefamandole and Glucose are sums of two decays, Wafer, Oxboys and
// BodyWeight polynomials in the attempt: none of tyro's families.
func TestPublicGrowth(t *testing.T) {
	for _, w := range publics {
		spec := Spec{Family: w.family, Noise: models.Normal{}, Random: []string{"plateau"}}
		if w.arm != "" {
			spec.ArmEffect = []string{"plateau"}
		}
		w.spec(&spec)
		c := mustRun(t, load(t, w.file, w.trainee, w.arm, w.attempt, w.answer), spec)
		got := fixedInOrder(c)
		if len(got) != len(w.fixed) {
			t.Fatalf("%s: %d fixed effects, want %d", w.name, len(got), len(w.fixed))
		}
		for k, e := range got {
			within(t, w.name+": "+e.Parameter+" "+e.Arm, e.Estimate, w.fixed[k], 1e-5*math.Max(1, math.Abs(w.fixed[k])))
			within(t, w.name+": SE of "+e.Parameter+" "+e.Arm, e.SE, w.se[k], 1e-3*w.se[k])
		}
		within(t, w.name+": SD of plateau", c.Random[0].SD, w.sd, 1e-5*w.sd)
		within(t, w.name+": residual SD", c.Residual.Estimate, w.residual, 1e-5*w.residual)
		within(t, w.name+": log-likelihood", c.LogLik, w.logLik, 1e-5)
	}
}

// Two parameters that differ, one of them not linear in the mean: lme4's nlmer,
// whose Laplace approximation takes the expected curvature for the exact one, so
// that the two agree to a fraction of a standard error only.
func TestDNaseTwoParameters(t *testing.T) {
	spec := Spec{Family: models.Logistic(), Noise: models.Normal{}, Random: []string{"plateau", "midpoint"}, Uncorrelated: true}
	logisticFromZero(&spec)
	c := mustRun(t, load(t, "public_dnase.csv", "run", "", "log_conc", "density"), spec)
	for k, want := range []float64{2.481797828016, 1.510178645747, -0.091432205707} {
		e := fixedInOrder(c)[k]
		within(t, e.Parameter, e.Estimate, want, 0.02*e.SE)
	}
	within(t, "SD of plateau", c.Random[0].SD, 0.15412182064, 1e-3)
	within(t, "SD of midpoint", c.Random[1].SD, 0.10078002786, 1e-3)
	within(t, "residual SD", c.Residual.Estimate, 0.02657253383, 1e-5)
	within(t, "log-likelihood", c.LogLik, 355.348657593, 0.05)
}

// A straight line in the log of the attempt is a linear mixed model: reaction
// times without sleep (Belenky and others, 2003, R's lme4::sleepstudy), lmer with
// ML.
func TestLogarithmicLine(t *testing.T) {
	c := mustRun(t, load(t, "public_sleep.csv", "subject", "", "day", "reaction"), Spec{Family: models.Logarithmic(), Noise: models.Normal{}})
	start, slope := effect(t, c, Start, ""), effect(t, c, "slope", "")
	within(t, "start", start.Estimate, 238.0542543092, 1e-4)
	within(t, "slope", slope.Estimate, 40.0238255311, 1e-4)
	within(t, "SE of start", start.SE, 7.11743436417, 1e-3)
	within(t, "SE of slope", slope.SE, 5.92317055240, 1e-3)
	within(t, "SD of start", c.Random[0].SD, 20.58528629, 1e-3)
	within(t, "SD of slope", c.Random[1].SD, 21.33047283, 1e-3)
	within(t, "correlation", c.Correlations[0].Value, -0.11672056, 1e-4)
	within(t, "residual SD", c.Residual.Estimate, 29.21721464, 1e-3)
	within(t, "log-likelihood", c.LogLik, -893.917690354, 1e-5)
}

// Passes on the logit scale, the start of the line in log attempts differing
// between trainees: glmer with its Laplace approximation, and with 25 points for
// quadrature (lme4 1.1-31).
func TestLogarithmicPasses(t *testing.T) {
	ts := load(t, "pass_fail.csv", "who", "", "n", "y")
	for _, w := range []struct {
		method                         Method
		start, slope, sd, logLik, near float64
	}{
		{Laplace, -1.08359595230, 1.04518418069, 0.713679771, -208.5372256477, 1e-3},
		{Quadrature, -1.08246003281, 1.04494729337, 0.7207008763, -208.4643253957, 1e-3},
	} {
		c := mustRun(t, ts, Spec{Family: models.Logarithmic(), Noise: models.Bernoulli{}, Random: []string{Start}, Method: w.method})
		within(t, string(w.method)+": start", effect(t, c, Start, "").Estimate, w.start, w.near)
		within(t, string(w.method)+": slope", effect(t, c, "slope", "").Estimate, w.slope, w.near)
		within(t, string(w.method)+": SD", c.Random[0].SD, w.sd, w.near)
		within(t, string(w.method)+": log-likelihood", c.LogLik, w.logLik, 1e-3)
	}
}
