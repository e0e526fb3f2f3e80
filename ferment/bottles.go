package ferment

import "time"

// BottledL are the litres in the bottles that were counted; half bottles hold half.
func (s *State) BottledL() float64 {
	l := 0.0
	for _, c := range s.Counts {
		size := s.BottleML / 1000
		if c.Half {
			size /= 2
		}
		l += float64(c.N) * size
	}
	return l
}

// oneBottling is how long a bottling goes on, counted by one or several people.
const oneBottling = 24 * time.Hour

// stillBottling reports a further count of a bottling that has begun: it is the same deed.
func (f *folder) stillBottling(e *Entry) bool {
	return !f.s.Bottled.IsZero() && e.At.Sub(f.s.Bottled) < oneBottling
}
