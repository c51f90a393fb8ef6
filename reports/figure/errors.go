package figure

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// PaceAndErrors show the measure and the error counts side by side, attempt by
// attempt, arm by arm: speed bought with errors shows here.
func PaceAndErrors(st *study.Study, width, height float64) []Picture {
	titles := []string{"median " + ResponseLabel(st.Task)}
	for _, name := range st.Task.Counts {
		titles = append(titles, "mean "+name)
	}
	var out []Picture
	for k, title := range titles {
		p := newPlot(Spoken(title), "attempt", "", 8)
		top, finding := 0.0, Spoken(title)
		for j, course := range st.Courses(k - 1) {
			var xy plotter.XYs
			for n, v := range course.Value {
				top = math.Max(top, v)
				xy = append(xy, plotter.XY{X: float64(n + 1), Y: v})
			}
			if len(xy) > 1 {
				l := line(xy, armColor(j), 1.4, armDashes(j)...)
				p.Add(l)
				p.Legend.Add(study.ArmName(course.Arm), l)
				finding += fmt.Sprintf("; %s, from %s at attempt 1 to %s at attempt %d", study.GroupName(course.Arm), reports.Significant(xy[0].Y, 3), reports.Significant(xy[len(xy)-1].Y, 3), len(xy))
			}
		}
		legendRight(p, 0.62*width, true)
		p.Y.Min, p.Y.Max, p.X.Min = 0, 1.06*top+1e-9, 0
		out = append(out, Picture{Legend: Spoken(title) + " by attempt and arm", Finding: reports.Capital(finding) + ".", Width: width, Height: height, Draw: func(dc draw.Canvas) { drawnAs(dc, p, "attempt", Spoken(title)) }})
	}
	return out
}

// CountsTitle names the error counts for the report.
func CountsTitle(t practice.Task) string {
	return reports.Capital(ResponseLabel(t)) + " and errors by attempt"
}
