package figure

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// frameOfStudy is the frame that holds every trainee's measured attempts and the
// standard.
func frameOfStudy(s *study.Study) frameOf {
	f := frameOf{maxX: 2, minY: math.Inf(1), maxY: math.Inf(-1)}
	for _, t := range s.Trainees {
		for _, a := range t.Attempts {
			if a.Measured() {
				f.maxX = math.Max(f.maxX, a.Number)
				f.minY, f.maxY = math.Min(f.minY, a.Response), math.Max(f.maxY, a.Response)
			}
		}
	}
	if level := s.Question.Standard; level.Set() {
		f.minY, f.maxY = math.Min(f.minY, level.Value), math.Max(f.maxY, level.Value)
	}
	if !(f.maxY > f.minY) {
		f.minY, f.maxY = f.minY-1, f.maxY+1
	}
	if s.Task.Measure != practice.Score {
		f.minY = math.Min(0, f.minY)
	}
	f.maxY += 0.04 * (f.maxY - f.minY)
	return f
}

// taskLabel names the axis of responses.
func taskLabel(t practice.Task) string {
	if t.Unit == "" {
		return t.Response
	}
	return t.Response + " (" + t.Unit + ")"
}

// addPractice draws exact attempts as dots, timeouts as open triangles at the limit
// and hard fails as crosses along the bottom.
func addPractice(p *plot.Plot, t practice.Trainee, frame frameOf) {
	var done, timeouts, hard plotter.XYs
	for _, a := range t.Attempts {
		xy := plotter.XY{X: a.Number, Y: a.Response}
		switch {
		case a.Outcome == practice.Failed:
			xy.Y = frame.minY + 0.03*(frame.maxY-frame.minY)
			hard = append(hard, xy)
		case !a.Measured():
		case a.Censored:
			timeouts = append(timeouts, xy)
		default:
			done = append(done, xy)
		}
	}
	if done != nil {
		p.Add(points(done, ink, 1.0, draw.CircleGlyph{}))
	}
	if timeouts != nil {
		p.Add(points(timeouts, ink, 1.8, draw.TriangleGlyph{}))
	}
	if hard != nil {
		p.Add(points(hard, alarm, 1.7, draw.CrossGlyph{}))
	}
}
