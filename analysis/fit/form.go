package fit

// A form writes the mean in its free linear coefficients β:
//
//	mean = c0 + c1·z,  z = (h − a)/(b − a),
//	c0 = k0 + Σ b0[k]·β[k],  c1 = k1 + Σ b1[k]·β[k],
//
// with anchors a and b chosen so that β stays well determined whatever the
// shape parameters are. One form serves each way of holding plateau, gain and
// start.
type form struct {
	n      int // free coefficients, 0 to 2
	k0, k1 float64
	b0, b1 [2]float64
	anchor anchor
}

// An anchor says which values of h stand for z = 0 and z = 1.
type anchor int

const (
	plain       anchor = iota // a = 0, b = 1: z is h itself
	lastToFirst               // z runs from 1 at the first attempt to 0 at the last
	zeroToFirst               // z is h relative to the first attempt
	zeroToStart               // z is h relative to the origin
	fromStart                 // z is h minus its value at the origin
	between                   // z runs from 0 to 1 between the two attempts of a pin
	zeroBetween               // z is h relative to its change between them
	zeroToAt                  // z is h relative to the first of them
)

func newForm(s Spec) form {
	if s.Family.IsLine() {
		return newLine(s)
	}
	if s.pin != nil {
		return s.pin.form(s.through0())
	}
	plateau, heldPlateau := s.held("plateau")
	if !s.Family.HasPlateau() {
		plateau, heldPlateau = 0, true
	}
	gain, heldGain := s.held("gain")
	if !s.Family.HasGain() {
		gain, heldGain = 0, true
	}
	start, heldStart := s.held("start")
	switch {
	case heldStart && heldPlateau: // plateau + (start − plateau)·h/h(origin)
		return form{k0: plateau, k1: start - plateau, anchor: zeroToStart}
	case heldStart && heldGain: // start + gain·(h − h(origin))
		return form{k0: start, k1: gain, anchor: fromStart}
	case heldStart: // β + (start − β)·h/h(origin)
		return form{n: 1, b0: [2]float64{1}, k1: start, b1: [2]float64{-1}, anchor: zeroToStart}
	case heldPlateau && heldGain:
		return form{k0: plateau, k1: gain, anchor: plain}
	case heldPlateau: // plateau + β·h/h(first)
		return form{n: 1, k0: plateau, b1: [2]float64{1}, anchor: zeroToFirst}
	case heldGain: // β + gain·h
		return form{n: 1, b0: [2]float64{1}, k1: gain, anchor: plain}
	default: // level at the last attempt, and drop from first to last
		return form{n: 2, b0: [2]float64{1, 0}, b1: [2]float64{0, 1}, anchor: lastToFirst}
	}
}

// newLine is the form start + slope·h.
func newLine(s Spec) form {
	start, heldStart := s.held("start")
	slope, heldSlope := s.held("slope")
	switch {
	case heldStart && heldSlope:
		return form{k0: start, k1: slope, anchor: plain}
	case heldStart:
		return form{n: 1, k0: start, b1: [2]float64{1}, anchor: plain}
	case heldSlope:
		return form{n: 1, b0: [2]float64{1}, k1: slope, anchor: plain}
	}
	return form{n: 2, b0: [2]float64{1, 0}, b1: [2]float64{0, 1}, anchor: plain}
}

func (f form) coefficients(beta [2]float64) (c0, c1 float64) {
	c0, c1 = f.k0, f.k1
	for k := range f.n {
		c0 += f.b0[k] * beta[k]
		c1 += f.b1[k] * beta[k]
	}
	return c0, c1
}
