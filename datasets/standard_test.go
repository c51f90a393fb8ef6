package datasets

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"tyro/analysis/practice"
)

// A block put into a study file is read back as it was.
func TestStandardBlock(t *testing.T) {
	pass, fail := 0.24, 0.125
	s := practice.Decision{
		Value: 57, Interval: []float64{52.5, 69.25}, Level: 0.95, Method: "mean of experts: plus 1 SD", DecidedBy: "the lab's \"standards\" group", DecidedOn: "2026-01-12",
		Data: "experts.csv", DataHash: "00ab", FalsePass: &pass, FalseFail: &fail, Computed: &practice.Computed{Method: "expert-mean", SDs: 1, SkipRuns: 1},
	}
	block, err := Block(s)
	if err != nil {
		t.Fatal(err)
	}
	open := func(block string) (*Study, error) {
		dir := t.TempDir()
		text := "attempts: {file: a.csv}\ntasks:\n  - name: knot\n    column: score\n"
		for line := range strings.Lines(block) {
			text += "    " + line
		}
		for name, content := range map[string]string{StudyFile: text, "a.csv": "trainee,attempt,score\nA,1,5\n"} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return Open(t.Context(), dir)
	}
	study, err := open(block)
	if err != nil {
		t.Fatalf("%v in\n%s", err, block)
	}
	if got := *study.Tasks[0].Standard; !reflect.DeepEqual(got, s) {
		t.Errorf("%+v, want %+v\n%s", got, s, block)
	}
	for _, c := range []struct{ block, want string }{
		{"standard: {value: 5, interval: [6, 4]}\n", "interval"},
		{"standard: {value: 5, interval: [6]}\n", "interval"},
		{"standard: {value: 5, level: 95}\n", "level"},
		{"standard: {value: 5, false_pass: 24}\n", "false_pass"},
		{"standard: {value: 5, computed: {method: guess}}\n", "computed: method"},
		{"standard: {value: 5, computed: {method: expert-mean, trim: 0.5}}\n", "below 0.5 (trim"},
		{"standard: {value: 5, computed: {method: expert-mean, summary: first}}\n", "summary"},
	} {
		if _, err := open(c.block); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want a word on %q", strings.TrimSpace(c.block), err, c.want)
		}
	}
}
