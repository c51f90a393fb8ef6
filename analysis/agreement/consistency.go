package agreement

import (
	"context"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// CronbachAlpha is the internal consistency of the columns as parts of a sum,
// over the subjects with every part; it equals icc(c,k). Cronbach (1951),
// Psychometrika 16, 297-334. Limits and the F test of alpha 0: Feldt, Woodruff
// and Salih (1987), Applied Psychological Measurement 11, 93-103.
// A ragged table or a level outside of 0 to 1 (0 means 0.95) is told by Err.
func CronbachAlpha(r Ratings, level float64) Coefficient {
	level, err := readable(r, level)
	if err != nil {
		return failed("cronbach-alpha", err)
	}
	c := unknown("cronbach-alpha", level, notDefined)
	full := r.complete()
	if len(full) < 2 || r.raters() < 2 {
		c.Note = "not defined: fewer than 2 subjects with all of at least 2 parts"
		return c
	}
	t := anova(full)
	if !(t.between > 0) {
		return c
	}
	alpha := 1 - t.residual/t.between
	c.Estimate, c.Note = alpha, ""
	if t.residual == 0 {
		c.Note = "no interval: there is no residual variation"
		return c
	}
	f := distuv.F{D1: t.subjectDF, D2: t.residualDF}
	c.Lower = 1 - (1-alpha)*f.Quantile((1+level)/2)
	c.Upper = 1 - (1-alpha)*f.Quantile((1-level)/2)
	c.Method, c.Over = "exact F (Feldt)", OverSubjects
	ratio := 1 / (1 - alpha)
	c.Test = &Test{Statistic: "F", Value: ratio, SE: math.NaN(), DF1: f.D1, DF2: f.D2, P: f.Survival(ratio), Null: "alpha is 0", Formula: "Feldt, Woodruff and Salih (1987)"}
	return c
}

// StandardizedAlpha is Cronbach's alpha of the standardised columns, from the
// mean correlation between them. It panics on a ragged table.
func StandardizedAlpha(r Ratings) float64 {
	r.must()
	full := r.complete()
	k := float64(r.raters())
	cov := covariance(full)
	sum := 0.0
	for i := range r.raters() {
		for j := range i {
			sum += cov.At(i, j) / math.Sqrt(cov.At(i, i)*cov.At(j, j))
		}
	}
	mean := sum / (k * (k - 1) / 2)
	return k * mean / (1 + (k-1)*mean)
}

// AlphaWithout is Cronbach's alpha with each column left out in turn; NaN when
// fewer than two remain. It panics on a ragged table.
func AlphaWithout(r Ratings) []float64 {
	r.must()
	out := make([]float64, r.raters())
	full := r.complete()
	for j := range out {
		var keep []int
		for i := range out {
			if i != j {
				keep = append(keep, i)
			}
		}
		out[j] = CronbachAlpha(full.only(keep...), 0.95).Estimate
	}
	return out
}

// covariance of the columns of a complete table.
func covariance(full Ratings) *mat.SymDense {
	k, n := full.raters(), float64(len(full))
	mean := make([]float64, k)
	for _, row := range full {
		for j, v := range row {
			mean[j] += v / n
		}
	}
	out := mat.NewSymDense(k, nil)
	for _, row := range full {
		for i := range k {
			for j := i; j < k; j++ {
				out.SetSym(i, j, out.At(i, j)+(row[i]-mean[i])*(row[j]-mean[j])/(n-1))
			}
		}
	}
	return out
}

// A Factor is the one-factor model of the columns of a table.
type Factor struct {
	Loadings, Unique []float64 // loadings and unique variances of the columns as they are
	Omega            float64   // share of the sum's variance that the factor explains in the model
	Heywood          bool      // a unique variance is at its bound
}

// OneFactor fits one common factor by maximum likelihood and gives McDonald's
// omega, (Σλ)²/((Σλ)² + Σψ), for the unweighted sum. McDonald (1999), Test
// Theory, chapter 6; the fit is the EM algorithm of Rubin and Thayer (1982),
// Psychometrika 47, 69-76, on the correlations. It panics on a ragged table.
func OneFactor(r Ratings) Factor {
	r.must()
	return oneFactor(covariance(r.complete()), allDigits)
}

// How little the squared loadings may still change for a factor to be found: to the last
// digits, or, in a resampled table, far below what resampling changes.
const (
	allDigits    = 1e-24
	enoughDigits = 1e-14
)

func oneFactor(cov *mat.SymDense, still float64) Factor {
	k := cov.SymmetricDim()
	f := Factor{Loadings: make([]float64, k), Unique: make([]float64, k), Omega: math.NaN()}
	if k < 3 {
		return f
	}
	sd := make([]float64, k)
	for i := range sd {
		sd[i] = math.Sqrt(cov.At(i, i))
		if !(sd[i] > 0) {
			return f
		}
	}
	corr := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			corr.SetSym(i, j, cov.At(i, j)/(sd[i]*sd[j]))
		}
	}
	λ, ψ, exact := triad(corr)
	if !exact {
		λ, ψ = factorEM(corr, still)
	}
	var sum, unique float64
	for i := range k {
		f.Loadings[i], f.Unique[i] = λ[i]*sd[i], ψ[i]*sd[i]*sd[i]
		f.Heywood = f.Heywood || ψ[i] <= minUnique*1.01
		sum += f.Loadings[i]
		unique += f.Unique[i]
	}
	f.Omega = sum * sum / (sum*sum + unique)
	return f
}

// minUnique bounds a unique share of variance away from 0.
const minUnique = 0.005

// triad is the factor of three columns whose correlations it gives back exactly: each loading
// squared is the product of the column's two correlations over the third (Spearman, 1904, American
// Journal of Psychology 15, 201-293). False where there are other than three, or no such factor.
func triad(corr *mat.SymDense) (λ, ψ []float64, ok bool) {
	if corr.SymmetricDim() != 3 {
		return nil, nil, false
	}
	a, b, c := corr.At(0, 1), corr.At(0, 2), corr.At(1, 2)
	if !(a*b*c > 0) {
		return nil, nil, false
	}
	first := math.Sqrt(a * b / c)
	if 1+a+b < 0 { // as the sum of the columns goes
		first = -first
	}
	λ = []float64{first, a / first, b / first}
	for _, l := range λ {
		if !(1-l*l >= minUnique) {
			return nil, nil, false
		}
		ψ = append(ψ, 1-l*l)
	}
	return λ, ψ, true
}

// factorEM fits loadings and unique variances of one factor to a correlation
// matrix, speeded up by squared extrapolation (Varadhan and Roland, 2008,
// Scandinavian Journal of Statistics 35, 335-353).
func factorEM(corr *mat.SymDense, still float64) (λ, ψ []float64) {
	k := corr.SymmetricDim()
	λ, ψ = make([]float64, k), make([]float64, k)
	for i := range k {
		row := 0.0
		for j := range k {
			row += corr.At(i, j)
		}
		λ[i] = row / math.Sqrt(mat.Sum(corr))
		λ[i] = math.Max(-0.95, math.Min(0.95, λ[i]))
	}
	w, cross := make([]float64, k), make([]float64, k)
	all := make([]float64, 0, k*k) // the matrix row by row, which is read very often
	for i := range k {
		for j := range k {
			all = append(all, corr.At(i, j))
		}
	}
	next := func(λ []float64) []float64 {
		// With ψ = 1 − λ² held inside, one EM step for the factor given the data.
		inv, second := 1.0, 0.0
		for i := range k {
			ψ[i] = math.Max(minUnique, 1-λ[i]*λ[i])
			w[i] = λ[i] / ψ[i]
			inv += λ[i] * w[i]
		}
		for i := range k {
			cross[i] = floats.Dot(all[i*k:(i+1)*k], w) / inv
		}
		for i := range k {
			second += w[i] / inv * cross[i]
		}
		second += 1 / inv
		out := make([]float64, k)
		for i := range k {
			out[i] = cross[i] / second
		}
		return out
	}
	for range 5000 {
		a := next(λ)
		b := next(a)
		var rr, vv float64
		for i := range k {
			r := a[i] - λ[i]
			v := b[i] - a[i] - r
			rr += r * r
			vv += v * v
		}
		if rr < still {
			break
		}
		step := -1.0
		if vv > 0 {
			step = math.Max(-8, math.Min(-1, -math.Sqrt(rr/vv)))
		}
		for i := range k {
			r := a[i] - λ[i]
			v := b[i] - a[i] - r
			λ[i] += -2*step*r + step*step*v
		}
		λ = next(λ)
	}
	for i := range k {
		ψ[i] = math.Max(minUnique, 1-λ[i]*λ[i])
	}
	return λ, ψ
}

// McDonaldOmega is omega with a bootstrap interval of subjects.
func McDonaldOmega(ctx context.Context, r Ratings, o Options) (Coefficient, error) {
	if err := usable(r, o); err != nil {
		return failed("mcdonald-omega", err), err
	}
	c := unknown("mcdonald-omega", o.level(), "not defined: a factor needs at least 3 columns that vary and more subjects than columns")
	full := r.complete()
	if r.raters() < 3 || len(full) <= r.raters() {
		return c, nil
	}
	f := OneFactor(full)
	if math.IsNaN(f.Omega) {
		return c, nil
	}
	c.Estimate, c.Note = f.Omega, ""
	if k := float64(r.raters()); float64(len(full))*k*k*float64(o.Sampling.Count()) > 2e9 {
		c.Note = "no interval: the table is too large to bootstrap a factor"
		return c, nil
	}
	ivs, err := bySubjects(ctx, o, "mcdonald-omega", len(full), func() statistic {
		drawn := make(Ratings, len(full))
		return func(draw []int) []float64 {
			drawn = drawn[:len(draw)]
			for i, at := range draw {
				drawn[i] = full[at]
			}
			return []float64{oneFactor(covariance(drawn), enoughDigits).Omega}
		}
	})
	if err != nil {
		return c, err
	}
	c = c.promote(ivs[0])
	if f.Heywood {
		c.Note = joined(c.Note, "a column's own variance is at its bound: the one-factor model does not suit these data")
	}
	return c, nil
}
