package standard

import "math"

// A LogisticCut is a logistic regression of being competent on the value, and
// the value at which its chance is one half.
type LogisticCut struct {
	Intercept, Slope                 float64
	InterceptSE, SlopeSE, Covariance float64
	LogLikelihood                    float64
	Cut, CutSE                       float64 // standard error by the delta method
	Separated                        bool    // the groups do not overlap: the slope has no finite estimate
}

// At is the value at which the chance of being competent is p.
func (l LogisticCut) At(p float64) float64 { return (math.Log(p/(1-p)) - l.Intercept) / l.Slope }

// fitLogistic maximises the likelihood by Newton's method on values in units
// of their spread.
func fitLogistic(not, yes []float64) LogisticCut {
	nan := math.NaN()
	out := LogisticCut{nan, nan, nan, nan, nan, nan, nan, nan, false}
	all := append(append([]float64(nil), not...), yes...)
	center, scale := mean(all), sd(all)
	if !(scale > 0) {
		return out
	}
	a, b := sorted(not), sorted(yes)
	if a[len(a)-1] <= b[0] || b[len(b)-1] <= a[0] {
		out.Separated = true
		return out
	}
	at := func(c, s float64) (logLik float64, g, h [3]float64) {
		for i, v := range all {
			x := (v - center) / scale
			η := c + s*x
			y := 0.0
			if i >= len(not) {
				y = 1
			}
			p := 1 / (1 + math.Exp(-η))
			logLik += y*η - softplus(η)
			w := p * (1 - p)
			g[0] += y - p
			g[1] += (y - p) * x
			h[0] += w
			h[1] += w * x
			h[2] += w * x * x
		}
		return logLik, g, h
	}
	c, s := 0.0, 0.0
	logLik, g, h := at(c, s)
	for range 100 {
		det := h[0]*h[2] - h[1]*h[1]
		dc, ds := (h[2]*g[0]-h[1]*g[1])/det, (h[0]*g[1]-h[1]*g[0])/det
		size := 1.0
		for range 40 {
			if next, _, _ := at(c+size*dc, s+size*ds); next >= logLik-1e-13*math.Abs(logLik) {
				break
			}
			size /= 2
		}
		c, s = c+size*dc, s+size*ds
		logLik, g, h = at(c, s)
		if math.Abs(dc)+math.Abs(ds) < 1e-13*(1+math.Abs(c)+math.Abs(s)) {
			break
		}
	}
	det := h[0]*h[2] - h[1]*h[1]
	vcc, vcs, vss := h[2]/det, -h[1]/det, h[0]/det
	m := center / scale // from the scaled to the given values: intercept c − s·m, slope s/scale
	out.Slope, out.Intercept, out.LogLikelihood = s/scale, c-s*m, logLik
	out.SlopeSE = math.Sqrt(vss) / scale
	out.InterceptSE = math.Sqrt(vcc - 2*m*vcs + m*m*vss)
	out.Covariance = (vcs - m*vss) / scale
	out.Cut = center - scale*c/s
	dc, ds := -scale/s, scale*c/(s*s)
	out.CutSE = math.Sqrt(dc*dc*vcc + 2*dc*ds*vcs + ds*ds*vss)
	return out
}

// softplus is log(1 + e^x).
func softplus(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}
