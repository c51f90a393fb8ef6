package page

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/practice"
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
	rows := rowsOf(t, filepath.Join("..", "..", "datasets", "demo", "files", "attempts.csv"))
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

// Every count in the sentences about arms is the one in the log, and so are the numbers
// under their curves.
func TestArmsAgainstTheLog(t *testing.T) {
	raw := rawDemo(t)
	s := demoStudy(t, study.Options{Replicates: 40})
	a, err := s.Proficiency(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	r := &Report{study: s, Proficiency: reports.NewProficiency(s, a)}
	var p page
	if err := r.fillDirector(&p); err != nil {
		t.Fatal(err)
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
	if got := awaySentence(reports.NewProficiency(s, a)); got != want {
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
