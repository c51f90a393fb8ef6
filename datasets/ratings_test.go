package datasets

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/datasets/problem"
)

func TestReadCounts(t *testing.T) {
	r, err := ReadRatings("t.csv", []byte("first,good,fair,poor\ngood,2,1,0\nfair,0,1,0\npoor,0,0,3\n"), RatingsFile{Counts: true, Scale: "ordinal"})
	if err != nil {
		t.Fatal(err)
	}
	it := r.Items[0]
	want := [][]float64{{0, 0}, {0, 0}, {0, 1}, {1, 1}, {2, 2}, {2, 2}, {2, 2}}
	if it.Scale != "ordinal" || !slices.EqualFunc(it.Scores, want, slices.Equal[[]float64]) || !slices.Equal(it.Categories, []string{"good", "fair", "poor"}) {
		t.Errorf("%+v", it)
	}
	for what, bad := range map[string]string{
		"not square":    "first,a,b\na,1,2\n",
		"other columns": "first,a,b\na,1,2\nc,1,2\n",
		"a fraction":    "first,a,b\na,1,2.5\nb,1,2\n",
		"below 0":       "first,a,b\na,1,-2\nb,1,2\n",
	} {
		if _, err := ReadRatings("t.csv", []byte(bad), RatingsFile{Counts: true}); err == nil {
			t.Errorf("%s: no error", what)
		}
	}
}

func TestReadRounds(t *testing.T) {
	csv := "subject,rater,who,look,on,score\nS1,A,T1,1,2026-01-01,3\nS1,A,T1,2,2026-01-05,4\nS2,A,T1,1,2026-01-03,5\nS2,B,T1,1,,6\n"
	r, err := ReadRatings("t.csv", []byte(csv), RatingsFile{Trainee: "who", Occasion: "look", When: "on"})
	if err != nil {
		t.Fatal(err)
	}
	it := r.Items[0]
	if !slices.Equal(it.Occasions, []string{"1", "2"}) || !slices.Equal(it.Trainees, []string{"T1", "T1"}) {
		t.Errorf("occasions %v, trainees %v", it.Occasions, it.Trainees)
	}
	if it.Scores[0][0] != 3 || it.Rounds[1][0][0] != 4 || !math.IsNaN(it.Rounds[1][1][0]) || it.Scores[1][1] != 6 {
		t.Errorf("scores %v, rounds %v", it.Scores, it.Rounds)
	}
	if d := it.When[1][0] - it.When[0][0]; d != 2 || !math.IsNaN(it.When[1][1]) {
		t.Errorf("times %v", it.When)
	}
	two := strings.Replace(csv, "S2,B,T1", "S2,B,T9", 1)
	if _, err := ReadRatings("t.csv", []byte(two), RatingsFile{Trainee: "who", Occasion: "look"}); err == nil || !strings.Contains(err.Error(), "one trainee") {
		t.Errorf("two trainees of one performance: %v", err)
	}
	bad := strings.Replace(csv, "2026-01-03", "March", 1)
	if _, err := ReadRatings("t.csv", []byte(bad), RatingsFile{Occasion: "look", When: "on"}); err == nil || !strings.Contains(err.Error(), "March") {
		t.Errorf("a bad date: %v", err)
	}
}

// Scores finer than halves that are alike in every row are one rating entered twice; whole ones of
// five subjects may be two that agree, and one that differs says that they are two.
func TestRatersWhoNeverDiffer(t *testing.T) {
	for csv, want := range map[string]bool{
		"perf,A,B\np1,61.2,61.2\np2,70.1,70.1\np3,44.4,44.4\np4,52,52\np5,58.3,58.3\n":                                                                            true,
		"perf,A,B\np1,61.2,61.2\np2,70.1,70.1\np3,44.4,44.4\np4,52,52\np5,58.3,58.4\n":                                                                            false,
		"perf,A,B\np1,1,1\np2,3,3\np3,4,4\np4,2,2\np5,5,5\n":                                                                                                      false,
		"perf,A,B,C\np1,1,1,1\np2,3,3,3\np3,4,4,\np4,2,,2\np5,5,5,5\np6,1,1,1\np7,2,2,2\np8,2,,2\np9,4,4,4\np10,3,3,3\n":                                          true,
		"perf,A,B\np1,pass,pass\np2,fail,fail\np3,pass,pass\np4,pass,pass\np5,fail,fail\np6,pass,pass\np7,pass,pass\np8,pass,pass\np9,pass,pass\np10,pass,pass\n": false,
	} {
		r, err := ReadRatings("t.csv", []byte(csv), RatingsFile{Wide: true, Subject: "perf"})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Code == "raters-same" }); got != want {
			t.Errorf("%q: noted %v, want %v: %v", csv, got, want, r.Notes)
		}
	}
}

// The same marks in percent and as shares. In shares all raters lie within 0.02 of each other, but no column
// is the mean of the two others as far as it is written: 0.61 is not (0.64 + 0.62) / 2 = 0.63. One that is,
// rounded to two places (0.63, 0.72, 0.845 as 0.85, 0.415 as 0.42, 0.54), is asked about as before.
func TestRatersWhoAgreeOnSmallNumbers(t *testing.T) {
	for _, c := range []struct {
		name, text string
		asked      bool
	}{
		{"percent", "film,A,B,C\n1,61,64,62\n2,72,70,74\n3,85,86,83\n4,40,42,41\n5,55,53,55\n", false},
		{"shares", "film,A,B,C\n1,0.61,0.64,0.62\n2,0.72,0.7,0.74\n3,0.85,0.86,0.83\n4,0.4,0.42,0.41\n5,0.55,0.53,0.55\n", false},
		{"rounded mean", "film,A,B,C\n1,0.63,0.64,0.62\n2,0.72,0.7,0.74\n3,0.85,0.86,0.83\n4,0.42,0.42,0.41\n5,0.54,0.53,0.55\n", true},
		{"mean", "film,A,B,C\n1,63,64,62\n2,72,70,74\n3,84.5,86,83\n4,41.5,42,41\n5,54,53,55\n", true},
	} {
		_, err := ReadRatings("marks.csv", []byte(c.text), RatingsFile{Wide: true, Subject: "film"})
		if asked := errors.Is(err, problem.ErrAmbiguous); asked != c.asked {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
