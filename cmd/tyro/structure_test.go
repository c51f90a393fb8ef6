package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tyro/models"
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
		{"tyro/analysis/shard", []string{"tyro/analysis", "tyro/models", "tyro/datasets", "tyro/reports", "gonum.org"}},
		{"tyro/analysis/...", []string{"tyro/datasets", "tyro/reports", "tyro/cmd", gota, plotting}},
		{"tyro/datasets/internal/...", []string{"tyro/models", "tyro/reports", "tyro/cmd", gota, plotting}},
		{"tyro/reports", []string{"tyro/cmd", "tyro/reports/figure", "tyro/reports/page", "tyro/reports/paper", plotting}},
		{"tyro/reports/figure", []string{"tyro/cmd", "tyro/reports/page", "tyro/reports/paper"}},
		{"tyro/reports/page", []string{"tyro/cmd", "tyro/reports/paper"}},
		{"tyro/reports/paper", []string{"tyro/cmd", "tyro/reports/page"}},
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

// Documents, pictures and pages compute nothing: they call no function of an analysis,
// and only the page, which asks the questions, has a context to stop long work with.
func TestReportsComputeNothing(t *testing.T) {
	engines := []string{"agreement", "change", "cohort", "compare", "fit", "monitor", "proficiency", "resample", "retention", "standard", "stopping", "survival", "stat", "optimize"}
	allowed := []string{"proficiency.QuotaShares"} // the shares that every quota answers for
	seen := 0
	for _, dir := range []string{"../../reports", "../../reports/figure", "../../reports/page", "../../reports/paper"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			seen++
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, i := range file.Imports {
				if i.Path.Value == `"context"` && !strings.HasSuffix(dir, "page") {
					t.Errorf("%s works long enough to need a context", path)
				}
			}
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				f, ok := call.Fun.(*ast.SelectorExpr)
				if !ok {
					return true
				}
				if x, ok := f.X.(*ast.Ident); ok && slices.Contains(engines, x.Name) && x.Obj == nil && !slices.Contains(allowed, x.Name+"."+f.Sel.Name) {
					t.Errorf("%s calls %s.%s", path, x.Name, f.Sel.Name)
				}
				return true
			})
		}
	}
	if seen < 40 {
		t.Errorf("only %d files were looked at", seen)
	}
}

// A log becomes practice in one file. A table from which a standard is set is not a log,
// and the experts in it are read beside the rest of it.
func TestOneFileMakesPractice(t *testing.T) {
	files, err := filepath.Glob("../../datasets/*.go")
	if err != nil {
		t.Fatal(err)
	}
	var makers []string
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(path, "_test.go") && strings.Contains(string(text), "practice.Attempt{") {
			makers = append(makers, filepath.Base(path))
		}
	}
	if !slices.Equal(makers, []string{"practice.go", "standard_table.go"}) {
		t.Errorf("attempts are made in %v, want practice.go for logs and standard_table.go", makers)
	}
}

// A new curve or noise changes models alone: elsewhere nothing asks which one it has in
// hand, only what that one can do.
func TestCurvesAndNoisesAreNotAskedTheirNames(t *testing.T) {
	var types []string
	for _, n := range models.Noises() {
		types = append(types, reflect.TypeOf(n).Name())
	}
	asks := regexp.MustCompile(`\.Name\(\) *[!=]= *"\w|switch .*(Family|Noise|noise|family|f|n)\.Name\(\)|[(]models\.(` + strings.Join(types, "|") + `)[)]|case models\.(` + strings.Join(types, "|") + `)\b`)
	for _, one := range []string{`if f.Family.Name() == "power" {`, "switch c.Family.Name() {", "n.(models.NegativeBinomial)", "case models.Lognormal:"} {
		if !asks.MatchString(one) {
			t.Errorf("%q is not found", one)
		}
	}
	seen := 0
	for _, root := range []string{"../../analysis", "../../reports", "../../datasets"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			seen++
			text, err := os.ReadFile(path)
			for line := range strings.Lines(string(text)) {
				if asks.MatchString(line) {
					t.Errorf("%s: %s", path, strings.TrimSpace(line))
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 150 {
		t.Errorf("only %d files were looked at", seen)
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
