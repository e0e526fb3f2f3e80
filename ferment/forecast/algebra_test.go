package forecast

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestCholesky: the symmetric Pascal matrix is the product of the triangle of
// binomial coefficients and its transpose (a known identity; Edelman and Strang
// 2004, American Mathematical Monthly 111:189).
func TestCholesky(t *testing.T) {
	binomial := func(n, k int) float64 {
		b := 1.0
		for i := range k {
			b = b * float64(n-i) / float64(i+1)
		}
		return b
	}
	var pascal square
	for i := range dim {
		for j := range dim {
			pascal[i][j] = binomial(i+j, i)
		}
	}
	l, ok := pascal.cholesky()
	if !ok {
		t.Fatal("not positive definite")
	}
	for i := range dim {
		for j := range dim {
			want := 0.0
			if j <= i {
				want = binomial(i, j)
			}
			if math.Abs(l[i][j]-want) > 1e-9 {
				t.Errorf("L[%d][%d] = %v, want %v", i, j, l[i][j], want)
			}
		}
	}
	if d := l.logDet(); math.Abs(d) > 1e-9 {
		t.Errorf("ln det %v, want 0", d)
	}
	if _, ok := (&square{}).cholesky(); ok {
		t.Error("a zero matrix has a factor")
	}
}

// TestInverse: min(i, j) is the covariance of a random walk; its inverse is the
// second difference, 2 on the diagonal, −1 beside it, 1 in the last corner.
func TestInverse(t *testing.T) {
	var walk square
	for i := range dim {
		for j := range dim {
			walk[i][j] = float64(min(i, j) + 1)
		}
	}
	l, _ := walk.cholesky()
	inv := l.inverse()
	for i := range dim {
		for j := range dim {
			want := map[int]float64{0: 2, 1: -1}[max(i-j, j-i)]
			if i == dim-1 && j == dim-1 {
				want = 1
			}
			if math.Abs(inv[i][j]-want) > 1e-9 {
				t.Errorf("inverse[%d][%d] = %v, want %v", i, j, inv[i][j], want)
			}
		}
	}
	ones := params{1, 1, 1, 1, 1, 1}
	for i, y := range l.times(&ones) {
		if y != float64(i+1) { // the factor is the triangle of ones
			t.Errorf("L·1 at %d: %v, want %d", i, y, i+1)
		}
	}
}

func TestQuantile(t *testing.T) {
	xs := []weighted{{5, 1}, {1, 1}, {3, 1}, {2, 1}, {4, 1}}
	low, median, high := spread(xs)
	if low != 1 || median != 3 || high != 5 {
		t.Errorf("of 1 to 5: %v %v %v, want 1 3 5", low, median, high)
	}
	// A weight of two counts as the value twice: by symmetry the median is 2.
	if _, m, _ := spread([]weighted{{1, 1}, {2, 2}, {3, 1}}); math.Abs(m-2) > 1e-12 {
		t.Errorf("median %v, want 2", m)
	}
	if l, m, h := spread([]weighted{{7, 0.3}}); l != 7 || m != 7 || h != 7 {
		t.Errorf("of one value: %v %v %v", l, m, h)
	}
	// Quantiles of the standard normal: ±1.2816 (tables).
	rng := rand.New(rand.NewPCG(1, 2))
	many := make([]weighted, 200_000)
	for i := range many {
		many[i] = weighted{rng.NormFloat64(), 1}
	}
	low, median, high = spread(many)
	if math.Abs(low+1.2816) > 0.015 || math.Abs(median) > 0.015 || math.Abs(high-1.2816) > 0.015 {
		t.Errorf("of a normal: %.3f %.3f %.3f", low, median, high)
	}
}

// TestReadingDensity: Student's t with six degrees of freedom is 15/(16·√6) high in
// the middle, and 10 % of it lies beyond ±1.943 (tables).
func TestReadingDensity(t *testing.T) {
	o := observations{sg: []float64{0}, sigma: 1}
	density := func(x float64) float64 { return math.Exp(o.logLikelihood([]float64{x})) }
	if got, want := density(0), 15/(16*math.Sqrt(6)); math.Abs(got-want) > 1e-12 {
		t.Errorf("in the middle %v, want %v", got, want)
	}
	inside := 0.0
	const h = 0.001
	for x := -1.943; x < 1.943; x += h {
		inside += h * density(x+h/2)
	}
	if math.Abs(inside-0.9) > 0.001 {
		t.Errorf("within ±1.943: %.4f, want 0.900", inside)
	}
	// Many wild residuals must not overflow: 300 of 10⁶ sigma each.
	wild := observations{sg: make([]float64, 300), sigma: 1}
	misses := make([]float64, 300)
	for i := range misses {
		misses[i] = 1e6
	}
	if got, want := wild.logLikelihood(misses), 300*math.Log(density(1e6)); math.Abs(got-want) > 1e-6*math.Abs(want) {
		t.Errorf("300 wild readings: %v, want %v", got, want)
	}
}

// TestEvidence: the weighted draws give the same evidence as an average of the
// likelihood over draws straight from the prior.
func TestEvidence(t *testing.T) {
	for _, c := range mustPosteriors(t)[:2] {
		p, obs := c.prepare()
		rng := rand.New(rand.NewPCG(3, 3))
		const n = 200_000
		sum := 0.0
		sg := make([]float64, len(obs.sg))
		var cv curve
		for range n {
			var z params
			for i := range z {
				z[i] = rng.NormFloat64()
			}
			th := p.params(&z)
			cv.set(&th)
			cv.fill(obs.theta, sg)
			sum += math.Exp(obs.logLikelihood(sg))
		}
		want := math.Log(sum / n)
		if got := sample(p, obs, drawCount).logZ; math.Abs(got-want) > 0.12 {
			t.Errorf("%d readings: ln evidence %.3f, want %.3f", len(obs.sg), got, want)
		}
	}
}

// TestNothingFits: where no curve has any likelihood the weights still are shares.
func TestNothingFits(t *testing.T) {
	s := series{og: 1.090}
	post := sample(usual.forBatch(s, false), observations{[]float64{0, 2}, []float64{1.090, math.Inf(1)}, 0.0016}, 50)
	sum := 0.0
	for _, w := range post.weight {
		sum += w
	}
	if sum != 1 || !math.IsInf(post.logZ, -1) {
		t.Errorf("weights add up to %v, ln evidence %v", sum, post.logZ)
	}
}
