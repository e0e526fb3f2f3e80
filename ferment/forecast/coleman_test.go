package forecast

import (
	"math"
	"testing"
)

// ferment is a wine fermentation by the model of Coleman, Fish and Block (2007,
// Appl. Environ. Microbiol. 73:5875; equations and coefficients from a second-hand
// transcription, one of them, ln βmax at 0 °C, in two readings), and what befalls it.
type ferment struct {
	S0, N0    float64 // g/L sugar, mg/L assimilable nitrogen
	X0        float64 // g/L yeast pitched
	lag       float64 // h before anything happens
	beta      float64 // ln βmax at 0 °C: −2.30 or −2.98
	extract   float64 // g/L that does not ferment
	temp      func(day float64) float64
	killAt    float64 // share of the sugar gone at which yeast dies; 0: never
	survivors float64 // share of the yeast left then
	rate      float64 // factor on the sugar rate; 0: 1
	fedOn     float64 // day on which sugar is added; 0: never
	feed      float64 // g/L of it
}

// state of the model: total and active yeast, nitrogen, ethanol, sugar, all g/L.
type state [5]float64

// slope of the state at hour t.
func (f *ferment) slope(t float64, y state) state {
	if t < f.lag {
		return state{}
	}
	T, n, s := f.temp(t/24), math.Max(y[2], 0), math.Max(y[4], 0)
	rate := f.rate
	if rate == 0 {
		rate = 1
	}
	mu := math.Exp(-3.92+0.0782*T) * n / (math.Exp(-4.73) + n)
	beta := rate * math.Exp(f.beta+0.0771*T) * s / (math.Exp(2.33) + s)
	death := math.Exp(-9.81-0.108*T+0.00478*T*T) * y[3]
	x := y[1]
	return state{mu * x, (mu - death) * x, -mu * x / math.Exp(3.50-0.00361*f.N0), beta * x, -beta * x / math.Exp(-0.598)}
}

// run gives sugar (g/L) at each whole step of h hours up to the day given, and the
// day on which the yeast was killed, if it was.
func (f *ferment) run(days, h float64) (sugar []float64, killed float64) {
	y := state{f.X0, f.X0, f.N0 / 1000, 0, f.S0}
	add := func(y, k state, h float64) state {
		for i := range y {
			y[i] += h * k[i]
		}
		return y
	}
	for t := 0.0; ; t += h {
		sugar = append(sugar, math.Max(y[4], 0))
		if t >= days*24 {
			return sugar, killed
		}
		if f.killAt > 0 && killed == 0 && y[4] <= f.S0*(1-f.killAt) {
			killed = t / 24
			y[1] *= f.survivors
		}
		if f.fedOn > 0 && t == math.Round(f.fedOn*24) {
			y[4] += f.feed
		}
		a := f.slope(t, y)
		b := f.slope(t+h/2, add(y, a, h/2))
		c := f.slope(t+h/2, add(y, b, h/2))
		d := f.slope(t+h, add(y, c, h))
		for i := range y {
			y[i] += h / 6 * (a[i] + 2*b[i] + 2*c[i] + d[i])
		}
	}
}

// gravity on day of a must of which s is left: the linear law of the method's page.
func (f *ferment) gravity(day, s float64) float64 {
	made := f.S0 - s
	if f.fedOn > 0 && day > f.fedOn {
		made += f.feed
	}
	return 1 + saltSG*(s+f.extract) - alcoholSG*alcoholPerSug*made
}

// truth is a curve known without noise, by equal steps of days.
type truth struct {
	step   float64
	sg     []float64
	tempC  float64                   // where it was steady
	temp   func(day float64) float64 // as it was
	killed float64                   // day of an arrest; 0: none
	left   float64                   // g/L of sugar in the end
}

func (f ferment) truth(days float64) truth {
	const h = 1.0
	sugar, killed := f.run(days, h)
	out := truth{step: h / 24, temp: f.temp, tempC: f.temp(0), killed: killed, left: sugar[len(sugar)-1]}
	for i, s := range sugar {
		out.sg = append(out.sg, f.gravity(float64(i)*out.step, s))
	}
	return out
}

func (c truth) at(day float64) float64 {
	x := day / c.step
	i := min(int(x), len(c.sg)-2)
	return c.sg[i] + (x-float64(i))*(c.sg[i+1]-c.sg[i])
}

// reaches is the day on which the curve comes down to g, or +Inf.
func (c truth) reaches(g float64) float64 {
	for i := 1; i < len(c.sg); i++ {
		if c.sg[i] <= g {
			return c.step * (float64(i-1) + (c.sg[i-1]-g)/(c.sg[i-1]-c.sg[i]))
		}
	}
	return math.Inf(1)
}

// TestColeman holds the simulation to the check of the test vectors, which comes
// from an independent implementation. Half a g/L is allowed: how that one begins
// after the lag is not stated.
func TestColeman(t *testing.T) {
	for _, v := range mustVectors(t) {
		if c := v.Coleman; c != nil {
			f := ferment{S0: c.S0, N0: c.N0, X0: c.X0, lag: c.Lag, beta: c.BetaInt, temp: func(float64) float64 { return c.T }}
			sugar, _ := f.run(c.Hours[len(c.Hours)-1]/24, 1)
			for i, hour := range c.Hours {
				if got := sugar[int(hour)]; math.Abs(got-c.S[i]) > 0.5 {
					t.Errorf("%v h: %.2f g/L sugar, want %.2f", hour, got, c.S[i])
				}
			}
			return
		}
	}
	t.Error("no check of the model among the vectors")
}
