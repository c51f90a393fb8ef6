package datasets

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// placed are names to which a program added their place: time...2, errors...3, time...4.
var placed = regexp.MustCompile(`^(.*)\.\.\.(\d+)$`)

// unplace takes away the places that a program added to names which repeat.
func unplace(names []string) []string {
	out := slices.Clone(names)
	found := 0
	for j, name := range names {
		m := placed.FindStringSubmatch(name)
		if m == nil {
			continue
		}
		if m[2] != strconv.Itoa(j+1) {
			return names
		}
		out[j] = m[1]
		found++
	}
	if found < 2 {
		return names
	}
	return out
}

// repeatedNames reads a table in which the names of the measures repeat, once for every
// attempt: trainee, time, errors, time, errors. Nil where they do not.
func (r *logReader) repeatedNames() []slot {
	var out []slot
	for k, m := range r.measures {
		if !slices.Contains(r.table.twice, m) {
			continue
		}
		n := 0
		for j, name := range r.table.header {
			plain := name == m || strings.HasPrefix(name, m+" (column ") && name == repeatedName(m, j)
			if !plain {
				continue
			}
			if n == len(out) {
				out = append(out, slot{number: strconv.Itoa(n + 1), columns: r.noColumns()})
			}
			out[n].columns[k] = j
			n++
		}
	}
	if len(out) > 0 {
		r.note("names-repeat", fmt.Sprintf("%s: columns of the same name are read as attempts 1 to %d, from left to right", r.file, len(out)))
	}
	return out
}

// repeatedName is what the second and later columns of a name are called.
func repeatedName(name string, j int) string { return fmt.Sprintf("%s (column %d)", name, j+1) }

// Words for the numbers of attempts in column names.
var (
	ordinalWords = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}
	countWords   = []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	romanWords   = []string{"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii", "xiii", "xiv", "xv", "xvi", "xvii", "xviii", "xix", "xx"}
)

// wordHeads lists columns whose names count in words or Roman numbers, from one on without
// a gap: I, II, III; first, second; attempt one, attempt two.
func (r *logReader) wordHeads() []numberedHead {
	for _, words := range [][]string{ordinalWords, countWords, romanWords} {
		var out []numberedHead
		for j, name := range r.table.header {
			parts := strings.Fields(headMarks.ReplaceAllString(strings.ToLower(name), " "))
			if len(parts) == 0 || len(parts) > 2 || r.role(name) || slices.Contains(r.layout.Ignore, name) {
				continue
			}
			for k, p := range parts {
				if n := slices.Index(words, p); n >= 0 {
					key := strings.Join(slices.Delete(slices.Clone(parts), k, k+1), " ")
					out = append(out, numberedHead{column: j, key: key, numbers: []int{n + 1}})
					break
				}
			}
		}
		run := len(out) >= 2
		for k, h := range out {
			run = run && h.numbers[0] == k+1 && h.key == out[0].key
		}
		if run {
			return out
		}
	}
	return nil
}

// dayNames are column names with a day and no year.
var dayName = pattern.New(`(?i)^\d{1,2}(?:st|nd|rd|th)?[ .\-/]*(jan|feb|mar|mär|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-z]*\.?$|^(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?[ \-]*\d{1,2}(?:st|nd|rd|th)?$|^\d{1,2}[./]\d{1,2}\.?$`)

// yearless asks where column names are days without a year.
func (r *logReader) yearless(heads []numberedHead) bool {
	n := 0
	for _, h := range heads {
		if dayName.MatchString(r.table.header[h.column]) {
			n++
		}
	}
	if n < 2 || n < len(heads) {
		return false
	}
	r.ask("", r.table.header[heads[0].column], "days with their year in the column names, such as 2026-02-28, or attempt numbers 1, 2, 3: rename the columns")
	return true
}

// likeAttempts notes columns of a wide table that nothing uses and that hold numbers like
// the measure's.
func (r *logReader) likeAttempts() {
	if !r.isWide || len(r.readers) == 0 || r.log.ColumnsAre != "" {
		return
	}
	m := r.readers[0]
	low, high := m.span()
	if low > high {
		return
	}
	var like []string
	for _, name := range r.unused() {
		if slices.Contains(r.layout.Ignore, name) || slices.Contains(r.named, name) {
			continue
		}
		inside, cells := 0, r.distinct(r.table.column(name))
		for _, c := range cells {
			w := m.wayOf(c)
			v, ok := w.number(plainDigits(c.text))
			if !ok && m.kind == Time {
				v, ok = duration(c.text, w.notation, w.form)
			}
			if ok && v >= low/2 && v <= 2*high {
				inside++
			}
		}
		if inside > 0 && inside == len(cells) && high > 20 && !r.sumsUpRow(m, r.table.column(name)) {
			like = append(like, name)
		}
	}
	if len(like) > 0 {
		r.note("columns-like-attempts", fmt.Sprintf("%s: column %s holds numbers like those of the attempts and is not read; if it is an attempt, give it a number, such as %s", r.file, problem.List(like, 5), r.table.header[r.slotted[0].columns[0]]))
	}
}

// span is the smallest and the largest number of a measure.
func (m *measureReader) span() (low, high float64) {
	low, high = 1, 0
	for _, c := range m.cells {
		if got := m.readings[c.id]; got.state == isNumber {
			if low > high {
				low, high = got.value, got.value
			}
			low, high = min(low, got.value), max(high, got.value)
		}
	}
	return low, high
}

// sumsUpRow reports whether a column of a wide table is in every row the least, the largest, the mean or
// the median of the attempts.
func (r *logReader) sumsUpRow(m *measureReader, j int) bool {
	rows, is := 0, [4]bool{true, true, true, true}
	for i := range min(r.table.rows(), mostCompared) {
		w, ok := m.valueOf(r.table, i, j)
		var vs []float64
		sum := 0.0
		for _, s := range r.slotted {
			if v, ok := r.valueAt(m, i, s.columns[0]); ok {
				vs, sum = append(vs, v), sum+v
			}
		}
		if !ok || len(vs) < 2 {
			continue
		}
		rows++
		slices.Sort(vs)
		n := len(vs)
		for k, v := range []float64{vs[0], vs[n-1], sum / float64(n), (vs[(n-1)/2] + vs[n/2]) / 2} {
			is[k] = is[k] && math.Abs(w-v) <= 0.51 && (k > 1 || w == v)
		}
	}
	return rows >= 2 && (is[0] || is[1] || is[2] || is[3])
}
