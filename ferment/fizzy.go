package ferment

import (
	"time"

	"mustbook/ferment/dose"
)

// fizzyGate is the gate of a wine that is meant fizzy: stopped and dry before the sugar
// for the fizz, and with it never more than the strongest glass stands. That fizz is
// meant waves no danger through.
func (s *State) fizzyGate(now time.Time) []Refusal {
	var out []Refusal
	switch {
	case s.Stop.Verdict == StopAsk:
		out = append(out, Unanswered)
	case !s.Stop.Proven():
		out = append(out, NotStopped)
	}
	if s.CanFerment() > float64(dose.MostIn(dose.SparklingGlass)) {
		out = append(out, TooFizzy)
	}
	switch {
	case s.MLFOpen():
		out = append(out, MLFRunning)
	case s.MLFUnknown():
		out = append(out, MLFUnknown)
	}
	if now.Sub(s.Last.At) > readingHolds {
		out = append(out, ReadingIsOld)
	}
	return out
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
