package chart

import (
	"math"
	"time"

	"mustbook/bot/letters"
	"mustbook/ferment"
)

// point is a gravity on a day since the curve's origin.
type point struct{ day, sg float64 }

// curve is a batch on paper. Days are counted from its origin.
type curve struct {
	state  *ferment.State
	name   string
	origin time.Time
	points []point
	band   []bandPoint
}

// bandPoint is what to expect on a day, SG.
type bandPoint struct{ day, low, mid, high float64 }

// newCurve lays a batch on days. Alone, its days begin with a midnight, so that
// dates stand at whole days; side by side they begin with the yeast.
func newCurve(s Series, zone *time.Location, beside bool) curve {
	st := s.State
	c := curve{state: st, name: letters.Name(st.Name, st.N, 24)}
	rs := counting(st)
	c.origin = rs[0].At
	if !st.Pitched.IsZero() && (beside || st.Pitched.Before(c.origin)) {
		c.origin = st.Pitched
	}
	if !beside {
		y, m, d := c.origin.In(zone).Date()
		c.origin = time.Date(y, m, d, 0, 0, 0, 0, zone)
	}
	for _, r := range rs {
		c.points = append(c.points, point{c.day(r.At), float64(r.SG)})
	}
	if s.Band != nil {
		c.band = c.bandOf(*s.Band)
	}
	return c
}

// day is a moment as days since the origin.
func (c curve) day(t time.Time) float64 { return t.Sub(c.origin).Hours() / 24 }

// last is the newest point.
func (c curve) last() point { return c.points[len(c.points)-1] }

// at is the gravity on a day by a straight line between readings, and whether
// there are readings around it.
func (c curve) at(day float64) (float64, bool) {
	if p := c.points[0]; len(c.points) == 1 && math.Abs(day-p.day) < 0.1 {
		return p.sg, true
	}
	for i := 1; i < len(c.points); i++ {
		a, b := c.points[i-1], c.points[i]
		if day < a.day || day > b.day {
			continue
		}
		if b.day == a.day {
			return b.sg, true
		}
		return a.sg + (b.sg-a.sg)*(day-a.day)/(b.day-a.day), true
	}
	return 0, false
}

// bandOf keeps what can be drawn of a band: finite, in order, not before the
// curve begins. A forecast with a hole is still worth showing.
func (c curve) bandOf(b Band) []bandPoint {
	var out []bandPoint
	n := min(len(b.At), len(b.Low), len(b.Mid), len(b.High))
	for i := 0; i < n; i++ {
		p := bandPoint{c.day(b.At[i]), b.Low[i], b.Mid[i], b.High[i]}
		if !plausible(p.low) || !plausible(p.mid) || !plausible(p.high) || p.low > p.high {
			continue
		}
		if k := len(out); p.day < c.points[0].day-1e-9 || k > 0 && p.day <= out[k-1].day {
			continue
		}
		out = append(out, p)
	}
	return out
}

// plausible bounds what can be drawn: no must and no spirit lies outside. NaN
// fails both comparisons.
func plausible(sg float64) bool { return sg > 0.8 && sg < 1.6 && !math.IsNaN(sg) }

// counting returns the readings that can be drawn.
func counting(s *ferment.State) []ferment.Reading {
	var out []ferment.Reading
	for _, r := range s.Readings {
		if r.Counts && plausible(float64(r.SG)) {
			out = append(out, r)
		}
	}
	return out
}

// hasReadings reports whether there is anything to draw; a nil state has nothing.
func hasReadings(s *ferment.State) bool { return s != nil && len(counting(s)) > 0 }
