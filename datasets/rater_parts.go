package datasets

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// togetherMark stands between the names of people who rated together.
var togetherMark = regexp.MustCompile(`\s*[+&/]\s*|\s+(?:and|und|et|y|e|en)\s+`)

// ratersOfParts notes raters whose names are those of two others, and raters whose names are each one of some with
// each of two or three words behind it, such as before and after.
func (r *ratingsReader) ratersOfParts(item RatedItem) {
	stems, endings := map[string]int{}, map[string]int{}
	for _, name := range item.Raters {
		parts := togetherMark.Split(name, -1)
		if len(parts) > 1 && !slices.ContainsFunc(parts, func(p string) bool { return p == name || !slices.Contains(item.Raters, p) }) {
			r.note("raters-together", fmt.Sprintf("%s: rater %q is named after raters who are there too (%s), and is read as one more; where they rated together leave these rows out by --without, or give each the score (in a study file: without)", r.file, name, problem.List(parts, 3)))
		}
		if k := strings.LastIndexAny(name, " _.-"); k > 0 && !strings.ContainsFunc(name[k+1:], unicode.IsDigit) {
			stems[name[:k]]++
			endings[name[k+1:]]++
		}
	}
	if len(stems) < 3 || len(endings) < 2 || len(endings) > 3 || len(stems)*len(endings) != len(item.Raters) {
		return
	}
	for _, n := range stems {
		if n != len(endings) {
			return
		}
	}
	r.note("rater-twice", fmt.Sprintf("%s: raters are each one of %s with each of %s behind it, and are read as %d; put the occasion into a column of its own (in a study file: occasion), or leave one out by --ignore (ignore)", r.file, problem.List(sortedKeys(stems), 4), problem.List(sortedKeys(endings), 3), len(item.Raters)))
}

// otherWords notes a rater none of whose words for a nominal item anybody else uses, while others use the same.
func (r *ratingsReader) otherWords(item RatedItem) {
	if item.Scale != "nominal" || len(item.Categories) < 3 || len(item.Raters) < 2 {
		return
	}
	said := make([]map[float64]int, len(item.Raters))
	for k := range said {
		said[k] = map[float64]int{}
		for _, line := range item.Scores {
			if !math.IsNaN(line[k]) {
				said[k][line[k]]++
			}
		}
	}
	for k, name := range item.Raters {
		own, others, n := []string{}, map[float64]int{}, 0
		for other := range said {
			for c := range said[other] {
				if other != k {
					others[c]++
				}
			}
		}
		for c, times := range said[k] {
			if others[c] > 0 {
				own = nil
				break
			}
			own, n = append(own, item.Categories[int(c)]), n+times
		}
		shared := 0
		for _, raters := range others {
			shared = max(shared, raters)
		}
		if len(own) >= 2 && n >= fewestCompared && (shared >= 2 || len(item.Raters) == 2) {
			slices.Sort(own)
			r.note("rater-words", fmt.Sprintf("%s: item %s: %s uses words that nobody else does (%s) and none of theirs, so that they never agree; where they mean the same say so with --same (in a study file: same)", r.file, item.Name, name, problem.List(own, 4)))
			return
		}
	}
}

// itemSumsUp notes an item that the study does not list and whose scores are, for each subject and rater, the sum or
// the mean of the other items'.
func (r *ratingsReader) itemSumsUp() {
	if len(r.out.Items) < 3 {
		return
	}
	scores := make([]map[[2]string]float64, len(r.out.Items))
	for k, item := range r.out.Items {
		scores[k] = map[[2]string]float64{}
		for i, subject := range item.Subjects {
			for j, rater := range item.Raters {
				if v := item.Scores[i][j]; !math.IsNaN(v) && len(item.Categories) == 0 {
					scores[k][[2]string{subject, rater}] = v
				}
			}
		}
	}
	for k, item := range r.out.Items {
		if slices.ContainsFunc(r.rf.Items, func(it ItemSpec) bool { return it.Name == item.Name }) {
			continue // it was asked for
		}
		sums, means, n := true, true, 0
		for at, v := range scores[k] {
			sum, of := 0.0, 0
			for other := range scores {
				if w, ok := scores[other][at]; ok && other != k {
					sum, of = sum+w, of+1
				}
			}
			if of < len(scores)-1 {
				continue
			}
			n++
			sums = sums && math.Abs(v-sum) < 1e-9
			means = means && math.Abs(v-sum/float64(of)) < 0.006
		}
		if n >= fewestCompared && sums != means {
			r.note("item-sums-up", fmt.Sprintf("%s: item %s is the %s of the other %d items in all %d ratings that have all of them; it is read as an item of its own: --without leaves its rows out (in a study file: without)", r.file, item.Name, map[bool]string{true: "sum", false: "mean"}[sums], len(scores)-1, n))
			return
		}
	}
}

// oneFarScore notes a single score of an ordinal item that is far above all others, which are many and use a short scale.
func (r *ratingsReader) oneFarScore(item RatedItem, columns [][]float64) {
	all := known(slices.Concat(columns...))
	if item.Scale != "ordinal" || len(item.Categories) > 0 || len(all) < 3*fewestCompared || all[0] < 0 {
		return
	}
	most, second := all[len(all)-1], all[len(all)-2]
	if second < 2 || second > 10 || most-second < 3 || most < 2*second {
		return
	}
	for i, subject := range item.Subjects {
		for k, c := range columns {
			if c[i] == most {
				r.note("far-among-scores", fmt.Sprintf("%s: item %s: %s gives %s the score %s, and all %d others are %s to %s; it may be a slip or of another scale: hold it against the source", r.file, item.Name, item.Raters[k], subject, grid.FormatNumber(most), len(all)-1, grid.FormatNumber(all[0]), grid.FormatNumber(second)))
				return
			}
		}
	}
}

// changedPlaces notes codes that stand for what is rated in few rows and for raters in others, where the two
// columns changed places; where people rate each other codes stand in both throughout.
func (r *ratingsReader) changedPlaces(item RatedItem) {
	if r.rf.Wide || r.rf.Counts || len(item.Subjects) == 0 {
		return
	}
	rated, rates, rows := map[string]int{}, map[string]int{}, 0
	for i, line := range item.Scores {
		for k, v := range line {
			if !math.IsNaN(v) {
				rated[item.Subjects[i]]++
				rates[item.Raters[k]]++
				rows++
			}
		}
	}
	both, few := []string{}, 0
	for code, n := range rated {
		if m := rates[code]; m > 0 {
			both, few = append(both, code), few+min(n, m)
		}
	}
	if slices.Sort(both); len(both) > 0 && 5*few <= rows {
		r.note("subject-and-rater", fmt.Sprintf("%s: item %s: %s are raters in some rows and what is rated in others; the two columns may have changed places there: hold these rows against the source", r.file, item.Name, problem.List(both, 4)))
	}
}

// orders notes a rater of a wide table whose scores are the numbers from 1 on, each once, while those of others are
// not: the column may say in which order subjects were rated.
func (r *ratingsReader) orders(item RatedItem) {
	if !r.rf.Wide || len(item.Categories) > 0 || len(item.Subjects) < fewestCompared {
		return
	}
	var odd []string
	for k, name := range item.Raters {
		var vs []float64
		for _, line := range item.Scores {
			if !math.IsNaN(line[k]) {
				vs = append(vs, line[k])
			}
		}
		slices.Sort(vs)
		each := len(vs) >= fewestCompared
		for i, v := range vs {
			each = each && v == float64(i+1)
		}
		if each {
			odd = append(odd, name)
		}
	}
	if len(odd) > 0 && len(odd) < len(item.Raters) {
		r.note("rater-counts", fmt.Sprintf("%s: item %s: the scores of %s are the numbers from 1 on, each once, as an order is, and those of others are not; where it is no rater, leave it out by --without or --ignore (in a study file: without, ignore)", r.file, item.Name, problem.List(odd, 3)))
	}
}
