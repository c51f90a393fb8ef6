package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// hostileNames are codes that act on a terminal, a page, a spreadsheet or a file
// system that takes them as they are.
var hostileNames = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(2)>`, "\x1b[31mred\x1b[0m\x07", "low\x01\x02\x7f\u0085", `=cmd|' /C calc'!A0`, `@SUM(1+1)`,
	`../../x`, strings.Repeat("long", 75), "étoile", "\u202egpj.exe\u200f", "a/b", "a_b", "a.b", "A_B", "CON", "it's & so <on>",
}

// hostileStudy is a study whose every name is hostile.
func hostileStudy(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	table := func(name string, rows [][]string) {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	arms := []string{"=arm<b>", "\x1b[2Jürm\u202e"}
	attempts := [][]string{{"trainee", "arm", "attempt", "sec <i>", "outcome"}}
	for i, id := range hostileNames {
		for n := 1; n <= 9; n++ {
			sec := 30 + (100+5*float64(i))/float64(n) + float64((7*n+3*i)%5)
			attempts = append(attempts, []string{id, arms[i%2], fmt.Sprint(n), strconv.FormatFloat(sec, 'f', 1, 64), "done"})
		}
	}
	table("attempts.csv", attempts)
	ratings := [][]string{{"subject", "rater", "item", "score"}}
	experts := [][]string{{"expert", "run", "sec <i>"}}
	until := [][]string{{"who", "arm", "n", "met"}}
	for i, id := range hostileNames {
		for j, rater := range hostileNames[:3] {
			ratings = append(ratings, []string{id, rater, hostileNames[4], fmt.Sprint(1 + (i*3+j*2)%5)})
		}
		experts = append(experts, []string{id, "1", fmt.Sprint(40 + i)})
		until = append(until, []string{id, arms[i%2], fmt.Sprint(3 + i), fmt.Sprint(min(1, i%5))})
	}
	table("ratings.csv", ratings)
	table("experts.csv", experts)
	table("until.csv", until)
	yaml := "title: \"<script>alert(3)</script> \\e[31m \\u202e\"\npurpose: research\ndecides: \"</p><img src=x onerror=alert(4)>\"\n" +
		"attempts: {file: attempts.csv}\nexperts: {file: experts.csv}\nratings: {file: ratings.csv, item: item}\n" +
		"tasks:\n  - name: \"=task<b>\\e[0m\"\n    measure: time\n    column: \"sec <i>\"\n    unit: \"<s>\\x01\"\n    rule: 2 in a row\n    horizon: 40\n" +
		"    standard: {value: 60, method: \"<script>alert(5)</script>\", decided_by: \"\\e]0;title\\a\", decided_on: 2026-01-12}\n    monitor: {acceptable: 0.2, unacceptable: 0.5}\n"
	if err := os.WriteFile(filepath.Join(dir, "study.yaml"), []byte(yaml), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// actsOnTerminal finds what a terminal would carry out rather than show.
func actsOnTerminal(s string) (rune, bool) {
	for _, r := range s {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
			return r, true
		}
	}
	return 0, false
}

// checkFile looks at one file as what its name says it is.
func checkFile(t *testing.T, what, name string, data []byte) {
	t.Helper()
	if filepath.Ext(name) == ".pdf" { // no text, and nothing that acts when it is opened
		for _, bad := range []string{"/JavaScript", "/JS", "/OpenAction", "/AA", "/Launch", "/URI"} {
			if !bytes.HasPrefix(data, []byte("%PDF-")) || bytes.Contains(data, []byte(bad+" ")) {
				t.Errorf("%s: %s is no plain PDF: %s", what, name, bad)
			}
		}
		return
	}
	if !utf8.Valid(data) {
		t.Errorf("%s: %s is not UTF-8", what, name)
	}
	text := string(data)
	switch filepath.Ext(name) {
	case ".txt", ".yaml":
		if r, ok := actsOnTerminal(text); ok {
			t.Errorf("%s: %s holds %U", what, name, r)
		}
	case ".json":
		if !json.Valid(data) {
			t.Errorf("%s: %s is not JSON", what, name)
		}
	case ".csv":
		checkCSV(t, what+": "+name, text)
	case ".svg":
		checkSVG(t, what+": "+name, text)
	case ".html":
		checkHTML(t, what+": "+name, text)
	default:
		t.Errorf("%s: nobody checks %s", what, name)
	}
}

func checkCSV(t *testing.T, what, text string) {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Errorf("%s: %v", what, err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				t.Errorf("%s: a spreadsheet would run %q", what, cell)
			}
		}
	}
}

// checkSVG reads a figure as strictly as XML is read, and allows none but the elements
// that figures are made of.
func checkSVG(t *testing.T, what, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", what, err)
			return
		}
		if e, ok := token.(xml.StartElement); ok && !slices.Contains([]string{"svg", "g", "path", "text", "image", "rect", "title"}, e.Name.Local) {
			t.Errorf("%s: holds an element %s", what, e.Name.Local)
		}
	}
}

var inlineSVG = regexp.MustCompile(`(?s)<svg .*?</svg>`)

func checkHTML(t *testing.T, what, text string) {
	t.Helper()
	if r, ok := actsOnTerminal(strings.ReplaceAll(text, "\t", "")); ok {
		t.Errorf("%s: holds %U", what, r)
	}
	text = strings.Replace(text, "<script>// The page says everything without this script", "", 1) // tyro's own
	for _, bad := range []string{"<script", "<img", "<b>", "<i>", "<on>"} {
		if strings.Contains(text, bad) {
			t.Errorf("%s: holds %s", what, bad)
		}
	}
	for _, figure := range inlineSVG.FindAllString(text, -1) {
		checkSVG(t, what, figure)
	}
}

// A study of hostile names goes through every command in every format, and nothing
// comes out that a terminal, a browser or a spreadsheet would carry out.
func TestHostileNames(t *testing.T) {
	dir := hostileStudy(t)
	t.Chdir(dir)
	study := []string{"--replicates", "20", "--family", "wright"}
	runs := [][]string{
		append([]string{"check", "."}, study[:2]...), append([]string{"curve", "."}, study...), append([]string{"cohort", "."}, study...),
		append([]string{"standard", "."}, study[:2]...), append([]string{"proficiency", "."}, study...), append([]string{"quota", "."}, study...),
		append([]string{"quota", ".", "--against", "3 in a row"}, study...), append([]string{"agreement", "."}, study[:2]...),
		append([]string{"compare", "."}, study...), append([]string{"monitor", "."}, study[:2]...), append([]string{"monitor", ".", "--chart", "relapse"}, study[:2]...),
		append([]string{"report", "."}, study...),
		{"proficiency", "until.csv", "--until", "n", "--met", "met", "--arm", "arm", "--replicates", "20"},
		{"quota", "until.csv", "--until", "n", "--met", "met", "--arm", "arm", "--replicates", "20"},
	}
	before := hashes(t, dir)
	for k, args := range runs {
		what := "tyro " + strings.Join(args, " ")
		for _, format := range []string{"text", "json", "csv"} {
			if args[0] == "report" {
				break
			}
			out, talk := tyro(t, 0, append(slices.Clone(args), "--format", format)...)
			checkFile(t, what, "stdout."+map[string]string{"text": "txt", "json": "json", "csv": "csv"}[format], []byte(out))
			checkFile(t, what, "stderr.txt", []byte(talk))
		}
		out := filepath.Join("results", fmt.Sprint(k))
		said, talk := tyro(t, 0, append(slices.Clone(args), "--out", out)...)
		checkFile(t, what, "stderr.txt", []byte(said+talk))
		taken := map[string]bool{}
		for path := range hashes(t, out) {
			name := filepath.Base(path)
			if small := strings.ToLower(name); taken[small] || !regexp.MustCompile(`^[a-z0-9A-Z_.-]{1,120}$`).MatchString(name) {
				t.Errorf("%s: a file is called %q", what, name)
			} else {
				taken[small] = true
			}
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			checkFile(t, what, name, data)
		}
		if figures, err := filepath.Glob(filepath.Join(out, "curve-*.svg")); args[0] == "curve" && (err != nil || len(figures) != len(hostileNames)) {
			t.Errorf("%s: %d figures for %d trainees (%v)", what, len(figures), len(hostileNames), err)
		}
		if figures, err := filepath.Glob(filepath.Join(out, "monitor-*-*-*.svg")); args[0] == "monitor" && (err != nil || len(figures) < len(hostileNames)-3) {
			t.Errorf("%s: %d figures (%v)", what, len(figures), err)
		}
	}
	unchanged(t, "a run on hostile names", before)

	// The log that check writes reads back with the same codes.
	tyro(t, 0, "check", "results/0/attempts.csv", "--trainee", "trainee", "--attempt", "attempt", "--response", "sec <i>", "--measure", "time", "--out", "again")
	if a, b := "results/0/attempts.csv", "again/attempts.csv"; len(csvColumn(t, a)) < 100 || !slices.Equal(csvColumn(t, a), csvColumn(t, b)) {
		t.Error("codes change when a log is written, read and written again")
	}

	// Errors name hostile cells without letting them act.
	if err := os.WriteFile("bad\x1b[31m.csv", []byte("who\x1b[2J,n,y\n\x1b[31mA,x\u202e,1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, talk := tyro(t, 1, "check", "bad\x1b[31m.csv", "--trainee", "who\x1b[2J", "--attempt", "n", "--response", "y")
	checkFile(t, "an error", "stderr.txt", []byte(talk))
	_, talk = tyro(t, 2, "check", ".", "--task", "\x1b[31m")
	checkFile(t, "a wrong flag", "stderr.txt", []byte(talk))
}

// rowsOf are the rows of a CSV file.
func rowsOf(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func csvColumn(t *testing.T, path string) []string {
	t.Helper()
	rows := rowsOf(t, path)
	var out []string
	for _, row := range rows {
		out = append(out, row[0])
	}
	return out
}
