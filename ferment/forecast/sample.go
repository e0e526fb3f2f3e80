package forecast

import (
	"math"
	"math/rand/v2"
)

// Constants of the sampling.
const (
	drawCount  = 2000
	drawDF     = 5.0  // of the multivariate t that proposes
	drawSpread = 1.15 // its scale over the fitted one
	poorShare  = 0.2  // effective share of the draws below which it is fitted anew
	maxRefits  = 3
	keepOld    = 0.02 // of the old covariance, against collapse
	seed       = 20   // any constant will do
)

// proposal is the multivariate t that draws come from.
type proposal struct {
	mid   params
	scale square // lower factor
	norm  float64
}

// newProposal is false where cov is no covariance. The t has heavier tails than the
// posterior, so that no draw can outweigh all the others.
func newProposal(mid params, cov *square) (proposal, bool) {
	l, ok := cov.cholesky()
	for i := range dim {
		for j := range dim {
			l[i][j] *= drawSpread
		}
	}
	norm := lgamma((drawDF+dim)/2) - lgamma(drawDF/2) - dim/2.0*math.Log(drawDF*math.Pi)
	return proposal{mid, l, norm - l.logDet()}, ok
}

// draw returns standard scores and the log density of proposing them.
func (q *proposal) draw(rng *rand.Rand) (params, float64) {
	var n params
	length := 0.0
	for i := range n {
		n[i] = rng.NormFloat64()
		length += n[i] * n[i]
	}
	chi2 := 0.0
	for range int(drawDF) {
		x := rng.NormFloat64()
		chi2 += x * x
	}
	// A normal vector over the root of a chi-square is a t; its length under the
	// scale is what the density needs, so L⁻¹ is never applied.
	stretch := drawDF / chi2
	root := math.Sqrt(stretch)
	for i := range n {
		n[i] *= root
	}
	z := q.scale.times(&n)
	for i := range z {
		z[i] += q.mid[i]
	}
	return z, q.norm - (drawDF+dim)/2*math.Log1p(length*stretch/drawDF)
}

// posterior is what is believed after the readings: draws with weights.
type posterior struct {
	prior  prior
	best   params    // standard scores of the most probable curve
	z      []params  // standard scores
	weight []float64 // of each draw; they add up to 1
	logZ   float64   // log evidence of the prior
	ess    float64   // effective number of draws
}

// sample fits the readings under a prior and draws n curves. Where few of them
// carry the weight, the proposal is fitted to the draws and they are drawn anew:
// without that one posterior in twenty stands on fewer than 50 of 1000 draws.
func sample(p prior, obs observations, n int) *posterior {
	f := fit(&p, obs)
	post := &posterior{prior: p, best: f.z, z: make([]params, n), weight: make([]float64, n)}
	q, _ := newProposal(f.z, &f.cov) // a fit's own spread can always be drawn from
	for round := 0; ; round++ {
		post.redraw(&q, obs, uint64(round))
		if round == maxRefits || post.ess >= poorShare*float64(n) {
			return post
		}
		mid, cov := post.moments()
		for i := range dim {
			for j := range dim {
				cov[i][j] += keepOld * f.cov[i][j]
			}
		}
		f.cov = cov
		var ok bool
		if q, ok = newProposal(mid, &cov); !ok {
			return post
		}
	}
}

// redraw fills the draws and weighs them.
func (post *posterior) redraw(q *proposal, obs observations, round uint64) {
	// The round is the stream: the draws of a refit must not repeat those that it
	// was fitted to.
	rng := rand.New(rand.NewPCG(seed, round))
	var c curve
	sg := make([]float64, len(obs.sg))
	most := math.Inf(-1)
	for i := range post.z {
		z, proposed := q.draw(rng)
		p := post.prior.params(&z)
		c.set(&p)
		c.fill(obs.theta, sg)
		w := obs.logLikelihood(sg) + logDensity(&z) - proposed
		if math.IsNaN(w) { // a curve too wild for its grid
			w = math.Inf(-1)
		}
		post.z[i], post.weight[i] = z, w
		most = math.Max(most, w)
	}
	post.normalise(most)
}

// normalise turns log weights, the greatest of which is most, into shares.
func (post *posterior) normalise(most float64) {
	if math.IsInf(most, -1) { // nothing fits at all: the best curve stands for the rest
		clear(post.weight)
		post.z[0], post.weight[0] = post.best, 1
		post.logZ, post.ess = most, 1
		return
	}
	sum, squares := 0.0, 0.0
	for i, w := range post.weight {
		post.weight[i] = math.Exp(w - most)
		sum += post.weight[i]
	}
	for i := range post.weight {
		post.weight[i] /= sum
		squares += post.weight[i] * post.weight[i]
	}
	post.logZ = most + math.Log(sum/float64(len(post.weight)))
	post.ess = 1 / squares
}

// moments are mean and covariance of the draws, each counted with the root of its
// weight, which keeps the spread wide while few of them carry it all.
func (post *posterior) moments() (mid params, cov square) {
	sum := 0.0
	for k, w := range post.weight {
		w = math.Sqrt(w)
		sum += w
		for i, x := range post.z[k] {
			mid[i] += w * x
		}
	}
	for i := range mid {
		mid[i] /= sum
	}
	for k, w := range post.weight {
		w = math.Sqrt(w) / sum
		for i := range dim {
			for j := range dim {
				cov[i][j] += w * (post.z[k][i] - mid[i]) * (post.z[k][j] - mid[j])
			}
		}
	}
	return mid, cov
}

// each calls f with every curve that carries weight, in the order drawn.
func (post *posterior) each(f func(c *curve, weight float64)) {
	var c curve
	// All the draws left out together weigh less than a hundred-thousandth.
	floor := 1e-5 / float64(len(post.weight))
	for i, w := range post.weight {
		if w < floor {
			continue
		}
		p := post.prior.params(&post.z[i])
		c.set(&p)
		f(&c, w)
	}
}
