package datasets

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
)

// dittoWord is a word for: as above.
var dittoWord = pattern.New(`^[-–—]+\s*(do|dto|id)\.?\s*[-–—]+$|^(do|dto|id)\.$|^[-–—]*(dito|ditto|idem)\.?[-–—]*$`)

// isDitto reports whether a cell may repeat the one above it: quotation marks and the like, or a word for that.
func isDitto(s string) bool {
	return s != "" && (strings.Trim(s, "\"″〃'’”“„»«`´,. -–—/") == "" && strings.ContainsAny(s, "\"″〃'’”“„»«`´") || dittoWord.MatchString(s))
}

// oneNumberOf reports whether all rows of a code, two or more, have one attempt number, while others have several.
func (r *logReader) oneNumberOf(code string) bool {
	who, attempt := r.texts(r.cols.Trainee), r.table.column(r.cols.Attempt)
	if attempt < 0 || r.isWide {
		return false
	}
	number, rows, others := grid.Cell(0), 0, map[grid.Cell]bool{}
	for i := range r.table.keep {
		c := r.table.cell(i, attempt)
		if who(i) != code {
			others[c] = true
			continue
		}
		if rows > 0 && c != number {
			return false
		}
		number, rows = c, rows+1
	}
	return rows > 1 && len(others) > 2
}

// noAttemptWay is the way out where a row has no attempt number, and no row of its code has one.
func (r *logReader) noAttemptWay(i int) string {
	who, attempt := r.texts(r.cols.Trainee), r.table.column(r.cols.Attempt)
	if r.numberedCodes == nil {
		r.numberedCodes = map[string]bool{"": true}
		for k := range r.table.keep {
			if r.table.cell(k, attempt) != 0 {
				r.numberedCodes[who(k)] = true
			}
		}
	}
	if r.numberedCodes[who(i)] {
		return ""
	}
	return fmt.Sprintf("; a row that is no attempt, such as a mean, is left out by --without %q (in a study file: without)", r.cols.Trainee+"="+who(i))
}

var bracketed = regexp.MustCompile(`^.+\(([^()]+)\)$`)

// inBrackets is what stands in brackets behind a code; blank for nothing.
func inBrackets(code string) string {
	if m := bracketed.FindStringSubmatch(code); m != nil {
		return strings.TrimSpace(m[1])
	}
	return ""
}

// partsOf are the words of a name, in small letters.
func partsOf(name string) []string {
	return strings.FieldsFunc(strings.ToLower(name), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
}

// armsAreOrders notes two arms that are the same words in another order: trainees of both practise by both, one
// after the other.
func (r *logReader) armsAreOrders(arms []string) {
	for k, arm := range arms {
		a := partsOf(arm)
		for _, other := range arms[:k] {
			b := partsOf(other)
			if len(a) < 2 || slices.Equal(a, b) || slices.ContainsFunc(a, func(w string) bool { return len(w) == 1 && unicode.IsDigit(rune(w[0])) }) {
				continue
			}
			first, second := slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
			if slices.Equal(first, second) {
				r.note("arms-are-orders", fmt.Sprintf("%s: arms %q and %q hold one set of words in two orders, as where everybody changes over; all attempts of a trainee are read as one series: name the column that says what each attempt was made by, with --crossover of tyro compare, or take one period by --where (in a study file: where)", r.file, other, arm))
			}
		}
	}
}

// answers are words for nothing that somebody may have written as an answer.
var answers = []string{"none", "missing"}

// saidCells are the cells that say something: not those with a program's word for nothing.
func saidCells(cells []writtenCell) []writtenCell {
	return slices.DeleteFunc(slices.Clone(cells), func(c writtenCell) bool {
		word := strings.ToLower(c.text)
		return slices.Contains(missingWords, word) && !slices.Contains(answers, word)
	})
}

// someConsent asks where a column about consent is filled for some and blank for others.
func (r *logReader) someConsent(name string, cells []writtenCell) bool {
	said := saidCells(cells)
	if len(said) == 0 || some(said) == r.table.rows() || !consentName.MatchString(name) || r.onceEach(r.table.column(name)) {
		return false
	}
	r.ask(name, said[0].text, fmt.Sprintf("to be told what this column says of consent; %d of %d rows have something in it: --without %q leaves those of one word out, --where %q takes them alone, --ignore %q takes all rows (in a study file: without, where, ignore)", some(said), r.table.rows(), name+"="+said[0].text, name+"="+said[0].text, name))
	return true
}

var (
	// meanName are parts of names of columns that hold means of several attempts.
	meanName = regexp.MustCompile(`(?i)(^|[_ .-])(mean|avg|average|median|mittel(wert)?|moyenne|media|promedio)([_ .-]|$)`)
	// spreadName are parts of names of what stands beside a mean.
	spreadName = regexp.MustCompile(`(?i)(^|[_ .-])(sd|std|stdev|stddev|se|sem|iqr|var|variance|n|count)([_ .-]|$)`)
)

// bestName are names that say of how many the best is.
var bestName = regexp.MustCompile(`(?i)(^|[ _(-])(best|fastest|beste[rs]?|schnellste[rs]?|bästa?|meilleure?|mejor|migliore|melhor|najlepsz[ya]|paras|en iyi)[ _-]?(of|out of|von|aus|de|sur|di|av|af|z|/)[ _-]?\d`)

// measureIsMean notes a measure that by its name is a mean, beside a column that by its name says how far what it
// is of was spread, or how many they were.
func (r *logReader) measureIsMean() {
	if r.isWide || len(r.readers) == 0 {
		return
	}
	if bestName.MatchString(r.readers[0].name) {
		r.note("measure-is-best", fmt.Sprintf("%s: by its name column %s holds the best of several attempts: each row is then several, and practice is counted in attempts; name the column with every attempt", r.file, r.readers[0].name))
	}
	if !meanName.MatchString(r.readers[0].name) {
		return
	}
	for _, name := range r.unused() {
		if spreadName.MatchString(name) && !slices.Contains(r.layout.Ignore, name) {
			r.note("measure-is-mean", fmt.Sprintf("%s: by its name column %s holds means, with %s beside it: each row is then several attempts, and practice is counted in attempts; say --ignore %q where each row is one", r.file, r.readers[0].name, name, name))
			return
		}
	}
}

// risesForAll notes a column of numbers that go up or down from attempt to attempt, for everybody alike, as the
// speed does at which each piece has to be played: later attempts are then of a harder task.
func (r *logReader) risesForAll(log *Log) {
	t := r.table
	if r.isWide || r.cols.Trainee == "" || r.cols.Attempt == "" || len(log.Attempts) != t.rows() || r.series.groups() < 3 {
		return
	}
	for _, name := range r.unused() {
		j := t.column(name)
		cells := r.distinct(j)
		if len(cells) < 4 || len(cells) > mostLevels || some(cells) < t.rows() || sessionName.MatchString(name) || slices.Contains(r.layout.Ignore, name) || slices.Contains(r.startEnd, name) || r.anyNoteOn(name) || slices.ContainsFunc(cells, func(c writtenCell) bool {
			_, ok := grid.ParseNumber(c.text, false)
			return !ok || c.kind == grid.Day
		}) {
			continue
		}
		at, alike := map[float64]float64{}, true
		for i, a := range log.Attempts {
			v, _ := grid.ParseNumber(t.text(i, j), false)
			w, seen := at[a.Number]
			if alike = !seen || v == w; !alike {
				break
			}
			at[a.Number] = v
		}
		if !alike || len(at) != len(cells) {
			continue
		}
		numbers := slices.Sorted(maps.Keys(at))
		start, up, down, counts := at[numbers[0]], true, true, true
		for k := 1; k < len(numbers); k++ {
			v, before := at[numbers[k]], at[numbers[k-1]]
			up, down = up && v > before, down && v < before
			step := (v - start) / (numbers[k] - numbers[0])
			counts = counts && (v == step*numbers[k] || start == 0 || step == 1)
		}
		if (up || down) && !counts {
			r.note("rises-with-attempts", fmt.Sprintf("%s: column %s is not read, and goes from %s to %s with the attempts of everybody alike; where it says how hard an attempt was, later attempts are of another task: take those of one by --where (in a study file: where), else say --ignore %q", r.file, name, grid.FormatNumber(start), grid.FormatNumber(at[numbers[len(numbers)-1]]), name))
		}
	}
}
