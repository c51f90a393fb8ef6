package models

import "math"

// Slopes are the derivatives of one attempt's loss: M in the curve value, S in the log of the
// scale, MM twice in the curve value, and so on.
type Slopes struct{ M, MM, S, SS, MS, MMM, MMS, MSS, SSS float64 }

// A Batcher works out the losses of many exact responses at once, faster than one by one.
type Batcher interface {
	// Losses is the sum of the values of Loss for responses ys at curve values ms. It leaves
	// the derivatives in to: none for order 0, where to may be nil, the first and second for
	// orders 1 and 2, and the third ones too for order 3.
	Losses(to []Slopes, ys, ms []float64, scale float64, order int) float64
}

// A tally is a sum of logarithms. It holds the product of their numbers as long as that is
// far from the ends of what numbers there are: one logarithm stands for many.
type tally struct{ sum, product float64 }

func newTally() tally { return tally{product: 1} }

func (t *tally) add(x float64) {
	if !(x > 1e-100 && x < 1e100) {
		t.sum += math.Log(x)
		return
	}
	if t.product *= x; t.product > 1e200 || t.product < 1e-200 {
		t.sum, t.product = t.sum+math.Log(t.product), 1
	}
}

func (t *tally) total() float64 { return t.sum + math.Log(t.product) }

// Losses implements Batcher.
func (Student) Losses(to []Slopes, ys, ms []float64, scale float64, order int) float64 {
	const ν = StudentDF
	inv := 1 / scale
	i2 := inv * inv
	logs := newTally()
	for j, y := range ys {
		e := (y - ms[j]) * inv
		ee := e * e
		logs.add(1 + ee/ν)
		if order == 0 {
			continue
		}
		w := 1 / (ν + ee)
		d1, d2 := (ν+1)*e*w, (ν+1)*(ν-ee)*w*w
		to[j] = Slopes{M: -d1 * inv, MM: d2 * i2, S: 1 - d1*e, SS: d2*ee + d1*e, MS: (d2*e + d1) * inv}
		if order == 3 {
			d3 := 2 * (ν + 1) * e * (ee - 3*ν) * w * w * w
			o := &to[j]
			o.MMM, o.MMS, o.MSS, o.SSS = -d3*i2*inv, -(d3*e+2*d2)*i2, -(d3*ee+3*d2*e+d1)*inv, -(d3*ee*e + 3*d2*ee + d1*e)
		}
	}
	return (ν+1)/2.*logs.total() + float64(len(ys))*(studentConstant+math.Log(scale))
}

// Losses implements Batcher.
func (b Bernoulli) Losses(to []Slopes, ys, ms []float64, _ float64, order int) float64 {
	if b.Guess != 0 || b.Lapse != 0 {
		return b.limitedLosses(to, ys, ms, order)
	}
	logs := newTally()
	total := 0.0
	for j, y := range ys {
		m := ms[j]
		e := Exp(-math.Abs(m))
		logs.add(1 + e)
		total -= y * m
		if m > 0 {
			total += m
		}
		if order == 0 {
			continue
		}
		q := 1 / (1 + e)
		p, variance := q, e*q*q
		if m < 0 {
			p = e * q
		}
		to[j] = Slopes{M: p - y, MM: variance, MMM: variance * (1 - 2*p)}
	}
	return total + logs.total()
}

// limitedLosses are the losses with chances to guess and to lapse: see Loss and Third.
func (b Bernoulli) limitedLosses(to []Slopes, ys, ms []float64, order int) float64 {
	logs := newTally()
	r := b.spread()
	for j, y := range ys {
		s := 1 / (1 + Exp(-ms[j]))
		p, d1 := b.Guess+r*s, r*s*(1-s)
		d2 := d1 * (1 - 2*s)
		d3 := d2*(1-2*s) - 2*d1*s*(1-s)
		if y == 0 {
			p, d1, d2, d3 = 1-p, -d1, -d2, -d3
		}
		logs.add(p)
		if order == 0 {
			continue
		}
		inv := 1 / p
		to[j] = Slopes{M: -d1 * inv, MM: (d1*d1*inv - d2) * inv, MMM: (3*d1*d2-2*d1*d1*d1*inv)*inv*inv - d3*inv}
	}
	return -logs.total()
}

// Losses implements Batcher.
func (Poisson) Losses(to []Slopes, ys, ms []float64, _ float64, order int) float64 {
	total := 0.0
	logs := newTally()
	for j, y := range ys {
		mu := Exp(ms[j])
		total += mu - y*ms[j]
		logs.addFactorial(y)
		if order > 0 {
			to[j] = Slopes{M: mu - y, MM: mu, MMM: mu}
		}
	}
	return total + logs.total()
}

// factorials are those that are numbers.
var factorials = func() (f [171]float64) {
	f[0] = 1
	for n := 1; n < len(f); n++ {
		f[n] = f[n-1] * float64(n)
	}
	return f
}()

// addFactorial adds the logarithm of a count's factorial.
func (t *tally) addFactorial(y float64) {
	if y < float64(len(factorials)) {
		t.add(factorials[int(y)])
		return
	}
	lg, _ := math.Lgamma(y + 1)
	t.sum += lg
}

// mostRises is the largest count whose sums of 1/(k + j) are worth a table.
const mostRises = 200

// Losses implements Batcher: see Loss and Third. What depends on k and the count alone is summed
// up once for all responses.
func (n NegativeBinomial) Losses(to []Slopes, ys, ms []float64, scale float64, order int) float64 {
	k := 1 / scale
	if k > 1e7 {
		return Poisson{}.Losses(to, ys, ms, scale, order)
	}
	var d1, d2, d3 [mostRises + 1]float64 // of the rise of lnΓ, by count
	known := 0
	logK := math.Log(k)
	total, rises, factorials := float64(len(ys))*-k*logK, newTally(), newTally()
	for j, y := range ys {
		mu := Exp(ms[j])
		far := k + mu
		logFar := Log(far)
		total += (y+k)*logFar - y*ms[j]
		factorials.addFactorial(y)
		r1, r2, r3 := 0.0, 0.0, 0.0
		if y > mostRises {
			var rise float64
			rise, r1, r2, r3 = gammaRise(y, k)
			total -= rise
		} else {
			for i := 0.0; i < y; i++ {
				rises.add(k + i)
			}
			if order > 0 {
				for ; known < int(y); known++ {
					inv := 1 / (k + float64(known))
					d1[known+1], d2[known+1], d3[known+1] = d1[known]+inv, d2[known]-inv*inv, d3[known]+2*inv*inv*inv
				}
				r1, r2, r3 = d1[int(y)], d2[int(y)], d3[int(y)]
			}
		}
		if order == 0 {
			continue
		}
		inv := 1 / far
		inv2 := inv * inv
		dk := r1 + logK + 1 - logFar - (y+k)*inv
		dkk := r2 + 1/k - 2*inv + (y+k)*inv2
		to[j] = Slopes{M: -k * (y - mu) * inv, MM: k * mu * (k + y) * inv2,
			S: k * dk, SS: -k * (dk + k*dkk), MS: k * mu * (y - mu) * inv2}
		if order == 3 {
			dkkk := r3 - 1/(k*k) + 3*inv2 - 2*(y+k)*inv2*inv
			cube := k * mu * inv2 * inv
			o := &to[j]
			o.MMM, o.MMS, o.MSS, o.SSS = cube*(k+y)*(k-mu), cube*(y*k-y*mu-2*mu*k), -cube*(y-mu)*(mu-k), k*(dk+3*k*dkk+k*k*dkkk)
		}
	}
	return total - rises.total() + factorials.total()
}
