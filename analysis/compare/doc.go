// Package compare sets arms (curricula as assigned, or as received) against each other:
// differences or ratios of what their trainees reached, each with an interval and a test.
//
// # One method a contrast
//
// Estimate, interval and p of a contrast come from one method, and the interval leaves
// out "the arms do not differ" exactly where p is below 1 − level: they cannot
// contradict each other. The methods are
//
//   - Shift: means, by a permutation of arms of the difference over its standard error,
//     turned into an interval. It is what contrasts of a cohort's curve and of attempts to
//     the rule use, through one number a trainee: see below.
//   - Welch, Pooled, CohenD, HedgesG, CliffDelta, HodgesLehmann, RankSum, Permutation: two
//     samples of one number a trainee.
//   - Adjust: any number of arms at the same baseline (analysis of covariance).
//   - RateRatio: events per attempt.
//   - Leaning: means of numbers that lean on some trainees more than on others, by t with
//     as many degrees of freedom as those trainees are worth.
//   - Hazards: how fast arms come to meet the rule, an average over the attempts by weighted
//     partial likelihood, with what the estimate varies between trainees.
//   - Within: equivalence and non-inferiority, by the standard error of another contrast.
//   - AnyDifference: all arms at once, in several measures.
//   - JudgeRatio: likelihoods of cohorts in which arms differ and are alike, beside the rest.
//
// # One number a trainee
//
// The trainee is the unit. What a group says as a whole (a number read off the cohort's
// curve, a restricted mean, a share, a rate of errors) becomes one number a trainee by the
// jackknife or its linear form: the group's value plus n times what the trainee adds to
// it (Tukey's pseudo-values; for survival Andersen, Klein and Rosthøj, 2003, Biometrika
// 90, 15-27). Their mean is the group's value, and they are compared as means are.
//
// # Units
//
// Measures keep their unit; ratios are compared as differences of logarithms.
//
// # Limits
//
// Practice that stops when a rule is met fixes the final level by design: compare the
// attempts spent. How often tests reject without a difference and what intervals cover is
// in testdata/coverage/compare.
package compare
