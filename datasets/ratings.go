package datasets

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
)

// A RatingsFile says how to read ratings: one row a rating (long), one row a
// rating of several items with a column each, or one row a subject with a
// column a rater (wide).
type RatingsFile struct {
	File     string     `yaml:"file"`
	HeadRows int        `yaml:"head_rows"`
	Subject  string     `yaml:"subject"` // column of the rated performance; blank: "subject", or the first column of a wide table
	Rater    string     `yaml:"rater"`
	Item     string     `yaml:"item"`  // blank: the file has one item, or a column for each of Items
	Score    string     `yaml:"score"` // blank: "score"
	Wide     bool       `yaml:"wide"`
	Scale    string     `yaml:"scale"` // of items that Items does not name
	Items    []ItemSpec `yaml:"items"`
}

// An ItemSpec names a rated item and its scale.
type ItemSpec struct {
	Name   string   `yaml:"name"`
	Scale  string   `yaml:"scale"`  // nominal, ordinal, interval or ratio
	Levels []string `yaml:"levels"` // words in increasing order, where the scores are words
}

// Ratings are the rated items of a study.
type Ratings struct {
	File   string
	Items  []RatedItem
	SHA256 string
	Notes  []Note
}

// A RatedItem is one item's ratings as a table of subjects by raters.
type RatedItem struct {
	Name       string
	Scale      string
	Subjects   []string
	Raters     []string
	Scores     [][]float64 // [subject][rater]; NaN where not rated
	Categories []string    // the words behind scores 0, 1, …; nil for numbers
}

var scales = []string{"nominal", "ordinal", "interval", "ratio"}

// ReadRatings reads ratings and reports every problem. A blank cell is a
// missing rating, never a category.
func ReadRatings(path string, data []byte, rf RatingsFile) (Ratings, error) {
	t, err := readTable(path, data, rf.HeadRows)
	if err != nil {
		return Ratings{}, err
	}
	sum := sha256.Sum256(data)
	r := &ratingsReader{file: t.file, rf: rf, comma: usesDecimalComma(t)}
	r.out = Ratings{File: t.file, SHA256: hex.EncodeToString(sum[:])}
	f, err := newFrame(t)
	if err != nil {
		return Ratings{}, err
	}
	for _, it := range rf.Items {
		if it.Scale != "" && !slices.Contains(scales, it.Scale) {
			r.bad(0, it.Name, it.Scale, strings.Join(scales, ", "), ErrUnknown)
		}
	}
	if rf.Scale != "" && !slices.Contains(scales, rf.Scale) {
		r.bad(0, "scale", rf.Scale, strings.Join(scales, ", "), ErrUnknown)
	}
	if rf.Wide {
		r.readWide(f, t.header)
	} else {
		r.readLong(f)
	}
	if err := r.problems.orNil(); err != nil {
		return Ratings{}, err
	}
	r.finish()
	return r.out, r.problems.orNil()
}

type ratingsReader struct {
	file     string
	rf       RatingsFile
	comma    bool
	items    []*rawItem
	problems Problems
	out      Ratings
}

// A rawItem collects one item's cells before their meaning is settled.
type rawItem struct {
	name             string
	subjects, raters []string
	cells            map[[2]string]rawCell
}

type rawCell struct {
	text string
	line int
}

func (r *ratingsReader) bad(line int, column, value, expect string, kind error) {
	r.problems = append(r.problems, Problem{r.file, line, column, value, expect, kind})
}

func (r *ratingsReader) item(name string) *rawItem {
	for _, it := range r.items {
		if it.name == name {
			return it
		}
	}
	it := &rawItem{name: name, cells: map[[2]string]rawCell{}}
	r.items = append(r.items, it)
	return it
}

func (r *ratingsReader) add(item, subject, rater, cell, column string, line int) {
	it := r.item(item)
	if !slices.Contains(it.subjects, subject) {
		it.subjects = append(it.subjects, subject)
	}
	if !slices.Contains(it.raters, rater) {
		it.raters = append(it.raters, rater)
	}
	key := [2]string{subject, rater}
	if first, seen := it.cells[key]; seen {
		r.bad(line, column, cell, fmt.Sprintf("one rating of subject %s by %s; another is on line %d", subject, rater, first.line), ErrDuplicate)
		return
	}
	it.cells[key] = rawCell{cell, line}
}

// readLong reads one row a rating, or one row with a column for each item.
func (r *ratingsReader) readLong(f frame) {
	or := func(name, canonical string) string {
		if name == "" {
			return canonical
		}
		return name
	}
	subject, rater := or(r.rf.Subject, "subject"), or(r.rf.Rater, "rater")
	var columns []string
	item := r.rf.Item
	if item == "" && r.rf.Score == "" && len(r.rf.Items) > 0 {
		for _, it := range r.rf.Items {
			columns = append(columns, it.Name)
		}
	} else {
		columns = []string{or(r.rf.Score, "score")}
		if item == "" && f.has("item") {
			item = "item"
		}
	}
	for _, c := range append([]string{subject, rater, item}, columns...) {
		if c != "" && !f.has(c) {
			r.bad(1, c, "", "a column of this name; the file has "+strings.Join(headers(f), ", "), ErrMissing)
		}
	}
	if len(r.problems) > 0 {
		return
	}
	lines, subjects, raters, items := f.lines(), f.text(subject), f.text(rater), f.text(item)
	for i, line := range lines {
		if subjects[i] == "" {
			r.bad(line, subject, "", "the rated subject", ErrMissing)
		}
		if raters[i] == "" {
			r.bad(line, rater, "", "the rater", ErrMissing)
		}
	}
	for _, c := range columns {
		cells := f.text(c)
		for i, line := range lines {
			name := c
			if item != "" {
				name = items[i]
			}
			r.add(name, subjects[i], raters[i], cells[i], c, line)
		}
	}
}

// readWide reads one row a subject and one column a rater.
func (r *ratingsReader) readWide(f frame, header []string) {
	subject := r.rf.Subject
	if subject == "" {
		subject = header[0]
	}
	if !f.has(subject) {
		r.bad(1, subject, "", "a column of this name; the file has "+strings.Join(header, ", "), ErrMissing)
		return
	}
	name := "score"
	if len(r.rf.Items) == 1 {
		name = r.rf.Items[0].Name
	}
	subjects, lines := f.text(subject), f.lines()
	for _, rater := range header {
		if rater == subject || rater == "" {
			continue
		}
		cells := f.text(rater)
		for i, line := range lines {
			r.add(name, subjects[i], rater, cells[i], rater, line)
		}
	}
}

// finish turns cells into scores: numbers where every cell is one, words with
// an order otherwise.
func (r *ratingsReader) finish() {
	for _, raw := range r.items {
		spec := ItemSpec{Name: raw.name, Scale: r.rf.Scale}
		for _, it := range r.rf.Items {
			if it.Name == raw.name {
				spec = it
			}
		}
		item := RatedItem{Name: raw.name, Scale: spec.Scale, Subjects: raw.subjects, Raters: raw.raters}
		numeric := len(spec.Levels) == 0
		for _, s := range raw.subjects {
			for _, k := range raw.raters {
				c := raw.cells[[2]string{s, k}]
				if _, ok := parseNumber(c.text, r.comma); c.text != "" && !ok {
					numeric = false
				}
			}
		}
		if item.Scale == "" {
			item.Scale = "interval"
			if !numeric {
				item.Scale = "nominal"
			}
		}
		if !numeric {
			item.Categories = slices.Clone(spec.Levels)
			if len(spec.Levels) == 0 && item.Scale != "nominal" {
				r.badWords(raw, item.Scale)
				continue
			}
		}
		for _, s := range raw.subjects {
			line := make([]float64, len(raw.raters))
			for j, k := range raw.raters {
				line[j] = r.scoreOf(raw.cells[[2]string{s, k}], k, numeric, spec, &item)
			}
			item.Scores = append(item.Scores, line)
		}
		r.out.Items = append(r.out.Items, item)
	}
	r.out.Notes = append(r.out.Notes, Note{"read", fmt.Sprintf("%s: %d rated items", filepath.Base(r.file), len(r.out.Items))})
}

func (r *ratingsReader) scoreOf(c rawCell, column string, numeric bool, spec ItemSpec, item *RatedItem) float64 {
	if c.text == "" {
		return math.NaN()
	}
	if numeric {
		v, _ := parseNumber(c.text, r.comma)
		return v
	}
	if i := slices.Index(item.Categories, c.text); i >= 0 {
		return float64(i)
	}
	if len(spec.Levels) > 0 {
		r.bad(c.line, column, c.text, "one of "+strings.Join(spec.Levels, ", "), ErrUnknown)
		return math.NaN()
	}
	item.Categories = append(item.Categories, c.text)
	return float64(len(item.Categories) - 1)
}

// badWords reports every cell that is not a number on a numeric scale.
func (r *ratingsReader) badWords(raw *rawItem, scale string) {
	for _, s := range raw.subjects {
		for _, k := range raw.raters {
			c := raw.cells[[2]string{s, k}]
			if _, ok := parseNumber(c.text, r.comma); c.text != "" && !ok {
				r.bad(c.line, k, c.text, fmt.Sprintf("a number on the %s scale of item %s, or its levels in order in the study file", scale, raw.name), ErrNotNumber)
			}
		}
	}
}
