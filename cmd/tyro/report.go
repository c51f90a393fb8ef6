package main

import (
	"fmt"
	"os"
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
	var more reportChoices
	cmd := &cobra.Command{
		Use:   "report STUDY",
		Short: "Run the whole job and write its pages: director, researcher, trainee",
		Long: `report does the whole job on the study: how many attempts and trainees there are, every
trainee's curve, the standard and how sure it is, attempts to proficiency, ways to stop
practice, the arms side by side, monitoring charts where the study states failure
rates, one curve of all trainees together with each trainee's next attempts, the
attempts to schedule and their cost, and whether the examiners agree. What the study
has no data for is left out, and the report says so.

It writes three kinds of pages, none of which needs another file, into the folder
given by --out (default: report, in the study's folder):

  director.html   one page for the program director: how many attempts to schedule,
                  what it costs, how sure that is, which rule, who needs what;
                  director.pdf and director-letter.pdf are for paper
  index.html      everything, for the researcher
  trainees/       with --trainee-pages one page a trainee, with nothing of anybody
                  else, under a name that cannot be guessed; trainee-key.csv, which
                  only its owner can read, says whose is which

With --only or --arm-only the pages list just those trainees or that arm, and every number is
still of everybody, as the pages say; they go into the folder report-part, so that the report
of all stays. A bundle (--paper) then has the charts of these trainees too.

Beside them stands every result as JSON and CSV. A later run takes away what this one
wrote and it would not write, such as the page of a trainee who left; it touches
no other file.`,
		Example: `  tyro report tyro-demo
  tyro report tyro-demo --trainee-pages
  tyro report tyro-demo --out report --paper paper --width 85
  tyro report tyro-demo --only T01,T05 --trainee-pages
  tyro report tyro-demo --up-to 2026-03-31 --out march`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := more.paper.check(cmd); err != nil {
				return err
			}
			if common.share.asked && (common.part.asked() || more.trainees || more.paper.dir != "") {
				return usagef("--shareable writes tables alone: pages and papers show single trainees, and counts of a part, taken from those of all, could tell of the others")
			}
			var err error
			if more.address, err = pagesAddress(more.address); err != nil {
				return err
			}
			s, err := prepare(cmd, args[0], common, columns, curves, a.progress("analysing"))
			if err != nil {
				return err
			}
			if common.share.asked {
				return a.reportForOthers(cmd, s, args[0], common)
			}
			dir := common.outDir
			if dir == "" {
				name := "report"
				if common.part.asked() {
					name = "report-part"
				}
				dir = filepath.Join(args[0], name)
				if info, err := os.Stat(args[0]); err == nil && !info.IsDir() {
					dir = name
				}
			}
			if err := keepsPages(s, dir); err != nil {
				return err
			}
			return a.report(cmd, s, dir, more)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	curves.registerWeigh(cmd)
	common.share.register(cmd)
	more.paper.register(cmd)
	fs := cmd.Flags()
	fs.BoolVar(&more.trainees, "trainee-pages", false, "write a page for each trainee too")
	fs.StringVar(&more.address, "pages-at", "", "`address` of the folder where trainees will find their pages, for the code on their slip (default: the code holds the slip's words)")
	fs.Float64Var(&more.budget, "budget", 0, "attempts that another rule may take on average, for the director's question which rule (default: the attempts scheduled)")
	return cmd
}

// reportForOthers writes the tables that may be given to others.
func (a app) reportForOthers(cmd *cobra.Command, s *study.Study, path string, common commonFlags) error {
	r, err := page.Run(cmd.Context(), s)
	if err != nil {
		return err
	}
	left, files, err := r.FilesForOthers(common.share.smallest)
	if err != nil {
		return err
	}
	dir := common.outDir
	if dir == "" {
		dir = "for-others"
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			dir = filepath.Join(path, dir)
		}
	}
	for _, line := range left {
		fmt.Fprintf(a.talk(), "left out: %s\n", reports.Printable(line))
	}
	return a.writeFiles("report", dir, files)
}

// reportChoices are what a report is asked for beside the study.
type reportChoices struct {
	trainees bool
	address  string
	budget   float64
	paper    paperFlags
	force    bool // replace what was changed since
}

// report runs everything and writes the pages.
func (a app) report(cmd *cobra.Command, s *study.Study, dir string, more reportChoices) error {
	r, err := page.Run(cmd.Context(), s)
	if err != nil {
		return err
	}
	r.Budget = more.budget
	files, err := r.Files()
	if err != nil {
		return err
	}
	if more.trainees {
		if err := traineePages(r, dir, more.address, files); err != nil {
			return err
		}
	}
	if err := a.write(folderWrite{dir: dir, command: "report", files: files, private: []string{traineeKey}, force: more.force}); err != nil {
		return err
	}
	if err := a.paper(s, r, more.paper); err != nil {
		return err
	}
	for _, name := range []string{"director.html", "index.html"} {
		if _, err := fmt.Fprintln(a.out, reports.Printable(filepath.Join(dir, name))); err != nil {
			return err
		}
	}
	return nil
}
