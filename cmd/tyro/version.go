package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"tyro/reports"
)

func newVersion(a app) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Say which tyro this is: version, commit, Go",
		Long: `version says which tyro this is, for a bug report or a methods section: its version,
the commit it was built from, and the release of Go that built it.`,
		Example: "  tyro version",
		Args:    cobra.NoArgs,
		RunE: failing(func(*cobra.Command, []string) error {
			b := reports.ThisBuild()
			_, err := fmt.Fprintf(a.out, "tyro %s\ncommit %s\n%s %s/%s\n", b.Version, b.CommitText(), b.Go, b.OS, b.Arch)
			return err
		}),
	}
}
