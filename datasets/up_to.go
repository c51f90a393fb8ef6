package datasets

import (
	"fmt"
	"slices"
	"time"

	"tyro/analysis"
)

// UpTo leaves out every attempt made after a day, such as 2026-03-31, so that the study
// stands as it did then. Attempts of that day are kept. An attempt without a date is a
// problem: nobody can say whether it had been made. Standard, experts and ratings are kept
// as they are.
func (s *Study) UpTo(day string) error {
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		return fmt.Errorf("%q is no day: expected one as 2026-03-31", day)
	}
	if len(s.Attempts.Attempts) == 0 || !s.Attempts.Dated() {
		return Problem{File: s.Attempts.File, Column: "date", Err: ErrMissing, Expect: "dates of the attempts, to know which were made up to " + day}
	}
	var ps Problems
	began := map[string]bool{}
	var kept []Attempt
	for _, a := range s.Attempts.Attempts {
		switch {
		case a.Date == "":
			ps = append(ps, Problem{File: s.Attempts.place(a), Line: int(a.Line), Column: "date", Err: ErrMissing, Expect: fmt.Sprintf("the date of attempt %g of trainee %s, to know whether it was made up to %s", a.Number, a.Trainee, day)})
		case a.Date[:len(time.DateOnly)] <= day:
			began[a.Trainee] = true
			kept = append(kept, a)
		}
	}
	if err := ps.orNil(); err != nil {
		return err
	}
	later, after := len(s.Attempts.Attempts)-len(kept), map[string]bool{}
	for _, a := range s.Attempts.Attempts {
		if !began[a.Trainee] {
			after[a.Trainee] = true
		}
	}
	if len(kept) == 0 {
		return Problem{File: s.Attempts.File, Column: "date", Value: day, Err: ErrRange, Expect: "a day by which somebody had made an attempt"}
	}
	s.Attempts.Attempts = slices.Clip(kept)
	s.Notes = append(s.Notes, analysis.Warning{Code: "up-to", Text: upToText(day, later, len(after), s.Ratings != nil)})
	return nil
}

// upToText says what is left out.
func upToText(day string, attempts, trainees int, rated bool) string {
	text := fmt.Sprintf("the study is looked at as of %s: ", day)
	if attempts == 0 {
		text += "no attempt was made later"
	} else {
		text += fmt.Sprintf("attempts made later are left out, %d of them", attempts)
	}
	if trainees > 0 {
		text += fmt.Sprintf(", and with them every trainee who had not begun, %d in all", trainees)
	}
	if rated {
		text += "; ratings are all kept"
	}
	return text
}
