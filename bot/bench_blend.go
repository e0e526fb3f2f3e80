package bot

import "mustbook/ferment"

// blended is a wine in the words of a blend, and how many litres of it.
type blended struct {
	s *ferment.State
	v float64
}
