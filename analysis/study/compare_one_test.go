package study

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/models"
)

// One contrast alone is the same, to the last digit, as among all that compare gives: also
// where trainees stop early, and in clusters.
func TestContrastIsThatOfCompare(t *testing.T) {
	early := threeArms(0.7, func(arm, i int) float64 { return 16 - float64((arm+i)%3)*4 })
	clusters := map[string]string{}
	for i, p := range early.Trainees {
		clusters[p.ID] = string(rune('a' + i%4))
	}
	for name, c := range map[string]struct {
		p practice.Practice
		o CompareOptions
	}{"all to the end": {threeArms(0.7, nil), CompareOptions{At: 12}}, "some stop": {early, CompareOptions{}}, "clusters": {early, CompareOptions{Cluster: clusters}}} {
		all := comparison(t, c.p, c.o)
		for _, want := range all.Contrasts {
			if want.Reference != "usual" || errorMeasure(want.Measure) {
				continue
			}
			s, err := New(c.p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 199})
			if err != nil {
				t.Fatal(err)
			}
			got, err := s.Contrast(context.Background(), c.o, want.Measure, want.Arm)
			if err != nil {
				t.Fatalf("%s, %s: %v", name, want.Measure, err)
			}
			want.PAdjusted, want.PHochberg = math.NaN(), math.NaN()
			if !sameContrast(got, want) {
				t.Errorf("%s, %s of %s: alone %+v, among all %+v", name, want.Measure, want.Arm, got, want)
			}
		}
	}
}

// sameContrast compares all fields, an unknown number being the same as another.
func sameContrast(a, b any) bool {
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	for i := range x.NumField() {
		if f := x.Field(i); f.Kind() == reflect.Float64 && math.IsNaN(f.Float()) && math.IsNaN(y.Field(i).Float()) {
			continue
		}
		if !reflect.DeepEqual(x.Field(i).Interface(), y.Field(i).Interface()) {
			return false
		}
	}
	return true
}

// A measure is found without its attempt; what is not there is an error with its reason.
func TestContrastByName(t *testing.T) {
	p := threeArms(0.7, nil)
	s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 199})
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.Contrast(context.Background(), CompareOptions{At: 12}, "level", "quick")
	if err != nil || c.Measure != "level-at-attempt-12" || c.Arm != "quick" || c.Reference != "usual" {
		t.Errorf("level: %+v, %v", c, err)
	}
	if _, err := s.Contrast(context.Background(), CompareOptions{}, "swiftness", "quick"); err == nil || !strings.Contains(err.Error(), "no contrast of swiftness") {
		t.Errorf("an unknown measure: %v", err)
	}
	if _, err := s.Contrast(context.Background(), CompareOptions{}, "plateau", "nobody"); err == nil || !strings.Contains(err.Error(), "nobody") {
		t.Errorf("an unknown arm: %v", err)
	}
	p.Trainees = p.Trainees[7:12]
	few, err := New(p, Options{Families: []models.Family{models.Exponential(1)}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := few.Contrast(context.Background(), CompareOptions{}, "plateau", "quick"); !errors.Is(err, ErrNoCohort) {
		t.Errorf("five trainees: %v, want ErrNoCohort", err)
	}
}

// One quota alone is the same as among all that quota gives.
func TestOneQuotaIsThatOfQuota(t *testing.T) {
	s, err := New(threeArms(0.7, nil), Options{Families: []models.Family{models.Exponential(1)}, Replicates: 40})
	if err != nil {
		t.Fatal(err)
	}
	all, err := s.Quota(context.Background(), QuotaOptions{})
	if err != nil {
		t.Fatal(err)
	}
	same := func(g QuotaGroup, b QuotaBasis, ask func(context.Context, string, float64) (proficiency.Quota, error)) {
		for _, want := range b.Quotas {
			got, err := ask(context.Background(), g.Arm, want.Share)
			if err != nil || got != want.Quota {
				t.Errorf("%s, %v: %+v (%v), want %+v", g.Arm, want.Share, got, err, want.Quota)
			}
		}
	}
	for _, g := range all.Groups[1:] {
		same(g, g.Observed(), s.ObservedQuota)
		b, ok := g.Curve()
		if !ok {
			t.Fatalf("no curve of arm %s", g.Arm)
		}
		same(g, b, s.CurveQuota)
	}
	if _, err := s.CurveQuota(context.Background(), "nobody", 0.5); err == nil {
		t.Error("a quota of an arm that there is not")
	}
}
