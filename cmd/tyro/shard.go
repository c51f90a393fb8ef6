package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tyro/analysis/shard"
	"tyro/analysis/study"
	"tyro/reports"
)

// shardFlags cut a long run into shards.
type shardFlags struct {
	cut        string // i/n; blank: the whole run
	engines    string // folder for the scripts of a cluster
	shards     int
	arrayLimit int

	ledger *shard.Ledger // of a shard, or of all parts that are merged; nil: the run is not cut
	joined *shard.Head   // of the parts that are merged
}

// mostArrayTasks is how many tasks an array may have where Slurm's MaxArraySize is at its
// default of 1001.
const mostArrayTasks = 1000

func (f *shardFlags) register(cmd *cobra.Command, a app) {
	f.ledger, f.joined = a.merged, a.mergedHead
	fs := cmd.Flags()
	fs.StringVar(&f.cut, "shard", "", "do one shard of the run, such as 3/8, and write its part to the file --out; tyro merge joins the parts")
	fs.StringVar(&f.engines, "slurm", "", "write the scripts that do --shards shards on Slurm, GNU parallel or Kubernetes into this `folder`; nothing is started")
	fs.IntVar(&f.shards, "shards", 0, "number of shards of --slurm")
	fs.IntVar(&f.arrayLimit, "array-limit", mostArrayTasks, "with --slurm: tasks of one job array at most, below the cluster's MaxArraySize; with more shards than that a task does several")
}

// asked reports whether the run is to be cut.
func (f *shardFlags) asked() bool { return f.cut != "" || f.engines != "" }

// whom says whose attempts a shard of trainees needs; nil: everybody's.
func (f *shardFlags) whom() func(nth int) bool {
	if f.cut == "" {
		return nil
	}
	return f.ledger.Cut().Has
}

// check looks at whether the flags go together, and takes the cut.
func (f *shardFlags) check(cmd *cobra.Command) error {
	changed := cmd.Flags().Changed
	switch {
	case changed("shard") && changed("slurm"):
		return usagef("--shard does one shard, --slurm writes the scripts for all: give one of them")
	case (changed("shard") || changed("slurm")) && changed("shareable"):
		return usagef("--shareable makes tables for others from the whole run: give it without --shard and --slurm")
	case changed("slurm") && f.shards == 0:
		return usagef("--slurm needs --shards N, the number of shards")
	case !changed("slurm") && (changed("shards") || changed("array-limit")):
		return usagef("--shards and --array-limit go with --slurm")
	case changed("slurm") && (changed("out") || changed("format")):
		return usagef("--slurm writes scripts: give --out and --format to tyro merge")
	case !changed("shard"):
		return nil
	case !changed("out"):
		return usagef("--shard needs --out FILE, for the part")
	case changed("format"):
		return usagef("--shard writes a part, which has a format of its own: give --format to tyro merge")
	}
	cut, err := shard.ParseCut(f.cut)
	if err != nil {
		return usageError{fmt.Errorf("--%w", err)}
	}
	f.ledger = shard.Making(cut)
	return nil
}

// answer asks a study for a document and shows it, see [app.answerRun].
func (a app) answer(s *study.Study, f commonFlags, ask func() (reports.Document, error)) error {
	return a.answerRun(f.runOf(s), f, ask, func(d reports.Document) error { return a.show(d, f) })
}

// answerRun asks for a document and shows it; or does one shard of what it takes, or writes the
// scripts that do.
func (a app) answerRun(run shard.Run, f commonFlags, ask func() (reports.Document, error), show func(reports.Document) error) error {
	switch head := f.shard.joined; {
	case f.shard.engines != "":
		return a.writeEngines(run, f.shard)
	case f.shard.cut != "":
		return a.makePart(run, f, ask)
	case head != nil:
		if why := head.Run.Differs(run); why != "" {
			return fmt.Errorf("the parts are of another run than this one: %s", why)
		}
	}
	d, err := ask()
	if err != nil {
		return err
	}
	if f.shard.joined != nil && !f.shard.ledger.Begun() {
		return errors.New("this run does not use what the parts hold")
	}
	return show(d)
}

// runOf is what makes the answers of a run.
func (f *commonFlags) runOf(s *study.Study) shard.Run {
	return shard.Run{Tyro: tyroBuild(), Words: f.words(), Seed: s.Options.Seed, Data: s.SHA256}
}

// tyroBuild names the program, so that parts of two programs are not taken for those of one;
// nor those of two kinds of processor, whose last digits may differ.
func tyroBuild() string {
	b := reports.ThisBuild()
	name := b.Version + " for " + b.Arch
	if b.Commit != "" {
		name += ", commit " + b.CommitText()
	}
	return name
}

// words are the command line again, as the program takes it, without what never changes an
// answer.
func (f *commonFlags) words() []string {
	words := []string{f.cmd.Name()}
	f.eachFlag(func(g *pflag.Flag) { words = append(words, asGiven(g)...) })
	return append(append(words, "--"), f.cmd.Flags().Args()...)
}

// shellWords are words as a shell takes them.
func shellWords(words []string) string {
	var out []string
	for _, w := range words {
		out = append(out, quotedForShell(w))
	}
	return strings.Join(out, " ")
}

// makePart does one shard and writes its part, unless it is there.
func (a app) makePart(run shard.Run, f commonFlags, ask func() (reports.Document, error)) error {
	path := f.outDir
	there, err := partThere(path, run, f.shard)
	if err != nil {
		return err
	}
	if there {
		fmt.Fprintf(a.talk(), "%s is there already, whole\n", reports.Printable(path))
		return nil
	}
	switch _, err := ask(); {
	case err == nil:
		return usagef("nothing in this run is cut into shards: that takes fits of single trainees, refits of drawn cohorts, or simulated studies")
	case !errors.Is(err, shard.ErrMade):
		return err
	}
	var b bytes.Buffer
	if err := f.shard.ledger.Write(&b, run); err != nil {
		return err
	}
	if err := writeFile(a.ctx, path, b.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(a.talk(), "wrote %s\n", reports.Printable(path))
	return nil
}

// partThere reports whether the very part is in its place. A damaged one may be written over;
// anything else that is there is an error.
func partThere(path string, run shard.Run, f shardFlags) (bool, error) {
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return false, fmt.Errorf("%s is a folder: --shard needs --out FILE, such as %s", path, filepath.Join(path, f.ledger.Cut().FileName()))
	}
	p, err := shard.ReadPart(path, file)
	var damaged shard.DamagedError
	head := p.Head
	switch {
	case errors.As(err, &damaged) && damaged.Head != nil:
		head = *damaged.Head
	case err != nil:
		return false, fmt.Errorf("%w; move it away, or choose another name with --out", err)
	}
	why := head.Run.Differs(run)
	if c := f.ledger.Cut(); why == "" && head.Cut != c {
		why = fmt.Sprintf("shard: %s against %s", head.Cut, c)
	}
	if why != "" {
		return false, fmt.Errorf("%s is there already, and is a part of another run: %s; move it away, or choose another name with --out", path, why)
	}
	return err == nil, nil
}

// writeFile writes a file whole or not at all: beside its place, then renamed.
func writeFile(ctx context.Context, path string, data []byte) error {
	return writeFileBy(ctx, path, func(w io.Writer) error { _, err := w.Write(data); return err })
}

// writeFileBy is writeFile for what is written bit by bit.
func writeFileBy(ctx context.Context, path string, write func(io.Writer) error) (err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return cannotWrite(path, err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".writing-*")
	if err != nil {
		return cannotWrite(path, err)
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
			err = cannotWrite(path, err)
		}
	}()
	if err = errors.Join(write(f), f.Sync(), f.Chmod(0o644), f.Close(), ctx.Err()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// A partSet is what is known of the parts in some files.
type partSet struct {
	whole   []shard.Part
	damaged []error
}

// readParts reads the parts of files, and of folders with such.
func readParts(ctx context.Context, names []string) (partSet, error) {
	var out partSet
	paths, err := partPaths(names)
	if err != nil {
		return out, err
	}
	for _, path := range paths {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		f, err := os.Open(path)
		if err != nil {
			return out, fmt.Errorf("no part at %s", path)
		}
		p, err := shard.ReadPart(path, f)
		f.Close()
		if err != nil {
			out.damaged = append(out.damaged, err)
			continue
		}
		out.whole = append(out.whole, p)
	}
	return out, nil
}

// partPaths are the files named, and those of the folders named that end as parts do.
func partPaths(names []string) ([]string, error) {
	var out []string
	for _, name := range names {
		if info, err := os.Stat(name); err != nil || !info.IsDir() {
			out = append(out, name)
			continue
		}
		entries, err := os.ReadDir(name)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if strings.HasSuffix(e.Name(), shard.Extension) {
				out = append(out, filepath.Join(name, e.Name()))
			}
		}
	}
	return slices.Compact(out), nil
}
