package reports

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/fit"
)

// maxFigures bounds the figures written for one command.
const maxFigures = 200

// Files draws every trainee's curve, and for a single series the profile of each
// parameter, as SVG files; bands.csv has the curves' bands in numbers.
func (d *Curves) Files() (map[string][]byte, error) {
	files := map[string][]byte{}
	var bands bytes.Buffer
	if err := d.bands().WriteCSV(&bands); err != nil {
		return nil, err
	}
	files["bands.csv"] = bands.Bytes()
	frame := extentOf(d.in)
	arms := d.in.arms()
	ids := make([]string, len(d.in.Trainees))
	for i, t := range d.in.Trainees {
		ids[i] = t.ID
	}
	names := fileNames(ids)
	for i, t := range d.in.Trainees {
		if i == maxFigures {
			break
		}
		arm := 0
		for k, a := range arms {
			if a == t.Arm {
				arm = k
			}
		}
		s, err := traineePlot(d.in, t, d.Curves[i].fit, arm, frame, 400, 260)
		if err != nil {
			return nil, err
		}
		name := "curve-" + names[i] + ".svg"
		if t.ID == "" {
			name = "curve.svg"
		}
		files[name] = []byte(s)
	}
	if len(d.Curves) != 1 || !d.Curves[0].fit.Status.Usable() {
		return files, nil
	}
	for _, p := range d.Curves[0].fit.Params {
		s, ok, err := d.profilePlot(p)
		if err != nil {
			return nil, err
		}
		if ok {
			files["profile-"+p.Name+".svg"] = []byte(s)
		}
	}
	return files, nil
}

// bands lists, for every attempt made and some ahead, where each curve lies and
// where a single attempt will fall.
func (d *Curves) bands() Table {
	t := Table{Name: "bands", Columns: []Column{
		{Key: "trainee"}, {Key: "attempt"}, {Key: "curve"}, {Key: "curve_lower"}, {Key: "curve_upper"}, {Key: "next_lower"}, {Key: "next_upper"},
	}}
	for i, c := range d.Curves {
		if !c.fit.Status.Usable() {
			continue
		}
		attempts := slices.Sorted(slices.Values(d.in.Trainees[i].Series.Attempt))
		for k := range fit.Ahead {
			attempts = append(attempts, c.fit.Last+float64(k+1))
		}
		for _, b := range c.fit.Bands(attempts) {
			t.Rows = append(t.Rows, []any{c.Trainee, b.Attempt, b.Mean, b.MeanLower, b.MeanUpper, b.NextLower, b.NextUpper})
		}
	}
	return t
}

// profilePlot draws how much worse the fit gets as a parameter moves; dashed, the
// limits between which its interval lies.
func (d *Curves) profilePlot(e fit.Estimate) (string, bool, error) {
	f, t := d.Curves[0].fit, d.in.Trainees[0]
	spec := d.in.Specs[0]
	for _, s := range d.in.Specs {
		if s.Family.Name() == f.Curve.Family.Name() {
			spec = s
		}
	}
	profile := fit.ProfileCurve(t.Series, spec, f, e.Name, 41)
	if len(profile.Values) < 3 {
		return "", false, nil
	}
	p := newPlot("Profile of the "+e.Name, e.Name, "signed root of the deviance", 8)
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
	p.Add(line(xy, armColor(0), 1.4), points(plotter.XYs{{X: e.Value, Y: 0}}, ink, 2, draw.CircleGlyph{}))
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = from, to, -1.1*top, 1.1*top
	what := fmt.Sprintf("Profile likelihood of the %s: a straight line where the usual interval is right, bent where it is not", e.Name)
	s, err := svg(300, 220, what, func(dc draw.Canvas) { p.Draw(dc) })
	return s, err == nil, err
}
