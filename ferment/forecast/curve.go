package forecast

import "math"

// dim is the number of parameters of a curve, in the order below.
const dim = 6

// params are the parameters of one curve: original gravity (SG), final gravity
// above the usual dry one (SG), ln of the rate (SG per thermal day), ln of the lag
// (thermal days), loss of rate over the whole extent, and the bow of that loss.
type params [dim]float64

const (
	pOG = iota
	pDry
	pRate
	pLag
	pLoss
	pBow
)

// The extent is laid on a grid of s = −ln(1 − u), u being the share of the fall
// that is done: 0 to 7.5 in steps of 0.1.
const (
	gridStep = 0.1
	gridSize = 76
)

const (
	rampSteep = 3.5                                       // growth ramp: k·tg
	saturate  = 10.3 * (saltSG + alcoholSG*alcoholPerSug) // SG: half rate at 10.3 g/L sugar
	leastFall = 0.002                                     // SG; keeps a wild draw a curve
)

// rampStart is the growth ramp's integral at the pitch.
var rampStart = softplus(-rampSteep)

// gridU and gridBow are u and u² − u on the grid: constants of the method.
var gridU, gridBow = makeGrid()

func makeGrid() (u, bow [gridSize]float64) {
	for i := range u {
		u[i] = -math.Expm1(-gridStep * float64(i))
		bow[i] = u[i]*u[i] - u[i]
	}
	return u, bow
}

// curve is one fall of gravity in thermal time. The growth ramp and the loss of
// rate with extent separate, so one cumulative sum serves the way there and back.
type curve struct {
	og, fall, rate, lag, steep float64
	loss, bow                  float64
	work                       [gridSize]float64 // thermal days at full growth to grid point i
	known                      int               // grid points worked out so far
	scale, level, before       float64           // of the cumulative sum
}

// set makes c the curve of p. Its grid is worked out only as far as it is asked for,
// since early readings need the first third alone.
func (c *curve) set(p *params) {
	c.og = p[pOG]
	c.fall = math.Max(c.og-(DryGravity(c.og)+p[pDry]), leastFall)
	c.rate, c.lag = math.Exp(p[pRate]), math.Exp(p[pLag])
	c.steep = rampSteep / c.lag
	c.loss, c.bow = p[pLoss], p[pBow]
	c.scale = c.fall / c.rate * gridStep / 2
	c.level = 1 + saturate/c.fall
	c.known, c.before = 1, c.level
}

// upTo works the grid out to point i: the trapezoid rule.
func (c *curve) upTo(i int) {
	for ; c.known <= i; c.known++ {
		u := gridU[c.known]
		here := math.Exp(c.loss*u-c.bow*gridBow[c.known]) * (c.level - u)
		c.work[c.known] = c.work[c.known-1] + c.scale*(c.before+here)
		c.before = here
	}
}

// grown is the integral of the growth ramp to theta: thermal days at full growth.
func (c *curve) grown(theta float64) float64 {
	return (softplus(c.steep*(theta-c.lag)) - rampStart) / c.steep
}

// fill writes the gravity at each of the thetas, which must not decrease, into sg.
func (c *curve) fill(thetas, sg []float64) {
	i := 0
	for j, theta := range thetas {
		g := math.Max(c.grown(theta), 0)
		for c.upTo(i + 1); i+1 < gridSize-1 && c.work[i+1] < g; c.upTo(i + 1) {
			i++
		}
		// Past the grid's end the curve stays where that is, a thousandth short of dry.
		f := math.Min((g-c.work[i])/(c.work[i+1]-c.work[i]), 1)
		sg[j] = c.og - c.fall*(1-(1-gridU[i])*expLess(gridStep*f))
	}
}

// reach is when the curve comes down to target, in thermal days since the pitch;
// ok is false where it never does.
func (c *curve) reach(target float64) (theta float64, ok bool) {
	u := (c.og - target) / c.fall
	if u <= 0 {
		return 0, true
	}
	if u >= gridU[gridSize-1] {
		return 0, false
	}
	s := -math.Log1p(-u) / gridStep
	i := min(int(s), gridSize-2)
	c.upTo(i + 1)
	h := c.work[i] + (s-float64(i))*(c.work[i+1]-c.work[i])
	x := h*c.steep + rampStart
	theta = c.lag + (x+math.Log(-math.Expm1(-x)))/c.steep
	return theta, finite(theta)
}

// speed is the fall at gravity sg with the yeast fully grown, SG per thermal day.
func (c *curve) speed(sg float64) float64 {
	u := math.Min(math.Max((c.og-sg)/c.fall, 0), 1)
	left := c.fall * (1 - u)
	return c.rate * math.Exp(-c.loss*u+c.bow*(u*u-u)) * left / (saturate + left)
}

// growth is the ramp itself, 0 to 1.
func (c *curve) growth(theta float64) float64 {
	return 1 / (1 + math.Exp(-c.steep*(theta-c.lag)))
}

// expLess is e⁻ˣ for x from 0 to gridStep, by its series: the first term that is left
// out is below 3·10⁻¹³.
func expLess(x float64) float64 {
	return 1 - x*(1-x/2*(1-x/3*(1-x/4*(1-x/5*(1-x/6*(1-x/7))))))
}

// softplus is ln(1 + eˣ). x is −3.5 or more here, so that nothing is lost by the
// plain logarithm, which is twice as fast as Log1p.
func softplus(x float64) float64 {
	if x > 30 {
		return x
	}
	return math.Log(1 + math.Exp(x))
}
