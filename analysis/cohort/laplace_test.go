package cohort

import (
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"tyro/models"
)

// load reads a cohort from testdata.
func load(t testing.TB, name, id, arm, attempt, response string) []Trainee {
	t.Helper()
	f, err := os.Open("../../testdata/cohort/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	col := func(n string) int { return slices.Index(rows[0], n) }
	var out []Trainee
	for _, r := range rows[1:] {
		i := slices.IndexFunc(out, func(t Trainee) bool { return t.ID == r[col(id)] })
		if i < 0 {
			i = len(out)
			out = append(out, Trainee{ID: r[col(id)]})
			if arm != "" {
				out[i].Arm = r[col(arm)]
			}
		}
		x, err := strconv.ParseFloat(r[col(attempt)], 64)
		y, err2 := strconv.ParseFloat(r[col(response)], 64)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		out[i].Attempt = append(out[i].Attempt, x)
		out[i].Response = append(out[i].Response, y)
	}
	return out
}

func mustModel(t testing.TB, s Spec, ts []Trainee) *model {
	t.Helper()
	m, err := newModel(s, armsOf(ts), ts)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func mustFamily(name string) models.Family {
	f, err := models.ByName(name, 1)
	if err != nil {
		panic(err)
	}
	return f
}

// counts turns seconds into counts of a tenth, rounded.
func counts(ts []Trainee) []Trainee {
	out := slices.Clone(ts)
	for i := range out {
		out[i].Response = slices.Clone(ts[i].Response)
		for j, y := range ts[i].Response {
			out[i].Response[j] = math.Round(y / 10)
		}
	}
	return out
}

// The gradient of the Laplace objective, by implicit differentiation, against
// central differences of the objective, for every quantity the model can have.
func TestLaplaceGradient(t *testing.T) {
	base := load(t, "cohort_power.csv", "trainee", "arm", "attempt", "seconds")[16:24]
	restarts := slices.Clone(base)
	for i := range restarts {
		restarts[i].Restart = make([]float64, 25)
		restarts[i].Censored = make([]bool, 25)
		for j := range 25 {
			if j >= 10 {
				restarts[i].Restart[j] = float64(1 + (j-10)%8)
			}
			restarts[i].Censored[j] = j == 0 || j == 10
		}
	}
	for _, c := range []struct {
		name  string
		spec  Spec
		ts    []Trainee
		theta []float64
	}{
		{"power, diagonal", Spec{Family: models.Power(), Noise: models.Lognormal{}, Uncorrelated: true, ArmEffect: []string{"rate"}}, base,
			[]float64{3.7, 4.9, -0.5, 0.25, -1.8, -1.6, -1.9, -1.8}},
		{"power, full, spread", Spec{Family: models.Power(), Noise: models.Lognormal{}, Random: []string{"plateau", "gain", "rate", Spread}}, base,
			[]float64{3.7, 4.9, -0.5, -1.8, -1.8, 0.05, -1.6, -0.04, 0.03, -1.9, 0.02, 0.01, 0.05, -1.2}},
		{"power, reciprocal, sessions, censored", Spec{Family: models.Power(), Noise: models.Reciprocal{}, Sessions: true, UseStart: true, Scale: map[string]Scale{"start": Identity}, Random: []string{"plateau", "start", "rate", Session}}, restarts,
			[]float64{3.7, 190, -0.5, 0.001, -0.5, -5.5, -1.8, 0.5, 3, -0.04, 0.03, -1.9, 0.0002, 0.0003, 0.0001, -7}},
		{"power, carried over", Spec{Family: models.Power(), Noise: models.Lognormal{}, Carry: CarryWhole, Random: []string{"plateau", "gain", "rate", Spread}, Uncorrelated: true}, base,
			[]float64{3.7, 4.9, -0.5, -1.8, 0.3, -1.8, -1.6, -1.9, -1.2}},
		{"exponential, a part carried over, sessions, censored", Spec{Family: models.Exponential(0), Noise: models.Lognormal{}, UseStart: true, Sessions: true, Carry: CarryPart,
			Random: []string{"plateau", "start", "rate", Session, Spread}, Scale: map[string]Scale{"plateau": Identity}}, restarts,
			[]float64{60, 5.2, -1.4, 0.2, -0.7, -1.8, 1.5, -0.4, 2.3, 0.05, -1.6, -0.04, 0.03, -1.9, 0.02, 0.01, 0.05, -1.9, 0.01, 0.1, 0.02, 0.03, -1.2}},
		{"exponential, start, identity", Spec{Family: models.Exponential(1), Noise: models.Normal{}, UseStart: true, Scale: map[string]Scale{"rate": Identity}}, base,
			[]float64{60, 190, 0.3, 3, 2.5, 4, 3.3, -0.02, 0.03, -2.4}},
		{"exponential, sessions, censored", Spec{Family: models.Exponential(0), Noise: models.Lognormal{}, UseStart: true, Sessions: true,
			Random: []string{"plateau", "start", "rate", Session, Spread}, Scale: map[string]Scale{"plateau": Identity}}, restarts,
			[]float64{60, 5.2, -1.4, 0.2, -0.7, -1.8, 2.3, 0.05, -1.6, -0.04, 0.03, -1.9, 0.02, 0.01, 0.05, -1.9, 0.01, 0.1, 0.02, 0.03, -1.2}},
		{"wright, normal, censored", Spec{Family: models.Wright(), Noise: models.Normal{}, Scale: map[string]Scale{"gain": Log}}, restarts,
			[]float64{5.1, 0.33, 2.8, -1.8, 0.02, -2.5}},
		{"logistic curve, student noise", Spec{Family: mustFamily("logistic"), Noise: models.Student{}, Random: []string{"plateau", "midpoint"}}, base,
			[]float64{60, 200, -0.7, 4, 2.5, 2, 0.1, 0.5}},
		{"power, log-student noise, own spread", Spec{Family: models.Power(), Noise: models.LogStudent{}, Random: []string{"plateau", "rate", Spread}}, base,
			[]float64{3.7, 4.9, -0.5, -1.8, -1.8, 0.05, -1.6, -0.04, 0.03, -1.2}},
		{"exponential, log-student noise, sessions, censored", Spec{Family: models.Exponential(0), Noise: models.LogStudent{}, UseStart: true, Sessions: true,
			Random: []string{"plateau", "start", Session, Spread}, Uncorrelated: true}, restarts,
			[]float64{4.1, 5.2, -1.4, 0.2, -0.7, -1.8, -1.6, -1.9, -1.9, -1.2}},
		{"power with prior, from the start, poisson", Spec{Family: mustFamily("power-prior"), Noise: models.Poisson{}, UseStart: true, Random: []string{"plateau", "rate"}}, counts(base),
			[]float64{0.5, 3, -0.3, 0.4, -1.5, 0.1, -1}},
	} {
		for _, expected := range []bool{false, true} {
			t.Run(fmt.Sprint(c.name, ", expected ", expected), func(t *testing.T) {
				m := mustModel(t, c.spec, c.ts)
				m.expected = expected
				if m.dim() != len(c.theta) {
					t.Fatalf("theta has %d places, %d given", m.dim(), len(c.theta))
				}
				o := newObjective(context.Background(), m)
				grad := make([]float64, m.dim())
				o.at(c.theta, grad)
				for j := range grad {
					h := 1e-4 * math.Max(1, math.Abs(c.theta[j]))
					x := slices.Clone(c.theta)
					diff := func(k float64) float64 {
						x[j] = c.theta[j] + k*h
						return o.at(x, nil)
					}
					want := (8*(diff(1)-diff(-1)) - (diff(2) - diff(-2))) / (12 * h)
					if !(math.Abs(grad[j]-want) <= 1e-5*math.Max(1, math.Abs(want))) {
						t.Errorf("theta %d: gradient %.8g, differences give %.8g", j, grad[j], want)
					}
				}
			})
		}
	}
}
