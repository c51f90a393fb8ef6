package compare

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"testing"

	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

func spent(vs ...float64) []survival.Observation {
	var out []survival.Observation
	for _, v := range vs {
		out = append(out, survival.Observation{Time: v, Event: true})
	}
	return out
}

// By hand: without prior practice 20 units on the task are needed on average; after 5, 10
// and 15 units of it 16, 13.5 and 12. Effectiveness 4/5, 6.5/10, 8/15; incremental 4/5,
// 2.5/5, 1.5/5; percent 20, 32.5, 40. Each arm has a trainee on either side of its mean.
func TestTransferByHand(t *testing.T) {
	arms := []Practised{
		{"long", []float64{14, 16}, spent(11, 13)}, {"none", []float64{0, 0}, spent(18, 22)},
		{"short", []float64{5, 5}, spent(15, 17)}, {"middle", []float64{9, 11}, spent(13, 14)},
	}
	got, err := TransferOf(context.Background(), arms, 0, resample.Sampling{Replicates: 400})
	if err != nil {
		t.Fatal(err)
	}
	if got.Reference != "none" || len(got.Steps) != 3 {
		t.Fatalf("reference %s, %d steps", got.Reference, len(got.Steps))
	}
	for k, want := range []struct {
		arm, before                         string
		effectiveness, incremental, percent float64
	}{{"short", "none", 0.8, 0.8, 20}, {"middle", "short", 0.65, 0.5, 32.5}, {"long", "middle", 8.0 / 15, 0.3, 40}} {
		s := got.Steps[k]
		if s.Arm != want.arm || s.Before != want.before {
			t.Errorf("step %d: %s after %s", k, s.Arm, s.Before)
		}
		near(t, "effectiveness", s.Effectiveness.Estimate, want.effectiveness, 1e-12)
		near(t, "incremental", s.Incremental.Estimate, want.incremental, 1e-12)
		near(t, "percent", s.Percent.Estimate, want.percent, 1e-12)
		if !(s.Effectiveness.Lower < want.effectiveness && want.effectiveness < s.Effectiveness.Upper) {
			t.Errorf("interval %v to %v", s.Effectiveness.Lower, s.Effectiveness.Upper)
		}
	}
}

// One who did not meet the rule counts by the restricted mean: 10, 20 and one last seen
// at 20 without: up to 20 the mean is 20·1 − 10·(1/3) = 50/3, by hand the area under
// 1 until 10 and 2/3 until 20: 10 + 20/3.
func TestTransferWithSomeNotThere(t *testing.T) {
	slow := append(spent(10, 20), survival.Observation{Time: 20})
	got, err := TransferOf(context.Background(), []Practised{{"none", []float64{0, 0, 0}, slow}, {"some", []float64{4, 4, 4}, spent(8, 10, 20)}}, 0, resample.Sampling{Replicates: 200})
	if err != nil {
		t.Fatal(err)
	}
	none, some := 50.0/3, (8+10+20)/3.0
	near(t, "effectiveness", got.Steps[0].Effectiveness.Estimate, (none-some)/4, 1e-12)
	if got.UpTo != 20 || len(got.Warnings) != 1 {
		t.Errorf("up to %v, warnings %v", got.UpTo, got.Warnings)
	}
}

func TestNoTransfer(t *testing.T) {
	for name, arms := range map[string][]Practised{
		"one arm":             {{"a", []float64{0}, spent(1)}},
		"all with prior":      {{"a", []float64{1}, spent(1)}, {"b", []float64{2}, spent(1)}},
		"same prior practice": {{"a", []float64{0}, spent(1)}, {"b", []float64{2}, spent(1)}, {"c", []float64{2}, spent(1)}},
		"nobody":              {{"a", nil, nil}, {"b", []float64{2}, spent(1)}},
	} {
		if _, err := TransferOf(context.Background(), arms, 0, resample.Sampling{Replicates: 50}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A hazard ratio by hand: events of the arm at 1 and 2, of the reference at 3 and 4: each adds
// weight·(1 − share of the arm in the hazard) to the slope, which is above 0 everywhere: the arms
// do not overlap, and the estimate is infinite with a finite lower end. With x = e^b and
// everybody followed, of the reference at 1 and 4 and the arm at 2 and 3: weights 1, 3/4 and
// 1/2, the slope −x/(x+1) + (3/4)/(2x+1) + (1/2)/(x+1), 0 where 8x² − 3x − 5 is: at 1, though
// the arms' hazards are not alike. Where one of the arm stops at 1 without the event, the other
// has it at 3, and the reference at 2, 4 and 5: of 5 trainees 4/5 are followed, so that the
// weights are 5/4 at 2 and (3/4)(5/4) at 3; −(5/4)x/(x+3) + (15/16)·2/(x+2) is 0 where
// 2x² + x − 9 is: at (√73 − 1)/4.
func TestHazardsByHand(t *testing.T) {
	c, _ := Hazards("m", "a", "b", spent(3, 4), spent(1, 2), 0)
	if !math.IsInf(c.Estimate, 1) || !math.IsInf(c.Upper, 1) || !(c.Lower > 0) {
		t.Errorf("arms apart: %v, %v to %v", c.Estimate, c.Lower, c.Upper)
	}
	c, _ = Hazards("m", "a", "b", spent(1, 4), spent(2, 3), 0)
	near(t, "ratio", c.Estimate, 1, 1e-6)
	c, _ = Hazards("m", "a", "b", spent(2, 4, 5), append(spent(3), survival.Observation{Time: 1}), 0)
	near(t, "ratio where one stopped", c.Estimate, (math.Sqrt(73)-1)/4, 1e-6)
	if none, _ := Hazards("m", "a", "b", []survival.Observation{{Time: 3}}, []survival.Observation{{Time: 2}}, 0); none.Known() || len(none.Warnings) != 1 {
		t.Errorf("nobody met the rule: %+v", none)
	}
}

// The veterans' trial (Kalbfleisch and Prentice, 1980), treatment alone, against R's
// survival 3.5-3: coxph with a weighted stratum for every event time, Efron's ties and its
// contributions of trainees (dfbeta); limits by bisection of its likelihood with an offset;
// the check by coxph with tt = x·log(t).
// Script testdata/compare/hazard.R.
func TestHazardsAgainstR(t *testing.T) {
	f, err := os.Open("../../testdata/survival/veteran.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var arms [2][]survival.Observation
	for _, r := range rows[1:] {
		g := int(number(t, r[0])) - 1
		arms[g] = append(arms[g], survival.Observation{Time: number(t, r[2]), Event: r[3] == "1"})
	}
	c, check := Hazards("m", "standard", "test", arms[0], arms[1], 0)
	near(t, "ratio", c.Estimate, 1.192865338187, 1e-7)
	near(t, "lower", c.Lower, 0.802009545182, 1e-6)
	near(t, "upper", c.Upper, 1.777567177470, 1e-6)
	near(t, "p", c.P, 0.380606078317, 1e-6)
	near(t, "df", c.DF, 134.90418004, 1e-6)
	near(t, "check", check.ChiSquare, 2.74409942899, 1e-5)
	near(t, "robust se", robustSE(arms[0], arms[1]), 0.199099182558, 1e-8)
}

// robustSE is the root of the sum of squares of trainees' contributions (Lin and Wei, 1989),
// as coxph gives it with robust=TRUE.
func robustSE(ref, arm []survival.Observation) float64 {
	risks := risksOf(ref, arm)
	b, sum := mostLikely(risks, -30, 30), 0.0
	information, _ := curvature(risks, b)
	for _, v := range append(scoreResiduals(risks, ref, 0, b), scoreResiduals(risks, arm, 1, b)...) {
		sum += v * v
	}
	return math.Sqrt(sum) / information
}

// Attempts to a rule with many ties and hazards that do not stay apart, all followed to
// attempt 20, and with some who stopped before, against R: testdata/compare/hazard.R. The
// variance of proportional hazards is the larger here, so that the normal distribution judges.
func TestHazardsThatDoNotStayApart(t *testing.T) {
	until := func(stopped []float64, times ...float64) (obs []survival.Observation) {
		for _, at := range times {
			obs = append(obs, survival.Observation{Time: at, Event: at < 20})
		}
		for _, i := range stopped {
			obs[int(i)].Event = false
		}
		return obs
	}
	refTimes, armTimes := []float64{5, 6, 6, 7, 8, 9, 9, 11, 12, 14, 17, 20}, []float64{3, 3, 4, 4, 4, 5, 5, 6, 6, 13, 19, 20}
	ref, arm := until([]float64{2, 8}, refTimes...), until([]float64{1, 8}, armTimes...)
	c := HazardRatio("m", "a", "b", ref, arm, 0)
	near(t, "ratio, some stopped", c.Estimate, 2.180328249521, 1e-7)
	near(t, "lower, some stopped", c.Lower, 0.806231944363, 1e-6)
	near(t, "upper, some stopped", c.Upper, 6.150828530078, 1e-5)
	near(t, "p, some stopped", c.P, 0.123610373203, 1e-7)
	near(t, "robust se, some stopped", robustSE(ref, arm), 0.481798296549, 1e-8)

	ref, arm = until(nil, refTimes...), until(nil, armTimes...)
	c = HazardRatio("m", "a", "b", ref, arm, 0)
	near(t, "ratio", c.Estimate, 2.76793136273, 1e-7)
	near(t, "lower", c.Lower, 1.07709778241, 1e-6)
	near(t, "upper", c.Upper, 7.64157555460, 1e-5)
	near(t, "p", c.P, 0.0344850143521, 1e-7)
	near(t, "robust se", robustSE(ref, arm), 0.440958991379, 1e-8)
	if !math.IsNaN(c.DF) {
		t.Errorf("%v degrees of freedom, expected none", c.DF)
	}

	// The arms exchanged: one over the ratio, the ends exchanged, the same p.
	x := HazardRatio("m", "b", "a", arm, ref, 0)
	near(t, "ratio exchanged", x.Estimate*c.Estimate, 1, 1e-7)
	near(t, "ends exchanged", x.Lower*c.Upper, 1, 1e-6)
	near(t, "p exchanged", x.P, c.P, 1e-7)
}

// Few trainees and events: an interval is not known of a single trainee, p and interval agree,
// and nothing is NaN that is not said to be unknown.
func TestHazardsOfFew(t *testing.T) {
	if c := HazardRatio("m", "a", "b", spent(3, 4, 5), spent(4), 0); c.Known() || len(c.Warnings) != 1 || math.IsNaN(c.Estimate) {
		t.Errorf("one trainee: %+v", c)
	}
	never := survival.Observation{Time: 6}
	for name, arms := range map[string][2][]survival.Observation{
		"one event":           {{never, never, never}, append(spent(2), never, never)},
		"all at once":         {spent(3, 3, 3), spent(3, 3, 3)},
		"two and two":         {spent(1, 4), spent(2, 3)},
		"the same":            {spent(1, 2, 3, 4), spent(1, 2, 3, 4)},
		"apart":               {spent(5, 6, 7, 8, 9), spent(1, 1, 2, 2, 3)},
		"apart but for a tie": {spent(3, 4, 5, 6), spent(1, 2, 3, 3)},
	} {
		c := HazardRatio("m", "a", "b", arms[0], arms[1], 0)
		if !c.Known() || math.IsNaN(c.P) || !(c.Lower <= c.Estimate && c.Estimate <= c.Upper) || c.DF < 1 {
			t.Errorf("%s: %v, %v to %v, p %v, df %v", name, c.Estimate, c.Lower, c.Upper, c.P, c.DF)
		}
		if c.Open() != (c.P > 0.05) {
			t.Errorf("%s: %v to %v with p %v", name, c.Lower, c.Upper, c.P)
		}
	}
}
