package ferment

import "mustbook/ferment/dose"

// tooFizzy reports more sugar than the strongest glass stands the fizz of. That fizz is
// meant waves no danger through.
func (s *State) tooFizzy() bool {
	return s.CanFerment() > float64(dose.MostIn(dose.SparklingGlass))
}

// CanFerment is the sugar that could still ferment in a closed bottle, in g/L: what is
// left and its doubt; where the start gravity is not known, what the stem stands for.
func (s *State) CanFerment() float64 {
	if s.SugarKnown {
		return s.SugarLeft + s.SugarDoubt
	}
	if s.Last == nil {
		return 0
	}
	return standIn(false, 0, s.Last.SG)
}
