package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// helpWidth is how wide lines of help are, in characters.
const helpWidth = 100

// A flagGroup is a heading of a command's help, and the flags below it.
type flagGroup struct {
	title string
	names []string
}

// flagGroups are the flags that several commands share, by what they are about.
func flagGroups() []flagGroup {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	layout := layoutFlagNames()
	inTable := slices.DeleteFunc(registered(columns.register, columns.registerWhen), func(n string) bool { return slices.Contains(layout, n) })
	return []flagGroup{
		{"Where STUDY is one table, what is in it (--standard, --rule and --horizon also change those of a study folder)", inTable},
		{"How that table is laid out and written, where it could mean two things", layout},
		{"The curve that is fitted", registered(curves.register)},
		{"As with other commands", append(registered(common.register), "help", "version", "quiet")},
	}
}

// registered lists the flags that some functions register.
func registered(register ...func(*cobra.Command)) (names []string) {
	c := &cobra.Command{}
	for _, r := range register {
		r(c)
	}
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

// help writes how a command is used and what its flags mean.
func help(c *cobra.Command) error {
	w := c.OutOrStdout()
	fmt.Fprintf(w, "Usage:\n  %s\n", c.UseLine())
	if c.Example != "" {
		fmt.Fprintf(w, "\nExamples:\n%s\n", c.Example)
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprint(w, "\nCommands:\n")
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() || sub.Name() == "help" {
				fmt.Fprintf(w, "  %-12s %s\n", sub.Name(), sub.Short)
			}
		}
	}
	groups := flagGroups()
	shared := func(f *pflag.Flag) bool {
		return slices.ContainsFunc(groups, func(g flagGroup) bool { return slices.Contains(g.names, f.Name) })
	}
	writeFlags(w, "Flags", c.Flags(), func(f *pflag.Flag) bool { return !shared(f) })
	for _, g := range groups {
		writeFlags(w, g.title, c.Flags(), func(f *pflag.Flag) bool { return slices.Contains(g.names, f.Name) })
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprint(w, "\ntyro COMMAND --help says more about a command.\n")
	}
	return nil
}

// writeFlags writes those of the flags that belong below a title.
func writeFlags(w io.Writer, title string, all *pflag.FlagSet, belongs func(*pflag.Flag) bool) {
	some := pflag.NewFlagSet("", pflag.ContinueOnError)
	all.VisitAll(func(f *pflag.Flag) {
		if belongs(f) && !f.Hidden {
			shown := *f
			shown.Value = plainValue{f.Value}
			if shown.DefValue == "[]" {
				shown.DefValue = ""
			}
			some.AddFlag(&shown)
		}
	})
	if some.HasFlags() {
		fmt.Fprintf(w, "\n%s:\n%s", title, some.FlagUsagesWrapped(helpWidth))
	}
}

// A plainValue says in a plain word what a flag takes.
type plainValue struct{ pflag.Value }

func (v plainValue) Type() string {
	switch t := v.Value.Type(); t {
	case "float64", "int", "uint64":
		return "number"
	case "float64Slice":
		return "numbers"
	case "bool":
		return t
	}
	return "text"
}
