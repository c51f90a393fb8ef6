package datasets

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const timed = "tasks:\n  - {name: tie, measure: time, column: seconds}\n"

// said is all that a study says of its files and people.
func said(t *testing.T, s *Study) string {
	t.Helper()
	notes := s.Notes
	if s.Ratings != nil {
		notes = append(slices.Clone(notes), s.Ratings.Notes...)
	}
	var b strings.Builder
	for _, x := range []any{notes, s.Files} {
		if err := json.NewEncoder(&b).Encode(x); err != nil {
			t.Fatal(err)
		}
	}
	for _, l := range []Log{s.Attempts, s.Experts} {
		if err := WriteLog(&b, l); err != nil {
			t.Fatal(err)
		}
	}
	if s.Ratings != nil {
		if err := WriteRatings(&b, *s.Ratings); err != nil {
			t.Fatal(err)
		}
	}
	return b.String()
}

// Whoever withdrew is gone, however they are spelled and wherever their name stands: as another
// spelling, a column, a file, a cell beside somebody else, or in the ratings.
func TestNoTraceOfWhoWithdrew(t *testing.T) {
	rows := func(who string) string { return who + ",1,40\n" + who + ",2,39\n" }
	for _, c := range []struct {
		name  string
		files map[string]string
	}{
		{"another spelling", map[string]string{
			StudyFile: "attempts: {file: log.csv, same: {Quil: Quillon}}\nprivacy: {withdrawn: [Quil]}\n" + timed,
			"log.csv": "trainee,attempt,seconds\nQuillon,1,40\nQuil,2,39\n" + rows("Brandt"),
		}},
		{"a column", map[string]string{
			StudyFile: "attempts: {file: log.csv, columns_are: trainee, same: {Quil: Quillon}}\nprivacy: {withdrawn: [Quillon]}\n" + timed,
			"log.csv": "attempt,Quil,Brandt,Ashby\n1,40,41,42\n2,38,39,40\n",
		}},
		{"a file", map[string]string{
			StudyFile:     "attempts: {files: [Quillon.csv, Brandt.csv], files_are: trainee}\nprivacy: {withdrawn: [Quillon]}\n" + timed,
			"Quillon.csv": "attempt,seconds\n1,40\n2,38\n", "Brandt.csv": "attempt,seconds\n1,41\n2,39\n",
		}},
		{"ratings", map[string]string{
			StudyFile: "attempts: {file: log.csv}\nratings: {file: r.csv, trainee: who, same: {Quil: Quillon}}\nprivacy: {withdrawn: [Quillon]}\n" + timed,
			"log.csv": "trainee,attempt,seconds\n" + rows("Quillon") + rows("Brandt"),
			"r.csv":   "subject,who,rater,score\nP1,Quil,Ash,4\nP1,Quil,Elm,4\nP2,Brandt,Ash,3\nP2,Brandt,Elm,2\nP3,Brandt,Ash,1\nP3,Brandt,Elm,1\n",
		}},
	} {
		s, err := openStudy(t, c.files)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if all := said(t, s); strings.Contains(all, "Quil") || strings.Contains(all, "P1") || !strings.Contains(all, "Brandt") {
			t.Errorf("%s: the name, or the ratings, are still there, or others are gone:\n%s", c.name, all)
		}
	}
}

// A name that is nowhere in the files is refused where somebody's looks like it, and else noted:
// a slip of the pen keeps nobody.
func TestWithdrawnButNotFound(t *testing.T) {
	files := func(withdrawn string) map[string]string {
		return map[string]string{
			StudyFile: "attempts: {file: log.csv}\nprivacy: {withdrawn: [" + withdrawn + "]}\n" + timed,
			"log.csv": "trainee,attempt,seconds\nT7,1,40\nT8,1,40\n",
		}
	}
	for _, name := range []string{"t7", "T07", "T 7"} {
		if _, err := openStudy(t, files(name)); err == nil || !strings.Contains(err.Error(), `there is no "`+name+`" in them, but "T7"`) {
			t.Errorf("%s: %v, want it refused", name, err)
		}
	}
	if s, err := openStudy(t, files("T9, T8")); err != nil || !noted(s, "withdrawn-not-found") || strings.Contains(said(t, s), "T9") {
		t.Errorf("T9: %v, notes %v; want a note that does not name T9", err, s.Notes)
	}
	if s, err := openStudy(t, files("T8")); err != nil || noted(s, "withdrawn-not-found") {
		t.Errorf("T8: %v, notes %v", err, s.Notes)
	}
}

// A coded study names nobody, neither by a file, a performance nor the order of people, and its
// covariates are still those of the same people. Of six trainees all six orders of codes are as
// likely as any, so that in forty keys the first by name is not always the first (1 in 6^40).
func TestCodedNamesNobody(t *testing.T) {
	names := []string{"Ashby", "Brandt", "Corwin", "Dexter", "Elmer", "Fenwick"}
	log, who, ratings := "trainee,attempt,seconds\n", "trainee,hours\n", "subject,trainee,rater,score\n"
	for i, name := range names {
		log += name + ",1,4" + string(rune('0'+i)) + "\n" + name + ",2,3" + string(rune('0'+i)) + "\n"
		who += name + "," + string(rune('1'+i)) + "\n"
		ratings += name + "2.mp4," + name + ",Oak," + string(rune('1'+i)) + "\n" + name + "2.mp4," + name + ",Yew,2\n"
	}
	files := map[string]string{
		StudyFile: "attempts: {file: log.csv}\ntrainees: {file: who.csv}\ncovariates: [{name: hours, on: [rate]}]\nratings: {file: r.csv, trainee: trainee}\n" + timed,
		"log.csv": log, "who.csv": who, "r.csv": ratings,
	}
	inOrder := true
	for range 40 {
		s, err := openStudy(t, files)
		if err != nil {
			t.Fatal(err)
		}
		plain := s.SHA256
		k, err := OpenKey(filepath.Join(t.TempDir(), "key.csv"))
		if err == nil {
			err = s.Pseudonymise(k)
		}
		if err != nil {
			t.Fatal(err)
		}
		all := said(t, s)
		for _, name := range append(names, "Oak", "Yew") {
			if strings.Contains(all, name) {
				t.Fatalf("%s is still there:\n%s", name, all)
			}
		}
		if s.SHA256 == plain {
			t.Error("the hash is that of the files with names")
		}
		p, err := s.Practice("")
		if err != nil {
			t.Fatal(err)
		}
		code, _ := k.of(asTrainee, "Brandt")
		if got := p.Covariates[0].Number[code]; got != 2 {
			t.Errorf("Brandt's hours are %v, want 2", got)
		}
		for i, subject := range s.Ratings.Items[0].Subjects { // the score by Oak is the trainee's place in names
			it := s.Ratings.Items[0]
			oak, _ := k.of(asRater, "Oak")
			at := int(it.Scores[i][slices.Index(it.Raters, oak)]) - 1
			if want, _ := k.of(asTrainee, names[at]); it.Trainees[i] != want {
				t.Errorf("%s is of %s, want %s", subject, it.Trainees[i], want)
			}
		}
		first, _ := k.of(asTrainee, "Ashby")
		inOrder = inOrder && p.Trainees[0].ID == first
	}
	if inOrder {
		t.Error("codes stand in the order of names")
	}
}

// Forgetting somebody forgets the performances called by their name.
func TestForgetPerformances(t *testing.T) {
	k := &Key{code: map[[2]string]string{}, used: map[string]bool{}}
	for _, x := range [][2]string{{asTrainee, "Quillon"}, {asPerformance, "quillon-2.mp4"}, {asTrainee, "Brandt"}} {
		if _, err := k.of(x[0], x[1]); err != nil {
			t.Fatal(err)
		}
	}
	if k.Forget("Quillon"); len(k.rows) != 1 || k.rows[0][1] != "Brandt" || len(k.code) != 1 {
		t.Errorf("left in the key: %v", k.rows)
	}
}

// Consent is a person's: whoever agrees in one row and not in another is asked about, since half of
// their attempts would be taken.
func TestConsentInHalf(t *testing.T) {
	files := func(second string) map[string]string {
		return map[string]string{
			StudyFile: "purpose: research\nattempts: {file: log.csv}\nprivacy: {consent: {column: agreed}}\n" + timed,
			"log.csv": "trainee,agreed,attempt,seconds\nT1,yes,1,40\nT1," + second + ",2,39\nT2,no,1,50\n",
		}
	}
	for _, second := range []string{"no", "", "formative"} {
		if _, err := openStudy(t, files(second)); err == nil || !strings.Contains(err.Error(), "agrees in line 2 and not in line 3") {
			t.Errorf("%q: %v, want it refused", second, err)
		}
	}
	if s, err := openStudy(t, files("Yes")); err != nil || len(s.Attempts.Attempts) != 2 {
		t.Errorf("%v, %d attempts, want the 2 of T1", err, len(s.Attempts.Attempts))
	}
}

// Whoever withdrew and is listed by code, while the files have names, is not given another code.
func TestWithdrawnByCode(t *testing.T) {
	k, err := OpenKey(filepath.Join(t.TempDir(), "key.csv"))
	if err != nil {
		t.Fatal(err)
	}
	code, err := k.of(asTrainee, "Quillon")
	if err != nil {
		t.Fatal(err)
	}
	open := func(log string) *Study {
		s, err := openStudy(t, map[string]string{
			StudyFile: "attempts: {file: log.csv}\nprivacy: {withdrawn: [" + code + "]}\n" + timed, "log.csv": "trainee,attempt,seconds\n" + log,
		})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	if err := open("Quillon,1,40\nBrandt,1,41\n").Pseudonymise(k); err == nil || !strings.Contains(err.Error(), "a code of the key") || strings.Contains(err.Error(), "Quillon") {
		t.Errorf("%v, want it refused without the name", err)
	}
	if again, _ := k.of(asTrainee, "Quillon"); again != code {
		t.Errorf("the key has %s for %s now", again, code)
	}
	if err := open("Brandt,1,41\n").Pseudonymise(k); err != nil || len(k.rows) != 1 || k.rows[0][1] != "Brandt" {
		t.Errorf("%v, the key has %v, want Brandt alone", err, k.rows)
	}
}

// A key in which a code or a name stands twice would make two people one.
func TestKeyWithTwins(t *testing.T) {
	for _, rows := range []string{"trainee,Ash,T-222222\ntrainee,Elm,T-222222\n", "trainee,Ash,T-222222\ntrainee,Ash,T-333333\n"} {
		path := filepath.Join(t.TempDir(), "key.csv")
		if err := os.WriteFile(path, []byte("role,name,code\n"+rows), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := OpenKey(path); err == nil || !strings.Contains(err.Error(), "key.csv:3") {
			t.Errorf("%q: %v, want line 3 refused", rows, err)
		}
	}
}

// A file that was coded before, to which new names were added, keeps its codes.
func TestCodedTwice(t *testing.T) {
	k, err := OpenKey(filepath.Join(t.TempDir(), "key.csv"))
	if err != nil {
		t.Fatal(err)
	}
	code, err := k.of(asTrainee, "Quillon")
	if err != nil {
		t.Fatal(err)
	}
	s, err := openStudy(t, map[string]string{
		StudyFile: "attempts: {file: log.csv}\n" + timed, "log.csv": "trainee,attempt,seconds\n" + code + ",1,40\nBrandt,1,41\n",
	})
	if err == nil {
		err = s.Pseudonymise(k)
	}
	if err != nil {
		t.Fatal(err)
	}
	brandt, _ := k.of(asTrainee, "Brandt")
	got := []string{s.Attempts.Attempts[0].Trainee, s.Attempts.Attempts[1].Trainee}
	if want := []string{min(code, brandt), max(code, brandt)}; !slices.Equal(got, want) || len(k.rows) != 2 {
		t.Errorf("codes %q, want %q; the key has %v", got, want, k.rows)
	}
}

// A column is not called by somebody who has its name: A1 is the first attempt here.
func TestColumnsAreNotPeople(t *testing.T) {
	s, err := openStudy(t, map[string]string{
		StudyFile: "attempts: {file: log.csv, wide: {A: seconds}}\nprivacy: {withdrawn: [A1]}\n" + timed,
		"log.csv": "trainee,A1,A2,A3\nA1,40,39,38\nB1,41,40,39\n",
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range s.Files[0].Columns {
		if strings.Contains(c.Name, somebody) {
			t.Errorf("column %q", c.Name)
		}
	}
}
