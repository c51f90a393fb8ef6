package fit

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"tyro/models"
)

// read loads a table of the test data as columns.
func read(t testing.TB, name string) map[string][]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	for _, r := range rows[1:] {
		for j, h := range rows[0] {
			out[h] = append(out[h], r[j])
		}
	}
	return out
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func series(t testing.TB, name, x, y string) Series {
	t.Helper()
	cols := read(t, name)
	var s Series
	for i := range cols[x] {
		s.Attempt = append(s.Attempt, num(t, cols[x][i]))
		s.Response = append(s.Response, num(t, cols[y][i]))
	}
	return s
}

// digits is the number of correct digits, −log10 of the relative error.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

func (f Fit) param(name string) Estimate {
	for _, p := range f.Params {
		if p.Name == name {
			return p
		}
	}
	return Estimate{}
}

// Certified values of NIST/ITL Statistical Reference Datasets, nonlinear
// regression. Misra1a and BoxBOD are b1(1 − exp(−b2 x)): an exponential curve
// that starts from 0 at the origin 0, plateau b1, rate b2. DanWood is
// b1·x^b2: a log-log line with rate −b2. Misra1b is b1(1 − (1 + b2 x/2)^−2): a
// power curve with prior practice 2/b2, rate 2 and a start from 0 at 0. Rat42 is
// b1/(1 + exp(b2 − b3 x)): a logistic curve that starts from 0, with midpoint
// b2/b3. Each is fitted without starting values and from both of NIST's.
func TestNIST(t *testing.T) {
	type certified struct {
		param     string
		value, sd float64
	}
	at := func(f models.Family, origin float64) models.Family {
		f, _ = models.ByName(f.Name(), origin)
		return f
	}
	for _, c := range []struct {
		name   string
		spec   Spec
		params []certified
		rss    float64
		starts [2][]Hold
	}{
		{"misra1a", Spec{Family: models.Exponential(0), Noise: models.Normal{}, Hold: []Hold{{"start", 0}}},
			[]certified{{"plateau", 2.3894212918e+02, 2.7070075241e+00}, {"rate", 5.5015643181e-04, 7.2668688436e-06}}, 1.2455138894e-01,
			[2][]Hold{{{"plateau", 500}, {"rate", 0.0001}}, {{"plateau", 250}, {"rate", 0.0005}}}},
		{"boxbod", Spec{Family: models.Exponential(0), Noise: models.Normal{}, Hold: []Hold{{"start", 0}}},
			[]certified{{"plateau", 2.1380940889e+02, 1.2354515176e+01}, {"rate", 5.4723748542e-01, 1.0455993237e-01}}, 1.1680088766e+03,
			[2][]Hold{{{"plateau", 1}, {"rate", 1}}, {{"plateau", 100}, {"rate", 0.75}}}},
		{"danwood", Spec{Family: models.Wright(), Noise: models.Normal{}},
			[]certified{{"gain", 7.6886226176e-01, 1.8281973860e-02}, {"rate", -3.8604055871e+00, 5.1726610913e-02}}, 4.3173084083e-03,
			[2][]Hold{{{"gain", 1}, {"rate", -5}}, {{"gain", 0.7}, {"rate", -4}}}},
		{"misra1b", Spec{Family: at(models.PowerPrior(), 0), Noise: models.Normal{}, Hold: []Hold{{"rate", 2}, {"start", 0}}},
			[]certified{{"plateau", 3.3799746163e+02, 3.1643950207e+00}, {"prior", 2 / 3.9039091287e-04, 2 / 3.9039091287e-04 * (4.2547321834e-06 / 3.9039091287e-04)}}, 7.5464681533e-02,
			[2][]Hold{{{"plateau", 500}, {"prior", 2 / 0.0001}}, {{"plateau", 300}, {"prior", 2 / 0.0002}}}},
		{"rat42", Spec{Family: models.Logistic(), Noise: models.Normal{}, Hold: []Hold{{"start", 0}}},
			[]certified{{"plateau", 7.2462237576e+01, 1.7340283401e+00}, {"rate", 6.7359200066e-02, 3.4465663377e-03}, {"midpoint", 2.6180768402e+00 / 6.7359200066e-02, math.NaN()}}, 8.0565229338e+00,
			[2][]Hold{{{"plateau", 100}, {"rate", 0.1}, {"midpoint", 10}}, {{"plateau", 75}, {"rate", 0.07}, {"midpoint", 2.5 / 0.07}}}},
	} {
		for i, from := range [][]Hold{nil, c.starts[0], c.starts[1]} {
			c.spec.From = from
			f, err := One(series(t, "curves/nist_"+c.name+".csv", "x", "y"), c.spec)
			if err != nil {
				t.Fatal(err)
			}
			name := []string{"our search", "start 1", "start 2"}[i]
			if d := digits(f.RSS, c.rss); !(d >= 9.5) || f.Status != OK {
				t.Errorf("%s, %s: RSS %v (%.1f digits), status %v", c.name, name, f.RSS, d, f.Status)
			}
			for _, p := range c.params {
				got := f.param(p.param)
				if d := digits(got.Value, p.value); !(d >= 9.5) {
					t.Errorf("%s, %s: %s = %v, certified %v (%.1f digits)", c.name, name, p.param, got.Value, p.value, d)
				}
				if d := digits(got.SE, p.sd); !(d >= 9) && !math.IsNaN(p.sd) {
					t.Errorf("%s, %s: SE of %s = %v, certified %v (%.1f digits)", c.name, name, p.param, got.SE, p.sd, d)
				}
			}
		}
	}
}

// Each simulated trainee's curve against R's nls.lm with twelve starts and a
// plateau and gain kept above 0: no larger sum of squares, and the same
// parameters where the plateau is not at its bound.
func TestAgainstLeastSquaresInR(t *testing.T) {
	for _, cohort := range []string{"power", "exponential"} {
		data := read(t, "cohort/cohort_"+cohort+".csv")
		byTrainee := map[string]*Series{}
		for i, id := range data["trainee"] {
			if byTrainee[id] == nil {
				byTrainee[id] = &Series{}
			}
			s := byTrainee[id]
			s.Attempt = append(s.Attempt, num(t, data["attempt"][i]))
			s.Response = append(s.Response, num(t, data["seconds"][i]))
		}
		want := read(t, "cohort/per_trainee_"+cohort+".csv")
		for i, id := range want["trainee"] {
			family, err := models.ByName(want["family"][i], 1)
			if err != nil {
				t.Fatal(err)
			}
			noise := models.Noise(models.Lognormal{})
			if want["scale"][i] == "seconds" {
				noise = models.Normal{}
			}
			f, err := One(*byTrainee[id], Spec{Family: family, Noise: noise, Positive: true})
			if err != nil {
				t.Fatal(err)
			}
			label := fmt.Sprintf("%s cohort, %s, %s on %s", cohort, id, want["family"][i], want["scale"][i])
			rss := num(t, want["rss"][i])
			if !(f.RSS <= rss*(1+1e-8)) || !f.Status.Usable() {
				t.Errorf("%s: RSS %v above R's %v (status %v)", label, f.RSS, rss, f.Status)
			}
			if want["plateau_identified"][i] != "1" {
				continue
			}
			for k, name := range []string{"plateau", "gain", "rate"} {
				if d := digits(f.Curve.Theta()[k], num(t, want[name][i])); f.RSS > rss*(1-1e-8) && !(d >= 4.5) {
					t.Errorf("%s: %s = %v, R has %v", label, name, f.Curve.Theta()[k], want[name][i])
				}
			}
		}
	}
}

// Forty attempts stopped at 90 s: R 4.2.2, survival 3.5-3, survreg with a
// lognormal distribution. Its coefficients are log gain and minus the rate.
func TestCensored(t *testing.T) {
	cols := read(t, "curves/censored_wright.csv")
	var s Series
	for i := range cols["attempt"] {
		s.Attempt = append(s.Attempt, num(t, cols["attempt"][i]))
		s.Response = append(s.Response, num(t, cols["seconds"][i]))
		s.Censored = append(s.Censored, cols["completed"][i] == "0")
	}
	f, err := One(s, Spec{Family: models.Wright(), Noise: models.Lognormal{}, Positive: true})
	if err != nil {
		t.Fatal(err)
	}
	gain, rate := f.param("gain"), f.param("rate")
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"log gain", math.Log(gain.Value), 5.825172353445282},
		{"SE of log gain", gain.SE / gain.Value, 0.2694814235619003},
		{"rate", rate.Value, 0.560079832640586},
		{"SE of rate", rate.SE, 0.08596893720716724},
		{"scale", f.Scale, 0.22207944476024025},
		{"log-likelihood", f.LogLik, -120.55071696203319},
		{"log-likelihood of logs", f.LogLikLog, 0.39799734193985614},
	} {
		if d := digits(c.got, c.want); !(d >= 8) {
			t.Errorf("%s = %v, want %v (%.1f digits)", c.name, c.got, c.want, d)
		}
	}
	if f.NCensored != 10 || !math.IsNaN(f.RSS) {
		t.Errorf("%d censored, RSS %v; want 10 and none", f.NCensored, f.RSS)
	}
}

// Dropping timeouts or taking them at the limit falls short; the censored
// likelihood does not. Truth: median 100 s, log-SD 0.4, limit 120 s, so that
// one attempt in three times out.
func TestCensoringIsUnbiased(t *testing.T) {
	const sims, n = 300, 30
	sum := 0.0
	for k := range sims {
		s := noisy(models.Constant().Curve([]float64{100}), 0.4, n, uint64(k))
		s.Limit, s.Censored = 120, make([]bool, n)
		for i, y := range s.Response {
			if y >= s.Limit {
				s.Response[i], s.Censored[i] = s.Limit, true
			}
		}
		f, err := One(s, Spec{Family: models.Constant(), Noise: models.Lognormal{}, Positive: true})
		if err != nil {
			t.Fatal(err)
		}
		sum += f.Curve.Plateau / sims
	}
	// One estimate has a standard error of about 8 s, their mean one of 0.5.
	if math.Abs(sum-100) > 2 {
		t.Errorf("mean estimate of the median is %.2f s, truth 100", sum)
	}
}

// A straight improving series has no plateau, and no number is given for one.
func TestPlateauNotIdentified(t *testing.T) {
	s := Series{Attempt: []float64{1, 2, 3, 4, 5, 6, 7, 8}, Response: []float64{101, 94, 90.5, 84, 81, 74, 70.5, 65}}
	for _, spec := range []Spec{
		{Family: models.Exponential(1), Noise: models.Normal{}},
		{Family: models.Power(), Noise: models.Normal{}},
		{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true},
		{Family: models.Exponential(1), Noise: models.Normal{}, Positive: true},
	} {
		f, err := One(s, spec)
		if err != nil {
			t.Fatal(err)
		}
		p := f.param("plateau")
		if f.PlateauKnown || !math.IsNaN(p.Value) || !hasWarning(f, "no-plateau") {
			t.Errorf("%s, %s: plateau %v (known: %v, warnings %v), want none", spec.Family.Name(), spec.Noise.Name(), p.Value, f.PlateauKnown, f.Warnings)
		}
		if !(p.Upper < 75) {
			t.Errorf("%s: one-sided bound %v, want the level reached", spec.Family.Name(), p.Upper)
		}
	}
	f, err := One(noisy(models.Exponential(1).Curve([]float64{40, 140, 0.25}), 0.1, 40, 1), Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true})
	if err != nil {
		t.Fatal(err)
	}
	if p := f.param("plateau"); !f.Turns || !(p.Lower < 40 && 40 < p.Upper) {
		t.Errorf("a series that turns: plateau %v from %v to %v, truth 40", p.Value, p.Lower, p.Upper)
	}
}

func hasWarning(f Fit, code string) bool {
	for _, w := range f.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func TestOddSeries(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name   string
		s      Series
		family models.Family
		want   Status
	}{
		{"none", Series{}, models.Power(), TooFew},
		{"one attempt", Series{Attempt: []float64{1}, Response: []float64{50}}, models.Power(), TooFew},
		{"two attempts", Series{Attempt: []float64{1, 2}, Response: []float64{50, 40}}, models.Exponential(1), TooFew},
		{"all equal", Series{Attempt: []float64{1, 2, 3, 4, 5, 6}, Response: []float64{50, 50, 50, 50, 50, 50}}, models.Exponential(1), Flat},
		{"all at the limit", Series{Attempt: []float64{1, 2, 3}, Response: []float64{90, 90, 90}, Censored: []bool{true, true, true}, Limit: 90}, models.Constant(), AllCensored},
		{"one step", Series{Attempt: []float64{1, 2, 3, 4, 5, 6}, Response: []float64{90, 50, 50.1, 49.9, 50, 50.05}}, models.Exponential(1), AtBound},
	} {
		f, err := One(c.s, Spec{Family: c.family, Noise: models.Lognormal{}, Positive: true})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if f.Status != c.want {
			t.Errorf("%s: status %v, want %v (%v)", c.name, f.Status, c.want, f.Warnings)
		}
		if len(f.Warnings) == 0 {
			t.Errorf("%s: no warning says why", c.name)
		}
	}
	for _, y := range []float64{nan, math.Inf(1), -3, 0} {
		_, err := One(Series{Attempt: []float64{1, 2, 3, 4, 5}, Response: []float64{9, 8, y, 7, 6}}, Spec{Family: models.Power(), Noise: models.Lognormal{}})
		if !errors.Is(err, ErrSeries) {
			t.Errorf("response %v: error %v, want ErrSeries", y, err)
		}
	}
}

// Scaling the response scales plateau and gain and leaves the rate; moving the
// attempts of an exponential leaves the plateau and the rate; reordering the
// attempts changes nothing.
func TestUnits(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.15, 30, 3)
	for _, noise := range []models.Noise{models.Normal{}, models.Lognormal{}} {
		base, err := One(s, Spec{Family: models.Exponential(1), Noise: noise, Positive: true})
		if err != nil {
			t.Fatal(err)
		}
		scaled, moved, reversed := clone(s), clone(s), clone(s)
		n := len(s.Attempt)
		for i := range s.Attempt {
			scaled.Response[i] *= 60
			moved.Attempt[i] += 1000
			reversed.Attempt[i], reversed.Response[i] = s.Attempt[n-1-i], s.Response[n-1-i]
		}
		for _, c := range []struct {
			name          string
			s             Series
			factor, shift float64
		}{{"scaled", scaled, 60, 0}, {"moved", moved, 1, 1000}, {"reversed", reversed, 1, 0}} {
			f, err := One(c.s, Spec{Family: models.Exponential(1 + c.shift), Noise: noise, Positive: true})
			if err != nil {
				t.Fatal(err)
			}
			for i, factor := range []float64{c.factor, c.factor, 1} {
				if d := digits(f.Params[i].Value, base.Params[i].Value*factor); !(d > 8) {
					t.Errorf("%s, %s: %s = %v, want %v", noise.Name(), c.name, f.Params[i].Name, f.Params[i].Value, base.Params[i].Value*factor)
				}
				if d := digits(f.Params[i].SE, base.Params[i].SE*factor); !(d > 6) {
					t.Errorf("%s, %s: SE of %s = %v, want %v", noise.Name(), c.name, f.Params[i].Name, f.Params[i].SE, base.Params[i].SE*factor)
				}
			}
		}
	}
}

func clone(s Series) Series {
	return Series{Attempt: append([]float64(nil), s.Attempt...), Response: append([]float64(nil), s.Response...)}
}

// Holding a parameter at its estimate leaves the fit where it is, whichever
// parameter it is; the two others are found again.
func TestHolds(t *testing.T) {
	s := noisy(models.Power().Curve([]float64{40, 140, 0.6}), 0.1, 40, 5)
	spec := Spec{Family: models.Power(), Noise: models.Normal{}}
	free, err := One(s, spec)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range [][]Hold{
		{{"plateau", free.Curve.Plateau}}, {{"gain", free.Curve.Gain}}, {{"rate", free.Curve.Shape[0]}}, {{"start", free.Curve.Start()}},
		{{"plateau", free.Curve.Plateau}, {"gain", free.Curve.Gain}}, {{"start", free.Curve.Start()}, {"plateau", free.Curve.Plateau}},
		{{"start", free.Curve.Start()}, {"gain", free.Curve.Gain}}, {{"start", free.Curve.Start()}, {"rate", free.Curve.Shape[0]}},
		{{"plateau", free.Curve.Plateau}, {"gain", free.Curve.Gain}, {"rate", free.Curve.Shape[0]}},
	} {
		held := spec
		held.Hold = h
		f, err := One(s, held)
		if err != nil {
			t.Fatal(err)
		}
		if d := digits(f.RSS, free.RSS); !(d > 9) {
			t.Errorf("holding %v: RSS %v, free fit %v", h, f.RSS, free.RSS)
		}
		for i, v := range f.Curve.Theta() {
			if d := digits(v, free.Curve.Theta()[i]); !(d > 5) {
				t.Errorf("holding %v: %s = %v, free fit %v", h, f.Params[i].Name, v, free.Curve.Theta()[i])
			}
		}
		if f.DF != free.DF+len(h) {
			t.Errorf("holding %v: %d degrees of freedom, want %d", h, f.DF, free.DF+len(h))
		}
	}
	for _, h := range [][]Hold{{{"midpoint", 3}}, {{"rate", -1}}, {{"plateau", 1}, {"plateau", 2}}, {{"plateau", math.NaN()}}, {{"plateau", 1}, {"gain", 2}, {"start", 3}}} {
		held := spec
		held.Hold = h
		if _, err := One(s, held); !errors.Is(err, ErrSeries) {
			t.Errorf("holding %v: error %v, want ErrSeries", h, err)
		}
	}
}

// noisy simulates a series of n attempts with multiplicative noise.
func noisy(c models.Curve, sd float64, n int, seed uint64) Series {
	r := newRand(seed)
	var s Series
	for i := 1; i <= n; i++ {
		s.Attempt = append(s.Attempt, float64(i))
		s.Response = append(s.Response, c.At(float64(i))*math.Exp(sd*r.NormFloat64()))
	}
	return s
}

// Passes and fails over 60 attempts: R 4.2.2, glm(pass ~ log(attempt),
// binomial).
func TestPassFail(t *testing.T) {
	f, err := One(series(t, "curves/pass_fail.csv", "attempt", "pass"), Spec{Family: models.Logarithmic(), Noise: models.Bernoulli{}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"start", f.param("start").Value, -2.9607277060993}, {"slope", f.param("slope").Value, 1.2492556643103},
		{"SE of start", f.param("start").SE, 1.2705341208134}, {"SE of slope", f.param("slope").SE, 0.40587506098841},
		{"log-likelihood", f.LogLik, -30.136389514198}, {"AIC", f.AIC, 64.272779028397},
	} {
		if d := digits(c.got, c.want); !(d >= 7) {
			t.Errorf("%s = %v, want %v (%.1f digits)", c.name, c.got, c.want, d)
		}
	}
}

// Weight over 246 days (Venables and Ripley, 2002, section 8.1) as an
// exponential from day 0: R 4.2.2, nls on a + b·exp(−r·days).
func TestWeightLoss(t *testing.T) {
	f, err := One(series(t, "curves/wtloss.csv", "days", "weight_kg"), Spec{Family: models.Exponential(0), Noise: models.Normal{}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"plateau", f.param("plateau").Value, 81.37381600627775}, {"gain", f.param("gain").Value, 102.68411601070908}, {"rate", f.param("rate").Value, 0.004884401318804715},
		{"SE of plateau", f.param("plateau").SE, 2.2690063675722634}, {"SE of gain", f.param("gain").SE, 2.082761664575577}, {"SE of rate", f.param("rate").SE, 0.00018223154102219323},
		{"residual SD", f.Scale, 0.8949369897408889}, {"RSS", f.RSS, 39.24469856471771}, {"log-likelihood", f.LogLik, -66.46769257749244},
		{"AIC", f.AIC, 140.93538515498489}, {"AICc", f.AICc, 141.7864489847721}, {"BIC", f.BIC, 148.7403600293106},
	} {
		if d := digits(c.got, c.want); !(d >= 6.5) {
			t.Errorf("%s = %v, want %v (%.1f digits)", c.name, c.got, c.want, d)
		}
	}
	// 110 kg are met at day 261.5132407 by R's estimates.
	if got := f.Curve.Crossing(110, 0, true); digits(got, 261.5132407003861) < 6.5 {
		t.Errorf("110 kg at day %v", got)
	}
}

// Counts: R 4.2.2, glm(poisson) and MASS::glm.nb on log(attempt), made by
// testdata/curves/make_counts.R.
func TestCounts(t *testing.T) {
	s := series(t, "curves/counts.csv", "attempt", "errors")
	for _, c := range []struct {
		noise                  models.Noise
		start, slope, se, logL float64
		scale                  float64
	}{
		{models.Poisson{}, 2.01126670147, -0.681011621192, 0.0804310508287, -114.713689167, math.NaN()},
		{models.NegativeBinomial{}, 2.00345662259, -0.677827402134, 0.0860496678363, -114.679487837, 0.0364913351092},
	} {
		f, err := One(s, Spec{Family: models.Logarithmic(), Noise: c.noise})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range [][2]float64{{f.param("start").Value, c.start}, {f.param("slope").Value, c.slope}, {f.LogLik, c.logL}} {
			if d := digits(v[0], v[1]); !(d >= 5) {
				t.Errorf("%s: %v, R has %v (%.1f digits)", c.noise.Name(), v[0], v[1], d)
			}
		}
		// glm.nb gives standard errors that take the dispersion as known.
		tol := 0.03
		if c.noise.Name() == "poisson" {
			tol = 1e-6
		}
		if se := f.param("slope").SE; math.Abs(se/c.se-1) > tol {
			t.Errorf("%s: SE of slope %v, R has %v", c.noise.Name(), se, c.se)
		}
		if !math.IsNaN(c.scale) && digits(f.Scale, c.scale) < 4 {
			t.Errorf("%s: dispersion %v, R has %v", c.noise.Name(), f.Scale, c.scale)
		}
	}
}

// One wild attempt moves the Student curve little and the normal curve a lot.
func TestRobust(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.05, 30, 4)
	s.Response[24] = 400
	at := func(noise models.Noise) float64 {
		f, err := One(s, Spec{Family: models.Exponential(1), Noise: noise})
		if err != nil {
			t.Fatal(err)
		}
		return f.Curve.At(25)
	}
	const truth = 40 + 140*0.0082297 // exp(−0.2·24)
	if robust, plain := at(models.Student{}), at(models.Normal{}); math.Abs(robust-truth) > 2 || math.Abs(plain-truth) < 6 {
		t.Errorf("at the wild attempt: student %.1f, normal %.1f, truth %.1f", robust, plain, truth)
	}
}
