package main

import (
	"context"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tyro/analysis/study"
	"tyro/datasets"
)

// partFlags choose which part of the answers is shown. The analysis keeps everybody.
type partFlags struct {
	only []string
	arm  string
	upTo string
}

func (f *partFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringSliceVar(&f.only, "only", nil, "show these trainees alone, such as T01,T05; everybody stays in the analysis")
	fs.StringVar(&f.arm, "arm-only", "", "show this arm alone; everybody stays in the analysis")
	fs.StringVar(&f.upTo, "up-to", "", "look at the study as of this day, such as 2026-03-31: attempts made later are left out, and ratings where their dates are known")
}

// asked reports whether a part is asked for.
func (f *partFlags) asked() bool { return f.only != nil || f.arm != "" }

// openUpTo opens a study's folder as of a day; a blank one is today.
func openUpTo(ctx context.Context, dir, day string) (*datasets.Study, error) {
	file, err := datasets.Open(ctx, dir)
	if err != nil || day == "" {
		return file, err
	}
	return file, upTo(file, day)
}

// upTo looks at a study as of a day.
func upTo(file *datasets.Study, day string) error {
	if !isDay(day) {
		return usagef("--up-to %q: expected a day, as 2026-03-31", day)
	}
	return file.UpTo(day)
}

// undated refuses --up-to where what is read has no attempts with dates.
func (f *partFlags) undated(what string) error {
	if f.upTo == "" {
		return nil
	}
	return usagef("--up-to is for attempts with dates, and %s has none", what)
}

// of is the part of a log that is shown.
func (f *partFlags) of(log datasets.Log) datasets.Log {
	r := study.Request{Only: trimmed(f.only), Arm: f.arm}
	log.Attempts = slices.DeleteFunc(slices.Clone(log.Attempts), func(a datasets.Attempt) bool { return r.Hides(a.Trainee, a.Arm) })
	return log
}

// silentFlags never change an answer, so that they are not told with it.
var silentFlags = []string{"workers", "out", "format", "quiet", "cpuprofile", "memprofile", "force", "paper", "width", "trainee-pages", "pages-at", "save", "shard", "slurm", "shards", "array-limit", "shareable", "smallest-cell"}

// request is how the command was given, once its flags are read.
func (f *commonFlags) request() study.Request {
	r := study.Request{Only: trimmed(f.part.only), Arm: f.part.arm, UpTo: f.part.upTo, Flags: map[string]any{}}
	words := []string{"tyro", f.cmd.Name()}
	for _, arg := range f.cmd.Flags().Args() {
		words = append(words, quotedForShell(arg))
	}
	f.eachFlag(func(g *pflag.Flag) {
		r.Flags[g.Name] = naturalValue(g)
		for _, w := range asGiven(g) {
			words = append(words, quotedForShell(w))
		}
	})
	r.CommandLine = strings.Join(words, " ")
	return r
}

// eachFlag gives the flags given that may change an answer.
func (f *commonFlags) eachFlag(see func(*pflag.Flag)) {
	f.cmd.Flags().Visit(func(g *pflag.Flag) {
		if !slices.Contains(silentFlags, g.Name) {
			see(g)
		}
	})
}

// naturalValue is a flag's value as a program expects it: a number, true or false, a text,
// or a list.
func naturalValue(f *pflag.Flag) any {
	text := f.Value.String()
	if list, ok := f.Value.(pflag.SliceValue); ok {
		return list.GetSlice()
	}
	switch f.Value.Type() {
	case "bool":
		return text == "true"
	case "int", "uint64":
		if n, err := strconv.ParseUint(text, 10, 64); err == nil {
			return n
		}
	case "float64":
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			return v
		}
	}
	return text
}

// asGiven is a flag as the words of a command line.
func asGiven(f *pflag.Flag) []string {
	name := "--" + f.Name
	list, isList := f.Value.(pflag.SliceValue)
	switch {
	case f.Value.Type() == "bool" && f.Value.String() == "true":
		return []string{name}
	case f.Value.Type() == "bool":
		return []string{name + "=false"}
	case isList && f.Value.Type() == "stringArray":
		var out []string
		for _, v := range list.GetSlice() {
			out = append(out, name, v)
		}
		return out
	case isList && f.Value.Type() == "stringSlice":
		return []string{name, commaSeparated(list.GetSlice())}
	case isList:
		return []string{name, strings.Join(list.GetSlice(), ",")}
	}
	return []string{name, f.Value.String()}
}

// commaSeparated is a list as its flag reads it: a text with a comma stands in quotes.
func commaSeparated(list []string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(list) // to memory: it cannot fail
	w.Flush()
	return strings.TrimSuffix(b.String(), "\n")
}

// quotedForShell is a word that a POSIX shell reads as one.
func quotedForShell(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./:,=+@%", r)
	}
	if s != "" && !strings.ContainsFunc(s, func(r rune) bool { return !plain(r) }) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
