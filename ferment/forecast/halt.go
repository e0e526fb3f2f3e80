package forecast

import "math"

// Weights of the hypotheses before the readings, and the shape of the test.
const (
	weightUsual   = 0.95
	weightSlowing = 0.03
	weightGap     = 0.01  // of a halt in one gap between readings
	haltGaps      = 4     // newest gaps in which a halt is looked for
	haltPoints    = 6     // times tried in a gap
	haltFall      = 0.004 // SG that must be gone before it, else it never began
	nearDry       = 0.006 // SG above dry below which nothing is wrong
	haltReadings  = 3     // fewer show nothing
	haltDraws     = 1000  // for evidences alone, which need fewer than quantiles
)

// tester keeps the posteriors of the usual prior by number of readings, which the
// tests at two readings share.
type tester struct {
	series         series
	obs            observations
	normal, slowly prior
	usual          map[int]*posterior
}

func newTester(s series, obs observations, blind bool) *tester {
	return &tester{s, obs, usual.forBatch(s, blind), slowing.forBatch(s, blind), map[int]*posterior{}}
}

// after is the usual posterior after the first n readings, with the full number of
// draws only after all of them.
func (t *tester) after(n int) *posterior {
	if t.usual[n] == nil {
		draws := haltDraws
		if n == len(t.obs.sg) {
			draws = drawCount
		}
		t.usual[n] = sample(t.normal, t.obs.first(n), draws)
	}
	return t.usual[n]
}

// at weighs normal, slowing and halted after the first n readings.
func (t *tester) at(n int) Problem {
	if n < haltReadings || t.obs.sg[n-1] <= DryGravity(t.series.og)+nearDry {
		return Problem{}
	}
	normal := math.Log(weightUsual) + t.after(n).logZ
	slow := math.Log(weightSlowing) + sample(t.slowly, t.obs.first(n), haltDraws).logZ
	halted := math.Inf(-1)
	for gap := 1; gap <= haltGaps && n-gap >= 2; gap++ {
		// Older gaps count too, or a halt would be forgotten after the third
		// reading that shows it, just when it is certain.
		halted = logAdd(halted, math.Log(weightGap)+t.halted(n-gap, n))
	}
	all := logAdd(logAdd(normal, slow), halted)
	if math.IsInf(all, -1) || math.IsNaN(all) {
		return Problem{} // nothing explains the readings: no ground to accuse the yeast
	}
	return Problem{Tested: true, Slowing: math.Exp(slow - all), Halt: math.Exp(halted - all)}
}

// halted is the log evidence of n readings if the gravity stood still from some
// moment between reading j and the next, and was usual until then.
func (t *tester) halted(j, n int) float64 {
	if t.series.og-t.obs.sg[j-1] < haltFall {
		return math.Inf(-1)
	}
	// The middles of six equal parts of the gap stand for all of it.
	var when, sg [haltPoints]float64
	from, to := t.obs.theta[j-1], t.obs.theta[j]
	for i := range when {
		when[i] = from + (to-from)*(float64(i)+0.5)/haltPoints
	}
	later := observations{t.obs.theta[j:n], t.obs.sg[j:n], t.obs.sigma}
	still := make([]float64, n-j)
	sum := 0.0
	before := t.after(j)
	before.each(func(c *curve, w float64) {
		c.fill(when[:], sg[:])
		for _, g := range sg {
			for l := range still {
				still[l] = g
			}
			sum += w / haltPoints * math.Exp(later.logLikelihood(still))
		}
	})
	return before.logZ + math.Log(sum)
}

// logAdd is ln(eᵃ + eᵇ).
func logAdd(a, b float64) float64 {
	hi, lo := math.Max(a, b), math.Min(a, b)
	if math.IsInf(hi, -1) {
		return hi
	}
	return hi + math.Log1p(math.Exp(lo-hi))
}
