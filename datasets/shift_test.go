package datasets

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/datasets/internal/grid"
)

// notedOf are the codes of what is said of a table of times with these columns beside trainee, attempt and s.
func notedOf(t *testing.T, beside string, rows []string, spec func(c *Single)) []string {
	t.Helper()
	path := write(t, t.TempDir(), "log.csv", "trainee,attempt,s"+beside+"\n"+strings.Join(rows, "\n")+"\n")
	c := Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: "s", Measure: Time}
	if spec != nil {
		spec(&c)
	}
	s, err := OpenTable(t.Context(), path, c)
	if err != nil {
		t.Fatal(err)
	}
	return codesOf(s.Notes)
}

// A bench on which everything takes 1.6 times as long is named; one on which it takes a tenth longer is not.
func TestTimesThatGoWithABench(t *testing.T) {
	for factor, want := range map[float64]bool{1.6: true, 1.1: false} {
		var rows []string
		for k, vs := range learned([]float64{160, 130, 120, 140}, 9) {
			for n, v := range vs {
				bench := (n + k) % 3
				if bench == 2 {
					v *= factor
				}
				rows = append(rows, fmt.Sprintf("T%d,%d,%.1f,%d", k, n+1, v, bench+1))
			}
		}
		if got := notedOf(t, ",bench", rows, nil); slices.Contains(got, "times-go-with") != want {
			t.Errorf("%g times as long: %v", factor, got)
		}
	}
}

// Minutes and seconds beside a total say which of its 16 rows was summed up wrongly; a total that is right in
// all is passed over.
func TestTotalsThatDoNotAgree(t *testing.T) {
	for wrong, want := range map[float64]bool{60: true, 0: false} {
		var rows []string
		for k, vs := range learned([]float64{160, 190}, 8) {
			for n, v := range vs {
				v = math.Round(v)
				minutes := math.Floor(v / 60)
				seconds := v - 60*minutes
				if k == 1 && n == 3 {
					v += wrong
				}
				rows = append(rows, fmt.Sprintf("T%d,%d,%g,%g,%g", k, n+1, v, minutes, seconds))
			}
		}
		if got := notedOf(t, ",min,sec", rows, nil); slices.Contains(got, "sum-differs") != want {
			t.Errorf("%g s too many: %v", wrong, got)
		}
	}
}

// In two trainees of six days and months changed places: 3 March and 4 March became days of the third in later
// months, from which 2026-05-03 goes back to 2026-03-05.
func TestDaysAndMonthsChangedPlaces(t *testing.T) {
	for swapped, want := range map[bool]bool{true: true, false: false} {
		var rows []string
		for k, vs := range learned([]float64{160, 130, 120, 140, 150, 110}, 6) {
			for n, v := range vs {
				day := fmt.Sprintf("2026-03-%02d", n+2)
				if swapped && k < 2 && n >= 3 {
					day = fmt.Sprintf("2026-%02d-03", n+2)
				}
				rows = append(rows, fmt.Sprintf("T%d,%d,%g,%s", k, n+1, v, day))
			}
		}
		got := notedOf(t, ",day", rows, func(c *Single) { c.Columns.Date = "day" })
		if slices.Contains(got, "dates-swapped") != want {
			t.Errorf("swapped %v: %v", swapped, got)
		}
	}
}

// An arm of their own for each of five trainees is no arm; two arms are.
func TestArmOfEach(t *testing.T) {
	for arms, want := range map[int]bool{5: true, 2: false} {
		var rows []string
		for k, vs := range learned([]float64{160, 130, 120, 140, 150}, 5) {
			for n, v := range vs {
				rows = append(rows, fmt.Sprintf("T%d,%d,%g,group %d", k, n+1, v, k%arms))
			}
		}
		if got := notedOf(t, ",arm", rows, func(c *Single) { c.Columns.Arm = "arm" }); slices.Contains(got, "arm-of-each") != want {
			t.Errorf("%d arms: %v", arms, got)
		}
	}
}

// 108.6 on a display of two digits is 08.6, before 93.1.
func TestDisplayOfTwoDigits(t *testing.T) {
	rows := []string{"A,1,08.6", "A,2,93.1", "A,3,88.2", "A,4,71.9", "A,5,70.3", "B,1,21.4", "B,2,04.4", "B,3,97.0", "B,4,83.0", "B,5,84.4"}
	if got := notedOf(t, "", rows, nil); !slices.Contains(got, "cut-digits") {
		t.Errorf("cut: %v", got)
	}
	for i := range rows {
		rows[i] = strings.Replace(strings.Replace(strings.Replace(rows[i], "08.6", "98.6", 1), "04.4", "99.4", 1), "21.4", "99.9", 1)
	}
	if got := notedOf(t, "", rows, nil); slices.Contains(got, "cut-digits") {
		t.Errorf("whole: %v", got)
	}
}

// The order in which works were shown, 1 to 8, is no rater's scores; those of another from 1 to 5 are.
func TestOrderAmongRaters(t *testing.T) {
	csv := "work,Ann,Ben,order\nw1,3,3,5\nw2,4,4,1\nw3,2,3,8\nw4,5,4,2\nw5,1,2,7\nw6,3,2,3\nw7,4,5,6\nw8,2,2,4\n"
	r, err := ReadRatings("t.csv", []byte(csv), RatingsFile{Wide: true, Subject: "work"})
	if err != nil {
		t.Fatal(err)
	}
	k := slices.IndexFunc(r.Notes, func(n Note) bool { return n.Code == "rater-counts" })
	if k < 0 || !strings.Contains(r.Notes[k].Text, "the scores of order are") {
		t.Errorf("%v", r.Notes)
	}
}

// Months in other languages, and years of two digits before the month.
func TestMonthsInWordsAndYearsFirst(t *testing.T) {
	r := &logReader{dateOrders: []string{""}, files: []source{{}}}
	for cell, want := range map[string]string{
		"2 mars 2026": "2026-03-02", "24 févr. 2026": "2026-02-24", "1er août 2026": "2026-08-01", "3. März 2026": "2026-03-03", "3 de mayo de 2026": "2026-05-03",
		"12 września 2026": "2026-09-12", "5 июня 2026": "2026-06-05", "7 maaliskuuta 2026": "2026-03-07", "31 février 2026": "", "3 listopada 2026": "",
	} {
		if got, ok := r.dateOf(0, cell); got != want && (ok || want != "") {
			t.Errorf("%q is read as %q, want %q", cell, got, want)
		}
	}
	for want, texts := range map[string][]string{
		"year-first": {"26-03-04", "26-03-18", "26-04-01", "26-03-25"}, "day-first": {"04-03-26", "18-03-26", "25-03-26", "01-04-26"}, "": {"26-03-04", "27-04-05", "28-05-04"},
	} {
		if got := orderOf(texts); got != want && want != "" || want == "" && got == yearFirst {
			t.Errorf("%v: %q, want %q", texts, got, want)
		}
	}
	r.dateOrders[0] = yearFirst
	if got, _ := r.dateOf(0, "26-03-04"); got != "2026-03-04" {
		t.Errorf("26-03-04 with the year first is %q", got)
	}
}

// 136.493 is near a limit of 300 s and 136493 is not; without a limit, or where the name says milliseconds, it is asked.
func TestDecimalMarkByTheLimit(t *testing.T) {
	rows := []string{"A;1;136.493", "A;2;121.004", "A;3;98.450", "A;4;101.233", "B;1;180.023", "B;2;144.877", "B;3;120.650", "B;4;116.291"}
	path := write(t, t.TempDir(), "log.csv", "trainee;attempt;s\n"+strings.Join(rows, "\n")+"\n") // as where the comma is the mark
	open := func(limit float64) (*Study, error) {
		return OpenTable(t.Context(), path, Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: "s", Measure: Time, Limit: limit})
	}
	s, err := open(300)
	if err != nil {
		t.Fatal(err)
	}
	if v := s.Attempts.Values(s.Attempts.Attempts[0])[0]; v != 136.493 || !slices.ContainsFunc(s.Notes, func(n Note) bool { return n.Code == "decimal-from-limit" }) {
		t.Errorf("read %v, notes %v", v, s.Notes)
	}
	if _, err := open(0); err == nil || !strings.Contains(err.Error(), "--decimal point makes it") {
		t.Errorf("without a limit: %v", err)
	}
}

// A device's table of text with the ending of a workbook is read; what a program leaves beside an open file is named.
func TestTextNamedWorkbook(t *testing.T) {
	rows := "trainee\tattempt\ts\nA\t1\t120.5\nA\t2\t100.5\n"
	spec := Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: "s", Measure: Time}
	if s, err := OpenTable(t.Context(), write(t, t.TempDir(), "device.xls", rows), spec); err != nil || len(s.Attempts.Attempts) != 2 {
		t.Errorf("%v", err)
	}
	if _, err := OpenTable(t.Context(), write(t, t.TempDir(), "~$log.xlsx", "x"), spec); err == nil || !strings.Contains(err.Error(), "beside a file that is open") {
		t.Errorf("%v", err)
	}
}

// Words for an outcome that can mean one thing, and a measure that is the best of several by its name.
func TestPlainOutcomesAndBestOfSeveral(t *testing.T) {
	path := write(t, t.TempDir(), "log.csv", "trainee,attempt,best_of_3,how\nA,1,120.5,Completed\nA,2,300,timed out\nA,3,110,done\n")
	s, err := OpenTable(t.Context(), path, Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt", Outcome: "how"}, Response: "best_of_3", Measure: Time, Limit: 300})
	if err != nil {
		t.Fatal(err)
	}
	var got []Outcome
	for _, a := range s.Attempts.Attempts {
		got = append(got, a.Outcome)
	}
	if !slices.Equal(got, []Outcome{Done, Timeout, Done}) {
		t.Errorf("outcomes %v", got)
	}
	if !slices.ContainsFunc(s.Notes, func(n Note) bool { return n.Code == "measure-is-best" }) {
		t.Errorf("notes %v", s.Notes)
	}
}

// Every time that one of three hands took is a multiple of ten, and one in ten of the others'.
func TestRoundedByOneHand(t *testing.T) {
	for rounds, want := range map[bool]bool{true: true, false: false} {
		var rows []string
		for k, vs := range learned([]float64{160, 130, 120, 140}, 9) {
			for n, v := range vs {
				hand := []string{"Finke", "Wendt", "Ossel"}[(n+k)%3]
				if rounds && hand == "Ossel" {
					v = 10 * math.Round(v/10)
				}
				rows = append(rows, fmt.Sprintf("T%d,%d,%g,%s", k, n+1, v, hand))
			}
		}
		if got := notedOf(t, ",watch", rows, nil); slices.Contains(got, "rounded-apart") != want {
			t.Errorf("rounds %v: %v", rounds, got)
		}
	}
}

// In two of 48 rows a trainee and an instructor changed columns.
func TestCodesBeside(t *testing.T) {
	for swapped, want := range map[bool]bool{true: true, false: false} {
		var rows []string
		for k, vs := range learned([]float64{160, 130, 120, 140, 150, 110}, 8) {
			for n, v := range vs {
				who, by := fmt.Sprintf("Trainee%c", 'A'+k), []string{"Harjula", "Salmio"}[n%2]
				if swapped && k == 2 && (n == 3 || n == 4) {
					who, by = by, who
				}
				rows = append(rows, fmt.Sprintf("%s,%d,%g,%s", who, n+1, v, by))
			}
		}
		if got := notedOf(t, ",instructor", rows, nil); slices.Contains(got, "codes-beside") != want {
			t.Errorf("swapped %v: %v", swapped, got)
		}
	}
}

// Times that fall are a score that gets worse where more is said to be better; by their name seconds it takes a
// weaker trend than without. Moments from which and to which an attempt lasted are no second watch.
func TestScoreNamedSecondsAndMomentsBeside(t *testing.T) {
	rows := []string{"A,1,151.9", "A,2,140.5", "A,3,134.8", "A,4,137.9", "B,1,172.2", "B,2,154.7", "B,3,155.0", "B,4,141.4", "C,1,121.5", "C,2,120.5", "C,3,119.7", "C,4,112.5"}
	for name, want := range map[string]bool{"sekuntia": true, "marks": false} {
		path := write(t, t.TempDir(), "log.csv", "trainee,attempt,"+name+"\n"+strings.Join(rows, "\n")+"\n")
		s, err := OpenTable(t.Context(), path, Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: name, Measure: Score, Better: "higher"})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.Contains(codesOf(s.Notes), "gets-worse"); got != want { // Kendall's S is -4, -4 and -6 with variance 3*4*3*13/18 = 26 together: z = 2.7
			t.Errorf("%s: said %v, want %v", name, got, want)
		}
	}
	var beside []string
	for k, r := range rows {
		v := grid.Number(r[4:])
		beside = append(beside, fmt.Sprintf("%s,%d,%.1f", r, k+5, v+float64(k+5)))
	}
	if got := notedOf(t, ",from,to", beside, nil); slices.Contains(got, "measure-again") {
		t.Errorf("from and to: %v", got)
	}
}
