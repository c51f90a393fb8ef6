package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"tyro/datasets"
	"tyro/datasets/demo"
	"tyro/reports"
)

func newDemo(a app) *cobra.Command {
	var common commonFlags
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Write the invented demo study and run the whole job on it",
		Args:  cobra.NoArgs,
		RunE: failing(func(cmd *cobra.Command, _ []string) error {
			if err := common.check(); err != nil {
				return err
			}
			dir := common.outDir
			if dir == "" {
				dir = "tyro-demo"
			}
			if err := demo.Write(dir); err != nil {
				return err
			}
			fmt.Fprintf(a.errw, "wrote the demo study into %s\n", dir)
			study, err := datasets.Open(dir)
			if err != nil {
				return err
			}
			in, err := reports.Prepare(study, common.options(a.progress("analysing")))
			if err != nil {
				return err
			}
			return a.report(cmd, in, filepath.Join(dir, "report"))
		}),
	}
	common.register(cmd)
	return cmd
}
