package say

import (
	"fmt"

	"mustbook/ferment"
)

// MayStabilise answers whether a wine may be stabilised: only what has stopped, with
// malolactic done or ruled out, because sulphite and sorbate stop no ferment, and
// sorbate under lactic bacteria makes the geranium fault (common practice).
func (s Style) MayStabilise(b *ferment.State) []string {
	name := Title(b.Name)
	last := ""
	if b.Last != nil {
		last = fmt.Sprintf("Last read %s %s", s.SG(b.Last.SG), s.On(b.Last.At))
	}
	switch {
	case b.Pitched.IsZero() && b.Stop.Verdict == ferment.StopNo:
		return []string{name + ": no, it has not fermented", "Sorbate now would keep the yeast", "from ever starting"}
	case b.Plan.MeantFizzy:
		return []string{name + ": no, it is meant fizzy", "The yeast has to work in the bottle"}
	case b.Has(ferment.Stuck):
		return []string{name + ": no, it is stuck", last, "There is sugar left to ferment.", "Sweet on purpose? Say: meant sweet"}
	case b.Stop.Verdict == ferment.StopAsk:
		return []string{name + ": not yet, one answer first", last, "Dry enough, or meant sweet? Say which"}
	case !b.Stop.Proven():
		return Answer([]string{name + ": not yet, it has not stopped"}, last, "Sulphite and sorbate stop no ferment", "Read again in 3 days")
	case b.MLFOpen():
		return []string{name + ": not yet, malolactic", "It is running or wanted, and sulphite", "would stop it. Test first; when it is", "over, say: malolactic done"}
	case b.MLFUnknown():
		return []string{name + ": not yet, malolactic first", "It is likely and not settled: test,", "or say: no malolactic"}
	case !b.Stabilised.IsZero():
		return []string{name + ": done, " + s.On(b.Stabilised)}
	}
	what := "Dry: sulphite is enough"
	switch {
	case b.IsSweet() && (!b.MLFStarted.IsZero() || !b.MLFDone.IsZero()):
		what = "Sulphite only; no sorbate: geranium taint"
	case b.IsSweet():
		what = "Sweet: sulphite and sorbate, both weighed"
	}
	ph := "pH unknown: test it, the dose hangs on it"
	if b.PH != nil {
		ph = fmt.Sprintf("pH %s. Ask: sulphite dose", s.Number(b.PH.Value, 2))
	}
	return []string{fmt.Sprintf("%s: yes, stopped at %s", name, s.SG(b.Stop.SG)), what, ph, "Rack it first. Window open, no dust"}
}
