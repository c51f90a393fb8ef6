package reports

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

func constantQuota(t *testing.T, text string, chance float64, horizon int) *OperatingCurve {
	t.Helper()
	s, err := study.New(practice.Practice{}, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	rule, err := practice.ParseRule(text)
	if err != nil {
		t.Fatal(err)
	}
	a, err := study.Operating(rule, chance, horizon)
	if err != nil {
		t.Fatal(err)
	}
	return NewOperatingCurve(s, a)
}

// TestConstantChanceQuota: 1 − 144/1024 by attempt 10 and a mean of 6 (see the
// tests of the recursion); by attempts 4 and 8, 1 − 8/16 and 1 − 55/256.
func TestConstantChanceQuota(t *testing.T) {
	d := constantQuota(t, "2 in a row", 0.5, 10)
	if got := d.Operating[9]; got.Attempt != 10 || got.MetBy != 0.859375 {
		t.Errorf("by attempt 10: %+v", got)
	}
	if d.MeanAttempts != 6 {
		t.Errorf("mean %v, want 6", d.MeanAttempts)
	}
	want := []quotaRow{{Share: 0.5, Attempts: 4, Status: Estimated}, {Share: 0.8, Attempts: 9, Status: Estimated}, {Share: 0.9, Status: CannotBeEstimated}}
	for i, r := range d.Rows {
		if r.Share != want[i].Share || r.Status != want[i].Status || r.Status == Estimated && r.Attempts != want[i].Attempts {
			t.Errorf("row %+v, want %+v", r, want[i])
		}
	}
	found := false
	for _, w := range d.Warnings {
		found = found || w.Code == "beyond-horizon" && strings.Contains(w.Text, "86 %")
	}
	if !found {
		t.Errorf("no warning names the largest share: %v", d.Warnings)
	}
}

func TestQuotaMachineOutput(t *testing.T) {
	var b bytes.Buffer
	if err := WriteJSON(&b, constantQuota(t, "2 in a row", 0, 3)); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"tool", "version", "command", "seed", "data_sha256", "warnings", "standard", "rule", "definition", "rows", "operating", "mean_attempts"} {
		if _, ok := got[key]; !ok {
			t.Errorf("no key %q", key)
		}
	}
	if got["mean_attempts"] != nil {
		t.Errorf("mean_attempts %v with a chance of 0, want null", got["mean_attempts"])
	}
}
