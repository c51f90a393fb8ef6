package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A logged attempt is one row of the demo's log, read by the test itself.
type logged struct {
	trainee, arm, outcome string
	number                float64
}

func readLog(t *testing.T, path string) []logged {
	t.Helper()
	rows := rowsOf(t, path)
	at := func(name string) int {
		i := slices.Index(rows[0], name)
		if i < 0 {
			t.Fatalf("no column %s in %v", name, rows[0])
		}
		return i
	}
	who, arm, n, outcome := at("trainee"), at("arm"), at("attempt"), at("outcome")
	var out []logged
	for _, r := range rows[1:] {
		v, err := strconv.ParseFloat(r[n], 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, logged{r[who], r[arm], r[outcome], v})
	}
	return out
}

// Every count in a sentence of the command is one that can be counted in the log.
func TestCohortSentencesCount(t *testing.T) {
	dir := demoStudy(t)
	rows := readLog(t, filepath.Join(dir, "attempts.csv"))
	measured := map[string][]float64{} // attempts with a time, by trainee
	exact := map[string][]float64{}
	outcomes := map[string]int{}
	for _, r := range rows {
		outcomes[r.outcome]++
		if r.outcome == "done" || r.outcome == "timeout" {
			measured[r.trainee] = append(measured[r.trainee], r.number)
		}
		if r.outcome == "done" {
			exact[r.trainee] = append(exact[r.trainee], r.number)
		}
	}
	later := 0 // exact attempts after the lower median, where 3 or more are at or before it
	for who, all := range measured {
		slices.Sort(all)
		half := (len(all) + 1) / 2
		if half < 3 || half == len(all) {
			continue
		}
		for _, n := range exact[who] {
			if n > all[half-1] {
				later++
			}
		}
	}
	out := filepath.Join(t.TempDir(), "out")
	tyro(t, 0, "cohort", dir, "--family", "exponential", "--uncorrelated", "--out", out)
	data, err := os.ReadFile(filepath.Join(out, "cohort.txt"))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(string(data)), " ")
	for _, want := range []string{
		fmt.Sprintf("of a cohort: %d trainees, %d attempts,", len(measured), outcomes["done"]+outcomes["timeout"]),
		fmt.Sprintf("%d timeouts enter as right-censored at the limit", outcomes["timeout"]),
		fmt.Sprintf("%d hard fails are left out of the curves", outcomes["failed"]),
		fmt.Sprintf("of %d fall inside the 90 %% range", later),
		fmt.Sprintf("on %d trainees. Intervals:", len(measured)),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	shown, err := os.ReadFile(filepath.Join(out, "cohort_trainees.csv"))
	if err != nil {
		t.Fatal(err)
	}
	table, err := csv.NewReader(strings.NewReader(string(shown))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table[1:] {
		n, censored := len(measured[r[0]]), len(measured[r[0]])-len(exact[r[0]])
		if r[2] != strconv.Itoa(n) || r[3] != strconv.Itoa(censored) {
			t.Errorf("%s: %s attempts and %s timeouts, want %d and %d", r[0], r[2], r[3], n, censored)
		}
	}
}

// What fits leave out is counted in words that suit one and many, and the fit's own
// warnings stand with everything said of the cohort.
func TestCohortLeavesOut(t *testing.T) {
	dir := demoStudy(t)
	path := filepath.Join(dir, "attempts.csv")
	rows := readLog(t, path)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	// Keep the attempts done, one hard fail, and of the first trainee nothing but it.
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	kept, failed := []string{lines[0]}, 0
	fails := slices.IndexFunc(rows, func(r logged) bool { return r.outcome == "failed" })
	for i, r := range rows {
		switch {
		case i == fails:
			failed++
		case r.outcome != "done" || r.trainee == rows[fails].trainee:
			continue
		}
		kept = append(kept, lines[i+1])
	}
	if err := os.WriteFile(path, []byte(strings.Join(kept, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out, _ := tyro(t, 0, "cohort", dir, "--family", "exponential", "--uncorrelated", "--format", "json")
	texts := map[string]string{}
	for _, w := range decode(t, out)["warnings"].([]any) {
		m := w.(map[string]any)
		texts[m["code"].(string)] = m["text"].(string)
	}
	if _, said := texts["timeouts-censored"]; said || failed != 1 {
		t.Errorf("%d fails kept; %v", failed, texts)
	}
	if got := texts["fails-apart"]; !strings.HasPrefix(got, "1 hard fail is left out of the curves") {
		t.Errorf("fails: %q", got)
	}
	if got := texts["no-attempts"]; got != "1 trainee without usable attempts is left out" {
		t.Errorf("trainees without attempts: %q", got)
	}
}
