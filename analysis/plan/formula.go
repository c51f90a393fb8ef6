package plan

import "sort"

// ByFormula is the smallest number of trainees at which the closed form says that the
// power reaches a target or, where the question is one of precision, that the expected
// width is no larger than asked. False where there is no closed form, or no such size up
// to most.
func (d Design) ByFormula(target float64, most int) (int, bool) {
	gives := func(n int) bool {
		q, err := d.At(n, d.Attempts).ready()
		if err != nil {
			return false
		}
		f := q.formula()
		if f == nil {
			return false
		}
		if d.Width > 0 {
			return f.Width <= d.Width*(1+1e-12)
		}
		return f.Power >= target
	}
	n := 2 + sort.Search(most-1, func(k int) bool { return gives(2 + k) })
	return n, n <= most && gives(n)
}
