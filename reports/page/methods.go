package page

import (
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/reports"
)

// methods is the paragraph a paper needs: what was really run, and nothing else.
func (r *Report) methods() []string {
	st := r.study
	if len(st.Trainees) == 0 {
		return nil
	}
	r = r.all()
	out := []string{curveMethods(st)}
	if r.Proficiency != nil {
		out = append(out, attemptsMethods(st))
		if len(r.Proficiency.Survival) > 0 {
			out = append(out, "The rule as observed was summarised by the product-limit estimate with log-log limits; trainees who had not met it were censored at their last attempt.")
		}
	}
	if r.Cohort != nil {
		out = append(out, cohortMethods(st, r.Cohort))
	}
	if r.Comparison != nil {
		out = append(out, comparisonMethods(st, r.Comparison))
	}
	if d := st.Task.Standard; d != nil && d.Given {
		out = append(out, fmt.Sprintf("Standard: %s, given for this run; it is no decision of the study's.", strings.TrimSpace(fmt.Sprintf("%g %s", d.Value, st.Task.Unit))))
	} else if d != nil {
		out = append(out, fmt.Sprintf("Standard: %s; method: %s; decided by: %s; on: %s; data: %s.",
			strings.TrimSpace(fmt.Sprintf("%g %s", d.Value, st.Task.Unit)), orBlank(d.Method), orBlank(d.DecidedBy), orBlank(d.DecidedOn), orBlank(d.Data)))
	}
	return out
}

// curveMethods say which curves were fitted, how, and to what.
func curveMethods(st *study.Study) string {
	var names []string
	for _, s := range st.Specs {
		names = append(names, s.Family.Name())
	}
	noise := reports.NoiseWords(st.Noise().Name())
	text := fmt.Sprintf("The %s curve was fitted to each trainee's attempts by maximum likelihood with %s.", names[0], noise)
	if st.FamilyChosen() {
		text = fmt.Sprintf("Learning curves (%s) were fitted to each trainee's attempts by maximum likelihood with %s; for each trainee the family with the lowest AICc was taken.", strings.Join(names, ", "), noise)
	}
	if st.Attempts(func(a practice.Attempt) bool { return a.Censored }) > 0 {
		text += " Timeouts were right-censored at the limit."
	}
	if left := reports.OutOfCurves(st); len(left) > 0 {
		text += " " + reports.Capital(strings.Join(left, " and ")) + " were left out of the curves."
	}
	return text
}

// attemptsMethods say what the definitions mean here, and how their intervals were made.
func attemptsMethods(st *study.Study) string {
	q := st.Question
	text := fmt.Sprintf("Attempts to proficiency: mean-crossing is the first attempt at which the fitted curve meets the standard; pass-chance the first at which a single attempt passes with chance %g, error limits and hard fails included.", q.Chance)
	if q.Rule != nil {
		text += fmt.Sprintf(" Rule-met is the attempt by which the rule %q is met with chance one half, exactly, given those chances.", q.Rule)
	}
	if c := q.Chart; c != nil {
		text += fmt.Sprintf(" Chart-signal is the attempt by which a learning chart that tells failure rates of %g (acceptable) and %g (unacceptable) apart, limit %.3g, has signalled with chance one half.", c.Rates.Acceptable, c.Rates.Unacceptable, c.H)
	}
	kind := "expanded percentiles"
	if q.Interval == resample.BCa {
		kind = "bias-corrected and accelerated limits"
	}
	text += fmt.Sprintf(" Intervals (%g %%) are %s of %d bootstrap series a trainee, drawn from residuals (from the fitted curve where attempts were censored)", 100*q.Level, kind, st.Sampling().Count())
	if st.FamilyChosen() {
		text += ", the family chosen anew in each"
	}
	return text + fmt.Sprintf("; a series that does not reach the standard within %g attempts counts as beyond the horizon.", q.Horizon)
}

// cohortMethods say how all trainees were fitted together.
func cohortMethods(st *study.Study, c *reports.Cohort) string {
	text := fmt.Sprintf("All trainees together were described by a hierarchical %s curve with %s (method: %s; trainees differ in %s)", c.Family, reports.NoiseWords(c.Noise), c.Method, differWords(c.Rung))
	if st.FamilyChosen() {
		text += ", the family with the lowest AIC among those tried"
	}
	return text + "."
}

// differWords say how trainees may differ in a fit.
func differWords(rung string) string {
	words, ok := map[string]string{
		cohort.RungFull: "every parameter, with all correlations", cohort.RungReduced: "every parameter, with correlations of which one is complete",
		cohort.RungDiagonal: "every parameter, without correlations", cohort.RungFewer: "some parameters", cohort.RungTwoStage: "their own curves, which were then put together",
	}[rung]
	if !ok {
		return rung
	}
	return words
}

func comparisonMethods(st *study.Study, c *reports.Comparison) string {
	n := st.Sampling().Count()
	text := fmt.Sprintf("Arms were compared, every pair, by the %s of the %s family", c.Basis, c.Family)
	if c.Basis == study.BasisCohort {
		text += ": numbers read off each arm's middle curve were compared through what every trainee contributes to them"
	}
	within := ""
	if slices.ContainsFunc(c.Contrasts, func(x reports.Contrast) bool { return x.Method == compare.WithinClusters }) {
		within = " within clusters"
	}
	return text + fmt.Sprintf(", with a permutation of arms%s (%d) of the studentised difference that gives interval and p alike; restricted means and shares to the rule through pseudo-values, average hazard ratios by the partial likelihood ratio with attempts weighted by the share of trainees still to meet the rule and a variance between trainees, never below that of proportional hazards, ratios of medians by a bootstrap of trainees. p values were adjusted by Holm's method over the %d contrasts with a test.", within, n, c.Tests())
}

func orBlank(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func (r *Report) allWarnings() []string {
	var out []string
	seen := map[string]bool{}
	add := func(text string) {
		if !seen[text] {
			seen[text] = true
			out = append(out, reports.Capital(text)+".")
		}
	}
	for _, w := range r.Missing {
		add(w.Text)
	}
	for _, d := range r.documents() {
		for _, w := range d.Head().Warnings {
			add(w.Text)
		}
	}
	return out
}

func (r *Report) provenance() []fact {
	st := r.study
	failed, total := 0, 0
	if d := r.all().Proficiency; d != nil {
		for _, a := range d.OfTrainees() {
			failed += a.FailedReplicates
			total += a.Replicates
		}
	}
	fs := []fact{
		{"tyro", reports.Version},
		{"seed", fmt.Sprint(st.Options.Seed)},
		{"generator", resample.Generator},
		{"replicates", fmt.Sprint(st.Sampling().Count())},
		{"failed replicates", fmt.Sprintf("%d of %d", failed, total)},
		{"data SHA-256", st.SHA256},
	}
	if v := st.Task.Scoring; v != "" {
		fs = append(fs, fact{"scoring rule version", v})
	}
	return fs
}
