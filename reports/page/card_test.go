package page

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/reports"
)

// A rawTrainee is counted here from the demo's attempt log alone, by the words of its
// study file: an attempt passes when it was done in at most 57 seconds with at most one
// wall puncture, and the rule is two passes in a row.
type rawTrainee struct {
	arm      string
	attempts int // void ones do not count
	met      int // attempt at which the rule was met; 0: never
	last     int
	run      int
}

func rawDemo(t *testing.T) map[string]*rawTrainee {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "datasets", "demo", "files", "attempts.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	out := map[string]*rawTrainee{}
	for _, r := range rows[1:] {
		one, ok := out[r[column("trainee")]]
		if !ok {
			one = &rawTrainee{arm: r[column("arm")]}
			out[r[column("trainee")]] = one
		}
		outcome := r[column("outcome")]
		if outcome == "void" {
			continue
		}
		one.attempts++
		one.last, _ = strconv.Atoi(r[column("attempt")])
		seconds, _ := strconv.ParseFloat(r[column("seconds")], 64)
		walls, _ := strconv.Atoi(r[column("wall_punctures")])
		if outcome == "done" && seconds <= 57 && walls <= 1 {
			one.run++
		} else {
			one.run = 0
		}
		if one.run == 2 && one.met == 0 {
			one.met = one.last
		}
	}
	return out
}

// Every count in the director's sentences and on the cards is the one in the log, and
// nobody who met the rule is told that it is too early to tell.
func TestCardsAgainstTheLog(t *testing.T) {
	raw := rawDemo(t)
	s := demoStudy(t, study.Options{Replicates: 40})
	a, err := s.Proficiency(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	r := &Report{study: s, Proficiency: reports.NewProficiency(s, a)}
	var p page
	if err := r.fillTrainees(&p); err != nil {
		t.Fatal(err)
	}
	if err := r.fillDirector(&p); err != nil {
		t.Fatal(err)
	}
	if len(p.Trainees) != len(raw) {
		t.Fatalf("%d cards, %d trainees in the log", len(p.Trainees), len(raw))
	}
	early := 0
	for _, c := range p.Trainees {
		w := raw[c.ID]
		if want := fmt.Sprintf("%d attempts so far.", w.attempts); !strings.HasPrefix(c.Now, want) {
			t.Errorf("%s: %q, want %q", c.ID, c.Now, want)
		}
		want := `The rule "2 in a row" has not been met yet.`
		if w.met > 0 {
			want = fmt.Sprintf(`The rule "2 in a row" was met at attempt %d.`, w.met)
		}
		if c.Rule != want {
			t.Errorf("%s: %q, want %q", c.ID, c.Rule, want)
		}
		if strings.Contains(c.Ahead, "oo early") {
			early++
			if w.met > 0 {
				t.Errorf("%s met the rule at attempt %d and reads %q", c.ID, w.met, c.Ahead)
			}
		}
	}
	if early == 0 {
		t.Error("nobody reads that it is too early to tell, so nothing was checked")
	}
	for k, arm := range []string{"spaced", "massed"} {
		var obs [][2]int // attempt, met
		met := 0
		for _, w := range raw {
			switch {
			case w.arm != arm:
			case w.met > 0:
				obs, met = append(obs, [2]int{w.met, 1}), met+1
			default:
				obs = append(obs, [2]int{w.last, 0})
			}
		}
		want := fmt.Sprintf(`In arm %s, %d of %d trainees met the rule "2 in a row"; half had met it by attempt %d.`, arm, met, len(obs), medianByHand(obs))
		if p.Director[k] != want {
			t.Errorf("%q, want %q", p.Director[k], want)
		}
		// The numbers under the curves: those not there before the attempt and seen at it.
		for n := range 40 {
			still := 0
			for _, o := range obs {
				if o[0] >= n {
					still++
				}
			}
			if got := a.Survival[k].AtRisk(float64(n)); got != still {
				t.Errorf("arm %s: %d followed and not there before attempt %d, want %d", arm, got, n, still)
			}
		}
	}
}

// medianByHand is the product-limit median.
func medianByHand(obs [][2]int) int {
	share := 1.0
	for n := 1; ; n++ {
		risk, events := 0, 0
		for _, o := range obs {
			if o[0] >= n {
				risk++
			}
			if o[0] == n {
				events += o[1]
			}
		}
		if risk == 0 {
			return 0
		}
		if share *= 1 - float64(events)/float64(risk); share <= 0.5+1e-12 {
			return n
		}
	}
}

// What a card says ahead, for every kind of answer.
func TestCardAhead(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	q := proficiency.Question{Horizon: 100}
	card := func(a proficiency.Answer, met bool, attempts int) string {
		a.Definition = proficiency.MeanCrossing
		one := study.TraineeProficiency{Answers: []proficiency.Answer{a}, Rule: &proficiency.Observed{Attempt: 4, Met: met}}
		for n := range attempts {
			one.Attempts = append(one.Attempts, practice.Attempt{Number: float64(n + 1), Response: 50, Clean: true})
		}
		return cardAhead(q, one)
	}
	for _, c := range []struct {
		a        proficiency.Answer
		met      bool
		attempts int
		want     string
	}{
		{proficiency.Answer{Status: proficiency.Reached, Estimate: 9, Lower: 7, Upper: 12}, true, 20, "The fitted level first met the standard somewhere between attempts 7 and 12."},
		{proficiency.Answer{Status: proficiency.Reached, Estimate: 9, Lower: 7, Upper: inf}, false, 20, "The fitted level first met the standard at attempt 9. The range begins at attempt 7 and has no end within 100 attempts."},
		{proficiency.Answer{Status: proficiency.Projected, Estimate: 29, Lower: 27, Upper: 52}, false, 20, "If practice continues as so far, the fitted level meets the standard somewhere between attempts 27 and 52."},
		{proficiency.Answer{Status: proficiency.Projected, Estimate: 29, Lower: 27, Upper: inf}, false, 20, "Too early to tell: the attempts so far leave it open whether the fitted level meets the standard within 100 attempts."},
		{proficiency.Answer{Status: proficiency.Projected, Estimate: 29, Lower: 27, Upper: inf}, true, 20, "The attempts so far leave it open whether the fitted level meets the standard within 100 attempts."},
		{proficiency.Answer{Status: proficiency.BeyondHorizon, Estimate: inf, Lower: inf, Upper: inf}, false, 20, "If practice continues as so far, the fitted level does not meet the standard within 100 attempts."},
		{proficiency.Answer{Status: proficiency.MovingAway, Estimate: nan, Lower: nan, Upper: nan, Leaves: 6}, true, 20, "These attempts get worse: the fitted level does not meet the standard and moves away from it."},
		{proficiency.Answer{Status: proficiency.MovingAway, Estimate: 1, Lower: 1, Upper: 1, Leaves: 31}, true, 20, "The fitted level meets the standard but moves away from it: from attempt 31 on it would not meet it, if practice continues as so far."},
		{proficiency.Answer{Status: proficiency.TooEarly, Estimate: nan}, false, 3, "Too early to tell when the standard will be met: a projection needs at least 5 usable attempts, and there are 3."},
		{proficiency.Answer{Status: proficiency.TooEarly, Estimate: nan}, true, 4, "There is no fitted level: it needs at least 5 usable attempts, and there are 4."},
	} {
		if got := card(c.a, c.met, c.attempts); got != c.want {
			t.Errorf("%s, rule met: %v: %q, want %q", c.a.Status, c.met, got, c.want)
		}
	}
}

// The director reads who moves away, and how many of them had met the rule; the table
// says so too.
func TestDirectorReadsWhoMovesAway(t *testing.T) {
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{
		Name: "t", Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 60}, Rule: practice.Rule{{Need: 2}}, Horizon: 60, RuleGiven: true,
	}}
	met := 0
	for i := range 4 {
		r := resample.Stream(5, "away", i)
		var x, y []float64
		for n := 1.0; n <= 12; n++ {
			level := 40 + 6*n
			if i < 2 {
				level = 130 - 8*n
			}
			if i == 3 {
				level += 40 // never a pass
			}
			x, y = append(x, n), append(y, level*math.Exp(0.04*r.NormFloat64()))
		}
		p.Trainees = append(p.Trainees, practice.Measured(fmt.Sprintf("T%d", i), x, y))
	}
	for _, tr := range p.Trainees[2:] { // by the times themselves
		for n := 1; n < 12; n++ {
			if tr.Attempts[n].Response <= 60 && tr.Attempts[n-1].Response <= 60 {
				met++
				break
			}
		}
	}
	s, err := study.New(p, study.Options{Replicates: 40})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Proficiency(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf("The fitted level of 2 of 4 trainees moves away from the standard: T2, T3; %d of them had met the rule.", met)
	if got := awaySentence(a); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	var b bytes.Buffer
	if err := reports.WriteText(&b, reports.NewProficiency(s, a)); err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"2 of 4 trainees move away from the standard", "χ²", `"2 in a row", as given by --rule,`} {
		if strings.Contains(strings.Join(strings.Fields(b.String()), " "), part) == (part == "χ²") { // one arm: no test
			t.Errorf("the text and %q", part)
		}
	}
}
