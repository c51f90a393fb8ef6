package datasets

import (
	"fmt"
	"slices"
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

func newFrame(t *table) (frame, error) {
	cols := make([]series.Series, 0, len(t.header)+1)
	lines := make([]string, t.rows())
	for i := range lines {
		lines[i] = strconv.Itoa(t.line(i))
	}
	cols = append(cols, series.New(lines, series.String, lineColumn))
	for j, name := range t.header {
		if name == "" {
			continue
		}
		cells := make([]string, t.rows())
		for i := range cells {
			cells[i] = t.text(i, j)
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

// names lists the columns.
func (f frame) names() []string {
	return slices.DeleteFunc(f.df.Names(), func(n string) bool { return n == lineColumn })
}
