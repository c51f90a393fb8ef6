package datasets

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
)

// attemptCode is what stands before rows that are attempts, where rows of trainees are expected.
var attemptCode = regexp.MustCompile(`(?i)^(attempts?|trials?|tr(y|ies)|versuch|durchgang|durchlauf|essai|passage|intento|tentativa|prova|tentativo|poging|försök|forsøk|yritys|próba|pokus|deneme|kísérlet|προσπάθεια|попытка|спроба|محاولة|ניסיון)[\s._#-]+\d+$|^(回|第)\s*\d+|^\d+\s*(回|회차)`)

// turnedRound asks where the rows of a wide table are attempts and its columns trainees: by the words before them, or
// because numbers get better from row to row, and not from column to column.
func (r *logReader) turnedRound(log *Log) {
	if !r.isWide || r.log.ColumnsAre != "" || r.cols.Trainee == "" || len(r.readers) != 1 || r.series.groups() < 3 || len(log.Attempts) > mostCompared {
		return
	}
	attempts := 0
	for _, code := range r.placed.trainees {
		if attemptCode.MatchString(code) {
			attempts++
		}
	}
	if attempts == len(r.placed.trainees) {
		r.ask(r.cols.Trainee, r.placed.trainees[0], fmt.Sprintf("a trainee in each row; these are attempts: where the other columns are trainees say --columns-are trainee --attempt %q, and no --trainee (in a study file: columns_are)", r.cols.Trainee))
		return
	}
	t := r.study.Tasks[0]
	within, _ := r.trend(log, t.Name, 0)
	down := r.trendDown(log)
	if t.LowerIsBetter() {
		within, down = -within, -down
	}
	if down > 2*surelyWorse && within < 1 {
		r.note("rows-improve", fmt.Sprintf("%s: numbers get better from row to row, as with practice, and not from column to column; where rows are attempts and columns trainees say --columns-are trainee --attempt %q, and no --trainee (in a study file: columns_are)", r.file, r.cols.Trainee))
	}
}

// trendDown is how surely the measure rises from trainee to trainee at the same attempt, like trend.
func (r *logReader) trendDown(log *Log) float64 {
	at := map[float64][]float64{}
	for _, a := range log.Attempts {
		if v := log.Values(a)[0]; !math.IsNaN(v) && a.Outcome == Done {
			at[a.Number] = append(at[a.Number], v)
		}
	}
	var t trendSum
	for _, vs := range at { // a sum, whatever the order
		t.add(vs[:min(len(vs), mostRanked)])
	}
	return t.z()
}

// testSession are names of sessions in which is tested what practice left, or what was there before it.
var testSession = regexp.MustCompile(`(?i)\b(retention|retenci[oó]n|rétention|retenção|ritenzione|behaltens?|follow[- _]?up|retest|re-test|nachtest|post[- _]?test|pre[- _]?test|vortest|prétest|delayed|nameting|voormeting|transfer)`)

// sessionsApart notes a session that may be a test and no practice: by its name, or because everybody has one attempt in
// it, the last, where other sessions have four or more.
func (r *logReader) sessionsApart(log *Log) {
	if r.cols.Session == "" || r.cols.Trainee == "" || r.isWide && r.log.SheetsAre == "" {
		return
	}
	type count struct{ trainees, attempts, lasts int }
	of := map[string]*count{}
	for g := range r.series.groups() {
		rows := slices.Clone(r.series.of(g))
		slices.SortFunc(rows, func(a, b int32) int { return int(log.Attempts[a].Number - log.Attempts[b].Number) })
		seen := map[string]bool{}
		for _, i := range rows {
			s := log.Attempts[i].Session
			if of[s] == nil {
				of[s] = &count{}
			}
			if !seen[s] {
				of[s].trainees++
			}
			seen[s] = true
			of[s].attempts++
		}
		if len(rows) > 0 {
			of[log.Attempts[rows[len(rows)-1]].Session].lasts++
		}
	}
	var apart []string
	for s, c := range of {
		others, n := 0, 0
		for o, d := range of {
			if o != s {
				others, n = others+d.attempts, n+d.trainees
			}
		}
		alone := c.trainees >= 3 && c.attempts == c.trainees && c.lasts == c.trainees && n > 0 && others >= 4*n
		if len(of) > 1 && s != "" && (alone || testSession.MatchString(s)) {
			apart = append(apart, s)
		}
	}
	if slices.Sort(apart); len(apart) > 0 {
		r.note("session-apart", fmt.Sprintf("%s: session %s may be a test of what was kept, or of what was there before, and counts as practice like the others; where it is one, leave it out by --without %q (in a study file: without)", r.file, strings.Join(apart, ", "), r.cols.Session+"="+apart[0]))
	}
}
