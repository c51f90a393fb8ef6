package main

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/demo"
)

func newDemo(a app) *cobra.Command {
	var common commonFlags
	var force bool
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Write the invented demo study and run the whole job on it",
		Long: `demo writes the invented demo study into the folder given by --out (default: tyro-demo)
and then does the whole job on it, as report does: the page is index.html in the folder
report inside. Where a file of the study is there already and differs, nothing is
written without --force.`,
		Example: `  tyro demo
  tyro demo --out trial --seed 7`,
		Args: cobra.NoArgs,
		RunE: failing(func(cmd *cobra.Command, _ []string) error {
			dir := common.outDir
			if dir == "" {
				dir = "tyro-demo"
			}
			files, err := demo.Files()
			if err != nil {
				return err
			}
			if err := a.write(folderWrite{dir: dir, command: "demo", files: files, plain: true, force: force}); err != nil {
				return err
			}
			file, err := datasets.Open(cmd.Context(), dir)
			if err != nil {
				return err
			}
			s, err := ready(file, common, study.Options{}, a.progress("analysing"))
			if err != nil {
				return err
			}
			return a.report(cmd, s, filepath.Join(dir, "report"), reportChoices{force: force})
		}),
	}
	common.register(cmd)
	cmd.Flags().BoolVar(&force, "force", false, "replace files that differ from the demo study's; what they hold is lost")
	return cmd
}
