package figure

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/reports"
)

// Sizes of the picture, in points.
const (
	rulesPanelWidth  = 234.0
	rulesPanelHeight = 205.0
	rulesKeyRow      = 12.0
)

// wayColors tell the ways to stop apart, by lightness as well as by hue.
var wayColors = append(armColors[:len(armColors):len(armColors)],
	color.NRGBA{0x2f, 0x55, 0xa4, 0xff}, color.NRGBA{0x7a, 0x5c, 0x3a, 0xff}, color.NRGBA{0x1f, 0x1f, 0x1f, 0xff}, color.NRGBA{0xb8, 0x43, 0x8f, 0xff}, color.NRGBA{0x6f, 0x77, 0x7e, 0xff})

func wayColor(k int) color.NRGBA { return wayColors[k%len(wayColors)] }

// Ways shows, so many panels in a row, how soon each way lets a learner through who is not
// yet proficient, how soon one who is, and what a false pass costs to avoid.
func Ways(d *reports.WaysToStop, across int) Picture {
	columns := min(across, 2)
	keyRows := (len(d.Answer.Ways) + columns - 1) / columns
	panels := rulesPanelHeight * float64((3+across-1)/across)
	height := panels + rulesKeyRow*float64(keyRows) + 10
	what := "Ways to stop practice: chance of having stopped by attempt for a learner who is not yet proficient and for one who is, and false passes against mean attempts"
	out := Picture{Name: "rules", Legend: what, Finding: waysWords(d), Width: float64(across) * rulesPanelWidth, Height: height, Draw: func(c draw.Canvas) {
		eachPanel(draw.Crop(c, 0, 0, vg.Points(height-panels), 0), 3, across, func(i int, c draw.Canvas) {
			drawn(c, waysPlot(d, i))
		})
		key(d, c, keyRows, columns)
	}}
	for i := range 3 {
		p := waysPlot(d, i)
		out.Panels = append(out.Panels, Picture{Legend: what, Finding: wayPanelWords(d, i), Width: rulesPanelWidth, Height: rulesPanelHeight, Draw: func(c draw.Canvas) {
			drawn(draw.Crop(c, vg.Points(3), -vg.Points(3), vg.Points(3), -vg.Points(3)), p)
		}})
	}
	ways := len(d.Answer.Ways)
	out.Panels = append(out.Panels, Picture{Legend: "Letters and colours of the ways to stop", Width: rulesPanelWidth, Height: rulesKeyRow*float64(ways) + 10, Draw: func(c draw.Canvas) {
		key(d, draw.Crop(c, 0, 0, vg.Points(5), 0), ways, 1)
	}})
	return out
}

// waysPlot is one of the three plots.
func waysPlot(d *reports.WaysToStop, i int) *plot.Plot {
	if i == 2 {
		return tradeOff(d)
	}
	return throughPlot(d, i)
}

// waysWords say how soon the first way lets the two learners through.
func waysWords(d *reports.WaysToStop) string {
	return wayPanelWords(d, notYet) + " " + wayPanelWords(d, proficient) + " " + wayPanelWords(d, 2)
}

// wayPanelWords say what one plot shows of every way.
func wayPanelWords(d *reports.WaysToStop, i int) string {
	at := min(reports.ThroughBy, d.Horizon)
	var parts []string
	if i < 2 {
		for k := range d.Answer.Ways {
			parts = append(parts, fmt.Sprintf("%s %s", reports.Mark(k), reports.Percent(d.Answer.Stops[k][i].MetBy[at-1])))
		}
		who := "not yet proficient"
		if i == proficient {
			who = "proficient"
		}
		return fmt.Sprintf("Let through by attempt %d of a learner %s: %s.", at, who, strings.Join(parts, ", "))
	}
	xOf, yOf := proficient, notYet
	judge := d.Answer.Judge()
	if judge >= 0 {
		xOf, yOf = judge, judge
	}
	for k := range d.Answer.Ways {
		v := d.Answer.Stops[k][yOf].FalsePass.Value
		if judge < 0 {
			v = d.Answer.Stops[k][yOf].MetBy[at-1]
		}
		parts = append(parts, fmt.Sprintf("%s %s at %s attempts", reports.Mark(k), reports.Percent(v), reports.Significant(d.Answer.Stops[k][xOf].Attempts.Value, 3)))
	}
	return "False passes against mean attempts: " + strings.Join(parts, ", ") + "."
}

// throughPlot shows the chance of having stopped by attempt.
func throughPlot(d *reports.WaysToStop, learner int) *plot.Plot {
	l := d.Answer.Learners[learner]
	title := fmt.Sprintf("Not yet proficient: passes %s", reports.Percent(l.Chances[0]))
	y := "let through (falsely)"
	if l.Kind == study.LearnerProficient {
		title, y = fmt.Sprintf("Proficient: passes %s", reports.Percent(l.Chances[0])), "let through (rightly)"
	}
	p := newPlot(title, "by attempt", y, 8)
	last := shownUntil(d)
	var labels []placed
	for k, way := range d.Answer.Ways {
		xy := plotter.XYs{{X: 0, Y: 0}}
		before := 0.0
		_, jump := way.(stopping.FixedQuota)
		for n, v := range d.Answer.Stops[k][learner].MetBy[:last] {
			if x := float64(n + 1); jump && v != before {
				xy = append(xy, plotter.XY{X: x, Y: before})
			}
			xy = append(xy, plotter.XY{X: float64(n + 1), Y: v})
			before = v
		}
		p.Add(line(xy, wayColor(k), widthOf(k)))
		labels = append(labels, lineLabel(xy, k, len(d.Answer.Ways)))
	}
	p.Add(marks{labels})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, float64(last), 0, 1.03
	p.Y.Tick.Marker = shares{}
	return p
}

// widthOf draws the way compared first thicker.
func widthOf(k int) float64 {
	if k == 0 {
		return 2.4
	}
	return 1.2
}

// The places of the constant learners among all.
const notYet, proficient = 0, 1

// shownUntil is the last attempt drawn: by then nearly all that happens to the
// proficient learner has happened, and at least forty attempts.
func shownUntil(d *reports.WaysToStop) int {
	last := min(40, d.Horizon)
	for k := range d.Answer.Ways {
		for n, v := range d.Answer.Stops[k][proficient].MetBy {
			if v > 0.95 || n+1 >= 80 {
				break
			}
			last = max(last, n+2)
		}
	}
	return min(last, d.Horizon)
}

// lineLabel puts a way's letter on its curve, each at a height of its own so that
// letters on neighbouring curves keep apart.
func lineLabel(xy plotter.XYs, k, of int) placed {
	want := 0.2 + 0.7*float64(k)/math.Max(1, float64(of-1))
	for i := 1; i < len(xy); i++ {
		if a, b := xy[i-1], xy[i]; b.Y >= want {
			f := 0.0
			if b.Y > a.Y {
				f = (want - a.Y) / (b.Y - a.Y)
			}
			return placed{plotter.XY{X: a.X + f*(b.X-a.X), Y: want}, k, true}
		}
	}
	end := xy[len(xy)-1]
	return placed{plotter.XY{X: end.X * 0.97, Y: end.Y}, k, true}
}

// tradeOff sets false passes against mean attempts: the study's trainees' or the
// stated learner's, or else one constant learner's false passes against the other's
// attempts.
func tradeOff(d *reports.WaysToStop) *plot.Plot {
	title, x, y := "Trade-off", "mean attempts", "false passes"
	xOf, yOf := proficient, notYet
	at := min(reports.ThroughBy, d.Horizon)
	judge := d.Answer.Judge()
	if judge >= 0 {
		xOf, yOf = judge, judge
		title = "Trade-off: the stated learner"
		if l := d.Answer.Learners[judge]; l.Kind == study.LearnerTrainees {
			title = fmt.Sprintf("Trade-off: %d trainees of the study", l.Trainees)
		}
	} else {
		x = fmt.Sprintf("mean attempts of the %s learner", reports.Percent(d.Answer.Learners[proficient].Chances[0]))
		y = fmt.Sprintf("%s learner let through by %d", reports.Percent(d.Answer.Learners[notYet].Chances[0]), at)
	}
	p := newPlot(title+"\n(better: lower left)", x, y, 8)
	var labels []placed
	mostX := 0.0
	for k := range d.Answer.Ways {
		attempts, let := d.Answer.Stops[k][xOf].Attempts, d.Answer.Stops[k][yOf].FalsePass
		v := let.Value
		if judge < 0 {
			v = d.Answer.Stops[k][yOf].MetBy[at-1]
		}
		xy := plotter.XY{X: attempts.Value, Y: v}
		mostX = math.Max(mostX, xy.X)
		if !math.IsNaN(let.Lower) {
			p.Add(line(plotter.XYs{{X: xy.X, Y: let.Lower}, {X: xy.X, Y: let.Upper}}, pale(wayColor(k), 0.5), 1))
		}
		if !math.IsNaN(attempts.Lower) {
			p.Add(line(plotter.XYs{{X: attempts.Lower, Y: xy.Y}, {X: attempts.Upper, Y: xy.Y}}, pale(wayColor(k), 0.5), 1))
			mostX = math.Max(mostX, attempts.Upper)
		}
		radius := 2.8
		if k == 0 {
			radius = 4
		}
		p.Add(points(plotter.XYs{xy}, wayColor(k), radius, draw.CircleGlyph{}))
		labels = append(labels, placed{xy, k, false})
	}
	p.Add(marks{labels})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, mostX*1.1+1, 0, 1.03
	p.Y.Tick.Marker = shares{}
	return p
}

// shares are ticks from 0 to 1 as percentages.
type shares struct{}

// Ticks implements plot.Ticker.
func (shares) Ticks(_, _ float64) []plot.Tick {
	var out []plot.Tick
	for _, v := range []float64{0, 0.2, 0.4, 0.6, 0.8, 1} {
		out = append(out, plot.Tick{Value: v, Label: reports.Percent(v)})
	}
	return out
}

// A placed letter belongs to a way; on a line it stands on a white ground, else
// beside its point where there is room.
type placed struct {
	at     plotter.XY
	way    int
	onLine bool
}

// marks draws letters without laying one on another.
type marks struct{ letters []placed }

// Plot implements plot.Plotter.
func (m marks) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	style := p.X.Tick.Label
	style.Font, style.XAlign, style.YAlign = sans(8), draw.XCenter, draw.YCenter
	var taken []vg.Point
	free := func(at vg.Point) bool {
		for _, t := range taken {
			if math.Abs(float64(t.X-at.X)) < 8 && math.Abs(float64(t.Y-at.Y)) < 8 {
				return false
			}
		}
		return at.X > c.Min.X+4 && at.X < c.Max.X-3 && at.Y > c.Min.Y+4 && at.Y < c.Max.Y-3
	}
	if len(m.letters) > 0 && !m.letters[0].onLine {
		for _, l := range m.letters {
			taken = append(taken, vg.Point{X: toX(l.at.X), Y: toY(l.at.Y)})
		}
	}
	for _, l := range m.letters {
		at := vg.Point{X: toX(l.at.X), Y: toY(l.at.Y)}
		var shifts []vg.Point
		for _, r := range []vg.Length{9, 17, 25, 33} {
			d := 0.8 * r
			shifts = append(shifts, vg.Point{X: r}, vg.Point{X: -r}, vg.Point{Y: r}, vg.Point{Y: -r}, vg.Point{X: d, Y: d}, vg.Point{X: -d, Y: d}, vg.Point{X: d, Y: -d}, vg.Point{X: -d, Y: -d})
		}
		if l.onLine {
			shifts = append([]vg.Point{{}}, shifts...)
		}
		for i, s := range shifts {
			if to := at.Add(s); free(to) || i == len(shifts)-1 {
				at = to
				break
			}
		}
		taken = append(taken, at)
		if l.onLine {
			c.SetColor(color.White)
			var ground vg.Path
			ground.Move(vg.Point{X: at.X + 4.5, Y: at.Y})
			ground.Arc(at, 4.5, 0, 2*math.Pi)
			ground.Close()
			c.Fill(ground)
		}
		style.Color = wayColor(l.way)
		c.FillText(style, at, reports.Mark(l.way))
	}
}

// key lists the ways under the panels.
func key(d *reports.WaysToStop, c draw.Canvas, rows, columns int) {
	p := newPlot("", "", "", 8)
	style := p.X.Tick.Label
	style.Font, style.XAlign, style.YAlign = sans(8.5), draw.XLeft, draw.YCenter
	width := c.Max.X - c.Min.X
	for k := range d.Answer.Ways {
		x := c.Min.X + vg.Points(14) + vg.Length(k/rows)*width/vg.Length(columns)
		y := c.Min.Y + vg.Points(rulesKeyRow)*(vg.Length(rows-1-k%rows)+0.5)
		c.StrokeLine2(draw.LineStyle{Color: wayColor(k), Width: vg.Points(widthOf(k))}, x, y, x+vg.Points(14), y)
		style.Color = wayColor(k)
		c.FillText(style, vg.Point{X: x + vg.Points(19), Y: y}, reports.Mark(k))
		style.Color = ink
		c.FillText(style, vg.Point{X: x + vg.Points(30), Y: y}, d.WayText(k))
	}
}
