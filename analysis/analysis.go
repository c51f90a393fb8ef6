// Package analysis holds the word that every analysis shares: the warning.
// The analyses themselves are the packages below it; they take slices and
// small structs and never read files.
package analysis

// A Warning is a caution attached to a result, not an error. The code is
// stable and meant for programs, the text is one sentence meant for people.
type Warning struct {
	Code, Text string
}
