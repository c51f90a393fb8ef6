package proficiency

import (
	"context"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// A Following keeps one trainee's projection as attempts arrive: nothing is fitted, and
// little is done twice (see [cohort.Follower], which says how far the numbers are those of
// [Pooled.Project]). One goroutine at a time may use it.
type Following struct {
	p       *Pooled
	seed    uint64
	trainee practice.Trainee

	measure, clean, sound *cohort.Follower // nil where there is no single fit to follow
}

// Follow begins with the attempts that a trainee, member or not, has made so far. A measure
// that several models foresee together is worked out anew at every attempt.
func (p *Pooled) Follow(ctx context.Context, t practice.Trainee, seed uint64) (*Following, error) {
	f := &Following{p: p, seed: seed, trainee: t}
	f.trainee.Attempts = append([]practice.Attempt(nil), t.Attempts...)
	var err error
	if c, ok := p.measure.(*cohort.Cohort); ok {
		if f.measure, err = c.Follow(ctx, cohort.Of(t, p.sessions), seed); err != nil {
			return nil, err
		}
	}
	if c := p.clean.fit; c != nil {
		if f.clean, err = c.Follow(ctx, cleanSeries(t), seed); err != nil {
			return nil, err
		}
	}
	if c := p.sound.fit; c != nil {
		f.sound, err = c.Follow(ctx, soundSeries(t), seed)
	}
	return f, err
}

// Add takes in one more attempt, the last so far, and gives the projection. After an error
// following is at an end.
func (f *Following) Add(ctx context.Context, a practice.Attempt) (Projection, error) {
	f.trainee.Attempts = append(f.trainee.Attempts, a)
	one := f.trainee
	one.Attempts = []practice.Attempt{a}
	for _, k := range []struct {
		of   *cohort.Follower
		says cohort.Trainee
	}{{f.measure, cohort.Of(one, f.p.sessions)}, {f.clean, cleanSeries(one)}, {f.sound, soundSeries(one)}} {
		if k.of == nil || len(k.says.Attempt) == 0 {
			continue
		}
		next := cohort.Attempt{Number: k.says.Attempt[0], Response: k.says.Response[0]}
		if k.says.Censored != nil {
			next.Censored = k.says.Censored[0]
		}
		if k.says.Restart != nil {
			next.Restart = k.says.Restart[0]
		}
		if _, err := k.of.Add(ctx, next); err != nil {
			return Projection{}, err
		}
	}
	return f.Projection(ctx)
}

// Projection is the one after the attempts so far.
func (f *Following) Projection(ctx context.Context) (Projection, error) {
	records := []practice.Trainee{f.trainee}
	var known knowledge
	for _, k := range []struct {
		of *cohort.Follower
		to *[]cohort.Posterior
	}{{f.measure, &known.measure}, {f.clean, &known.clean}, {f.sound, &known.sound}} {
		if k.of == nil {
			continue
		}
		post, err := k.of.Posterior()
		if err != nil {
			return Projection{}, err
		}
		*k.to = []cohort.Posterior{post}
	}
	if f.measure == nil {
		var err error
		if known.measure, err = f.p.measure.Posteriors(ctx, []cohort.Trainee{cohort.Of(f.trainee, f.p.sessions)}, resample.Sampling{Seed: f.seed}); err != nil {
			return Projection{}, err
		}
	}
	return f.p.answer(f.trainee, f.p.ways(records, known, 0, f.p.followed(), f.seed))
}
