package main

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/datasets"
)

// covariateFlags choose attributes of trainees in the place of the study's own, and
// the table where they stand.
type covariateFlags struct {
	named, levels []string
	table         string
	chosen        []datasets.CovariateChoice // nil: the study's own
}

func (f *covariateFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringArrayVar(&f.named, "covariate", nil, "attribute of trainees that shifts parameters, a column of the attempt log or of the trainees' table: name=parameter,parameter (default: the study's)")
	fs.StringSliceVar(&f.levels, "levels", nil, "treat these numeric covariates as categorical, such as sites 1, 2 and 3")
	fs.StringVar(&f.table, "trainee-table", "", "`file` with a table of one row a trainee, for covariates")
}

// read settles what is chosen.
func (f *covariateFlags) read() error {
	for _, s := range f.named {
		name, on, ok := strings.Cut(s, "=")
		c := datasets.CovariateChoice{Name: strings.TrimSpace(name), On: trimmed(strings.Split(on, ","))}
		if !ok || c.Name == "" || len(c.On) == 0 {
			return usagef("--covariate %q: expected name=parameter,parameter, such as experience=rate", s)
		}
		c.Levels = slices.Contains(f.levels, c.Name)
		f.chosen = append(f.chosen, c)
	}
	for _, name := range f.levels {
		if !slices.ContainsFunc(f.chosen, func(c datasets.CovariateChoice) bool { return c.Name == name }) {
			return usagef("--levels %s: no --covariate of this name", name)
		}
	}
	return nil
}

// apply puts table and choices into the study.
func (f covariateFlags) apply(ctx context.Context, s *datasets.Study) error {
	if f.table != "" {
		if err := s.AddTrainees(ctx, f.table, ""); err != nil {
			return err
		}
	}
	if f.chosen != nil {
		s.Covariates = f.chosen
	}
	return nil
}
