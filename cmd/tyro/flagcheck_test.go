package main

import (
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func commands(t *testing.T) []*cobra.Command {
	t.Helper()
	return newRoot(app{out: io.Discard, errw: io.Discard, ctx: t.Context()}, &profiling{}).Commands()
}

// onStudy is the command on a study, where it takes one.
func onStudy(cmd *cobra.Command, dir string) []string {
	if cmd.Name() == "demo" {
		return []string{"demo"}
	}
	return []string{cmd.Name(), dir}
}

// Every flag with numbers has a range, and no command takes a number outside: status 2
// at once, with the flag's name.
func TestEveryNumberHasARange(t *testing.T) {
	dir := demoStudy(t)
	for _, cmd := range commands(t) {
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if !numericType(f.Value.Type()) {
				return
			}
			r, ok := named(flagRanges(), cmd, f.Name)
			if !ok {
				t.Errorf("tyro %s --%s has no range", cmd.Name(), f.Name)
				return
			}
			bad := []string{"NaN", "Inf", "-Inf", "1e300", "x", strconv.FormatFloat(r.Min-1, 'f', -1, 64), strconv.FormatFloat(2*r.Max+1, 'f', -1, 64)}
			if r.Whole {
				bad = append(bad, "1.5")
			}
			for _, v := range bad {
				started := time.Now()
				_, talk := tyro(t, 2, append(onStudy(cmd, dir), "--"+f.Name, v)...)
				if !strings.Contains(talk, "--"+f.Name) || !strings.Contains(talk, r.Meaning) || strings.Contains(talk, "strconv") {
					t.Errorf("tyro %s --%s %s says %q", cmd.Name(), f.Name, v, talk)
				}
				if d := time.Since(started); d > 5*time.Second {
					t.Errorf("tyro %s --%s %s took %v", cmd.Name(), f.Name, v, d)
				}
			}
		})
	}
}

// Every flag that knows words names them for a wrong one, and the closest.
func TestEveryWordIsNamed(t *testing.T) {
	dir := demoStudy(t)
	seen := 0
	for _, cmd := range commands(t) {
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			known, ok := named(flagWords(), cmd, f.Name)
			if !ok || cmd.Name() == "quota" && f.Name == "against" {
				return
			}
			seen++
			_, talk := tyro(t, 2, append(onStudy(cmd, dir), "--"+f.Name, known[0]+"x")...)
			if !strings.Contains(talk, listed(known)) || !strings.Contains(talk, "did you mean "+known[0]+"?") {
				t.Errorf("tyro %s --%s %sx says %q", cmd.Name(), f.Name, known[0], talk)
			}
		})
	}
	if seen < 40 {
		t.Errorf("only %d flags with words were tried", seen)
	}
}

// A study file's numbers have the same ranges: status 1 at once, with the place.
func TestStudyNumbers(t *testing.T) {
	dir := demoStudy(t)
	path := filepath.Join(dir, "study.yaml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		line, name string // the line of the demo's study file, up to its number
		bad        []string
	}{
		{"    horizon: 100", "horizon", []string{"0.5", "-5", ".nan", ".inf", "1e9", "2001"}},
		{"    limit: 180", "limit", []string{"-1", ".nan", ".inf", "1e300"}},
		{"      value: 57", "standard", []string{"0", "-1", ".nan", ".inf", "180", "1e300"}},
		{"    at_most: {wall_punctures: 1", "at_most", []string{"-1", ".nan", ".inf"}},
		{"    monitor: {acceptable: 0.2", "monitor", []string{"0", "-1", ".nan", "0.4", "1"}},
		{"      lab_minutes: 12", "lab_minutes", []string{"-1", ".nan", ".inf"}},
		{"      start: 300", "start", []string{".nan", ".inf", "1e300"}},
		{"      penalty: {wall_punctures: 20", "penalty", []string{".nan", ".inf"}},
		{"      computed: {method: expert-mean, sds: 1", "sds", []string{"-1", ".nan", ".inf"}},
		{"arms: [spaced, massed", "arms", []string{", spaced"}},
	} {
		if !strings.Contains(string(text), c.line) {
			t.Fatalf("the demo's study file lacks %q", c.line)
		}
		for _, v := range c.bad {
			changed := c.line + v
			if v[0] != ',' {
				changed = c.line[:strings.LastIndex(c.line, " ")+1] + v
			}
			if err := os.WriteFile(path, []byte(strings.Replace(string(text), c.line, changed, 1)), 0o644); err != nil {
				t.Fatal(err)
			}
			for _, command := range []string{"check", "quota", "report"} {
				if _, talk := tyro(t, 1, command, dir); !strings.Contains(talk, "study.yaml") || !strings.Contains(talk, c.name) {
					t.Errorf("tyro %s with %s says %q", command, strings.TrimSpace(changed), talk)
				}
			}
		}
	}
}

// Numbers in tables have ranges, too.
func TestCellNumbers(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		text string
		args []string
	}{
		{"n,met\n1000000000,1\n5,0\n", []string{"proficiency", "--until", "n", "--met", "met"}},
		{"n,met\n1000000000,1\n5,0\n", []string{"quota", "--until", "n", "--met", "met"}},
		{"x,a,b\na,1000000,5\nb,5,3\n", []string{"agreement", "--counts"}},
		{"x,a,b\na,15000,5\nb,5,15000\n", []string{"agreement", "--counts"}},
		{"subject,rater,score\na,x,\nb,x,\na,y,\nb,y,\n", []string{"agreement"}},
		{"s,x,y\na,1e200,3\nb,2,3\n", []string{"agreement", "--wide", "--scale", "interval"}},
		{"w,n,y\na,1000000000,3\na,2,3\n", []string{"curve", "--trainee", "w", "--attempt", "n", "--response", "y"}},
		{"n,y\n1e300,3\n2,3\n", []string{"curve", "--attempt", "n", "--response", "y"}},
		{"n,y\n1,1e300\n2,3\n", []string{"curve", "--attempt", "n", "--response", "y"}},
		{"expert,score\na,1e300\nb,3\n", []string{"standard"}},
	} {
		path := filepath.Join(dir, "t.csv")
		if err := os.WriteFile(path, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, talk := tyro(t, 1, append([]string{c.args[0], path}, c.args[1:]...)...); !strings.HasPrefix(talk, "tyro: t.csv:") {
			t.Errorf("tyro %s of %q says %q", strings.Join(c.args, " "), c.text, talk)
		}
	}
}
