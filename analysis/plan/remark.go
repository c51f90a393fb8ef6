package plan

import (
	"fmt"
	"strings"

	"tyro/analysis"
)

func (a *Answer) warn(code, text string) {
	a.Warnings = append(a.Warnings, analysis.Warning{Code: code, Text: text})
}

// remark turns what a reader must know into warnings.
func (a *Answer) remark() {
	for _, r := range a.Rows {
		size := fmt.Sprintf("%d trainees an arm and %d attempts", r.Trainees, r.Attempts)
		if a.Design.Course == nil {
			size = fmt.Sprintf("%d an arm", r.Trainees)
		}
		if a.Design.Ratings != nil {
			size = fmt.Sprintf("%d subjects", r.Trainees)
		}
		switch {
		case r.Refused:
			a.warn("power-refused", fmt.Sprintf("%s: %d of %d studies failed (%s), more than %g %%, so no power is given; it lies between %.3g and %.3g, depending on what the failed ones would have told; %s",
				size, r.Failed, r.Studies, StagesText(r.At), 100*MaxFailed, r.Least, r.Most, a.wayOut(r)))
		case r.Failed > 0:
			a.warn("studies-failed", fmt.Sprintf("%s: %d of %d studies failed (%s) and count as ones that told nothing", size, r.Failed, r.Studies, StagesText(r.At)))
		}
		if r.Studies < 200 && !r.Refused {
			a.warn("few-studies", fmt.Sprintf("%s: %d simulated studies leave the power open by %.2g on either side; ask for more with --replicates", size, r.Studies, (r.Upper-r.Lower)/2))
		}
	}
	for _, s := range a.Smallest {
		if !s.Found {
			text := fmt.Sprintf("no number of trainees was found for a power of %g: %s", s.Target, s.Why)
			if a.Design.Course != nil {
				text = fmt.Sprintf("%d attempts: %s", s.Attempts, text)
			}
			a.warn("no-smallest", text)
		}
	}
	if c := a.Design.Course; c != nil && c.DropOut > 0 {
		a.warn("drop-out", "trainees who leave are taken to be like the others; if the slow ones leave, the study will see less than this says")
	}
}

// wayOut says what may help against the failures.
func (a *Answer) wayOut(r Row) string {
	most, at := 0, Stage("")
	for _, s := range Stages() {
		if r.At[s] > most {
			most, at = r.At[s], s
		}
	}
	switch at {
	case StageFit:
		return "more trainees or attempts, or fewer parameters that differ between trainees, make fits hold"
	case StageContrast:
		return "more attempts, or a measure that fewer attempts show, such as level in the place of plateau, will do"
	case StageInterval:
		return "there is no spread to judge by, or too few trainees or clusters in an arm"
	}
	return "nearly nothing is seen of such trainees: look at drop-out, limit and effect"
}

// StagesText counts failed studies by stage, in words.
func StagesText(at map[Stage]int) string {
	words := map[Stage]string{
		StageAttempts: "without usable attempts", StageFit: "not fitted together", StageContrast: "without the number asked about", StageInterval: "without an interval",
	}
	var parts []string
	for _, s := range Stages() {
		if n := at[s]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, words[s]))
		}
	}
	return strings.Join(parts, ", ")
}
