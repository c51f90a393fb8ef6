// Package analysis holds the analyses of practice, one package each, and the words
// they share. They take slices and small structs, never read files, and never print.
//
// # Where to start
//
// One learning curve: [tyro/analysis/fit] (fit.One). A trainee's attempts to
// proficiency, or a quota: [tyro/analysis/proficiency]. All trainees together:
// [tyro/analysis/cohort]. Whether examiners agree: [tyro/analysis/agreement]. What a rule
// lets through: [tyro/analysis/stopping]. A standard from experts or judges:
// [tyro/analysis/standard]. Charts: [tyro/analysis/monitor]. Arms:
// [tyro/analysis/compare]. What is kept after a break: [tyro/analysis/retention]. A change
// of method in a series: [tyro/analysis/change]. Observed attempts with some not there yet:
// [tyro/analysis/survival]. Curves and noises: [tyro/models].
//
// A whole study, each answer computed once: [tyro/analysis/study], on what
// [tyro/analysis/practice] holds, which [tyro/datasets] reads from files. Every package
// has examples.
package analysis

// A Warning is a caution attached to a result, not an error. The code is
// stable and meant for programs, the text is one sentence meant for people.
type Warning struct {
	Code, Text string
}
