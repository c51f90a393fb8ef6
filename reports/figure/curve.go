package figure

import (
	"bytes"
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/fit"
	"tyro/reports"
)

// maxFigures bounds the figures written for one command.
const maxFigures = 200

// curveFiles draws every trainee's curve, and for a single series the profile of each
// parameter, as SVG files; bands.csv has the curves' bands in numbers.
func curveFiles(d *reports.Curves) (map[string][]byte, error) {
	files := map[string][]byte{}
	var table bytes.Buffer
	if err := d.Bands().WriteCSV(&table); err != nil {
		return nil, err
	}
	files["bands.csv"] = table.Bytes()
	frame := ExtentOf(d.Study)
	var ids []string
	for _, t := range d.Study.Trainees {
		ids = append(ids, t.ID)
	}
	names := fileNames(ids)
	for i, t := range d.Study.Trainees {
		if i == maxFigures {
			break
		}
		if !d.ShowsTrainee(t.ID) {
			continue
		}
		s, err := TraineePlot(d.Study, t, d.Answer.Each[i], frame, 400, 260)
		if err != nil {
			return nil, err
		}
		name := "curve-" + names[i] + ".svg"
		if t.ID == "" {
			name = "curve.svg"
		}
		files[name] = []byte(s)
	}
	for _, profile := range d.Answer.Profiles {
		s, err := profilePlot(profile)
		if err != nil {
			return nil, err
		}
		files["profile-"+profile.Name+".svg"] = []byte(s)
	}
	return files, nil
}

// profilePlot draws how much worse the fit gets as a parameter moves; dashed, the
// limits between which its interval lies.
func profilePlot(profile fit.Profile) (string, error) {
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
	return svg(300, 220, what, func(dc draw.Canvas) { p.Draw(dc) })
}
