package datasets

import (
	"fmt"
	"slices"
	"time"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// What sets dates apart, in days.
const (
	yearsGap  = 120 // without an attempt of anybody, before another year is thought of
	yearApart = 270 // between the first days of a trainee and of everybody else
	monthsGap = 10  // before another month is
	nearBy    = 14  // around the other attempts of a trainee
)

// A dating is the day of every attempt of a log, counted from the first of all.
type dating struct {
	log    *Log
	column string // from which the days are, in words
	first  time.Time
	days   []int32 // of each attempt; below 0 for none
	counts []int32 // of each day, how many attempts
}

// datingOf counts the days of attempts. They are given by the dates that there are, each in minutes
// (0 for none), of which a function names that of an attempt.
func datingOf(log *Log, column string, minutes []int64, of func(i int) int32) dating {
	d := dating{log: log, column: column, days: make([]int32, len(log.Attempts))}
	least, most := int32(1<<30), int32(-1)
	for i := range log.Attempts {
		m := minutes[of(i)]
		if d.days[i] = -1; m != 0 {
			n := dayAt(m)
			d.days[i], least, most = n, min(least, n), max(most, n)
		}
	}
	if most < 0 {
		return d
	}
	d.first = time.Unix(int64(least-dayOfYear0)*minutesInDay*60, 0).UTC()
	d.counts = make([]int32, most-least+1)
	for i, n := range d.days {
		if n >= 0 {
			d.days[i] = n - least
			d.counts[n-least]++
		}
	}
	return d
}

// dayOfYear0 is more than the days from the year 0 to 1970, so that no day is below 0.
const dayOfYear0 = 800000

// dayAt is the day in which a minute falls, both counted on.
func dayAt(minute int64) int32 { return int32((minute + dayOfYear0*minutesInDay) / minutesInDay) }

// date is the day with a number, as text.
func (d dating) date(n int32) string { return d.first.AddDate(0, 0, int(n)).Format(grid.DateForm) }

// moved is a day moved by some years and months; not ok where that month has no such day.
func (d dating) moved(n int32, years, months int) (int32, bool) {
	from := d.first.AddDate(0, 0, int(n))
	to := from.AddDate(years, months, 0)
	return int32((to.Unix() - d.first.Unix()) / (minutesInDay * 60)), to.Day() == from.Day()
}

// main is the time in which most attempts were made, with no longer gap than some days, and how
// many were.
func (d dating) main(gap int) (from, to int32, n int) {
	start, last, sum := int32(0), int32(0), 0
	for day, count := range d.counts {
		if count == 0 {
			continue
		}
		if int32(day)-last > int32(gap) {
			start, sum = int32(day), 0
		}
		if last, sum = int32(day), sum+int(count); sum > n {
			from, to, n = start, last, sum
		}
	}
	return from, to, n
}

// misdated notes attempts and trainees whose dates are far from all others.
func (r *logReader) misdated(d dating) {
	all := 0
	for _, n := range d.counts {
		all += int(n)
	}
	if len(d.counts) <= monthsGap || all < 8 || len(r.placed.trainees) < 3 {
		return
	}
	if from, to, n := d.main(yearsGap); n < all && 4*n >= 3*all {
		r.yearsOff(d, from, to)
	}
	from, to, n := d.main(monthsGap)
	if n < all && n >= all-2 {
		r.monthsOff(d, from, to)
	}
	if n < all && 2*n > all {
		r.daysSwapped(d, from, to)
	}
}

// daysSwapped notes attempts outside the time of most others of which every one falls into it when day and
// month change places.
func (r *logReader) daysSwapped(d dating, from, to int32) {
	_, outside := r.ownDays(d, from, to)
	for _, i := range outside {
		at := d.first.AddDate(0, 0, int(d.days[i]))
		if at.Day() > 12 || at.Day() == int(at.Month()) {
			return
		}
		swapped := time.Date(at.Year(), time.Month(at.Day()), int(at.Month()), 0, 0, 0, 0, time.UTC)
		if n := int32((swapped.Unix() - d.first.Unix()) / (minutesInDay * 60)); n < from || n > to {
			return
		}
	}
	if len(outside) >= 2 {
		r.note("dates-swapped", fmt.Sprintf("%s: by %s %s, and among them when day and month change places; hold them against the source", r.file, d.column, r.datedSo(d, outside)))
	}
}

// ownDays are the days within a time on which every trainee practised, where any is outside it,
// and the attempts that are.
func (r *logReader) ownDays(d dating, from, to int32) (own map[int32][]int32, outside []int) {
	own = map[int32][]int32{}
	for i, n := range d.days {
		if n >= 0 && (n < from || n > to) {
			own[r.placed.trainee[r.placed.of[i]]] = nil
			outside = append(outside, i)
		}
	}
	for i, n := range d.days {
		who := r.placed.trainee[r.placed.of[i]]
		if days, asked := own[who]; asked && n >= from && n <= to {
			own[who] = append(days, n)
		}
	}
	for _, days := range own {
		slices.Sort(days)
	}
	return own, outside
}

// yearsOff notes attempts outside the time of all others that another year would bring near the
// other attempts of their trainee, and trainees of whom all attempts are outside it.
func (r *logReader) yearsOff(d dating, from, to int32) {
	own, outside := r.ownDays(d, from, to)
	var off []int
	span := map[int32][2]int32{}
	var apart []int32
	for _, i := range outside {
		who, n := r.placed.trainee[r.placed.of[i]], d.days[i]
		days := own[who]
		if len(days) == 0 {
			s, seen := span[who]
			if !seen {
				apart, s = append(apart, who), [2]int32{n, n}
			}
			span[who] = [2]int32{min(s[0], n), max(s[1], n)}
			continue
		}
		for _, years := range []int{-10, -1, 1, 10} {
			if to, ok := d.moved(n, years, 0); ok && to >= days[0]-nearBy && to <= days[len(days)-1]+nearBy {
				off = append(off, i)
				break
			}
		}
	}
	few := max(1, len(r.placed.trainees)/10)
	if people := r.peopleOf(off); len(off) > 0 && people <= few {
		r.note("dates-year-off", fmt.Sprintf("%s: by %s %s, and with one or ten years more or less near the other attempts of the same trainee; the year may be wrong: hold it against the source", r.file, d.column, r.datedSo(d, off)))
	}
	apart = slices.DeleteFunc(apart, func(who int32) bool { return max(span[who][0]-from, from-span[who][0]) < yearApart })
	if len(apart) > 0 && len(apart) <= few && len(r.placed.trainees) >= 4 {
		var said []string
		for _, who := range apart {
			said = append(said, fmt.Sprintf("%s practised from %s to %s", r.placed.trainees[who], d.date(span[who][0]), d.date(span[who][1])))
		}
		r.note("trainee-dates-apart", fmt.Sprintf("%s: by %s %s, and everybody else from %s to %s; a year may be wrong, or they are of another group: hold it against the source", r.file, d.column, problem.List(said, mostNamed), d.date(from), d.date(to)))
	}
}

// peopleOf is how many trainees made some attempts.
func (r *logReader) peopleOf(attempts []int) int {
	who := map[int32]bool{}
	for _, i := range attempts {
		who[r.placed.trainee[r.placed.of[i]]] = true
	}
	return len(who)
}

// datedSo says of some attempts when they were made.
func (r *logReader) datedSo(d dating, attempts []int) string {
	var said []string
	for _, i := range attempts {
		a := d.log.Attempts[i]
		said = append(said, fmt.Sprintf("attempt %g of %s is dated %s", a.Number, a.Trainee, d.date(d.days[i])))
	}
	return problem.List(said, mostNamed) + ", far from all others"
}

// monthsOff notes attempts outside the time of all others that another month would bring into a
// gap among the other attempts of their trainee.
func (r *logReader) monthsOff(d dating, from, to int32) {
	own, outside := r.ownDays(d, from, to)
	var off []int
	for _, i := range outside {
		days := slices.Compact(own[r.placed.trainee[r.placed.of[i]]])
		for _, months := range []int{-1, 1} {
			if to, ok := d.moved(d.days[i], 0, months); ok && inGap(days, to) {
				off = append(off, i)
			}
		}
	}
	if len(off) > 0 {
		r.note("dates-month-off", fmt.Sprintf("%s: by %s %s, and in another month it would fill a gap among the other attempts of the same trainee; the month may be wrong: hold it against the source", r.file, d.column, r.datedSo(d, off)))
	}
}

// inGap reports whether a day falls between two days that are much farther apart than others are.
func inGap(days []int32, day int32) bool {
	at, taken := slices.BinarySearch(days, day)
	if taken || at == 0 || at == len(days) || len(days) < 4 {
		return false
	}
	var gaps []int32
	for k := 1; k < len(days); k++ {
		gaps = append(gaps, days[k]-days[k-1])
	}
	around := gaps[at-1]
	slices.Sort(gaps)
	return 5*around >= 9*gaps[(len(gaps)-1)/2]
}
