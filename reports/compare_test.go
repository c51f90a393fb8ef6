package reports

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/models"
)

// alike are two arms of trainees drawn from one population, n each.
func alike(n int) practice.Practice {
	p := practice.Practice{Task: practice.Task{Name: "cannulation", Measure: practice.Time, Lower: true}, Arms: []string{"usual", "spaced"}}
	r := resample.Stream(21, "alike", n)
	for a, arm := range p.Arms {
		for i := range n {
			t := practice.Trainee{ID: fmt.Sprint(a, "/", i), Arm: arm}
			level := 40 * math.Exp(0.3*r.NormFloat64())
			for k := 1.0; k <= 12; k++ {
				t.Attempts = append(t.Attempts, practice.Attempt{Number: k, Response: (level + 60*math.Exp(-0.4*(k-1))) * math.Exp(0.1*r.NormFloat64()), Clean: true})
			}
			p.Trainees = append(p.Trainees, t)
		}
	}
	return p
}

// With 23 trainees and nothing shown, every contrast says what it rules out and that
// the rest remains possible; nothing says that the arms are the same.
func TestComparisonSaysWhatIsLeftOpen(t *testing.T) {
	p := alike(12)
	p.Trainees = p.Trainees[:23]
	s, err := study.New(p, study.Options{Families: []models.Family{models.Exponential(1)}, Replicates: 199})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Compare(context.Background(), study.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	d := NewComparison(s, a)
	var b bytes.Buffer
	if err := WriteText(&b, d); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(b.String()), " ") + strings.Join(d.Summary, " ")
	for _, wrong := range []string{"no difference", "equivalent", "arms do not differ", "the same as"} {
		if strings.Contains(strings.ToLower(text), wrong) {
			t.Errorf("%q in: %s", wrong, text)
		}
	}
	open := 0
	for _, c := range d.Contrasts {
		if !c.known() {
			continue
		}
		inside := float64(c.Lower) <= 1 && 1 <= float64(c.Upper)
		said := strings.Contains(c.Excludes, "remains possible")
		if c.Kind == "ratio" && inside != said {
			t.Errorf("%s, %v to %v: %q", c.Measure, c.Lower, c.Upper, c.Excludes)
		}
		if inside {
			open++
			if _, after, _ := strings.Cut(text, "Open in both directions"); !strings.Contains(after, c.Measure) || !strings.Contains(after, "does not show that the arms are alike") {
				t.Errorf("the text does not say that %s is open", c.Measure)
			}
		}
	}
	if open == 0 {
		t.Error("no contrast is left open: the test says little")
	}
}

// What was observed alone of a rule before which trainees stopped is not to be relied on, and the
// text says of which rows and why; others are not named.
func TestComparisonCautions(t *testing.T) {
	known := Contrast{Measure: "rule-met-hazard", Lower: 0.6, Upper: 4.3, Caution: "two trainees stopped; read the main contrasts"}
	other, sound, empty := known, known, known
	other.Measure, sound.Measure, sound.Caution = "rule-met-mean-within-19", "plateau", ""
	empty.Measure, empty.Lower = "rule-met-share-by-19", Number(math.NaN())
	got := cautions([]Contrast{sound, known, empty, other})
	want := "Not to be relied on as they stand: rule-met-hazard, rule-met-mean-within-19. Two trainees stopped; read the main contrasts."
	if len(got) != 1 || got[0] != want {
		t.Errorf("%q, want %q", got, want)
	}
	unread := contrastsOf([]compare.Contrast{compare.Withhold(compare.Contrast{Measure: "level-at-attempt-15", Estimate: 2, Lower: 1, Upper: 3, P: 0.01, Excludes: "excludes much"}, "most were not seen there")})
	if c := unread[0]; c.Estimate != 2 || c.known() || !math.IsNaN(float64(c.P)) || c.Excludes != "" || c.Caution == "" {
		t.Errorf("withheld: %+v", c)
	}
	if got, want := cautions(unread), "Given without interval and p: level-at-attempt-15. Most were not seen there."; len(got) != 1 || got[0] != want {
		t.Errorf("%q, want %q", got, want)
	}
	if cs := contrastsOf([]compare.Contrast{compare.Doubted(compare.Contrast{P: 0.01, Excludes: "excludes much"}, "why")}); cs[0].Caution != "why" || !math.IsNaN(float64(cs[0].P)) || cs[0].Excludes != "" {
		t.Errorf("machine output: %+v", cs[0])
	}
}

// The checklist is filled where the data tell, and blank where only the authors know.
func TestComparisonChecklist(t *testing.T) {
	s, err := study.New(alike(6), study.Options{Families: []models.Family{models.Exponential(1)}, Replicates: 50})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Compare(context.Background(), study.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	d := NewComparison(s, a)
	for _, c := range d.Checklist {
		switch c.Topic {
		case "blinding", "allocation", "sample size", "background":
			if c.Text != "" {
				t.Errorf("%s is filled with %q, which the data do not tell", c.Topic, c.Text)
			}
		case "design":
			if !strings.Contains(c.Text, "usual 6, spaced 6") {
				t.Errorf("design: %q", c.Text)
			}
		case "analysis", "flow", "estimates":
			if c.Text == "" {
				t.Errorf("%s is blank", c.Topic)
			}
		}
	}
}
