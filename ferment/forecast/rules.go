package forecast

import "math"

// Rules beside the test.
const (
	sluggishTarget = 1.010 // SG
	sluggishAbove  = 1.012 // SG: below, it is as good as there
	sluggishP      = 0.8
	noStartDays    = 3.0 // thermal days; 99 % of the prior has fallen 0.003 by 2.7
	watchP         = 0.5
)

// healthyBy is the number of thermal days by which a healthy ferment of original
// gravity og is down to 1.010: more sugar takes longer, whatever the temperature.
func healthyBy(og float64) float64 { return 8.8 + 131*(og-1.05) }

// noStart tells whether three thermal days have passed without a fall that proves
// a start. In the cold that is longer than the 72 hours of common practice.
func noStart(s series, theta []float64) bool {
	lowest := s.og
	for _, sg := range s.sg {
		lowest = math.Min(lowest, sg)
	}
	return !s.assumed && theta[s.last()] >= noStartDays && s.og-lowest < startFall
}

// verdict sums up in the order of what matters most.
func (r *Result) verdict(none bool, sg float64) Verdict {
	switch {
	case none:
		return NoStart
	case r.Now.P() > watchP && r.Before.P() > watchP:
		return Stuck
	case r.PSluggish > sluggishP && sg > sluggishAbove && r.Readings >= haltReadings:
		return Sluggish
	case r.Now.P() > watchP:
		return Watch
	}
	return OnCourse
}
