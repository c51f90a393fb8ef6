package cohort

import (
	"context"
	"math"
	"testing"

	"tyro/models"
)

// Passes on the logit scale and counts on the log scale, with the inverse
// curve: R's glmer (lme4 1.1-31, testdata/cohort/link.R) has the same model and
// the same points. Its likelihood of counts by several points leaves out
// constants, so that only the estimates compare.
func TestPassesAndCounts(t *testing.T) {
	passes := load(t, "passes.csv", "trainee", "", "attempt", "pass")
	errors := load(t, "errors.csv", "trainee", "", "attempt", "errors")
	for _, w := range []struct {
		name         string
		ts           []Trainee
		noise        models.Noise
		random       []string
		uncorrelated bool
		points       int
		logLik       float64
		at, se       [2]float64
		sd           []float64
	}{
		{"passes, Laplace", passes, models.Bernoulli{}, []string{"plateau"}, false, 0, -458.458025774,
			[2]float64{1.408892506, -3.066507036}, [2]float64{0.13897197, 0.41587468}, []float64{0.4987649829}},
		{"passes, 9 points", passes, models.Bernoulli{}, []string{"plateau"}, false, 9, -458.369693703,
			[2]float64{1.409476817, -3.067675747}, [2]float64{0.13957339, 0.41611386}, []float64{0.5050738233}},
		{"counts, Laplace", errors, models.Poisson{}, []string{"plateau"}, false, 0, -1308.16112701,
			[2]float64{0.1921474023, 1.4564158084}, [2]float64{0.082045506, 0.078875651}, []float64{0.4639939407}},
		{"counts, 9 points", errors, models.Poisson{}, []string{"plateau"}, false, 9, math.NaN(),
			[2]float64{0.1920810367, 1.4564157762}, [2]float64{0.082126019, 0.078875745}, []float64{0.4645567482}},
		{"counts, two random, correlated", errors, models.Poisson{}, nil, false, 0, -1300.26113876,
			[2]float64{0.2254720545, 1.2851437612}, [2]float64{0.077049643, 0.130653450}, []float64{0.4226985990, 0.5423949802}},
		{"counts, two random", errors, models.Poisson{}, nil, true, 0, -1300.36415968,
			[2]float64{0.223013595, 1.292873598}, [2]float64{0.078069078, 0.131406157}, []float64{0.4309689911, 0.5570826797}},
	} {
		t.Run(w.name, func(t *testing.T) {
			s := Spec{Family: models.Inverse(), Noise: w.noise, Random: w.random, Uncorrelated: w.uncorrelated}
			if w.points > 0 {
				s.Method, s.Nodes = Quadrature, w.points
			}
			c := mustRun(t, w.ts, s)
			if !math.IsNaN(w.logLik) {
				within(t, "log-likelihood", c.LogLik, w.logLik, 1e-4)
			}
			for k, name := range []string{"plateau", "gain"} {
				e := effect(t, c, name, "")
				within(t, name, e.Estimate, w.at[k], 1e-4*math.Abs(w.at[k]))
				within(t, "SE of "+name, e.SE, w.se[k], 0.01*w.se[k])
			}
			for k, sd := range w.sd {
				within(t, "SD of "+c.Random[k].Parameter, c.Random[k].SD, sd, 1e-4*sd)
			}
		})
	}
}

// Censored times, trainees who differ in noise, and a restart after a break,
// each against exact maximum likelihood in R 4.2.2 (testdata/cohort/extras.R).
func TestCensoredSpreadSessions(t *testing.T) {
	censored := load(t, "censored.csv", "trainee", "", "attempt", "seconds")
	for i := range censored {
		for _, y := range censored[i].Response {
			censored[i].Censored = append(censored[i].Censored, y >= 90)
		}
	}
	c := mustRun(t, censored, Spec{Family: models.Constant(), Noise: models.Lognormal{}, Method: Quadrature, Nodes: 31})
	if c.NCensored != 45 {
		t.Errorf("%d censored", c.NCensored)
	}
	within(t, "log-likelihood of logs", c.LogLikLog, -134.987050268, 1e-5)
	within(t, "log level", c.Fixed[0].Estimate, 4.1261775873, 1e-5)
	within(t, "its SE", c.Fixed[0].SE, 0.052055643, 1e-3*0.052)
	within(t, "SD between trainees", c.Random[0].SD, 0.2531283056, 1e-4*0.25)
	within(t, "residual SD", c.Residual.Estimate, 0.3543117380, 1e-4*0.35)

	c = mustRun(t, load(t, "spread.csv", "trainee", "", "attempt", "score"),
		Spec{Family: models.Constant(), Noise: models.Normal{}, Random: []string{Spread}, Method: Quadrature, Nodes: 31})
	within(t, "log-likelihood", c.LogLik, -1423.86435726, 1e-5)
	within(t, "level", c.Fixed[0].Estimate, 50.075443933, 1e-4)
	within(t, "SE", c.Fixed[0].SE, 0.20070224, 1e-3*0.2)
	within(t, "residual SD of the middle trainee", c.Residual.Estimate, 4.477405763, 1e-4*4.5)
	within(t, "SD of its log between trainees", c.Random[0].SD, 0.309080067, 1e-4*0.31)

	sessions := load(t, "sessions.csv", "trainee", "", "attempt", "score")
	for i := range sessions {
		for _, n := range sessions[i].Attempt {
			restart := 0.0
			if n > 8 {
				restart = math.Mod(n-1, 8) + 1
			}
			sessions[i].Restart = append(sessions[i].Restart, restart)
		}
	}
	c = mustRun(t, sessions, Spec{Family: models.Inverse(), Noise: models.Normal{}, Random: []string{"plateau"}, Sessions: true})
	within(t, "log-likelihood", c.LogLik, -1866.89058852, 1e-5)
	within(t, "restart", effect(t, c, Session, "").Estimate, 6.3325600125, 1e-4)
	within(t, "log of its fading", effect(t, c, Fading, "").Estimate, -0.4057924852, 1e-4)
	within(t, "SD of plateau", c.Random[0].SD, 3.7637163042, 1e-4)
}

// Profile intervals by quadrature against confint of glmer with 9 points (lme4
// 1.1-31, testdata/cohort/link.R).
func TestProfileByQuadrature(t *testing.T) {
	c := mustRun(t, load(t, "passes.csv", "trainee", "", "attempt", "pass"),
		Spec{Family: models.Inverse(), Noise: models.Bernoulli{}, Random: []string{"plateau"}, Method: Quadrature, Nodes: 9})
	ps, err := c.Profile(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range [][2]float64{{1.143800675, 1.699562664}, {-3.923244333, -2.285755342}, {0.266230255, 0.779834188}} {
		within(t, "lower end of "+ps[k].Parameter, ps[k].Lower, want[0], 1e-4)
		within(t, "upper end of "+ps[k].Parameter, ps[k].Upper, want[1], 1e-4)
	}
}
