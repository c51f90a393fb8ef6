package main

import (
	"github.com/spf13/cobra"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

func newScore(a app) *cobra.Command {
	var common commonFlags
	var step float64
	cmd := &cobra.Command{
		Use:   "score STUDY",
		Short: "Score every attempt by the study's rule, beside what the score is made of",
		Long: `score turns times, error counts and deviations into scores by the scoring rule in the
study file of a folder, and shows every score beside its components. It says what each
component does to the scores, and how many stand at the floor or the cap. Then every
weight is made smaller and larger by --weight-step, one at a time: what becomes of the
scores, of the standard that the experts' scores make, and of who meets it. Scores carry
the version of the rule; those of another version are not compared with them. The study
file's rule, with all it may say:

  scoring:
    version: "2026-1"          needed; scores are compared within one version only
    date: 2026-01-12           since when it holds
    starts: needle touches     when the clock starts and stops, in words
    stops: wire is in
    form: points               points: start less time and penalties, higher is better;
                               seconds: time plus penalties in seconds, lower is better
    start: 300                 points
    time: seconds              column
    per_second: 1
    penalty: {punctures: 20}   points an error, by column of the task's counts
    bands: {depth_mm: [{up_to: 2, points: 0}, {up_to: 5, points: 10}, {points: 30}]}
    hard_fail: [breaks]        counts of which one error fails the attempt
    floor: 0
    cap: 300
    experts: 240               the experts' score: scores are then percentages of it`,
		Example: `  tyro score tyro-demo
  tyro score tyro-demo --format csv > scores.csv
  tyro score tyro-demo --weight-step 0.25`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			var columns columnFlags
			columns.folder = true
			file, err := read(cmd, args[0], common, columns)
			if err != nil {
				return err
			}
			s, err := ready(file, common, study.Options{NoCurves: true}, nil)
			if err != nil {
				return err
			}
			sheet, err := file.Scored(common.task, step)
			if err != nil {
				return err
			}
			scores, err := s.ScoresOf(cmd.Context(), sheet)
			if err != nil {
				return err
			}
			return a.show(reports.NewScore(s, scores), common)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	cmd.Flags().Float64Var(&step, "weight-step", practice.DefaultWeightStep, "share by which each weight of the rule is made smaller and larger")
	return cmd
}
