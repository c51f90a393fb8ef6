package study

import (
	"fmt"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/practice"
)

// fewAttempts are too few to say of a trainee which way practice goes.
const fewAttempts = 4

// goesOneWay is the sign test, one-sided at 5 %: more of the arm's trainees than chance would
// bring.
func goesOneWay(n, of int) bool {
	return of > 0 && distuv.Binomial{N: float64(of), P: 0.5}.Survival(float64(n)-1) < 0.05
}

// remarkOppositeWays tells where most trainees of one arm get better and most of another get
// worse: the one curve of all trainees has one direction, and describes one of the two badly.
func (w *comparing) remarkOppositeWays() {
	if w.fit == nil {
		return
	}
	for _, up := range w.c.Arms {
		for _, down := range w.c.Arms {
			better, of := w.improving(up, 1)
			worse, from := w.improving(down, -1)
			if !goesOneWay(better, of) || !goesOneWay(worse, from) {
				continue
			}
			w.c.Warnings.Add("arms-go-opposite-ways", fmt.Sprintf(
				"with practice %d of %d trainees of arm %s got better and %d of %d of arm %s worse: the curve of all trainees goes one way only, so its numbers describe one of the two badly; go by the trainees' own curves and by what was observed",
				better, of, ArmName(up), worse, from, ArmName(down)))
		}
	}
}

// improving counts an arm's trainees whose later half of attempts is on average better (+1) or
// worse (-1) than the earlier half, among those with enough attempts.
func (w *comparing) improving(arm string, way float64) (n, of int) {
	if w.Task.Lower {
		way = -way
	}
	for _, i := range w.members[arm] {
		var measured []practice.Attempt
		for _, a := range w.Trainees[i].Attempts {
			if a.Measured() {
				measured = append(measured, a)
			}
		}
		if len(measured) < fewAttempts {
			continue
		}
		of++
		half := len(measured) / 2
		rise := 0.0
		for k := range half {
			rise += measured[len(measured)-1-k].Response - measured[k].Response
		}
		if way*rise > 0 {
			n++
		}
	}
	return n, of
}
