package parse

import (
	"fmt"
	"testing"
)

// Into how many parts a batch goes, and how many litres each gets.
func TestSplitInto(t *testing.T) {
	for text, want := range map[string]string{
		"split plum into 3": "[] 3", "split plum into three": "[] 3", "split plum 6 l and 3 l": "[6 3] 0", "split plum in 2": "[] 2",
		"split plum": "[] 0", "split plum 6l": "[6] 0", "split it into 4.5 l and 500 ml": "[4.5 0.5] 0", "split plum 2 gal and 1 gal": "[] 0",
	} {
		litres, n := SplitInto(text, "metric")
		if got := fmt.Sprint(litres, n); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	// 1 imperial gallon is 4.54609 L, 1 US gallon 3.785411784 L (by definition).
	if litres, _ := SplitInto("split plum 2 gal and 1 gal", "uk"); len(litres) != 2 || litres[1] != 4.54609 {
		t.Errorf("imperial: %v", litres)
	}
	if litres, _ := SplitInto("split plum 2 gal and 1 gal", "us"); len(litres) != 2 || litres[1] != 3.785411784 {
		t.Errorf("US: %v", litres)
	}
}

// What finings were made of, and to whom bottles went.
func TestNamesOfThings(t *testing.T) {
	for text, want := range map[string]string{
		"fined with isinglass": "[isinglass]", "part 1 in": "[finings, part 1]", "kieselsol, then chitosan": "[kieselsol chitosan]", "2 egg whites": "[egg whites]",
		"second part of the finings": "[finings, second part]", "fined it": "[]", "partly clear": "[]",
	} {
		if got := fmt.Sprint(FiningsNamed(text)); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"gave 3 bottles to Sal": "sal", "2 to the Murphys, 1 left": "the murphys", "gave 2 away": "", "to": "", "gave one to Ann.": "ann",
	} {
		if got := Receiver(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
