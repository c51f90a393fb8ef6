package reports

import (
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"
)

// paceAndErrorsPlots show the measure and the error counts side by side,
// attempt by attempt, arm by arm: speed bought with errors shows here.
func paceAndErrorsPlots(in *Input, width, height float64) ([]string, error) {
	panels := []struct {
		title string
		of    func(t Trainee, n float64) (float64, bool)
		mean  bool
	}{{"median " + responseLabel(in), responseAt, false}}
	for k, name := range in.Task.Counts {
		panels = append(panels, struct {
			title string
			of    func(t Trainee, n float64) (float64, bool)
			mean  bool
		}{"mean " + name, func(t Trainee, n float64) (float64, bool) { return errorsAt(t, n, k) }, true})
	}
	var out []string
	for _, panel := range panels {
		p := newPlot(panel.title, "attempt", "", 8)
		top := 0.0
		for k, arm := range in.arms() {
			var xy plotter.XYs
			for n := 1.0; ; n++ {
				var vs []float64
				for _, i := range in.members(arm) {
					if v, ok := panel.of(in.Trainees[i], n); ok {
						vs = append(vs, v)
					}
				}
				if len(vs) < 3 {
					break
				}
				v := middle(vs, panel.mean)
				top = math.Max(top, v)
				xy = append(xy, plotter.XY{X: n, Y: v})
			}
			if len(xy) > 1 {
				l := line(xy, armColor(k), 1.4)
				p.Add(l)
				p.Legend.Add(armName(arm), l)
			}
		}
		legendRight(p, 0.62*width, true)
		p.Y.Min, p.Y.Max, p.X.Min = 0, 1.06*top+1e-9, 0
		s, err := svg(width, height, panel.title+" by attempt and arm", func(dc draw.Canvas) { p.Draw(dc) })
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

func middle(vs []float64, mean bool) float64 {
	if mean {
		sum := 0.0
		for _, v := range vs {
			sum += v
		}
		return sum / float64(len(vs))
	}
	slices.Sort(vs)
	m := vs[len(vs)/2]
	if len(vs)%2 == 0 {
		m = (m + vs[len(vs)/2-1]) / 2
	}
	return m
}

// responseAt is the trainee's response at an attempt; a timeout stands at the
// limit.
func responseAt(t Trainee, n float64) (float64, bool) {
	for i, x := range t.Series.Attempt {
		if x == n {
			return t.Series.Response[i], true
		}
	}
	return 0, false
}

func errorsAt(t Trainee, n float64, k int) (float64, bool) {
	for i, x := range t.Counted {
		if x == n && !math.IsNaN(t.Errors[i][k]) {
			return t.Errors[i][k], true
		}
	}
	return 0, false
}

// countsTitle names the error counts for the report.
func countsTitle(in *Input) string {
	label := responseLabel(in)
	return capital(label) + " and errors by attempt"
}
