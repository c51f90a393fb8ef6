// Command trainee measures how often the 95 % intervals for one trainee's attempts
// to proficiency cover the truth, under four definitions:
//
//	go run ./testdata/coverage/trainee > testdata/coverage/trainee/trainee.csv
//
// with -fitted own or -fitted auto for one half of it. Each cell simulates series with
// multiplicative noise of log-SD 0.2 about a known curve whose standard is 70. In the
// cells with a share of 0.2 every fifth series has a plateau of 80 instead, so that its
// curve never meets the standard. The same series and replicates serve both interval
// methods. An interval covers a number of attempts that lies between its ends
// (mean-crossing and pass-chance: before rounding up to whole attempts), and a truth
// beyond the horizon when its upper end is beyond it too. The chart is at failure rates
// of 0.2 and 0.4, with the limit that tyro chooses for them; it signals of a curve that
// never meets the standard, with chance one half, at no attempt within the horizon.
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

const (
	series   = 1000
	logSD    = 0.2
	standard = 70
	horizon  = 200
	seed     = 20260302
	ruleText = "2 in a row"
)

// rates are those of the chart.
var rates = monitor.Rates{Acceptable: 0.2, Unacceptable: 0.4}

type cell struct {
	reaching, never models.Curve
	attempts        int
	share           float64 // of series that never meet the standard
	auto            bool
}

// Choosing a family anew in every replicate is slow, so that these cells take fewer
// replicates, and BCa fewer series.
func (c cell) replicates() int {
	if c.auto {
		return 299
	}
	return 499
}

func (c cell) series(m resample.Method) int {
	if c.auto && m == resample.BCa {
		return 300
	}
	return series
}

func main() {
	fitted := flag.String("fitted", "both", "own: the curve's own family; auto: chosen by AICc; both")
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"truth", "attempts", "never_share", "fitted", "definition", "true_attempts", "true_attempts_never", "interval", "replicates", "series", "covered", "below", "above", "covered_reaching", "covered_never", "open_above", "refused"})
	for _, c := range cells() {
		if *fitted == "own" && c.auto || *fitted == "auto" && !c.auto {
			continue
		}
		rows, err := c.run()
		if err != nil {
			log.Fatal(err)
		}
		w.WriteAll(rows)
	}
	if err := w.Error(); err != nil {
		log.Fatal(err)
	}
}

func cells() []cell {
	var out []cell
	for _, auto := range []bool{false, true} {
		for _, attempts := range []int{15, 30} {
			for _, share := range []float64{0, 0.2} {
				if auto && share == 0 {
					continue // those with a share hold four fifths of the same
				}
				out = append(out,
					cell{models.Power().Curve([]float64{40, 140, 0.6}), models.Power().Curve([]float64{80, 100, 0.6}), attempts, share, auto},
					cell{models.Exponential(1).Curve([]float64{55, 125, 0.15}), models.Exponential(1).Curve([]float64{80, 100, 0.15}), attempts, share, auto})
			}
		}
	}
	return out
}

func (c cell) specs() []fit.Spec {
	common := fit.Spec{Family: c.reaching.Family, Noise: models.Lognormal{}, Positive: true}
	if !c.auto {
		return []fit.Spec{common}
	}
	var families []models.Family
	for _, name := range models.Candidates(models.Lognormal{}) {
		f, err := models.ByName(name, 1)
		if err != nil {
			log.Fatal(err)
		}
		families = append(families, f)
	}
	return fit.Candidates(common, families)
}

// truth lists the attempts to proficiency of a curve in the order of the answers:
// mean-crossing, pass-chance, rule-met, chart-signal.
func truth(c models.Curve, rule practice.Rule, chart *stopping.Chart) []float64 {
	within := func(n float64) float64 {
		if math.Ceil(n) > horizon {
			return math.Inf(1)
		}
		return n
	}
	chance := make([]float64, horizon)
	for i := range chance {
		chance[i] = distuv.UnitNormal.CDF(math.Log(standard/c.At(float64(i+1))) / logSD)
	}
	needed := standard * math.Exp(-distuv.UnitNormal.Quantile(0.8)*logSD)
	return []float64{within(c.Crossing(standard, 1, true)), within(c.Crossing(needed, 1, true)), evenBy(stopping.Rule{Rule: rule}, chance), evenBy(chart, chance)}
}

// evenBy is the first attempt by which practice has stopped with chance one half.
func evenBy(p stopping.Policy, chance []float64) float64 {
	by, err := p.MetBy(chance)
	if err != nil {
		log.Fatal(err)
	}
	at := math.Inf(1)
	for i := len(by) - 1; i >= 0 && by[i] >= 0.5; i-- {
		at = float64(i + 1)
	}
	return at
}

// isNever reports whether series k is one of those that never meet the standard.
func (c cell) isNever(k int) bool { return c.share > 0 && k%int(1/c.share) == 0 }

func (c cell) run() ([][]string, error) {
	rule, err := practice.ParseRule(ruleText)
	if err != nil {
		return nil, err
	}
	chart, err := stopping.NewChart(rates)
	if err != nil {
		return nil, err
	}
	truths := map[bool][]float64{false: truth(c.reaching, rule, chart), true: truth(c.never, rule, chart)}
	methods := []resample.Method{resample.Percentile, resample.BCa}
	answers := make([][][]proficiency.Answer, series) // by series, method, definition
	sampling := resample.Sampling{Seed: seed, Replicates: c.replicates(), Workers: 1}
	err = resample.Each(context.Background(), series, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			curve := c.reaching
			if c.isNever(k) {
				curve = c.never
			}
			r := resample.Stream(seed, fmt.Sprint("series/", curve.Family.Name(), curve.Theta(), c.attempts, c.share), k)
			var at, response []float64
			for n := 1.0; n <= float64(c.attempts); n++ {
				at, response = append(at, n), append(response, curve.At(n)*math.Exp(logSD*r.NormFloat64()))
			}
			l, err := proficiency.Learn(practice.Measured(strconv.Itoa(k), at, response), c.specs())
			if err != nil {
				return err
			}
			for _, m := range methods {
				if k >= c.series(m) {
					continue
				}
				q := proficiency.Question{Standard: practice.Standard{Value: standard, Lower: true}, Horizon: horizon, Rule: rule, Chart: chart, Interval: m}
				a, err := l.Attempts(context.Background(), q, sampling, strconv.Itoa(k))
				if err != nil {
					return err
				}
				answers[k] = append(answers[k], a)
			}
			return nil
		}
	})
	if err != nil {
		return nil, err
	}
	var rows [][]string
	for d, name := range []string{proficiency.MeanCrossing, proficiency.PassChance, proficiency.RuleMet, proficiency.ChartSignal} {
		for m, method := range methods {
			var n tally
			for k := range c.series(method) {
				n.add(answers[k][m][d], truths[c.isNever(k)][d], c.isNever(k))
			}
			rows = append(rows, append([]string{c.reaching.Family.Name(), strconv.Itoa(c.attempts), number(c.share), c.fitted(), name, number(truths[false][d]), c.neverText(truths[true][d]), string(method), strconv.Itoa(c.replicates())}, n.cells()...))
		}
	}
	return rows, nil
}

func (c cell) fitted() string {
	if c.auto {
		return "chosen by AICc"
	}
	return "its own family"
}

func (c cell) neverText(v float64) string {
	if c.share == 0 {
		return ""
	}
	return number(v)
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// A tally counts intervals by where the truth lies.
type tally struct {
	below, above, open, refused int
	covered, all                [2]int // of series that reach the standard, and that never do
}

func (t *tally) add(a proficiency.Answer, truth float64, never bool) {
	group := 0
	if never {
		group = 1
	}
	t.all[group]++
	lower, upper := a.Crossing.Lower, a.Crossing.Upper
	switch {
	case math.IsNaN(lower) || math.IsNaN(upper):
		t.refused++
		return
	case truth < lower:
		t.below++
	case truth > upper:
		t.above++
	default:
		t.covered[group]++
	}
	if math.IsInf(upper, 1) {
		t.open++
	}
}

// cells are shares of the series; intervals that were refused cover nothing.
func (t *tally) cells() []string {
	share := func(n, of int) string {
		if of == 0 {
			return ""
		}
		return strconv.FormatFloat(float64(n)/float64(of), 'f', 3, 64)
	}
	total := t.all[0] + t.all[1]
	return []string{
		strconv.Itoa(total), share(t.covered[0]+t.covered[1], total), share(t.below, total), share(t.above, total),
		share(t.covered[0], t.all[0]), share(t.covered[1], t.all[1]), share(t.open, total), share(t.refused, total),
	}
}
