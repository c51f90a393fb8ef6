package main

import (
	"fmt"
	"strings"
	"time"
)

// misdated are tables with dates that are a year or a month away from all others, and such as
// only look so.
func misdated() {
	const numbered = "--trainee trainee --attempt attempt --response seconds --measure time --limit 300"
	// table is a table of some trainees with six attempts each, a week apart, the first day a day
	// later for each trainee; some dates are put in the place of others, by trainee and attempt.
	table := func(people int, changed map[[2]int]string) ([]byte, string) {
		var b strings.Builder
		var truth []string
		b.WriteString("trainee,attempt,date,seconds\n")
		for p := 1; p <= people; p++ {
			for n := 1; n <= 6; n++ {
				date := time.Date(2026, 2, 2+p+7*(n-1), 0, 0, 0, 0, time.UTC).Format("2006-01-02")
				if other, ok := changed[[2]int{p, n}]; ok {
					date = other
				}
				v := 150 - 13*n + (7*p*n)%11
				fmt.Fprintf(&b, "T%d,%d,%s,%d\n", p, n, date, v)
				truth = append(truth, fmt.Sprintf("T%d %d %d done", p, n, v))
			}
		}
		return []byte(b.String()), strings.Join(truth, "; ")
	}
	// whole are the dates of all attempts of a trainee, a week apart from a day on.
	whole := func(p int, from string) map[[2]int]string {
		day, err := time.Parse("2006-01-02", from)
		check(err)
		out := map[[2]int]string{}
		for n := 1; n <= 6; n++ {
			out[[2]int{p, n}] = day.AddDate(0, 0, 7*(n-1)).Format("2006-01-02")
		}
		return out
	}
	doubt := func(name, more, code string, people int, changed map[[2]int]string) {
		data, truth := table(people, changed)
		warn(name, numbered+more, data, code, truth)
	}
	plain := func(name, more, code string, people int, changed map[[2]int]string) {
		data, truth := table(people, changed)
		without(name, numbered+more, data, code, truth)
	}
	const date = " --date date"
	doubt("dates-year-off.csv", date, "dates-year-off", 5, map[[2]int]string{{3, 3}: "2025-02-19"})
	doubt("dates-year-off-first.csv", date, "dates-year-off", 5, map[[2]int]string{{3, 1}: "2025-02-05"})
	doubt("dates-ten-years-off.csv", date, "dates-year-off", 5, map[[2]int]string{{3, 3}: "2016-02-19"})
	doubt("dates-year-off-unread.csv", "", "dates-year-off", 5, map[[2]int]string{{3, 6}: "2027-03-12"})
	doubt("dates-month-off.csv", date, "dates-month-off", 5, map[[2]int]string{{1, 3}: "2026-01-17", {1, 2}: "2026-02-10"}) // 17 February
	doubt("trainee-a-year-before.csv", date, "trainee-dates-apart", 5, whole(5, "2025-02-04"))
	doubt("trainee-a-year-before-unread.csv", "", "trainee-dates-apart", 5, whole(5, "2025-02-04"))
	doubt("trainee-ten-years-before.csv", date, "trainee-dates-apart", 5, whole(2, "2016-02-04"))

	plain("dates-all-near.csv", date, "dates-month-off", 5, nil)
	plain("last-attempt-late.csv", date, "dates-month-off", 5, map[[2]int]string{{4, 6}: "2026-04-03"})
	plain("trainee-a-month-later.csv", date, "trainee-dates-apart", 5, whole(5, "2026-04-07"))
	plain("trainee-five-months-later.csv", date, "trainee-dates-apart", 5, whole(5, "2026-08-04"))
	test := map[[2]int]string{} // everybody came again after a year
	for p := 1; p <= 5; p++ {
		test[[2]int{p, 6}] = fmt.Sprintf("2027-03-%02d", 4+p)
	}
	plain("test-after-a-year.csv", date, "dates-year-off", 5, test)
	two := map[[2]int]string{} // half of the trainees belong to the year before
	for p := 6; p <= 10; p++ {
		for at, day := range whole(p, fmt.Sprintf("2025-02-%02d", p)) {
			two[at] = day
		}
	}
	plain("two-years-of-trainees.csv", date, "trainee-dates-apart", 10, two)

	// Numbered by date, the attempt with the wrong year comes first.
	data, _ := table(5, map[[2]int]string{{3, 3}: "2025-02-19"})
	var truth []string
	for p := 1; p <= 5; p++ {
		for n := 1; n <= 6; n++ {
			at := n
			if p == 3 && n <= 3 {
				at = map[int]int{3: 1, 1: 2, 2: 3}[n]
			}
			truth = append(truth, fmt.Sprintf("T%d %d %d done", p, at, 150-13*n+(7*p*n)%11))
		}
	}
	warn("dates-year-off-numbered.csv", strings.Replace(numbered, " --attempt attempt", "", 1)+date, data, "dates-year-off", strings.Join(truth, "; "))
}
