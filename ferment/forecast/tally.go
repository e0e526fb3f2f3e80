package forecast

import (
	"cmp"
	"math"
	"slices"
)

// crossing collects the thermal times at which the curves come down to target. A
// curve that was there before the newest reading is there now.
type crossing struct {
	target    float64 // SG
	from      float64 // day of the newest reading
	now, end  float64 // thermal days: from, and the last that still is a date
	clk       *clock
	reached   []weighted
	neverMass float64
}

// newCrossing collects for one target; from is the day of the newest reading.
func newCrossing(target, from float64, clk *clock) *crossing {
	return &crossing{target: target, from: from, clk: clk, now: clk.at(from), end: clk.at(from + Horizon)}
}

func (x *crossing) add(c *curve, w float64) {
	theta, ok := c.reach(x.target)
	if !ok || theta > x.end {
		x.neverMass += w
		return
	}
	x.reached = append(x.reached, weighted{math.Max(theta, x.now), w})
}

// result takes the quantiles in thermal days and turns those into days: the clock
// only ever runs forward, so the order is the same.
func (x *crossing) result() Crossing {
	r := Crossing{Target: x.target, PNever: math.Min(x.neverMass, 1)}
	if r.Dated = r.PNever <= 0.9 && len(x.reached) > 0; !r.Dated {
		return r
	}
	r.Low, r.Median, r.High = spread(x.reached)
	for _, d := range []*float64{&r.Low, &r.Median, &r.High} {
		*d = math.Min(math.Max(x.clk.back(*d), x.from), x.from+Horizon)
	}
	return r
}

// lateness is the share of curves that come to 1.010 after limit, in thermal days.
type lateness struct{ limit, mass float64 }

func (l *lateness) add(c *curve, w float64) {
	if theta, ok := c.reach(sluggishTarget); !ok || theta > l.limit {
		l.mass += w
	}
}

func (l *lateness) result() float64 { return math.Min(l.mass, 1) }

// speed is the mean fall of the curves at theta, SG per thermal day.
type speed struct{ theta, sum, whole float64 }

// add counts the ramp too: in the lag a ferment is slow because it is young.
func (s *speed) add(c *curve, w float64) {
	at, here := [1]float64{s.theta}, [1]float64{}
	c.fill(at[:], here[:])
	s.sum += w * c.speed(here[0]) * c.growth(s.theta)
	s.whole += w
}

func (s *speed) result() float64 { return s.sum / s.whole }

// band collects the gravities of the curves on some days.
type band struct {
	points    []BandPoint
	theta, sg []float64
	gravities [][]weighted
}

// newBand takes the days that a forecast may speak of, in order.
func newBand(days []float64, clk *clock) *band {
	b := new(band)
	for _, d := range days {
		if d >= 0 && d <= maxDay+Horizon {
			b.points = append(b.points, BandPoint{Day: d})
		}
	}
	slices.SortFunc(b.points, func(x, y BandPoint) int { return cmp.Compare(x.Day, y.Day) })
	for _, p := range b.points {
		b.theta = append(b.theta, clk.at(p.Day))
	}
	b.sg, b.gravities = make([]float64, len(b.points)), make([][]weighted, len(b.points))
	return b
}

func (b *band) add(c *curve, w float64) {
	c.fill(b.theta, b.sg)
	for i, g := range b.sg {
		b.gravities[i] = append(b.gravities[i], weighted{g, w})
	}
}

func (b *band) result() []BandPoint {
	for i, gs := range b.gravities {
		p := &b.points[i]
		p.Low, p.Median, p.High = spread(gs)
	}
	return b.points
}
