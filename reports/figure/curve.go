package figure

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/fit"
	"tyro/analysis/study"
	"tyro/reports"
)

// maxFigures bounds the figures written for one command.
const maxFigures = 200

// picturesOfCurves are every trainee's curve, and a single series' profiles.
func picturesOfCurves(d *reports.Curves) []Picture {
	frame := ExtentOf(d.Study)
	names := curveNames(d.Study)
	var out []Picture
	for i, t := range d.Study.Trainees {
		if i == maxFigures {
			break
		}
		if !d.ShowsTrainee(t.ID) {
			continue
		}
		name := "curve-" + names[i]
		if t.ID == "" {
			name = "curve"
		}
		out = append(out, Trainee(d.Study, t, d.Answer.Each[i], frame, 400, 260).named(name, ""))
	}
	for _, profile := range d.Answer.Profiles {
		out = append(out, profilePicture(profile, 300, 220))
	}
	return out
}

// curveNames are parts of file names of all trainees.
func curveNames(st *study.Study) []string {
	var ids []string
	for _, t := range st.Trainees {
		ids = append(ids, t.ID)
	}
	return fileNames(ids)
}

// profilePicture draws how much worse the fit gets as a parameter moves; dashed, the
// limits between which its interval lies.
func profilePicture(profile fit.Profile, width, height float64) Picture {
	name := profile.Name
	p := newPlot("Profile of the "+name, name, "signed root of the deviance", 8)
	var xy plotter.XYs
	top := profile.Limit
	for i, v := range profile.Values {
		xy = append(xy, plotter.XY{X: v, Y: profile.Roots[i]})
		top = math.Max(top, math.Abs(profile.Roots[i]))
	}
	from, to := xy[0].X, xy[len(xy)-1].X
	for _, y := range []float64{-profile.Limit, 0, profile.Limit} {
		p.Add(line(plotter.XYs{{X: from, Y: y}, {X: to, Y: y}}, faint, 0.6, vg.Points(3), vg.Points(2)))
	}
	p.Add(line(xy, armColor(0), 1.4), points(plotter.XYs{{X: profile.Best, Y: 0}}, ink, 2, draw.CircleGlyph{}))
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = from, to, -1.1*top, 1.1*top
	what := fmt.Sprintf("Profile likelihood of the %s: a straight line where the usual interval is right, bent where it is not", name)
	return Picture{Name: "curve-profile-" + profile.Name, Legend: what, Width: width, Height: height, Draw: func(dc draw.Canvas) { drawn(dc, p) }}
}
