package agreement

import (
	"math"
	"testing"

	"tyro/analysis/resample"
)

func ratingScores(t *testing.T) RatingScores {
	t.Helper()
	g := study(t, "facets", "trainee", "rater", "item")
	s := RatingScores{Score: g.Scores}
	for _, l := range g.Levels {
		s.Subject, s.Rater, s.Item = append(s.Subject, l[0]), append(s.Rater, l[1]), append(s.Item, l[2])
	}
	return s
}

func TestRatingModel(t *testing.T) {
	// Severities, difficulties, thresholds, log SD of ability with standard
	// errors, and log-likelihood by an independent program:
	// testdata/agreement/facets.R (R 4.2.2, optim).
	m, err := FitRatingModel(ratingScores(t), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if !m.Converged {
		t.Error("did not settle")
	}
	within(t, "log-likelihood", m.LogLikelihood, -460.998943, 1e-6)
	// The file's raters appear in the order R2, R3, R1.
	within(t, "severity R1", m.Raters[2].Estimate, -0.649884, 1e-4)
	within(t, "severity R2", m.Raters[0].Estimate, 0.081883, 1e-4)
	within(t, "severity R3", m.Raters[1].Estimate, 0.649884-0.081883, 1e-4)
	within(t, "severity R1 SE", m.Raters[2].SE, 0.109145, 1e-4)
	within(t, "severity R2 SE", m.Raters[0].SE, 0.096371, 1e-4)
	for i, want := range [][2]float64{{-0.406109, 0.112548}, {-0.205187, 0.108191}, {0.156507, 0.106870}} {
		within(t, "difficulty", m.Items[i].Estimate, want[0], 1e-4)
		within(t, "difficulty SE", m.Items[i].SE, want[1], 1e-4)
	}
	for k, want := range [][2]float64{{-1.578550, 0.314679}, {-0.564099, 0.273510}, {0.165724, 0.264510}, {0.937846, 0.283620}} {
		within(t, "threshold", m.Thresholds[k].Estimate, want[0], 1e-4)
		within(t, "threshold SE", m.Thresholds[k].SE, want[1], 1e-4)
	}
	within(t, "SD of ability", m.AbilitySD, math.Exp(0.200901), 1e-4)
	within(t, "SE of the SD", m.AbilitySDSE, math.Exp(0.200901)*0.150630, 1e-4)
}

// From lme4, see testdata/agreement/facets.R: two severities, three
// difficulties, the threshold, the SD of ability.
var binaryReference = []float64{-1.297767, 0.440135, -0.525613, -0.425374, 0.429683, -1.346679, 2.420552}

func TestRatingModelOfTwoCategories(t *testing.T) {
	// lme4 1.1.31, glmer with 41 adaptive quadrature points:
	// testdata/agreement/facets.R, scores of 3 and more against less.
	s := ratingScores(t)
	for i, v := range s.Score {
		s.Score[i] = 0
		if v >= 3 {
			s.Score[i] = 1
		}
	}
	m, err := FitRatingModel(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	got := []float64{m.Raters[2].Estimate, m.Raters[0].Estimate, m.Items[0].Estimate, m.Items[1].Estimate, m.Items[2].Estimate, m.Thresholds[0].Estimate, m.AbilitySD}
	for i, want := range binaryReference {
		within(t, "parameter", got[i], want, 1e-3)
	}
}

// Data that follow the model: severities come back, and mean squares are near 1.
func TestRatingModelRecovers(t *testing.T) {
	rnd := resample.Stream(9, "test", 0)
	severity := []float64{-1, 0, 1}
	threshold := []float64{-1, 0, 1}
	var s RatingScores
	p := make([]float64, 4)
	for i := range 400 {
		θ := 1.5 * rnd.NormFloat64()
		for j, ρ := range severity {
			chances(p, θ-ρ, threshold)
			u, k := rnd.Float64(), 0
			for u > p[k] && k < 3 {
				u -= p[k]
				k++
			}
			s.Subject, s.Rater, s.Score = append(s.Subject, i), append(s.Rater, j), append(s.Score, float64(k))
		}
	}
	m, err := FitRatingModel(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for j, r := range m.Raters {
		if math.Abs(r.Estimate-severity[j]) > 4*r.SE || math.Abs(r.Infit-1) > 0.15 || math.Abs(r.Outfit-1) > 0.2 {
			t.Errorf("rater %d: %+v", j, r)
		}
	}
	if math.Abs(m.AbilitySD-1.5) > 4*m.AbilitySDSE {
		t.Errorf("SD of ability %v ± %v, want 1.5", m.AbilitySD, m.AbilitySDSE)
	}
}

func TestRatingModelRefuses(t *testing.T) {
	if _, err := FitRatingModel(RatingScores{Subject: []int{0, 1, 2}, Rater: []int{0, 1, 0}, Score: []float64{2, 2, 2}}, 0.95); err == nil {
		t.Error("no error without variation")
	}
	if _, err := FitRatingModel(RatingScores{Subject: []int{0, 1, 2}, Rater: []int{0, 0, 0}, Score: []float64{1, 2, 2}}, 0.95); err == nil {
		t.Error("no error with one rater")
	}
}
