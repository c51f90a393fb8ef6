package datasets

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// RatingsDated reports whether any item's ratings have dates.
func (s *Study) RatingsDated() bool {
	return s.Ratings != nil && slices.ContainsFunc(s.Ratings.Items, func(it RatedItem) bool { return it.Dated })
}

// ratingsUpTo leaves out every rating made after a day, and subjects, raters and items of
// which none is left then. Ratings whose date is not known are kept, and counted.
func (s *Study) ratingsUpTo(day time.Time) (later, undated int) {
	if s.Ratings == nil {
		return 0, 0
	}
	last := float64(day.Unix()) / 86400
	r := *s.Ratings
	r.Items = nil
	for _, it := range s.Ratings.Items {
		if !it.Dated || it.Rounds != nil { // of rounds, only the first has its dates
			undated += ratingsOf(it)
			r.Items = append(r.Items, it)
			continue
		}
		it.Scores = slices.Clone(it.Scores)
		left := 0
		for i := range it.Scores {
			it.Scores[i] = slices.Clone(it.Scores[i])
			for k, v := range it.Scores[i] {
				switch when := it.When[i][k]; {
				case math.IsNaN(v):
				case math.IsNaN(when):
					undated++
				case when > last:
					it.Scores[i][k] = math.NaN()
					left++
				}
			}
		}
		later += left
		if left > 0 {
			it = rated(it)
		}
		if len(it.Subjects) > 0 {
			r.Items = append(r.Items, it)
		}
	}
	s.Ratings = &r
	return later, undated
}

// ratingsOf is how many ratings an item has.
func ratingsOf(it RatedItem) int {
	n := 0
	for _, row := range it.Scores {
		for _, v := range row {
			if !math.IsNaN(v) {
				n++
			}
		}
	}
	return n
}

// rated is an item with those subjects and raters alone who have a rating in it.
func rated(it RatedItem) RatedItem {
	known := func(v float64) bool { return !math.IsNaN(v) }
	var rows, columns []int
	for i, row := range it.Scores {
		if slices.ContainsFunc(row, known) {
			rows = append(rows, i)
		}
	}
	for k := range it.Raters {
		if slices.ContainsFunc(rows, func(i int) bool { return known(it.Scores[i][k]) }) {
			columns = append(columns, k)
		}
	}
	grid := func(all [][]float64) [][]float64 {
		var out [][]float64
		for _, i := range rows {
			out = append(out, at(all[i], columns))
		}
		return out
	}
	out := it
	out.Subjects, out.Raters = at(it.Subjects, rows), at(it.Raters, columns)
	out.Scores, out.When = grid(it.Scores), grid(it.When)
	if it.Trainees != nil {
		out.Trainees = at(it.Trainees, rows)
	}
	return out
}

// at are the values at some places.
func at[T any](all []T, places []int) []T {
	var out []T
	for _, i := range places {
		out = append(out, all[i])
	}
	return out
}

// ratingsUpToText says what became of the ratings.
func ratingsUpToText(later, undated int, dated bool) string {
	switch {
	case !dated:
		return "ratings, whose dates are not known, are all kept"
	case later == 0 && undated == 0:
		return "no rating was made later"
	}
	text := "no rating was made later"
	if later > 0 {
		text = fmt.Sprintf("ratings made later are left out, %d of them", later)
	}
	if undated > 0 {
		text += fmt.Sprintf(", and %d whose date is not known are kept", undated)
	}
	return text
}
