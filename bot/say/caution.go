package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// Caution is something to beware of when an entry is logged. One with a Key is said once
// a batch, one without whenever it holds: it is about this very dose.
type Caution struct {
	Key   string
	Lines []string
}

// CautionOf is what must be said when an entry is logged: briefly, deferring to the
// label. said is the message that it came with. false where nothing must.
func (s Style) CautionOf(b *ferment.State, e ferment.Entry, said string) (Caution, bool) {
	if e.Quantity == ferment.QAddition {
		if c, ok := s.ofDose(b, e); ok {
			return c, true
		}
	}
	return s.ofDeed(b, e, strings.ToLower(said))
}

// ofDose is about what went in.
func (s Style) ofDose(b *ferment.State, e ferment.Entry) (Caution, bool) {
	class := ferment.ClassOf(e.Material)
	adds := 0.0
	for _, a := range b.Additions {
		if a.Root == e.Root {
			adds = a.SO2
		}
	}
	switch {
	case class == ferment.SorbateClass && (!b.MLFStarted.IsZero() || !b.MLFDone.IsZero()):
		return Caution{"", []string{"Sorbate with malolactic: geranium taint", "that nothing cures. Add no more"}}, true
	case class == ferment.SulphiteClass && b.MLFOpen():
		return Caution{"", []string{"Malolactic is open: sulphite stops it"}}, true
	case class == ferment.SulphiteClass && b.SO2Added > float64(dose.HighTotal):
		return Caution{"", []string{fmt.Sprintf("SO2 in all %.0f mg/L, over %.0f: is it right?", b.SO2Added, float64(dose.HighTotal))}}, true
	case class == ferment.SulphiteClass && adds > float64(dose.LargeAddition):
		return Caution{"", []string{fmt.Sprintf("%.0f mg/L SO2 at once: in the wine, or for", adds), "the bucket's rinse? Undo if so"}}, true
	case class == ferment.SorbateClass && b.Sorbate > dose.SorbateLimit:
		return Caution{"", []string{fmt.Sprintf("Sorbate %.0f mg/L: over the cap of 268", b.Sorbate)}}, true
	case class == ferment.SorbateClass && b.Pitched.IsZero():
		return Caution{"", []string{"With sorbate in it a must never ferments"}}, true
	case class == ferment.SorbateClass && !b.Stop.Proven():
		return Caution{"", []string{"Not proven stopped: it stops no ferment"}}, true
	case class == ferment.SorbateClass && b.Sulphited.IsZero():
		return Caution{"", []string{"Sorbate needs sulphite beside it"}}, true
	case class == ferment.SulphiteClass:
		return Caution{"sulphite", []string{"Window open, no dust in; not with asthma"}}, true
	}
	if a := ferment.AllergenOf(e.Material); a != "" {
		return Caution{"allergen " + a, []string{"Tell guests, always: it has had " + a}}, true
	}
	if class == ferment.FruitClass {
		return s.wild(b)
	}
	return Caution{}, false
}

// ofDeed is about what was done.
func (s Style) ofDeed(b *ferment.State, e ferment.Entry, said string) (Caution, bool) {
	switch {
	case e.Quantity == ferment.QNewBatch:
		return s.wild(b)
	case hasOne(said, "bleach", "caustic", "lye ", "peracetic", "chlorine"):
		return Caution{"cleaner", []string{"Cleaners: never mix two. Goggles, gloves,", "rinse long; bleach leaves a musty taint"}}, true
	case hasOne(said, "copper", "brass", "galvanis", "galvaniz", "lead glaze"):
		return Caution{"metal", []string{"Acid takes up that metal: use glass,", "food plastic or stainless steel"}}, true
	case (e.Deed == ferment.DeedRacked || e.Deed == ferment.DeedMoved) && b.VolumeL >= 15:
		return Caution{"glass", []string{"Full glass is heavy: crate, dry hands"}}, true
	case e.Deed == ferment.DeedStrained || e.Deed == ferment.DeedPressed:
		return Caution{"pulp", []string{"Keep the pulp from dogs"}}, true
	case e.Deed == ferment.DeedDegassed && hasOne(said, "vacuum", "pump"):
		return Caution{"degas", []string{"Vacuum: goggles, only a round heavy jar"}}, true
	case e.Deed == ferment.DeedColdStart:
		return s.cold(b)
	}
	return Caution{}, false
}

// wild speaks of fruit that must be known and handled (from memory of common practice;
// patulin of rotten apples: US FDA).
func (s Style) wild(b *ferment.State) (Caution, bool) {
	name := strings.ToLower(b.Name)
	switch {
	case hasOne(name, "elderflower", "elder flower"):
	case strings.Contains(name, "elder"):
		return Caution{"plant", []string{"Ripe black elder only, heated, no stalks"}}, true
	case hasOne(name, "plum", "damson", "cherr", "sloe", "apricot", "peach", "greengage", "bullace", "mirabelle"):
		return Caution{"plant", []string{"Do not crush stones: bitter, poisonous"}}, true
	case b.Kind == ferment.Cider || hasOne(name, "apple", "pear", "quince"):
		return Caution{"plant", []string{"Keep rotten fruit and crushed pips out"}}, true
	}
	return Caution{}, false
}

// cold names the lowest temperature for the jar: minus a quarter of its strength
// (common practice), well above where it freezes.
func (s Style) cold(b *ferment.State) (Caution, bool) {
	if !b.ABVKnown || b.ABV < 4 {
		return Caution{"cold", []string{"A full jar must not freeze: glass cracks"}}, true
	}
	limit, err := liquid.ColdLimit(b.ABV)
	if err != nil {
		return Caution{}, false
	}
	return Caution{"cold", []string{"Not below " + s.Temp(float64(limit)) + ": a full jar cracks"}}, true
}

func hasOne(s string, parts ...string) bool {
	for _, p := range parts {
		if strings.Contains(s, p) {
			return true
		}
	}
	return false
}
