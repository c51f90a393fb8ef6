package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// claims are words that say that things are alike.
var claims = regexp.MustCompile(`(?i)\bno (significant )?(difference|effect)\b|\bequivalen|\bdo(es)? not differ|\bnot different\b|\bno change\b|\bmakes no difference\b|\bare (alike|the same|equal)\b`)

// allowed are the sentences that may hold such words, each with the reason.
var allowed = []struct{ part, why string }{
	{"does not show that the arms are alike", "denies it"},
	{"exclude that the arms are alike", "says what an interval excludes"},
	{"excludes that the arms are alike", "says what an interval excludes"},
	{"leaves it open that the arms are alike", "leaves it open"},
	{"at 1 the arms are alike", "explains an axis"},
	{"in which arms are alike in %s", "names a model"},
	{"the value of no change (a ratio", "names a value"},
	{"its trainees are alike", "one arm's numbers"},
	{"neighbouring attempts are alike", "says that they depend on each other"},
	{"all ratings are the same", "counts"},
	{"read again they are the same", "files"},
	{"no effect can act", "a parameter that is held"},
	{"equivalence", "the name of the question with a margin, or of a test"},
}

// No sentence in the program says that arms, trainees or anything else do not differ, unless
// a margin was given: what is not excluded is said instead.
func TestNoSentenceClaimsThatThereIsNoDifference(t *testing.T) {
	files := token.NewFileSet()
	for _, root := range []string{"../../analysis", "../../reports", "../../cmd", "../../datasets"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				l, ok := n.(*ast.BasicLit)
				if !ok || l.Kind != token.STRING {
					return true
				}
				text, err := strconv.Unquote(l.Value)
				if err != nil {
					t.Errorf("%s: %v", files.Position(l.Pos()), err)
				}
				rest := text
				for _, a := range allowed {
					rest = strings.ReplaceAll(rest, a.part, "")
				}
				if found := claims.FindString(rest); found != "" {
					t.Errorf("%s: %q in %q", files.Position(l.Pos()), found, text)
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// Twenty-three trainees whose Welch test gives p = .4: the text says which differences are
// not excluded. The numbers are made so by hand: 12 and 11 values of mean 0 and spread 1,
// the second arm's moved until t = .8586 on 20.9 degrees of freedom, whose two tails are .40.
func TestWhatTwentyThreeTraineesDoNotExclude(t *testing.T) {
	// Values ±a in pairs have mean 0; the variance of n of them is n·a²/(n−1).
	var rows strings.Builder
	rows.WriteString("arm,score\n")
	for k := range 12 {
		fmt.Fprintf(&rows, "a,%g\n", 50+10*math.Pow(-1, float64(k)))
	}
	spread := math.Sqrt(100*12/11./12 + 100*10/10./11) // of the difference of means
	for k := range 11 {
		v := 10 * math.Pow(-1, float64(k))
		if k == 10 {
			v = 0 // so that the mean is 0; ten values of ±10 give a variance of 100
		}
		fmt.Fprintf(&rows, "b,%.9f\n", 50+0.8586*spread+v)
	}
	path := filepath.Join(t.TempDir(), "scores.csv")
	if err := os.WriteFile(path, []byte(rows.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(printed(tyro(t, 0, "compare", path, "--response", "score", "--arm", "arm", "--replicates", "200"))), " ")
	for _, want := range []string{" 0.40 ", "b against a, difference: excludes differences below", "anything between, in either direction, remains possible"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q:\n%s", want, text)
		}
	}
	if claims.MatchString(text) {
		t.Errorf("the text claims %q:\n%s", claims.FindString(text), text)
	}
}
