package datasets

import (
	"bytes"
	"fmt"
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
