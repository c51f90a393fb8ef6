package datasets

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// What is written of ratings is what was read: who gave a performance, rounds of rating and days
// are kept, words too. The second row of a rater who rated the second round first stays the first.
func TestRatingsReadBack(t *testing.T) {
	for _, c := range []struct {
		name, text string
		rf         RatingsFile
	}{
		{"rounds", "subject,trainee,rater,occasion,score\nP1,T1,A,1,3\nP1,T1,A,2,4\nP1,T1,B,1,3\nP1,T1,B,2,\nP2,T2,A,1,2\nP2,T2,A,2,2\nP2,T2,B,2,1\nP2,T2,B,1,2\n",
			RatingsFile{Trainee: "trainee", Occasion: "occasion"}},
		{"days", "subject,rater,when,score\nP1,A,2026-01-31,3\nP1,B,2026-02-01,4\nP2,A,,2\nP2,B,1969-12-31,1\n", RatingsFile{When: "when"}},
		{"words", "subject,rater,score\n=P1,A,-good\n=P1,B,'bad'\n007,A,'bad'\n007,B,-good\n", RatingsFile{Scale: "nominal"}},
	} {
		first, err := ReadRatings("r.csv", []byte(c.text), c.rf)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		var b bytes.Buffer
		if err := WriteRatings(&b, first); err != nil {
			t.Fatal(err)
		}
		second, err := ReadRatings("r.csv", b.Bytes(), c.rf)
		if err != nil {
			t.Fatalf("%s: %v\n%s", c.name, err, &b)
		}
		for i, it := range first.Items {
			back := second.Items[i]
			if got, want := fmt.Sprintf("%+v", back), fmt.Sprintf("%+v", it); got != want {
				t.Errorf("%s: read back\n%s\nwant\n%s\nfrom\n%s", c.name, got, want, &b)
			}
		}
	}
}

// Covariates are written trainee by trainee, and a coded study whose log and covariates are read
// again has those of the same people; 0.1 stays a number and =x a text.
func TestTraineesReadBack(t *testing.T) {
	const tasks = "covariates: [{name: site, on: [plateau], levels: true}, {name: hours, on: [rate]}]\n" + timed
	s, err := openStudy(t, map[string]string{
		StudyFile: "attempts: {file: log.csv}\n" + tasks,
		"log.csv": "trainee,attempt,seconds,site,hours\nT2,1,40,=x,0.1\nT1,1,41,007,2\nT1,2,39,007,\n",
	})
	if err != nil {
		t.Fatal(err)
	}
	var log, trainees bytes.Buffer
	if err := WriteLog(&log, s.Attempts); err != nil {
		t.Fatal(err)
	}
	if err := s.WriteTrainees(&trainees); err != nil {
		t.Fatal(err)
	}
	if got, want := trainees.String(), "trainee,site,hours\nT2,'=x,0.1\nT1,007,2\n"; got != want {
		t.Errorf("written %q, want %q", got, want)
	}
	back, err := openStudy(t, map[string]string{
		StudyFile: "attempts: {file: log.csv}\ntrainees: {file: trainees.csv}\n" + tasks, "log.csv": log.String(), "trainees.csv": trainees.String(),
	})
	if err != nil {
		t.Fatal(err)
	}
	p, err := back.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	if site, hours := p.Covariates[0].Level, p.Covariates[1].Number; site["T2"] != "=x" || site["T1"] != "007" || hours["T2"] != 0.1 || hours["T1"] != 2 {
		t.Errorf("sites %v, hours %v", site, hours)
	}
}

// A table with a column for each rater, read as rows of ratings, is refused with the way out.
func TestWideRatingsAsRows(t *testing.T) {
	const text = "subject,Birch,Cole\nP1,4,3\nP2,2,2\nP3,1,1\n"
	if _, err := ReadRatings("r.csv", []byte(text), RatingsFile{}); err == nil || !strings.Contains(err.Error(), "wide: true") {
		t.Errorf("%v, want the way out", err)
	}
	if r, err := ReadRatings("r.csv", []byte(text), RatingsFile{Wide: true}); err != nil || len(r.Items[0].Raters) != 2 {
		t.Errorf("%v, want two raters", err)
	}
}
