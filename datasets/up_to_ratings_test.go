package datasets

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A study with ratings of four days, one of them without a day. As of the 3rd of March the
// attempts of the 4th and the ratings of the 4th are gone, with the subject that only they
// were of and the rater who made no other; the rating without a day stays.
func TestUpToLeavesOutRatings(t *testing.T) {
	const log = "trainee,attempt,seconds,date\nA,1,90,2026-03-01\nA,2,80,2026-03-02\nB,1,95,2026-03-03\nB,2,85,2026-03-04\n"
	const dated = "subject,rater,score,day\nv1,Ash,3,2026-03-01\nv1,Birch,4,2026-03-02\nv2,Ash,2,2026-03-03\nv2,Birch,2,\nv2,Cedar,1,2026-03-04\nv3,Ash,5,2026-03-04\n"
	for _, c := range []struct {
		name, ratings, when string
		subjects, raters    []string
		n                   int
		says                string
	}{
		{"dated", dated, "day", []string{"v1", "v2"}, []string{"Ash", "Birch"}, 4, "ratings made later are left out, 2 of them, and 1 whose date is not known are kept"},
		{"not asked for", dated, "", []string{"v1", "v2", "v3"}, []string{"Ash", "Birch", "Cedar"}, 6, "ratings, whose dates are not known, are all kept"},
		{"running numbers", strings.NewReplacer("2026-03-0", "").Replace(dated), "day", []string{"v1", "v2", "v3"}, []string{"Ash", "Birch", "Cedar"}, 6, "ratings, whose dates are not known, are all kept"},
		{"all later", "subject,rater,score,day\nv1,Ash,3,2026-04-01\nv1,Birch,4,2026-04-02\n", "day", nil, nil, 0, "ratings made later are left out, 2 of them"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			study := "title: t\nattempts: {file: log.csv}\nratings: {file: ratings.csv, subject: subject, rater: rater, score: score, scale: interval"
			if c.when != "" {
				study += ", when: " + c.when
			}
			for name, text := range map[string]string{"log.csv": log, "ratings.csv": c.ratings, StudyFile: study + "}\ntasks:\n  - {name: a, measure: time, column: seconds, unit: s}\n"} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			s, err := Open(t.Context(), dir)
			if err != nil {
				t.Fatal(err)
			}
			if err := s.UpTo("2026-03-03"); err != nil {
				t.Fatal(err)
			}
			if n := len(s.Attempts.Attempts); n != 3 {
				t.Errorf("%d attempts, want 3", n)
			}
			if said := s.Notes[len(s.Notes)-1].Text; !strings.HasSuffix(said, c.says) {
				t.Errorf("it says %q, want %q", said, c.says)
			}
			if c.n == 0 {
				if s.Ratings != nil {
					t.Errorf("ratings are left: %+v", s.Ratings.Items)
				}
				return
			}
			it := s.Ratings.Items[0]
			if !slices.Equal(it.Subjects, c.subjects) || !slices.Equal(it.Raters, c.raters) || ratingsOf(it) != c.n {
				t.Errorf("subjects %v, raters %v, %d ratings; want %v, %v, %d", it.Subjects, it.Raters, ratingsOf(it), c.subjects, c.raters, c.n)
			}
			if len(it.Scores) != len(it.Subjects) || len(it.Scores[0]) != len(it.Raters) {
				t.Errorf("a table of %d by %d", len(it.Scores), len(it.Scores[0]))
			}
		})
	}
}
