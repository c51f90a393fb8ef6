package page

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"tyro/analysis/study"
	"tyro/datasets/demo"
)

// A madeStudy is a study made for a test: how many trainees of which arms, how they
// improve, and for how long they are seen.
type madeStudy struct {
	name      string
	trainees  int
	arms      []string
	attempts  int
	start     float64 // median of the first attempt, seconds
	plateau   float64
	leave     int // every so many trainees one stops early; 0: nobody
	costs     bool
	perDay    int
	timeLimit float64
}

// theStudies are those that every sentence is checked on, beside the demo.
var theStudies = []madeStudy{
	{name: "one arm", trainees: 12, arms: []string{"all"}, attempts: 24, start: 150, plateau: 44, leave: 5, costs: true, perDay: 6, timeLimit: 180},
	{name: "nobody reaches", trainees: 10, arms: []string{"a", "b"}, attempts: 15, start: 170, plateau: 110, perDay: 5, timeLimit: 400},
	{name: "everybody at once", trainees: 10, arms: []string{"a", "b"}, attempts: 8, start: 30, plateau: 28, costs: true, perDay: 4, timeLimit: 180},
	{name: "three trainees", trainees: 3, arms: []string{"one"}, attempts: 18, start: 140, plateau: 50, perDay: 6, timeLimit: 180},
}

// write writes the study into a folder: a pass is done in at most 57 s with at most one
// wall puncture, the rule two in a row, all as in the demo.
func (m madeStudy) write(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	random := rand.New(rand.NewPCG(16, uint64(len(m.name))))
	rows := [][]string{{"trainee", "arm", "date", "attempt", "seconds", "wall_punctures", "outcome"}}
	for i := range m.trainees {
		n := m.attempts
		if m.leave > 0 && i%m.leave == m.leave-1 {
			n = m.attempts / 3
		}
		own := math.Exp(0.15 * random.NormFloat64())
		for k := range n {
			v := own * (m.plateau + (m.start-m.plateau)*math.Exp(-0.2*float64(k))) * math.Exp(0.1*random.NormFloat64())
			outcome, walls := "done", 0
			if random.IntN(12) == 0 && m.name != "everybody at once" {
				walls = 2
			}
			switch {
			case v >= m.timeLimit:
				v, outcome = m.timeLimit, "timeout"
			case random.IntN(40) == 0 && m.name != "everybody at once":
				outcome = "failed"
			}
			day := time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC).AddDate(0, 0, 7*(k/m.perDay))
			rows = append(rows, []string{
				fmt.Sprintf("P%02d", i+1), m.arms[i%len(m.arms)], day.Format(time.DateOnly), strconv.Itoa(k + 1), strconv.FormatFloat(v, 'f', 1, 64), strconv.Itoa(walls), outcome,
			})
		}
	}
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	text := fmt.Sprintf(`title: Made for a test, %s
purpose: formative
decides: the lab lead
seed: 7
arms: [%s]
attempts: {file: attempts.csv}
tasks:
  - name: cannulation
    measure: time
    column: seconds
    unit: s
    better: lower
    limit: %g
    counts: [wall_punctures]
    at_most: {wall_punctures: 1}
    standard: {value: 57, method: by agreement, decided_by: the lab lead, decided_on: 2026-01-12}
    rule: 2 in a row
    horizon: 100
`, m.name, strings.Join(m.arms, ", "), m.timeLimit)
	if m.costs {
		text += "    costs: {unit: credits, lab_minutes: 12, examiner_minutes: 4, consumables: 3, lab_hour_price: 40, examiner_hour_price: 60, per_trainee: 25}\n"
	}
	for name, data := range map[string]string{"attempts.csv": b.String(), "study.yaml": text} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A countedTrainee is what the log says of a trainee, counted here from its cells alone.
type countedTrainee struct {
	id, arm  string
	attempts []int  // numbers of those that count
	pass     []bool // of these
	date     []string
	met      int // attempt at which two in a row were first passed; 0: never
	metAt    int // its position
	lastDate string
	longest  int // longest break, days
}

func (c countedTrainee) passed() int {
	n := 0
	for _, p := range c.pass {
		if p {
			n++
		}
	}
	return n
}

func (c countedTrainee) last() int { return c.attempts[len(c.attempts)-1] }

// rowsOf are the rows of a CSV file, its head among them.
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

// countLog counts a log: an attempt passes when it was done in at most 57 seconds with at
// most one wall puncture.
func countLog(t *testing.T, dir string) []countedTrainee {
	t.Helper()
	rows := rowsOf(t, filepath.Join(dir, "attempts.csv"))
	column := func(r []string, name string) string { return r[slices.Index(rows[0], name)] }
	var out []countedTrainee
	for _, r := range rows[1:] {
		id := column(r, "trainee")
		i := slices.IndexFunc(out, func(c countedTrainee) bool { return c.id == id })
		if i < 0 {
			out = append(out, countedTrainee{id: id, arm: column(r, "arm")})
			i = len(out) - 1
		}
		c := &out[i]
		date := column(r, "date")
		if c.lastDate != "" {
			c.longest = max(c.longest, daysApart(t, c.lastDate, date))
		}
		c.lastDate = date
		if column(r, "outcome") == "void" {
			continue
		}
		n, _ := strconv.Atoi(column(r, "attempt"))
		seconds, _ := strconv.ParseFloat(column(r, "seconds"), 64)
		walls, _ := strconv.Atoi(column(r, "wall_punctures"))
		pass := column(r, "outcome") == "done" && seconds <= 57 && walls <= 1
		k := len(c.pass)
		if pass && k > 0 && c.pass[k-1] && c.met == 0 {
			c.met, c.metAt = n, k
		}
		c.attempts, c.pass, c.date = append(c.attempts, n), append(c.pass, pass), append(c.date, date)
	}
	return out
}

func daysApart(t *testing.T, from, to string) int {
	t.Helper()
	a, err := time.Parse(time.DateOnly, from)
	if err != nil {
		t.Fatal(err)
	}
	b, err := time.Parse(time.DateOnly, to)
	if err != nil {
		t.Fatal(err)
	}
	return int(b.Sub(a).Hours() / 24)
}

// aReport is a study's report with the log it came from.
type aReport struct {
	name  string
	r     *Report
	log   []countedTrainee
	costs bool
}

// theReports run the whole job on the demo and on the studies made.
func theReports(t *testing.T) []aReport {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	run := func(name, dir string, costs bool) aReport {
		r, err := Run(t.Context(), studyIn(t, dir, study.Options{Replicates: 60, Families: family(t, "exponential")}))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return aReport{name, r, countLog(t, dir), costs}
	}
	out := []aReport{run("demo", dir, true)}
	for _, m := range theStudies {
		out = append(out, run(m.name, m.write(t), m.costs))
	}
	return out
}
