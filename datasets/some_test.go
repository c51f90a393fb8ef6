package datasets

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/parquet-go/parquet-go"
)

// Of those who are asked for all attempts are read, of each other trainee the first, and
// positions stay. A file in which that would not do is read whole.
func TestSomeTrainees(t *testing.T) {
	type row struct {
		Who string   `parquet:"who,dict"`
		N   int32    `parquet:"n"`
		Sec *float64 `parquet:"sec"`
	}
	type textRow struct {
		Who string `parquet:"who"`
		N   int32  `parquet:"n"`
		Sec string `parquet:"sec"`
	}
	dir := t.TempDir()
	var plain, blank []row
	var texts []textRow
	for n := range 5 {
		for i := range 7 {
			sec := float64(50 + 10*i - 3*n)
			r := row{fmt.Sprintf("T%d", i), int32(n + 1), &sec}
			plain = append(plain, r)
			if i == 1 { // nothing was measured of the second trainee, who is not one of the log's
				r.Sec = nil
			}
			blank, texts = append(blank, r), append(texts, textRow{r.Who, r.N, fmt.Sprint(sec)})
		}
	}
	asked := func(nth int) bool { return nth%3 == 2 }
	for name, c := range map[string]struct {
		write func(path string) error
		some  bool // of the file some can be read
	}{
		"plain": {func(path string) error { return writeRows(path, plain) }, true},
		"blank": {func(path string) error { return writeRows(path, blank) }, false},
		"texts": {func(path string) error { return writeRows(path, texts) }, false},
	} {
		path := filepath.Join(dir, name+".parquet")
		if err := c.write(path); err != nil {
			t.Fatal(err)
		}
		spec := Single{Columns: Columns{Trainee: "who", Attempt: "n"}, Response: "sec", Measure: Time}
		whole, err := OpenTable(t.Context(), path, spec)
		if err != nil {
			t.Fatal(name, err)
		}
		spec.Whom = asked
		some, err := OpenTable(t.Context(), path, spec)
		if err != nil || some.SHA256 != whole.SHA256 {
			t.Fatal(name, err)
		}
		want, _ := whole.Practice("")
		got, _ := some.Practice("")
		if len(got.Trainees) != len(want.Trainees) {
			t.Fatalf("%s: %d trainees of %d", name, len(got.Trainees), len(want.Trainees))
		}
		for i, w := range want.Trainees {
			if !asked(i) && c.some {
				w.Attempts = w.Attempts[:1]
			}
			if !reflect.DeepEqual(got.Trainees[i], w) {
				t.Errorf("%s: trainee %d is %+v, want %+v", name, i, got.Trainees[i], w)
			}
		}
	}
}

func writeRows[T any](path string, rows []T) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	w := parquet.NewGenericWriter[T](f, parquet.MaxRowsPerRowGroup(4))
	if _, err := w.Write(rows); err != nil {
		return err
	}
	return w.Close()
}
