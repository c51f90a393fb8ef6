package study

import (
	"fmt"
	"testing"

	"tyro/analysis/practice"
)

// Of 10,000 trainees every fifth is asked, so that arms keep their shares: of arms that take
// turns, half each. An arm of one trainee, whom the spread may pass over, keeps everybody.
func TestEnoughOfVeryManyTrainees(t *testing.T) {
	s := &Study{}
	s.Arms = []string{"a", "b"}
	for i := range 10000 {
		s.Trainees = append(s.Trainees, practice.Trainee{ID: fmt.Sprint(i), Arm: s.Arms[i/50%2]})
	}
	some, ok := s.some()
	if !ok || len(some.Trainees) != 2000 || some.Trainees[0].ID != "0" || some.Trainees[1999].ID != "9995" {
		t.Fatalf("%d trainees, from %v", len(some.Trainees), some.Trainees[0].ID)
	}
	if n := len(some.Members("a")); n != 1000 {
		t.Errorf("arm a has %d of 2,000, expected half", n)
	}
	s.Trainees[1].Arm, s.Arms = "alone", append(s.Arms, "alone")
	if _, ok := s.some(); ok {
		t.Error("an arm is missing without a word")
	}
	s.Trainees, s.Arms = s.Trainees[:3999], s.Arms[:2]
	if _, ok := s.some(); ok {
		t.Error("3,999 trainees are few enough to ask them all")
	}
}
