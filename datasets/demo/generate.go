package demo

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"
)

// The truth behind the demo study. Logs are natural.
const (
	seed      = 20260112
	limit     = 180.0 // seconds
	startMed  = 172.0 // median starting level, seconds, both arms
	startSD   = 0.20  // of its log between trainees
	plateauSD = 0.12
	rateSD    = 0.28
	noiseMed  = 0.20 // median log-SD of single attempts
	noiseSD   = 0.18 // of its log between trainees
	restart   = 0.10 // first attempt of a later session is slower by this on the log scale
)

// An arm of the study.
type curriculum struct {
	name       string
	plateau    float64 // median, seconds
	rate       float64 // median, per attempt
	perSession int
	every      int // days from one session to the next
}

var curricula = []curriculum{
	{"spaced", 44, 0.165, 6, 7},
	{"massed", 47, 0.115, 14, 1},
}

// firstDay is the day of everyone's first session.
var firstDay = time.Date(2026, time.February, 2, 0, 0, 0, 0, time.UTC)

// day is the date of a session, from 1.
func (c curriculum) day(session int) string {
	return firstDay.AddDate(0, 0, (session-1)*c.every).Format(time.DateOnly)
}

// generate makes every file of the study from the fixed seed.
func generate() map[string][]byte {
	r := rand.New(rand.NewPCG(seed, 1))
	out := map[string][]byte{}
	out["attempts.csv"] = attempts(r)
	experts, standard := experts(r)
	out["experts.csv"] = experts
	out["ratings.csv"] = ratings(r)
	out["study.yaml"] = []byte(fmt.Sprintf(studyText, standard))
	out["truth.md"] = truth(standard)
	return out
}

func attempts(r *rand.Rand) []byte {
	var b bytes.Buffer
	b.WriteString("trainee,arm,task,session,date,attempt,seconds,wall_punctures,redirections,outcome\n")
	arms := make([]int, 36)
	for i := range arms {
		arms[i] = i % 2
	}
	r.Shuffle(len(arms), func(i, j int) { arms[i], arms[j] = arms[j], arms[i] })
	for i, a := range arms {
		c := curricula[a]
		plateau := c.plateau * math.Exp(plateauSD*r.NormFloat64())
		start := startMed * math.Exp(startSD*r.NormFloat64())
		rate := c.rate * math.Exp(rateSD*r.NormFloat64())
		noise := noiseMed * math.Exp(noiseSD*r.NormFloat64())
		n := 25 + r.IntN(16)
		for k := 1; k <= n; k++ {
			trainee := fmt.Sprintf("T%02d", i+1)
			session := (k-1)/c.perSession + 1
			log := math.Log(plateau + (start-plateau)*math.Exp(-rate*float64(k-1)))
			if session > 1 && (k-1)%c.perSession == 0 {
				log += restart
			}
			seconds := math.Exp(log + noise*r.NormFloat64())
			progress := math.Exp(-rate * float64(k-1))
			punctures := poisson(r, 0.15+1.9*progress)
			redirections := poisson(r, 0.6+2.6*progress)
			outcome := "done"
			switch u := r.Float64(); {
			case u < 0.010:
				outcome = "void"
			case u < 0.010+0.012+0.09*progress:
				outcome = "failed"
			case seconds >= limit:
				outcome, seconds = "timeout", limit
			}
			cells := fmt.Sprintf("%.1f,%d,%d", math.Min(seconds, limit), punctures, redirections)
			if outcome == "void" {
				cells = ",,"
			}
			fmt.Fprintf(&b, "%s,%s,cannulation,%d,%s,%d,%s,%s\n", trainee, c.name, session, c.day(session), k, cells, outcome)
		}
	}
	return b.Bytes()
}

// experts makes ten experts' runs, and the standard set from them: the mean of
// their own means over runs two to four plus one standard deviation, to whole
// seconds.
func experts(r *rand.Rand) ([]byte, float64) {
	var b bytes.Buffer
	b.WriteString("expert,run,seconds,wall_punctures,redirections,outcome\n")
	var means []float64
	for i := range 10 {
		level := 50 * math.Exp(0.16*r.NormFloat64())
		sum := 0.0
		for run := 1; run <= 4; run++ {
			familiar := 0.0
			if run == 1 {
				familiar = 0.18
			}
			s := math.Round(10*level*math.Exp(familiar+0.12*r.NormFloat64())) / 10
			if run > 1 {
				sum += s / 3
			}
			fmt.Fprintf(&b, "E%02d,%d,%.1f,%d,%d,done\n", i+1, run, s, poisson(r, 0.1), poisson(r, 0.5))
		}
		means = append(means, sum)
	}
	mean, ss := 0.0, 0.0
	for _, m := range means {
		mean += m / 10
	}
	for _, m := range means {
		ss += (m - mean) * (m - mean)
	}
	return b.Bytes(), math.Round(mean + math.Sqrt(ss/9))
}

// ratings makes three examiners' ratings of forty recorded performances.
func ratings(r *rand.Rand) []byte {
	var b bytes.Buffer
	b.WriteString("performance,examiner,passed,checklist,global\n")
	examiners := []struct {
		name             string
		severity, spread float64
	}{{"Ash", 0, 6}, {"Birch", -1.5, 7}, {"Cedar", -7, 6}}
	for i := range 40 {
		quality := 66 + 13*r.NormFloat64()
		for _, e := range examiners {
			seen := quality + e.severity + e.spread*r.NormFloat64()
			global := math.Round(math.Min(math.Max(seen, 0), 100))
			checklist := math.Min(math.Max(math.Round(1+(seen-30)/15+0.3*r.NormFloat64()), 1), 5)
			passed := "no"
			if seen+3*r.NormFloat64() >= 60 {
				passed = "yes"
			}
			cells := []string{passed, fmt.Sprint(checklist), fmt.Sprint(global)}
			for j := range cells {
				if r.Float64() < 0.03 {
					cells[j] = ""
				}
			}
			fmt.Fprintf(&b, "P%02d,%s,%s\n", i+1, e.name, strings.Join(cells, ","))
		}
	}
	return b.Bytes()
}

func poisson(r *rand.Rand, mean float64) int {
	k, p, bar := 0, r.Float64(), math.Exp(-mean)
	for p > bar {
		k++
		p *= r.Float64()
	}
	return k
}

const studyText = `# An invented study: trainees practise ultrasound-guided vein cannulation on a
# gel phantom, in two curricula. Nothing here was observed.
title: Vein cannulation on a gel phantom, spaced against massed practice
purpose: research
decides: the head of the skills lab
seed: 20260112
arms: [spaced, massed]
attempts:
  file: attempts.csv
experts:
  file: experts.csv
ratings:
  file: ratings.csv
  subject: performance
  rater: examiner
  items:
    - {name: passed, scale: nominal, levels: ["no", "yes"]}
    - {name: checklist, scale: ordinal}
    - {name: global, scale: interval}
tasks:
  - name: cannulation
    measure: time
    column: seconds
    unit: s
    better: lower
    limit: 180
    counts: [wall_punctures, redirections]
    standard:
      value: %g
      method: mean of ten experts' own means (runs two to four) plus one standard deviation, to whole seconds
      decided_by: the lab's standards group
      decided_on: 2026-01-12
      data: experts.csv
      computed: {method: expert-mean, sds: 1, skip_runs: 1}
    at_most: {wall_punctures: 1}
    rule: 2 in a row
    horizon: 100
    monitor: {acceptable: 0.2, unacceptable: 0.4}
    costs:
      unit: credits
      lab_minutes: 12
      examiner_minutes: 4
      consumables: 3
      lab_hour_price: 40
      examiner_hour_price: 60
      per_trainee: 25
    scoring:
      version: "2026-1"
      start: 300
      time: seconds
      per_second: 1
      penalty: {wall_punctures: 20, redirections: 5}
      floor: 0
      cap: 300
`

func truth(standard float64) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# The truth behind the demo study\n\nInvented by generate.go with seed %d. Median of log-normal populations, with the standard\ndeviation of the logarithm between trainees in brackets.\n\n", seed)
	b.WriteString("| | spaced | massed |\n|---|---|---|\n")
	s, m := curricula[0], curricula[1]
	fmt.Fprintf(&b, "| starting level, s | %g (%g) | %g (%g) |\n", startMed, startSD, startMed, startSD)
	fmt.Fprintf(&b, "| plateau, s | %g (%g) | %g (%g) |\n", s.plateau, plateauSD, m.plateau, plateauSD)
	fmt.Fprintf(&b, "| exponential rate per attempt | %g (%g) | %g (%g) |\n", s.rate, rateSD, m.rate, rateSD)
	fmt.Fprintf(&b, "| log-SD of single attempts | %g (%g) | %g (%g) |\n", noiseMed, noiseSD, noiseMed, noiseSD)
	fmt.Fprintf(&b, "| attempts a session | %d | %d |\n", s.perSession, m.perSession)
	fmt.Fprintf(&b, "| days from session to session, from %s | %d | %d |\n", firstDay.Format(time.DateOnly), s.every, m.every)
	cross := func(c curriculum) float64 { return 1 + math.Log((startMed-c.plateau)/(standard-c.plateau))/c.rate }
	fmt.Fprintf(&b, "| attempt at which the median trainee's curve meets %g s | %.1f | %.1f |\n\n", standard, cross(s), cross(m))
	fmt.Fprintf(&b, "The first attempt of every later session is slower by %g on the log scale. Attempts of %g s and more\nare timeouts. A hard fail has chance 0.012 + 0.09·exp(−rate·(attempt − 1)), a void attempt 0.010.\nExaminer severities on the 0-100 scale: Ash 0, Birch −1.5, Cedar −7.\n", restart, limit)
	return b.Bytes()
}
