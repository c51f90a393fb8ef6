package figure

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"

	"tyro/analysis/study"
	"tyro/reports"
)

// SharesByAttempt is the director's one curve: the share of all trainees who have met the
// rule by each attempt, as seen and by the cohort's curve, with the attempts planned.
type SharesByAttempt struct {
	d *reports.Quota
}

// NewSharesByAttempt draws the first group of a quota.
func NewSharesByAttempt(d *reports.Quota) *SharesByAttempt { return &SharesByAttempt{d} }

// The size of the director's curve, in points: on paper and in wide windows, and how wide it
// is in narrow ones.
const (
	SharesWidth  = 400.0
	SharesHeight = 165.0
	SharesNarrow = 290.0
)

// Picture is the curve, so many points wide.
func (f *SharesByAttempt) Picture(width float64) Picture {
	return Picture{Legend: f.Words(), Width: width, Height: SharesHeight, Draw: f.paint}
}

// PNG is the picture for print.
func (f *SharesByAttempt) PNG(dpi int) ([]byte, error) {
	c := vgimg.NewWith(vgimg.UseWH(vg.Points(SharesWidth), vg.Points(SharesHeight)), vgimg.UseDPI(dpi))
	f.paint(draw.New(c))
	var b bytes.Buffer
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(&b)
	return b.Bytes(), err
}

// Words say what the picture shows, for those who cannot see it.
func (f *SharesByAttempt) Words() string {
	g := f.d.Answer.Groups[0]
	text := fmt.Sprintf("Share of trainees proficient by attempt: %d of %d by attempt %.0f, the last one seen", g.Met, len(g.Seen), g.LastSeen)
	for _, q := range g.Observed().Quotas {
		if !math.IsInf(q.Attempts, 1) {
			text += fmt.Sprintf("; %s by attempt %.0f", reports.Percent(q.Share), q.Attempts)
		}
	}
	return text + "."
}

// Key says what the marks mean.
func (f *SharesByAttempt) Key() string {
	g := f.d.Answer.Groups[0]
	text := fmt.Sprintf("Steps: the trainees studied, all counted, those who stopped up to their last attempt; shaded: %g %% limits.", 100*f.d.Level)
	if _, ok := g.Curve(); ok {
		text += " Dashed: what the fitted curves of all trainees expect of new ones."
	}
	if planned(g) > 0 {
		text += " Upright line: the attempts planned."
	}
	return text + " Below: trainees still practising and not there yet."
}

func planned(g study.QuotaGroup) int {
	for _, b := range g.Bases {
		if b.Schedule != nil && b.Schedule.Leads {
			return b.Schedule.Attempts
		}
	}
	return 0
}

func (f *SharesByAttempt) paint(dc draw.Canvas) {
	g := f.d.Answer.Groups[0]
	p := newPlot("", "attempt", "share proficient", 10)
	c := armColor(0)
	end := f.end(g)
	if next, ok := g.Curve(); ok {
		_, _, _, xy := smooth(next.Progress, end)
		p.Add(line(xy, ink, 1.2, vg.Points(4), vg.Points(2.5)))
	}
	x, lower, upper, steps := stairs(g.Observed().Progress)
	if len(x) > 0 {
		p.Add(band(x, lower, upper, color.NRGBA{c.R, c.G, c.B, 0x30}))
	}
	p.Add(line(steps, c, 2))
	plan := float64(planned(g))
	if plan > 0 {
		p.Add(line(plotter.XYs{{X: plan, Y: 0}, {X: plan, Y: 1.04}}, ink, 0.9, vg.Points(1.5), vg.Points(1.5)))
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, end, 0, 1.04
	p.Y.Tick.Marker = plainShares{}
	row := stripRow{"not yet", c, func(x float64) string { return strconv.Itoa(g.Practising(math.Max(x, 1))) }}
	drawWithStrips(dc, p, []stripRow{row})
}

// end is the last attempt drawn.
func (f *SharesByAttempt) end(g study.QuotaGroup) float64 {
	return math.Max(5, math.Ceil(1.08*math.Max(float64(len(g.Observed().Share)), float64(planned(g)))))
}

// plainShares are quarters.
type plainShares struct{}

// Ticks implements plot.Ticker.
func (plainShares) Ticks(float64, float64) []plot.Tick {
	var out []plot.Tick
	for _, v := range []float64{0, 0.25, 0.5, 0.75, 1} {
		out = append(out, plot.Tick{Value: v, Label: reports.Percent(v)})
	}
	return out
}

// Spoken is a column's name as words.
func Spoken(name string) string { return strings.ReplaceAll(name, "_", " ") }

// Ratio is the width by the height.
func (*SharesByAttempt) Ratio() float64 { return SharesWidth / SharesHeight }
