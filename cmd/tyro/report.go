package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/page"
)

func newReport(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var paper paperFlags
	cmd := &cobra.Command{
		Use:   "report STUDY",
		Short: "Run the whole job and write one HTML report",
		Long: `report does the whole job on the study: how many attempts and trainees there are, every
trainee's curve, the standard and how sure it is, attempts to proficiency, ways to stop
practice, the arms side by side, monitoring charts where the study states failure
rates, one curve of all trainees together with each trainee's next attempts, the
attempts to schedule and their cost, and whether the examiners agree. What the study
has no data for is left out, and the report says so.

It writes index.html, one page that needs no other file, and beside it every result as
JSON and CSV and every picture, into the folder given by --out (default: report, in
the study's folder).`,
		Example: `  tyro report tyro-demo
  tyro report tyro-demo --out report --paper paper --width 85
  tyro report tyro-demo --up-to 2026-03-31 --out march`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := paper.check(cmd, common.part); err != nil {
				return err
			}
			s, err := prepare(cmd, args[0], common, columns, curves, a.progress("analysing"))
			if err != nil {
				return err
			}
			dir := common.outDir
			if dir == "" {
				dir = filepath.Join(args[0], "report")
				if columns.response != "" {
					dir = "report"
				}
			}
			return a.report(cmd, s, dir, false, paper)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	paper.register(cmd)
	return cmd
}

// report runs everything and writes the files of the report; force replaces what was
// changed since.
func (a app) report(cmd *cobra.Command, s *study.Study, dir string, force bool, paper paperFlags) error {
	r, err := page.Run(cmd.Context(), s)
	if err != nil {
		return err
	}
	files, err := r.Files()
	if err != nil {
		return err
	}
	if err := a.write(folderWrite{dir: dir, command: "report", files: files, force: force}); err != nil {
		return err
	}
	if err := a.paper(s, r, paper); err != nil {
		return err
	}
	_, err = fmt.Fprintln(a.out, reports.Printable(filepath.Join(dir, "index.html")))
	return err
}
