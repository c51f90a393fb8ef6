package study

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// A cohort's fit can be kept in a file with all that its projections rest on, so that people
// are projected later without a fit: the curve or the curves, the chances to keep within
// error limits and not to fail hard, how covariates were read, and what the study practised.
// It names no trainee and holds no attempt.

// What a file says it is.
const (
	savedFormat  = "tyro saved cohort"
	savedVersion = 1
)

// A SavedFit is a fit that was read from a file.
type SavedFit struct {
	Name   string // of the file, for notes
	SHA256 string // of what it holds
	Of     Practised
	Cohort *cohort.Cohort // without members
	Source cohort.Source

	sessions   bool
	covariates []CovariateUse
	selection  []CohortCandidate
	models     []*cohort.Cohort // of which projections are made together; the first is Cohort
	stacking   cohort.Stacking
	tried      []cohort.Tried // nil where models were not weighed
	chances    proficiency.Chances
	warnings   []analysis.Warning // beside those of the cohort's fit
}

// Covariates say which attributes of trainees the fit needs.
func (f *SavedFit) Covariates() []CovariateUse { return f.covariates }

// Pool answers for single trainees, members or not, from the fit and their attempts so far:
// when a rule is met and when an attempt passes with the chance asked for. Nothing is fitted,
// so that it may be asked again after every attempt.
func (f *SavedFit) Pool(q proficiency.Question) (*proficiency.Pooled, error) {
	var measure proficiency.Source = f.Cohort
	if f.Weighed() {
		measure = &cohort.Blend{Of: f.models, Stacking: f.stacking}
	}
	return proficiency.PoolKept(measure, f.sessions, f.chances, q)
}

// Weighed reports whether the fit is the one that foresees best of several models weighed.
func (f *SavedFit) Weighed() bool { return f.tried != nil }

// Sessions reports whether the fit has a restart after breaks.
func (f *SavedFit) Sessions() bool { return f.sessions }

// Practised is what a study practised, as far as a fit hangs on it.
type Practised struct {
	Title    string             `json:"title"`
	Task     string             `json:"task"`
	Measure  practice.Measure   `json:"measure"`
	Response string             `json:"response"`
	Unit     string             `json:"unit"`
	Lower    bool               `json:"lower_is_better"`
	Limit    float64            `json:"limit"`
	AtMost   map[string]float64 `json:"errors_at_most,omitempty"`
	Scoring  string             `json:"scoring_version"`
	Standard analysis.Number    `json:"standard"`
	Rule     string             `json:"rule"`
	Horizon  float64            `json:"horizon"`
}

// practised is what the study practises.
func (s *Study) practised() Practised {
	t := s.Task
	return Practised{
		Title: s.Title, Task: t.Name, Measure: t.Measure, Response: t.Response, Unit: t.Unit, Lower: t.Lower, Limit: t.Limit, AtMost: t.AtMost, Scoring: t.Scoring,
		Standard: analysis.Number(s.Question.Standard.Value), Rule: s.Question.Rule.String(), Horizon: s.Question.Horizon,
	}
}

// saved is the file.
type saved struct {
	Format  string `json:"format"`
	Version int    `json:"version"`

	Study      Practised           `json:"study"`
	Sessions   bool                `json:"sessions"`
	Covariates []CovariateUse      `json:"covariates"`
	Selection  []savedCandidate    `json:"selection"`
	Weights    []float64           `json:"weights"` // of the fits in projections
	Trust      float64             `json:"trust"`
	Class      []map[string]int    `json:"classes,omitempty"` // see [cohort.Stacking]
	Fell       cohort.Fell         `json:"fell"`
	Tried      []savedTried        `json:"models_tried,omitempty"`
	Chances    proficiency.Chances `json:"chances"`
	Warnings   []analysis.Warning  `json:"warnings"`
	Fits       []json.RawMessage   `json:"fits"` // see [cohort.Cohort.Save]
}

type savedCandidate struct {
	Family string          `json:"family"`
	AIC    analysis.Number `json:"aic"`
	Rung   string          `json:"rung"`
}

type savedTried struct {
	Model  string          `json:"model"`
	Score  analysis.Number `json:"score"`
	Behind analysis.Number `json:"behind"`
	SE     analysis.Number `json:"se"`
	AIC    analysis.Number `json:"aic"`
	Weight analysis.Number `json:"weight"`
}

// ofPeople are the warnings that are about the people of a study, and not about its fit.
var ofPeople = []string{"no-attempts"}

// SaveFit writes a fit of this study for [ReadFit].
func (s *Study) SaveFit(ctx context.Context, c *CohortFit, w io.Writer) error {
	if c.from != nil {
		return errors.New("a fit that was read from a file is not saved again: the file is there")
	}
	pooled, err := s.Pool(ctx, c)
	if err != nil {
		return err
	}
	f := saved{Format: savedFormat, Version: savedVersion, Study: s.practised(), Sessions: c.Spec.Sessions, Covariates: c.Covariates, Weights: []float64{1}}
	if f.Chances, err = pooled.Chances(); err != nil {
		return err
	}
	for _, k := range c.Selection {
		f.Selection = append(f.Selection, savedCandidate{k.Family, analysis.Number(k.AIC), k.Rung})
	}
	fits := []*cohort.Cohort{c.Cohort}
	if c.Chosen != nil {
		fits, f.Weights, f.Trust, f.Class, f.Fell = c.Chosen.Of, c.Chosen.Weights, c.Chosen.Trust, c.Chosen.Class, c.Chosen.Fell
		for _, t := range c.Chosen.Tried {
			f.Tried = append(f.Tried, savedTried{t.Model, analysis.Number(t.Score), analysis.Number(t.Behind), analysis.Number(t.SE), analysis.Number(t.AIC), analysis.Number(t.Weight)})
		}
	}
	for _, w := range c.Warnings {
		if !slices.Contains(ofPeople, w.Code) && !slices.Contains(c.Cohort.Warnings, w) && !c.names(w.Text) {
			f.Warnings = append(f.Warnings, w)
		}
	}
	source := cohort.Source{Seed: fmt.Sprint(s.Options.Seed), DataSHA256: s.SHA256}
	for _, fit := range fits {
		one := *fit
		one.Source = source
		var b bytes.Buffer
		if err := one.Save(&b); err != nil {
			return err
		}
		f.Fits = append(f.Fits, b.Bytes())
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(f)
}

// names reports whether a text names one of the trainees, such as the one for whom a family
// could not be fitted.
func (c *CohortFit) names(text string) bool {
	return slices.ContainsFunc(c.People, func(t practice.Trainee) bool { return strings.Contains(text, "trainee "+t.ID+" ") })
}

// ReadFit reads a fit that [Study.SaveFit] wrote. The name is the file's, for notes.
func ReadFit(r io.Reader, name string) (*SavedFit, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	fit, err := readFit(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	fit.Name, fit.SHA256 = name, fmt.Sprintf("%x", sha256.Sum256(text))
	return fit, nil
}

func readFit(text []byte) (*SavedFit, error) {
	var head struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return nil, unusable("it is not whole, or no such file at all (%v)", err)
	}
	switch {
	case head.Format != savedFormat:
		return nil, unusable("its format is %q, not %q", head.Format, savedFormat)
	case head.Version != savedVersion:
		return nil, unusable("it is of version %d, and this program reads version %d", head.Version, savedVersion)
	}
	var f saved
	if err := json.Unmarshal(text, &f); err != nil {
		return nil, unusable("%v", err)
	}
	return f.fit()
}

func unusable(format string, args ...any) error {
	return fmt.Errorf("the saved fit cannot be used: %s; make it again with tyro cohort --save", fmt.Sprintf(format, args...))
}

// checkClasses holds the classes against the fits: none, or two that have trainees of every arm between them.
func (f *saved) checkClasses(arms []string) error {
	classes, of := 0, map[string]int{}
	sound := f.Class == nil || len(f.Class) == len(f.Fits)
	for _, class := range f.Class {
		if class != nil {
			classes++
		}
		for arm, n := range class {
			of[arm] += n
			sound = sound && n >= 0
		}
	}
	for _, arm := range arms {
		sound = sound && (f.Class == nil || of[arm] > 0)
	}
	if !sound || f.Class != nil && classes != 2 {
		return unusable("its classes of trainees are %v", f.Class)
	}
	return nil
}

// fit checks what the file says and makes it ready.
func (f *saved) fit() (*SavedFit, error) {
	out := &SavedFit{
		Of: f.Study, sessions: f.Sessions, covariates: f.Covariates, stacking: cohort.Stacking{Weights: f.Weights, Trust: f.Trust, Class: f.Class, Fell: f.Fell}, chances: f.Chances, warnings: f.Warnings,
	}
	if len(f.Fits) == 0 || len(f.Weights) != len(f.Fits) {
		return nil, unusable("it holds %d fits and %d weights", len(f.Fits), len(f.Weights))
	}
	total := 0.0
	for _, w := range f.Weights {
		if !(w >= 0) {
			return nil, unusable("a weight is %v", w)
		}
		total += w
	}
	if !(total > 0.99 && total < 1.01) || !(f.Trust >= 0 && f.Trust <= 1) {
		return nil, unusable("its weights are %v in sum, and a trainee's own attempts count with a power of %v", total, f.Trust)
	}
	last := 0.0
	for _, a := range f.Fell.At {
		if !(a.Share >= last && a.Share <= 1 && a.Weight > 0) {
			return nil, unusable("where later attempts fell is not in order")
		}
		last = a.Share
	}
	for _, raw := range f.Fits {
		c, err := cohort.Load(bytes.NewReader(raw))
		if err != nil {
			return nil, err
		}
		out.models = append(out.models, c)
	}
	out.Cohort = out.models[0]
	out.Source = out.Cohort.Source
	for _, c := range out.models[1:] {
		if !slices.Equal(slices.Sorted(slices.Values(c.Arms)), slices.Sorted(slices.Values(out.Cohort.Arms))) { // a class may meet them in another order
			return nil, unusable("its fits are of different arms")
		}
	}
	if err := f.checkClasses(out.Cohort.Arms); err != nil {
		return nil, err
	}
	for _, k := range f.Selection {
		out.selection = append(out.selection, CohortCandidate{k.Family, float64(k.AIC), k.Rung})
	}
	for _, t := range f.Tried {
		out.tried = append(out.tried, cohort.Tried{Model: t.Model, Score: float64(t.Score), Behind: float64(t.Behind), SE: float64(t.SE), AIC: float64(t.AIC), Weight: float64(t.Weight)})
	}
	if _, err := proficiency.PoolKept(nil, f.Sessions, f.Chances, proficiency.Question{}); err != nil {
		return nil, unusable("%v", err)
	}
	return out, nil
}
