package monitor

import "math"

// A cloud is the distribution of a chart value between two ends, on cells that
// remember the mean of what is in them. Keeping means makes the first moment of
// every move exact, so a few thousand cells leave errors far below a simulation's.
type cloud struct {
	low, width float64
	mass, sum  []float64
}

func newCloud(low, high float64, cells int) cloud {
	return cloud{low, (high - low) / float64(cells), make([]float64, cells), make([]float64, cells)}
}

func (c cloud) add(value, mass float64) {
	i := min(max(int((value-c.low)/c.width), 0), len(c.mass)-1)
	c.mass[i] += mass
	c.sum[i] += mass * value
}

// A jump is one outcome of an attempt: with a chance the value becomes
// scale·value + shift.
type jump struct{ scale, shift, chance float64 }

// move lets one attempt pass: every cell's mass jumps, values below floor are
// held there, and those at limit or above signal. It fills the next cloud and
// returns the mass that signalled.
func (c cloud) move(next cloud, jumps []jump, floor, limit float64) (signalled float64) {
	clear(next.mass)
	clear(next.sum)
	for i, m := range c.mass {
		if m <= 1e-300 {
			continue
		}
		mean := c.sum[i] / m
		for _, j := range jumps {
			v := max(j.scale*mean+j.shift, floor)
			if v >= limit {
				signalled += m * j.chance
			} else {
				next.add(v, m*j.chance)
			}
		}
	}
	return signalled
}

func (c cloud) total() float64 {
	sum := 0.0
	for _, m := range c.mass {
		sum += m
	}
	return sum
}

// cloudCells is the number of cells of a cloud.
const cloudCells = 4000

// blockLength is the number of steps over which a survival ratio is averaged.
const blockLength = 25

// meanOf sums survival chances from a stepper that returns the chance of no
// signal after its next attempt, and closes the sum with a geometric tail once
// the ratio, averaged over a block of steps, changes by less than tolerance times
// its distance from 1 in two blocks running.
func meanOf(step func() float64, tolerance float64) float64 {
	sum, last, ratio, calm := 1.0, 1.0, 0.0, 0
	for n := 1; n <= mostSteps; n++ {
		alive := step()
		sum += alive
		if alive < negligible {
			return sum
		}
		if n%blockLength != 0 {
			continue
		}
		r := math.Pow(alive/last, 1.0/blockLength)
		if math.Abs(r-ratio) < tolerance*(1-r)+1e-15 {
			calm++
		} else {
			calm = 0
		}
		last, ratio = alive, r
		if calm >= 2 {
			if ratio >= 1 {
				return math.Inf(1)
			}
			return sum + alive*ratio/(1-ratio)
		}
	}
	return math.Inf(1)
}
