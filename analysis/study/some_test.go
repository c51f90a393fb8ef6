package study

import (
	"fmt"
	"testing"

	"tyro/analysis/practice"
)

// Of 10,000 trainees 2,000 are drawn at random. By the hypergeometric distribution an arm that
// takes turns with another has 1,000 of them, standard deviation 20; a kind that stands at every
// tenth place, as the best of every group might, has 200, standard deviation 12, where every
// fifth place would have brought all or none of its 1,000. An arm that is not drawn keeps
// everybody.
func TestEnoughOfVeryManyTrainees(t *testing.T) {
	s := &Study{}
	s.Arms = []string{"a", "b"}
	for i := range 10000 {
		s.Trainees = append(s.Trainees, practice.Trainee{ID: fmt.Sprint(i), Arm: s.Arms[i%2]})
	}
	some, ok := s.some()
	if !ok || len(some.Trainees) != 2000 {
		t.Fatalf("%d trainees, want 2,000", len(some.Trainees))
	}
	if n := len(some.Members("a")); n < 900 || n > 1100 {
		t.Errorf("arm a has %d of 2,000, expected about half", n)
	}
	tenth, before := 0, -1
	for _, who := range some.Trainees {
		var i int
		if _, err := fmt.Sscan(who.ID, &i); err != nil || i <= before {
			t.Fatalf("trainee %s after %d: drawn twice, or out of order", who.ID, before)
		}
		if before = i; i%10 == 0 {
			tenth++
		}
	}
	if tenth < 140 || tenth > 260 {
		t.Errorf("%d of 2,000 stand at every tenth place, expected about 200", tenth)
	}
	s.Trainees = s.Trainees[:3999]
	if _, ok := s.some(); ok {
		t.Error("3,999 trainees are few enough to ask them all")
	}
	s.Trainees = append(s.Trainees, s.Trainees[:1]...)
	s.Arms = append(s.Arms, "empty")
	if _, ok := s.some(); ok {
		t.Error("an arm is missing without a word")
	}
}
