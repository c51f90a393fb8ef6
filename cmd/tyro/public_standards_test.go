package main

import (
	"math"
	"path/filepath"
	"testing"
)

// TestPublicStandards asks the command about public data, and R about the same
// (testdata/standards/public has its script and the sources). R's noncentral t
// quantiles are good to about 1e-8.
func TestPublicStandards(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "standards", "public")
	want := map[string]float64{}
	for _, r := range expectedRows(t, dir) {
		want[r[0]+"/"+r[1]] = number(t, r[2])
	}
	checked := 0
	for _, c := range []struct {
		args []string
		keys map[string]string // of the answer: name of the expected value
	}{
		{[]string{"glucose.csv", "--method", "contrasting-groups"}, map[string]string{"estimate": "glucose/normal", "false_pass": "glucose/observed/false_pass", "false_fail": "glucose/observed/false_fail",
			"theoretical.false_pass": "glucose/theoretical/false_pass", "theoretical.false_fail": "glucose/theoretical/false_fail", "logistic.estimate": "glucose/logistic", "logistic.se": "glucose/logistic/se"}},
		{[]string{"glucose.csv", "--method", "contrasting-groups", "--crossing", "weighted"}, map[string]string{"estimate": "glucose/weighted"}},
		{[]string{"school.csv", "--method", "borderline-regression", "--borderline", "2"}, map[string]string{"estimate": "school/estimate", "se": "school/se", "lower": "school/lower", "upper": "school/upper", "line.r_squared": "school/r_squared"}},
		{[]string{"school.csv", "--method", "borderline-group", "--borderline", "2"}, map[string]string{"estimate": "school/group/estimate", "lower": "school/group/lower", "upper": "school/group/upper"}},
		{[]string{"speed.csv", "--method", "expert-mean", "--better", "lower"}, map[string]string{"estimate": "speed/mean", "lower": "speed/mean/lower", "upper": "speed/mean/upper"}},
		{[]string{"speed.csv", "--method", "expert-mean", "--better", "lower", "--sds", "1"}, map[string]string{"estimate": "speed/sds", "se": "speed/sds/se", "lower": "speed/sds/lower", "upper": "speed/sds/upper"}},
		{[]string{"speed.csv", "--method", "expert-mean", "--trainee-table", filepath.Join(dir, "attitude.csv"), "--item-columns", "rating,complaints,privileges,learning,raises,critical,advance", "--highest-score", "1000"},
			map[string]string{"classification.reliability": "attitude/alpha"}},
	} {
		out, _ := tyro(t, 0, append([]string{"standard", filepath.Join(dir, c.args[0]), "--format", "json", "--replicates", "20"}, c.args[1:]...)...)
		doc := decode(t, out)
		for key, name := range c.keys {
			got, ok := at(doc, key).(float64)
			w, known := want[name]
			if !ok || !known || !(math.Abs(got-w) <= 1e-7*math.Max(1, math.Abs(w))) {
				t.Errorf("%v: %s = %v, R has %v (%s)", c.args, key, got, w, name)
			}
			checked++
		}
	}
	if checked != len(want) {
		t.Errorf("%d numbers compared of %d", checked, len(want))
	}
}

// at follows a path of keys such as line.slope.
func at(doc map[string]any, path string) any {
	for i, r := range path {
		if r == '.' {
			inner, _ := doc[path[:i]].(map[string]any)
			return at(inner, path[i+1:])
		}
	}
	return doc[path]
}
