package main

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
)

// Losses at the first and second attempt after breaks of 1 and 30 days, with their standard
// errors, as R's nlme has them, and their intervals as R's t.test has them
// (testdata/retention/gaps.R). The loss is told from nothing at the first attempt and no
// longer at the second, and the words say so without saying that nothing is lost.
func TestLossAfterTwoGapsAgainstR(t *testing.T) {
	rows := rowsOf(t, "../../testdata/retention/gaps_expected.csv")
	want := map[string][]float64{}
	for _, row := range rows[1:] {
		var vs []float64
		for _, cell := range row[2:] {
			v, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
			if err != nil {
				t.Fatal(err)
			}
			vs = append(vs, v)
		}
		want[strings.TrimSpace(row[0])+"/"+row[1]] = vs
	}
	args := []string{"retention", "../../testdata/retention/gaps.csv", "--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time", "--date", "date", "--replicates", "50"}
	type loss struct {
		Loss  float64 `json:"loss"`
		SE    float64 `json:"se"`
		Lower float64 `json:"lower"`
		Upper float64 `json:"upper"`
	}
	var got struct {
		Gaps []struct {
			Days float64 `json:"gap_days"`
			loss
			Second loss `json:"second_attempt"`
		} `json:"gaps"`
	}
	out := printed(tyro(t, 0, append(args, "--format", "json")...))
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Gaps) != 2 {
		t.Fatalf("%d kinds of breaks", len(got.Gaps))
	}
	for _, g := range got.Gaps {
		for attempt, l := range map[string]loss{"1": g.loss, "2": g.Second} {
			w := want[strconv.FormatFloat(g.Days, 'g', -1, 64)+"/"+attempt]
			for k, v := range []float64{l.Loss, l.SE, l.Lower, l.Upper} {
				if !(math.Abs(v-w[k]) < 1e-6*(1+math.Abs(w[k]))) { // nlme stops its search at 1e-6
					t.Errorf("after %g days, attempt %s, number %d: %v, R has %v", g.Days, attempt, k, v, w[k])
				}
			}
		}
		if g.Lower <= 0 || g.Second.Lower > 0 || g.Second.Upper < 0 {
			t.Errorf("after %g days: %+v, %+v", g.Days, g.loss, g.Second)
		}
	}
	if text := printed(tyro(t, 0, args...)); strings.Count(strings.Join(strings.Fields(text), " "), "no longer tells a loss from chance and does not show that there is none") != 2 {
		t.Errorf("the second attempt is not put into words:\n%s", text)
	}
}

// printed is the output without the talk.
func printed(out, _ string) string { return out }
