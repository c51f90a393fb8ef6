// Pages measures what a large study's report takes: it writes an invented study of 200
// trainees with 120 attempts each, runs tyro report on it with default settings, every
// trainee's page and a journal's bundle, and opens the pages in headless Chromium at the
// width of a desk and of a phone. Run it from the project's folder:
//
//	go run ./testdata/pages
//
// It prints the time of the run, the size of every kind of page, and the times to the
// first paint and to the load event, the slowest of three visits, with the processor time of
// the browser's main thread, the most of three. Times by the clock hang on what else the
// machine is doing, processor times hardly; README.md says what was measured, and on what.
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

func main() {
	log.SetFlags(0)
	trainees := flag.Int("trainees", 200, "trainees")
	attempts := flag.Int("attempts", 120, "attempts of each")
	keep := flag.String("keep", "", "folder for the study and its report (default: one that is taken away)")
	open := flag.String("open", "", "open the pages of this report, without a run")
	flag.Parse()
	dir := *keep
	if dir == "" {
		made, err := os.MkdirTemp("", "tyro-large-")
		check(err)
		defer os.RemoveAll(made)
		dir = made
	}
	pages := *open
	if pages == "" {
		writeStudy(filepath.Join(dir, "study"), *trainees, *attempts)
		pages = run(dir)
	}
	visit(pages)
}

// run runs the report and prints what it took.
func run(dir string) string {
	tyro := filepath.Join(dir, "tyro")
	build := exec.Command("go", "build", "-o", tyro, "./cmd/tyro")
	build.Stderr = os.Stderr
	check(build.Run())
	pages := filepath.Join(dir, "report")
	report := exec.Command(tyro, "report", filepath.Join(dir, "study"), "--out", pages, "--trainee-pages", "--paper", filepath.Join(dir, "paper"))
	report.Stderr = os.Stderr
	started := time.Now()
	check(report.Run())
	used := report.ProcessState
	fmt.Printf("run: %.0f s (%.0f s of processor time)\n", time.Since(started).Seconds(), (used.UserTime() + used.SystemTime()).Seconds())
	return pages
}

// visit opens every kind of page at both widths.
func visit(dir string) {
	folder, err := filepath.Glob(filepath.Join(dir, "trainees", "*.html"))
	check(err)
	names := []string{filepath.Join(dir, "index.html"), filepath.Join(dir, "director.html")}
	if len(folder) > 0 {
		names = append(names, largest(folder))
	}
	for _, name := range names {
		info, err := os.Stat(name)
		check(err)
		fmt.Printf("%s: %.2f MB\n", filepath.Base(name), float64(info.Size())/1e6)
		path, err := filepath.Abs(name)
		check(err)
		for _, width := range []int64{1400, 390} {
			var slowest timing
			for range 3 {
				t := openOnce(path, width)
				slowest = timing{max(slowest.Paint, t.Paint), max(slowest.Load, t.Load), max(slowest.Drawn, t.Drawn), max(slowest.Busy, t.Busy)}
			}
			fmt.Printf("  at %d px: first paint %.2f s, load %.2f s, every part drawn %.2f s; main thread %.2f s\n", width, slowest.Paint/1e3, slowest.Load/1e3, slowest.Drawn/1e3, slowest.Busy)
		}
	}
}

// A timing is of one visit, in milliseconds from its start.
type timing struct {
	Paint float64 // first paint of anything but the background
	Load  float64 // end of the load event
	Drawn float64 // two frames after that
	Busy  float64 // processor time of the main thread until then, in seconds
}

// openOnce visits a page in a browser of its own, so that nothing is kept from before.
func openOnce(path string, width int64) timing {
	chromium, err := exec.LookPath("chromium")
	check(err)
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.DisableGPU)
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), opts...)
	defer cancel()
	ctx, cancel = chromedp.NewContext(ctx)
	defer cancel()
	ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	defer cancel()
	_, err = chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
	check(err)
	_, err = chromedp.Call(ctx, performance.Enable, performance.EnableParams{TimeDomain: "threadTicks"})
	check(err)
	check(chromedp.Do(ctx, chromedp.EmulateViewport(width, 900), chromedp.Navigate("file://"+path)))
	t, err := chromedp.Run(ctx, chromedp.Evaluate[timing](timesScript, chromedp.EvalAwaitPromise))
	check(err)
	counted, err := chromedp.Call(ctx, performance.GetMetrics, cdp.Empty{})
	check(err)
	for _, m := range counted.Metrics {
		if m.Name == "TaskDuration" {
			t.Busy = m.Value
		}
	}
	return t
}

const timesScript = `new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => {
  const [visit] = performance.getEntriesByType("navigation");
  const paint = performance.getEntriesByType("paint").find(p => p.name === "first-contentful-paint");
  done({Paint: paint ? paint.startTime : NaN, Load: visit.loadEventEnd, Drawn: performance.now()});
})))`

func largest(paths []string) string {
	most, name := int64(-1), ""
	for _, p := range paths {
		info, err := os.Stat(p)
		check(err)
		if info.Size() > most {
			most, name = info.Size(), p
		}
	}
	return name
}

// writeStudy writes the invented study: exponential curves towards a plateau, two arms, a
// standard, a rule, costs, rates to watch for, and three examiners' ratings.
func writeStudy(dir string, trainees, attempts int) {
	check(os.MkdirAll(dir, 0o755))
	random := rand.New(rand.NewPCG(2026, 1))
	rows := [][]string{{"trainee", "arm", "date", "attempt", "seconds", "wall_punctures", "outcome"}}
	first := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	for i := range trainees {
		own, rate := math.Exp(0.15*random.NormFloat64()), 0.06*math.Exp(0.4*random.NormFloat64())
		for k := range attempts {
			v := own * (46 + 120*math.Exp(-rate*float64(k))) * math.Exp(0.2*random.NormFloat64())
			walls, outcome := 0, "done"
			if random.Float64() < 0.2*math.Exp(-rate*float64(k)) {
				walls = 2
			}
			switch {
			case v >= 180:
				v, outcome = 180, "timeout"
			case random.IntN(60) == 0:
				outcome = "failed"
			}
			day := first.AddDate(0, 0, 7*(k/10)).Format(time.DateOnly)
			rows = append(rows, []string{fmt.Sprintf("T%03d", i+1), []string{"spaced", "massed"}[i%2], day, strconv.Itoa(k + 1), strconv.FormatFloat(v, 'f', 1, 64), strconv.Itoa(walls), outcome})
		}
	}
	writeTable(filepath.Join(dir, "attempts.csv"), rows)
	rated := [][]string{{"performance", "examiner", "passed", "global"}}
	for i := range 40 {
		level := 66 + 13*random.NormFloat64()
		for e, name := range []string{"Ash", "Birch", "Cedar"} {
			seen := level - 3*float64(e) + 6*random.NormFloat64()
			rated = append(rated, []string{fmt.Sprintf("P%02d", i+1), name, map[bool]string{true: "yes", false: "no"}[seen > 60], strconv.FormatFloat(math.Round(seen), 'f', -1, 64)})
		}
	}
	writeTable(filepath.Join(dir, "ratings.csv"), rated)
	check(os.WriteFile(filepath.Join(dir, "study.yaml"), []byte(studyText), 0o644))
}

func writeTable(path string, rows [][]string) {
	f, err := os.Create(path)
	check(err)
	check(csv.NewWriter(f).WriteAll(rows))
	check(f.Close())
}

const studyText = `title: An invented study of many trainees
purpose: research
decides: the lab lead
seed: 7
arms: [spaced, massed]
attempts: {file: attempts.csv}
ratings:
  file: ratings.csv
  subject: performance
  rater: examiner
  items:
    - {name: passed, scale: nominal, levels: ["no", "yes"]}
    - {name: global, scale: interval}
tasks:
  - name: cannulation
    measure: time
    column: seconds
    unit: s
    better: lower
    limit: 180
    counts: [wall_punctures]
    at_most: {wall_punctures: 1}
    standard: {value: 57, method: by agreement, decided_by: the lab lead, decided_on: 2026-01-12}
    rule: 2 in a row
    horizon: 200
    monitor: {acceptable: 0.2, unacceptable: 0.4}
    costs: {unit: credits, lab_minutes: 12, examiner_minutes: 4, consumables: 3, lab_hour_price: 40, examiner_hour_price: 60, per_trainee: 25}
`

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
