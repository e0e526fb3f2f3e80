package forecast

import "math"

// Gravity of the solutes (from tables of sucrose and ethanol solutions, straight
// over the range of a ferment) and what a must holds beside sugar.
const (
	saltSG        = 3.85e-4 // SG per g/L of extract
	alcoholSG     = 1.66e-4 // SG below water per g/L of ethanol
	alcoholPerSug = 0.47    // g of ethanol per g of sugar
	otherExtract  = 22.0    // g/L that does not ferment
)

// unreadOG and unreadSD are a must's gravity where nobody read it, SG: the middle
// and spread of table wine musts (common practice, no source).
const unreadOG, unreadSD = 1.088, 0.012

// startFall is the fall that proves a start, SG (common practice).
const startFall = 0.003

// DryGravity is the gravity (SG, 20/20 °C) at which a must of original gravity og
// has no sugar left: 1 + its other extract − the alcohol of its sugar. Valid for
// grape, fruit and honey musts of MinOG to MaxOG; beer ends higher.
func DryGravity(og float64) float64 {
	sugar := (og-1)/saltSG - otherExtract
	return 1 + saltSG*otherExtract - alcoholSG*alcoholPerSug*sugar
}

// prior is what is believed of the parameters before a reading: independent
// normals. The fit works in their standard scores, where each is N(0, 1).
type prior struct{ mean, sd params }

// Priors of the method: made from 163 real ferments of four published studies and
// 300 simulated with the model of Coleman, Fish and Block (2007).
var (
	usual   = prior{params{0, 0.0025, -3.80, 0.30, 0.65, -0.5}, params{0.003, 0.003, 0.50, 0.40, 0.80, 1.1}}
	slowing = prior{params{0, 0.0025, -4.40, 0.40, 3.20, 0.3}, params{0.003, 0.003, 0.80, 0.60, 1.80, 1.2}}
)

// Standard deviations of ln rate and ln lag where no temperature is known: 20 °C is
// assumed and may be out by several degrees.
const blindRateSD, blindLagSD = 0.65, 0.50

// forBatch sets the prior's original gravity, and widens it for what is not known.
func (p prior) forBatch(s series, blind bool) prior {
	p.mean[pOG] = s.og
	if s.assumed {
		p.sd[pOG] = unreadSD
	}
	if blind {
		p.sd[pRate] = math.Max(p.sd[pRate], blindRateSD)
		p.sd[pLag] = math.Max(p.sd[pLag], blindLagSD)
	}
	return p
}

// params turns standard scores into parameters.
func (p *prior) params(z *params) params {
	var out params
	for i := range out {
		out[i] = p.mean[i] + p.sd[i]*z[i]
	}
	return out
}

// logDensity is the prior's log density of the standard scores.
func logDensity(z *params) float64 {
	sum := dim * math.Log(2*math.Pi)
	for _, x := range z {
		sum += x * x
	}
	return -sum / 2
}

// Student's t with six degrees of freedom is the distribution of one reading: a
// misread stem must not pull the curve.
const errorDF = 6.0

// modelSD is what the curve itself leaves unexplained, SG.
const modelSD = 0.0012

// observations are the readings as the fit sees them.
type observations struct {
	theta, sg []float64 // thermal days, SG; theta does not decrease
	sigma     float64   // scale of one reading, SG
}

func (o observations) first(n int) observations {
	return observations{o.theta[:n], o.sg[:n], o.sigma}
}

// logT is the log density of readings that miss by the given residuals' product:
// n readings, and the sum of ln(1 + r²/(6σ²)).
func (o observations) logT(n int, sum float64) float64 {
	return float64(n)*(logTNorm-math.Log(o.sigma)) - (errorDF+1)/2*sum
}

var logTNorm = lgamma((errorDF+1)/2) - lgamma(errorDF/2) - math.Log(errorDF*math.Pi)/2

func lgamma(x float64) float64 {
	v, _ := math.Lgamma(x)
	return v
}

// logLikelihood is the log density of the readings under the gravities of a curve.
func (o observations) logLikelihood(sg []float64) float64 {
	sum, product := 0.0, 1.0
	k := 1 / (errorDF * o.sigma * o.sigma)
	for i, y := range o.sg {
		r := y - sg[i]
		product *= 1 + r*r*k
		if product > 1e200 {
			sum, product = sum+math.Log(product), 1
		}
	}
	return o.logT(len(o.sg), sum+math.Log(product))
}
