package reports

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
)

// A seenTrainee is what the raw log says of a trainee: when two passes in a row were
// first made, or the last attempt without.
type seenTrainee struct {
	arm  string
	last int
	met  bool
}

// rawLog reads a log of times again, without the program's reader: an attempt passes when
// it is done, within the standard, and with one wall puncture at most where they are
// counted; two passes in a row meet the rule.
func rawLog(t *testing.T, path string, standard float64) []seenTrainee {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	cell := func(row []string, name string) string {
		if j := slices.Index(rows[0], name); j >= 0 {
			return row[j]
		}
		return ""
	}
	var out []seenTrainee
	at, run := map[string]int{}, map[string]int{}
	for _, row := range rows[1:] { // attempts of a trainee stand in order
		who := cell(row, "trainee")
		if cell(row, "outcome") == "void" {
			continue
		}
		i, ok := at[who]
		if !ok {
			i = len(out)
			at[who], out = i, append(out, seenTrainee{arm: cell(row, "arm")})
		}
		if out[i].met {
			continue
		}
		out[i].last, err = strconv.Atoi(cell(row, "attempt"))
		if err != nil {
			t.Fatal(err)
		}
		seconds, err := strconv.ParseFloat(cell(row, "seconds"), 64)
		punctures, _ := strconv.Atoi(cell(row, "wall_punctures"))
		run[who]++
		if outcome := cell(row, "outcome"); err != nil || seconds > standard || punctures > 1 || outcome != "done" && outcome != "" {
			run[who] = 0
		}
		out[i].met = run[who] == 2
	}
	return out
}

// estimate is the product-limit estimate of the share who have met the rule by attempt n,
// over the trainees given, worked out attempt by attempt.
func estimate(ts []seenTrainee, n int) float64 {
	without := 1.0
	for k := 1; k <= n; k++ {
		atRisk, met := 0, 0
		for _, x := range ts {
			if x.last >= k {
				atRisk++
			}
			if x.last == k && x.met {
				met++
			}
		}
		if atRisk > 0 {
			without *= 1 - float64(met)/float64(atRisk)
		}
	}
	return 1 - without
}

// whole numbers and shares that sentences state.
var (
	scheduledFor = regexp.MustCompile(`^(All trainees|Arm (\w+))(?:: schedule (\d+) attempts? for|, (\d+) attempts? scheduled)`)
	studied      = regexp.MustCompile(`Of the (\d+) studied, (\d+) had met the rule by attempt (\d+)`)
	stopped      = regexp.MustCompile(`(\d+) (?:was|were) last seen before it without`)
	without      = regexp.MustCompile(`(\d+) (?:was|were) seen at it without`)
	estimated    = regexp.MustCompile(`an estimated ([<>]?[0-9.]+ %) \(`)
	never        = regexp.MustCompile(`(\d+) of (\d+) had not met the rule by the last attempt seen of them`)
	keepPlaces   = regexp.MustCompile(`about ([0-9.]+) of (\d+): `)
	halfNeed     = regexp.MustCompile(`half of them need up to (\d+) attempts more`)
	fewerThan    = regexp.MustCompile(`fewer than half of them get there by attempt (\d+)`)
	everybodyTo  = regexp.MustCompile(`Everybody followed to attempt (\d+) had met the rule by then`)
	allStudied   = regexp.MustCompile(`All (\d+) studied met the rule by then`)
	nobodyTo     = regexp.MustCompile(`Nobody was followed to attempt (\d+),`)
	withFewer    = regexp.MustCompile(`With (\d+) fewer, that is (\d+) attempts?, ([0-9.]+) \([0-9.]+ to [0-9.]+\) fewer of (\d+) trainees are proficient and ([<>]?[0-9.]+ %) \(`)
	metOf        = regexp.MustCompile(`(\d+) of (\d+) met the rule; the largest share that can be estimated as observed is ([<>]?[0-9.]+ %)`)
)

// number is the number that a sentence states; -1 where it states none.
func number(re *regexp.Regexp, text string, group int) int {
	m := re.FindStringSubmatch(text)
	if m == nil {
		return -1
	}
	v, err := strconv.Atoi(m[group])
	if err != nil {
		return -2
	}
	return v
}

// counted counts the trainees of whom a condition holds.
func counted(ts []seenTrainee, holds func(seenTrainee) bool) int {
	n := 0
	for _, x := range ts {
		if holds(x) {
			n++
		}
	}
	return n
}

// checkSentences holds every count and share in the words of a quota as observed against
// what the raw log gives; it returns all the words.
func checkSentences(t *testing.T, d *Quota, all []seenTrainee) string {
	t.Helper()
	var words []string
	for _, a := range d.Answers() {
		text := strings.Join(strings.Fields(a.Lead+" "+a.Brings+" "+a.Fewer+" "+a.Rest), " ")
		words = append(words, text)
		m := scheduledFor.FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("no attempts are scheduled in %q", text)
		}
		n, err := strconv.Atoi(m[3] + m[4])
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(text, "by the cohort's curve") {
			if studied.MatchString(text) || never.MatchString(text) {
				t.Errorf("what the curve expects is told as if it had been counted: %s", text)
			}
			continue
		}
		checkAnswer(t, text, groupOf(all, m[2]), n, d.Answer.Asked.Trainees)
	}
	for _, text := range append(d.quotaNotes(), warningTexts(d)...) {
		words = append(words, text)
		group := all
		if m := regexp.MustCompile(`^[Aa]rm (\w+):`).FindStringSubmatch(text); m != nil {
			group = groupOf(all, m[1])
		}
		met := counted(group, func(x seenTrainee) bool { return x.met })
		if never.MatchString(text) && (number(never, text, 1) != len(group)-met || number(never, text, 2) != len(group)) {
			t.Errorf("%d of %d met the rule, but: %s", met, len(group), text)
		}
		if m := metOf.FindStringSubmatch(text); m != nil {
			last := 0
			for _, x := range group {
				last = max(last, x.last)
			}
			want := fmt.Sprintf("%d of %d met the rule; the largest share that can be estimated as observed is %s", met, len(group), study.PercentText(estimate(group, last)))
			if m[0] != want {
				t.Errorf("%q, want %q", m[0], want)
			}
		}
	}
	return strings.Join(words, "\n")
}

func warningTexts(d *Quota) []string {
	var out []string
	for _, w := range d.Warnings {
		out = append(out, w.Text)
	}
	return out
}

func groupOf(all []seenTrainee, arm string) []seenTrainee {
	if arm == "" {
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), func(x seenTrainee) bool { return x.arm != arm })
}

// checkAnswer checks one group's answer for n attempts and so many trainees.
func checkAnswer(t *testing.T, text string, ts []seenTrainee, n, trainees int) {
	t.Helper()
	metBy := func(k int) int { return counted(ts, func(x seenTrainee) bool { return x.met && x.last <= k }) }
	last := 0
	for _, x := range ts {
		last = max(last, x.last)
	}
	neverMet := counted(ts, func(x seenTrainee) bool { return !x.met })
	wantCount := func(re *regexp.Regexp, group, want int, always bool) {
		t.Helper()
		if !always && want == 0 {
			want = -1 // nothing is said of nobody
		}
		if got := number(re, text, group); got != want {
			t.Errorf("%v: %d, the log gives %d: %s", re, got, want, text)
		}
	}
	wantCount(studied, 1, len(ts), true)
	wantCount(studied, 2, metBy(n), true)
	wantCount(studied, 3, n, true)
	wantCount(stopped, 1, counted(ts, func(x seenTrainee) bool { return !x.met && x.last < n }), false)
	wantCount(without, 1, counted(ts, func(x seenTrainee) bool { return x.last > n || x.last == n && !x.met }), false)
	if neverMet > 0 {
		wantCount(never, 1, neverMet, true)
		wantCount(never, 2, len(ts), true)
	} else if never.MatchString(text) {
		t.Errorf("everybody met the rule: %s", text)
	}
	share, known := estimate(ts, n), n <= last || neverMet == 0
	if m := estimated.FindStringSubmatch(text); known != (m != nil) || known && m[1] != study.PercentText(share) {
		t.Errorf("by attempt %d the estimate is %v (known: %v): %s", n, share, known, text)
	}
	switch {
	case !known:
		wantCount(nobodyTo, 1, n, true)
	case share == 1 && neverMet > 0:
		wantCount(everybodyTo, 1, last, true)
	case share == 1:
		wantCount(allStudied, 1, len(ts), true)
	default:
		if m := keepPlaces.FindStringSubmatch(text); m == nil || m[1] != fmt.Sprintf("%.1f", float64(trainees)*(1-share)) || m[2] != strconv.Itoa(trainees) {
			t.Errorf("%v of %d are not there by attempt %d: %s", 1-share, trainees, n, text)
		}
		half := n + 1
		for half <= last && estimate(ts, half) < share+(1-share)/2-1e-12 {
			half++
		}
		if half <= last {
			wantCount(halfNeed, 1, half-n, true)
		} else {
			wantCount(fewerThan, 1, last, true)
		}
	}
	if m := withFewer.FindStringSubmatch(text); m != nil {
		left := n - number(withFewer, text, 1)
		want := []string{strconv.Itoa(left), fmt.Sprintf("%.1f", float64(trainees)*(share-estimate(ts, left))), strconv.Itoa(trainees), study.PercentText(1 - estimate(ts, left))}
		if !slices.Equal(m[2:6], want) {
			t.Errorf("with fewer attempts %v, want %v: %s", m[2:6], want, text)
		}
	}
	for _, wrong := range []string{"NaN", "Inf", "Nobody was left", "plan"} {
		if strings.Contains(text, wrong) {
			t.Errorf("%q in: %s", wrong, text)
		}
	}
}

// timed is a log of times in one file: a trainee a row of seconds.
func timed(t *testing.T, arms []string, seconds ...[]float64) (path string) {
	t.Helper()
	var b strings.Builder
	b.WriteString("trainee,arm,attempt,seconds\n")
	for i, row := range seconds {
		for n, s := range row {
			fmt.Fprintf(&b, "t%02d,%s,%d,%g\n", i, arms[i%len(arms)], n+1, s)
		}
	}
	path = filepath.Join(t.TempDir(), "log.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// answered is the quota of a log of times with a standard of 50 seconds.
func answered(t *testing.T, path string, o study.QuotaOptions) *Quota {
	t.Helper()
	standard := 50.0
	file, err := datasets.OpenTable(t.Context(), path, datasets.Single{
		Columns: datasets.Columns{Trainee: "trainee", Arm: "arm", Attempt: "attempt"}, Response: "seconds", Measure: datasets.Time, Standard: &standard, Rule: "2 in a row",
	})
	if err != nil {
		t.Fatal(err)
	}
	p, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, study.Options{Replicates: 40})
	if err != nil {
		t.Fatal(err)
	}
	if !s.Task.RuleGiven {
		t.Error("the rule of a single table is taken for a study's own")
	}
	a, err := s.Quota(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return NewQuota(s, a)
}

func lacks(t *testing.T, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("the words lack %q:\n%s", w, text)
		}
	}
}

// The demo study: five of eighteen of one arm never met the rule, although the estimate
// reaches everybody, as the log says.
func TestQuotaSentencesOfDemo(t *testing.T) {
	s, path := quotaDemo(t, study.Options{Replicates: 40})
	log := rawLog(t, path, 57)
	for _, o := range []study.QuotaOptions{{}, {Attempts: 20}, {Attempts: 33, Trainees: 10, Fewer: 5}, {Attempts: 37, Trainees: 1}, {Target: 0.5}} {
		a, err := s.Quota(t.Context(), o)
		if err != nil {
			t.Fatal(err)
		}
		text := checkSentences(t, NewQuota(s, a), log)
		if o.Attempts == 0 && o.Target == 0 {
			lacks(t, text, "5 of 18 had not met the rule by the last attempt seen of them")
		}
	}
}

// Beyond the last attempt seen the observed share is not known, so the answer is the
// curve's.
func TestQuotaSentencesBeyondTheEnd(t *testing.T) {
	s, path := quotaDemo(t, study.Options{Replicates: 40})
	a, err := s.Quota(t.Context(), study.QuotaOptions{Attempts: 60})
	if err != nil {
		t.Fatal(err)
	}
	d := NewQuota(s, a)
	lacks(t, checkSentences(t, d, rawLog(t, path, 57)), "of new trainees are expected to be proficient, by the cohort's curve")
	for _, x := range d.Schedules {
		if x.Basis == "observed" && !math.IsNaN(float64(x.Met.Estimate)) {
			t.Errorf("as observed %v have met the rule by attempt 60", x.Met.Estimate)
		}
	}
}

// Nobody reaches the standard; what share will is not known.
func TestQuotaSentencesWhereNobodyReaches(t *testing.T) {
	path := timed(t, []string{"a", "b"}, []float64{90, 80, 75}, []float64{95, 85, 80, 70}, []float64{80, 70}, []float64{99, 98, 97})
	log := rawLog(t, path, 50)
	d := answered(t, path, study.QuotaOptions{})
	lacks(t, checkSentences(t, d, log), "All trainees: 0 of 4 met the rule; the largest share that can be estimated as observed is 0 %", "no number of attempts can be said to be enough for 90 %", "the largest share that can be estimated is 0 %, by attempt 4")
	if len(d.Schedules) > 0 {
		t.Errorf("scheduled: %+v", d.Schedules)
	}
	d = answered(t, path, study.QuotaOptions{Attempts: 2, Costs: &practice.Costs{Consumables: 3}})
	lacks(t, checkSentences(t, d, log), "Of the 4 studied, 0 had met the rule by attempt 2, and 4 were seen at it without having met it", "an estimated 0 % (", "nobody is proficient by then, so there is no cost for each",
		"about 4.0 of 4: fewer than half of them get there by attempt 4, the last one seen; 4 of 4 had not met the rule by the last attempt seen of them")
	d = answered(t, path, study.QuotaOptions{Attempts: 10, Costs: &practice.Costs{Consumables: 3}})
	lacks(t, checkSentences(t, d, log), "What share is proficient by then is not known", "what it costs when practice stops at the rule is not known", "Nobody was followed to attempt 10, so how many are there by then is not known; 4 of 4")
}

// Everybody passes the first two attempts.
func TestQuotaSentencesWhereEverybodyReachesAtOnce(t *testing.T) {
	path := timed(t, []string{"a"}, []float64{40, 30, 30}, []float64{41, 31}, []float64{42, 32, 20}, []float64{43, 33})
	d := answered(t, path, study.QuotaOptions{})
	lacks(t, checkSentences(t, d, rawLog(t, path, 50)), "Arm a: schedule 2 attempts for 90 %", "Of the 4 studied, 4 had met the rule by attempt 2. By then an estimated 100 % (", "All 4 studied met the rule by then, but up to")
	d = answered(t, path, study.QuotaOptions{Attempts: 30})
	lacks(t, checkSentences(t, d, rawLog(t, path, 50)), "Of the 4 studied, 4 had met the rule by attempt 30", "With 20 fewer, that is 10 attempts, 0.0 (0.0 to 0.0) fewer of 4 trainees are proficient and 0 % (")
}

// Three trainees of one arm, one of whom stopped early without; too few for a cohort.
func TestQuotaSentencesOfThree(t *testing.T) {
	path := timed(t, []string{""}, []float64{60, 45, 44}, []float64{70}, []float64{60, 61, 62, 40, 41})
	d := answered(t, path, study.QuotaOptions{})
	lacks(t, checkSentences(t, d, rawLog(t, path, 50)), "All trainees: schedule 5 attempts for 90 %", "Of the 3 studied, 2 had met the rule by attempt 5, and 1 was last seen before it without having met it",
		"1 of 3 had not met the rule by the last attempt seen of them", "3 trainees are fewer than the 6 needed")
	if len(d.Groups) != 1 || len(d.Answers()) != 1 {
		t.Errorf("%d groups, %d answers", len(d.Groups), len(d.Answers()))
	}
}

// One arm of twelve, of whom some stop and some never get there, at every number of
// attempts that can be scheduled.
func TestQuotaSentencesOfOneArm(t *testing.T) {
	var rows [][]float64
	for i := range 12 {
		var row []float64
		for n := range 6 + i%4 {
			row = append(row, 100*math.Exp(-0.15*float64(n))+float64(i%5)*4-2+float64((7*i+5*n)%9))
		}
		rows = append(rows, row)
	}
	path := timed(t, []string{"only"}, rows...)
	log := rawLog(t, path, 50)
	met := counted(log, func(x seenTrainee) bool { return x.met })
	if met == 0 || met == len(log) {
		t.Fatalf("%d of %d met the rule: the case tests nothing", met, len(log))
	}
	for n := 1; n <= 9; n++ {
		checkSentences(t, answered(t, path, study.QuotaOptions{Attempts: n, Fewer: 3, Trainees: 50}), log)
	}
}
