package ferment

import (
	"reflect"
	"testing"
)

// Finings of egg, milk and fish must be declared where found (FSAI, wine and allergens;
// Regulation (EU) 1169/2011, annex II); sulphites from 10 mg/L, which yeast alone makes.
func TestAllergensOfFinings(t *testing.T) {
	for material, want := range map[string][]string{"egg white": {"sulphites", "egg"}, "isinglass": {"sulphites", "fish"}, "casein": {"sulphites", "milk"},
		"chitosan": {"sulphites", "shellfish"}, "gelatine": {"sulphites", "gelatine"}, "lysozyme": {"sulphites", "egg"}, "bentonite": {"sulphites"}} {
		if got := page(added(material, 5, "g")).Allergens; !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, want %v", material, got, want)
		}
	}
}
