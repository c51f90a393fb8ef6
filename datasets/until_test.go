package datasets

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every bad cell is named, with its line.
func TestOpenUntilReportsEveryCell(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(path, []byte("until,met\n5,yes\n,1\n0,1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := OpenUntil(t.Context(), path, UntilColumns{Until: "until", Met: "met"})
	if err == nil || strings.Count(err.Error(), "\n") != 2 || !strings.Contains(err.Error(), `a.csv:2: column "met": "yes"`) {
		t.Errorf("problems %v", err)
	}
}
