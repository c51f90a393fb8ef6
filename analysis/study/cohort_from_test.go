package study

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

// inSessions is a study in sessions of six attempts, in two arms, with hard fails, timeouts
// and errors beyond the limits.
func inSessions(t testing.TB, n, attempts int, o Options) *Study {
	t.Helper()
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		t.Fatal(err)
	}
	p := practice.Practice{Title: "a study", Arms: []string{"usual", "new"}, SHA256: "d1", Task: practice.Task{
		Name: "suture", Measure: practice.Time, Response: "seconds", Unit: "s", Lower: true, Limit: 190, AtMost: map[string]float64{"slips": 1},
		Standard: &practice.Decision{Value: 70}, Rule: rule, Horizon: 60,
	}}
	for i := range n {
		r := resample.Stream(12, "study in sessions", i)
		one := practice.Trainee{ID: fmt.Sprint("T", i+1), Arm: p.Arms[i%2], ErrorLimits: true}
		plateau, gain := 45*math.Exp(0.2*r.NormFloat64()), 130*math.Exp(0.2*r.NormFloat64())
		for k := range attempts {
			since := 0.0
			if k >= 6 {
				since = float64(k%6 + 1)
			}
			y := (plateau + gain*math.Exp(-0.2*float64(k))) * math.Exp(0.15*r.NormFloat64()+0.2*math.Exp(-since)*min(since, 1))
			a := practice.Attempt{Number: float64(k + 1), Response: y, Since: since, Clean: r.Float64() < 0.8}
			switch {
			case r.Float64() < 0.06:
				a.Outcome, a.Response = practice.Failed, math.NaN()
			case y > 190:
				a.Outcome, a.Response, a.Censored = practice.Timeout, 190, true
			}
			one.Attempts = append(one.Attempts, a)
		}
		p.Trainees = append(p.Trainees, one)
	}
	o.Families = []models.Family{models.Exponential(1)}
	s, err := New(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// kept is a fit through its file.
func kept(t testing.TB, s *Study, c *CohortFit) *SavedFit {
	t.Helper()
	return mustRead(t, keptText(t, s, c))
}

func keptText(t testing.TB, s *Study, c *CohortFit) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := s.SaveFit(context.Background(), c, &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func mustRead(t testing.TB, text []byte) *SavedFit {
	t.Helper()
	f, err := ReadFit(bytes.NewReader(text), "fit.json")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Trainees projected from a saved fit get the numbers that they got after it, to the last
// digit, whatever the fit has, and nothing is fitted; only where they stand is as exact as the
// fit's search was.
func TestProjectionsFromASavedFit(t *testing.T) {
	for _, k := range []struct {
		name string
		o    CohortOptions
	}{
		{"as usual", CohortOptions{}},
		{"restart, own spread and carryover", CohortOptions{CohortSpec: CohortSpec{Sessions: true, Carry: cohort.CarryWhole, Random: []string{"plateau", "gain", cohort.Spread}}, Early: true}},
		{"no correlations", CohortOptions{CohortSpec: CohortSpec{Uncorrelated: true, ArmEffect: []string{}}}},
		{"weighed", CohortOptions{CohortSpec: CohortSpec{Weigh: true}}},
	} {
		t.Run(k.name, func(t *testing.T) {
			s := inSessions(t, 14, 18, Options{Seed: 3})
			want := describe(t, s, k.o)
			text := keptText(t, s, want.Fit)
			if bytes.Contains(text, []byte("T1")) {
				t.Error("the file names a trainee")
			}
			var mu sync.Mutex
			fits := 0
			again := inSessions(t, 14, 18, Options{Seed: 3, Watch: Watch{Cohort: func(w cohort.Work, _ cohort.Spec, _ []cohort.Trainee) {
				mu.Lock()
				defer mu.Unlock()
				if w == cohort.Fitting {
					fits++
				}
			}}})
			o := k.o
			o.CohortSpec, o.From = CohortSpec{}, mustRead(t, text)
			got := describe(t, again, o)
			if fits > 0 {
				t.Errorf("%d fits", fits)
			}
			for i, m := range got.Members {
				w := want.Members[i]
				for j := range w.Parameters {
					if d := math.Abs(m.Parameters[j]/w.Parameters[j] - 1); d > 1e-5 {
						t.Errorf("%s: %v, want %v", m.ID, m.Parameters, w.Parameters)
					}
				}
				same(t, m.ID, fmt.Sprint(m.ID, m.Arm, m.N, m.NCensored, m.Next, m.Proficiency, m.Moves), fmt.Sprint(w.ID, w.Arm, w.N, w.NCensored, w.Next, w.Proficiency, w.Moves))
			}
			for i, a := range got.Arms {
				w := want.Arms[i]
				same(t, "arm", fmt.Sprint(a.Name, a.Middle, a.Next, *a.RuleMet, a.Shares), fmt.Sprint(w.Name, w.Middle, w.Next, *w.RuleMet, w.Shares))
			}
			same(t, "calibration", fmt.Sprint(*got.Calibration), fmt.Sprint(*want.Calibration))
			same(t, "numbers of the fit", numbersOf(got), numbersOf(want))
			for _, w := range want.Warnings {
				if !slices.Contains(got.Warnings, w) {
					t.Errorf("%s is not said: %s", w.Code, w.Text)
				}
			}
			if w := got.Warnings[0]; w.Code != "saved-fit" || !strings.Contains(w.Text, "the exponential curve of 14 trainees with") || !strings.Contains(w.Text, `of the study "a study", made from the very data`) {
				t.Errorf("%+v", w)
			}
			if err := again.SaveFit(context.Background(), got.Fit, &bytes.Buffer{}); err == nil {
				t.Error("saved again, with other people")
			}
		})
	}
}

func same(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n%s\nwant\n%s", what, got, want)
	}
}

// numbersOf are those of the fit itself.
func numbersOf(c *Cohort) string {
	out := fmt.Sprintf("%+v", []any{c.Random, c.Residual, c.Carryover, c.Interval, c.Fit.Ladder, c.Fit.Selection, c.Fit.LogLik, c.Fit.LogLikLog, c.Fit.AIC, c.Fit.BIC, c.Fit.NTrainees, c.Fit.NAttempts, c.Fit.NCensored, c.Fit.Arms, c.Fit.Parameters, c.Fit.Correlations, c.Fit.Covariates})
	for _, e := range c.Fixed {
		out += fmt.Sprint(e.Parameter, e.Arm, e.Covariate, e.Scale, e.Estimate, e.SE, e.Lower, e.Upper, e.Held, e.NotIdentified)
	}
	if c.Fit.Chosen != nil {
		out += fmt.Sprint(c.Fit.Chosen.Tried, c.Fit.Chosen.Weights, c.Fit.Chosen.Trust)
	}
	return out
}

// What may not be the same as in the fit's study is refused or told, by name.
func TestSavedFitOfAnotherStudy(t *testing.T) {
	s := inSessions(t, 12, 12, Options{Seed: 3})
	fit, err := s.Cohort(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	saved := kept(t, s, fit)
	for _, k := range []struct {
		what, say string
		refused   bool
		change    func(p *practice.Practice)
	}{
		{"minutes", "the saved fit's measure is in s, and this study's in min", true, func(p *practice.Practice) { p.Task.Unit = "min" }},
		{"a score", "the saved fit is of a time, and this study's measure is a score", true, func(p *practice.Practice) { p.Task.Measure = practice.Score }},
		{"the other way", "lower is better, and here higher is", true, func(p *practice.Practice) { p.Task.Lower = false }},
		{"other error limits", "a pass may have at most 2 slips here, and in the saved fit's study at most 1 slips", true, func(p *practice.Practice) { p.Task.AtMost = map[string]float64{"slips": 2} }},
		{"other arms", "the saved fit is of the arms usual, new, and the trainees here are of arm red", true, func(p *practice.Practice) {
			p.Arms = []string{"red"}
			for i := range p.Trainees {
				p.Trainees[i].Arm = "red"
			}
		}},
		{"nobody", "no trainee has an attempt", true, func(p *practice.Practice) {
			for i := range p.Trainees {
				p.Trainees[i].Attempts = nil
			}
		}},
		{"one of another arm", "the saved fit is of the arms usual, new: of arm red, 1 trainee is left out", false, func(p *practice.Practice) { p.Trainees[0].Arm = "red" }},
		{"one without attempts", "1 trainee without usable attempts is left out; what is expected of them", false, func(p *practice.Practice) { p.Trainees[0].Attempts = nil }},
		{"another standard", "the standard was 70 in the saved fit's study and is 60 here", false, func(p *practice.Practice) { p.Task.Standard = &practice.Decision{Value: 60} }},
		{"no standard", "the standard was 70 in the saved fit's study and is not set here", false, func(p *practice.Practice) { p.Task.Standard = nil }},
		{"another rule", "the rule was 2 in a row in the saved fit's study and is not set here", false, func(p *practice.Practice) { p.Task.Rule = nil }},
		{"another horizon", "the horizon was 60 in the saved fit's study and is 90 here", false, func(p *practice.Practice) { p.Task.Horizon = 90 }},
		{"another limit", "the time limit was 190 in the saved fit's study and is not set here", false, func(p *practice.Practice) { p.Task.Limit = 0 }},
		{"another task", "the task was suture in the saved fit's study and is knot here", false, func(p *practice.Practice) { p.Task.Name = "knot" }},
		{"another column", `the measure was "seconds" (s) in the saved fit's study and is "time" (no unit said) here`, false, func(p *practice.Practice) { p.Task.Response, p.Task.Unit = "time", "" }},
		{"no error limits", "in the saved fit's study a pass may have at most 1 slips, and here any errors", false, func(p *practice.Practice) {
			p.Task.AtMost = nil
			for i := range p.Trainees {
				p.Trainees[i].ErrorLimits = false
			}
		}},
		{"other data", "made from other data than those read here", false, func(p *practice.Practice) { p.SHA256 = "d2" }},
		{"many attempts", "nobody in the saved fit made an attempt after 12: those of trainee T1 go on", false, func(p *practice.Practice) {
			p.Trainees[0].Attempts = append(slices.Clone(p.Trainees[0].Attempts), practice.Attempt{Number: 40, Response: 50, Clean: true})
		}},
		{"one in minutes", "the curve of trainee T2 lies farther", false, func(p *practice.Practice) {
			p.Trainees[1].Attempts = slices.Clone(p.Trainees[1].Attempts)
			for j := range p.Trainees[1].Attempts {
				p.Trainees[1].Attempts[j].Response /= 60
			}
		}},
	} {
		p := inSessions(t, 12, 12, Options{}).Practice
		k.change(&p)
		noise := models.Noise(models.Lognormal{})
		other, err := New(p, Options{Seed: 3, Families: []models.Family{models.Exponential(1)}, Noise: noise})
		if err != nil {
			t.Fatal(err)
		}
		c, err := other.DescribeCohort(context.Background(), CohortOptions{From: saved, Only: PartMembers})
		if k.refused {
			if err == nil || !strings.Contains(err.Error(), k.say) {
				t.Errorf("%s: %v", k.what, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", k.what, err)
			continue
		}
		if !slices.ContainsFunc(c.Warnings, func(w analysis.Warning) bool { return strings.Contains(w.Text, k.say) }) {
			t.Errorf("%s is not said: %v", k.what, c.Warnings)
		}
	}
}

// Failing in ways that the fit's trainees never did makes what is projected too hopeful.
func TestUnforeseenFails(t *testing.T) {
	s := group(t, 8, 12, Options{Seed: 3})
	p := s.Practice
	p.Trainees = p.Trainees[1:] // without the one who fails
	sound, err := New(p, Options{Seed: 3, Families: []models.Family{models.Exponential(1)}})
	if err != nil {
		t.Fatal(err)
	}
	fit, err := sound.Cohort(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	c := describe(t, s, CohortOptions{From: kept(t, sound, fit)})
	if !slices.ContainsFunc(c.Warnings, func(w analysis.Warning) bool {
		return w.Code == "fails-unforeseen" && strings.Contains(w.Text, "no hard fails, and 4 attempts have here")
	}) {
		t.Errorf("%v", c.Warnings)
	}
	c = describe(t, sound, CohortOptions{From: kept(t, sound, fit)})
	if slices.ContainsFunc(c.Warnings, func(w analysis.Warning) bool { return w.Code == "fails-unforeseen" }) {
		t.Errorf("%v", c.Warnings)
	}
}

// Covariates are read as the fit read them: about its mean, with its levels.
func TestSavedFitWithCovariates(t *testing.T) {
	build := func(from, to int, hours float64, lab string) *Study {
		p := inSessions(t, 16, 12, Options{}).Practice
		p.Trainees = p.Trainees[from:to]
		number, level := map[string]float64{}, map[string]string{}
		for i, one := range p.Trainees {
			number[one.ID], level[one.ID] = hours+float64((i*7)%5), []string{"A", "B"}[i/2%2]
			if i == 0 && lab != "" {
				level[one.ID] = lab
			}
		}
		p.Covariates = []practice.Covariate{{Name: "hours", On: []string{"rate"}, Number: number}, {Name: "lab", On: []string{"plateau"}, Levels: []string{"A", "B"}, Level: level}}
		s, err := New(p, Options{Seed: 3, Families: []models.Family{models.Exponential(1)}})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	all := build(0, 16, 10, "")
	whole := describe(t, all, CohortOptions{Only: PartMembers})
	saved := kept(t, all, whole.Fit)
	few := describe(t, build(0, 4, 10, ""), CohortOptions{From: saved, Only: PartMembers})
	for i, m := range few.Members {
		same(t, m.ID, fmt.Sprint(m.Next), fmt.Sprint(whole.Members[i].Next))
	}
	if _, err := build(0, 4, 10, "C").DescribeCohort(context.Background(), CohortOptions{From: saved}); err == nil || !strings.Contains(err.Error(), `trainee T1 has lab "C", and the fit knows A, B`) {
		t.Error(err)
	}
	without := inSessions(t, 16, 12, Options{})
	if _, err := without.DescribeCohort(context.Background(), CohortOptions{From: saved}); err == nil || !strings.Contains(err.Error(), "the saved fit has the covariate hours, which these data lack") {
		t.Error(err)
	}
}

// A file that is not a saved fit, or not a whole one, is refused with what is wrong.
func TestReadFitRefuses(t *testing.T) {
	s := inSessions(t, 8, 10, Options{Seed: 3})
	fit, err := s.Cohort(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	text := keptText(t, s, fit)
	with := func(change func(f map[string]any)) string {
		var f map[string]any
		if err := json.Unmarshal(text, &f); err != nil {
			t.Fatal(err)
		}
		change(f)
		out, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	for _, k := range []struct{ say, text string }{
		{"it is not whole", string(text[:len(text)/2])},
		{"it is not whole", ""},
		{`its format is "cake"`, with(func(f map[string]any) { f["format"] = "cake" })},
		{"it is of version 2, and this program reads version 1", with(func(f map[string]any) { f["version"] = 2 })},
		{"it holds 0 fits and 1 weights", with(func(f map[string]any) { f["fits"] = []any{} })},
		{"a weight is -1", with(func(f map[string]any) { f["weights"] = []any{-1} })},
		{"its weights are 0.5 in sum", with(func(f map[string]any) { f["weights"] = []any{0.5} })},
		{"7 of 3 attempts cannot be", with(func(f map[string]any) {
			f["chances"].(map[string]any)["no_hard_fail"] = map[string]any{"yes": 7, "of": 3}
		})},
		{"coefficient 1 is not a number", with(func(f map[string]any) { f["fits"].([]any)[0].(map[string]any)["theta"].([]any)[0] = nil })},
		{"fit the cohort again", with(func(f map[string]any) { f["fits"].([]any)[0].(map[string]any)["version"] = 1 })},
	} {
		got, err := ReadFit(strings.NewReader(k.text), "fit.json")
		if err == nil || got != nil || !strings.Contains(err.Error(), k.say) || !strings.HasPrefix(err.Error(), "fit.json: the saved ") {
			t.Errorf("%s: %v", k.say, err)
		}
	}
}

// A saved fit answers for one trainee after every attempt, as the study's answer does.
func TestSavedFitAnswersForOneTrainee(t *testing.T) {
	s := inSessions(t, 14, 18, Options{Seed: 3})
	want := describe(t, s, CohortOptions{Early: true})
	pool, err := kept(t, s, want.Fit).Pool(s.Question)
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range want.Members {
		for _, m := range w.Moves {
			made := s.Trainees[i].Numbers()
			last := 0.0
			if m.Made > 0 {
				last = made[m.Made-1]
			}
			got, err := pool.Project(context.Background(), []practice.Trainee{s.Trainees[i].Until(last)}, s.Sampling())
			if err != nil {
				t.Fatal(err)
			}
			same(t, fmt.Sprint(w.ID, " after ", m.Made), fmt.Sprint(CohortMove{m.Made, ruleMet(got[0], true)}), fmt.Sprint(m))
		}
	}
}

// Following a trainee attempt by attempt gives what a projection of the whole series gives: to
// the last digit as long as draws are made anew, and after that but for random error.
func TestFollowingIsTheProjection(t *testing.T) {
	s := inSessions(t, 14, 18, Options{Seed: 3})
	for _, o := range []CohortSpec{{Sessions: true}, {Weigh: true}} {
		fit, err := s.FitCohort(context.Background(), o)
		if err != nil {
			t.Fatal(err)
		}
		q := s.Question
		q.Horizon = 100
		pool, err := kept(t, s, fit).Pool(q)
		if err != nil {
			t.Fatal(err)
		}
		whole := inSessions(t, 2, 50, Options{}).Trainees[1]
		follow, err := pool.Follow(context.Background(), whole.Until(0), 3)
		if err != nil {
			t.Fatal(err)
		}
		for k, a := range whole.Attempts {
			got, err := follow.Add(context.Background(), a)
			if err != nil {
				t.Fatal(err)
			}
			want, err := pool.Project(context.Background(), []practice.Trainee{whole.Until(a.Number)}, resample.Sampling{Seed: 3})
			if err != nil {
				t.Fatal(err)
			}
			if k < 30 || o.Weigh && got.Met {
				same(t, fmt.Sprint("after ", k+1), fmt.Sprintf("%+v", got), fmt.Sprintf("%+v", want[0]))
			} else if math.Abs(got.PassNever-want[0].PassNever) > 0.1 || got.Met != want[0].Met || got.Estimate != want[0].Estimate {
				t.Errorf("after %d: %+v, drawn anew %+v", k+1, got, want[0])
			}
			if o.Weigh && k == 8 {
				break // each takes as long as a projection
			}
		}
	}
}

// One more attempt, with all that is projected of a trainee: the rule, the pass chance, hard
// fails and error limits included.
func BenchmarkOneMoreAttempt(b *testing.B) {
	s := inSessions(b, 20, 20, Options{Seed: 3})
	fit, err := s.Cohort(context.Background())
	if err != nil {
		b.Fatal(err)
	}
	q := s.Question
	q.Horizon = 250
	pool, err := kept(b, s, fit).Pool(q)
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []int{20, 50, 190} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			one := inSessions(b, 1, n+1, Options{}).Trainees[0]
			made := 0
			var follow *proficiency.Following
			for b.Loop() {
				if made%16 == 0 { // so that the series stays about as long; not timed
					b.StopTimer()
					if follow, err = pool.Follow(context.Background(), one.Until(float64(n-1)), 3); err != nil {
						b.Fatal(err)
					}
					b.StartTimer()
				}
				next := one.Attempts[n-1]
				next.Number += float64(made % 16)
				made++
				if _, err := follow.Add(context.Background(), next); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
