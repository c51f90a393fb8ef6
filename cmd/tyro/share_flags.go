package main

import (
	"github.com/spf13/cobra"

	"tyro/reports"
)

// shareFlags ask for what of an answer may be given to others.
type shareFlags struct {
	asked    bool
	smallest int
}

func (f *shareFlags) register(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&f.asked, "shareable", false, "only what may be given to others: nobody is named, and small numbers of people are hidden with those that would give them away")
	cmd.Flags().IntVar(&f.smallest, "smallest-cell", 0, "fewest people (of ratings: performances) behind a number that --shareable shows (default: the study's, else 5)")
}

// of is what of a document is shown.
func (f commonFlags) of(d reports.Document) (reports.Document, error) {
	switch {
	case !f.share.asked && f.share.smallest != 0:
		return nil, usagef("--smallest-cell goes with --shareable")
	case !f.share.asked:
		return d, nil
	}
	if f.part.asked() {
		return nil, usagef("--shareable counts everybody: counts of a part, taken from those of all, could tell of the others")
	}
	return reports.NewForOthers(d, f.share.smallest)
}
