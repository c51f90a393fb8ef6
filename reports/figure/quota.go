package figure

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// The size of a group's quota curve, in points.
const (
	QuotaWidth  = 300.0
	QuotaHeight = 250.0
)

// picturesOfQuota are the quota curves, one a group.
func picturesOfQuota(d *reports.Quota, width, height float64) []Picture {
	var out []Picture
	for k, g := range d.Answer.Groups {
		name := "quota-all"
		if k > 0 {
			name = fmt.Sprintf("quota-arm-%d", k)
		}
		if d.ShowsArm(g.Arm) {
			out = append(out, Quota(d, k, width, height).named(name, ""))
		}
	}
	return out
}

// colorOf is the colour of a group: an arm's own, and ink for all trainees.
func colorOf(d *reports.Quota, k int) color.NRGBA {
	if len(d.Answer.Groups) == 1 {
		return armColor(0)
	}
	if k == 0 {
		return ink
	}
	return armColor(k - 1)
}

// A quotaMark is the attempts for a share, on the observed steps or the cohort's curve.
type quotaMark struct {
	at, share float64
	seen      bool
}

// quotaMarks are those of the shares that quotas are given for, up to an attempt.
func quotaMarks(g study.QuotaGroup, end float64) []quotaMark {
	var out []quotaMark
	for k, q := range g.Observed().Quotas {
		if !slices.Contains(proficiency.QuotaShares(), q.Share) {
			continue
		}
		m := quotaMark{q.Attempts, q.Share, true}
		if next, ok := g.Curve(); ok && math.IsInf(m.at, 1) {
			m = quotaMark{next.Quotas[k].Attempts, q.Share, false}
		}
		if m.at <= end {
			out = append(out, m)
		}
	}
	return out
}

// Quota shows the share of a group that has met the rule by each attempt: steps
// as observed and a dashed line by the cohort's curve, both with their band. The
// attempts for 50, 80 and 90 % are marked, by a dot on the observed steps, or by a
// ring on the cohort's curve where those do not get there. Below stand the trainees
// still practising.
func Quota(d *reports.Quota, k int, width, height float64) Picture {
	g := d.Answer.Groups[k]
	p := newPlot(reports.Capital(study.GroupName(g.Arm)), "attempts", "share proficient", 8)
	c := colorOf(d, k)
	end := plotEnd(d)
	for _, q := range proficiency.QuotaShares() {
		p.Add(line(plotter.XYs{{X: 0, Y: q}, {X: end, Y: q}}, pale(faint, 0.45), 0.5))
	}
	var lines []lineEntry
	next, curved := g.Curve()
	if curved {
		x, lower, upper, _ := smooth(next.Progress, end)
		p.Add(band(x, lower, upper, color.NRGBA{faint.R, faint.G, faint.B, 0x30}))
	}
	x, lower, upper, steps := stairs(g.Observed().Progress)
	seen := line(steps, c, 1.8)
	p.Add(band(x, lower, upper, color.NRGBA{c.R, c.G, c.B, 0x2c}), seen)
	if curved {
		_, _, _, xy := smooth(next.Progress, end)
		dashed := line(xy, ink, 1.2, vg.Points(3.5), vg.Points(2))
		p.Add(dashed)
		lines = []lineEntry{{"as observed", seen.LineStyle}, {"by the cohort's curve", dashed.LineStyle}}
	}
	marked := quotaMarks(g, end)
	for _, m := range marked {
		p.Add(line(plotter.XYs{{X: m.at, Y: 0}, {X: m.at, Y: m.share}}, c, 0.6, vg.Points(1.5), vg.Points(1.5)))
		shape := draw.GlyphDrawer(draw.CircleGlyph{})
		if !m.seen {
			shape = draw.RingGlyph{}
		}
		p.Add(points(plotter.XYs{{X: m.at, Y: m.share}}, c, 3, shape))
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, end, 0, 1
	p.Y.Tick.Marker = shareTicks{}
	row := stripRow{"n", c, func(x float64) string { return strconv.Itoa(g.Practising(math.Max(x, 1))) }}
	return Picture{Legend: quotaWords(g), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		if lines != nil {
			drawLineKey(dc, lines, dc.Max.Y-vg.Points(lineKeyHeight-3))
			dc = draw.Crop(dc, 0, 0, 0, -vg.Points(lineKeyHeight))
		}
		drawWithStrips(dc, p, []stripRow{row})
		below := vg.Points(12)
		upper := draw.Crop(dc, vg.Points(22), 0, below, 0)
		data := p.DataCanvas(upper)
		toX, toY := p.Transforms(&data)
		for _, m := range marked {
			style := p.X.Tick.Label
			style.Color, style.XAlign, style.YAlign = ink, draw.XLeft, draw.YBottom
			data.FillText(style, vg.Point{X: toX(0) + vg.Points(3), Y: toY(m.share) + vg.Points(1)}, fmt.Sprintf("%s by %.0f", reports.Percent(m.share), m.at))
		}
	}}
}

// quotaWords say what the picture of a group shows.
func quotaWords(g study.QuotaGroup) string {
	text := fmt.Sprintf("Share of trainees proficient by attempt, %s: %d of %d", study.GroupName(g.Arm), g.Met, len(g.Seen))
	for _, q := range g.Observed().Quotas {
		if !math.IsInf(q.Attempts, 1) {
			text += fmt.Sprintf("; %s by attempt %.0f", reports.Percent(q.Share), q.Attempts)
		}
	}
	return text + "."
}

// shareTicks are the quotas, and 0 and all.
type shareTicks struct{}

// Ticks implements plot.Ticker.
func (shareTicks) Ticks(float64, float64) []plot.Tick {
	var out []plot.Tick
	for _, v := range []float64{0, 0.2, 0.5, 0.8, 0.9, 1} {
		out = append(out, plot.Tick{Value: v, Label: reports.Percent(v)})
	}
	return out
}

// plotEnd is the last attempt drawn, the same for every group: a little beyond what
// was seen and beyond the quota of every group by its cohort's curve.
func plotEnd(d *reports.Quota) float64 {
	end := 5.0
	shares := proficiency.QuotaShares()
	for _, g := range d.Answer.Groups {
		end = math.Max(end, float64(len(g.Observed().Share)))
		next, _ := g.Curve()
		for _, q := range next.Quotas {
			if q.Share == shares[len(shares)-1] && !math.IsInf(q.Attempts, 1) && !math.IsNaN(q.Attempts) {
				end = math.Max(end, q.Attempts)
			}
		}
	}
	return math.Ceil(end * 1.12)
}

// stairs is the observed share as steps, with its band.
func stairs(p proficiency.Progress) (x, lower, upper []float64, xy plotter.XYs) {
	y, lo, hi := 0.0, 0.0, 0.0
	xy = plotter.XYs{{X: 0, Y: 0}}
	for k, share := range p.Share {
		n := float64(k + 1)
		x, lower, upper = append(x, n, n), append(lower, lo, p.Lower[k]), append(upper, hi, p.Upper[k])
		xy = append(xy, plotter.XY{X: n, Y: y}, plotter.XY{X: n, Y: share})
		y, lo, hi = share, p.Lower[k], p.Upper[k]
	}
	return x, lower, upper, xy
}

// smooth is the expected share as a line, with its band, up to an attempt.
func smooth(p proficiency.Progress, end float64) (x, lower, upper []float64, xy plotter.XYs) {
	for k, share := range p.Share {
		if n := float64(k + 1); n <= end {
			x, lower, upper = append(x, n), append(lower, p.Lower[k]), append(upper, p.Upper[k])
			xy = append(xy, plotter.XY{X: n, Y: share})
		}
	}
	return x, lower, upper, xy
}

// A lineEntry says what a line means.
type lineEntry struct {
	name  string
	style draw.LineStyle
}

// lineKeyHeight is the room of a key of lines above a plot, in points.
const lineKeyHeight = 13.0

// drawLineKey writes the meaning of lines in a row, where no curve can cross it.
func drawLineKey(c draw.Canvas, key []lineEntry, y vg.Length) {
	x := 22.0
	for _, k := range key {
		c.StrokeLine2(k.style, c.Min.X+vg.Points(x), y+vg.Points(3), c.Min.X+vg.Points(x+18), y+vg.Points(3))
		writeText(c, k.name, x+23, y, 8, true)
		x += 23 + 4.4*float64(utf8.RuneCountInString(k.name)) + 14
	}
}
