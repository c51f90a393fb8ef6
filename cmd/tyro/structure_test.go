package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// Imports run one way: what each layer must not reach, directly or through
// others.
func TestImportDirections(t *testing.T) {
	const gota, plotting = "github.com/go-gota/gota", "gonum.org/v1/plot"
	for _, layer := range []struct {
		pattern string
		banned  []string
	}{
		{"tyro/models", []string{"tyro/analysis", "tyro/datasets", "tyro/reports", gota, plotting}},
		{"tyro/analysis/practice", []string{"tyro/analysis/fit", "tyro/analysis/resample", "tyro/datasets", "tyro/reports"}},
		{"tyro/analysis/...", []string{"tyro/datasets", "tyro/reports", "tyro/cmd", gota, plotting}},
		{"tyro/reports/...", []string{"tyro/cmd"}},
	} {
		pkgs := list(t, "-f", "{{.ImportPath}} {{join .Deps \" \"}}", layer.pattern)
		for _, line := range pkgs {
			fields := strings.Fields(line)
			for _, dep := range fields[1:] {
				for _, b := range layer.banned {
					if dep == fields[0] || dep == "tyro/analysis/practice" {
						continue // what was seen of a trainee, and the ranges of its numbers, is known to all but models
					}
					if dep == b || strings.HasPrefix(dep, b+"/") {
						t.Errorf("%s reaches %s", fields[0], dep)
					}
				}
			}
		}
	}
}

// Only one file deals with gota.
func TestGotaBehindOneFile(t *testing.T) {
	out, err := exec.Command("grep", "-rl", "--include=*.go", "go-gota/gota", "../..").Output()
	if err != nil {
		t.Fatal(err)
	}
	files := slices.DeleteFunc(strings.Fields(string(out)), func(f string) bool { return strings.HasSuffix(f, "structure_test.go") })
	if len(files) != 1 || !strings.HasSuffix(files[0], "datasets/frame.go") {
		t.Errorf("gota is imported by %v, want datasets/frame.go alone", files)
	}
}

func list(t *testing.T, args ...string) []string {
	t.Helper()
	out, err := exec.Command("go", append([]string{"list"}, args...)...).Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	return strings.Split(strings.TrimSpace(string(out)), "\n")
}
