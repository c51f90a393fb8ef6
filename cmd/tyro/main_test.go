package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"tyro/datasets/demo"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"tyro": main})
}

// The scripts under testdata/script run the command as people do.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			if err := demo.Write(filepath.Join(env.WorkDir, "demo")); err != nil {
				return err
			}
			root, err := filepath.Abs(filepath.Join("..", ".."))
			env.Setenv("DATA", filepath.Join(root, "testdata"))
			return err
		},
	})
}

// tyro runs the program inside the test.
func tyro(t testing.TB, want int, args ...string) (out, talk string) {
	t.Helper()
	var o, e bytes.Buffer
	if got := run(context.Background(), args, &o, &e); got != want {
		t.Fatalf("tyro %s: exit status %d, want %d\n%s", strings.Join(args, " "), got, want, e.String())
	}
	return o.String(), e.String()
}

func demoStudy(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

// smallDemo is the demo study with its first twelve trainees, for tests that run many commands on it.
func smallDemo(t testing.TB) string {
	t.Helper()
	dir := demoStudy(t)
	path := filepath.Join(dir, "attempts.csv")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var kept strings.Builder
	for line := range strings.Lines(string(data)) {
		if code, _, _ := strings.Cut(line, ","); code <= "T12" || code == "trainee" {
			kept.WriteString(line)
		}
	}
	if err := os.WriteFile(path, []byte(kept.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

func decode(t testing.TB, text string) map[string]any {
	t.Helper()
	var doc map[string]any
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatalf("not JSON: %v", err)
	}
	if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Error("machine output holds NaN or Inf")
	}
	return doc
}

// needs checks that an object has the keys.
func needs(t testing.TB, what string, object any, keys ...string) map[string]any {
	t.Helper()
	m, ok := object.(map[string]any)
	if !ok {
		t.Fatalf("%s is %T, want an object", what, object)
	}
	for _, k := range keys {
		if _, ok := m[k]; !ok {
			t.Errorf("%s lacks the key %q", what, k)
		}
	}
	return m
}

func first(t testing.TB, what string, list any) any {
	t.Helper()
	l, ok := list.([]any)
	if !ok || len(l) == 0 {
		t.Fatalf("%s is %T with %v entries, want a list with some", what, list, len(l))
	}
	return l[0]
}

// The machine output of every command has the keys that programs rely on.
func TestMachineOutput(t *testing.T) {
	dir := demoStudy(t)
	header := []string{"tool", "version", "command", "seed", "data_sha256", "warnings"}
	doc := func(command string, args ...string) map[string]any {
		t.Helper()
		out, talk := tyro(t, 0, append([]string{command, dir, "--format", "json", "--replicates", "40"}, args...)...)
		if talk != "" {
			t.Errorf("%s talks where nobody listens: %q", command, talk)
		}
		d := needs(t, command, decode(t, out), header...)
		if d["tool"] != "tyro" || d["command"] != command || d["seed"] != 20260112.0 || len(d["data_sha256"].(string)) != 64 {
			t.Errorf("%s: header %v %v %v %v", command, d["tool"], d["command"], d["seed"], d["data_sha256"])
		}
		return d
	}
	needs(t, "an arm", first(t, "arms", doc("check", "--task", "cannulation")["arms"]), "arm", "trainees", "attempts", "done", "timeouts", "failed", "void")

	curves := doc("curve")
	needs(t, "a warning", first(t, "warnings", curves["warnings"]), "code", "text")
	c := needs(t, "a curve", first(t, "curves", curves["curves"]), "trainee", "task", "arm", "family", "noise", "n", "n_censored", "status",
		"parameters", "residual_ss", "residual_sd", "log_likelihood", "aic", "aicc", "bic", "derived", "selection", "warnings", "terms", "forecast", "ratio_test", "diagnostics")
	needs(t, "a parameter", first(t, "parameters", c["parameters"]), "name", "estimate", "se", "lower", "upper")
	needs(t, "a derived quantity", first(t, "derived", c["derived"]), "name", "estimate", "lower", "upper")
	needs(t, "a candidate", first(t, "selection", c["selection"]), "family", "aicc", "weight")

	p := doc("proficiency")
	needs(t, "a result", first(t, "results", p["results"]), "trainee", "arm", "definition", "standard", "estimate", "lower", "upper", "level",
		"interval_method", "replicates", "failed_replicates", "not_reached", "status")
	s := needs(t, "an arm", first(t, "survival", p["survival"]), "arm", "n", "met", "median", "restricted_mean", "tau", "steps")
	needs(t, "a median", s["median"], "estimate", "lower", "upper")
	needs(t, "a step", first(t, "steps", s["steps"]), "attempt", "at_risk", "met", "survival", "se", "lower", "upper")
	needs(t, "log_rank", p["log_rank"], "chi_square", "df", "p")
	needs(t, "proficiency", p, "band")
	for _, r := range p["results"].([]any) {
		switch st := r.(map[string]any)["status"]; st {
		case "reached", "projected", "moving-away", "beyond-horizon", "too-early":
		default:
			t.Errorf("status %v", st)
		}
	}

	q := needs(t, "quota", doc("quota", "--share", "0.7", "--trainees", "20"), "standard", "rule", "definition", "level", "groups", "rows", "statements", "schedules", "costs", "progress", "replicates", "cohort_curve_draws", "caution")
	row := needs(t, "a row", first(t, "rows", q["rows"]), "arm", "basis", "share", "attempts", "lower", "upper", "status", "largest_share")
	if row["arm"] != "" || row["basis"] != "observed" || row["share"] != 0.5 {
		t.Errorf("the first row is %v, want the median of all trainees as observed", row)
	}
	needs(t, "a statement", first(t, "statements", q["statements"]), "arm", "basis", "share", "confidence", "attempts", "status", "claimed_share")
	schedule := needs(t, "a schedule", first(t, "schedules", q["schedules"]), "arm", "basis", "attempts", "trainees", "met", "attempts_used", "stopping_at_the_rule", "everybody_makes_all", "fewer", "seen")
	needs(t, "spending", schedule["stopping_at_the_rule"], "lab_hours", "examiner_hours", "consumables", "cost", "cost_per_proficient")
	needs(t, "fewer", schedule["fewer"], "fewer", "attempts", "fewer_proficient", "not_proficient", "saved_stopping_at_the_rule")
	needs(t, "a point", first(t, "progress", q["progress"]), "arm", "basis", "attempt", "share", "lower", "upper", "practising")

	a := needs(t, "agreement", doc("agreement"), "n_subjects", "n_raters", "missing", "coefficients", "variance_components")
	needs(t, "a coefficient", first(t, "coefficients", a["coefficients"]), "name", "estimate", "se", "lower", "upper", "level", "interval_method", "note")

	needs(t, "a contrast", first(t, "contrasts", doc("compare")["contrasts"]), "measure", "arm", "reference", "estimate", "lower", "upper", "p", "p_adjusted", "method", "excludes")

	planned := needs(t, "plan", doc("plan", "--contrast", "rule-met-mean", "--effect", "rate=1.5", "--trainees", "8,10", "--attempts", "10", "--family", "exponential"), "kind", "measure", "asked", "level", "studies", "rows", "smallest", "power_lines", "cost_lines", "assumptions", "analysis", "protocol", "design")
	planRow := needs(t, "a size", first(t, "rows", planned["rows"]), "trainees", "attempts", "power", "lower", "upper", "power_by_formula", "studies", "failed", "failed_at", "refused", "assumed", "median_estimate", "width_mean", "width_median", "width_90", "coverage", "attempts_made", "cost")
	if planRow["trainees"] != 8.0 || planRow["attempts"] != 10.0 || planRow["studies"] != 40.0 {
		t.Errorf("the first size is %v", planRow)
	}

	fit := filepath.Join(t.TempDir(), "fit.json")
	doc("cohort", "--family", "exponential", "--save", fit)
	out, _ := tyro(t, 0, "cohort", dir, "--from", fit, "--format", "json")
	from := needs(t, "from", decode(t, out)["from"], "file", "sha256", "study", "task", "n_trainees", "n_attempts", "arms", "seed", "data_sha256", "same_data")
	if from["n_trainees"] != 36.0 || from["same_data"] != true || from["file"] != fit {
		t.Errorf("from %v", from)
	}

	kept := needs(t, "retention", doc("retention"), "gaps", "refresher", "calendar", "forgetting", "calendar_curve", "scale")
	gap := needs(t, "a gap", first(t, "gaps", kept["gaps"]), "gap_days", "n", "loss", "se", "lower", "upper", "scale", "share_of_gain_kept", "still_at_standard", "second_attempt", "savings")
	needs(t, "a second attempt", gap["second_attempt"], "loss", "se", "lower", "upper")
	needs(t, "a refresher", kept["refresher"], "share", "days", "lower", "status")
}

// The number of workers changes nothing, to the byte.
func TestWorkers(t *testing.T) {
	dir := demoStudy(t)
	for _, command := range []string{"proficiency", "compare", "retention", "agreement", "quota"} {
		one, _ := tyro(t, 0, command, dir, "--format", "json", "--replicates", "30", "--workers", "1")
		four, _ := tyro(t, 0, command, dir, "--format", "json", "--replicates", "30", "--workers", "4")
		if one != four {
			t.Errorf("%s: one worker and four give different output", command)
		}
	}
}

// Certified data through the command: NIST/ITL Statistical Reference Datasets,
// Misra1a, BoxBOD and DanWood.
func TestCertified(t *testing.T) {
	data := filepath.Join("..", "..", "testdata", "curves")
	for _, c := range []struct {
		file  string
		args  []string
		param string
		want  float64
		rss   float64
	}{
		{"nist_misra1a.csv", []string{"--family", "exponential", "--origin", "0", "--hold", "start=0"}, "plateau", 238.94212918, 0.12455138894},
		{"nist_boxbod.csv", []string{"--family", "exponential", "--origin", "0", "--hold", "start=0"}, "rate", 0.54723748542, 1168.0088766},
		{"nist_danwood.csv", []string{"--family", "wright"}, "rate", -3.8604055871, 0.0043173084083},
	} {
		out, _ := tyro(t, 0, append([]string{"curve", filepath.Join(data, c.file), "--attempt", "x", "--response", "y", "--format", "json"}, c.args...)...)
		curve := first(t, "curves", decode(t, out)["curves"]).(map[string]any)
		near := func(what string, got any, want float64) {
			if v, ok := got.(float64); !ok || v/want-1 > 1e-9 || v/want-1 < -1e-9 {
				t.Errorf("%s: %s = %v, certified %v", c.file, what, got, want)
			}
		}
		near("residual_ss", curve["residual_ss"], c.rss)
		for _, p := range curve["parameters"].([]any) {
			if m := p.(map[string]any); m["name"] == c.param {
				near(c.param, m["estimate"], c.want)
			}
		}
	}
}

// Worked examples in the README are run and compared.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := demo.Write(filepath.Join(dir, "tyro-demo")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	ran := 0
	for block := range strings.SplitSeq(string(text), "```") {
		body, ok := strings.CutPrefix(block, "console\n$ tyro ")
		if !ok {
			continue
		}
		ran++
		command, want, _ := strings.Cut(body, "\n")
		got, _ := tyro(t, 0, splitArgs(command)...)
		// A worked example may stop with "…" where the rest is left out.
		if head, cut := strings.CutSuffix(want, "…\n"); cut {
			if !strings.HasPrefix(got, head) {
				t.Errorf("$ tyro %s begins\n%s\nthe README has\n%s", command, got[:min(len(got), len(head))], head)
			}
		} else if got != want {
			t.Errorf("$ tyro %s prints\n%s\nthe README has\n%s", command, got, want)
		}
	}
	if ran == 0 {
		t.Error("the README has no worked example")
	}
}

// splitArgs splits a command line at spaces outside double quotes.
func splitArgs(s string) []string {
	var out []string
	for i, part := range strings.Split(s, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}
