// Command commands times whole tyro commands, and R and SciPy doing the heart of the same
// work, all in one sitting; it writes commands.csv beside itself. Seconds are of processor,
// of a whole process, with start and reading of files. R with minpack.lm and nlme and a Python
// with SciPy must be installed (Debian: r-cran-minpack.lm, r-cran-nlme, python3-scipy).
//
//	go run ./testdata/peers/commands
//	go run ./testdata/peers/commands -only proficiency,cohort
//	go run ./testdata/peers/commands -growth
//
// -growth writes growth.csv instead: what proficiency, cohort and report take as trainees,
// attempts and replicates double, twice.
//
// The peers do less than tyro does: refits is one family where tyro chooses among four and
// answers three definitions from each refit; nlme is a bare fit from given starts, without the
// projections, ranges and checks of tyro cohort.
package main

import (
	"encoding/csv"
	"flag"
	"fmt"
	"io"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

const dir = "testdata/peers/commands"

var (
	only   = flag.String("only", "", "names of the jobs to run; default: all")
	growth = flag.Bool("growth", false, "instead, how the cost of proficiency, cohort and report grows; -only names some of them")
)

// A job is a tyro command with the peers it is held against.
type job struct {
	name  string
	what  string
	tyro  []string
	peers []peer
}

type peer struct {
	name string
	args []string
}

// A cost is what a process took.
type cost struct{ cpu, wall, megabytes float64 }

func main() {
	flag.Parse()
	work, err := os.MkdirTemp("", "commands")
	check(err)
	defer os.RemoveAll(work)
	tyro := filepath.Join(work, "tyro")
	run("go", "build", "-o", tyro, "./cmd/tyro")
	if *growth {
		grow(tyro, work)
		return
	}
	run(tyro, "demo", "--out", filepath.Join(work, "demo"), "--replicates", "20")
	out, err := os.Create(filepath.Join(dir, "commands.csv"))
	check(err)
	defer out.Close()
	w := csv.NewWriter(out)
	check(w.Write([]string{"job", "what", "program", "cpu_seconds", "wall_seconds", "peak_mb", "times_tyro"}))
	for _, j := range jobs(work) {
		if !wanted(j.name) {
			continue
		}
		own := run(tyro, j.tyro...)
		row(w, j, "tyro", own, own)
		for _, p := range j.peers {
			row(w, j, p.name, run(p.args[0], p.args[1:]...), own)
		}
	}
}

// A size is that of a simulated study, and the replicates asked for; 0 where the command draws
// none.
type size struct{ trainees, attempts, replicates int }

// A growing is a command at sizes of which every three double one thing twice.
type growing struct {
	command string
	more    []string
	arms    int
	sizes   []size
}

func growths(work string) []growing {
	rule := []string{"--rule", "2 in a row"}
	return []growing{
		{"proficiency", rule, 1, []size{
			{250, 50, 400}, {500, 50, 400}, {1000, 50, 400},
			{300, 25, 400}, {300, 50, 400}, {300, 100, 400},
			{200, 50, 1000}, {200, 50, 2000}, {200, 50, 4000},
		}},
		{"cohort", []string{"--family", "exponential", "--one-model"}, 1, []size{
			{500, 50, 0}, {1000, 50, 0}, {2000, 50, 0},
			{500, 25, 0}, {500, 50, 0}, {500, 100, 0},
		}},
		{"report", append(slices.Clone(rule), "--out", filepath.Join(work, "grown")), 2, []size{
			{100, 50, 1000}, {200, 50, 1000}, {400, 50, 1000},
			{100, 50, 1000}, {100, 50, 2000}, {100, 50, 4000},
		}},
	}
}

// grow times commands at three sizes of each kind, one after another.
func grow(tyro, work string) {
	out, err := os.Create(filepath.Join(dir, "growth.csv"))
	check(err)
	defer out.Close()
	w := csv.NewWriter(io.MultiWriter(out, os.Stdout))
	check(w.Write([]string{"command", "trainees", "attempts", "replicates", "cpu_seconds", "wall_seconds", "peak_mb"}))
	path := filepath.Join(work, "growth.csv")
	for _, g := range growths(work) {
		if !wanted(g.command) {
			continue
		}
		for _, s := range g.sizes {
			simulate(path, s.trainees, s.attempts, g.arms)
			args := slices.Concat([]string{g.command}, columns(path), g.more)
			if s.replicates > 0 {
				args = append(args, "--replicates", fmt.Sprint(s.replicates))
			}
			c := run(tyro, args...)
			check(w.Write([]string{g.command, fmt.Sprint(s.trainees), fmt.Sprint(s.attempts), fmt.Sprint(s.replicates), fmt.Sprintf("%.2f", c.cpu), fmt.Sprintf("%.2f", c.wall), fmt.Sprintf("%.0f", c.megabytes)}))
			w.Flush()
		}
	}
}

// wanted reports whether a job is to be run.
func wanted(name string) bool { return *only == "" || slices.Contains(strings.Split(*only, ","), name) }

// columns names a simulated table and what is in it.
func columns(path string) []string {
	return []string{path, "--trainee", "trainee", "--arm", "arm", "--attempt", "attempt", "--response", "seconds", "--measure", "time", "--standard", "60"}
}

func row(w *csv.Writer, j job, program string, c, own cost) {
	r := []string{j.name, j.what, program, fmt.Sprintf("%.2f", c.cpu), fmt.Sprintf("%.2f", c.wall), fmt.Sprintf("%.0f", c.megabytes), fmt.Sprintf("%.2f", c.cpu/own.cpu)}
	fmt.Println(r)
	check(w.Write(r))
	w.Flush()
}

// run runs a process, whose output is thrown away, and says what it took.
func run(name string, args ...string) cost {
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
	var told strings.Builder
	cmd.Stderr = &told
	start := time.Now()
	if err := cmd.Run(); err != nil {
		log.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, told.String())
	}
	u := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	return cost{(cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), time.Since(start).Seconds(), float64(u.Maxrss) / 1024}
}

func jobs(work string) []job {
	demo := filepath.Join(work, "demo")
	file := func(name string, trainees, attempts, arms int) string {
		path := filepath.Join(work, name)
		simulate(path, trainees, attempts, arms)
		return path
	}
	r := func(script string, args ...string) []string {
		return append([]string{"Rscript", filepath.Join(dir, script)}, args...)
	}
	python := func(script string, args ...string) []string {
		return append([]string{"/usr/bin/python3", filepath.Join(dir, script)}, args...)
	}
	cohort, large, report, rows := file("cohort.csv", 1000, 50, 1), file("large.csv", 20000, 50, 1), file("report.csv", 200, 120, 2), file("rows.csv", 20000, 50, 2)
	refits := filepath.Join(work, "refits.csv")
	simulate(refits, 1, 33, 1)
	exponential := func(more ...string) []string {
		return append(append([]string{"cohort"}, columns(cohort)...), append([]string{"--family", "exponential", "--one-model"}, more...)...)
	}
	return []job{
		{"proficiency", "demo study: 36 trainees, 2,000 replicates, four families", []string{"proficiency", demo}, []peer{
			{"nlsLM, 2,000 refits of one trainee and family", r("refits.R", refits, "2000")},
			{"curve_fit, 2,000 refits of one trainee and family", python("refits.py", refits, "2000")},
		}},
		{"cohort", "1,000 trainees x 50, one family", exponential(), []peer{{"nlme, bare fit, all correlations", r("cohort.R", cohort)}}},
		{"student", "the same with Student noise", exponential("--noise", "student"), nil},
		{"families", "the same, family chosen", append(append([]string{"cohort"}, columns(cohort)...), "--one-model"), nil},
		{"weighed", "the same, models weighed", append([]string{"cohort"}, columns(cohort)...), nil},
		{"check", "1,000,000 rows", append([]string{"check"}, columns(rows)...), []peer{{"read.csv", r("read.R", rows)}}},
		{"report", "200 trainees x 120, 2,000 replicates", append(append([]string{"report"}, columns(report)...), "--rule", "2 in a row", "--out", filepath.Join(work, "report")), nil},
		{"demo", "the whole job on the demo study", []string{"demo", "--out", filepath.Join(work, "again")}, nil},
		{"large", "20,000 trainees x 50, 200 replicates", append(append([]string{"proficiency"}, columns(large)...), "--rule", "2 in a row", "--replicates", "200"), nil},
	}
}

// simulate writes a cohort of exponential curves whose parameters and noise differ between
// trainees.
func simulate(path string, trainees, attempts, arms int) {
	r := rand.New(rand.NewPCG(uint64(trainees), uint64(attempts)))
	about := func(middle, sd float64) float64 { return middle * math.Exp(sd*r.NormFloat64()) }
	var b strings.Builder
	b.WriteString("trainee,arm,attempt,seconds\n")
	for t := range trainees {
		plateau, gain, rate, sd := about(45, 0.2), about(130, 0.25), about(0.12, 0.3), about(0.18, 0.2)
		for n := range attempts {
			fmt.Fprintf(&b, "T%05d,%c,%d,%.1f\n", t+1, 'A'+rune(t%arms), n+1, (plateau+gain*math.Exp(-rate*float64(n)))*math.Exp(sd*r.NormFloat64()))
		}
	}
	check(os.WriteFile(path, []byte(b.String()), 0o644))
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
