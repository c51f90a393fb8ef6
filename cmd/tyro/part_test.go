package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// With --only and --arm-only every command shows a part of what it shows without: each
// row that is left is a row of the whole, number for number, and no file has the code of
// a trainee who is not shown. A picture of one trainee is the same picture.
func TestPartOfAStudy(t *testing.T) {
	dir := smallDemo(t)
	hidden := regexp.MustCompile(`\bT(0[1-46-9]|1[0-2])\b`) // all but T05
	for _, c := range []struct {
		command []string
		same    string // a picture
	}{
		{[]string{"check"}, ""}, {[]string{"score"}, ""}, {[]string{"curve"}, "curve-T05.svg"}, {[]string{"cohort", "--family", "exponential"}, ""},
		{[]string{"proficiency"}, ""}, {[]string{"quota"}, "quota-all.svg"}, {[]string{"compare", "--family", "exponential"}, ""},
		{[]string{"monitor"}, "monitor-learning-T05.svg"}, {[]string{"retention"}, ""}, {[]string{"standard"}, ""},
		{[]string{"diff", "--earlier", "2026-02-20"}, ""},
	} {
		t.Run(c.command[0], func(t *testing.T) {
			args := append([]string{c.command[0], dir, "--replicates", "20"}, c.command[1:]...)
			whole, one, arm := filepath.Join(t.TempDir(), "whole"), filepath.Join(t.TempDir(), "one"), filepath.Join(t.TempDir(), "arm")
			tyro(t, 0, append(args, "--out", whole)...)
			tyro(t, 0, append(args, "--out", one, "--only", "T05")...)
			tyro(t, 0, append(args, "--out", arm, "--arm-only", "massed")...)
			partOf(t, one, whole)
			partOf(t, arm, whole)
			for name, data := range folder(t, one) {
				if m := hidden.FindString(string(data)); m != "" {
					t.Errorf("%s of T05 alone has %s", name, m)
				}
				if name == c.same && string(data) != string(folder(t, whole)[name]) {
					t.Errorf("%s is another picture", name)
				}
			}
			if !strings.Contains(string(folder(t, one)[c.command[0]+".txt"]), "shown is, of trainees, T05 alone; everything was computed from all") {
				t.Error("the text does not say that a part is shown")
			}
		})
	}
}

// folder is what a folder holds, without the folders in it.
func folder(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if info, err := os.Stat(name); err == nil && info.IsDir() {
			continue
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(name)] = data
	}
	return out
}

// partOf checks that every row of every table is a row of the same table of the whole.
func partOf(t *testing.T, part, whole string) {
	t.Helper()
	all, some := folder(t, whole), folder(t, part)
	tables := 0
	for name, data := range some {
		if !strings.HasSuffix(name, ".csv") || name == "columns.csv" || name == traineeKey {
			continue
		}
		tables++
		of := records(t, all[name])
		for _, row := range records(t, data) {
			if !slices.ContainsFunc(of, func(r []string) bool { return slices.Equal(r, row) }) {
				t.Errorf("%s: %q is not a row of the whole", name, row)
				break
			}
		}
	}
	if tables == 0 {
		t.Errorf("no tables in %s", part)
	}
}

func records(t *testing.T, data []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// Who is not in the study cannot be shown, and the nearest name is told.
func TestUnknownPart(t *testing.T) {
	dir := demoStudy(t)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"curve", dir, "--only", "T99"}, `no trainee "T99" among the 36 of the study (did you mean T`},
		{[]string{"curve", dir, "--only", "T01,nobody"}, `no trainee "nobody" among the 36 of the study`},
		{[]string{"quota", dir, "--arm-only", "spacd"}, `no arm "spacd": the study has spaced, massed (did you mean spaced?)`},
		{[]string{"quota", "--pass-chance", "0.5", "--rule", "2 in a row", "--arm-only", "x"}, `no arm "x"`},
		{[]string{"curve", dir, "--up-to", "yesterday"}, `--up-to "yesterday": expected a day`},
		{[]string{"report", dir, "--width", "85"}, "--width goes with --paper"},
		{[]string{"report", dir, "--paper", "p", "--width", "100"}, "--width 100: expected 85 or 175 millimetres"},
		{[]string{"diff", dir}, "diff needs a second study, or --earlier DAY"},
		{[]string{"diff", dir, "--earlier", "2026-03-01", "--up-to", "2026-02-20"}, "expected a day before that of --up-to"},
		{[]string{"diff", dir, "--earlier", "28.02.2026"}, `--earlier "28.02.2026": expected a day`},
		{[]string{"check", dir, "--shareable", "--only", "T01"}, "--shareable counts everybody"},
		{[]string{"agreement", "--plan", "icc", "--expect", "0.7", "--up-to", "2026-01-01"}, "--up-to is for attempts with dates"},
	} {
		if _, talk := tyro(t, exitUsage, c.args...); !strings.Contains(talk, c.says) {
			t.Errorf("tyro %s says %q", strings.Join(c.args, " "), talk)
		}
	}
}

// A report of one trainee lists nobody else, in pages, tables, machine output and the
// bundle's figures and tables; what it says of everybody is what the report of all says, and
// so are the paper's words.
func TestReportOfAPart(t *testing.T) {
	dir := smallDemo(t)
	base := t.TempDir()
	at := func(name string) string { return filepath.Join(base, name) }
	args := []string{"report", dir, "--replicates", "20", "--family", "exponential"}
	tyro(t, 0, append(slices.Clone(args), "--out", at("whole"), "--trainee-pages", "--paper", at("whole-paper"), "--width", "85")...)
	tyro(t, 0, append(slices.Clone(args), "--out", at("part"), "--trainee-pages", "--only", "T05", "--paper", at("part-paper"), "--width", "85")...)
	hidden := regexp.MustCompile(`\bT(0[1-46-9]|1[0-2])\b`) // all but T05
	whole, part := folder(t, at("whole")), folder(t, at("part"))
	for name, data := range part {
		if m := hidden.FindString(string(data)); m != "" && filepath.Ext(name) != ".pdf" {
			t.Errorf("%s of T05 alone has %s", name, m)
		}
	}
	answers := regexp.MustCompile(`<p class="answer">.*?</p>`)
	if all, some := answers.FindAllString(string(whole["director.html"]), -1), answers.FindAllString(string(part["director.html"]), -1); len(all) < 4 || !slices.Equal(all, some) {
		t.Errorf("the director reads %q of everybody and %q with T05 alone", all, some)
	}
	for _, name := range []string{"director.html", "index.html"} {
		if !strings.Contains(string(part[name]), "Shown is, of trainees, T05 alone; everything was computed from all 12 trainees.") {
			t.Errorf("%s does not say that a part is shown", name)
		}
	}
	partOf(t, at("part"), at("whole"))
	pages, err := filepath.Glob(filepath.Join(at("part"), traineeFolder, "*.html"))
	if err != nil || len(pages) != 1 || len(records(t, part[traineeKey])) != 2 {
		t.Errorf("%d pages and a key %s (%v); want T05's alone", len(pages), part[traineeKey], err)
	}
	words, same := folder(t, at("part-paper")), folder(t, at("whole-paper"))
	if string(words["results.txt"]) != string(same["results.txt"]) || len(words["results.txt"]) == 0 {
		t.Error("the results of everybody are others where T05 is shown alone")
	}
	charts, err := filepath.Glob(filepath.Join(at("part-paper"), "figures", "figure-*-curve-T05.svg"))
	if err != nil || len(charts) != 1 {
		t.Errorf("the figure of T05: %v, %v", charts, err)
	}
	for name, data := range folder(t, filepath.Join(at("part-paper"), "figures")) {
		if m := hidden.FindString(string(data)); m != "" && (filepath.Ext(name) == ".svg" || filepath.Ext(name) == ".txt") {
			t.Errorf("%s of T05 alone has %s", name, m)
		}
	}
	if _, talk := tyro(t, exitUsage, append(slices.Clone(args), "--out", at("whole"), "--only", "T05")...); !strings.Contains(talk, "holds pages of trainees who would not be shown") {
		t.Errorf("a part into the folder of the whole: %s", talk)
	}
	tyro(t, 0, append(slices.Clone(args), "--out", at("arm"), "--arm-only", "massed")...)
	partOf(t, at("arm"), at("whole"))
}
