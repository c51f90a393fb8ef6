package datasets

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A RatingsFile says how to read ratings: one row a rating (long), one row a
// rating of several items with a column each, or one row a subject with a
// column a rater (wide).
type RatingsFile struct {
	File     string `yaml:"file"`
	Layout   `yaml:",inline"`
	Subject  string     `yaml:"subject"` // column of the rated performance; blank: "subject", or the first column of a wide table
	Rater    string     `yaml:"rater"`
	Item     string     `yaml:"item"`     // blank: the file has one item, or a column for each of Items
	Score    string     `yaml:"score"`    // blank: "score"
	Trainee  string     `yaml:"trainee"`  // who gave the performance, where trainees gave several; long files
	Occasion string     `yaml:"occasion"` // round of rating (first and second look, live and video), where a rater rated a subject more than once; long files
	When     string     `yaml:"when"`     // date (2026-01-31) or running number of the rating; long files
	Wide     bool       `yaml:"wide"`
	Counts   bool       `yaml:"counts"` // the file is two raters' square table of counts, the first rater's categories down
	Scale    string     `yaml:"scale"`  // of items that Items does not name
	Items    []ItemSpec `yaml:"items"`

	study *Study // whose privacy is honoured; nil for a table alone
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
	Read   practice.FileRead // how the file was read
	SHA256 string
	Notes  []Note
}

// A RatedItem is one item's ratings as a table of subjects by raters.
type RatedItem = practice.RatedItem

var scales = []string{"nominal", "ordinal", "interval", "ratio"}

// ReadRatings reads ratings and reports every problem. A blank cell is a
// missing rating, never a category.
func ReadRatings(path string, data []byte, rf RatingsFile) (Ratings, error) {
	return readRatings(context.Background(), path, data, rf)
}

func readRatings(ctx context.Context, path string, data []byte, rf RatingsFile) (Ratings, error) {
	t, err := readTable(ctx, path, data, rf.Layout, rf.wanted())
	if err != nil {
		return Ratings{}, err
	}
	sum := sha256.Sum256(data)
	r := &ratingsReader{file: t.file, rf: rf}
	r.out = Ratings{File: t.file, SHA256: hex.EncodeToString(sum[:]), Notes: t.notes}
	rf.honour(rf.study, t, func(column, value, expect string, kind error) { r.bad(t.headLine(), column, value, expect, kind) })
	r.out.Notes = t.notes
	r.settleTable(t)
	if len(r.problems) > 0 {
		return Ratings{}, r.problems
	}
	f, err := newFrame(t)
	if err != nil {
		return Ratings{}, err
	}
	for _, it := range rf.Items {
		if it.Scale != "" && !slices.Contains(scales, it.Scale) {
			r.bad(0, it.Name, it.Scale, strings.Join(scales, ", "), problem.ErrUnknown)
		}
	}
	if rf.Scale != "" && !slices.Contains(scales, rf.Scale) {
		r.bad(0, "scale", rf.Scale, strings.Join(scales, ", "), problem.ErrUnknown)
	}
	switch {
	case rf.Counts:
		r.readCounts(f, t.header)
	case rf.Wide:
		r.readWide(f, t.header)
	default:
		r.readLong(f)
	}
	if err := r.problems.OrNil(); err != nil {
		return Ratings{}, err
	}
	r.finish()
	if len(r.out.Items) == 0 && len(r.problems) == 0 {
		r.bad(0, "", "", "ratings: a column of scores for each rater, or rows with a rater and a score", problem.ErrMissing)
	}
	r.picture(t)
	return r.out, r.problems.OrNil()
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
	name                        string
	subjects, raters, occasions []string
	seen                        map[[2]string]bool
	trainee                     map[string]string
	cells                       map[[3]string]rawCell // subject, rater, occasion
	first                       map[[2]string]rawCell // a rater's first rating of a subject
}

type rawCell struct {
	text   string
	when   string
	column string
	line   int
}

// list adds a name the first time it is met.
func (it *rawItem) list(kind string, names *[]string, name string) {
	if key := [2]string{kind, name}; !it.seen[key] {
		it.seen[key] = true
		*names = append(*names, name)
	}
}

func (r *ratingsReader) bad(line int, column, value, expect string, kind error) {
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Column: column, Value: value, Expect: expect, Err: kind})
}

func (r *ratingsReader) item(name string) *rawItem {
	for _, it := range r.items {
		if it.name == name {
			return it
		}
	}
	it := &rawItem{name: name, seen: map[[2]string]bool{}, trainee: map[string]string{}, cells: map[[3]string]rawCell{}, first: map[[2]string]rawCell{}}
	r.items = append(r.items, it)
	return it
}

// A place is where a rating belongs.
type place struct{ item, subject, rater, trainee, occasion, when string }

func (r *ratingsReader) add(at place, cell, column string, line int) {
	for _, name := range []*string{&at.subject, &at.rater, &at.trainee} {
		*name = r.rf.joined(*name)
	}
	it := r.item(at.item)
	it.list("subject", &it.subjects, at.subject)
	it.list("rater", &it.raters, at.rater)
	it.list("occasion", &it.occasions, at.occasion)
	if who, known := it.trainee[at.subject]; known && who != at.trainee {
		r.bad(line, r.rf.Trainee, at.trainee, fmt.Sprintf("one trainee for subject %s; before it was %s", at.subject, who), problem.ErrDuplicate)
		return
	}
	it.trainee[at.subject] = at.trainee
	if same, ok := r.rf.Same[cell]; ok {
		cell = same
	}
	if r.rf.Decimal == eitherMark && strings.Count(cell, ",") == 1 && markedNumber.MatchString(cell) {
		cell = strings.Replace(cell, ",", ".", 1)
	}
	key := [3]string{at.subject, at.rater, at.occasion}
	if first, seen := it.cells[key]; seen {
		again := ""
		if r.rf.Occasion == "" {
			again = " (for repeated ratings name the column that tells them apart as occasion)"
		}
		r.bad(line, column, cell, fmt.Sprintf("one rating of subject %s by %s; another is on line %d%s", at.subject, at.rater, first.line, again), problem.ErrDuplicate)
		return
	}
	c := rawCell{cell, at.when, column, line}
	it.cells[key] = c
	if first, seen := it.first[[2]string{at.subject, at.rater}]; !seen || first.text == "" {
		it.first[[2]string{at.subject, at.rater}] = c
	}
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
	for _, c := range append([]string{subject, rater, item, r.rf.Trainee, r.rf.Occasion, r.rf.When}, columns...) {
		if c != "" && !f.has(c) {
			way := ""
			if c == rater && !r.rf.Wide {
				way = "; where the other columns are raters say --wide (in a study file: wide: true)"
			}
			r.bad(1, c, "", "a column of this name; the file has "+strings.Join(f.names(), ", ")+way, problem.ErrMissing)
		}
	}
	if len(r.problems) > 0 {
		return
	}
	lines, subjects, raters, items := f.lines(), f.text(subject), f.text(rater), f.text(item)
	trainees, occasions, when := f.text(r.rf.Trainee), f.text(r.rf.Occasion), f.text(r.rf.When)
	for i, line := range lines {
		if subjects[i] == "" {
			r.bad(line, subject, "", "the rated subject", problem.ErrMissing)
		}
		if raters[i] == "" {
			r.bad(line, rater, "", "the rater", problem.ErrMissing)
		}
	}
	for _, c := range columns {
		cells := f.text(c)
		for i, line := range lines {
			name := c
			if item != "" {
				name = items[i]
			}
			r.add(place{name, subjects[i], raters[i], trainees[i], occasions[i], when[i]}, cells[i], c, line)
		}
	}
}

// ratersInRows are first columns that name raters, who stand beside each other in a wide table.
var ratersInRows = regexp.MustCompile(`(?i)^(raters?|examiners?|assessors?|observers?|judges?|rater(in)?|beurteiler(in)?|prüfer(in)?|bewerter(in)?|examinateurs?|juges?|évaluateurs?|evaluador(es|as)?|examinador(es|as)?|jueces)$`)

// readWide reads one row a subject and one column a rater.
func (r *ratingsReader) readWide(f frame, header []string) {
	subject := r.rf.Subject
	if subject == "" {
		subject = header[0]
	}
	if !f.has(subject) {
		r.bad(1, subject, "", "a column of this name; the file has "+strings.Join(header, ", "), problem.ErrMissing)
		return
	}
	if !r.rf.Transposed && ratersInRows.MatchString(subject) {
		r.bad(1, subject, "", fmt.Sprintf("a rated subject in each row; this column has the name of raters: say --transposed where each row is a rater (in a study file: transposed), or give it another name than %s", subject), problem.ErrAmbiguous)
		return
	}
	name := "score"
	if len(r.rf.Items) == 1 {
		name = r.rf.Items[0].Name
	}
	subjects, lines := f.text(subject), f.lines()
	var raters []string
	for _, name := range header {
		if name != subject && name != "" && !r.noRater(name, f, subject) {
			raters = append(raters, name)
		}
	}
	r.derived(f, raters)
	for _, rater := range raters {
		cells := f.text(rater)
		for i, line := range lines {
			r.add(place{item: name, subject: subjects[i], rater: rater}, cells[i], rater, line)
		}
	}
}

// readCounts reads a square table of counts as one subject a count. The table's
// categories keep their order.
func (r *ratingsReader) readCounts(f frame, header []string) {
	categories := f.text(header[0])
	if len(categories) != len(header)-1 {
		r.bad(1, "", "", fmt.Sprintf("as many rows as columns of counts, one a category; there are %d rows and %d columns", len(categories), len(header)-1), problem.ErrFormat)
		return
	}
	name := "score"
	if len(r.rf.Items) == 1 {
		name = r.rf.Items[0].Name
	}
	if len(r.rf.Items) == 0 {
		scale := r.rf.Scale
		if scale == "" {
			scale = "nominal"
		}
		r.rf.Items = []ItemSpec{{Name: name, Scale: scale, Levels: categories}}
	}
	lines, n := f.lines(), 0
	for j, col := range header[1:] {
		if col != categories[j] {
			r.bad(1, col, col, fmt.Sprintf("the categories of the rows in the same order: %s", strings.Join(categories, ", ")), problem.ErrUnknown)
		}
	}
	if len(r.problems) > 0 {
		return
	}
	for i, category := range categories {
		for j, col := range header[1:] {
			cell := f.text(col)[i]
			count, ok := grid.ParseNumber(cell, r.comma)
			switch {
			case !ok:
				r.bad(lines[i], col, cell, ranges.Subjects.String(), problem.ErrNotNumber)
				continue
			case ranges.Subjects.Check(count) != nil, ranges.Subjects.Check(count+float64(n)) != nil:
				r.bad(lines[i], col, cell, ranges.Subjects.String()+", in the whole table", problem.ErrRange)
				continue
			}
			for range int(count) {
				n++
				subject := fmt.Sprint(n)
				r.add(place{item: name, subject: subject, rater: "first rater"}, category, col, lines[i])
				r.add(place{item: name, subject: subject, rater: "second rater"}, categories[j], col, lines[i])
			}
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
		if !raw.rated() {
			r.bad(0, raw.name, "", "at least one rating of this item; all its cells are blank", problem.ErrMissing)
			continue
		}
		r.notRated(raw)
		numeric := len(spec.Levels) == 0
		if numeric && r.mixed(raw, spec) {
			continue
		}
		for _, c := range raw.cells {
			if _, ok := grid.ParseNumber(c.text, r.comma); c.text != "" && !ok {
				numeric = false
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
				line[j] = r.scoreOf(raw.first[[2]string{s, k}], numeric, spec, &item)
			}
			item.Scores = append(item.Scores, line)
		}
		r.more(raw, numeric, spec, &item)
		r.similar("raters", item.Raters)
		r.similar("subjects", item.Subjects)
		r.similar("categories of item "+item.Name, item.Categories)
		r.doubtRaters(item)
		r.changedPlaces(item)
		r.orders(item)
		r.doubtNames(item)
		r.ratersOfParts(item)
		r.otherWords(item)
		r.out.Items = append(r.out.Items, item)
	}
	r.itemSumsUp()
	r.out.Notes = append(r.out.Notes, Note{Code: "read", Text: fmt.Sprintf("%s: %d rated items", filepath.Base(r.file), len(r.out.Items))})
}

// rated reports whether any cell holds a rating.
func (it *rawItem) rated() bool {
	for _, c := range it.cells {
		if c.text != "" {
			return true
		}
	}
	return false
}

// more fills trainees, rounds of rating and times where the file has them.
func (r *ratingsReader) more(raw *rawItem, numeric bool, spec ItemSpec, item *RatedItem) {
	if r.rf.Trainee != "" {
		for _, s := range raw.subjects {
			item.Trainees = append(item.Trainees, raw.trainee[s])
		}
	}
	if r.rf.Occasion != "" {
		item.Occasions = raw.occasions
		for _, o := range raw.occasions {
			item.Rounds = append(item.Rounds, r.grid(raw, func(s, k string) float64 {
				return r.scoreOf(raw.cells[[3]string{s, k, o}], numeric, spec, item)
			}))
		}
	}
	if r.rf.When != "" {
		item.When = r.grid(raw, func(s, k string) float64 { return r.timeOf(raw.first[[2]string{s, k}]) })
		item.Dated = r.dates(raw)
	}
}

func (r *ratingsReader) grid(raw *rawItem, of func(subject, rater string) float64) [][]float64 {
	out := make([][]float64, len(raw.subjects))
	for i, s := range raw.subjects {
		for _, k := range raw.raters {
			out[i] = append(out[i], of(s, k))
		}
	}
	return out
}

// dates reports whether ratings have dates, and none a running number.
func (r *ratingsReader) dates(raw *rawItem) bool {
	found := false
	for _, c := range raw.first {
		if c.when == "" {
			continue
		}
		if _, err := time.Parse(time.DateOnly, c.when); err != nil {
			return false
		}
		found = true
	}
	return found
}

// timeOf reads a date as days since 1970 or a running number.
func (r *ratingsReader) timeOf(c rawCell) float64 {
	if c.when == "" {
		return math.NaN()
	}
	if v, ok := grid.ParseNumber(c.when, r.comma); ok {
		return v
	}
	if d, err := time.Parse(time.DateOnly, c.when); err == nil {
		return float64(d.Unix()) / 86400
	}
	r.bad(c.line, r.rf.When, c.when, "a date such as 2026-01-31 or a running number", problem.ErrNotNumber)
	return math.NaN()
}

func (r *ratingsReader) scoreOf(c rawCell, numeric bool, spec ItemSpec, item *RatedItem) float64 {
	if c.text == "" {
		return math.NaN()
	}
	if numeric {
		v, _ := grid.ParseNumber(c.text, r.comma)
		if ranges.Response.Check(v) != nil {
			r.bad(c.line, c.column, c.text, ranges.Response.String(), problem.ErrRange)
		}
		return v
	}
	if i := slices.Index(item.Categories, c.text); i >= 0 {
		return float64(i)
	}
	if len(spec.Levels) > 0 {
		r.bad(c.line, c.column, c.text, fmt.Sprintf("one of %s (where it is another word for one of them, in the study file: same: {%q: %s})", strings.Join(spec.Levels, ", "), c.text, spec.Levels[0]), problem.ErrUnknown)
		return math.NaN()
	}
	item.Categories = append(item.Categories, c.text)
	return float64(len(item.Categories) - 1)
}

// badWords reports every cell that is not a number on a numeric scale.
func (r *ratingsReader) badWords(raw *rawItem, scale string) {
	for _, s := range raw.subjects {
		for _, k := range raw.raters {
			c := raw.first[[2]string{s, k}]
			if _, ok := grid.ParseNumber(c.text, r.comma); c.text != "" && !ok {
				r.bad(c.line, c.column, c.text, fmt.Sprintf("a number on the %s scale of item %s, or its levels in order in the study file", scale, raw.name), problem.ErrNotNumber)
			}
		}
	}
}
