package datasets

import (
	"fmt"
	"slices"
	"time"

	"tyro/analysis"
	"tyro/datasets/problem"
)

// UpTo leaves out every attempt made after a day, such as 2026-03-31, so that the study
// stands as it did then. Attempts of that day are kept. An attempt without a date is a
// problem: nobody can say whether it had been made. Ratings made later are left out where
// their dates are known, and kept where not; standard and experts are kept as they are.
func (s *Study) UpTo(day string) error {
	last, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return fmt.Errorf("%q is no day: expected one as 2026-03-31", day)
	}
	dated := s.RatingsDated()
	if len(s.Attempts.Attempts) == 0 && dated {
		later, undated := s.ratingsUpTo(last)
		if len(s.Ratings.Items) == 0 {
			return Problem{File: s.Ratings.File, Column: "when", Value: day, Err: problem.ErrRange, Expect: "a day by which something had been rated"}
		}
		s.Notes = append(s.Notes, analysis.Warning{Code: "up-to", Text: fmt.Sprintf("the study is looked at as of %s: %s", day, ratingsUpToText(later, undated, dated))})
		return nil
	}
	if len(s.Attempts.Attempts) == 0 || !s.Attempts.Dated() {
		return Problem{File: s.Attempts.File, Column: "date", Err: problem.ErrMissing, Expect: "dates of the attempts, to know which were made up to " + day}
	}
	var ps Problems
	began := map[string]bool{}
	var kept []Attempt
	for _, a := range s.Attempts.Attempts {
		switch {
		case a.date == 0:
			ps = append(ps, Problem{File: s.Attempts.place(a), Line: int(a.Line), Column: "date", Err: problem.ErrMissing, Expect: fmt.Sprintf("the date of attempt %g of trainee %s, to know whether it was made up to %s", a.Number, a.Trainee, day)})
		case s.Attempts.Date(a)[:len(time.DateOnly)] <= day:
			began[a.Trainee] = true
			kept = append(kept, a)
		}
	}
	if err := ps.OrNil(); err != nil {
		return err
	}
	later, after := len(s.Attempts.Attempts)-len(kept), map[string]bool{}
	for _, a := range s.Attempts.Attempts {
		if !began[a.Trainee] {
			after[a.Trainee] = true
		}
	}
	if len(kept) == 0 {
		return Problem{File: s.Attempts.File, Column: "date", Value: day, Err: problem.ErrRange, Expect: "a day by which somebody had made an attempt"}
	}
	s.Attempts.Attempts = slices.Clip(kept)
	text := upToText(day, later, len(after))
	if s.Ratings != nil {
		left, undated := s.ratingsUpTo(last)
		text += "; " + ratingsUpToText(left, undated, dated)
		if len(s.Ratings.Items) == 0 {
			s.Ratings = nil
		}
	}
	s.Notes = append(s.Notes, analysis.Warning{Code: "up-to", Text: text})
	return nil
}

// upToText says what is left out.
func upToText(day string, attempts, trainees int) string {
	text := fmt.Sprintf("the study is looked at as of %s: ", day)
	if attempts == 0 {
		text += "no attempt was made later"
	} else {
		text += fmt.Sprintf("attempts made later are left out, %d of them", attempts)
	}
	if trainees > 0 {
		text += fmt.Sprintf(", and with them every trainee who had not begun, %d in all", trainees)
	}
	return text
}
