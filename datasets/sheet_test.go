package datasets

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"tyro/datasets/problem"
)

func sheet(t *testing.T, text string) *Sheet {
	t.Helper()
	path := filepath.Join(t.TempDir(), "judges.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := OpenSheet(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSheet(t *testing.T) {
	s := sheet(t, "judge;cut;time\nA;20,5;1:30\nB;;90\n")
	cuts, err := s.Numbers("cut")
	if err != nil || cuts[0] != 20.5 || !math.IsNaN(cuts[1]) {
		t.Errorf("cuts %v (%v)", cuts, err)
	}
	times, err := s.Seconds("time")
	if err != nil || times[0] != 90 || times[1] != 90 {
		t.Errorf("times %v (%v)", times, err)
	}
	if _, err := s.Text("item"); !errors.Is(err, problem.ErrMissing) {
		t.Errorf("a column that is not there: %v", err)
	}
}

func TestSheetReportsEveryCell(t *testing.T) {
	_, err := sheet(t, "judge,cut\nA,twenty\nB,21\nC,x\n").Numbers("cut")
	var ps Problems
	if !errors.As(err, &ps) || len(ps) != 2 || ps[0].Line != 2 || ps[1].Line != 4 {
		t.Errorf("problems %v, want lines 2 and 4", err)
	}
}
