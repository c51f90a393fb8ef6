package datasets

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// numbersAsText notes attempt numbers that stand in the order of words, 1, 10, 11, 2, while the measure gets
// better from row to row, and not from number to number: the numbers were sorted by themselves.
func (r *logReader) numbersAsText(log *Log, t Task, j int) {
	if r.isWide || r.cols.Attempt == "" || r.series.groups() > mostRankedSeries {
		return
	}
	var byRow, byNumber trendSum
	asText := 0
	for _, rows := range r.seriesOf(t.Name) {
		if len(rows) < 10 || len(rows) > mostRanked {
			continue
		}
		inWords := slices.IsSortedFunc(rows, func(a, b int32) int {
			return cmp.Compare(grid.FormatNumber(log.Attempts[a].Number), grid.FormatNumber(log.Attempts[b].Number))
		})
		inNumbers := slices.IsSortedFunc(rows, func(a, b int32) int { return cmp.Compare(log.Attempts[a].Number, log.Attempts[b].Number) })
		if !inWords || inNumbers {
			continue
		}
		asText++
		byRow.add(r.doneValues(log, rows, j))
		byNumber.add(r.doneValues(log, r.inOrder(log, rows), j))
	}
	row, number := byRow.z(), byNumber.z()
	if t.LowerIsBetter() {
		row, number = -row, -number
	}
	if asText >= 2 && row >= surelyWorse && row >= number+1 {
		r.note("numbers-as-text", fmt.Sprintf("%s: column %s stands in the order of words (1, 10, 11, 2) for %d trainees, and column %s gets better from row to row rather than from number to number; the numbers may have been sorted by themselves: hold them against the source", r.file, r.cols.Attempt, asText, t.Column))
	}
}

// inOrder are rows of one trainee by their attempt numbers.
func (r *logReader) inOrder(log *Log, rows []int32) []int32 {
	at := slices.Clone(rows)
	slices.SortStableFunc(at, func(a, b int32) int { return cmp.Compare(log.Attempts[a].Number, log.Attempts[b].Number) })
	return at
}

// doneValues are the numbers of attempts that were done, in the order of the rows.
func (r *logReader) doneValues(log *Log, rows []int32, j int) []float64 {
	var vs []float64
	for _, i := range rows {
		if v := log.Values(log.Attempts[i])[j]; !math.IsNaN(v) && log.Attempts[i].Outcome == Done {
			vs = append(vs, v)
		}
	}
	return vs
}

const (
	mostExchanging = 100  // trainees who are held against each other
	farApart       = 0.35 // difference of two trainees, in logarithms, that scatter does not make
)

// A ownLine is a trainee's attempts about a line of their own, in logarithms of number and time.
type ownLine struct {
	who     string
	at      map[float64]float64 // what the line says at an attempt
	residue map[float64]float64 // what the attempt adds to it
}

// exchanged notes two trainees of whom each, at some attempts, has the time that the other's line says:
// lanes or rows changed places.
func (r *logReader) exchanged(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostExchanging || r.notedCode("series-twice") {
		return
	}
	var lines []ownLine
	var scatter []float64
	for g, rows := range r.seriesOf(task) {
		if l, ok := lineOf(log, r.inOrder(log, rows), j); ok {
			l.who = r.placed.trainees[r.series.trainee[g]]
			lines = append(lines, l)
			for _, v := range l.residue {
				scatter = append(scatter, math.Abs(v))
			}
		}
	}
	if len(lines) < 3 {
		return
	}
	slices.Sort(scatter)
	usual := 1.4826 * stat.Quantile(0.5, stat.Empirical, scatter, nil) // standard deviation, were it normal
	var odd []string
	for b := range lines {
		for a := range b {
			if at := changedPlaces(lines[a], lines[b], usual); at != nil {
				odd = append(odd, fmt.Sprintf("%s and %s at attempt %s", lines[a].who, lines[b].who, problem.List(formatNumbers(at), 4)))
			}
		}
	}
	if len(odd) > 0 && len(odd) <= max(1, len(lines)/4) {
		r.note("numbers-exchanged", fmt.Sprintf("%s: in column %s two trainees each have, at a few attempts, a time that is usual for the other (%s); these times may have been exchanged: hold them against the source", r.file, m.name, problem.List(odd, mostNamed)))
	}
}

// changedPlaces are the attempts, fewer than half, at which each of two has what the other's line says, far from the own.
func changedPlaces(a, b ownLine, usual float64) []float64 {
	var at []float64
	shared := 0
	for n, own := range a.at {
		other, ok := b.at[n]
		if !ok {
			continue
		}
		shared++
		apart := own - other
		near := math.Max(0.25*math.Abs(apart), 1.5*usual)
		if math.Abs(apart) >= math.Max(farApart, 4*usual) && math.Abs(a.residue[n]+apart) <= near && math.Abs(b.residue[n]-apart) <= near {
			at = append(at, n)
		}
	}
	if 2*len(at) >= shared {
		return nil
	}
	slices.Sort(at)
	return at
}

// lineOf is the line through a trainee's attempts by the median of the slopes between any two (Theil 1950), which
// a few exchanged ones do not move; false with fewer than five.
func lineOf(log *Log, rows []int32, j int) (ownLine, bool) {
	var x, y, numbers []float64
	for k, i := range rows {
		if v := log.Values(log.Attempts[i])[j]; v > 0 && log.Attempts[i].Outcome == Done {
			x, y, numbers = append(x, math.Log(float64(k+1))), append(y, math.Log(v)), append(numbers, log.Attempts[i].Number)
		}
	}
	if len(x) < 5 || len(x) > mostRanked {
		return ownLine{}, false
	}
	var slopes, levels []float64
	for b := range x {
		for a := range b {
			slopes = append(slopes, (y[b]-y[a])/(x[b]-x[a]))
		}
	}
	slices.Sort(slopes)
	slope := stat.Quantile(0.5, stat.Empirical, slopes, nil)
	for k := range x {
		levels = append(levels, y[k]-slope*x[k])
	}
	sorted := slices.Sorted(slices.Values(levels))
	level := stat.Quantile(0.5, stat.Empirical, sorted, nil)
	l := ownLine{at: map[float64]float64{}, residue: map[float64]float64{}}
	for k, n := range numbers {
		l.at[n], l.residue[n] = level+slope*x[k], levels[k]-level
	}
	return l, true
}
