package page

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The product-limit estimate, made here by hand: the share not there after attempt n.
func notThereByHand(log []countedTrainee, n int) float64 {
	left := 1.0
	for k := 1; k <= n; k++ {
		risk, events := 0, 0
		for _, c := range log {
			at := c.last()
			if c.met > 0 {
				at = c.met
			}
			if at >= k {
				risk++
			}
			if c.met == k {
				events++
			}
		}
		if risk > 0 {
			left *= 1 - float64(events)/float64(risk)
		}
	}
	return left
}

// attemptsByHand is the first attempt by which the share is there; 0 where none is.
func attemptsByHand(log []countedTrainee, share float64) int {
	for n := 1; n <= 200; n++ {
		if 1-notThereByHand(log, n) >= share-1e-12 {
			return n
		}
	}
	return 0
}

func metByHand(log []countedTrainee, n int) int {
	k := 0
	for _, c := range log {
		if c.met > 0 && c.met <= n {
			k++
		}
	}
	return k
}

func armOf(log []countedTrainee, arm string) []countedTrainee {
	return slices.DeleteFunc(slices.Clone(log), func(c countedTrainee) bool { return c.arm != arm })
}

// seenEnd is the last attempt at which somebody met the rule or was seen without.
func seenEnd(log []countedTrainee) int {
	end := 0
	for _, c := range log {
		if c.met > 0 {
			end = max(end, c.met)
		} else {
			end = max(end, c.last())
		}
	}
	return end
}

func metSentence(met, n int) string {
	switch {
	case met == 0:
		return fmt.Sprintf("none of the %d studied was proficient", n)
	case met == n:
		return fmt.Sprintf("all %d studied were proficient", n)
	case met == 1:
		return fmt.Sprintf("1 of the %d studied was proficient", n)
	}
	return fmt.Sprintf("%d of the %d studied were proficient", met, n)
}

// bare takes the spaces that do not break, and those between digits, out of a text.
func bare(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, unbroken, " "), narrow, "")
}

// Every count in the sentences of the director's page is the one in the log, for the demo
// and four other studies; none is left blank, unknown or doubled.
func TestDirectorAgainstTheLog(t *testing.T) {
	for _, a := range theReports(t) {
		t.Run(a.name, func(t *testing.T) { checkDirector(t, a) })
	}
}

func checkDirector(t *testing.T, a aReport) {
	d := a.r.director()
	text := make([]string, 4)
	for k, b := range d.Boxes {
		text[k] = bare(b.Answer + " | " + strings.Join(b.Lines, " "))
		t.Log(text[k])
	}
	want := func(box int, parts ...string) {
		t.Helper()
		for _, part := range parts {
			if !strings.Contains(text[box], part) {
				t.Errorf("box %d lacks %q: %s", box+1, part, text[box])
			}
		}
	}
	n, made, first, last := len(a.log), 0, "9", ""
	for _, c := range a.log {
		made += len(c.attempts)
		first, last = min(first, c.date[0]), max(last, c.date[len(c.date)-1])
	}
	if want := fmt.Sprintf("%d trainees, %d attempts, from %s to %s.", n, made, first, last); d.Basis != want {
		t.Errorf("%q, want %q", d.Basis, want)
	}
	if want := "On this page, proficient means one thing: met the rule “2 passes in a row”. A pass is an attempt done in at most 57 s (wall punctures: at most 1), and no hard fail."; d.Meaning != want {
		t.Errorf("%q, want %q", d.Meaning, want)
	}
	plan := attemptsByHand(a.log, 0.9)
	checkPlan(t, a, plan, want)
	checkCost(t, a, plan, want)

	// How sure: counts by the attempt named, and the number of trainees that 90 % takes:
	// the first n with 0.9^n <= 0.05, by hand 29.
	if m := regexp.MustCompile(`by attempt (\d+); (.*?) by then`).FindStringSubmatch(text[2]); m != nil {
		at, _ := strconv.Atoi(m[1])
		if want := metSentence(metByHand(a.log, at), n); m[2] != want {
			t.Errorf("by attempt %d: %q, want %q", at, m[2], want)
		}
	} else {
		want(2, "0 %, with 95 % confidence", fmt.Sprintf("%s by attempt %d", metSentence(metByHand(a.log, 999), n), seenEnd(a.log)))
	}
	if strings.Contains(text[2], "as surely") {
		want(2, "at least 29 trainees", fmt.Sprintf("%d were studied and %d did", n, metByHand(a.log, 999)))
	}
	if !strings.Contains(text[2], "%") {
		t.Errorf("no number says how sure: %s", text[2])
	}

	// Which rule: attempts after meeting it.
	since, kept := 0, 0
	for _, c := range a.log {
		if c.met > 0 {
			for _, p := range c.pass[c.metAt+1:] {
				since++
				if p {
					kept++
				}
			}
		}
	}
	if since > 0 {
		want(3, fmt.Sprintf("trainees passed %d of %d attempts", kept, since))
	}
	checkWho(t, a, d)
	var all bytes.Buffer
	if err := d.writeHTML(&all); err != nil {
		t.Fatal(err)
	}
	checkProse(t, all.String())
	for _, paper := range []string{"A4", "Letter"} {
		var pdf bytes.Buffer
		if err := d.writePDF(&pdf, paper); err != nil {
			t.Fatal(err)
		}
		if pages := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(pdf.Bytes(), -1)); pages != 1 {
			t.Errorf("%s: %d pages, want one", paper, pages)
		}
	}
}

// checkPlan checks how many attempts to schedule.
func checkPlan(t *testing.T, a aReport, plan int, want func(box int, parts ...string)) {
	n := len(a.log)
	if plan == 0 {
		want(0, fmt.Sprintf("By attempt %d, where what was seen ends, %s", seenEnd(a.log), metSentence(metByHand(a.log, 999), n)))
		return
	}
	want(0, fmt.Sprintf("%d attempts for each trainee", plan), "Plan for the next group")
	met, stopped, without := metByHand(a.log, plan), 0, 0
	for _, c := range a.log {
		switch {
		case c.met > 0 && c.met <= plan:
		case c.met == 0 && c.last() < plan:
			stopped++
		default:
			without++
		}
	}
	if met == n {
		want(0, fmt.Sprintf("By attempt %d all %d studied were proficient", plan, n))
	} else {
		want(0, fmt.Sprintf("By attempt %d: %d of the %d studied", plan, met, n))
		if stopped > 0 {
			want(0, fmt.Sprintf("%d had stopped earlier without", stopped))
		}
		if without > 0 {
			want(0, fmt.Sprintf("%d went on without", without))
		}
	}
	want(0, fmt.Sprintf("Of a next group of %d, expect about %.0f proficient", n, (1-notThereByHand(a.log, plan))*float64(n)))
	arms := map[string]bool{}
	for _, c := range a.log {
		arms[c.arm] = true
	}
	if len(arms) < 2 {
		return
	}
	for arm := range arms {
		own := armOf(a.log, arm)
		if p := attemptsByHand(own, 0.9); p > 0 {
			want(0, fmt.Sprintf("%s: %d (%d of %d proficient by then)", arm, p, metByHand(own, p), len(own)))
		}
	}
}

// checkCost checks what the plan costs. An attempt costs 12 minutes at 40 and 4 minutes
// at 60 an hour and 3 of consumables: 8 + 4 + 3 = 15 credits; a trainee 25 besides.
func checkCost(t *testing.T, a aReport, plan int, want func(box int, parts ...string)) {
	if plan == 0 {
		want(1, "Not known")
		return
	}
	used := 0.0
	for k := range plan {
		used += notThereByHand(a.log, k)
	}
	n := float64(len(a.log))
	want(1, fmt.Sprintf("%.1f attempts a trainee", used))
	if a.costs {
		want(1, fmt.Sprintf("%.0f credits expected, %.0f at most", n*(25+15*used), n*(25+15*float64(plan))))
		if used*n*0.2 >= 100 {
			want(1, fmt.Sprintf("%.0f lab hours", used*n*0.2))
		}
	} else {
		want(1, fmt.Sprintf("%d attempts each at most", plan), "no costs")
	}
	if left := plan - 20; left > 0 {
		want(1, fmt.Sprintf("With 20 fewer, that is %d each: %s by attempt %d", left, metSentence(metByHand(a.log, left), len(a.log)), left))
	} else {
		want(1, "20 fewer would leave none")
	}
}

// checkWho checks the list of what each trainee needs.
func checkWho(t *testing.T, a aReport, d *director) {
	total := 0
	for _, c := range d.Who.Counts {
		total += c.N
	}
	if total != len(a.log) {
		t.Errorf("%d trainees are counted, want %d", total, len(a.log))
	}
	end, longest := "", 0
	for _, c := range a.log {
		end, longest = max(end, c.lastDate), max(longest, c.longest)
	}
	listed := 0
	for _, c := range a.log {
		i := slices.IndexFunc(d.Who.Rows, func(r whoRow) bool { return r.Trainee == c.id })
		inMet := regexp.MustCompile(`\b` + c.id + ` \((\d+)\)`).FindStringSubmatch(d.Who.Met)
		if i < 0 {
			if inMet == nil || c.met == 0 || inMet[1] != strconv.Itoa(c.met) {
				t.Errorf("%s, met %d, is listed as %v", c.id, c.met, inMet)
			}
			if n := len(c.pass); n >= c.met+5 && !slices.Contains(c.pass[n-5:], true) {
				t.Errorf("%s passed none of the last five and nobody is told to look", c.id)
			}
			continue
		}
		listed++
		row := d.Who.Rows[i]
		if row.Last != c.lastDate {
			t.Errorf("%s: last date %s, want %s", c.id, row.Last, c.lastDate)
		}
		if c.met > 0 {
			if row.Place != "look-now" || !strings.Contains(row.Why, fmt.Sprintf("met the rule at attempt %d", c.met)) {
				t.Errorf("%s met the rule at %d and reads %+v", c.id, c.met, row)
			}
			continue
		}
		if want := fmt.Sprintf("passed %d of %d", c.passed(), len(c.attempts)); !strings.Contains(row.Why, want) {
			t.Errorf("%s: %q lacks %q", c.id, row.Why, want)
		}
		away := daysApart(t, c.lastDate, end)
		if stopped := longest > 0 && away > longest; stopped != (row.Place == "stopped") || stopped && !strings.Contains(row.Why, fmt.Sprintf("%d days", away)) {
			t.Errorf("%s, last seen %d days before the end, longest break %d, reads %+v", c.id, away, longest, row)
		} else if !stopped && c.pass[len(c.pass)-1] && row.Place != "close" {
			t.Errorf("%s is one pass short and reads %+v", c.id, row)
		}
	}
	if listed != len(d.Who.Rows) {
		t.Errorf("%d rows, %d of them of trainees in the log", len(d.Who.Rows), listed)
	}
}

var (
	markup   = regexp.MustCompile(`(?s)<(style|script|svg).*?</(style|script|svg)>|<[^>]*>`)
	badProse = regexp.MustCompile(`NaN|Inf\b|<no value>|%!|\(\)|: \.|, \.|\. \.|  ,| ,|“”`)
)

// checkProse finds what no template may leave behind: blanks, unknown numbers, doubled
// words.
func checkProse(t *testing.T, html string) {
	t.Helper()
	for _, line := range strings.Split(markup.ReplaceAllString(html, "\n"), "\n") {
		if m := badProse.FindString(line); m != "" {
			t.Errorf("%q in %q", m, line)
		}
		words := strings.Fields(line)
		for i := 1; i < len(words); i++ {
			if words[i] == words[i-1] && regexp.MustCompile(`^[A-Za-z]+$`).MatchString(words[i]) {
				t.Errorf("%q twice in %q", words[i], line)
			}
		}
	}
}

// What each trainee reads is in the log, and nothing of anybody else: every page is
// searched for every other trainee's code.
func TestTraineePagesAgainstTheLog(t *testing.T) {
	for _, a := range theReports(t) {
		t.Run(a.name, func(t *testing.T) { checkTrainees(t, a) })
	}
}

func checkTrainees(t *testing.T, a aReport) {
	pages, err := a.r.TraineePages()
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != len(a.log) {
		t.Fatalf("%d pages, %d trainees", len(pages), len(a.log))
	}
	for i, p := range pages {
		c := a.log[i]
		var b bytes.Buffer
		if err := p.Write(&b, ""); err != nil {
			t.Fatal(err)
		}
		if b.Len() > 60_000 {
			t.Errorf("%s: %d bytes", c.id, b.Len())
		}
		checkProse(t, b.String())
		for _, other := range a.log {
			if other.id != c.id && bytes.Contains(b.Bytes(), []byte(other.id)) {
				t.Errorf("the page of %s holds %s", c.id, other.id)
			}
		}
		now := strings.Join(p.Now, " ")
		wants := []string{fmt.Sprintf("You have made %d attempts", len(c.attempts))}
		switch k := c.passed(); k {
		case 0:
			wants = append(wants, "None of them was a pass so far.")
		case len(c.attempts):
			wants = append(wants, "all of them were passes")
		case 1:
			wants = append(wants, "1 of them was a pass.")
		default:
			wants = append(wants, fmt.Sprintf("%d of them were passes.", k))
		}
		if c.met == 0 {
			wants = append(wants, "You have not reached the goal yet.")
			if p.Ahead == "" {
				t.Errorf("%s reads nothing of what lies ahead", c.id)
			}
		} else {
			wants = append(wants, fmt.Sprintf("You reached the goal at attempt %d, on %s", c.met, c.date[c.metAt]))
			kept := 0
			for _, pass := range c.pass[c.metAt+1:] {
				if pass {
					kept++
				}
			}
			if since := len(c.pass) - c.metAt - 1; since > 0 {
				wants = append(wants, fmt.Sprintf("Since then you passed %d of %d.", kept, since))
			}
			if p.Ahead != "" {
				t.Errorf("%s has met the goal and reads %q", c.id, p.Ahead)
			}
		}
		for _, w := range wants {
			if !strings.Contains(now, w) {
				t.Errorf("%s: %q lacks %q", c.id, now, w)
			}
		}
		if m := regexp.MustCompile(`(?i)between (\d+) and (\d+) more`).FindStringSubmatch(p.Ahead); m != nil {
			from, _ := strconv.Atoi(m[1])
			to, _ := strconv.Atoi(m[2])
			if from < 1 || to < from {
				t.Errorf("%s: %q", c.id, p.Ahead)
			}
		}
		passes := 0
		for _, row := range p.History {
			if row[len(row)-1] == "pass" {
				passes++
			}
		}
		if passes != c.passed() {
			t.Errorf("%s: %d passes in the list of attempts, want %d", c.id, passes, c.passed())
		}
	}
}
