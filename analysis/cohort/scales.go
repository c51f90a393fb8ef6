package cohort

// The curve is plateau + amplitude·fall. Its two levels move on scales of their own: each as it
// is or by its logarithm, and in place of the amplitude the gain or the starting level, which is
// amplitude + kappa·plateau.

// moves are the derivatives of every slot's quantity in the scale on which it moves: for a
// logarithm the quantity itself, for all orders; else 1, and 0 for the higher ones. logs says
// which it is, for plateau and gain; what is beside them is taken on its scale throughout.
func (m *model) moves(p *place) (by vector, logs [2]bool) {
	for a := range by {
		by[a] = 1
	}
	if logs[slotPlateau] = m.scales[slotPlateau] == 1; logs[slotPlateau] {
		by[slotPlateau] = p.plateau
	}
	if logs[slotGain] = m.scales[slotGain] == 1; logs[slotGain] {
		by[slotGain] = p.gain
	}
	return by, logs
}

// weightsWithin takes weights W over the slots to weights over plateau, amplitude and the rest.
func (m *model) weightsWithin(w *matrix, p *place) matrix {
	by, _ := m.moves(p)
	out := *w
	for a := range out {
		for b := range out[a] {
			out[a][b] *= by[a] * by[b]
		}
	}
	if m.kappa != 0 {
		for b := range out {
			out[slotGain][b] -= m.kappa * out[slotPlateau][b]
		}
		for b := range out {
			out[b][slotGain] -= m.kappa * out[b][slotPlateau]
		}
	}
	return out
}

// toScales takes derivatives in plateau, amplitude and the rest to the slots. With x the
// quantities and y their scales the first two derivatives become
//
//	f_a x'_a  and  f_ab x'_a x'_b + [a=b] f_a x''_a
func (m *model) toScales(p *place, order int, w *matrix, o *sum) {
	if m.kappa != 0 {
		o.grad[slotPlateau] -= m.kappa * o.grad[slotGain]
		o.third[slotPlateau] -= m.kappa * o.third[slotGain]
		if order > 1 {
			m.partPlateau(&o.hess)
			m.partPlateau(&o.descent)
		}
	}
	by, logs := m.moves(p)
	if order == 3 {
		m.twistScales(&by, logs, w, o)
	}
	for a, log := range logs {
		if !log {
			continue
		}
		o.grad[a] *= by[a]
		if order == 1 {
			continue
		}
		for _, h := range []*matrix{&o.hess, &o.descent} {
			for b := range a + 1 {
				h[a][b] *= by[a]
			}
			for b := a; b < slots; b++ {
				h[b][a] *= by[a]
			}
		}
		o.hess[a][a] += o.grad[a]
	}
}

// twistScales does so for ½ Σ W_ab f_abc, which with T_c the contraction within becomes
//
//	x'_c T_c + x''_c Σ_b W_cb x'_b f_cb + ½ x'_c Σ_a W_aa x''_a f_ac + ½ W_cc x'''_c f_c
//
// The curvature that residuals leave on average knows no f_a: the first two terms are left.
func (m *model) twistScales(by *vector, logs [2]bool, w *matrix, o *sum) {
	curvature := &o.hess
	if m.expected {
		curvature = &o.descent
	}
	var third vector
	for c := range third {
		x := o.third[c]
		for a, log := range logs {
			if log && !m.expected {
				x += 0.5 * w[a][a] * by[a] * at(curvature, a, c)
			}
		}
		if c < len(logs) && logs[c] {
			for b := range slots {
				x += w[c][b] * by[b] * at(curvature, c, b)
			}
			if !m.expected {
				x += 0.5 * w[c][c] * o.grad[c]
			}
		}
		third[c] = by[c] * x
	}
	o.third = third
}

// partPlateau takes a symmetric matrix over plateau and amplitude to one over plateau and gain.
func (m *model) partPlateau(h *matrix) {
	h[slotPlateau][slotPlateau] += m.kappa * (m.kappa*h[slotGain][slotGain] - 2*h[slotGain][slotPlateau])
	h[slotGain][slotPlateau] -= m.kappa * h[slotGain][slotGain]
	for a := slotGain + 1; a < slots; a++ {
		h[a][slotPlateau] -= m.kappa * h[a][slotGain]
	}
}
