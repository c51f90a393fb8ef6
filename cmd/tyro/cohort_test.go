package main

import (
	"math"
	"slices"
	"testing"
)

// The keys that programs rely on, and the Loblolly pines through the command:
// exact maximum likelihood in R 4.2.2 (see analysis/cohort).
func TestCohortMachineOutput(t *testing.T) {
	out, talk := tyro(t, 0, "cohort", "../../testdata/cohort/loblolly.csv", "--trainee", "seed", "--attempt", "age_years", "--response", "height_feet",
		"--family", "exponential", "--origin", "0", "--noise", "normal", "--random", "plateau", "--scale", "start=identity", "--ahead", "3", "--format", "json")
	if talk != "" {
		t.Errorf("talk: %q", talk)
	}
	d := needs(t, "cohort", decode(t, out), "tool", "version", "command", "seed", "data_sha256", "warnings", "family", "noise", "method", "n_trainees", "n_attempts",
		"fixed", "random", "correlations", "residual_sd", "log_likelihood", "rung", "ladder", "trainees", "caution")
	close := func(what string, got any, want, tolerance float64) {
		t.Helper()
		if v, ok := got.(float64); !ok || !(math.Abs(v-want) <= tolerance) {
			t.Errorf("%s = %v, want %v", what, got, want)
		}
	}
	for i, want := range []struct {
		name, scale string
		at          float64
	}{{"plateau", "identity", 102.11963105766007}, {"start", "identity", -8.549415171581275}, {"rate", "log", -3.24397057152869}} {
		e := needs(t, "a fixed effect", d["fixed"].([]any)[i], "name", "arm", "scale", "estimate", "se", "lower", "upper")
		if e["name"] != want.name || e["scale"] != want.scale {
			t.Errorf("effect %d is %v on the %v scale", i, e["name"], e["scale"])
		}
		close(want.name, e["estimate"], want.at, 1e-5*math.Abs(want.at))
	}
	close("sd", needs(t, "a random parameter", first(t, "random", d["random"]), "name", "sd", "scale")["sd"], 3.6758619299893964, 1e-4)
	close("residual_sd", d["residual_sd"], 0.7183937069609452, 1e-5)
	close("log_likelihood", d["log_likelihood"], -114.69679893554482, 1e-5)
	m := needs(t, "a trainee", first(t, "trainees", d["trainees"]), "trainee", "arm", "n", "parameters", "projection")
	if p := m["projection"].([]any); len(p) != 3 {
		t.Errorf("%d projected attempts", len(p))
	}
	if _, ok := d["checks"]; ok {
		t.Error("checks without being asked for")
	}
	needs(t, "a projected attempt", first(t, "projection", m["projection"]), "attempt", "median", "lower", "upper")
	needs(t, "a parameter", first(t, "parameters", m["parameters"]), "name", "estimate")
}

// The keys beside a trainee's projection, on the demo study: three definitions,
// and how the projection of the rule moved.
func TestCohortProficiencyOutput(t *testing.T) {
	out, _ := tyro(t, 0, "cohort", "../../datasets/demo/files", "--family", "exponential", "--uncorrelated", "--format", "json")
	d := needs(t, "cohort", decode(t, out), "standard", "rule", "horizon", "population", "new_trainees", "trainees")
	if d["rule"] != "2 in a row" {
		t.Errorf("rule %v", d["rule"])
	}
	needs(t, "a new trainee", first(t, "new_trainees", d["new_trainees"]), "arm", "projection", "proficiency")
	m := needs(t, "a trainee", first(t, "trainees", d["trainees"]), "proficiency", "rule_met_as_attempts_arrived")
	var names []string
	for _, p := range m["proficiency"].([]any) {
		names = append(names, needs(t, "an answer", p, "definition", "estimate", "lower", "upper", "not_reached", "status")["definition"].(string))
	}
	if want := []string{"mean-crossing", "pass-chance", "rule-met"}; !slices.Equal(names, want) {
		t.Errorf("definitions %v, want %v", names, want)
	}
	move := needs(t, "a move", first(t, "moves", m["rule_met_as_attempts_arrived"]), "attempts_made", "estimate", "lower", "upper", "not_reached", "status")
	if move["attempts_made"] != 5.0 || move["status"] != "projected" {
		t.Errorf("after five attempts: %v", move)
	}
}

// The keys of the checks of fit, on the same pines.
func TestCohortChecksOutput(t *testing.T) {
	out, _ := tyro(t, 0, "cohort", "../../testdata/cohort/loblolly.csv", "--trainee", "seed", "--attempt", "age_years", "--response", "height_feet",
		"--family", "exponential", "--origin", "0", "--noise", "normal", "--random", "plateau", "--scale", "start=identity", "--checks", "--format", "json")
	k := needs(t, "checks", decode(t, out)["checks"], "replicates", "failed_replicates", "residuals", "deviations", "attempts", "influence", "influence_by", "evenness")
	needs(t, "a shape", k["residuals"], "name", "bend", "p", "points")
	shape := needs(t, "a shape", first(t, "deviations", k["deviations"]), "name", "bend", "p", "points")
	needs(t, "a point", first(t, "points", shape["points"]), "at", "observed", "lower", "upper")
	needs(t, "a band", first(t, "attempts", k["attempts"]), "arm", "share", "n", "at", "observed", "lower", "upper")
	needs(t, "an influence", first(t, "influence", k["influence"]), "trainee", "name", "arm", "change_in_se", "one_step", "settled")
	needs(t, "evenness", k["evenness"], "tenths", "p", "inside_90_trainees_p5_by_chance", "inside_90_trainees_p95_by_chance")
}

// Covariates through the command: soybean plots by variety (levels) and year (a
// number, centred), exact maximum likelihood in R 4.2.2 (testdata/cohort/public.R).
func TestCohortCovariateOutput(t *testing.T) {
	out, _ := tyro(t, 0, "cohort", "../../testdata/cohort/public_soybean.csv", "--trainee", "plot", "--attempt", "day", "--response", "weight",
		"--family", "logistic", "--hold", "start=0", "--random", "plateau", "--covariate", "variety=plateau", "--covariate", "year=plateau", "--one-model", "--format", "json")
	d := needs(t, "cohort", decode(t, out), "covariates", "fixed", "log_likelihood")
	for i, want := range []struct {
		covariate, level string
		at               float64
	}{{"", "", 16.937509624743}, {"variety", "P", 4.357521035075}, {"year", "", -0.775863287896}} {
		e := needs(t, "a fixed effect", d["fixed"].([]any)[i], "name", "covariate", "level", "estimate")
		if e["name"] != "plateau" || e["covariate"] != want.covariate || e["level"] != want.level || math.Abs(e["estimate"].(float64)-want.at) > 1e-4 {
			t.Errorf("row %d: %v, want %+v", i, e, want)
		}
	}
	if v := d["log_likelihood"].(float64); math.Abs(v+758.1974333764) > 1e-5 {
		t.Errorf("log-likelihood %v", v)
	}
	levels := needs(t, "a covariate", first(t, "covariates", d["covariates"]), "name", "kind", "on", "reference", "levels")
	number := needs(t, "a covariate", d["covariates"].([]any)[1], "name", "kind", "on", "centre")
	if levels["kind"] != "levels" || levels["reference"] != "F" || number["kind"] != "number" || number["centre"] != 1989.0 {
		t.Errorf("covariates %v", d["covariates"])
	}
}
