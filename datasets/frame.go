package datasets

import (
	"fmt"
	"strconv"

	"github.com/go-gota/gota/dataframe"
	"github.com/go-gota/gota/series"
)

// A frame is a table being brought into shape. It is the one place that uses
// gota: every column stays text (type guessing would turn the code "007" into
// 7), cells were cut and checked before, and the error that gota keeps inside
// is looked at after every step.
type frame struct{ df dataframe.DataFrame }

// lineColumn carries each row's line number through the reshaping.
const lineColumn = "\x00line"

func newFrame(t table) (frame, error) {
	cols := make([]series.Series, 0, len(t.header)+1)
	lines := make([]string, len(t.rows))
	for i, r := range t.rows {
		lines[i] = strconv.Itoa(r.line)
	}
	cols = append(cols, series.New(lines, series.String, lineColumn))
	for j, name := range t.header {
		if name == "" {
			continue
		}
		cells := make([]string, len(t.rows))
		for i, r := range t.rows {
			cells[i] = r.cells[j]
		}
		cols = append(cols, series.New(cells, series.String, name))
	}
	return frame{}.wrap(dataframe.New(cols...))
}

func (frame) wrap(df dataframe.DataFrame) (frame, error) {
	if df.Err != nil {
		return frame{}, fmt.Errorf("table: %w", df.Err)
	}
	return frame{df}, nil
}

func (f frame) has(name string) bool {
	for _, n := range f.df.Names() {
		if n == name {
			return true
		}
	}
	return false
}

// text is a column's cells; all blank when there is no such column.
func (f frame) text(name string) []string {
	if name == "" || !f.has(name) {
		return make([]string, f.df.Nrow())
	}
	return f.df.Col(name).Records()
}

func (f frame) lines() []int {
	text := f.text(lineColumn)
	out := make([]int, len(text))
	for i, s := range text {
		out[i], _ = strconv.Atoi(s)
	}
	return out
}

// A block is a set of columns that belong to one attempt of a wide table:
// which column holds which measure.
type block struct {
	attempt string
	columns map[string]string // measure → column
}

// long stacks the blocks of a wide table: one row an attempt, with the keys
// repeated, the attempt number in attemptCol and each measure under its own
// name. Rows come block by block.
func (f frame) long(keys []string, attemptCol string, measures []string, blocks []block) (frame, error) {
	var all dataframe.DataFrame
	for i, b := range blocks {
		cols := []series.Series{f.df.Col(lineColumn)}
		for _, k := range keys {
			cols = append(cols, f.df.Col(k))
		}
		numbers := make([]string, f.df.Nrow())
		for j := range numbers {
			numbers[j] = b.attempt
		}
		cols = append(cols, series.New(numbers, series.String, attemptCol))
		for _, m := range measures {
			cells := make([]string, f.df.Nrow())
			if c, ok := b.columns[m]; ok {
				cells = f.text(c)
			}
			cols = append(cols, series.New(cells, series.String, m))
		}
		part := dataframe.New(cols...)
		if i == 0 {
			all = part
		} else {
			all = all.RBind(part)
		}
		if all.Err != nil {
			return frame{}, fmt.Errorf("stacking attempt %s: %w", b.attempt, all.Err)
		}
	}
	return f.wrap(all)
}
