package standard

import "fmt"

// An EbelStandard is a standard from judges who sort the items into classes,
// such as essential and easy.
type EbelStandard struct {
	Estimate // in items: the mean of the judges' totals, with a t interval over judges

	Judges, Items        int
	Totals               []float64
	TotalSD, TotalMedian float64
}

// Ebel takes from every judge the number of items in each class, and the share
// of that class's items that a borderline trainee gets right: items[judge][class]
// and share[judge][class]. A judge's total is the sum over classes; the standard
// is the mean of the totals (Ebel, 1972, Essentials of Educational Measurement).
func Ebel(items [][]int, share [][]float64, level float64) (EbelStandard, error) {
	e := EbelStandard{Judges: len(items)}
	if len(items) != len(share) {
		return e, fmt.Errorf("%d judges sorted items, %d stated shares", len(items), len(share))
	}
	for j := range items {
		if len(items[j]) != len(share[j]) {
			return e, fmt.Errorf("judge %d: %d classes with items, %d with shares", j+1, len(items[j]), len(share[j]))
		}
		total, n := 0.0, 0
		for c, k := range items[j] {
			s := share[j][c]
			if k < 0 || !(s >= 0 && s <= 1) {
				return e, fmt.Errorf("judge %d, class %d: %d items with share %v, expected a share from 0 to 1", j+1, c+1, k, s)
			}
			total += float64(k) * s
			n += k
		}
		if j > 0 && n != e.Items {
			return e, fmt.Errorf("judge %d sorted %d items, the first sorted %d", j+1, n, e.Items)
		}
		e.Items = n
		e.Totals = append(e.Totals, total)
	}
	x, err := meanOfJudges(e.Totals, e.Items, level)
	e.Estimate, e.TotalSD, e.TotalMedian = x.Estimate, x.SD, x.Median
	if e.Judges < 2 {
		e.warn("one-judge", "one judge says nothing of how judges differ, so the standard has no interval")
	}
	return e, err
}
