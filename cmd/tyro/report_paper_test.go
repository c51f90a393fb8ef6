package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tyro/reports/page"
)

// paperStudy is a small study of some trainees in two arms; its times fall from about 100 s
// to 40 s, and everybody's attempts have dates.
func paperStudy(t *testing.T, trainees int) string {
	t.Helper()
	dir := t.TempDir()
	var log, other strings.Builder
	log.WriteString("trainee,arm,task,date,attempt,seconds,passed,outcome\n")
	for i := range trainees {
		for n := 1; n <= 10; n++ {
			y := (40 + 60*math.Exp(-0.3*float64(n-1))) * (1 + 0.08*math.Sin(float64(7*i+3*n)))
			day := fmt.Sprintf("2026-03-%02d", 1+n)
			fmt.Fprintf(&log, "T%d,%s,tie,%s,%d,%.1f,%d,done\n", i+1, []string{"a", "b"}[i%2], day, n, y, (i+n)%3/1&1)
			fmt.Fprintf(&other, "T%d,%s,cut,%s,%d,%.1f,1,done\n", i+1, []string{"a", "b"}[i%2], day, n, y+5)
		}
	}
	for name, text := range map[string]string{
		"log.csv": log.String() + other.String(),
		"study.yaml": `title: t
attempts: {file: log.csv}
tasks:
  - {name: tie, measure: time, column: seconds, unit: s, standard: {value: 60}, rule: 2 in a row, horizon: 50}
  - {name: cut, measure: time, column: seconds, unit: s}
`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// methodsOf are the methods that a paper of the study has with some flags, as one line.
func methodsOf(t *testing.T, path string, args ...string) string {
	t.Helper()
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	cmd := &cobra.Command{Use: "report"}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	curves.registerWeigh(cmd)
	cmd.SetContext(t.Context())
	if err := cmd.ParseFlags(args); err != nil {
		t.Fatal(err)
	}
	s, err := prepare(cmd, path, common, columns, curves, nil)
	if err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	r, err := page.Run(t.Context(), s)
	if err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	p := paperOf(s, r, paperFlags{width: 175})
	return strings.Join(strings.Fields(p.Methods()), " ")
}

// Every flag that changes the analysis changes the methods, and they say what it made
// true. Flags of a table say what a study file says otherwise.
func TestMethodsFollowTheFlags(t *testing.T) {
	dir, larger := paperStudy(t, 4), paperStudy(t, 6) // from 6 on they are fitted together too
	table := []string{"--trainee", "trainee", "--attempt", "attempt", "--arm", "arm", "--date", "date", "--response", "seconds", "--measure", "time", "--standard", "60", "--rule", "2 in a row"}
	only := func(file string) string {
		data, err := os.ReadFile(filepath.Join(dir, "log.csv"))
		if err != nil {
			t.Fatal(err)
		}
		var keep []string
		for i, line := range strings.Split(string(data), "\n") {
			if i == 0 || strings.Contains(line, ",tie,") {
				keep = append(keep, line)
			}
		}
		path := filepath.Join(t.TempDir(), file)
		if err := os.WriteFile(path, []byte(strings.Join(keep, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	single := only("tie.csv")
	fast := []string{"--replicates", "12"}
	plainStudy := methodsOf(t, dir, fast...)
	plainTable := methodsOf(t, single, append(slices.Clone(fast), table...)...)
	tested := map[string]bool{}
	for _, c := range []struct {
		flag, value string
		table       bool
		says, not   string
	}{
		{"level", "0.9", false, "have 90 % intervals by profile likelihood", "95 %"},
		{"seed", "77", false, "with seed 77;", "seed 1;"},
		{"replicates", "15", false, "of 15 bootstrap series a trainee", "of 12 bootstrap series"},
		{"family", "exponential", false, "The exponential curve was fitted to each trainee's attempts", "lowest AIC"},
		{"weigh", "true", false, "models were tried; each trainee's later attempts were foretold from the first ones by the cohort without that trainee", ""},
		{"noise", "normal", false, "by maximum likelihood with normal noise", "lognormal"},
		{"hold", "plateau=30", false, "Held at a value: plateau at 30.", ""},
		{"origin", "2", false, "The starting level was read at attempt 2.", ""},
		{"standard", "70", false, "The standard for one attempt was 70 s. It was given for this analysis alone", "was 60 s"},
		{"rule", "3 in a row", false, "by a rule given for this analysis alone, once these passes had been seen: 3 in a row.", "2 in a row"},
		{"horizon", "40", false, "within 40 attempts counts as beyond the horizon", "within 50 attempts"},
		{"task", "cut", false, `at the task "cut"`, `"tie"`},
		{"up-to", "2026-03-08", false, "The study was looked at as of 2026-03-08: attempts made later were left out.", ""},
		{"measure", "score", true, "The measure was seconds (a score;", "(a time"},
		{"better", "higher", true, "higher is better", "lower is better"},
		{"limit", "180", true, "Attempts were stopped at the limit of 180.", ""},
		{"response", "passed", true, "The measure was passed", "The measure was seconds"},
		{"guess", "0.1", true, "The chance to pass was held between 0.1 (without any skill) and 1 (with all skill).", ""},
		{"lapse", "0.2", true, "The chance to pass was held between 0 (without any skill) and 0.8 (with all skill).", ""},
		{"arm", "task", true, "40 attempts of 4 trainees were read.", "trainees by arm"},
	} {
		tested[c.flag] = true
		path, args, before := dir, slices.Clone(fast), plainStudy
		if c.flag == "family" || c.flag == "weigh" {
			path, before = larger, methodsOf(t, larger, fast...)
			if !strings.Contains(before, "lowest AIC among") {
				t.Errorf("the larger study's trainees are not fitted together: %s", before)
			}
		}
		if c.table {
			path, args, before = single, append(slices.Clone(fast), table...), plainTable
		}
		switch c.flag {
		case "guess", "lapse", "response":
			args = slices.Concat(fast, table[:8], []string{"--response", "passed", "--measure", "pass-fail", "--standard", "0.8"})
			if c.flag != "response" {
				before = methodsOf(t, path, args...)
			}
		}
		got := methodsOf(t, path, append(args, "--"+c.flag+"="+c.value)...)
		if got == before {
			t.Errorf("--%s %s leaves the methods as they are", c.flag, c.value)
		}
		if !strings.Contains(got, c.says) || c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("--%s %s: want %q and not %q in\n%s", c.flag, c.value, c.says, c.not, got)
		}
	}
	report := commands(t)[slices.IndexFunc(commands(t), func(c *cobra.Command) bool { return c.Name() == "report" })]
	// The others name a column, or say how a file is to be read, which the data then show; or
	// they choose what is shown, and where: budget is of the director's page alone.
	told := slices.Concat(silentFlags, layoutFlagNames(), []string{"trainee", "attempt", "outcome", "date", "only", "arm-only", "help", "budget"})
	report.Flags().VisitAll(func(f *pflag.Flag) {
		if !tested[f.Name] && !slices.Contains(told, f.Name) {
			t.Errorf("--%s is not tried", f.Name)
		}
	})
}
