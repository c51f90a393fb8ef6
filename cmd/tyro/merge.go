package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/shard"
	"tyro/reports"
)

// mergeFlags choose how the joined answer is shown.
type mergeFlags struct {
	format, out string
	workers     int
	missing     int
}

func newMerge(a app) *cobra.Command {
	var f mergeFlags
	cmd := &cobra.Command{
		Use:   "merge PART... | merge FOLDER",
		Short: "Join the parts of a run that was cut into shards",
		Long: `merge joins the parts that --shard wrote and gives the answer of the whole run, the same to
the last byte as without shards. It reads the study again: run it in the folder in which
the parts were made. What is of the study as a whole is computed here. A FOLDER stands for
all files in it that end in ` + shard.Extension + `.

Parts that do not belong together (another seed, data, version, command line or number of
shards) are refused with the difference, and a damaged part by name. Where parts are
missing, merge lists the command lines that make them.

With --out NAME, where NAME ends in .txt, .json or .csv, the answer is this one file, in that
format; of a plan, a name that ends in .json keeps the simulated studies, as plan does.`,
		Example: `  tyro merge 1-of-2.part 2-of-2.part
  tyro merge parts --out answer.json
  tyro merge parts --missing 2`,
		Args: cobra.MinimumNArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			parts, err := readParts(cmd.Context(), args)
			if err != nil {
				return err
			}
			if cmd.Flags().Changed("missing") {
				return a.listMissing(parts, f.missing)
			}
			return a.merge(cmd, parts, f)
		}),
	}
	fs := cmd.Flags()
	fs.StringVar(&f.format, "format", "text", formatWords)
	fs.StringVar(&f.out, "out", "", outWords)
	fs.IntVar(&f.workers, "workers", 0, workersWords)
	fs.IntVar(&f.missing, "missing", 0, "list the shards of this many of which there is no whole part, one a line, and merge nothing")
	return cmd
}

// listMissing lists the shards that are still to be done.
func (a app) listMissing(parts partSet, n int) error {
	there := map[int]bool{}
	for _, p := range parts.whole {
		if p.Of != n {
			return fmt.Errorf("%s is one of %d shards, not of %d: move it away, or name its folder alone with that number", p.Name, p.Of, n)
		}
		there[p.Shard] = true
	}
	for _, err := range parts.damaged {
		fmt.Fprintf(a.talk(), "tyro: %s\n", reports.Printable(err.Error()))
	}
	for _, i := range shard.Missing(n, func(i int) bool { return there[i] }) {
		fmt.Fprintln(a.out, i)
	}
	return nil
}

// registry is a number of items of which memory is given back more often, see large.
const registry = 20_000

// merge runs the command again with what the parts hold.
func (a app) merge(cmd *cobra.Command, parts partSet, f mergeFlags) error {
	if len(parts.damaged) > 0 {
		return errors.Join(append(parts.damaged, errors.New("nothing was merged: delete what is damaged, make it again, and merge again"))...)
	}
	ledger, head, err := shard.Join(parts.whole)
	var missing shard.MissingError
	switch {
	case errors.As(err, &missing):
		return withCommands(missing, filepath.Dir(parts.whole[0].Name))
	case err != nil:
		return err
	}
	if err := soundWords(parts.whole[0].Name, head.Words); err != nil {
		return err
	}
	if here := tyroBuild(); here != head.Tyro {
		return fmt.Errorf("the parts were made by another tyro than this one: %s against %s", head.Tyro, here)
	}
	one := &oneFile{}
	if head.Words[0] != "plan" || !isPlanFile(f.out) { // a plan's file holds its studies
		if one, err = a.oneFile(cmd, &f); err != nil {
			return err
		}
	}
	if head.Work.Items > registry {
		defer debug.SetGCPercent(debug.SetGCPercent(largePercent))
	}
	words := slices.Concat(head.Words[:1], f.given(cmd), head.Words[1:])
	b := one.app(a)
	b.merged, b.mergedHead = ledger, &head
	root := newRoot(b, &profiling{})
	root.SetArgs(words)
	root.SetOut(b.out)
	root.SetErr(b.errw)
	if err := root.ExecuteContext(cmd.Context()); err != nil {
		return err
	}
	return one.write(a)
}

// soundWords refuses a command line that no part has: parts come from others too, and what
// writes files is asked for by those who merge.
func soundWords(name string, words []string) error {
	if len(words) == 0 || !slices.Contains(cutCommands, words[0]) || !slices.Contains(words, "--") {
		return fmt.Errorf("%s says no command that is cut into shards", name)
	}
	for _, w := range words[1:slices.Index(words, "--")] {
		flag, _, _ := strings.Cut(w, "=")
		if long, ok := strings.CutPrefix(flag, "--"); ok && slices.Contains(silentFlags, long) {
			return fmt.Errorf("%s holds the flag %s, which no part has: nothing was merged", name, flag)
		}
	}
	return nil
}

// cutCommands are the commands that take --shard.
var cutCommands = []string{"proficiency", "cohort", "compare", "plan"}

// given are the flags of merge as the command that was cut has them.
func (f mergeFlags) given(cmd *cobra.Command) []string {
	out := []string{"--format", f.format, "--workers", fmt.Sprint(f.workers)}
	if f.out != "" {
		out = append(out, "--out", f.out)
	}
	if cmd.Flags().Changed("quiet") {
		out = append(out, "--quiet")
	}
	return out
}

// shownMissing is how many command lines of missing parts are listed.
const shownMissing = 20

// withCommands says how the missing parts are made.
func withCommands(e shard.MissingError, dir string) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%v; they are made by", e)
	for k, i := range e.Shards {
		if k == shownMissing {
			fmt.Fprintf(&b, "\nand %d more", len(e.Shards)-k)
			break
		}
		c := shard.Cut{Shard: i, Of: e.Of}
		at := slices.Index(e.Words, "--")
		words := slices.Concat([]string{"tyro"}, e.Words[:at], []string{"--shard", c.String(), "--out", filepath.Join(dir, c.FileName())}, e.Words[at+1:])
		b.WriteString("\n  " + shellWords(words))
	}
	return errors.New(b.String())
}
