package datasets

import (
	"fmt"
	"math"
	"slices"
)

// sumsUp notes a trainee whose numbers are, attempt by attempt, the mean of those of all others, or of
// others in the same arm, and series that end in the mean, the sum or the best of themselves.
func (r *logReader) sumsUp(log *Log) {
	for _, t := range r.study.Tasks {
		if j := slices.Index(r.measures, t.Column); j >= 0 && t.Measure != PassFail {
			r.meanOfOthers(log, t.Name, j)
			r.endsInItself(log, t.Name, j)
		}
	}
}

// meanOfOthers notes such a trainee.
func (r *logReader) meanOfOthers(log *Log, task string, j int) {
	if r.series.groups() > mostRankedSeries || r.notedCode("series-twice") {
		return
	}
	all, arms, groups := map[float64][]float64{}, map[string]map[float64][]float64{}, 0
	for _, rows := range r.seriesOf(task) {
		groups++
		for _, i := range rows {
			a := log.Attempts[i]
			v := log.Values(a)[j]
			if math.IsNaN(v) {
				continue
			}
			all[a.Number] = append(all[a.Number], v)
			if a.Arm != "" {
				if arms[a.Arm] == nil {
					arms[a.Arm] = map[float64][]float64{}
				}
				arms[a.Arm][a.Number] = append(arms[a.Arm][a.Number], v)
			}
		}
	}
	if groups < 4 {
		return
	}
	for _, vs := range all {
		slices.Sort(vs)
	}
	for _, arm := range arms {
		for _, vs := range arm {
			slices.Sort(vs)
		}
	}
	for _, rows := range r.seriesOf(task) {
		for _, of := range []map[float64][]float64{all, arms[log.Attempts[rows[0]].Arm]} {
			if what := r.whatOfOthers(log, rows, j, of); what != "" {
				who := log.Attempts[rows[0]].Trainee
				r.note("sums-up-others", fmt.Sprintf("%s: the numbers of %q are, attempt by attempt, the %s of those of the other trainees; where it stands for no trainee, --without %q leaves its rows out (in a study file: without)", r.file, who, what, r.cols.Trainee+"="+who))
				break
			}
		}
	}
}

// whatOfOthers is what one series is of the others: their mean, sum, median, least or largest; blank for
// none.
func (r *logReader) whatOfOthers(log *Log, rows []int32, j int, of map[float64][]float64) string {
	is := map[string]bool{"mean": true, "sum": true, "median": true, "least": true, "largest": true}
	n, differ := 0, false
	for _, i := range rows {
		a := log.Attempts[i]
		v := log.Values(a)[j]
		if math.IsNaN(v) || of[a.Number] == nil {
			continue
		}
		rest := others{of[a.Number], v}
		k := len(rest.all) - 1
		if k < 3 {
			return ""
		}
		sum := rest.sum()
		near := max(0.006*math.Abs(v), 1e-9)
		if v == math.Round(v) {
			near = max(near, 0.5001)
		} else {
			near = min(near, 0.0501)
		}
		is["mean"] = is["mean"] && math.Abs(v-sum/float64(k)) <= near
		is["sum"] = is["sum"] && math.Abs(v-sum) <= near
		is["median"] = is["median"] && math.Abs(v-(rest.at((k-1)/2)+rest.at(k/2))/2) <= min(near, 0.0501)
		is["least"], is["largest"] = is["least"] && v == rest.at(0), is["largest"] && v == rest.at(k-1)
		differ = differ || rest.at(k-1)-rest.at(0) > 4*near
		n++
		if !is["mean"] && !is["sum"] && !is["median"] && !is["least"] && !is["largest"] {
			return ""
		}
	}
	if n < 3 || !differ || r.readers[j].differentNumbers() < 12 {
		return ""
	}
	for _, what := range []string{"mean", "sum", "median", "least", "largest"} {
		if is[what] {
			return what
		}
	}
	return ""
}

// others are numbers in order without one of them.
type others struct {
	all     []float64
	without float64
}

// at is the i-th of them.
func (o others) at(i int) float64 {
	if out, _ := slices.BinarySearch(o.all, o.without); i >= out {
		i++
	}
	return o.all[i]
}

func (o others) sum() float64 {
	total := 0.0
	out, _ := slices.BinarySearch(o.all, o.without)
	for i, v := range o.all {
		if i != out {
			total += v
		}
	}
	return total
}

// endsInItself notes series of which every one's last number, or first, is the mean, the sum, the least, the
// largest or the difference of the others.
func (r *logReader) endsInItself(log *Log, task string, j int) {
	if r.endIs(log, task, j, false) == "" {
		r.endIs(log, task, j, true)
	}
}

// endIs notes it of the last number, or of the first, and says what it is.
func (r *logReader) endIs(log *Log, task string, j int, first bool) string {
	is := []string{"mean", "sum", "difference"}
	if m := r.readers[j]; m.kind == Time && m.differentNumbers() >= 12 && !first {
		is = append(is, "least", "largest") // not by chance, as among few numbers
	}
	series := 0
	for _, rows := range r.seriesOf(task) {
		if series == mostRankedSeries {
			break
		}
		at := r.inOrder(log, rows)
		var vs []float64
		for _, i := range at {
			if v := log.Values(log.Attempts[i])[j]; !math.IsNaN(v) {
				vs = append(vs, v)
			}
		}
		if first {
			slices.Reverse(vs)
		}
		if len(vs) < 4 {
			continue
		}
		rest, last := vs[:len(vs)-1], vs[len(vs)-1]
		low, high, sum := slices.Min(rest), slices.Max(rest), 0.0
		for _, v := range rest {
			sum += v
		}
		if low == high {
			continue
		}
		series++
		near := 0.0501
		if last == math.Round(last) {
			near = 0.5001
		}
		is = slices.DeleteFunc(is, func(what string) bool {
			switch what {
			case "mean":
				return math.Abs(last-sum/float64(len(rest))) > near
			case "sum":
				return math.Abs(last-sum) > 0.0101
			case "difference":
				return math.Abs(last-math.Abs(rest[0]-rest[len(rest)-1])) > 0.0101
			case "least":
				return last != low
			}
			return last != high
		})
		if len(is) == 0 {
			return ""
		}
	}
	if series < 3 {
		return ""
	}
	place, others := "last", "before it"
	if first {
		place, others = "first", "after it"
	}
	r.note("last-sums-up", fmt.Sprintf("%s: in column %s the %s number of every trainee is the %s of those %s; where it is no attempt, leave it out by --without or --ignore (in a study file: without, ignore)", r.file, r.readers[j].name, place, is[0], others))
	return is[0]
}
