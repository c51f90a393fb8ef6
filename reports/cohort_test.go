package reports

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/models"
)

// aCohort is what is said of seven made-up people.
func aCohort(t *testing.T) (*study.Study, *study.Cohort) {
	t.Helper()
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{Measure: practice.Time, Lower: true}}
	for i := range 7 {
		r := resample.Stream(11, "document test", i)
		one := practice.Trainee{ID: fmt.Sprint("T", i+1)}
		plateau := 45 * math.Exp(0.3*r.NormFloat64())
		for k := range 12 {
			a := practice.Attempt{Number: float64(k + 1), Response: (plateau + 130*math.Exp(-0.2*float64(k))) * math.Exp(0.1*r.NormFloat64()), Clean: true}
			if a.Session = "a"; k >= 6 {
				a.Session, a.Since = "b", float64(k-5)
			}
			one.Attempts = append(one.Attempts, a)
		}
		p.Trainees = append(p.Trainees, one)
	}
	s, err := study.New(p, study.Options{Families: []models.Family{models.Exponential(1)}})
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.DescribeCohort(context.Background(), study.CohortOptions{CohortSpec: study.CohortSpec{Random: []string{"plateau"}, Sessions: true}})
	if err != nil {
		t.Fatal(err)
	}
	return s, c
}

func textOf(t *testing.T, d Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteText(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A value that the attempts do not show is said in words and is null for programs; its
// bound stands, and the fit's warning is there to read.
func TestCohortNotIdentified(t *testing.T) {
	s, c := aCohort(t)
	if text := textOf(t, NewCohort(s, c)); strings.Contains(text, "ot identified") {
		t.Fatalf("before anything is withheld: %s", text)
	}
	c.Fixed = slices.Clone(c.Fixed)
	e := &c.Fixed[0]
	if e.Parameter != "plateau" {
		t.Fatalf("the first parameter is %s", e.Parameter)
	}
	nan := math.NaN()
	e.Estimate, e.SE, e.Lower, e.Upper = nan, nan, nan, math.Log(50)
	c.Members[3].Parameters = slices.Clone(c.Members[3].Parameters)
	c.Members[3].Parameters[0] = nan
	c.Warnings.Add("plateau-not-identified", "plateau not identified: the curves are still falling")
	d := NewCohort(s, c)
	text := textOf(t, d)
	row := ""
	for line := range strings.SplitSeq(text, "\n") {
		if strings.HasPrefix(line, "plateau") && row == "" {
			row = line
		}
	}
	if got := strings.Fields(row); !slices.Equal(got, []string{"plateau", "(all)", "log", "not", "identified", "–", "–", "3.912", "–", "–", "50.00"}) {
		t.Errorf("row %v", got)
	}
	for _, want := range []string{"Not identified: these attempts do not show the value", "A dash in the place of a parameter: not identified", "Note: plateau not identified: the curves are still falling."} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	var b bytes.Buffer
	if err := WriteJSON(&b, d); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Fixed []struct {
			Estimate, SE, Lower, Upper *float64
		}
		Trainees []struct {
			Parameters []struct{ Estimate *float64 }
		}
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if f := got.Fixed[0]; f.Estimate != nil || f.SE != nil || f.Lower != nil || f.Upper == nil || *f.Upper != math.Log(50) {
		t.Errorf("%+v", f)
	}
	if got.Trainees[3].Parameters[0].Estimate != nil || got.Trainees[2].Parameters[0].Estimate == nil {
		t.Error("a trainee's value is not null, or another's is")
	}
}

// The restart is called so where its parameters stand.
func TestCohortRestartNamed(t *testing.T) {
	s, c := aCohort(t)
	text := strings.Join(strings.Fields(textOf(t, NewCohort(s, c))), " ")
	if !strings.Contains(text, "session: the restart, a shift of the first attempt after a break between sessions against the trainee's curve") {
		t.Error("no word about the restart")
	}
	c.Fixed = slices.DeleteFunc(slices.Clone(c.Fixed), func(e cohort.Effect) bool { return e.Parameter == "session" })
	if strings.Contains(textOf(t, NewCohort(s, c)), "restart") {
		t.Error("a restart where there is none")
	}
}
