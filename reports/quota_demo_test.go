package reports

import (
	"testing"

	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/demo"
)

// quotaDemo is the demo study with the options given, and the file of its attempts.
func quotaDemo(t *testing.T, o study.Options) (*study.Study, string) {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	file, err := datasets.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	p, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return s, dir + "/attempts.csv"
}
