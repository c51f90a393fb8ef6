package main

import (
	"math"
	"strings"
	"testing"
)

// Restricted likelihood, profile intervals and carryover through the command:
// R's lmer and lme (testdata/cohort/carry.R; see analysis/cohort).
func TestCohortWays(t *testing.T) {
	args := []string{"cohort", "../../testdata/cohort/carry.csv", "--trainee", "trainee", "--attempt", "attempt", "--response", "score", "--family", "inverse", "--one-model", "--format", "json"}
	near := func(what string, got any, want, tolerance float64) {
		t.Helper()
		if v, ok := got.(float64); !ok || math.Abs(v-want) > tolerance {
			t.Errorf("%s = %v, want %v", what, got, want)
		}
	}
	head := func(d map[string]any, key string) map[string]any { return d[key].([]any)[0].(map[string]any) }

	out, _ := tyro(t, 0, append(args, "--reml")...)
	d := needs(t, "cohort", decode(t, out), "reml", "carryover", "interval_method")
	near("REML log-likelihood", d["log_likelihood"], -1073.0085839443, 1e-4)
	near("REML SD", head(d, "random")["sd"], 6.086509607631, 1e-4)

	out, _ = tyro(t, 0, append(args, "--interval", "profile")...)
	d = decode(t, out)
	near("lower end", head(d, "fixed")["lower"], 56.92265275460, 1e-3)
	near("upper end of an SD", head(d, "random")["upper"], 8.2904128476, 1e-3)
	if !strings.HasPrefix(d["interval_method"].(string), "profile likelihood") {
		t.Error(d["interval_method"])
	}

	out, _ = tyro(t, 0, append(args, "--uncorrelated", "--carryover", "whole")...)
	near("carryover", head(decode(t, out), "carryover")["estimate"], 0.387314277344, 1e-4)

	for _, way := range []string{"parametric", "trainees"} {
		out, _ = tyro(t, 0, append(args, "--interval", way, "--replicates", "20")...)
		d = needs(t, "cohort", decode(t, out), "replicates")
		e := head(d, "fixed")
		if lo, hi := e["lower"].(float64), e["upper"].(float64); !(lo < e["estimate"].(float64) && e["estimate"].(float64) < hi) || d["replicates"].(float64) != 20 {
			t.Errorf("%s: %v of %v refits", way, e, d["replicates"])
		}
	}

	_, talk := tyro(t, 2, append(args, "--interval", "guess")...)
	if !strings.Contains(talk, "expected wald, profile, trainees or parametric") {
		t.Error(talk)
	}
	_, talk = tyro(t, 2, append(args, "--carryover", "some")...)
	if !strings.Contains(talk, "expected none, whole or part") {
		t.Error(talk)
	}
	args[9] = "power"
	_, talk = tyro(t, 1, append(args, "--reml")...)
	if !strings.Contains(talk, "linear in everything that moves it") {
		t.Error(talk)
	}
	_, talk = tyro(t, 1, append(args, "--reml", "--family", "auto")...)
	if !strings.Contains(talk, "name a --family") {
		t.Error(talk)
	}
}
