package cohort

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/models"
)

func mustRun(t testing.TB, ts []Trainee, s Spec) *Cohort {
	t.Helper()
	c, err := Run(context.Background(), ts, s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// effect finds a fixed effect.
func effect(t testing.TB, c *Cohort, parameter, arm string) Effect {
	t.Helper()
	for _, e := range c.Fixed {
		if e.Parameter == parameter && e.Arm == arm {
			return e
		}
	}
	t.Fatalf("no effect on %s in arm %q", parameter, arm)
	return Effect{}
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.10g, want %.10g within %.3g (off by %.3g)", what, got, want, tolerance, got-want)
	}
}

// Loblolly pines (Kung, 1986; R's datasets::Loblolly), the model of the help
// page of R's nlme: height = Asym + (R0 − Asym)·exp(−exp(lrc)·age), Asym random,
// R0 and lrc common. Exact maximum likelihood of the same model, which is
// linear in its random effect, in R 4.2.2 (optim and Newton steps on the closed
// form); R's nlme stops at 101.4472 by its own approximation.
func TestLoblolly(t *testing.T) {
	ts := load(t, "loblolly.csv", "seed", "", "age_years", "height_feet")
	for _, method := range []Method{Laplace, Quadrature} {
		c := mustRun(t, ts, Spec{Family: models.Exponential(0), Noise: models.Normal{}, UseStart: true, Random: []string{"plateau"}, Method: method})
		for _, w := range []struct {
			name     string
			at, se   float64
			relative float64
		}{
			{"plateau", 102.11963105766007, 2.4523291539946155, 1e-5},
			{Start, -8.549415171581275, 0.31062054117984556, 1e-5},
			{"rate", -3.24397057152869, 0.03383465882065269, 1e-5},
		} {
			e := effect(t, c, w.name, "")
			within(t, w.name, e.Estimate, w.at, w.relative*math.Abs(w.at))
			within(t, "SE of "+w.name, e.SE, w.se, 1e-3*w.se)
		}
		within(t, "SD of plateau", c.Random[0].SD, 3.6758619299893964, 1e-5*3.68)
		within(t, "residual SD", c.Residual.Estimate, 0.7183937069609452, 1e-5*0.72)
		within(t, "log-likelihood", c.LogLik, -114.69679893554482, 1e-5)
	}
	// Another model: the vertical shift alone is random, the gain common.
	c := mustRun(t, ts, Spec{Family: models.Exponential(0), Noise: models.Normal{}, Random: []string{"plateau"}})
	within(t, "log-likelihood of a random shift", c.LogLik, -138.20223765971002, 1e-5)
	within(t, "its gain", effect(t, c, "gain", "").Estimate, -110.79517040374809, 1e-5*111)
}

// Simulated cohorts of 40 trainees in two arms; reference by 9-point adaptive
// quadrature in R 4.2.2. In the order plateau, gain, rate, arm difference in
// rate.
var cohorts = []struct {
	file           string
	family         models.Family
	at, se, truth  [4]float64
	sd             [3]float64
	seLogSD        [4]float64
	residual       float64
	logLik         float64
	wrightLogLik   float64
	wrightFixed    [4]float64 // log first attempt, slope, arm differences of both
	wrightSD       [2]float64
	wrightResidual float64
}{
	{"cohort_power.csv", models.Power(),
		[4]float64{3.7768936259181456, 4.965722576960038, -0.47283714134864374, 0.25935806776051223},
		[4]float64{0.05167332358995482, 0.04073097090812755, 0.06547236774894914, 0.07069718750119154},
		[4]float64{math.Log(42), math.Log(150), math.Log(0.55), math.Log(0.8 / 0.55)},
		[3]float64{0.13427537130607556, 0.20888788085923762, 0.14949002661017421},
		[4]float64{0.30569152424714346, 0.1622002064973439, 0.3035421319157774, 0.02355358104650736},
		0.15171810263547997, 383.8868216483709,
		338.7067573615766, [4]float64{5.163577342069822, -0.32733448234359375, -0.15750690515012192, -0.007379749039944917},
		[2]float64{0.15815748860533196, 0.048513721945116835}, 0.1599673421491944},
	{"cohort_exponential.csv", models.Exponential(1),
		[4]float64{3.8774363146694935, 4.685087499786472, -1.8341622613092075, 0.5597588968759151},
		[4]float64{0.026216558905454265, 0.04223297159911735, 0.056412592099350296, 0.07355846026032042},
		[4]float64{math.Log(48), math.Log(115), math.Log(0.18), math.Log(0.28 / 0.18)},
		[3]float64{0.14649249410513943, 0.23178086187133737, 0.14425074116468345},
		[4]float64{0.14270176692939077, 0.1445152807136617, 0.38129831371986916, 0.023572222912252062},
		0.1393908666763552, 447.5422333947499,
		361.4742148909488, [4]float64{5.238313714254566, -0.4048053786686014, -0.17373259898135993, -0.0009426366411114506},
		[2]float64{0.19236227356442745, 0.06585037766986418}, 0.15422984542251836},
}

func TestSimulatedCohorts(t *testing.T) {
	for _, w := range cohorts {
		ts := load(t, w.file, "trainee", "arm", "attempt", "seconds")
		for _, m := range []struct {
			method             Method
			inSE, armInSE, lik float64
		}{{Laplace, 0.3, 0.15, 0.3}, {Quadrature, 0.02, 0.02, 0.01}} {
			c := mustRun(t, ts, Spec{Family: w.family, Noise: models.Lognormal{}, Uncorrelated: true, ArmEffect: []string{"rate"}, Method: m.method})
			got := [4]Effect{effect(t, c, "plateau", ""), effect(t, c, "gain", ""), effect(t, c, "rate", "standard"), effect(t, c, "rate", "paced")}
			for k, e := range got {
				tol := m.inSE
				if k == 3 {
					tol = m.armInSE
				}
				within(t, string(m.method)+": "+e.Parameter+" "+e.Arm, e.Estimate, w.at[k], tol*w.se[k])
				within(t, string(m.method)+": SE of "+e.Parameter+" "+e.Arm, e.SE, w.se[k], 0.03*w.se[k])
				// The rate of the exponential cohort lies 2.1 standard errors from
				// its truth in the reference too; everything else within 2.
				within(t, "truth of "+e.Parameter, e.Estimate, w.truth[k], 2.2*e.SE)
			}
			for k, d := range c.Random {
				within(t, string(m.method)+": log SD of "+d.Parameter, math.Log(d.SD), math.Log(w.sd[k]), m.inSE*w.seLogSD[k])
			}
			within(t, string(m.method)+": residual SD", c.Residual.Estimate, w.residual, 0.002*w.residual)
			within(t, string(m.method)+": log-likelihood of logs", c.LogLikLog, w.logLik, m.lik)
		}
	}
}

// The straight line in logs is a linear mixed model: R's lme (ML), of which
// lmer gives the same likelihood to 1e-8. The slope is minus the rate.
func TestLinearMixedModel(t *testing.T) {
	for _, w := range cohorts {
		ts := load(t, w.file, "trainee", "arm", "attempt", "seconds")
		c := mustRun(t, ts, Spec{Family: models.Wright(), Noise: models.Lognormal{}, ArmEffect: []string{"gain", "rate"}})
		if c.Rung != RungFull {
			t.Errorf("rung %s", c.Rung)
		}
		within(t, "log-likelihood", c.LogLikLog, w.wrightLogLik, 1e-5)
		f := w.wrightFixed
		within(t, "gain", effect(t, c, "gain", "standard").Estimate, f[0], 1e-5*f[0])
		within(t, "rate", effect(t, c, "rate", "standard").Estimate, -f[1], 1e-5*-f[1])
		within(t, "gain of the other arm", effect(t, c, "gain", "paced").Estimate, f[2], 1e-5*-f[2])
		within(t, "rate of the other arm", effect(t, c, "rate", "paced").Estimate, -f[3], 1e-6)
		for k := range 2 {
			within(t, "SD of "+c.Random[k].Parameter, c.Random[k].SD, w.wrightSD[k], 1e-3*w.wrightSD[k])
		}
		within(t, "residual SD", c.Residual.Estimate, w.wrightResidual, 1e-3*w.wrightResidual)
	}
}

// Orange trees (Draper and Smith, 1981; R's datasets::Orange), the logistic
// curve from 0 to a random final size. Exact maximum likelihood in R 4.2.2
// (testdata/cohort/orange.R), which agrees with R's own search to 7 digits.
func TestOrange(t *testing.T) {
	ts := load(t, "orange.csv", "Tree", "", "age", "circumference")
	f, err := models.ByName("logistic", 1)
	if err != nil {
		t.Fatal(err)
	}
	c := mustRun(t, ts, Spec{Family: f, Noise: models.Normal{}, UseStart: true, Hold: []fit.Hold{{Name: Start, Value: 0}}, Random: []string{"plateau"}})
	for _, w := range []struct {
		name   string
		at, se float64
	}{
		{"plateau", 192.05314937963, 15.657683777},
		{"rate", -5.85241235602, 0.077799207},
		{"midpoint", 727.90632586129, 35.248686042},
	} {
		e := effect(t, c, w.name, "")
		within(t, w.name, e.Estimate, w.at, 1e-6*math.Abs(w.at))
		within(t, "SE of "+w.name, e.SE, w.se, 1e-3*w.se)
	}
	within(t, "SD of plateau", c.Random[0].SD, 31.64630208189, 1e-5*31.6)
	within(t, "residual SD", c.Residual.Estimate, 7.84301198131, 1e-5*7.84)
	within(t, "log-likelihood", c.LogLik, -131.57188510036, 1e-6)
}
