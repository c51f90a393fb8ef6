package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// threeArms are invented: 10 trainees an arm, 16 attempts, exponential curves with
// plateau 40 s, the second arm's plateau a factor lower, the third's as the first.
func threeArms(lower float64, stop func(arm, i int) float64) practice.Practice {
	p := practice.Practice{Task: practice.Task{
		Name: "cannulation", Measure: practice.Time, Lower: true, Counts: []string{"punctures"},
		Standard: &practice.Decision{Value: 52}, Rule: practice.Rule{{Need: 2}},
	}, Arms: []string{"usual", "quick", "spaced"}}
	r := resample.Stream(12, "three arms", 0)
	for a, arm := range p.Arms {
		for i := range 10 {
			t := practice.Trainee{ID: fmt.Sprint(arm, i), Arm: arm}
			plateau, gain, rate := 40*math.Exp(0.08*r.NormFloat64()), 90*math.Exp(0.1*r.NormFloat64()), 0.35*math.Exp(0.1*r.NormFloat64())
			if a == 1 {
				plateau *= lower
			}
			last := 16.0
			if stop != nil {
				last = stop(a, i)
			}
			for k := 1.0; k <= last; k++ {
				y := (plateau + gain*math.Exp(-rate*(k-1))) * math.Exp(0.08*r.NormFloat64())
				wrong := 0.0
				if r.Float64() < 0.2+0.5*float64(a%2) { // the quick arm errs more
					wrong = 1
				}
				t.Attempts = append(t.Attempts, practice.Attempt{Number: k, Response: y, Clean: true, Errors: []float64{wrong}, Date: fmt.Sprintf("2026-03-%02.0f", k)})
			}
			p.Trainees = append(p.Trainees, t)
		}
	}
	return p
}

func comparison(t *testing.T, p practice.Practice, o CompareOptions) *Comparison {
	t.Helper()
	s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 199})
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.Compare(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func contrastOf(t *testing.T, cs []compare.Contrast, measure, arm, ref string) compare.Contrast {
	t.Helper()
	for _, c := range cs {
		if strings.HasPrefix(c.Measure, measure) && c.Arm == arm && c.Reference == ref {
			return c
		}
	}
	t.Fatalf("no contrast of %s, %s against %s", measure, arm, ref)
	return compare.Contrast{}
}

// The truth is known: plateaus in the ratio 0.7 for one arm, 1 for the other; punctures
// in the ratio 0.7/0.2.
func TestCompareThreeArms(t *testing.T) {
	c := comparison(t, threeArms(0.7, nil), CompareOptions{Reference: "spaced"})
	if c.Arms[0] != "spaced" || len(c.Arms) != 3 || !c.Cohort {
		t.Fatalf("arms %v, cohort %t", c.Arms, c.Cohort)
	}
	quick := contrastOf(t, c.Contrasts, "plateau", "quick", "spaced")
	if !(quick.Lower < 0.7 && 0.7 < quick.Upper && quick.Upper < 0.9) || quick.P > 0.02 || quick.PAdjusted < quick.P {
		t.Errorf("plateau of quick against spaced: %+v", quick)
	}
	if same := contrastOf(t, c.Contrasts, "plateau", "usual", "spaced"); !(same.Lower < 1 && 1 < same.Upper) {
		t.Errorf("plateau of usual against spaced: %v to %v", same.Lower, same.Upper)
	}
	errors := contrastOf(t, c.Contrasts, "punctures", "quick", "usual")
	if !(errors.Lower < 3.5 && 3.5 < errors.Upper && errors.Lower > 1) || !errors.Ratio {
		t.Errorf("punctures of quick against usual: %v (%v to %v)", errors.Estimate, errors.Lower, errors.Upper)
	}
	if c.Overall == nil || c.Overall.Arms != 3 || c.Overall.P > 0.02 {
		t.Errorf("overall: %+v", c.Overall)
	}
	found := false
	for _, x := range c.Trades {
		found = found || x.Arm == "quick" && x.LevelSure && x.Sure
	}
	if !found {
		t.Errorf("speed with more errors is not named: %+v", c.Trades)
	}
	pairs := map[string]bool{}
	for _, x := range c.Contrasts {
		pairs[x.Arm+"/"+x.Reference] = true
	}
	if len(pairs) != 3 {
		t.Errorf("pairs %v, want all 3", pairs)
	}
}

// Where most of an arm were last seen before the attempt at which levels are compared, own
// curves are read beyond anything seen: their level stands without an interval, with the
// reason and the attempt at which it could have one, and nothing else of it is tested. At
// that attempt it has its interval.
func TestCompareWithholdsOwnLevelsBeyond(t *testing.T) {
	most := threeArms(0.8, func(arm, i int) float64 {
		if arm == 1 && i < 6 {
			return 8
		}
		return 16
	})
	ownLevel := func(c *Comparison, x compare.Contrast) bool {
		return x.Basis == BasisOwn && strings.HasPrefix(x.Measure, "level-at") || strings.HasPrefix(x.Basis, "own level")
	}
	check := func(c *Comparison, withheld bool) {
		t.Helper()
		seen := 0
		for _, x := range c.Sensitivity {
			quick := x.Arm == "quick" || x.Reference == "quick"
			if !ownLevel(c, x) || !quick {
				// the middle trainee of arm quick made 8 attempts, of the others 16
				unequal := quick && x.Basis == BasisOwn && slices.Contains([]string{"plateau", "rate", "mean-crossing"}, x.Measure)
				if x.Withheld != unequal || unequal != strings.Contains(x.Caution, "bend otherwise") {
					t.Errorf("%s by %s, %s against %s: withheld %v, %q", x.Measure, x.Basis, x.Arm, x.Reference, x.Withheld, x.Caution)
				}
				continue
			}
			seen++
			said := strings.Contains(x.Caution, "6 of 10 own curves of arm quick end before attempt 16") && strings.Contains(x.Caution, "at attempt 8 (--at)")
			if x.Withheld != withheld || x.Known() == withheld || math.IsNaN(x.P) != withheld || said != withheld || math.IsNaN(x.Estimate) {
				t.Errorf("%s by %s, %s against %s: %v, %v to %v, p %v, %q", x.Measure, x.Basis, x.Arm, x.Reference, x.Estimate, x.Lower, x.Upper, x.P, x.Caution)
			}
		}
		if seen != 12 { // the level, and five methods for one number a trainee, of two pairs
			t.Errorf("%d contrasts of own levels, want 12", seen)
		}
		slopes := 0
		for _, s := range c.Slopes {
			if strings.HasPrefix(s.Basis, "own level") {
				slopes++
			}
		}
		if want := map[bool]int{true: 1, false: 3}[withheld]; slopes != want {
			t.Errorf("%d tests of slopes of own levels, want %d", slopes, want)
		}
	}
	check(comparison(t, most, CompareOptions{At: 16}), true)
	check(comparison(t, most, CompareOptions{At: 8}), false)
	check(comparison(t, most, CompareOptions{}), false) // the attempt that half of every arm made
}

// Where more than one in ten of an arm have curves that never meet the standard, how soon the
// others do stands without an interval; where one of ten has, with it.
func TestCompareWithholdsCrossingsOfSome(t *testing.T) {
	p := threeArms(1, nil)
	slow := func(n int) practice.Practice {
		out := p
		out.Trainees = slices.Clone(p.Trainees)
		for i := range n { // of arm usual: never below 70
			tr := out.Trainees[i]
			tr.Attempts = slices.Clone(tr.Attempts)
			for k := range tr.Attempts {
				tr.Attempts[k].Response += 45
			}
			out.Trainees[i] = tr
		}
		return out
	}
	for n, withheld := range []bool{false, false, true} {
		c := comparison(t, slow(n), CompareOptions{})
		x := contrastOf(t, c.Sensitivity, "mean-crossing", "quick", "usual")
		said := strings.Contains(x.Caution, fmt.Sprintf("%d of 10 own curves of arm usual never meet the standard", n))
		if x.Basis != BasisOwn || x.Withheld != withheld || x.Known() == withheld || said != withheld {
			t.Errorf("%d of 10 never meet it: %+v", n, x)
		}
		if x := contrastOf(t, c.Sensitivity, "mean-crossing", "spaced", "quick"); x.Withheld {
			t.Errorf("of arms that do meet it: %+v", x)
		}
	}
}

// Trainees who stop early are counted, told, and looked at for a tipping point.
func TestCompareStoppedEarly(t *testing.T) {
	c := comparison(t, threeArms(1, func(arm, i int) float64 {
		if arm == 1 && i < 4 {
			return 5
		}
		return 16
	}), CompareOptions{})
	for _, f := range c.Followed {
		want := 0
		if f.Arm == "quick" {
			want = 4
		}
		if f.StoppedMet+f.StoppedNotMet != want || f.Trainees != 10 {
			t.Errorf("%+v, want %d who stopped before attempt %g", f, want, c.At)
		}
	}
	found := 0
	for _, d := range c.Departures {
		if d.Worse == "quick" && d.Unseen == 4 && strings.HasPrefix(d.Measure, "level") {
			found++
			if !d.OpenBefore || !(d.Tip > 1) {
				t.Errorf("departure %+v", d)
			}
		}
	}
	if found != 2 { // against usual, and of spaced against it
		t.Errorf("%d departures of those who stopped, want 2", found)
	}
}

// Some of one arm stop after 5 attempts without having met the rule: what was observed alone
// makes no test of it and says why, and what is expected of them leads.
func TestCompareDoubtsWhatWasObservedAlone(t *testing.T) {
	c := comparison(t, threeArms(1, func(arm, i int) float64 {
		if arm == 1 && i < 4 {
			return 5
		}
		return 16
	}), CompareOptions{})
	doubted := 0
	for _, x := range c.Sensitivity {
		own := (x.Basis == BasisOwn || strings.HasPrefix(x.Basis, "own level")) && (x.Arm == "quick" || x.Reference == "quick")
		if own != strings.Contains(x.Caution, "own curves are short") || own != math.IsNaN(x.P) && x.Basis != BasisObserved {
			t.Errorf("%s by %s, %s against %s: p %v, %q", x.Measure, x.Basis, x.Arm, x.Reference, x.P, x.Caution)
		}
		if x.Basis != BasisObserved {
			continue
		}
		doubted++
		if !math.IsNaN(x.P) || x.Excludes != "" || !strings.Contains(x.Caution, "without having met the rule") || !strings.Contains(x.Caution, "the interval is no test") {
			t.Errorf("%s: p %v, %q, %q", x.Measure, x.P, x.Excludes, x.Caution)
		}
	}
	if doubted != 12 { // mean, share, median and hazard of three pairs
		t.Errorf("%d contrasts of what was observed alone, want 12", doubted)
	}
	if x := contrastOf(t, c.Contrasts, "rule-met-mean", "quick", "usual"); x.Basis != BasisExpected || math.IsNaN(x.P) || x.Caution != "" {
		t.Errorf("what leads: %+v", x)
	}
	// Without somebody who stopped nothing is doubted.
	all := comparison(t, threeArms(1, nil), CompareOptions{})
	for _, x := range slices.Concat(all.Contrasts, all.Sensitivity) {
		if x.Caution != "" {
			t.Errorf("%s: %q", x.Measure, x.Caution)
		}
	}
}

func TestCompareMargin(t *testing.T) {
	p := threeArms(1, nil)
	p.Task.Margin = &practice.Margin{Measure: "plateau", Value: 1.3, Kind: practice.Equivalence, SetOn: "2026-02-01"}
	c := comparison(t, p, CompareOptions{})
	if c.Margin == nil || len(c.Margin.Contrasts) != 3 {
		t.Fatalf("margin %+v", c.Margin)
	}
	for _, x := range c.Margin.Contrasts {
		if !strings.Contains(x.Excludes, "within the margin of 0.769 to 1.3") || x.P > 0.05 {
			t.Errorf("%s against %s: %q, p %v", x.Arm, x.Reference, x.Excludes, x.P)
		}
	}
	p.Task.Margin.SetOn = "2026-03-04" // after the first attempt
	s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 50})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Compare(context.Background(), CompareOptions{}); err == nil || !strings.Contains(err.Error(), "before the data") {
		t.Errorf("a margin set after the data: %v", err)
	}
}

// A margin that says nothing of a contrast gives no verdict, and why: a ratio's margin below
// 1, a measure without a better side, errors of which an arm had none.
func TestMarginsNotJudged(t *testing.T) {
	clean := threeArms(1, nil)
	for i := range clean.Trainees {
		for k := range clean.Trainees[i].Attempts {
			if clean.Trainees[i].Arm == "usual" {
				clean.Trainees[i].Attempts[k].Errors = []float64{0}
			}
		}
	}
	for want, c := range map[string]struct {
		p practice.Practice
		m practice.Margin
	}{
		"a margin of 0.9 is none":           {threeArms(1, nil), practice.Margin{Measure: "plateau", Value: 0.9, Kind: practice.Equivalence}},
		"neither more nor less":             {threeArms(1, nil), practice.Margin{Measure: "rate", Value: 1.2, Kind: practice.NonInferiority}},
		"an arm had none, so that there is": {clean, practice.Margin{Measure: "punctures", Value: 1.5, Kind: practice.NonInferiority}},
	} {
		c.m.SetOn = "2026-02-01"
		c.p.Task.Margin = &c.m
		got := comparison(t, c.p, CompareOptions{})
		told := false
		for _, w := range got.Warnings {
			told = told || w.Code == "margin-not-judged" && strings.Contains(w.Text, want)
		}
		judged := 0
		for _, x := range got.Margin.Contrasts {
			if !math.IsNaN(x.P) || x.Excludes != "" {
				judged++
			}
		}
		if !told || judged > 1 { // of the arms with errors there is a verdict
			t.Errorf("%q: %d judged of %+v, warnings %v", want, judged, got.Margin.Contrasts, got.Warnings)
		}
	}
}

func TestCompareRefusals(t *testing.T) {
	p := threeArms(1, nil)
	s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 50})
	if err != nil {
		t.Fatal(err)
	}
	versions := map[string]string{"usual0": "2025-1", "quick0": "2026-1"}
	for want, o := range map[string]CompareOptions{
		"cannot be compared": {Versions: versions}, "is no arm": {Reference: "other"},
	} {
		if _, err := s.Compare(context.Background(), o); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", o, err, want)
		}
	}
}

// Two trainees received the other arm: both comparisons are there, and differ.
func TestCompareAsReceived(t *testing.T) {
	received := map[string]string{"usual0": "quick", "usual1": "quick"}
	c := comparison(t, threeArms(0.7, nil), CompareOptions{Received: received})
	if c.Switched != 2 {
		t.Errorf("%d switched, want 2", c.Switched)
	}
	assigned, got := contrastOf(t, c.Contrasts, "plateau", "quick", "usual"), contrastOf(t, c.Received, "plateau", "quick", "usual")
	if assigned.ArmN != 10 || got.ArmN != 12 || got.RefN != 8 || assigned.Estimate == got.Estimate {
		t.Errorf("assigned %d and %d, received %d and %d trainees", assigned.ArmN, assigned.RefN, got.ArmN, got.RefN)
	}
}

// Whole groups assigned: the groups are the unit.
func TestCompareClusters(t *testing.T) {
	p, cluster := threeArms(0.7, nil), map[string]string{}
	for i, x := range p.Trainees {
		cluster[x.ID] = fmt.Sprint(x.Arm, i%3)
	}
	c := comparison(t, p, CompareOptions{Cluster: cluster})
	if x := contrastOf(t, c.Contrasts, "plateau", "quick", "usual"); x.Method != "t of cluster means" || x.DF != 4 {
		t.Errorf("method %s with %v degrees of freedom", x.Method, x.DF)
	}
}

// Two tasks are one family: with the same data twice, Holm's p of the smallest is twice
// what it is for one, and nothing else of the contrasts moves.
func TestCompareTasks(t *testing.T) {
	one := comparison(t, threeArms(0.9, nil), CompareOptions{})
	var tasks []*Study
	for _, name := range []string{"cannulation", "suturing"} {
		p := threeArms(0.9, nil)
		p.Task.Name = name
		s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 199})
		if err != nil {
			t.Fatal(err)
		}
		tasks = append(tasks, s)
	}
	both, err := CompareTasks(context.Background(), tasks, CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	tests, least := 0.0, math.Inf(1)
	for _, c := range one.Contrasts {
		if !math.IsNaN(c.P) {
			tests++
			least = math.Min(least, c.P)
		}
	}
	for k, c := range both[1].Contrasts {
		if c.Estimate != one.Contrasts[k].Estimate && !math.IsNaN(c.Estimate) {
			t.Errorf("%s moved from %v to %v", c.Measure, one.Contrasts[k].Estimate, c.Estimate)
		}
		if c.P == least && math.Abs(c.PAdjusted-math.Min(1, 2*tests*least)) > 1e-12 {
			t.Errorf("%s: p %v becomes %v, want %v", c.Measure, c.P, c.PAdjusted, 2*tests*least)
		}
	}
	if len(both) != 2 || both[0].Task != "cannulation" {
		t.Errorf("%d tasks", len(both))
	}
}

// With 50 replicates the lowest p is 1/51, and with more than two contrasts judged together
// none could come to 0.05: that is said.
func TestCompareSaysWhenReplicatesAreTooFew(t *testing.T) {
	w := &comparing{Study: &Study{}, c: &Comparison{}}
	for _, c := range []struct {
		tests, replicates int
		told              bool
	}{{2, 50, false}, {3, 50, true}, {11, 200, true}, {11, 220, false}} {
		w.c = &Comparison{}
		for range c.tests {
			w.c.Contrasts = append(w.c.Contrasts, compare.Contrast{P: 0.5, Replicates: c.replicates})
		}
		w.remarkReplicates()
		if told := len(w.c.Warnings) > 0; told != c.told {
			t.Errorf("%d contrasts, %d replicates: told %v", c.tests, c.replicates, told)
		}
	}
}
