package page

import (
	"testing"

	"tyro/datasets"
	"tyro/datasets/demo"
	"tyro/reports"
)

// demoInput is the demo study made ready with the given options.
func demoInput(t *testing.T, o reports.Options) *reports.Input {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	study, err := datasets.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	in, err := reports.Prepare(study, o)
	if err != nil {
		t.Fatal(err)
	}
	return in
}
