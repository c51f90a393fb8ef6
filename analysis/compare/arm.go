package compare

import (
	"math"
	"slices"
)

// An Arm is the trainees of a curriculum with one number each.
type Arm struct {
	Name   string
	Values []float64
	// Cluster names each trainee's site or session group; nil for none.
	Cluster []string
	// Share says that the numbers are 0 and 1, or stand for them: see [Shift].
	Share bool
}

// Known is the arm without the trainees whose number is not known.
func (a Arm) Known() Arm {
	out := Arm{Name: a.Name, Share: a.Share}
	for i, v := range a.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		out.Values = append(out.Values, v)
		if a.Cluster != nil {
			out.Cluster = append(out.Cluster, a.Cluster[i])
		}
	}
	return out
}

// Logs is the arm with the logarithm of every number; unknown where it is not above 0.
func (a Arm) Logs() Arm {
	out := a
	out.Values = make([]float64, len(a.Values))
	for i, v := range a.Values {
		out.Values[i] = math.NaN()
		if v > 0 {
			out.Values[i] = math.Log(v)
		}
	}
	return out
}

func mean(vs []float64) float64 {
	sum := 0.0
	for _, v := range vs {
		sum += v
	}
	return sum / float64(len(vs))
}

// squares is the sum of squares about the mean.
func squares(vs []float64) float64 {
	m, sum := mean(vs), 0.0
	for _, v := range vs {
		sum += (v - m) * (v - m)
	}
	return sum
}

func variance(vs []float64) float64 { return squares(vs) / float64(len(vs)-1) }

// clustered says how the arms' clusters lie: in one arm each (whole), across arms, or
// there are none.
func clustered(ref, arm Arm) (whole, across bool) {
	if ref.Cluster == nil || arm.Cluster == nil {
		return false, false
	}
	for _, c := range ref.Cluster {
		if slices.Contains(arm.Cluster, c) {
			return false, true
		}
	}
	return true, false
}
