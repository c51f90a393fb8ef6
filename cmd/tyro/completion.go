package main

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tyro/datasets"
)

// shells are those that tyro can tell how to complete its commands.
var shells = []string{"bash", "fish", "powershell", "zsh"}

func newCompletion(a app) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Let a shell complete commands, flags and their words",
		Long: `completion writes a script after which the shell (bash, fish, powershell or zsh)
completes tyro's commands, flags and the words that flags know, with the tab key.`,
		Example: `  tyro completion bash > ~/.local/share/bash-completion/completions/tyro
  tyro completion zsh > "${fpath[1]}/_tyro"
  tyro completion fish > ~/.config/fish/completions/tyro.fish`,
		Args:      cobra.ExactArgs(1),
		ValidArgs: shells,
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			write, ok := map[string]func(io.Writer) error{
				"bash": func(w io.Writer) error { return root.GenBashCompletionV2(w, true) },
				"fish": func(w io.Writer) error { return root.GenFishCompletion(w, true) },
				"zsh":  root.GenZshCompletion, "powershell": root.GenPowerShellCompletionWithDesc,
			}[args[0]]
			if !ok {
				return usagef("completion %q: expected %s%s", args[0], listed(shells), datasets.DidYouMean(args[0], shells))
			}
			return write(a.out)
		}),
	}
}

// completeWords lets the shell complete the words that a command's flags know.
func completeWords(cmd *cobra.Command) {
	words := flagWords()
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		known, ok := named(words, cmd, f.Name)
		if !ok {
			return
		}
		cmd.RegisterFlagCompletionFunc(f.Name, func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return slices.DeleteFunc(slices.Clone(known), func(w string) bool { return !strings.HasPrefix(w, typed) }), cobra.ShellCompDirectiveNoFileComp
		})
	})
}
