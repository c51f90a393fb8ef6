package reports

import (
	"testing"

	"tyro/datasets"
	"tyro/datasets/demo"
)

// demoInput is the demo study made ready with the given options.
func demoInput(t *testing.T, o Options) *Input {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	study, err := datasets.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	in, err := Prepare(study, o)
	if err != nil {
		t.Fatal(err)
	}
	return in
}
