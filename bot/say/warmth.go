package say

import "mustbook/ferment"

// TempWanted answers how warm a batch should stand at its stage, and how warm it was last.
// White and fruit wines work at 18–24 °C, reds on their skins warmer; wine that has stopped
// keeps best cool, dark and steady (common practice, no source; the limits are those by
// which a must counts as too hot or too cold).
func (s Style) TempWanted(b *ferment.State) []string {
	var l []string
	switch {
	case b.Stage == ferment.Bottled || b.Stage == ferment.Empty:
		l = []string{Title(b.Name) + ": bottles at " + s.Between(10, 15), "Dark and steady; heat ages them fast"}
	case b.Stage == ferment.Stopped || b.Stage == ferment.Stabilised || b.Stage == ferment.Clearing || b.Stage == ferment.Ageing:
		l = []string{Title(b.Name) + ": " + s.Between(10, 18) + ", dark", "Steady matters more than cold"}
	case b.Stage == ferment.Secondary:
		l = []string{Title(b.Name) + ": " + s.Between(16, 22) + " until it stops"}
	case b.Kind == ferment.Red && b.OnPulp:
		l = []string{Title(b.Name) + ": " + s.Between(20, 28) + " on the skins"}
	default:
		l = []string{Title(b.Name) + ": " + s.Between(18, 24) + " while it works", "Pitch warm, then let it be steady"}
	}
	if t := newestTemp(b); t != nil {
		l = append(l, "Last: "+s.Temp(t.C)+", "+s.Moment(t.At))
	}
	return l
}
