package proficiency

import (
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// A failShare is the chance that an attempt is a hard fail, taken as constant
// over the trainee's attempts.
type failShare struct {
	fails, attempts int
	share           float64
}

func newFailShare(t practice.Trainee) failShare {
	f := failShare{fails: t.Number(hardFail)}
	f.attempts = f.fails + t.Number(practice.Attempt.Measured)
	if f.attempts > 0 {
		f.share = float64(f.fails) / float64(f.attempts)
	}
	return f
}

func hardFail(a practice.Attempt) bool { return a.Outcome == practice.Failed }

// draw is the share in one bootstrap replicate: binomial with the observed
// share.
func (f failShare) draw(seed uint64, purpose string, replicate int) float64 {
	if f.fails == 0 {
		return 0
	}
	r := resample.Stream(seed, "proficiency/fails/"+purpose, replicate)
	return distuv.Binomial{N: float64(f.attempts), P: f.share, Src: r}.Rand() / float64(f.attempts)
}
