// Command peers fits the same series with tyro, R (nls and minpack.lm::nlsLM) and
// SciPy (curve_fit, unbounded and bounded), one core each, and prints how long
// each took and how often each reached the lowest residual sum of squares. It
// writes peers.csv beside itself. R with minpack.lm and a Python with SciPy must be
// installed (Debian: r-cran-minpack.lm, python3-scipy).
//
//	go run ./testdata/peers
//
// speed: 500 series of 40 attempts, power and exponential by turns, normal noise;
// every program starts where its users would, tyro needs no start. hard: 2,000
// series that are short, noisy, flat, rising or have outliers; nlsLM starts from six
// rates and the bounded curve_fit from three, both held to tyro's own bounds on the
// rate, and the best of the peers' results counts.
package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"log"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"

	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

const dir = "testdata/peers"

// A task is one series to fit, with the bounds of the rate.
type task struct {
	Set, Kind, Family string
	X, Y              []float64
	Lower, Upper      float64
}

// A result is what a program made of one set: seconds in all, and the residual
// sum of squares of each series (0 where it gave up).
type result struct {
	Seconds float64
	RSS     []float64
}

func main() {
	work, err := os.MkdirTemp("", "peers")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(work)
	out, err := os.Create(filepath.Join(dir, "peers.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write([]string{"set", "program", "series", "microseconds_a_series", "times_tyro", "share_lowest", "gave_up", "worst_excess_of_tyro"})
	for _, set := range [][]task{speedSet(), hardSet()} {
		path := filepath.Join(work, "tasks.json")
		data, err := json.Marshal(set)
		if err != nil {
			log.Fatal(err)
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			log.Fatal(err)
		}
		results := map[string]result{"tyro": ours(set)}
		ask(results, "R", "--slave", "--no-restore", "-f", filepath.Join(dir, "peers.R"), "--args", path)
		ask(results, "/usr/bin/python3", filepath.Join(dir, "peers.py"), path)
		for _, r := range summarise(set, results) {
			fmt.Println(r)
			w.Write(r)
		}
		w.Flush()
	}
}

// ask runs a peer, which prints its results as JSON by name.
func ask(into map[string]result, name string, args ...string) {
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		log.Fatalf("%s: %v\n%s", name, err, errs.String())
	}
	if err := json.Unmarshal(out, &into); err != nil {
		log.Fatalf("%s: %v", name, err)
	}
}

// ours fits every series with a fitter kept for its attempts and family.
func ours(set []task) result {
	fitters := map[string]*fit.Fitter{}
	key := func(t task) string { return t.Family + strconv.Itoa(len(t.X)) }
	for _, t := range set {
		if fitters[key(t)] != nil {
			continue
		}
		family, err := models.ByName(t.Family, 1)
		if err != nil {
			log.Fatal(err)
		}
		f, err := fit.NewFitter(fit.Spec{Family: family, Noise: models.Normal{}}, t.X)
		if err != nil {
			log.Fatal(err)
		}
		fitters[key(t)] = f
	}
	r := result{RSS: make([]float64, len(set))}
	start := time.Now()
	for i, t := range set {
		if got := fitters[key(t)].Refit(t.Y, nil); got.OK {
			r.RSS[i] = 2 * got.Loss
		}
	}
	r.Seconds = time.Since(start).Seconds()
	return r
}

// summarise makes a row a program. Within one part in 1e8 counts as lowest.
func summarise(set []task, results map[string]result) [][]string {
	best, bestPeer := make([]float64, len(set)), make([]float64, len(set))
	for i := range set {
		best[i], bestPeer[i] = math.Inf(1), math.Inf(1)
		for name, r := range results {
			if v := r.RSS[i]; v > 0 {
				best[i] = math.Min(best[i], v)
				if name != "tyro" {
					bestPeer[i] = math.Min(bestPeer[i], v)
				}
			}
		}
	}
	excess := 0.0
	for i, v := range results["tyro"].RSS {
		e := v/bestPeer[i] - 1
		if v == 0 {
			e = math.Inf(1)
		}
		if e > 1e-8 {
			fmt.Printf("series %d, %s %s: RSS %.10g above the best peer's %.10g\n", i, set[i].Kind, set[i].Family, v, bestPeer[i])
		}
		excess = math.Max(excess, e)
	}
	var rows [][]string
	for _, name := range []string{"tyro", "nls", "nlsLM", "curve_fit", "curve_fit bounded"} {
		r, ok := results[name]
		if !ok {
			continue
		}
		lowest, gaveUp := 0, 0
		for i, v := range r.RSS {
			switch {
			case !(v > 0):
				gaveUp++
			case v <= best[i]*(1+1e-8):
				lowest++
			}
		}
		n := float64(len(set))
		f := func(v float64, digits int) string { return strconv.FormatFloat(v, 'g', digits, 64) }
		row := []string{set[0].Set, name, strconv.Itoa(len(set)), f(1e6*r.Seconds/n, 3), f(r.Seconds/results["tyro"].Seconds, 3), f(float64(lowest)/n, 4), strconv.Itoa(gaveUp), ""}
		if name == "tyro" {
			row[7] = f(excess, 3)
		}
		rows = append(rows, row)
	}
	return rows
}

func speedSet() []task {
	var set []task
	for i := range 500 {
		set = append(set, simulate("speed", "usual", i, 40, 140, 12))
	}
	return set
}

func hardSet() []task {
	var set []task
	for i := range 400 {
		set = append(set,
			simulate("hard", "short", i, 6, 140, 12),
			simulate("hard", "noisy", i, 30, 140, 60),
			simulate("hard", "flat", i, 30, 0, 12),
			simulate("hard", "rising", i, 30, -30, 8),
			simulate("hard", "outliers", i, 30, 140, 12))
	}
	return set
}

// simulate makes series i of a kind.
func simulate(set, kind string, i, n int, gain, sd float64) task {
	r := resample.Stream(20260303, "peers/"+set+"/"+kind, i)
	name, rate := "power", 0.6
	if i%2 == 1 {
		name, rate = "exponential", 0.15
	}
	family, err := models.ByName(name, 1)
	if err != nil {
		log.Fatal(err)
	}
	curve := family.Curve([]float64{40, gain, rate * math.Exp(0.4*r.NormFloat64())})
	t := task{Set: set, Kind: kind, Family: name}
	var clock []float64
	for k := 1; k <= n; k++ {
		x := float64(k)
		y := curve.At(x) + sd*r.NormFloat64()
		if kind == "outliers" && r.IntN(10) == 0 {
			y += 15 * sd * r.Float64()
		}
		t.X, t.Y = append(t.X, x), append(t.Y, y)
		clock = append(clock, family.Shape().Clock(x))
	}
	rates := family.Shape().Search(clock)[0]
	t.Lower, t.Upper = rates[0], rates[len(rates)-1]
	return t
}
