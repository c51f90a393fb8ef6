// Command studies times whole simulated studies, two arms whose trainees are fitted together
// and compared, beside R's nlme fitting the first of the very same studies; it writes
// studies.csv beside itself. Seconds are of processor. R with nlme must be installed (Debian:
// r-cran-nlme).
//
//	go run ./testdata/peers/studies
//	go run ./testdata/peers/studies -studies 100
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/plan"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

const dir = "testdata/peers/studies"

var (
	studies = flag.Int("studies", 1000, "studies by tyro")
	beside  = flag.Int("beside", 20, "of them, those by R too")
)

func main() {
	flag.Parse()
	both := func(a, b float64) []analysis.Number { return []analysis.Number{analysis.Number(a), analysis.Number(b)} }
	d := plan.Design{Form: plan.Form, Trainees: 30, Attempts: 20, Course: &plan.Course{
		Contrast: "plateau", Task: plan.Task{Measure: practice.Time, Lower: true, Standard: 60},
		People: cohort.Assumed{Family: "exponential", Origin: 1, Noise: "lognormal", Arms: []string{"usual", "new"}, Parameters: []cohort.AssumedParameter{
			{Name: "plateau", Scale: cohort.Log, Values: both(45, 39), SD: 0.2},
			{Name: "gain", Scale: cohort.Log, Values: both(130, 130), SD: 0.25},
			{Name: "rate", Scale: cohort.Log, Values: both(0.2, 0.2), SD: 0.3},
			{Name: "spread", Scale: cohort.Log, Values: both(0.2, 0.2)},
		}},
	}}
	work, err := os.MkdirTemp("", "studies")
	check(err)
	defer os.RemoveAll(work)
	path := filepath.Join(work, "studies.csv")
	check(os.WriteFile(path, table(d), 0o600))

	cpu, start := processor(), time.Now()
	out, err := plan.Simulate(context.Background(), d, 0, *studies, resample.Sampling{Seed: 1})
	check(err)
	own, wall := processor()-cpu, time.Since(start).Seconds()
	row := plan.Summarise(d, out)

	text, err := exec.Command("Rscript", filepath.Join(dir, "studies.R"), path).Output()
	check(err)
	fields := strings.Fields(string(text)) // studies, failed, processor seconds, mean log ratio of plateaus
	if len(fields) != 4 {
		log.Fatalf("R says %q", text)
	}
	theirs, err := strconv.ParseFloat(fields[2], 64)
	check(err)

	f, err := os.Create(filepath.Join(dir, "studies.csv"))
	check(err)
	w := csv.NewWriter(io.MultiWriter(f, os.Stdout))
	each := own / float64(*studies)
	check(w.WriteAll([][]string{
		{"program", "studies", "failed", "cpu_seconds", "wall_seconds", "cpu_seconds_a_study", "times_tyro"},
		{"tyro, fit, contrast and interval", fmt.Sprint(*studies), fmt.Sprint(row.Failed), fmt.Sprintf("%.1f", own), fmt.Sprintf("%.1f", wall), fmt.Sprintf("%.3f", each), "1"},
		{"nlme, bare fit from the true values", fields[0], fields[1], fields[2], "", fmt.Sprintf("%.3f", theirs/float64(*beside)), fmt.Sprintf("%.1f", theirs/float64(*beside)/each)},
	}))
	check(f.Close())
}

// table is the attempts of the studies that R fits too.
func table(d plan.Design) []byte {
	var b strings.Builder
	b.WriteString("study,trainee,arm,attempt,seconds\n")
	for i := range *beside {
		ts, err := plan.Attempts(d, 1, i)
		check(err)
		for _, t := range ts {
			for _, a := range t.Attempts {
				fmt.Fprintf(&b, "%d,%s,%s,%g,%.10g\n", i, t.ID, t.Arm, a.Number, a.Response)
			}
		}
	}
	return []byte(b.String())
}

func processor() float64 {
	var use syscall.Rusage
	check(syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return float64(use.Utime.Sec+use.Stime.Sec) + float64(use.Utime.Usec+use.Stime.Usec)/1e6
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
