package main

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// What is projected with --from is what was projected right after the fit, to the last digit:
// all of the machine output but for which command it was, and for where trainees stand, which
// is as exact as the fit's search for it.
func TestFromIsWhatTheFitSaid(t *testing.T) {
	dir := demoStudy(t)
	for _, args := range [][]string{
		{"--family", "exponential", "--one-model"},
		{"--family", "power", "--session", "yes", "--carryover", "whole", "--random", "plateau,rate,spread", "--early", "--standard", "62"},
		{"--noise", "lognormal"},
	} {
		fit := filepath.Join(t.TempDir(), "fit.json")
		fitted, _ := tyro(t, 0, append([]string{"cohort", dir, "--format", "json", "--save", fit}, args...)...)
		again := []string{"cohort", dir, "--format", "json", "--from", fit}
		for _, keep := range []string{"--early", "--standard"} {
			for i, a := range args {
				if a == keep {
					again = append(again, a)
					if a == "--standard" {
						again = append(again, args[i+1])
					}
				}
			}
		}
		placed, _ := tyro(t, 0, again...)
		want, got := decode(t, fitted), decode(t, placed)
		for _, d := range []map[string]any{want, got} {
			for _, k := range []string{"command_line", "flags", "from", "warnings"} {
				delete(d, k)
			}
			for _, one := range d["trainees"].([]any) {
				delete(one.(map[string]any), "parameters")
				delete(one.(map[string]any), "residual_sd")
			}
		}
		for k, w := range want {
			if g := got[k]; !reflect.DeepEqual(g, w) {
				a, _ := json.Marshal(g)
				b, _ := json.Marshal(w)
				t.Errorf("%v: %s is\n%.600s\nwant\n%.600s", args, k, a, b)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%d keys, want %d", len(got), len(want))
		}
		text, _ := tyro(t, 0, "cohort", dir, "--from", fit)
		if !strings.Contains(text, "nothing was fitted") || !strings.Contains(text, "Trainees with the cohort behind them") {
			t.Error("the answer in words lacks its note or its table")
		}
	}
}
