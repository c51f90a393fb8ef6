package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

func main() {
	ctx := context.Background()
	for _, level := range []float64{50, 58, 60, 62, 75} {
		for _, fixed := range []string{"exponential", "auto"} {
			count := map[string]int{}
			const n = 400
			for i := range n {
				r := rand.New(rand.NewPCG(uint64(i), 7))
				var at, y []float64
				for k := range 20 {
					at, y = append(at, float64(k+1)), append(y, level*math.Exp(0.2*r.NormFloat64()))
				}
				common := fit.Spec{Noise: models.Lognormal{}, Positive: true}
				fams := []models.Family{models.Exponential(1)}
				if fixed == "auto" {
					fams = nil
					for _, name := range models.Candidates(models.Lognormal{}) {
						f, _ := models.ByName(name, 1)
						fams = append(fams, f)
					}
				}
				l, err := proficiency.Learn(practice.Measured("x", at, y), fit.Candidates(common, fams))
				if err != nil {
					panic(err)
				}
				rule, _ := practice.ParseRule("2 in a row")
				as, err := l.Attempts(ctx, proficiency.Question{Standard: practice.Standard{Value: 60, Lower: true}, Rule: rule}, resample.Sampling{Seed: 1, Replicates: 20}, "x")
				if err != nil {
					panic(err)
				}
				for _, a := range as {
					if a.Status == proficiency.MovingAway {
						count[a.Definition]++
					}
				}
			}
			fmt.Println(level, fixed, n, count)
		}
	}
}
