package forecast

import (
	"cmp"
	"math"
	"slices"
)

// Bounds and tolerances of the cleaning, all common practice without a source.
const (
	minSG, maxSG = 0.975, 1.200 // no must or wine reads outside
	maxDay       = 3650.0       // days; ten years
	oneSitting   = 2.0 / 24     // days: readings this close count as one
	stillStart   = 0.25         // days after the pitch that a must's reading may come
	disagree     = 0.004        // SG: the later of two in a sitting is a repair
	mostReadings = 32           // that are fitted: more cost time and tell nothing new
	newestKept   = 10           // that are never thinned out
)

// series is what the fit sees: the readings that count, by day, the start first.
type series struct {
	day, sg []float64
	og      float64
	assumed bool // og was not read
}

// last is the index of the newest reading.
func (s series) last() int { return len(s.day) - 1 }

// finite is false for what no instrument shows.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// clean sorts the readings, takes out what cannot be one, and puts the original
// gravity on the day of the pitch.
func clean(in Input) (series, error) {
	all := make([]Reading, 0, len(in.Readings)+1)
	for _, r := range in.Readings {
		if finite(r.Day) && r.SG >= minSG && r.SG <= maxSG && math.Abs(r.Day) <= maxDay {
			all = append(all, r)
		}
	}
	slices.SortFunc(all, func(a, b Reading) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(b.SG, a.SG))
	})
	s := startOf(in.OG, &all)
	if len(all) == 0 && s.og == 0 {
		return s, nil
	}
	if s.og == 0 { // it must have been above whatever was read since
		s.og, s.assumed = math.Max(unreadOG, all[0].SG+0.005), true
	}
	if !(s.og >= MinOG && s.og <= MaxOG) {
		return s, ErrOG
	}
	s.merge(all)
	s.thin()
	return s, nil
}

// startOf finds the original gravity and drops the readings of the must from all:
// only the last of them, or a stated og, is the start. Up to six hours after the
// pitch a reading still is one of the must, unless it shows a fall.
func startOf(og float64, all *[]Reading) series {
	var s series
	for len(*all) > 0 {
		r := (*all)[0]
		early := r.Day <= 0 || r.Day <= stillStart && (s.og == 0 || r.SG > s.og-startFall)
		if !early {
			break
		}
		s.og = r.SG
		*all = (*all)[1:]
	}
	if og != 0 {
		s.og = og
	}
	if s.og != 0 {
		s.day, s.sg = append(s.day, 0), append(s.sg, s.og)
	}
	return s
}

// merge appends the readings, those of one sitting as their mean: they share the
// sample, its gas and its temperature, so that they are hardly two measurements.
// Where two of a sitting disagree the later one repairs the earlier.
func (s *series) merge(all []Reading) {
	for i := 0; i < len(all); {
		day, sum, n := all[i].Day, 0.0, 0.0
		for ; i < len(all) && all[i].Day-day <= oneSitting; i++ {
			if n > 0 && math.Abs(all[i].SG-sum/n) > disagree {
				sum, n = 0, 0
			}
			sum, n = sum+all[i].SG, n+1
		}
		s.day, s.sg = append(s.day, day), append(s.sg, sum/n)
	}
}

// thin leaves out every other of the older readings while there are too many.
func (s *series) thin() {
	for len(s.day) > mostReadings {
		n := 0
		for i := range s.day {
			if i%2 == 0 || i >= len(s.day)-newestKept {
				s.day[n], s.sg[n] = s.day[i], s.sg[i]
				n++
			}
		}
		s.day, s.sg = s.day[:n], s.sg[:n]
	}
}
