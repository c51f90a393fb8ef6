package paper

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/demo"
	"tyro/reports"
	"tyro/reports/page"
)

// demoPaper is the demo study with everything run.
func demoPaper(t *testing.T) *Paper {
	t.Helper()
	files, err := demo.Files()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	file, err := datasets.Open(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	pr, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(pr, study.Options{Replicates: 20})
	if err != nil {
		t.Fatal(err)
	}
	r, err := page.Run(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	p := &Paper{
		Study: s, Check: r.Check, Curves: r.Curves, Standard: r.Standard, Proficiency: r.Proficiency, Quota: r.Quota, Ways: r.Ways,
		Cohort: r.Cohort, Comparison: r.Comparison, Retention: r.Retention, Agreement: r.Agreement, Build: reports.ThisBuild(), Command: "tyro report demo",
	}
	if r.Watch != nil {
		p.Monitor = r.Watch.Monitor
	}
	for _, d := range p.documents() {
		if reflect.ValueOf(d).IsNil() {
			t.Fatalf("the demo study gives no %T", d)
		}
	}
	if n := len(p.documents()); n != 11 {
		t.Fatalf("%d documents of the demo study, want all 11", n)
	}
	return p
}

var (
	brokenText = regexp.MustCompile(`NaN|%!|\bnil\b|  | [.,;:)]|\(\)|\( |[,;:]\.|\.\.|:\s*$|\bof \.|<[a-z]+>`)
	blanks     = regexp.MustCompile(`\s+`)
)

// sound reports what is wrong with a paragraph: a gap, a number that is none, a word
// twice, half a sentence.
func sound(s section) string {
	if s.title == "" {
		return "no heading"
	}
	for _, sentence := range s.sentences {
		if m := brokenText.FindString(sentence); m != "" {
			return fmt.Sprintf("%q in %q", m, sentence)
		}
		if !strings.HasSuffix(sentence, ".") || !(unicode.IsUpper([]rune(sentence)[0]) || unicode.IsDigit([]rune(sentence)[0])) {
			return fmt.Sprintf("no whole sentence: %q", sentence)
		}
		if strings.Count(sentence, "(") != strings.Count(sentence, ")") || strings.Count(sentence, `"`)%2 != 0 {
			return fmt.Sprintf("brackets or quotes do not close: %q", sentence)
		}
		words := blanks.Split(strings.ToLower(sentence), -1)
		for i := 1; i < len(words); i++ {
			if words[i] == words[i-1] && unicode.IsLetter([]rune(words[i])[0]) {
				return fmt.Sprintf("%q twice in %q", words[i], sentence)
			}
		}
	}
	return ""
}

// The paragraphs are whole for every combination of parts that a study lacks, for a task
// of which little is said, and where numbers could not be computed.
func TestParagraphsAreWhole(t *testing.T) {
	whole := demoPaper(t)
	parts := reflect.TypeFor[Paper]()
	var optional []int
	for i := range parts.NumField() {
		if f := parts.Field(i); f.Type.Kind() == reflect.Pointer && f.Name != "Study" && f.Name != "Part" {
			optional = append(optional, i)
		}
	}
	if len(optional) != 11 {
		t.Fatalf("%d parts, want 11", len(optional))
	}
	look := func(p Paper, what string) {
		t.Helper()
		for _, s := range append(p.methods(), p.results()...) {
			if wrong := sound(s); wrong != "" {
				t.Errorf("%s, %s: %s", what, s.title, wrong)
			}
		}
	}
	studies := []*study.Study{whole.Study}
	for k := range 64 {
		studies = append(studies, poorer(whole.Study, k))
	}
	for k, st := range studies {
		p := *whole
		p.Study = st
		look(p, fmt.Sprintf("task %d", k))
	}
	for mask := range 1 << len(optional) {
		p := *whole
		for k, i := range optional {
			if mask>>k&1 == 1 {
				reflect.ValueOf(&p).Elem().Field(i).SetZero()
			}
		}
		look(p, fmt.Sprintf("without %b", mask))
		if t.Failed() {
			return
		}
	}
	p := *whole // changed from here on
	for _, unknown := range []float64{math.NaN(), math.Inf(1)} {
		for _, d := range p.documents() {
			setNumbers(reflect.ValueOf(d), unknown)
		}
		look(p, fmt.Sprintf("every number %v", unknown))
	}
	for _, d := range p.documents() {
		emptyLists(reflect.ValueOf(d))
	}
	look(p, "empty lists")
}

// poorer is a study of whose task less is said; the bits of k say what is missing.
func poorer(s *study.Study, k int) *study.Study {
	pr := s.Practice
	task := pr.Task
	if k&1 != 0 {
		task.Unit = ""
	}
	if k&2 != 0 {
		task.Rule, task.AtMost, task.Counts = nil, nil, nil
	}
	if k&4 != 0 {
		task.Standard = &practice.Decision{Value: 57}
	}
	if k&8 != 0 {
		task.Limit, task.Scoring, task.Name = 0, "", ""
	}
	if k&16 != 0 {
		task.Standard = nil
	}
	if k&32 != 0 {
		pr.Trainees, pr.Arms, pr.Experts, pr.Items, pr.SHA256 = nil, nil, nil, nil, ""
	}
	pr.Task = task
	return &study.Study{Practice: pr, Options: s.Options, Specs: s.Specs, Question: s.Question}
}

// setNumbers puts one value in the place of every number that may be unknown.
func setNumbers(v reflect.Value, to float64) {
	walk(v, func(v reflect.Value) {
		if v.Type() == reflect.TypeFor[reports.Number]() && v.CanSet() {
			v.SetFloat(to)
		}
	})
}

// emptyLists takes every row away.
func emptyLists(v reflect.Value) {
	walk(v, func(v reflect.Value) {
		if v.Kind() == reflect.Slice && v.CanSet() {
			v.SetLen(0)
		}
	})
}

// walk visits what a document shows to programs.
func walk(v reflect.Value, see func(reflect.Value)) {
	see(v)
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			walk(v.Elem(), see)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); (f.IsExported() || f.Anonymous) && f.Tag.Get("json") != "-" {
				walk(v.Field(i), see)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), see)
		}
	}
}

// The checks of the test see what they are there to see.
func TestBrokenTextIsSeen(t *testing.T) {
	for _, bad := range []string{"A mean of NaN.", "The the end.", "half a sentence", "A gap of  two.", "Of these, ().", "It was .", "An open (bracket.", "Costs: ."} {
		if sound(section{"h", []string{bad}}) == "" {
			t.Errorf("%q is taken for sound", bad)
		}
	}
	if wrong := sound(section{"h", []string{"Of 36 trainees, 30 met the rule \"2 in a row\" (95 % interval 3 to 4)."}}); wrong != "" {
		t.Error(wrong)
	}
}
