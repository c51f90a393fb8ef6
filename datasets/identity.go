package datasets

import (
	"cmp"
	"fmt"
	"hash/maphash"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"

	"tyro/analysis/practice/ranges"
	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

var zerosBefore = regexp.MustCompile(`\d+`)

// plainCode is a code without what people write in different ways: T1, T01, TO1, t-1 and
// "T 1" are one, and so are "Smith, J" and "smith j", Müller and Mueller, Ash and Dr. Ash,
// and 1 and 1.0.
func plainCode(s string) string {
	if code, ok := plainASCII(s); ok {
		return code
	}
	return plainAny(s)
}

// plainAny is plainCode for any code.
func plainAny(s string) string {
	s = strings.TrimSuffix(strings.TrimSuffix(onceRead(s), ".0"), ",0")
	if strings.ContainsAny(s, ". ") {
		s = personTitle.ReplaceAllString(s, "")
	}
	s = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) {
			return unicode.ToLower(r)
		}
		return -1
	}, norm.NFKC.String(s))
	s = umlauts.Replace(norm.NFC.String(s))
	if strings.Contains(s, "o") {
		s = letterO.ReplaceAllString(s, "${1}0$2")
	}
	s = zerosBefore.ReplaceAllStringFunc(s, func(digits string) string {
		if plain := strings.TrimLeft(digits, "0"); plain != "" {
			return plain
		}
		return "0"
	})
	return strings.Map(func(r rune) rune {
		if same, ok := lookAlike[r]; ok {
			return same
		}
		return r
	}, s)
}

// plainASCII is plainCode for the codes that most people write, of which there may be a million;
// not ok for others, among them those with a title or a letter O before a digit.
func plainASCII(s string) (code string, ok bool) {
	var room [64]byte
	out, number := room[:0], -1 // where the digits now written began; -1 for none
	if s = strings.TrimSuffix(strings.TrimSuffix(s, ".0"), ",0"); len(s) > len(room) {
		return "", false
	}
	if strings.ContainsAny(s, ". ") && personTitle.MatchString(s) {
		return "", false
	}
	letter := byte(0) // the last one, until a digit comes
	for i := range len(s) {
		c := s[i]
		switch {
		case c >= 0x80:
			return "", false
		case c >= '0' && c <= '9':
			if letter == 'o' {
				return "", false
			}
			letter = 0
			if number < 0 {
				number = len(out)
			} else if len(out) == number+1 && out[number] == '0' {
				out = out[:number] // zeros before other digits
			}
			out = append(out, c)
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z':
			number, c = -1, c|0x20
			letter = c
			if same, alike := lookAlike[rune(c)]; alike {
				c = byte(same)
			}
			out = append(out, c)
		}
	}
	return string(out), true
}

var (
	// personTitle is what stands before the names of people, or not.
	personTitle = pattern.New(`(?i)^((dr|prof|mr|mrs|ms|miss|herr|frau|mme|sr|sra|dott|dra)\.?( med)?[. ]+)+`)
	// letterO is the letter beside a digit, where a zero is meant.
	letterO = regexp.MustCompile(`(^|[^o])o(\d)`)
	umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss")
)

// lookAlike are small letters that look like others, in Greek and Russian, and letters
// that are taken for digits, also as capitals.
var lookAlike = map[rune]rune{
	'а': 'a', 'в': 'b', 'с': 'c', 'е': 'e', 'н': 'h', 'і': '1', 'к': 'k', 'м': 'm', 'о': '0', 'р': 'p', 'т': 't', 'х': 'x', 'у': 'y',
	'α': 'a', 'β': 'b', 'ε': 'e', 'η': 'h', 'ι': '1', 'κ': 'k', 'μ': 'm', 'ν': 'n', 'ο': '0', 'ρ': 'p', 'τ': 't', 'χ': 'x', 'υ': 'y', 'ζ': 'z',
	'l': '1', 'i': '1', 'o': '0',
}

// onceRead is a text that was written as UTF-8 and read as Windows-1252, as it was
// written; any other as it is.
func onceRead(s string) string {
	plain := true
	for i := 0; i < len(s) && plain; i++ {
		plain = s[i] < 0x80
	}
	if plain {
		return s
	}
	if back, err := charmap.Windows1252.NewEncoder().String(s); err == nil && utf8.ValidString(back) {
		return back
	}
	return s
}

// noteTwoWays notes codes that are written in several ways and seen as one, which are read as one.
func (r *logReader) noteTwoWays(what string, codes []string) {
	two := r.table.pool.InTwoWays()
	var said []string
	for _, code := range codes {
		if two[code] {
			said = append(said, code)
		}
	}
	if len(said) > 0 {
		r.note("unseen-letters", fmt.Sprintf("%s: some codes of %s are written in two ways that look the same (%s), with a letter that nobody sees or an accent set apart; each is read as one", r.file, what, problem.List(said, mostNamed)))
	}
}

// noteSimilar notes codes that look alike, which are never joined here.
func (r *logReader) noteSimilar(what string, codes []string) {
	if !someAlike(codes) {
		return
	}
	seen, n := map[string]string{}, 0
	for _, code := range codes {
		plain := plainCode(code)
		if plain == "" {
			continue
		}
		if other, twice := seen[plain]; twice && other != code {
			if n++; n > mostSimilar {
				continue
			}
			r.note("similar-codes", fmt.Sprintf("%s: %s %q and %q look alike; they are kept apart, and --same %q joins them (in a study file: same)", r.file, what, other, code, code+"="+other))
		} else {
			seen[plain] = code
		}
	}
	if n > mostSimilar {
		r.note("similar-codes", fmt.Sprintf("%s: %d more %s look like others", r.file, n-mostSimilar, what))
	}
}

// someAlike reports whether two codes may look alike. A hash of each is enough to rule that out.
func someAlike(codes []string) bool {
	seed, hashes := maphash.MakeSeed(), make([]uint64, 0, len(codes))
	for _, code := range codes {
		if plain := plainCode(code); plain != "" {
			hashes = append(hashes, maphash.String(seed, plain))
		}
	}
	slices.Sort(hashes)
	return len(slices.Compact(hashes)) < len(hashes)
}

// noteLetterApart notes words that differ in one letter, which may be one word misspelled;
// digits make them different words.
func (r *logReader) noteLetterApart(what string, words []string) {
	for i, a := range words {
		for _, b := range words[:i] {
			if plainCode(a) != plainCode(b) && letterApart([]rune(strings.ToLower(a)), []rune(strings.ToLower(b))) {
				r.note("similar-codes", fmt.Sprintf("%s: %s %q and %q differ in one letter; they are kept apart, and --same %q joins them (in a study file: same)", r.file, what, b, a, a+"="+b))
			}
		}
	}
}

// letterApart reports whether one letter changed, left out or put in makes one word of five
// letters or more the other.
func letterApart(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(a) < 5 || len(b)-len(a) > 1 {
		return false
	}
	k := 0
	for k < len(a) && a[k] == b[k] {
		k++
	}
	if k < len(b) && !unicode.IsLetter(b[k]) || k < len(a) && !unicode.IsLetter(a[k]) {
		return false
	}
	if len(a) == len(b) {
		alone := (k == 0 || !unicode.IsLetter(a[k-1])) && (k+1 >= len(a) || !unicode.IsLetter(a[k+1])) // group A, group B
		return k < len(a) && !alone && slices.Equal(a[k+1:], b[k+1:])
	}
	return slices.Equal(a[k:], b[k+1:])
}

// mostSimilar is how many codes that look alike are named one by one.
const mostSimilar = 20

// A traineeTask names one trainee's attempts at a task.
type traineeTask struct{ trainee, task string }

// checkKeys finds attempts given twice, gaps in the numbering, trainees in two arms and
// codes that differ only in spelling.
func (r *logReader) checkKeys(log *Log) {
	arms, _ := numbered(r.placed.all, 0, func(p *Place) string { return p.Arm })
	sessions, _ := numbered(r.placed.all, 0, func(p *Place) string { return p.Session })
	trainees, tasks := r.placed.trainees, r.placed.tasks
	if r.mixesArms() {
		r.checkArms(log)
	}
	r.noteTwoWays("trainees", trainees)
	r.noteTwoWays("arms", arms)
	r.noteSimilar("trainees", trainees)
	r.noteSimilar("arms", arms)
	r.noteLetterApart("arms", arms)
	r.noteSimilar("sessions", sessions)
	r.noteSimilar("tasks", tasks)
	r.noteLetterApart("tasks", tasks)
	if r.cols.Trainee == "" {
		return
	}
	byDate := r.cols.Attempt == "" && !r.isWide
	through := 0
	for g := range r.series.groups() {
		at := r.series.of(g)
		switch {
		case byDate:
			r.numberByDate(log, at)
		case r.cols.Session != "" && r.restarts(log, at):
			r.numberSessions(log, at)
			through++
		default:
			r.checkTwice(log, at)
		}
	}
	if r.sameDate.attempts > 0 {
		r.note("same-date", fmt.Sprintf("%s: %d attempts have the same date as another of their trainee (%s); they are numbered as they stand in the file", r.file, r.sameDate.attempts, problem.List(r.sameDate.trainees, mostNamed)))
	}
	if byDate {
		r.note("numbered-by-date", fmt.Sprintf("%s: attempts have no numbers and are numbered in the order of their dates", r.file))
	}
	if through > 0 || r.through {
		r.note("numbered-through-sessions", fmt.Sprintf("%s: attempt numbers start again in every session; they are numbered through all sessions of a trainee", r.file))
	}
	r.goesOn(log)
	r.noteGaps(log)
	r.runOn(log)
}

// mixesArms reports whether some trainee is in two arms, or in one that the study does not
// have.
func (r *logReader) mixesArms() bool {
	first := make([]*Place, len(r.placed.trainees)) // of each trainee
	for i, p := range r.placed.all {
		who := r.placed.trainee[i]
		if first[who] == nil {
			first[who] = p
		}
		if first[who].Arm != p.Arm && r.cols.Trainee != "" || len(r.study.Arms) > 0 && p.Arm != "" && !slices.Contains(r.study.Arms, p.Arm) {
			return true
		}
	}
	return false
}

// checkArms reports trainees in two arms, and arms that the study does not have.
func (r *logReader) checkArms(log *Log) {
	arms, armLines := map[string]string{}, map[string]spot{}
	period := "" // looked for once
	var before Attempt
	for _, a := range log.Attempts {
		if a.Place == before.Place && log.Date(a) == log.Date(before) {
			continue
		}
		before = a
		if arm, seen := arms[a.Trainee]; seen && arm != a.Arm && r.cols.Trainee != "" {
			if period == "" {
				period = r.periodOf(armLines[a.Trainee], a.spot())
			}
			if a.Arm == "" {
				r.badAttempt(a, r.cols.Arm, "", fmt.Sprintf("the arm in every row, or --fill-down %s where blanks repeat the cell above (in a study file: fill_down)", r.cols.Arm), problem.ErrMissing)
				continue
			}
			r.badAttempt(a, r.cols.Arm, a.Arm, fmt.Sprintf("trainee %s in one arm only; earlier rows say %q (where it is the same arm, spelled otherwise, say --same %q; where two people have one code, give each a code of its own, such as A1 and B1; where everybody changed over, leave out the arm and compare within trainees with --crossover of tyro compare, or take one period: --where %s, in a study file: same, where)", a.Trainee, arm, a.Arm+"="+arm, period), problem.ErrDuplicate)
		}
		arms[a.Trainee], armLines[a.Trainee] = a.Arm, a.spot()
		if len(r.study.Arms) > 0 && a.Arm != "" && !slices.Contains(r.study.Arms, a.Arm) {
			r.badAttempt(a, r.cols.Arm, a.Arm, "one of the study's arms: "+strings.Join(r.study.Arms, ", ")+sameWay(a.Arm, r.study.Arms), problem.ErrUnknown)
		}
	}
}

// runOn reports attempt numbers that run on from one trainee to the next, as the numbers of
// rows do.
func (r *logReader) runOn(log *Log) {
	similar := slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == "similar-codes" })
	if r.cols.Attempt == "" || r.isWide || r.series.groups() < 2 || len(log.Attempts) < 6 || similar {
		return
	}
	next := log.Attempts[0].Number
	for _, a := range log.Attempts {
		if a.Number != next {
			return
		}
		next++
	}
	for g := range r.series.groups() {
		rows := r.series.of(g)
		if n := len(rows); n < 2 || int(rows[n-1]-rows[0]) != n-1 {
			return
		}
	}
	r.ask(r.cols.Attempt, "", "each trainee's attempts from 1 on; these numbers count the rows of the file: name a column with the attempts of each trainee, or leave --attempt out and number them by --date (in a study file: columns: attempt, date)")
}

// checkExperts reports runs of an expert that are given twice.
func (r *logReader) checkExperts(log *Log) {
	if r.cols.Attempt == "" && !r.isWide {
		return
	}
	codes := slices.Sorted(slices.Values(r.placed.trainees))
	r.noteSimilar("experts", codes)
	for g := range r.series.groups() {
		rows := r.series.of(g)
		if r.cols.Session != "" && r.restarts(log, rows) {
			continue
		}
		r.checkTwice(log, rows)
	}
}

// checkTwice reports attempts given twice.
func (r *logReader) checkTwice(log *Log, at []int32) {
	if rising(log, at) || !r.repeats(log, at) {
		return
	}
	if isDitto(log.Attempts[at[0]].Trainee) {
		return // asked about where codes are looked at
	}
	r.allTwice = r.everyTwice()
	lines := map[float64]spot{}
	for _, i := range at {
		a := log.Attempts[i]
		if !(a.Number >= 1) {
			continue // reported where it was read
		}
		if first, seen := lines[a.Number]; seen {
			r.badAttempt(a, r.cols.Attempt, strconv.FormatFloat(a.Number, 'g', -1, 64), fmt.Sprintf("each attempt of %s %s once; it is also on line %s%s", r.person(), a.Trainee, r.lines([]spot{first}), r.apartBy(first, a.spot())), problem.ErrDuplicate)
			continue
		}
		lines[a.Number] = a.spot()
	}
}

// repeats reports whether some attempts have a number in common.
func (r *logReader) repeats(log *Log, at []int32) bool {
	r.order = r.order[:0]
	for _, i := range at {
		r.order = append(r.order, log.Attempts[i].Number)
	}
	slices.Sort(r.order)
	for n := 1; n < len(r.order); n++ {
		if r.order[n] == r.order[n-1] {
			return true
		}
	}
	return false
}

// everyTwice reports whether all of three numbers or more, in order as repeats left them, stand there twice.
func (r *logReader) everyTwice() bool {
	for n := 0; n < len(r.order); n += 2 {
		if n+1 == len(r.order) || r.order[n] != r.order[n+1] || n > 0 && r.order[n] == r.order[n-1] {
			return false
		}
	}
	return len(r.order) >= 6
}

// oneCodeForAll reports whether one code has all attempts, and most of their numbers three times or more.
func (r *logReader) oneCodeForAll() bool {
	again := 0
	for n := 1; n < len(r.order); n++ {
		if r.order[n] == r.order[n-1] {
			again++
		}
	}
	return len(r.placed.trainees) == 1 && 3*again >= 2*len(r.order)
}

// person is what somebody of the log is called.
func (r *logReader) person() string {
	if r.expert {
		return "expert"
	}
	return "trainee"
}

// rising reports whether every attempt's number is above the one before it in the file, so
// that none stands there twice.
func rising(log *Log, at []int32) bool {
	for n := 1; n < len(at); n++ {
		if !(log.Attempts[at[n]].Number > log.Attempts[at[n-1]].Number) {
			return false
		}
	}
	return true
}

// periodOf is the choice of the earlier of two rows by a column that tells their occasions
// apart.
func (r *logReader) periodOf(first, second spot) string {
	i, k := -1, -1
	for n := range r.table.keep {
		switch r.spotOf(n) {
		case first:
			i = n
		case second:
			k = n
		}
	}
	for j, name := range r.table.header {
		if i >= 0 && k >= 0 && sessionName.MatchString(name) && r.table.cell(i, j) != r.table.cell(k, j) && r.table.cell(i, j) != 0 {
			return fmt.Sprintf("%q", name+"="+r.table.text(i, j))
		}
	}
	return "COLUMN=VALUE"
}

// sessionName are columns that say on which occasion an attempt was made.
var sessionName = regexp.MustCompile(`(?i)\b(sessions?|days?|dates?|visits?|weeks?|blocks?|months?|rounds?|phases?|sittings?|occasions?|periods?|modules?|tag|woche|sitzung|termin|séances?|jour|semaine|sesi[oó]n|d[ií]a|semana)\b`)

// mostHinted is how many problems say what tells their rows apart.
const mostHinted = 20

// apartBy names a column that is not used and tells two rows apart.
func (r *logReader) apartBy(first, second spot) string {
	if len(r.problems) <= mostHinted {
		r.apart = r.columnApart(first, second)
	}
	return r.apart
}

func (r *logReader) columnApart(first, second spot) string {
	t := r.table
	at := func(row spot) int {
		for i := range t.keep {
			if r.spotOf(i) == row {
				return i
			}
		}
		return 0
	}
	i, k := at(first), at(second)
	if j := t.column(r.cols.Attempt); r.cols.Attempt != "" && j >= 0 && t.text(i, j) != t.text(k, j) {
		return fmt.Sprintf("; one is written %q and the other %q: where one is no attempt leave it out by --without %q (in a study file: without), and where both are, put what tells them apart into a column of its own and name it with --session", t.text(i, j), t.text(k, j), r.cols.Attempt+"="+t.text(i, j))
	}
	if name := r.startsAgainIn(); name != "" {
		return fmt.Sprintf("; attempts start again where column %s changes: say --session %s (in a study file: columns: session)", name, name)
	}
	found, differ := false, false
	for j := range t.header {
		differ = differ || t.cell(i, j) != t.cell(k, j)
	}
	other := "; where one corrects the other, take out the row that does not count"
	switch who := r.texts(r.cols.Trainee)(k); {
	case !differ:
		other = "; one row repeats the other in every cell: take one out"
	case powerOfTen.MatchString(who):
		other = "; the code looks like what a spreadsheet made of a long number, so that two people may have one: write the whole codes, in cells that are text"
	case r.oneNumberOf(who):
		other = fmt.Sprintf("; all rows of %s have this number: where they are no attempts, such as sums of a page, leave them out by --without %q (in a study file: without)", who, r.cols.Trainee+"="+who)
	case r.oneCodeForAll():
		other = fmt.Sprintf("; every row has the code %s, and each number stands there several times: give each trainee a code of their own, or name the column that has them with --trainee", who)
	case r.allTwice:
		other = "; every attempt of this code stands twice: where two people have one code give each a code of its own, and where rows were pasted twice take them out"
	}
	if r.isWide {
		other = "; where a trainee has several rows, put what tells them apart, such as the session, into a column of its own and name it with --session"
	}
	for j, name := range t.header {
		if name == "" || r.uses(name) || t.cell(i, j) == t.cell(k, j) || len(r.distinct(j)) > max(12, t.rows()/4) {
			continue
		}
		if !sessionName.MatchString(name) && saysWhen(r.distinct(j)) {
			continue // each row has its own moment
		}
		if !sessionName.MatchString(name) {
			if _, number := grid.ParseNumber(t.text(i, j), false); !found && !number {
				found = true
				other = fmt.Sprintf("; column %s tells them apart: choose rows with --where %q (in a study file: where), or put both into one code where it is a part of the trainee's name", name, name+"="+cmp.Or(t.text(i, j), "VALUE"))
			}
			continue
		}
		return fmt.Sprintf("; column %s tells them apart: say --session %s where attempts start again, or choose rows with --where %s=%s (in a study file: columns: session, or where)", name, name, name, cmp.Or(t.text(i, j), "VALUE"))
	}
	if j := t.column(r.cols.Date); !found && r.cols.Date != "" && j >= 0 && t.cell(i, j) != t.cell(k, j) {
		return fmt.Sprintf("; they have different dates: where attempts start again each day say --session %s too (in a study file: columns: session), or leave --attempt out to number them by date", r.cols.Date)
	}
	return other
}

// restarts reports whether attempt numbers repeat within a trainee, and never within a
// session.
func (r *logReader) restarts(log *Log, at []int32) bool {
	if rising(log, at) {
		return false
	}
	type key struct {
		session string
		number  float64
	}
	numbers, keys := map[float64]bool{}, map[key]bool{}
	again := false
	for _, i := range at {
		a := log.Attempts[i]
		k := key{a.Session, a.Number}
		if keys[k] {
			return false
		}
		keys[k] = true
		again = again || numbers[a.Number]
		numbers[a.Number] = true
	}
	return again
}

// numberSessions numbers a trainee's attempts through all sessions: in the order of the
// dates where there are any, of the sessions' numbers, or as first seen.
func (r *logReader) numberSessions(log *Log, at []int32) {
	place, dates := map[string]float64{}, map[string]string{}
	numbered, dated := true, true
	for _, i := range at {
		a := log.Attempts[i]
		if _, seen := place[a.Session]; !seen {
			place[a.Session] = float64(len(place))
		}
		if d, seen := dates[a.Session]; !seen || log.Date(a) < d {
			dates[a.Session] = log.Date(a)
		}
		dated = dated && a.date != 0
	}
	numbers := map[string]float64{}
	for s := range place {
		n := zerosBefore.FindString(s)
		numbers[s] = grid.Number(n)
		numbered = numbered && n != ""
	}
	order := slices.Clone(at)
	slices.SortStableFunc(order, func(x, y int32) int {
		a, b := log.Attempts[x], log.Attempts[y]
		c := 0
		switch {
		case dated && dates[a.Session] != dates[b.Session]:
			c = cmp.Compare(dates[a.Session], dates[b.Session])
		case numbered:
			c = cmp.Compare(numbers[a.Session], numbers[b.Session])
		}
		return cmp.Or(c, cmp.Compare(place[a.Session], place[b.Session]), cmp.Compare(a.Number, b.Number))
	})
	for n, i := range order {
		log.Attempts[i].Number = float64(n + 1)
	}
}

// numberByDate numbers a trainee's attempts in the order of their dates; those of one
// moment keep the order of the file, which is noted.
func (r *logReader) numberByDate(log *Log, at []int32) {
	order, ties := slices.Clone(at), 0
	moment := func(i int32) string {
		if m, ok := r.inUTC[r.dateCells[i]]; ok && r.oneClock() {
			return m
		}
		if m, ok := r.moments[r.dateCells[i]]; ok { // by cell, since a date has no seconds
			return m
		}
		return log.Date(log.Attempts[i])
	}
	slices.SortStableFunc(order, func(x, y int32) int { return cmp.Compare(moment(x), moment(y)) })
	for n, i := range order {
		log.Attempts[i].Number = float64(n + 1)
		if moment(i) == "" && !r.reported[log.Attempts[i].spot()] {
			r.badAttempt(log.Attempts[i], r.cols.Date, "", "a date, since attempts are numbered by date", problem.ErrMissing)
		}
		if n > 0 && moment(i) == moment(order[n-1]) {
			ties++
		}
	}
	if ties > 0 {
		r.sameDate.add(log.Attempts[at[0]].Trainee, ties)
	}
}

// A tie counts attempts that nothing puts in order, and names their trainees.
type tie struct {
	trainees []string
	attempts int
}

func (t *tie) add(trainee string, attempts int) {
	t.trainees = append(t.trainees, trainee)
	t.attempts += attempts
}

// mostNamed is how many trainees a note names one by one.
const mostNamed = 5

// noteGaps notes, once, trainees whose attempt numbers leave some out.
func (r *logReader) noteGaps(log *Log) {
	n := 0
	var named []string
	r.gaps = make([]bool, len(r.placed.trainees))
	for g := range r.series.groups() {
		top, rows := 0.0, r.series.of(g)
		for _, i := range rows {
			top = math.Max(top, log.Attempts[i].Number)
		}
		if missing := int(top) - len(rows); missing > 0 && top <= ranges.Attempt.Max {
			who := r.series.trainee[g]
			r.gaps[who] = true
			if n++; n <= mostNamed {
				named = append(named, fmt.Sprintf("%q (%d of those up to %g)", r.placed.trainees[who], missing, top))
			}
		}
	}
	if n > mostNamed {
		named = append(named, fmt.Sprintf("%d more", n-mostNamed))
	}
	if n > 0 {
		who := "trainees lack"
		if n == 1 {
			who = "trainee lacks"
		}
		r.note("attempt-gaps", fmt.Sprintf("%d %s some attempts, and numbers are kept as given: %s", n, who, strings.Join(named, ", ")))
	}
}

// startsAgainIn is a column that nothing uses, of few different cells, within each of which every trainee
// has every attempt once; blank for none. One of words that is no session may be a task, and is not it.
func (r *logReader) startsAgainIn() string {
	t := r.table
	who, attempt := t.column(r.cols.Trainee), t.column(r.cols.Attempt)
	if who < 0 || attempt < 0 || r.cols.Attempt == "" || r.isWide {
		return ""
	}
	for _, name := range r.unused() {
		j := t.column(name)
		cells := r.distinct(j)
		if len(cells) < 2 || len(cells) > mostLevels || some(cells) < t.rows() || wordsAlone(cells) && !sessionName.MatchString(name) || slices.Contains(r.layout.Ignore, name) || caseNames.MatchString(name) {
			continue
		}
		seen, once := map[[3]grid.Cell]bool{}, true
		for i := range t.keep {
			key := [3]grid.Cell{t.cell(i, who), t.cell(i, j), t.cell(i, attempt)}
			if once = !seen[key]; !once {
				break
			}
			seen[key] = true
		}
		if once {
			return name
		}
	}
	return ""
}

// armOfEach notes arms of which every trainee has one of their own.
func (r *logReader) armOfEach(log *Log) {
	if r.cols.Arm == "" {
		return
	}
	arms, people := map[string]bool{}, map[string]bool{}
	for _, a := range log.Attempts {
		arms[a.Arm], people[a.Trainee] = true, true
	}
	if delete(arms, ""); len(arms) >= 4 && len(arms) == len(people) {
		r.note("arm-of-each", fmt.Sprintf("%s: column %s says something else of each of the %d trainees, so that no arm has more than one; it may be no arm", r.file, r.cols.Arm, len(people)))
	}
}
