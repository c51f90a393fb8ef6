package page

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// A tally counts how often the same work was done.
type tally struct {
	mu   sync.Mutex
	seen map[string]int
}

func (c *tally) add(key string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.seen[key]++
}

// twice are the keys counted more than once, with their counts.
func (c *tally) twice() []string {
	var out []string
	for k, n := range c.seen {
		if n > 1 {
			out = append(out, fmt.Sprintf("%d times: %.60s … %s", n, k, k[max(0, len(k)-400):]))
		}
	}
	return out
}

// of counts the keys that begin so.
func (c *tally) of(prefix string) (n int) {
	for k := range c.seen {
		if strings.HasPrefix(k, prefix) {
			n++
		}
	}
	return n
}

// The whole report fits nothing twice: no trainee's curve, no cohort, and no trainee's
// place in a cohort from all attempts or from none. A fit is the same where its data and
// its model are. Places from some attempts are not counted: half of a trainee's attempts,
// which the calibration asks for, may be the first 20, which the projections followed
// over time ask for.
func TestNothingIsFittedTwice(t *testing.T) {
	c, whole := &tally{seen: map[string]int{}}, map[string]int{} // attempts with a measure, by trainee
	watch := study.Watch{
		Curve: func(s fit.Series, spec fit.Spec) {
			spec.Watch = nil
			c.add(fmt.Sprintf("curve %+v %s %T %+v", s, spec.Family.Name(), spec.Noise, spec))
		},
		Cohort: func(work cohort.Work, spec cohort.Spec, ts []cohort.Trainee) {
			spec.Watch = nil
			if work == cohort.Projecting && len(ts[0].Attempt) > 0 && len(ts[0].Attempt) < whole[ts[0].ID] {
				return
			}
			c.add(fmt.Sprintf("%s %s %T %+v %+v", work, spec.Family.Name(), spec.Noise, spec, ts))
		},
	}
	s := demoStudy(t, study.Options{Replicates: 200, Watch: watch})
	for _, one := range s.Trainees {
		whole[one.ID] = one.Number(practice.Attempt.Measured)
	}
	if _, err := Run(t.Context(), s); err != nil {
		t.Fatal(err)
	}
	for _, again := range c.twice() {
		t.Error(again)
	}
	trainees, families := len(s.Trainees), len(s.Specs)
	if n := c.of("curve "); n < trainees*families {
		t.Errorf("%d fits of curves were counted, and %d trainees have %d candidate curves each: the count sees too little", n, trainees, families)
	}
	if n := c.of(string(cohort.Fitting)); n < families-1 {
		t.Errorf("%d fits of cohorts were counted", n)
	}
	if n := c.of(string(cohort.Projecting)); n < trainees {
		t.Errorf("%d posteriors were counted for %d trainees", n, trainees)
	}
	t.Logf("curves %d, cohorts %d, posteriors %d, of %d trainees", c.of("curve "), c.of(string(cohort.Fitting)), c.of(string(cohort.Projecting)), trainees)
}
