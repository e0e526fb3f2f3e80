package forecast

import "math"

// fitted is the most probable curve: its standard scores, and the covariance of
// theirs that the readings leave.
type fitted struct {
	z   params
	cov square
}

// Constants of the search.
const (
	maxSteps   = 60
	jacobiStep = 1e-4  // standard deviations of the prior
	smallGain  = 1e-10 // relative fall of the misfit that ends the search
)

// fitter holds the work space of one search.
type fitter struct {
	prior *prior
	obs   observations
	curve curve
	sg    []float64
}

// fit finds the most probable curve by Levenberg and Marquardt's method from seven
// starts: the middle of the prior, and one standard deviation to either side in
// rate, lag and loss.
func fit(p *prior, obs observations) fitted {
	f := &fitter{prior: p, obs: obs, sg: make([]float64, len(obs.sg))}
	starts := []params{{}}
	for _, i := range []int{pRate, pLag, pLoss} {
		var up, down params
		up[i], down[i] = 1, -1
		starts = append(starts, up, down)
	}
	// Few readings leave several minima: fast with a long lag, slow with a short
	// one. The same start always wins, which the constant answer needs.
	best, least := params{}, math.Inf(1)
	for _, z := range starts {
		if z, cost := f.descend(z); cost < least {
			best, least = z, cost
		}
	}
	hessian, _ := f.normal(&best, f.residuals(&best))
	l, ok := hessian.cholesky()
	if !ok { // cannot be: the prior alone makes it at least the unit matrix
		return fitted{best, identity()}
	}
	return fitted{best, l.inverse()}
}

// identity is the Hessian of the prior alone, in standard scores.
func identity() square {
	var a square
	for i := range dim {
		a[i][i] = 1
	}
	return a
}

// residuals of the readings, in units of sigma.
func (f *fitter) residuals(z *params) []float64 {
	p := f.prior.params(z)
	f.curve.set(&p)
	f.curve.fill(f.obs.theta, f.sg)
	r := make([]float64, len(f.sg))
	for i, y := range f.obs.sg {
		r[i] = (f.sg[i] - y) / f.obs.sigma
	}
	return r
}

// misfit is half the sum of squares of the residuals and of the scores, which are
// the residuals of the prior.
func misfit(z *params, r []float64) float64 {
	sum := 0.0
	for _, x := range r {
		sum += x * x
	}
	for _, x := range z {
		sum += x * x
	}
	return sum / 2
}

// normal gives JᵀJ and Jᵀr at z, the prior's rows included. The Jacobian is taken by
// differences: the grid makes the curve piecewise, and its derivative no simpler.
func (f *fitter) normal(z *params, r []float64) (square, params) {
	a, g := identity(), *z
	var rows [dim][]float64
	for i := range dim {
		step := *z
		step[i] += jacobiStep
		rows[i] = f.residuals(&step)
		for k := range r {
			rows[i][k] = (rows[i][k] - r[k]) / jacobiStep
			g[i] += rows[i][k] * r[k]
		}
		for j := 0; j <= i; j++ {
			for k := range r {
				a[i][j] += rows[i][k] * rows[j][k]
			}
			a[j][i] = a[i][j]
		}
	}
	return a, g
}

// descend walks from z to the nearest minimum of the misfit.
func (f *fitter) descend(z params) (params, float64) {
	r := f.residuals(&z)
	cost, damp := misfit(&z, r), 1e-3
	// Large damping is a short step downhill, small damping Newton's step. A step
	// that gains nothing is tried again shorter.
	for range maxSteps {
		a, g := f.normal(&z, r)
		gained := false
		for ; damp < 1e8; damp *= 10 {
			damped := a
			for i := range dim {
				damped[i][i] *= 1 + damp
			}
			l, ok := damped.cholesky()
			if !ok {
				continue
			}
			next := z
			for i, d := range l.backward(l.forward(g)) {
				next[i] -= d
			}
			rn := f.residuals(&next)
			if c := misfit(&next, rn); c < cost {
				gained = cost-c > smallGain*cost
				z, r, cost = next, rn, c
				damp = math.Max(damp/10, 1e-9)
				break
			}
		}
		if !gained {
			break
		}
	}
	return z, cost
}
