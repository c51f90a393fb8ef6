package main

import "testing"

// A bootstrap is made when it is asked for, and --replicates only says how large.
func TestBootstrapWhenAsked(t *testing.T) {
	args := []string{"cohort", "../../testdata/cohort/carry.csv", "--trainee", "trainee", "--attempt", "attempt", "--response", "score", "--family", "inverse", "--format", "json"}
	ask := func(more ...string) map[string]any {
		t.Helper()
		out, _ := tyro(t, 0, append(args, more...)...)
		return decode(t, out)
	}
	plain := ask("--replicates", "20")
	if _, there := plain["bootstrap"]; there || plain["replicates"] != nil {
		t.Error("--replicates alone switches a bootstrap on")
	}
	beside := ask("--bootstrap", "--replicates", "24")
	row := needs(t, "a bootstrap interval", first(t, "bootstrap", beside["bootstrap"]), "kind", "name", "arm", "estimate", "lower", "upper", "replicates", "failed_replicates")
	if row["replicates"] != 24.0 {
		t.Errorf("%v refits, want 24", row["replicates"])
	}
	wald := func(d map[string]any) any { return d["fixed"].([]any)[0].(map[string]any)["lower"] }
	if wald(beside) != wald(plain) {
		t.Errorf("Wald's lower end moves from %v to %v", wald(plain), wald(beside))
	}
	// Both ways of asking for whole trainees rest on the same refits.
	both := ask("--bootstrap", "--interval", "trainees", "--replicates", "24")
	for i, r := range both["bootstrap"].([]any)[:2] {
		b, f, before := r.(map[string]any), both["fixed"].([]any)[i].(map[string]any), beside["bootstrap"].([]any)[i].(map[string]any)
		if b["lower"] != f["lower"] || b["upper"] != f["upper"] || b["lower"] != before["lower"] {
			t.Errorf("row %d: %v to %v, in the table of parameters %v to %v, alone %v", i, b["lower"], b["upper"], f["lower"], f["upper"], before["lower"])
		}
	}
}
