package datasets

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A source is one file of a table that several make. How its numbers, times and dates are
// written is settled from its own cells: people, programs and countries differ.
type source struct {
	file        string
	row         int       // of the table's cells, where its rows begin
	first       grid.Cell // its cells have this number or more
	calendar    grid.Calendar
	spreadsheet bool
	read        practice.FileRead
	votes       votes    // of all its columns
	header      []string // its own column names; nil for a file alone
}

// A FileLayout is what may be said of one file where several are given together.
type FileLayout struct {
	Layout     `yaml:",inline"`
	Times      string `yaml:"times"`
	UnitSuffix string `yaml:"unit_suffix"`
	Dates      string `yaml:"dates"`
}

// files are those that a table is made of: itself, where it is one file.
func (t *table) files() []source {
	if t.sources != nil {
		return t.sources
	}
	return []source{{file: t.file, calendar: t.calendar, spreadsheet: t.spreadsheet, read: t.read}}
}

// sourceOf is the file of a cell.
func (t *table) sourceOf(id grid.Cell) int {
	for s := len(t.sources) - 1; s > 0; s-- {
		if id >= t.sources[s].first {
			return s
		}
	}
	return 0
}

// sourceAt is the file of a row.
func (t *table) sourceAt(i int) int {
	for s := len(t.sources) - 1; s > 0; s-- {
		if int(t.keep[i]) >= t.sources[s].row {
			return s
		}
	}
	return 0
}

// headSource is the file in which a column stood first.
func (t *table) headSource(j int) int {
	if t.sources == nil || j >= len(t.heads) {
		return 0
	}
	return t.heads[j]
}

// span are the rows of a file, the last excluded.
func (t *table) span(s int) (from, to int) {
	at := func(row int) int {
		return sort.Search(len(t.keep), func(i int) bool { return int(t.keep[i]) >= row })
	}
	from, to = 0, len(t.keep)
	if s > 0 {
		from = at(t.sources[s].row)
	}
	if s+1 < len(t.sources) {
		to = at(t.sources[s+1].row)
	}
	return from, to
}

// alike lists the files written by the same kind of program as one of them, itself first:
// where it alone does not show a notation, they may.
func (r *logReader) alike(s int) []int {
	out, this := []int{s}, r.files[s].read
	for k, f := range r.files {
		if k != s && f.read.Format == this.Format && f.read.Separator == this.Separator {
			out = append(out, k)
		}
	}
	return out
}

// takenFrom notes that one file was read as others show it.
func (r *logReader) takenFrom(s int, column, how string) {
	r.note("as-other-files", fmt.Sprintf("%s: column %s is read with %s, which the file alone does not show; the other files written like it do (to say it for this file: per_file: {%q: …} in the study file)", r.files[s].file, column, how, r.files[s].file))
}

// said is what the caller said of one file: of it alone, else of all.
func (r *logReader) said(s int) FileLayout {
	out := FileLayout{Layout: r.layout, Times: r.log.Times, UnitSuffix: r.log.UnitSuffix, Dates: r.log.Dates}
	one := r.log.PerFile[r.files[s].file]
	out.Decimal, out.Times = cmp.Or(one.Decimal, out.Decimal), cmp.Or(one.Times, out.Times)
	out.UnitSuffix, out.Dates = cmp.Or(one.UnitSuffix, out.UnitSuffix), cmp.Or(one.Dates, out.Dates)
	return out
}

// askIn is a problem of one file that only the user can settle.
func (r *logReader) askIn(s int, column, value, expect string) {
	if len(r.files) > 1 {
		expect += r.aloneWay(s)
	}
	r.problems = append(r.problems, Problem{File: r.files[s].file, Column: column, Value: value, Expect: expect, Err: problem.ErrAmbiguous})
}

// aloneWay is the way to say something of one file alone.
func (r *logReader) aloneWay(s int) string {
	return fmt.Sprintf("; for this file alone the key stands under per_file: {%q: {…}}", r.files[s].file)
}

// layoutOf is how one of a log's files is laid out.
func (lf LogFile) layoutOf(name string) Layout {
	l, one := lf.Layout, lf.PerFile[name]
	l.Sheet, l.Encoding = cmp.Or(one.Sheet, l.Sheet), cmp.Or(one.Encoding, l.Encoding)
	l.Separator, l.Decimal = cmp.Or(one.Separator, l.Separator), cmp.Or(one.Decimal, l.Decimal)
	if one.HeadRows > 0 {
		l.HeadRows = one.HeadRows
	}
	if one.SkipRows > 0 {
		l.SkipRows = one.SkipRows
	}
	return l
}

// settlePerFile lists what is wrong with what is said of single files.
func (lf LogFile) settlePerFile(where string) Problems {
	var ps Problems
	names := lf.Files
	if lf.File != "" {
		names = append([]string{lf.File}, names...)
	}
	for _, name := range sortedKeys(lf.PerFile) {
		at := where + ": per_file: " + name
		if !slices.Contains(names, name) {
			ps = append(ps, Problem{File: StudyFile, Column: at, Err: problem.ErrUnknown, Expect: "one of the files " + strings.Join(names, ", ")})
		}
		one := lf.PerFile[name]
		l := one.Layout
		if l.SheetsAre != "" || l.Transposed || l.Where != nil || l.Without != nil || l.Ignore != nil || l.FillDown != nil || l.Same != nil {
			ps = append(ps, Problem{File: StudyFile, Column: at, Err: problem.ErrUnknown, Expect: "only sheet, head_rows, skip_rows, encoding, separator, decimal, times, unit_suffix and dates for one file; the rest holds for all files and stands beside files"})
		}
		ps = append(ps, LogFile{File: name, Layout: l, Times: one.Times, Dates: one.Dates}.settle(at)...)
	}
	return ps
}

// lacking looks for columns that some files have and others do not: without trainees, numbers
// or measures a file's rows would come to nothing, and without another column theirs is blank.
func (r *logReader) lacking() {
	if len(r.files) < 2 {
		return
	}
	needed := []string{r.cols.Trainee, cmp.Or(r.cols.Attempt, r.cols.Date)}
	if !r.isWide {
		needed = append(needed, r.measures...)
	}
	others := []string{r.cols.Arm, r.cols.Task, r.cols.Session, r.cols.Date, r.cols.Outcome}
	for _, f := range r.files {
		without := func(name string) bool {
			return name != "" && name != sheetColumn && r.table.column(name) >= 0 && !slices.Contains(f.header, name)
		}
		for _, name := range needed {
			if without(name) {
				r.problems = append(r.problems, Problem{File: f.file, Column: name, Expect: "the same column names in every file; this one has " + problem.List(named(f.header), 12), Err: problem.ErrMissing})
			}
		}
		for _, name := range others {
			if without(name) && !slices.Contains(needed, name) {
				r.note("column-not-in-all", fmt.Sprintf("%s has no column %s, as the other files do; it is blank for its rows", f.file, name))
			}
		}
	}
}

// named are the names that are not blank.
func named(names []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == "" })
}
