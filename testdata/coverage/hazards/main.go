// Command hazards measures ways to give a ratio of hazards of two arms that learn along curves,
// where hazards are not proportional: how often a test at 5 % rejects without a difference, and
// how often a 95 % interval holds, with one, what the way itself comes to in 100,000 trainees an
// arm followed to the last attempt. The last way is the one that tyro has; the others were tried.
//
//	go run ./testdata/coverage/hazards > testdata/coverage/hazards/hazards.csv
//
// The bootstrap, which takes long, is tried with -ways bootstrap alone.
//
// Designs: full and strict as in testdata/coverage/compare, without the errors; proportional, a
// ratio of hazards of 2 at every attempt; each also where everybody stops after 5 to 20 attempts
// whatever the progress (early), and with an other arm of half the size (unequal).
package main

import (
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

const attempts = 20

var (
	studies = flag.Int("studies", 2000, "studies a row")
	sizes   = flag.String("sizes", "12,30,100", "trainees an arm")
	designs = flag.String("designs", "full,strict,proportional,full early,strict early,full unequal,strict unequal", "designs to simulate")
	only    = flag.String("ways", "", "only ways whose names begin so, after each other with |")
)

func main() {
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"design", "trainees_an_arm", "way", "studies", "rejected_without_difference", "covered_with_difference", "rejected_with_difference", "mean_log_less_truth", "spread_of_logs"})
	chosen := chosenWays()
	for _, name := range strings.Split(*designs, ",") {
		d := design{name: strings.Fields(name)[0], early: strings.HasSuffix(name, "early"), unequal: strings.HasSuffix(name, "unequal")}
		whole := d
		whole.early = false
		many := whole.draw(resample.Stream(98, "hazard", 0), 100_000, true)
		truths := make([]float64, len(chosen))
		for i, x := range chosen {
			truths[i] = x.limit(many)
		}
		for _, size := range strings.Split(*sizes, ",") {
			n, err := strconv.Atoi(size)
			if err != nil {
				log.Fatal(err)
			}
			tallies := make([][2]tally, len(chosen))
			for k := range *studies {
				for differ := range 2 {
					t := d.draw(resample.Stream(31, "hazard "+name+fmt.Sprint(differ), k), n, differ == 1)
					for i, x := range chosen {
						tallies[i][differ].add(x.of(t), float64(differ)*truths[i])
					}
				}
			}
			for i, x := range chosen {
				none, some := tallies[i][0], tallies[i][1]
				mean := some.sum / some.finite
				w.Write([]string{name, size, x.name, fmt.Sprint(some.studies), share(none.rejected, none.studies), share(some.covered, some.studies), share(some.rejected, some.studies),
					fmt.Sprintf("%.3f", mean-truths[i]), fmt.Sprintf("%.3f", math.Sqrt(some.squares/some.finite-mean*mean))})
			}
			w.Flush()
		}
	}
}

func share(hits, n float64) string { return fmt.Sprintf("%.4f", hits/n) }

// A tally counts answers.
type tally struct{ studies, rejected, covered, finite, sum, squares float64 }

func (t *tally) add(a answer, truth float64) {
	if math.IsNaN(a.log) {
		return
	}
	t.studies++
	if !a.holds(0) {
		t.rejected++
	}
	if a.holds(truth) {
		t.covered++
	}
	if math.Abs(a.log) < 10 {
		t.finite, t.sum, t.squares = t.finite+1, t.sum+a.log, t.squares+a.log*a.log
	}
}

// A design says how trainees learn and how far they are followed.
type design struct {
	name           string
	early, unequal bool
}

// A table counts both arms' trainees before each attempt, those who met the rule at it, and
// those who stopped after it without.
type table struct {
	at, met, left [2][attempts + 1]float64
	times         [2][]int // below 0: stopped after so many; above all attempts: followed to the last
}

// moved is by how much the second arm's plateau, gain and pace differ, as logarithms.
var moved = [3]float64{-0.1, -0.15, 0.35}

func (d design) draw(r *rand.Rand, n int, differ bool) table {
	var times [2][]int
	for g := range times {
		var by [3]float64
		if differ && g == 1 {
			by = moved
		}
		if d.unequal && g == 1 {
			n /= 2
		}
		for range n {
			at := d.until(r, by)
			if stop := 5 + r.IntN(attempts-4); d.early && stop < at {
				at = -stop
			}
			times[g] = append(times[g], at)
		}
	}
	return count(times)
}

// until is the attempt at which a trainee meets the rule, two passes in a row.
func (d design) until(r *rand.Rand, by [3]float64) int {
	if d.name == "proportional" {
		rate := 1.
		if by[0] != 0 {
			rate = 2
		}
		for k := 1; k <= attempts; k++ {
			if r.Float64() > math.Pow(0.3, rate/attempts) {
				return k
			}
		}
		return attempts + 1
	}
	standard := map[string]float64{"full": 60, "strict": 47}[d.name]
	plateau := math.Exp(math.Log(45) + by[0] + 0.15*r.NormFloat64())
	gain := math.Exp(math.Log(130) + by[1] + 0.25*r.NormFloat64())
	pace := math.Exp(math.Log(0.2) + by[2] + 0.25*r.NormFloat64())
	run := 0
	for k := 1; k <= attempts; k++ {
		if run++; (plateau+gain*math.Exp(-pace*float64(k-1)))*math.Exp(0.15*r.NormFloat64()) > standard {
			run = 0
		}
		if run == 2 {
			return k
		}
	}
	return attempts + 1
}

func count(times [2][]int) table {
	t := table{times: times}
	for g := range times {
		for _, at := range times[g] {
			switch {
			case at < 0:
				at = -at
				t.left[g][at]++
			case at <= attempts:
				t.met[g][at]++
			}
			for k := 1; k <= min(at, attempts); k++ {
				t.at[g][k]++
			}
		}
	}
	return t
}

// An answer is a log ratio of hazards and what its interval holds.
type answer struct {
	log   float64
	holds func(truth float64) bool
}

// A way gives an answer, and what it comes to with very many trainees.
type way struct {
	name  string
	of    func(t table) answer
	limit func(t table) float64
}

func chosenWays() (out []way) {
	ratio := func(w weights) func(table) float64 { return func(t table) float64 { return top(risks(t, w)) } }
	add := func(name string, of func(table) answer, limit func(table) float64) {
		if *only == "" && !strings.HasPrefix(name, "bootstrap") {
			out = append(out, way{name, of, limit})
			return
		}
		for _, x := range strings.Split(*only, "|") {
			if strings.HasPrefix(name, x) {
				out = append(out, way{name, of, limit})
			}
		}
	}
	add("partial likelihood, variance between trainees or more, t", likelihood(ones, floor{}), ratio(ones))
	add("partial likelihood, so many standard errors", wald(ones), ratio(ones))
	add("Firth's penalty, variance between trainees or more, t", likelihood(ones, floor{firth: true}), ratio(ones))
	add("bias by jackknife taken off, else the first", unbiased(ones), ratio(ones))
	add("jackknife with its standard error", jackknifed(ones), ratio(ones))
	add("bootstrap t of 199", bootstrapT(ones), ratio(ones))
	for _, c := range []float64{0.1, 0.2} {
		add(fmt.Sprintf("while %g of either arm practise, else the first", c), likelihood(either(c), floor{}), ratio(either(c)))
	}
	for _, c := range []float64{0.25, 0.5} {
		add(fmt.Sprintf("until all but %g of both arms met it, else the first", c), likelihood(until(c), floor{}), ratio(until(c)))
	}
	add("weights by survivors, so many standard errors", wald(survivors), ratio(survivors))
	add("weights by survivors, score by trainee", score(survivors), ratio(survivors))
	add("weights by survivors, variance between trainees, t", likelihood(survivors, floor{none: true}), ratio(survivors))
	add("weights by survivors, variance between trainees or more, t", likelihood(survivors, floor{}), ratio(survivors))
	add("weights by root of survivors, variance between trainees or more, normal where more", likelihood(rooted, floor{normal: true}), ratio(rooted))
	add("weights by survivors over followed, variance between trainees or more, normal where more", likelihood(followed, floor{normal: true}), ratio(followed))
	add("compare", asCompare, ratio(followed))
	return out
}

// asCompare is what tyro gives.
func asCompare(t table) answer {
	var obs [2][]survival.Observation
	for g := range obs {
		for _, at := range t.times[g] {
			o := survival.Observation{Time: float64(min(at, attempts)), Event: at <= attempts}
			if at < 0 {
				o = survival.Observation{Time: float64(-at)}
			}
			obs[g] = append(obs[g], o)
		}
	}
	c := compare.HazardRatio("h", "a", "b", obs[0], obs[1], 0)
	return answer{math.Log(c.Estimate), func(b float64) bool { return c.Lower <= math.Exp(b) && math.Exp(b) <= c.Upper }}
}

type weights func(t table) [attempts + 1]float64

func ones(table) (w [attempts + 1]float64) {
	for k := range w {
		w[k] = 1
	}
	return w
}

// survivors is the share of both arms that has not met the rule before an attempt.
func survivors(t table) (w [attempts + 1]float64) {
	yet := 1.0
	for k := 1; k <= attempts; k++ {
		w[k] = yet
		if n := t.at[0][k] + t.at[1][k]; n > 0 {
			yet *= 1 - (t.met[0][k]+t.met[1][k])/n
		}
	}
	return w
}

// followed is survivors over the share still followed.
func followed(t table) [attempts + 1]float64 {
	w, still := survivors(t), 1.0
	for k := 1; k <= attempts && still > 0; k++ {
		w[k] /= still
		if n := t.at[0][k] + t.at[1][k] - t.met[0][k] - t.met[1][k]; n > 0 {
			still *= 1 - (t.left[0][k]+t.left[1][k])/n
		}
	}
	return w
}

func rooted(t table) [attempts + 1]float64 {
	w := survivors(t)
	for k := range w {
		w[k] = math.Sqrt(w[k])
	}
	return w
}

func either(least float64) weights {
	return func(t table) (w [attempts + 1]float64) {
		for k := 1; k <= attempts; k++ {
			if t.at[0][k] >= least*t.at[0][1] && t.at[1][k] >= least*t.at[1][1] {
				w[k] = 1
			}
		}
		return w
	}
}

func until(left float64) weights {
	return func(t table) (w [attempts + 1]float64) {
		for k, s := range survivors(t) {
			if s > left {
				w[k] = 1
			}
		}
		return w
	}
}

// A risk is an attempt at which somebody met the rule while both arms practised.
type risk struct {
	k                 int
	n0, n1, d0, d1, w float64
}

func risks(t table, w weights) (out []risk) {
	v := w(t)
	for k := 1; k <= attempts; k++ {
		r := risk{k, t.at[0][k], t.at[1][k], t.met[0][k], t.met[1][k], v[k]}
		if r.d0+r.d1 > 0 && r.n0 > 0 && r.n1 > 0 && r.w > 0 {
			out = append(out, r)
		}
	}
	return out
}

// each calls f with the arm's share of the hazard, the hazard, how much of those who meet it
// have gone, and how many such events that stands for: fifty in place of very many.
func (r risk) each(e float64, f func(z, whole, gone, events float64)) {
	d := r.d0 + r.d1
	steps, half := int(d), 0.0
	if d > 500 {
		steps, half = 50, 0.5
	}
	for k := range steps {
		g := (float64(k) + half) / float64(steps)
		whole := r.n0 - g*r.d0 + (r.n1-g*r.d1)*e
		f((r.n1-g*r.d1)*e/whole, whole, g, d/float64(steps))
	}
}

// at is the weighted partial likelihood, its slope, the information and the variance of the
// slope where hazards are proportional.
func at(rs []risk, b float64) (l, slope, information, variance float64) {
	for _, r := range rs {
		l, slope = l+r.w*r.d1*b, slope+r.w*r.d1
		r.each(math.Exp(b), func(z, whole, _, events float64) {
			l -= events * r.w * math.Log(whole)
			slope -= events * r.w * z
			information += events * r.w * z * (1 - z)
			variance += events * r.w * r.w * z * (1 - z)
		})
	}
	return l, slope, information, variance
}

// top is the maximum by Newton steps, or by halves where these do not come to rest.
func top(rs []risk) float64 {
	if len(rs) == 0 {
		return math.NaN()
	}
	b := 0.0
	for range 30 {
		_, slope, information, _ := at(rs, b)
		step := slope / information
		if !(math.Abs(step) < 3) {
			break
		}
		if b += step; math.Abs(step) < 1e-9 {
			return b
		}
	}
	lo, hi := -30.0, 30.0
	for hi-lo > 1e-8 {
		if _, slope, _, _ := at(rs, (lo+hi)/2); slope > 0 {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	return (lo + hi) / 2
}

// between is the variance of the slope between the trainees of each arm.
func between(t table, rs []risk, b float64) (v [2]float64) {
	for g := range v {
		own, before := math.Exp(float64(g)*b), 0.0
		sum, squares, j := 0.0, 0.0, 0
		add := func(n, x float64) { sum, squares = sum+n*x, squares+n*x*x }
		n := t.at[g][1]
		rest := n
		for k := 1; k <= attempts; k++ {
			event := before
			if j < len(rs) && rs[j].k == k {
				r, lost := rs[j], 0.0
				r.each(math.Exp(b), func(z, whole, gone, events float64) {
					x := events * r.w * own * (float64(g) - z) / whole
					lost -= x
					event += events*r.w*(float64(g)-z)/(r.d0+r.d1) - (1-gone)*x
				})
				before += lost
				j++
			}
			add(t.met[g][k], event)
			add(t.left[g][k], before)
			rest -= t.met[g][k] + t.left[g][k]
		}
		add(rest, before)
		v[g] = n / (n - 1) * (squares - sum*sum/n)
	}
	return v
}

func welch(v [2]float64, t table) float64 {
	sum := v[0] + v[1]
	return sum * sum / (v[0]*v[0]/(t.at[0][1]-1) + v[1]*v[1]/(t.at[1][1]-1))
}

// furthest is the quantile of t, or of the normal distribution without degrees of freedom.
func furthest(df float64) float64 {
	if math.IsInf(df, 1) {
		return distuv.UnitNormal.Quantile(0.975)
	}
	return distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.975)
}

// A floor is what becomes of a variance between trainees below that of proportional hazards.
type floor struct{ none, normal, firth bool }

// likelihood is the likelihood ratio over how much more the estimate varies than it says.
func likelihood(w weights, f floor) func(table) answer {
	return func(t table) answer {
		rs := risks(t, w)
		best := top(rs)
		if math.IsNaN(best) {
			return answer{log: best}
		}
		value := func(b float64) float64 {
			l, _, information, _ := at(rs, b)
			if f.firth {
				l += math.Log(information) / 2
			}
			return l
		}
		if f.firth {
			best = highest(value)
		}
		df, scale := t.at[0][1]+t.at[1][1]-2, 1.0
		if math.Abs(best) >= 25 {
			_, _, information, v := at(rs, 0)
			scale = v / information
		} else {
			_, _, information, least := at(rs, best)
			v := between(t, rs, best)
			switch own := v[0] + v[1]; {
			case f.none && own > 0, own > least:
				scale, df = own/information, welch(v, t)
			case f.normal:
				scale, df = least/information, math.Inf(1)
			default:
				scale = least / information
				if own > 0 {
					df = welch(v, t)
				}
			}
		}
		height, far := value(best), furthest(df)
		return answer{best, func(b float64) bool { return 2*(height-value(b))/scale <= far*far }}
	}
}

// highest is the top of one hump, by golden section.
func highest(f func(float64) float64) float64 {
	g := (math.Sqrt(5) - 1) / 2
	lo, hi := -15.0, 15.0
	for hi-lo > 1e-5 {
		if a, b := hi-g*(hi-lo), lo+g*(hi-lo); f(a) >= f(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return (lo + hi) / 2
}

// standardError of the estimate, between trainees and at least that of proportional hazards.
func standardError(t table, rs []risk, b float64) (se, df float64) {
	_, _, information, least := at(rs, b)
	v := between(t, rs, b)
	return math.Sqrt(math.Max(v[0]+v[1], least)) / information, welch(v, t)
}

func wald(w weights) func(table) answer {
	return func(t table) answer {
		rs := risks(t, w)
		best := top(rs)
		if math.IsNaN(best) {
			return answer{log: best}
		}
		se, df := standardError(t, rs, best)
		return answer{best, func(b float64) bool { return math.Abs(b-best) <= furthest(df)*se }}
	}
}

// score asks at every ratio whether the slope is further from 0 than its spread allows.
func score(w weights) func(table) answer {
	return func(t table) answer {
		rs := risks(t, w)
		return answer{top(rs), func(b float64) bool {
			_, slope, _, least := at(rs, b)
			v := between(t, rs, b)
			return math.Abs(slope) <= furthest(welch(v, t))*math.Sqrt(math.Max(v[0]+v[1], least))
		}}
	}
}

// jackknife is the bias and the variance by arm that the estimates without one trainee tell.
func jackknife(t table, w weights, best float64) (bias float64, v [2]float64) {
	for g := range v {
		n, sum, squares := t.at[g][1], 0.0, 0.0
		alike := map[int]float64{}
		for _, at := range t.times[g] {
			alike[at]++
		}
		for at := -attempts; at <= attempts+1; at++ {
			if alike[at] == 0 {
				continue
			}
			less := t
			switch {
			case at < 0:
				less.left[g][-at]--
			case at <= attempts:
				less.met[g][at]--
			}
			for k := 1; k <= min(max(at, -at), attempts); k++ {
				less.at[g][k]--
			}
			x := top(risks(less, w))
			sum, squares = sum+alike[at]*x, squares+alike[at]*x*x
		}
		bias += (n - 1) * (sum/n - best)
		v[g] = (n - 1) / n * (squares - sum*sum/n)
	}
	return bias, v
}

func unbiased(w weights) func(table) answer {
	first := likelihood(w, floor{})
	return func(t table) answer {
		a := first(t)
		bias, _ := jackknife(t, w, a.log)
		if bias = math.Max(-3, math.Min(3, bias)); math.IsNaN(bias) {
			return answer{log: math.NaN()}
		}
		return answer{a.log - bias, func(b float64) bool { return a.holds(b + bias) }}
	}
}

func jackknifed(w weights) func(table) answer {
	return func(t table) answer {
		best := top(risks(t, w))
		bias, v := jackknife(t, w, best)
		if bias = math.Max(-3, math.Min(3, bias)); math.IsNaN(bias) {
			return answer{log: math.NaN()}
		}
		return answer{best - bias, func(b float64) bool { return math.Abs(b-best+bias) <= furthest(welch(v, t))*math.Sqrt(v[0]+v[1]) }}
	}
}

func bootstrapT(w weights) func(table) answer {
	return func(t table) answer {
		rs := risks(t, w)
		best := top(rs)
		if math.IsNaN(best) {
			return answer{log: best}
		}
		se, _ := standardError(t, rs, best)
		r := rand.New(rand.NewPCG(math.Float64bits(best), 7))
		var ts []float64
		for range 199 {
			var again [2][]int
			for g, all := range t.times {
				for range all {
					again[g] = append(again[g], all[r.IntN(len(all))])
				}
			}
			drawn := count(again)
			if rs := risks(drawn, w); len(rs) > 0 {
				b := top(rs)
				own, _ := standardError(drawn, rs, b)
				if x := (b - best) / own; !math.IsNaN(x) {
					ts = append(ts, x)
				}
			}
		}
		slices.Sort(ts)
		lower, upper := resample.Quantile(ts, 0.025), resample.Quantile(ts, 0.975)
		return answer{best, func(b float64) bool { return best-upper*se <= b && b <= best-lower*se }}
	}
}
