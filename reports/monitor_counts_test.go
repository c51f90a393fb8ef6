package reports_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/study"
)

// A rawTrainee is somebody's attempts as they stand in the log, true for a pass.
type rawTrainee struct {
	id     string
	passes []bool
}

// readRaw reads a log by itself, in the order of its rows.
func readRaw(t *testing.T, path string, counts func(row map[string]string) (pass, counted bool)) []rawTrainee {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []rawTrainee
	at := map[string]int{}
	for _, r := range rows[1:] {
		row := map[string]string{}
		for j, name := range rows[0] {
			row[name] = r[j]
		}
		pass, counted := counts(row)
		if !counted {
			continue
		}
		i, ok := at[row["trainee"]]
		if !ok {
			i = len(out)
			at[row["trainee"]] = i
			out = append(out, rawTrainee{id: row["trainee"]})
		}
		out[i].passes = append(out[i].passes, pass)
	}
	return out
}

// signalAt is the attempt, from 1, at which a sum that is held at 0 and moves by the
// steps given comes to h; 0 where it does not.
func signalAt(passes []bool, onPass, onFailure, h float64) int {
	sum := 0.0
	for i, p := range passes {
		if sum += map[bool]float64{true: onPass, false: onFailure}[p]; sum < 0 {
			sum = 0
		}
		if sum >= h-1e-9 {
			return i + 1
		}
	}
	return 0
}

// twoInARow is the attempt, from 1, that completes the first two passes in a row.
func twoInARow(passes []bool) int {
	for i := 1; i < len(passes); i++ {
		if passes[i-1] && passes[i] {
			return i + 1
		}
	}
	return 0
}

// recount works out the sentences of the cohort table from the raw attempts.
func recount(raw []rawTrainee, after string, acceptable, unacceptable, learningH, relapseH float64, within int) (sentence string, shownBy, flaggedBy []string) {
	up, down := math.Log(unacceptable/acceptable), math.Log((1-unacceptable)/(1-acceptable))
	passed, due := 0, 0
	for _, r := range raw {
		shown := signalAt(r.passes, -down, -up, learningH)
		if shown > 0 {
			shownBy = append(shownBy, fmt.Sprintf("%s at attempt %d", r.id, shown))
		}
		from := map[string]int{"rule": twoInARow(r.passes), "signal": shown, "start": 0, "20": 20}[after]
		is := from > 0 || after == "start"
		if after == "20" {
			is = len(r.passes) > 20
		}
		flag := 0
		if is {
			passed++
			if flag = signalAt(r.passes[from:], down, up, relapseH); flag > 0 {
				flaggedBy = append(flaggedBy, fmt.Sprintf("%s at attempt %d", r.id, from+flag))
			}
		}
		if flag > 0 || !is && (after == "rule" || after == "signal") && len(r.passes) >= within {
			due++
		}
	}
	return fmt.Sprintf("Of %d: %d have shown adequate performance, %d are watched for relapse, %d of these are flagged, %d are due.", len(raw), len(shownBy), passed, len(flaggedBy), due), shownBy, flaggedBy
}

// plainPlaces takes sessions and dates out of a sentence.
func plainPlaces(sentence string) string {
	for {
		i, j := strings.Index(sentence, " ("), strings.Index(sentence, ")")
		if i < 0 || j < i {
			return sentence
		}
		sentence = sentence[:i] + sentence[j+1:]
	}
}

// named is the sentence of a list that names twelve at most.
func named(lead, none string, items []string) string {
	switch n := len(items); {
	case n == 0:
		return none
	case n > 12:
		return fmt.Sprintf("%s: %s; and %d more.", lead, strings.Join(items[:12], "; "), n-12)
	}
	return lead + ": " + strings.Join(items, "; ") + "."
}

// Every count in a sentence is that of the log, read and charted by the test itself.
func TestSentencesCountTheLog(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for round, group := range []struct {
		people int
		fail   func(attempt int) float64 // chance of a failed attempt
	}{
		{6, func(int) float64 { return 0.02 }},
		{25, func(n int) float64 { return 0.1 + 0.5*math.Exp(-float64(n)/8) }},
		{30, func(n int) float64 { return 0.15 + 0.6*float64(n/25%2) }},
		{5, func(int) float64 { return 0.9 }},
	} {
		var rows []string
		for i := range group.people {
			var b strings.Builder
			for n := range 5 + r.IntN(60) {
				b.WriteString(map[bool]string{true: "x", false: "."}[r.Float64() < group.fail(n)])
			}
			rows = append(rows, attemptRows(fmt.Sprintf("T%02d", i), b.String())...)
		}
		s, path := failureLog(t, "2 in a row", rows...)
		raw := readRaw(t, path, func(row map[string]string) (bool, bool) { return row["failure"] == "0", true })
		for _, after := range []string{"rule", "signal", "start", "20"} {
			for _, kind := range []string{study.ChartLearning, study.ChartRelapse} {
				o := at10Against30(kind, 0)
				o.After, o.Within = after, 30
				d := charted(t, s, o)
				sentence, shown, flags := recount(raw, after, 0.1, 0.3, float64(d.Design.LearningH), float64(d.Design.RelapseH), 30)
				if got := d.CohortSentence(); got != sentence {
					t.Errorf("round %d, %s after %s: says %q, the log %q", round, kind, after, got, sentence)
				}
				if got, want := plainPlaces(d.ShownSentence()), named("Adequate performance shown", "Nobody has shown adequate performance on the learning chart yet.", shown); got != want {
					t.Errorf("round %d, %s after %s: says %q, the log %q", round, kind, after, got, want)
				}
				if got, want := plainPlaces(d.FlagSentence(0, len(raw))), named("Relapse flags", "No relapse flag is up.", flags); got != want {
					t.Errorf("round %d, %s after %s: says %q, the log %q", round, kind, after, got, want)
				}
			}
		}
	}
}

// The same of the demo study: an attempt passes when it is done in 57 s with one wall
// puncture at most, and void ones do not count.
func TestSentencesCountTheDemo(t *testing.T) {
	dir := t.TempDir()
	file := demoFile(t, dir)
	raw := readRaw(t, filepath.Join(dir, "attempts.csv"), func(row map[string]string) (bool, bool) {
		seconds, err := strconv.ParseFloat(row["seconds"], 64)
		return row["outcome"] == "done" && err == nil && seconds <= 57 && (row["wall_punctures"] == "0" || row["wall_punctures"] == "1"), row["outcome"] != "void"
	})
	d := charted(t, opened(t, file), study.MonitorOptions{})
	sentence, shown, flags := recount(raw, "rule", 0.2, 0.4, float64(d.Design.LearningH), float64(d.Design.RelapseH), 50)
	if got := d.CohortSentence(); got != sentence || len(shown) == 0 {
		t.Errorf("says %q, the log %q", got, sentence)
	}
	if got, want := plainPlaces(d.FlagSentence(0, len(raw))), named("Relapse flags", "No relapse flag is up.", flags); got != want {
		t.Errorf("says %q, the log %q", got, want)
	}
}
