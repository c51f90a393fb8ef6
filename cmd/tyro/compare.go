package main

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// compareFlags are the choices of a comparison.
type compareFlags struct {
	reference                   string
	at                          float64
	cluster, received, scoredBy string
	baselines                   []string
	margin                      float64
	kind                        string
	transfer                    string
	met, second, crossover      string
	allTasks                    bool
	refits                      int
}

func newCompare(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var f compareFlags
	cmd := &cobra.Command{
		Use:   "compare STUDY",
		Short: "Compare arms (curricula): curves, attempts to the rule, errors; transfer",
		Long: `compare sets two or more arms against each other, every pair: the levels that the curves
of their trainees start from and lead to, how fast they get there, and, with a standard
and a rule, the attempts it takes. Every contrast has an interval, and says what it rules
out and what it leaves open. An arm is the curriculum a trainee was assigned to.

Curves are compared in one fit of all trainees together; every trainee's own curve stands
beside, to see whether the answer rests on it. Where trainees stop early, compare says how
much worse they must have been for an answer to change. Errors stand beside the level:
speed that is bought with errors is named.

A table with one row a trainee (--response and --arm, without --attempt) is compared by
methods for one number a trainee, with --baseline at the same baseline. With --transfer it
says what practice on a substitute saves on the task. With --crossover two curricula that
the same trainees practised by, one after the other, are compared within trainees.`,
		Example: `  tyro compare tyro-demo
  tyro compare tyro-demo --reference massed --margin 5
  tyro compare finals.csv --response seconds --arm curriculum --baseline before`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := common.shard.check(cmd); err != nil {
				return err
			}
			if common.shard.asked() && (f.refits == 0 || f.allTasks || f.transfer != "" || f.cluster != "") {
				return usagef("--shard and --slurm cut the refits of one task: give --refits, without --all-tasks, --transfer and --cluster")
			}
			if info, err := os.Stat(args[0]); err == nil && !info.IsDir() && columns.attempt == "" && columns.trainee == "" && columns.response != "" {
				return a.compareOutcomes(cmd, args[0], columns, f, common)
			}
			for _, name := range []string{"baseline", "margin", "margin-kind", "met", "second"} {
				if cmd.Flags().Changed(name) {
					return usagef("--%s is for a table with one row a trainee; a study's margin stands in its file, with the day it was set", name)
				}
			}
			file, s, err := prepareFile(cmd, args[0], common, columns, curves, a.progress("comparing"))
			if err != nil {
				return err
			}
			o := study.CompareOptions{Reference: f.reference, At: f.at, LikelihoodRatio: true, Refits: f.refits}
			for _, x := range []struct {
				column string
				into   *map[string]string
			}{{f.cluster, &o.Cluster}, {f.received, &o.Received}, {f.scoredBy, &o.Versions}} {
				if x.column == "" {
					continue
				}
				if *x.into, err = attributeOf(file, s, x.column); err != nil {
					return err
				}
				isUsed(s, x.column)
			}
			if f.crossover != "" {
				return a.compareCrossover(cmd, file, s, f, common)
			}
			if f.transfer != "" {
				return a.transferOnDevices(cmd, file, s, f, common)
			}
			if f.allTasks {
				return a.compareTasks(cmd, file, curves, o, common)
			}
			return a.answer(s, common, func() (reports.Document, error) {
				answer, err := s.Compare(cmd.Context(), o)
				if errors.Is(err, study.ErrNoCurves) {
					return nil, fmt.Errorf("%w: a curve needs several attempts; one number a trainee is compared from a table with one row a trainee, with --response and --arm and without --trainee and --attempt", err)
				}
				if err != nil {
					return nil, err
				}
				return reports.NewComparison(s, answer), nil
			})
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	common.shard.register(cmd, a)
	columns.register(cmd)
	curves.register(cmd)
	common.share.register(cmd)
	fs := cmd.Flags()
	fs.StringVar(&f.reference, "reference", "", "`arm` that the others are set against first (default: the first)")
	fs.Float64Var(&f.at, "at", 0, "attempt at which levels are compared (default: the last one that half of every arm made)")
	fs.IntVar(&f.refits, "refits", 0, "cohorts of drawn trainees to fit the curve to, for intervals beside the main ones; takes a fit of the study each")
	fs.StringVar(&f.cluster, "cluster", "", "`column` with each trainee's site or session group")
	fs.StringVar(&f.received, "received", "", "`column` with the arm that each trainee received, to compare by it as well")
	fs.StringVar(&f.scoredBy, "scored-by", "", "`column` with the version of the scoring rule or standard; more than one cannot be compared")
	fs.StringSliceVar(&f.baselines, "baseline", nil, "with one row a trainee: `column` with a number from before training, to compare at the same baseline")
	fs.Float64Var(&f.margin, "margin", 0, "with one row a trainee: the largest difference that does not matter, set before the data were seen")
	fs.StringVar(&f.kind, "margin-kind", practice.Equivalence, "what the margin is for: equivalence or non-inferiority")
	fs.StringVar(&f.transfer, "transfer", "", "`column` of a log with the device of each attempt; with one row a trainee, with practice on a substitute before, --response being practice on the task until the rule was met")
	fs.StringVar(&f.met, "met", "", "`column` with 1 where the rule was met on the task and 0 where not; goes with --transfer")
	fs.StringVar(&f.second, "second", "", "with one row a trainee, for a crossover: `column` with the response after a second period, by the other curriculum; --arm is that of the first")
	fs.StringVar(&f.crossover, "crossover", "", "`column` of a log with the curriculum of each attempt, where every trainee practises by two, one after the other: they are compared within trainees")
	fs.BoolVar(&f.allTasks, "all-tasks", false, "compare on all tasks of the study in one go, with p values adjusted over all of them")
	return cmd
}

// transferOnDevices answers what practice on one device saves on another.
func (a app) transferOnDevices(cmd *cobra.Command, file *datasets.Study, s *study.Study, f compareFlags, common commonFlags) error {
	device, err := file.AttemptColumn(common.task, f.transfer)
	if err != nil {
		return err
	}
	isUsed(s, f.transfer)
	answer, err := s.TransferOnDevices(cmd.Context(), device, f.reference)
	if err != nil {
		return err
	}
	return a.show(reports.NewOutcomeComparison(s, answer), common)
}

// isUsed takes a column off those that are said not to be used or read.
func isUsed(s *study.Study, column string) {
	for i := range s.Files {
		f := &s.Files[i]
		f.ColumnsUnused = slices.DeleteFunc(slices.Clone(f.ColumnsUnused), func(c string) bool { return c == column })
		s.Notes = slices.DeleteFunc(slices.Clone(s.Notes), func(n datasets.Note) bool {
			return n.Code == "column-varies" && strings.HasPrefix(n.Text, fmt.Sprintf("%s: column %s (", f.File, column))
		})
	}
}

// compareCrossover compares two curricula within trainees.
func (a app) compareCrossover(cmd *cobra.Command, file *datasets.Study, s *study.Study, f compareFlags, common commonFlags) error {
	for _, name := range []string{"transfer", "all-tasks", "cluster", "received", "scored-by", "refits"} {
		if cmd.Flags().Changed(name) {
			return usagef("--crossover compares within trainees and does not go with --%s", name)
		}
	}
	curriculum, err := file.AttemptColumn(common.task, f.crossover)
	if err != nil {
		return err
	}
	isUsed(s, f.crossover)
	answer, err := s.CompareCrossover(study.CrossoverOptions{Curriculum: curriculum, Reference: f.reference, At: f.at})
	if err != nil {
		return err
	}
	return a.show(reports.NewOutcomeComparison(s, answer), common)
}

// compareTasks compares on every task of the study.
func (a app) compareTasks(cmd *cobra.Command, file *datasets.Study, curves curveFlags, o study.CompareOptions, common commonFlags) error {
	var tasks []*study.Study
	for _, t := range file.Tasks {
		one := common
		one.task = t.Name
		so, err := curves.options(cmd)
		if err != nil {
			return err
		}
		if so.Noise, err = curves.noiseOf(file, t.Name); err != nil {
			return err
		}
		s, err := ready(file, one, so, a.progress("comparing"))
		if err != nil {
			return err
		}
		tasks = append(tasks, s)
	}
	answers, err := study.CompareTasks(cmd.Context(), tasks, o)
	if err != nil {
		return err
	}
	return a.show(reports.NewTaskComparisons(tasks, answers), common)
}

// attributeOf reads a column with one word for each trainee.
func attributeOf(file *datasets.Study, s *study.Study, column string) (map[string]string, error) {
	var ids []string
	for _, t := range s.Trainees {
		ids = append(ids, t.ID)
	}
	c, err := file.Covariate(datasets.CovariateChoice{Name: column, Levels: true}, ids)
	return c.Level, err
}

// compareOutcomes answers from a table with one row a trainee.
func (a app) compareOutcomes(cmd *cobra.Command, path string, columns columnFlags, f compareFlags, common commonFlags) error {
	if columns.arm == "" {
		return usagef("a table with one row a trainee needs --arm COL to compare; an attempt log needs --trainee and --attempt")
	}
	for _, name := range []string{"at", "received", "scored-by", "refits", "crossover"} {
		if cmd.Flags().Changed(name) {
			return usagef("--%s is for an attempt log, with --trainee and --attempt", name)
		}
	}
	if f.met != "" && f.transfer == "" {
		return usagef("--met goes with --transfer")
	}
	if cmd.Flags().Changed("margin-kind") && f.margin == 0 {
		return usagef("--margin-kind goes with --margin")
	}
	if f.margin > 0 && f.kind == practice.NonInferiority && columns.better == "" && !cmd.Flags().Changed("measure") {
		return usagef("--margin-kind non-inferiority needs --better lower or --better higher: on which side an arm is worse")
	}
	if err := common.part.undated(path); err != nil {
		return err
	}
	table, err := datasets.OpenOutcomes(cmd.Context(), path, datasets.OutcomeColumns{
		Response: columns.response, Arm: columns.arm, Baselines: f.baselines, Prior: f.transfer, Met: f.met, Second: f.second, Cluster: f.cluster,
	})
	if err != nil {
		return err
	}
	s, err := study.New(table, common.ofStudy(a.progress("comparing")))
	if err != nil {
		return err
	}
	lower := columns.better == "lower" || columns.better == "" && (columns.measure == "time" || columns.measure == "count")
	answer, err := s.CompareOutcomes(cmd.Context(), study.OutcomeOptions{
		Reference: f.reference, Margin: f.margin, NonInferior: f.kind == practice.NonInferiority, LowerBetter: lower,
	})
	if errors.Is(err, compare.ErrAncova) {
		return fmt.Errorf("%w; without --baseline the arms are compared as they are", err)
	}
	if err != nil {
		return err
	}
	if f.margin > 0 {
		answer.Warnings.Add("margin-given", "the margin was given on the command line, and nothing here shows that it was set before the data were seen: say when and by whom it was set")
	}
	return a.show(reports.NewOutcomeComparison(s, answer), common)
}
