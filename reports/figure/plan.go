package figure

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// planPicture shows power over attempts and trainees: the power at every size looked at,
// lines of equal power through them and, where costs are stated, dashed lines of equal
// cost. No picture for a plan of a few sizes.
func planPicture(d *reports.Plan, width, height float64) Picture {
	trainees, attempts := d.Sizes()
	if trainees == nil {
		return Picture{}
	}
	p := newPlot("Power: "+strings.ReplaceAll(reports.Spoken(d.Measure), "_", " "), "attempts", "trainees an arm", 8)
	dashes := [][]vg.Length{{vg.Points(1), vg.Points(1.5)}, nil, {vg.Points(6), vg.Points(2)}}
	for k, l := range d.PowerLines {
		drawn := line(placesXY(l), armColor(0), 1.2+0.3*float64(k), dashes[k%len(dashes)]...)
		p.Add(drawn)
		p.Legend.Add(fmt.Sprintf("power %g   ", float64(l.Value)), drawn)
	}
	for k, l := range d.CostLines {
		drawn := line(placesXY(l), armColor(1), 0.8, vg.Points(3), vg.Points(2))
		p.Add(drawn)
		if k == 0 {
			p.Legend.Add("equal cost   ", drawn)
		}
	}
	p.X.Min, p.X.Max = edges(attempts)
	p.X.Max += 0.1 * (p.X.Max - p.X.Min) // for the words of the lines of equal cost
	p.Y.Min, p.Y.Max = edges(trainees)
	p.Legend.Top, p.Legend.Left, p.Legend.XOffs = true, true, vg.Points(30)
	return Picture{Name: "power", Legend: planLegend(d), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		below := draw.Crop(dc, 0, 0, 0, -vg.Points(float64(12*(len(d.PowerLines)+1)+4)))
		legend := p.Legend
		plain := *p
		plain.Legend = newPlot("", "", "", 8).Legend
		plain.Draw(below)
		legend.Draw(dc)
		data := plain.DataCanvas(below)
		toX, toY := plain.Transforms(&data)
		style := p.X.Tick.Label
		style.Color, style.XAlign, style.YAlign = ink, draw.XCenter, draw.YCenter
		for _, k := range attempts {
			for _, n := range trainees {
				at, text := vg.Point{X: toX(float64(k)), Y: toY(float64(n))}, powerText(float64(d.Cell(n, k).Power))
				data.SetColor(color.White) // lines pass behind the numbers
				data.Fill(style.Rectangle(text).Add(at).Path())
				data.FillText(style, at, text)
			}
		}
		style.Color, style.XAlign, style.YAlign = armColor(1), draw.XLeft, draw.YCenter
		for _, l := range d.CostLines {
			end := l.At[len(l.At)-1]
			data.FillText(style, vg.Point{X: toX(float64(end.Attempts)) + vg.Points(12), Y: toY(float64(end.Trainees))}, reports.Significant(float64(l.Value), 3))
		}
	}}
}

func powerText(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.2f", v)
}

func placesXY(l reports.PlanLine) plotter.XYs {
	var out plotter.XYs
	for _, p := range l.At {
		out = append(out, plotter.XY{X: float64(p.Attempts), Y: float64(p.Trainees)})
	}
	return out
}

// edges leave room around the sizes.
func edges(sizes []int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, n := range sizes {
		low, high = math.Min(low, float64(n)), math.Max(high, float64(n))
	}
	room := 0.08 * (high - low)
	return low - room, high + room
}

// planLegend says what the picture shows.
func planLegend(d *reports.Plan) string {
	text := fmt.Sprintf("Power (%s) over trainees and attempts, %d simulated studies a size; – where too many failed. Lines pass between the sizes by proportion, and are off by as much as the powers are.", d.Asked, d.Studies)
	if len(d.CostLines) > 0 {
		text += " Dashed: sizes of equal cost"
		if u := d.Unit(); u != "" {
			text += ", in " + u
		}
		text += "."
	}
	return text
}
