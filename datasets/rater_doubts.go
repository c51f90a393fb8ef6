package datasets

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// How much raters have in common before one is held against the others.
const (
	fewestCompared = 8    // subjects
	fewestCopied   = 10   // subjects with the very same scores
	turnedRound    = -0.5 // correlation with the others' mean of a rater whose scale is the other way round
)

// doubtRaters notes raters of an item whose scores say something other than how they rate: a
// scale turned round or of another length, scores copied, zeros for no rating.
func (r *ratingsReader) doubtRaters(item RatedItem) {
	if item.Scale == "nominal" || len(item.Raters) < 2 {
		return
	}
	columns := make([][]float64, len(item.Raters))
	for _, line := range item.Scores {
		for k, v := range line {
			columns[k] = append(columns[k], v)
		}
	}
	for k, name := range item.Raters {
		r.turnedScale(item, columns, k, name)
		if len(item.Categories) == 0 {
			r.otherScale(item, columns, k, name)
		}
	}
	r.copiedRatings(item, columns)
	r.allAlike(item)
	r.oddRaters(item, columns)
	if len(item.Categories) == 0 {
		r.zeros(item, columns)
	}
}

func (r *ratingsReader) note(code, text string) {
	if n := (Note{Code: code, Text: text}); !slices.Contains(r.out.Notes, n) {
		r.out.Notes = append(r.out.Notes, n)
	}
}

// othersMean is the mean score of a subject by all raters but one; NaN for none.
func othersMean(columns [][]float64, k, subject int) float64 {
	sum, n := 0.0, 0
	for other, c := range columns {
		if other != k && !math.IsNaN(c[subject]) {
			sum, n = sum+c[subject], n+1
		}
	}
	return sum / float64(n)
}

// together is the correlation of the pairs of which both are known, and their number.
func together(a, b []float64) (float64, int) {
	var x, y, xx, yy, xy, n float64
	for i, v := range a {
		if w := b[i]; !math.IsNaN(v) && !math.IsNaN(w) {
			x, y, xx, yy, xy, n = x+v, y+w, xx+v*v, yy+w*w, xy+v*w, n+1
		}
	}
	return (n*xy - x*y) / math.Sqrt((n*xx-x*x)*(n*yy-y*y)), int(n)
}

// turnedScale notes a rater who gives least where the others give most. Of two raters it
// cannot be known which.
func (r *ratingsReader) turnedScale(item RatedItem, columns [][]float64, k int, name string) {
	others := make([]float64, len(columns[k]))
	for i := range others {
		others[i] = othersMean(columns, k, i)
	}
	c, n := together(columns[k], others)
	if n < fewestCompared || !(c <= turnedRound) {
		return
	}
	if len(columns) == 2 {
		if k == 1 && c <= 1.4*turnedRound {
			r.note("rater-reversed", fmt.Sprintf("%s: item %s: %s and %s give their scores the other way round (correlation %.2f); one of them may have taken 1 for best: hold them against the source", r.file, item.Name, item.Raters[0], name, c))
		}
		return
	}
	for a := range columns { // the others among themselves
		for b := range a {
			if c, _ := together(columns[a], columns[b]); a != k && b != k && !(c > 0) {
				return
			}
		}
	}
	r.note("rater-reversed", fmt.Sprintf("%s: item %s: %s gives low scores where the others give high ones (correlation %.2f with their mean); the scale may have been taken the other way round: hold it against the source", r.file, item.Name, name, c))
}

// known are the numbers among some, in order.
func known(vs []float64) []float64 {
	out := slices.DeleteFunc(slices.Clone(vs), math.IsNaN)
	slices.Sort(out)
	return out
}

// otherScale notes a rater whose scores are all above those of the others, at five times them
// or more.
func (r *ratingsReader) otherScale(item RatedItem, columns [][]float64, k int, name string) {
	own := known(columns[k])
	var rest []float64
	for other, c := range columns {
		if other != k {
			rest = append(rest, c...)
		}
	}
	if rest = known(rest); len(own) < 4 || len(rest) < 4 || rest[0] < 0 || rest[len(rest)-1] <= 0 {
		return
	}
	shift := shiftOf(columns, k)
	if shift < -0.6 && own[0] == 0 && rest[0] >= 1 && len(own) >= fewestCompared && own[len(own)-1] == rest[len(rest)-1]-1 && own[len(own)-1] >= 2 {
		r.note("rater-scale", fmt.Sprintf("%s: item %s: %s gives %s to %s where the others give %s to %s; the scale may have been counted from 0", r.file, item.Name, name, grid.FormatNumber(own[0]), grid.FormatNumber(own[len(own)-1]), grid.FormatNumber(rest[0]), grid.FormatNumber(rest[len(rest)-1])))
	}
	if shift > 0.6 && own[0] == rest[0]+1 && own[len(own)-1] == rest[len(rest)-1]+1 && len(own) >= fewestCopied && rest[len(rest)-1]-rest[0] >= 3 {
		r.note("rater-scale", fmt.Sprintf("%s: item %s: %s gives %s to %s where the others give %s to %s; the scale may have been counted from another number", r.file, item.Name, name, grid.FormatNumber(own[0]), grid.FormatNumber(own[len(own)-1]), grid.FormatNumber(rest[0]), grid.FormatNumber(rest[len(rest)-1])))
	}
	if own[0] > rest[len(rest)-1] && own[len(own)/2] >= 5*rest[len(rest)/2] {
		r.note("rater-scale", fmt.Sprintf("%s: item %s: all scores of %s (%s to %s) are far above all others (%s to %s); they may be on another scale", r.file, item.Name, name, grid.FormatNumber(own[0]), grid.FormatNumber(own[len(own)-1]), grid.FormatNumber(rest[0]), grid.FormatNumber(rest[len(rest)-1])))
	}
}

// shiftOf is how much higher a rater's scores are in the mean than the mean of the others' of the same subject.
func shiftOf(columns [][]float64, k int) float64 {
	sum, n := 0.0, 0
	for i, v := range columns[k] {
		if d := v - othersMean(columns, k, i); !math.IsNaN(d) {
			sum, n = sum+d, n+1
		}
	}
	return sum / float64(n)
}

// copiedRatings notes two raters with the same score for every subject, where a third differs
// from them.
func (r *ratingsReader) copiedRatings(item RatedItem, columns [][]float64) {
	for b := range columns {
		for a := range b {
			same, different := map[float64]bool{}, 0
			n := 0
			for i, v := range columns[a] {
				w := columns[b][i]
				if math.IsNaN(v) || math.IsNaN(w) {
					continue
				}
				if v != w {
					n = -1
					break
				}
				same[v] = true
				n++
				for c := range columns {
					if u := columns[c][i]; c != a && c != b && !math.IsNaN(u) && u != v {
						different++
						break
					}
				}
			}
			if n >= fewestCopied && len(same) >= 4 && 5*different >= n {
				r.note("raters-same", fmt.Sprintf("%s: item %s: %s and %s give the same score to each of %d subjects, and others do not; one may be a copy of the other: hold them against the source", r.file, item.Name, item.Raters[a], item.Raters[b], n))
			}
		}
	}
}

// allAlike notes raters who all give the same score to every subject, where that would be chance beyond
// belief: many subjects with several scores, or fewer with scores finer than halves.
func (r *ratingsReader) allAlike(item RatedItem) {
	n, fine, scores := 0, false, map[float64]bool{}
	for _, line := range item.Scores {
		vs := slices.DeleteFunc(slices.Clone(line), math.IsNaN)
		if len(vs) < 2 {
			continue
		}
		if slices.Max(vs) > slices.Min(vs) {
			return
		}
		n++
		scores[vs[0]] = true
		fine = fine || 2*vs[0] != math.Trunc(2*vs[0])
	}
	if n >= fewestCopied && len(scores) >= 4 || fine && len(item.Categories) == 0 && len(scores) >= 5 {
		r.note("raters-same", fmt.Sprintf("%s: item %s: all raters give the same score to each of %d subjects; they may be one rating that was entered for all of them: hold them against the source", r.file, item.Name, n))
	}
}

// zeros notes a score of 0 where another rater of the subject is far above it, and all other
// scores begin at 1: it may stand for no rating.
func (r *ratingsReader) zeros(item RatedItem, columns [][]float64) {
	zeros, all, least, most := 0, 0, math.Inf(1), 0.0
	for _, c := range columns {
		for _, v := range c {
			switch {
			case math.IsNaN(v):
			case v == 0:
				zeros, all = zeros+1, all+1
			default:
				all, least, most = all+1, min(least, v), max(most, v)
			}
		}
	}
	if zeros == 0 || 5*zeros > all || least < 1 || most < 3 {
		return
	}
	for i, subject := range item.Subjects {
		for k, c := range columns {
			if c[i] == 0 && othersMean(columns, k, i) >= (least+most)/2 {
				r.note("zero-among-scores", fmt.Sprintf("%s: item %s: %d scores are 0, such as that of %s for %s, whom others rate far above it, and all others are %s to %s; where 0 stands for no rating, in the study file same: {\"0\": NA} makes it blank", r.file, item.Name, zeros, item.Raters[k], subject, grid.FormatNumber(least), grid.FormatNumber(most)))
				return
			}
		}
	}
}

var (
	// selfName are raters who rate themselves, or each other.
	selfName = regexp.MustCompile(`(?i)^(self|own|self[ _-]?(rating|assessment|score|evaluation)|selbst(einschätzung|bewertung|beurteilung)?|eigen(e|bewertung|beurteilung)?|auto-?(évaluation|evaluaci[oó]n|avalia[cç][aã]o|valutazione)|peers?([ _-]?(rating|assessment|score))?)$`)
	// againName is a name with something behind it that says: once more.
	againName = regexp.MustCompile(`(?i)^(.+?)([ _.-]*)\(?(2|ii|2nd|second|again|bis|retest|re-?rat(ing|ed)|repeat(ed)?|zweit\w*|video|live)\)?([ _](look|time|rating|run))?$`)
)

// doubtNames notes raters who may be one, or none, by what they are called.
func (r *ratingsReader) doubtNames(item RatedItem) {
	for k, name := range item.Raters {
		if selfName.MatchString(name) {
			r.note("rater-self", fmt.Sprintf("%s: %s stands among the raters and may be what trainees say of themselves or each other; --ignore %q leaves a column out, --without rows (in a study file: ignore, without)", r.file, name, name))
		}
		if m := againName.FindStringSubmatch(name); m != nil && slices.Contains(item.Raters, m[1]) && (m[2] != "" || !strings.ContainsAny(m[1][len(m[1])-1:], "0123456789")) {
			r.note("rater-twice", fmt.Sprintf("%s: raters %q and %q may be one who rated twice, and are read as two; put the occasion into a column of its own (in a study file: occasion)", r.file, m[1], name))
		}
		for _, other := range item.Raters {
			if behind, ok := strings.CutPrefix(name, other); ok && behind != "" && strings.ContainsAny(behind[:1], " _.-([/") && againName.FindStringSubmatch(name) == nil {
				r.note("rater-twice", fmt.Sprintf("%s: raters %q and %q may be one who rated twice, and are read as two; put the occasion into a column of its own (in a study file: occasion)", r.file, other, name))
			}
		}
		for j, other := range item.Raters[:k] {
			if plainCode(name) != plainCode(other) && slip([]rune(plainCode(name)), []rune(plainCode(other))) && r.neverBoth(item, j, k) {
				r.note("similar-codes", fmt.Sprintf("%s: raters %q and %q differ in one letter and never rate the same; they are kept apart, and --same %q joins them (in a study file: same)", r.file, other, name, name+"="+other))
			}
		}
	}
}

// neverBoth reports whether no subject is rated by both of two raters.
func (r *ratingsReader) neverBoth(item RatedItem, a, b int) bool {
	return !slices.ContainsFunc(item.Scores, func(line []float64) bool { return !math.IsNaN(line[a]) && !math.IsNaN(line[b]) })
}

// oddRaters notes raters who give everybody the same, who are the mean of the others, or who use twice the
// scale and more; and a number far above all others that is given again and again.
func (r *ratingsReader) oddRaters(item RatedItem, columns [][]float64) {
	for k, name := range item.Raters {
		own := known(columns[k])
		if len(own) < fewestCompared {
			continue
		}
		others, mean, differ, above := make([]float64, len(columns[k])), len(columns) > 2, 0, 0
		var written []string
		for _, v := range own {
			written = append(written, strconv.FormatFloat(v, 'f', -1, 64))
		}
		slack := min(0.01, 0.51*lastPlaceOf(written, false))
		for i, v := range columns[k] {
			others[i] = othersMean(columns, k, i)
			if math.IsNaN(v) || math.IsNaN(others[i]) {
				continue
			}
			mean = mean && math.Abs(v-others[i]) < slack+1e-9*math.Abs(v)
			if others[i] != math.Round(others[i]) {
				differ++
			}
			if v >= 1.6*others[i] {
				above++
			}
		}
		rest := known(others)
		if len(rest) < fewestCompared {
			continue
		}
		c, n := together(columns[k], others)
		switch most, top := own[len(own)-1], rest[len(rest)-1]; {
		case own[0] == most && rest[0] < top && len(item.Categories) == 0 && len(known(slices.Concat(columns...))) > 0 && len(slices.Compact(slices.Clone(rest))) >= 4:
			r.note("rater-constant", fmt.Sprintf("%s: item %s: %s gives %s to all %d subjects, and others do not; these may be no ratings: hold them against the source", r.file, item.Name, name, grid.FormatNumber(most), len(own)))
		case mean && differ >= 3:
			r.note("rater-is-mean", fmt.Sprintf("%s: item %s: the scores of %s are the mean of the others in all %d subjects; where it is no rater, leave it out by --without or --ignore (in a study file: without, ignore)", r.file, item.Name, name, len(own)))
		case len(item.Categories) == 0 && n >= 10 && c < 0.05 && r.othersFollow(columns, k):
			r.note("rater-alone", fmt.Sprintf("%s: item %s: the scores of %s go with those of nobody else, while those of the others go together; where it is no rater, leave it out by --without or --ignore (in a study file: without, ignore)", r.file, item.Name, name))
		case len(item.Categories) == 0 && n >= fewestCompared && c >= 0.6 && 3*above >= 2*n && most > 1.5*top:
			r.note("rater-scale", fmt.Sprintf("%s: item %s: %s gives %s to %s where the others give %s to %s in the mean, and follows them; the scale may be another one", r.file, item.Name, name, grid.FormatNumber(own[0]), grid.FormatNumber(most), grid.FormatNumber(rest[0]), grid.FormatNumber(top)))
		}
	}
	r.farScore(item, columns)
	r.oneFarScore(item, columns)
	r.nearlyCopied(item, columns)
	r.sortedScores(item, columns)
}

// othersFollow reports whether the scores of all raters but one go together, pair by pair.
func (r *ratingsReader) othersFollow(columns [][]float64, without int) bool {
	pairs := 0
	for b := range columns {
		for a := range b {
			if a == without || b == without {
				continue
			}
			c, n := together(columns[a], columns[b])
			if !(c >= 0.5) || n < 10 {
				return false
			}
			pairs++
		}
	}
	return pairs > 0
}

// nearlyCopied notes two raters who agree on all subjects but one or two where a third agrees with neither
// nearly as often.
func (r *ratingsReader) nearlyCopied(item RatedItem, columns [][]float64) {
	share := func(a, b int) (float64, int) {
		same, n := 0, 0
		for i, v := range columns[a] {
			if w := columns[b][i]; !math.IsNaN(v + w) {
				n++
				if v == w {
					same++
				}
			}
		}
		return float64(same) / float64(n), n
	}
	for b := range columns {
		for a := range b {
			s, n := share(a, b)
			if n < fewestCopied+2 || s < 0.9 || s == 1 || len(slices.Compact(known(columns[a]))) < 4 {
				continue
			}
			for c := range columns {
				if c == a || c == b {
					continue
				}
				x, _ := share(a, c)
				y, _ := share(b, c)
				if max(x, y) <= 0.7 {
					r.note("raters-same", fmt.Sprintf("%s: item %s: %s and %s give the same score to nearly all of %d subjects, and %s does not; one may be a copy of the other: hold them against the source", r.file, item.Name, item.Raters[a], item.Raters[b], n, item.Raters[c]))
					return
				}
			}
		}
	}
}

// sortedScores notes a rater whose scores never fall, or never rise, from subject to subject as the file has
// them, while those of others do: a column was sorted by itself.
func (r *ratingsReader) sortedScores(item RatedItem, columns [][]float64) {
	var odd []string
	for k, c := range columns {
		vs := slices.DeleteFunc(slices.Clone(c), math.IsNaN)
		back := slices.Clone(vs)
		slices.Reverse(back)
		if len(vs) >= fewestCopied && len(slices.Compact(known(vs))) >= 4 && (slices.IsSorted(vs) || slices.IsSorted(back)) {
			odd = append(odd, item.Raters[k])
		}
	}
	if len(odd) > 0 && 2*len(odd) <= len(columns) {
		r.note("rater-sorted", fmt.Sprintf("%s: item %s: the scores of %s are sorted from subject to subject, and those of others are not; a column may have been sorted by itself: hold them against the source", r.file, item.Name, problem.List(odd, 3)))
	}
}

// farScore notes such a number.
func (r *ratingsReader) farScore(item RatedItem, columns [][]float64) {
	all := known(slices.Concat(columns...))
	if len(all) < 2*fewestCompared || all[0] < 0 || len(item.Categories) > 0 {
		return
	}
	most := all[len(all)-1]
	at, _ := slices.BinarySearch(all, most)
	if n := len(all) - at; at == 0 || n < 2 || 4*n > len(all) || most != math.Round(most) || most-all[at-1] < 3 || most-all[at-1] < 0.5*(all[at-1]-all[0]) {
		return
	}
	r.note("far-among-scores", fmt.Sprintf("%s: item %s: %d scores are %s, and all others %s to %s; where it stands for no rating, in the study file same: {\"%s\": NA} makes it blank", r.file, item.Name, len(all)-at, grid.FormatNumber(most), grid.FormatNumber(all[0]), grid.FormatNumber(all[at-1]), grid.FormatNumber(most)))
}
