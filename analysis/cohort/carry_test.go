package cohort

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

// The inverse curve with normal noise is linear in plateau and gain, so that
// the likelihood is exact. Residuals that carry over against R's nlme 3.1-162
// (corAR1, and corExp with a nugget), testdata/cohort/carry.R, on series with
// gaps.
func TestCarryover(t *testing.T) {
	ts := load(t, "carry.csv", "trainee", "", "attempt", "score")
	spec := Spec{Family: models.Inverse(), Noise: models.Normal{}, Uncorrelated: true}
	for _, w := range []struct {
		carry                     Carry
		logLik                    float64
		at, se                    [2]float64
		sd                        [2]float64
		residual, correlation, of float64
	}{
		{CarryWhole, -1061.1868662088, [2]float64{59.5693877831, 77.3881314465}, [2]float64{1.364484363, 2.789019824},
			[2]float64{6.240472, 11.832590}, 5.011231, 0.387314277344, 1},
		{CarryPart, -1060.4501209251, [2]float64{59.5513320389, 77.5157342935}, [2]float64{1.376277381, 2.774029306},
			[2]float64{6.175561, 11.621989}, 5.159541, 0.606656283041, 0.691581639078},
	} {
		s := spec
		s.Carry = w.carry
		c := mustRun(t, ts, s)
		within(t, "log-likelihood", c.LogLik, w.logLik, 1e-5)
		for k, name := range []string{"plateau", "gain"} {
			e := effect(t, c, name, "")
			within(t, name, e.Estimate, w.at[k], 1e-5*w.at[k])
			within(t, "SE of "+name, e.SE, w.se[k], 3e-3*w.se[k]) // nlme takes the covariance as known
			within(t, "SD of "+name, c.Random[k].SD, w.sd[k], 1e-4*w.sd[k])
		}
		within(t, "residual SD", c.Residual.Estimate, w.residual, 1e-4*w.residual)
		within(t, "carryover", c.Carryover[0].Estimate, w.correlation, 2e-4)
		if w.carry == CarryPart {
			within(t, "share carried", c.Carryover[1].Estimate, w.of, 2e-4)
		}
	}
	// Held at 0 it is no carryover at all.
	s := spec
	s.Carry, s.Hold = CarryWhole, []fit.Hold{{Name: Carryover, Value: 0}}
	within(t, "log-likelihood at 0", mustRun(t, ts, s).LogLik, mustRun(t, ts, spec).LogLik, 1e-8)
}

// What the filter leaves of the next attempt, by hand: with correlation ρ per
// attempt, a share q of the variance carried and known residuals, one residual
// e gives the next the mean ρ·q·e and the variance 1 − (ρq)²; all of it carried,
// the mean over a gap of 3 is ρ³e.
func TestFilter(t *testing.T) {
	f := filter{memory: memory{true, 0.6, 0.5}, left: 0.5}
	s := f.next(math.Inf(1), false)
	w := wander{memory: f.memory, last: 1, carried: s.gain * 2, left: f.left}
	within(t, "mean", w.shift(2, 0), 0.6*0.5*2, 1e-12)
	within(t, "SD", w.shrink(2, 0), math.Sqrt(1-0.3*0.3), 1e-12)
	within(t, "after a break", w.shift(2, 1), 0, 0)
	f = filter{memory: memory{true, 0.6, 1}, left: 1}
	s = f.next(math.Inf(1), false)
	w = wander{memory: f.memory, last: 1, carried: s.gain * 2, left: f.left}
	within(t, "over a gap", w.shift(4, 0), 0.6*0.6*0.6*2, 1e-12)
	// A censored attempt tells nothing: the next is as fresh as a first.
	f = filter{memory: memory{true, 0.6, 1}, left: 1}
	f.next(math.Inf(1), true)
	within(t, "after a censored attempt", f.next(1, false).variance, 1, 1e-12)
}

// Restricted maximum likelihood against R's lme4 1.1-31 (lmer) and, with
// carryover, nlme 3.1-162 (lme), testdata/cohort/carry.R.
func TestREML(t *testing.T) {
	ts := load(t, "carry.csv", "trainee", "", "attempt", "score")
	for _, w := range []struct {
		spec        Spec
		logLik      float64
		at, se, sd  [2]float64
		residual    float64
		correlation float64
	}{
		{Spec{}, -1073.0085839443, [2]float64{59.5003465953, 77.4345691854}, [2]float64{1.291855298, 2.869889682},
			[2]float64{6.086509607631, 12.823382968388}, 4.749194910989, 0.515330638404},
		{Spec{Carry: CarryWhole, Uncorrelated: true}, -1057.9996683801, [2]float64{59.5673727061, 77.4011768332}, [2]float64{1.391092209, 2.842532548},
			[2]float64{6.379028, 12.126015}, 5.013596, 0.387560994795},
	} {
		s := w.spec
		s.Family, s.Noise, s.REML = models.Inverse(), models.Normal{}, true
		c := mustRun(t, ts, s)
		within(t, "log-likelihood", c.LogLik, w.logLik, 1e-5)
		for k, name := range []string{"plateau", "gain"} {
			e := effect(t, c, name, "")
			within(t, name, e.Estimate, w.at[k], 1e-5*w.at[k])
			within(t, "SE of "+name, e.SE, w.se[k], 1e-3*w.se[k])
			within(t, "SD of "+name, c.Random[k].SD, w.sd[k], 1e-5*w.sd[k])
		}
		within(t, "residual SD", c.Residual.Estimate, w.residual, 1e-5*w.residual)
		if s.Uncorrelated {
			within(t, "carryover", c.Carryover[0].Estimate, w.correlation, 1e-4)
		} else {
			within(t, "correlation", c.Correlations[0].Value, w.correlation, 1e-4)
		}
	}
}

// Profile intervals against confint of R's lmer (lme4 1.1-31),
// testdata/cohort/carry.R; lmer interpolates its profiles, which costs it a
// few thousandths of a standard error.
func TestProfile(t *testing.T) {
	ts := load(t, "carry.csv", "trainee", "", "attempt", "score")
	for _, w := range []struct {
		uncorrelated bool
		ends         map[string][2]float64
	}{
		{true, map[string][2]float64{"fixed plateau": {56.812681403, 62.169288857}, "fixed gain": {71.606317469, 83.502708694},
			"sd plateau": {4.652581138, 8.608643114}, "sd gain": {9.418325060, 18.560970780}, "residual spread": {4.377088616, 5.141361827}}},
		{false, map[string][2]float64{"fixed plateau": {56.92265275460, 62.0846448274}, "fixed gain": {71.73542413115, 83.2076121355},
			"sd plateau": {4.44949815080, 8.2904128476}, "sd gain": {8.98477776433, 17.8643274813}, "residual spread": {4.38979204492, 5.1609605681}}},
	} {
		c := mustRun(t, ts, Spec{Family: models.Inverse(), Noise: models.Normal{}, Uncorrelated: w.uncorrelated})
		ps, err := c.Profile(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if len(ps) != len(w.ends) {
			t.Errorf("%d intervals, want %d", len(ps), len(w.ends))
		}
		for _, p := range ps {
			want := w.ends[p.Kind+" "+p.Parameter]
			within(t, "lower end of "+p.Kind+" "+p.Parameter, p.Lower, want[0], 1e-4*want[0])
			within(t, "upper end of "+p.Kind+" "+p.Parameter, p.Upper, want[1], 1e-4*want[1])
		}
	}
}

// Independent residuals: where the share that is carried runs to nothing, the
// model does without, and says so.
func TestNothingCarried(t *testing.T) {
	ts := load(t, "boundary.csv", "trainee", "", "attempt", "score")
	c := mustRun(t, ts, Spec{Family: models.Inverse(), Noise: models.Normal{}, Carry: CarryPart})
	if !hasWarning(c, "no-carryover") || len(c.Carryover) > 0 {
		t.Errorf("carryover %v, warnings %v", c.Carryover, c.Warnings)
	}
	within(t, "log-likelihood", c.LogLik, mustRun(t, ts, Spec{Family: models.Inverse(), Noise: models.Normal{}}).LogLik, 1e-6)
}

// With a whole carryover of 0.8 and a residual of 0.5 at attempt 4, what is carried to attempts 5
// and 6 has the means 0.4 and 0.32, the variances s²·(1 − 0.64) and s²·(1 − 0.4096), and the
// covariance 0.8·s²·(1 − 0.64); after attempt 4 nobody came until 6: 0.32 at once. Of somebody
// unseen it has the mean 0 and the variance s² throughout.
func TestCarriedGoesOnFromTheLastResidual(t *testing.T) {
	const s = 0.3
	seen := Draw{Spread: s, wander: wander{memory: memory{true, 0.8, 1}, last: 4, carried: 0.5}}
	nobody := Draw{Spread: s, wander: wander{memory: memory{true, 0.8, 1}, left: 1}}
	for _, c := range []struct {
		what                  string
		d                     Draw
		first                 float64
		m1, m2, v1, v2, cross float64
	}{
		{"next", seen, 5, 0.4, 0.32, s * s * 0.36, s * s * 0.5904, 0.8 * s * s * 0.36},
		{"after a gap", seen, 6, 0.32, 0.256, s * s * 0.5904, s * s * (1 - math.Pow(0.8, 6)), 0.8 * s * s * 0.5904},
		{"nobody", nobody, 1, 0, 0, s * s, s * s, 0.8 * s * s},
	} {
		r := resample.Stream(1, c.what, 0)
		const n = 200_000
		path := make([]float64, 2)
		var m1, m2, v1, v2, cross float64
		for range n {
			c.d.Carried(r, c.first, path)
			a, b := path[0]-c.m1, path[1]-c.m2
			m1, m2, v1, v2, cross = m1+a/n, m2+b/n, v1+a*a/n, v2+b*b/n, cross+a*b/n
		}
		for _, x := range []struct{ got, want, se float64 }{{m1, 0, s}, {m2, 0, s}, {v1, c.v1, 1.5 * s * s}, {v2, c.v2, 1.5 * s * s}, {cross, c.cross, 1.5 * s * s}} {
			if math.Abs(x.got-x.want) > 4*x.se/math.Sqrt(n) {
				t.Errorf("%s: %v, want %v", c.what, x.got, x.want)
			}
		}
	}
}

// What carries over, held where the fit finds it, gives the same fit.
func TestCarryoverHeldAtItsEstimate(t *testing.T) {
	ts := simulate(20, 20, 1, 61)
	free := mustRun(t, ts, carried(CarryPart))
	held := carried(CarryPart)
	for _, e := range free.Carryover {
		held.Hold = append(held.Hold, fit.Hold{Name: e.Parameter, Value: e.Estimate})
	}
	got := mustRun(t, ts, held)
	within(t, "log-likelihood", got.LogLik, free.LogLik, 1e-4)
	within(t, "plateau", effect(t, got, "plateau", "").Estimate, effect(t, free, "plateau", "").Estimate, 1e-3)
}
