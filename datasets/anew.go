package datasets

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
)

// beginAnew notes a file in which nearly everybody begins about as badly as in the file before it, having got better
// there: they may be other people with the same codes. Files that are said to be sessions are of the same people.
func (r *logReader) beginAnew(log *Log, task Task) {
	j := slices.Index(r.measures, task.Column)
	if len(r.table.sources) < 2 || r.log.FilesAre != "" || r.cols.Session != "" || j < 0 {
		return
	}
	back := map[[2]uint16][]float64{} // of each pair of files: which part of what was gained in the first is lost again
	for _, rows := range r.seriesOf(task.Name) {
		at := slices.Clone(rows)
		slices.SortFunc(at, func(a, b int32) int { return cmp.Compare(log.Attempts[a].Number, log.Attempts[b].Number) })
		value := func(k int) float64 { return log.Values(log.Attempts[at[k]])[j] }
		file := func(k int) uint16 { return log.Attempts[at[k]].spot().part }
		from := 0
		for k := 1; k < len(at); k++ {
			if file(k) == file(k-1) {
				continue
			}
			if gained := value(k-1) - value(from); k-from >= 3 && gained != 0 && gained < 0 == task.LowerIsBetter() {
				pair := [2]uint16{file(k - 1), file(k)}
				back[pair] = append(back[pair], (value(k-1)-value(k))/gained)
			}
			from = k
		}
	}
	pairs := slices.SortedFunc(maps.Keys(back), func(a, b [2]uint16) int { return slices.Compare(a[:], b[:]) })
	for _, pair := range pairs {
		lost := slices.DeleteFunc(back[pair], math.IsNaN)
		slices.Sort(lost)
		if n := len(lost); n >= 4 && lost[n/10] > 0 && lost[n/2] >= 0.5 && int(max(pair[0], pair[1])) < len(r.table.sources) {
			r.note("begins-anew", fmt.Sprintf("%s: nearly everybody begins in %s as badly as they did in %s, and had got better there; where they are other people give them codes of their own, and where much time passed say so with a column of dates or sessions", r.file, r.table.sources[pair[1]].file, r.table.sources[pair[0]].file))
			return
		}
	}
}
