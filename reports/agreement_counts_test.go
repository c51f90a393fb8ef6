package reports_test

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"tyro/analysis/study"
	"tyro/reports"
)

// Every count that the demo's answer speaks of, from the file of ratings itself: who
// rated how many, whom two examiners both rated, and on whom they are not of one mind.
func TestAgreementCountsAreThoseOfTheFile(t *testing.T) {
	p, dir := demoPractice(t)
	s := studyOf(t, p)
	a, err := s.Agreement(context.Background(), study.AgreementQuestion{})
	if err != nil {
		t.Fatal(err)
	}
	d, file := reports.NewAgreement(s, a), rows(t, filepath.Join(dir, "ratings.csv"))
	said := text(t, d)
	for _, it := range d.Items {
		rated := map[string]map[string]string{} // performance, examiner: score
		ratings, examiners, missing := map[string]int{}, map[string]bool{}, 0
		for _, r := range file {
			if rated[r["performance"]] == nil {
				rated[r["performance"]] = map[string]string{}
			}
			examiners[r["examiner"]] = true
			if r[it.Item] == "" {
				missing++
				continue
			}
			rated[r["performance"]][r["examiner"]] = r[it.Item]
			ratings[r["examiner"]]++
		}
		want := fmt.Sprintf("%s: %s scale, %d subjects, %d raters, %d ratings missing.", it.Item, it.Scale, len(rated), len(examiners), missing)
		if !strings.Contains(said, want) {
			t.Errorf("the text lacks %q", want)
		}
		if len(it.Raters) != len(examiners) {
			t.Errorf("%s: %d raters, the file has %d", it.Item, len(it.Raters), len(examiners))
		}
		for _, r := range it.Raters {
			if r.Ratings != ratings[r.Rater] {
				t.Errorf("%s: %s rated %d, the file has %d", it.Item, r.Rater, r.Ratings, ratings[r.Rater])
			}
		}
		for _, pair := range it.Pairs {
			both, differ := 0, 0
			for _, scores := range rated {
				x, y := scores[pair.A], scores[pair.B]
				if x == "" || y == "" {
					continue
				}
				if both++; x != y {
					differ++
				}
			}
			if pair.Both != both || it.Decisions != nil && math.Abs(float64(pair.Flips)-float64(differ)/float64(both)) > 1e-12 {
				t.Errorf("%s: %s and %s both rated %d and decide differently on %v; the file has %d and %d", it.Item, pair.A, pair.B, pair.Both, pair.Flips, both, differ)
			}
		}
		if it.Decisions == nil {
			continue
		}
		twice, split := 0, 0
		for _, scores := range rated {
			kinds := map[string]bool{}
			for _, v := range scores {
				kinds[v] = true
			}
			if len(scores) > 1 {
				if twice++; len(kinds) > 1 {
					split++
				}
			}
		}
		if f := it.Decisions; f.Subjects != twice || math.Abs(float64(f.Split.Estimate)-float64(split)/float64(twice)) > 1e-12 || f.Pass != "yes" {
			t.Errorf("%s: %d subjects rated twice, split on %v; the file has %d and %d", it.Item, f.Subjects, f.Split.Estimate, twice, split)
		}
	}
	if len(d.Items) != 3 || d.Items[0].Decisions == nil {
		t.Errorf("%d items, decisions %v", len(d.Items), d.Items[0].Decisions)
	}
}
