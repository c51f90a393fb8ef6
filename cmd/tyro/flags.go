package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tyro/analysis/fit"
	"tyro/analysis/practice/ranges"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/models"
)

// commonFlags are on every command that answers.
type commonFlags struct {
	format     string
	outDir     string
	seed       uint64
	workers    int
	replicates int
	level      float64
	task       string

	cmd   *cobra.Command
	part  partFlags
	shard shardFlags // of the commands that have them
	share shareFlags // of the commands that have them
}

// Words of flags that other commands have too.
const (
	formatWords  = "text, json or csv (csv: the first table; more follow, each after a blank line and a line \"# NAME\")"
	outWords     = "write files into this `folder` instead of standard output; never over files that tyro did not write"
	workersWords = "pieces of work done at a time (default: as many as there are processors); never changes a number"
)

func (f *commonFlags) register(cmd *cobra.Command) {
	f.cmd = cmd
	fs := cmd.Flags()
	fs.StringVar(&f.format, "format", "text", formatWords)
	fs.StringVar(&f.outDir, "out", "", outWords)
	fs.Uint64Var(&f.seed, "seed", 0, "number that random draws start from: the same seed gives the same answer (default: the study's, else 1)")
	fs.IntVar(&f.workers, "workers", 0, workersWords)
	fs.IntVar(&f.replicates, "replicates", 0, "how often data are drawn anew for intervals and tests by resampling (default 2000)")
	fs.Float64Var(&f.level, "level", 0.95, "confidence level of intervals")
	fs.StringVar(&f.task, "task", "", "task of the study (default: the first)")
}

// columnFlags name the columns of a table that is a whole study.
type columnFlags struct {
	trainee, attempt, response, arm, outcome string
	session, date                            string // flags of the commands that use them
	when                                     bool   // registered by registerWhen
	measure, better, rule                    string
	limit, standard, horizon                 float64

	folder bool // the command is about study folders alone
	layout layoutFlags
	people covariateFlags // of the command that has them
	whom   func(int) bool // whose attempts are needed, see [datasets.Single]; nil: everybody's
}

func (f *columnFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.trainee, "trainee", "", "`column` with trainee codes; without it the file is one series")
	fs.StringVar(&f.attempt, "attempt", "", "`column` with attempt numbers")
	fs.StringVar(&f.response, "response", "", "`column` with the measure; where attempts stand beside each other it need not be named")
	fs.StringVar(&f.arm, "arm", "", "`column` with the arm (curriculum as assigned)")
	fs.StringVar(&f.outcome, "outcome", "", "`column` with the outcome: done, timeout, failed, void")
	fs.StringVar(&f.date, "date", "", "`column` with the date: 2026-02-28, or 2026-02-28 14:30, or date cells of a spreadsheet")
	fs.StringVar(&f.measure, "measure", "", "what the response is: time, score, count or pass-fail (default score)")
	fs.StringVar(&f.better, "better", "", "lower or higher (default: lower for a time or count)")
	fs.Float64Var(&f.limit, "limit", 0, "time limit: of an attempt that reached it, only that it would have taken longer is known")
	fs.Float64Var(&f.standard, "standard", math.NaN(), "the standard: the level that an attempt has to reach")
	fs.StringVar(&f.rule, "rule", "", `when proficient: "2 in a row", "10 in all", "3 of last 5", joined by " and "`)
	fs.Float64Var(&f.horizon, "horizon", 0, "attempts looked ahead at most (default: the study's, else 200)")
	fs.Lookup("standard").DefValue = "0" // hidden: there is none
	f.layout.register(cmd)
}

// registerWhen adds the flag that says in which session an attempt was made.
func (f *columnFlags) registerWhen(cmd *cobra.Command) {
	f.when = true
	cmd.Flags().StringVar(&f.session, "session", "", "`column` with the session")
}

// curveFlags choose the curve.
type curveFlags struct {
	family, noise string
	hold          []string
	origin        float64
	guess, lapse  float64
	none          bool // the command fits no curves
	weigh         bool // models of the cohort
}

func (f *curveFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.family, "family", "auto", "curve family: "+strings.Join(models.Names(), ", ")+"; or auto: the one that describes the attempts best for its number of parameters (lowest AICc)")
	fs.StringVar(&f.noise, "noise", "", "how attempts scatter about the curve: "+listed(noiseNames())+" (default by measure: lognormal for a time, normal for a score, poisson for a count, bernoulli for pass-fail)")
	fs.StringArrayVar(&f.hold, "hold", nil, "keep a parameter of the curve at a value: name=value, such as plateau=40; start=value keeps the level at the first attempt")
	fs.Float64Var(&f.origin, "origin", 1, "attempt number at which a curve's starting level is read")
	fs.Float64Var(&f.guess, "guess", 0, "chance to pass without any skill: the lower limit of a pass-fail curve")
	fs.Float64Var(&f.lapse, "lapse", 0, "chance to fail with all skill: how far its upper limit stays below 1")
}

// registerWeigh adds the choice to weigh models of the cohort.
func (f *curveFlags) registerWeigh(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&f.weigh, "weigh", false, "where the cohort stands behind a trainee or a new trainee: try several models, and use those together that best foretell each trainee's later attempts from the first ones, as cohort does; takes the time of some thirty fits")
}

// nameValues reads the name=value pairs of a flag.
func nameValues(flag string, pairs []string) ([]fit.Hold, error) {
	var out []fit.Hold
	for _, h := range pairs {
		for part := range strings.SplitSeq(h, ",") {
			name, value, ok := strings.Cut(part, "=")
			v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
			if !ok || err != nil {
				return nil, usagef("--%s %q: expected name=value, such as plateau=40", flag, part)
			}
			out = append(out, fit.Hold{Name: strings.TrimSpace(name), Value: v})
		}
	}
	return out, nil
}

// open reads the study named on the command line: a folder, or one table with
// its columns.
func (f *columnFlags) open(cmd *cobra.Command, path, task string) (*datasets.Study, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("no study at %s: expected a folder with %s, or a table", path, datasets.StudyFile)
	}
	spareFor(path)
	if info.IsDir() {
		names := append([]string{"trainee", "attempt", "response", "arm", "outcome", "measure", "better", "limit", "date"}, layoutFlagNames()...)
		if f.when {
			names = append(names, "session")
		}
		for _, name := range names {
			if cmd.Flags().Changed(name) {
				return nil, usagef("--%s is for single tables; %s is a study folder, whose %s says this", name, path, datasets.StudyFile)
			}
		}
		s, err := datasets.Open(cmd.Context(), path)
		if err != nil {
			return nil, err
		}
		return s, f.vary(cmd, s, task)
	}
	if f.folder {
		return nil, usagef("%s is a single table; expected a folder with %s, whose scoring rule is needed", path, datasets.StudyFile)
	}
	if f.response == "" && f.measure == "" {
		return nil, usagef("a single table needs --response COL, the column with the measure; where attempts stand beside each other --measure time (or score, count, pass-fail) is enough")
	}
	log, codes, err := f.layout.settle()
	if err != nil {
		return nil, err
	}
	if f.attempt == "" && f.trainee == "" && f.date == "" && log.SheetsAre != "trainee" {
		return nil, usagef("a single series needs --attempt COL")
	}
	spec := datasets.Single{
		Columns:  datasets.Columns{Trainee: f.trainee, Arm: f.arm, Attempt: f.attempt, Outcome: f.outcome, Session: f.session, Date: f.date},
		Response: f.response, Measure: datasets.Measure(f.measure), Better: f.better, Limit: f.limit, Rule: f.rule, Horizon: f.horizon,
		Codes: codes, Log: log, Whom: f.whom,
	}
	if cmd.Flags().Changed("standard") {
		spec.Standard = &f.standard
	}
	if err := spec.Check(); err != nil {
		return nil, wrongFlags(err)
	}
	return datasets.OpenTable(cmd.Context(), path, spec)
}

// vary lets the standard, rule and horizon of a study's task be varied without
// changing its file.
func (f *columnFlags) vary(cmd *cobra.Command, s *datasets.Study, task string) error {
	v := datasets.Variation{Task: task, Rule: f.rule, Horizon: f.horizon}
	if cmd.Flags().Changed("standard") {
		v.Standard = &f.standard
	}
	return wrongFlags(s.Vary(v))
}

// wrongFlags turns problems of a task that the command line states into wrong flags.
func wrongFlags(err error) error {
	var ps datasets.Problems
	if !errors.As(err, &ps) {
		return err
	}
	var lines []string
	for _, p := range ps {
		name := p.Column[strings.LastIndex(p.Column, ": ")+1:]
		lines = append(lines, fmt.Sprintf("--%s %s: expected %s", strings.TrimSpace(name), p.Value, p.Expect))
	}
	return usagef("%s", strings.Join(lines, "\n"))
}

// read opens the study named on the command line, with what the flags vary of it.
func read(cmd *cobra.Command, path string, common commonFlags, columns columnFlags) (*datasets.Study, error) {
	if columns.horizon != 0 && ranges.Horizon.Check(columns.horizon) != nil {
		return nil, usagef("--horizon %v: expected %s", columns.horizon, ranges.Horizon)
	}
	file, err := columns.open(cmd, path, common.task)
	if err != nil {
		return nil, err
	}
	if common.part.upTo != "" {
		if err := upTo(file, common.part.upTo); err != nil {
			return nil, err
		}
	}
	return file, columns.people.apply(cmd.Context(), file)
}

// prepare opens the study and settles every choice.
func prepare(cmd *cobra.Command, path string, common commonFlags, columns columnFlags, curves curveFlags, progress func(done, total int)) (*study.Study, error) {
	_, s, err := prepareFile(cmd, path, common, columns, curves, progress)
	return s, err
}

// prepareFile is prepare with the study's file, for columns that are asked for later.
func prepareFile(cmd *cobra.Command, path string, common commonFlags, columns columnFlags, curves curveFlags, progress func(done, total int)) (*datasets.Study, *study.Study, error) {
	o, err := curves.options(cmd)
	if err != nil {
		return nil, nil, err
	}
	file, err := read(cmd, path, common, columns)
	if err != nil {
		return nil, nil, err
	}
	if o.Noise, err = curves.noiseOf(file, common.task); err != nil {
		return nil, nil, err
	}
	s, err := ready(file, common, o, progress)
	return file, s, err
}

// ready makes a file's study ready for questions. What the file says was checked when it
// was read, so that what is wrong then comes from the flags.
func ready(file *datasets.Study, common commonFlags, o study.Options, progress func(done, total int)) (*study.Study, error) {
	if len(file.Tasks) > 0 {
		if _, err := file.TaskNamed(common.task); err != nil {
			return nil, usageError{err}
		}
	}
	p, err := file.Practice(common.task)
	if err != nil {
		return nil, err
	}
	common.settle(&o, progress)
	s, err := study.New(p, o)
	if err != nil {
		return nil, usageError{err}
	}
	return s, nil
}

// settle puts the common choices among the others.
func (f *commonFlags) settle(o *study.Options, progress func(done, total int)) {
	o.Level, o.Seed, o.Replicates, o.Workers, o.Progress, o.Request = f.level, f.seed, f.replicates, f.workers, progress, f.request()
	o.Ledger = f.shard.ledger
}

// ofStudy are the choices of a study that is not read from a study file, and has no
// curves.
func (f *commonFlags) ofStudy(progress func(done, total int)) study.Options {
	o := study.Options{NoCurves: true}
	f.settle(&o, progress)
	return o
}

// options are the choices of curves as values; the noise, whose default hangs on the
// measure, is left to [curveFlags.noiseOf].
func (f *curveFlags) options(cmd *cobra.Command) (study.Options, error) {
	o := study.Options{NoCurves: f.none, Weigh: f.weigh}
	if g, l := f.guess, f.lapse; !(g >= 0 && l >= 0 && g+l < 1) {
		return o, usagef("--guess %v --lapse %v: expected chances from 0 that leave room between them", g, l)
	}
	var err error
	if o.Hold, err = nameValues("hold", f.hold); err != nil {
		return o, err
	}
	origin := 1.0
	if cmd.Flags().Changed("origin") {
		o.Origin, origin = &f.origin, f.origin
	}
	if f.family != "" && f.family != "auto" {
		family, err := models.ByName(f.family, origin)
		if err != nil {
			return o, usageError{err}
		}
		o.Families = []models.Family{family}
	}
	return o, nil
}

// noiseOf is the noise asked for; nil leaves it to the measure.
func (f *curveFlags) noiseOf(file *datasets.Study, task string) (models.Noise, error) {
	var noise models.Noise
	if f.noise != "" {
		var err error
		if noise, err = models.NoiseByName(f.noise); err != nil {
			return nil, usageError{err}
		}
	}
	if f.guess == 0 && f.lapse == 0 {
		return noise, nil
	}
	passFail := noise != nil && models.IsPassFail(noise)
	if t, err := file.TaskNamed(task); noise == nil && err == nil {
		passFail = t.Measure == datasets.PassFail
	}
	if !passFail {
		return nil, usagef("--guess and --lapse are limits of the chance to pass: they belong to --measure pass-fail")
	}
	return models.Bernoulli{Guess: f.guess, Lapse: f.lapse}, nil
}

// otherNames lets a flag be given by its other name: --h, the letter of the formulas, is
// --chart-limit.
func otherNames(_ *pflag.FlagSet, name string) pflag.NormalizedName {
	if name == "h" {
		name = "chart-limit"
	}
	return pflag.NormalizedName(name)
}
