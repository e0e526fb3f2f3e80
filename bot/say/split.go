package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
)

// Split answers a batch that was split: the parts, how much each has, how to name them.
func (s Style) Split(b *ferment.State, names []string, litres []float64) []string {
	lines := Wrap(Title(b.Name) + " is split: " + strings.Join(names, ", "))
	same := true
	var each []string
	for _, l := range litres {
		same = same && l == litres[0]
		each = append(each, s.Volume(l))
	}
	switch {
	case litres[0] == 0:
	case same:
		lines = append(lines, Wrap(each[0]+" each; else type the volumes")...)
	default:
		lines = append(lines, Clip(strings.Join(each, ", "), Width))
	}
	last := string(rune('a' + len(names) - 1))
	if len(names) == 2 {
		return append(lines, "Readings from now on: say a or b")
	}
	return append(lines, "Readings from now on: say a to "+last)
}

// NoSuchSplit refuses parts that cannot be.
func (s Style) NoSuchSplit(b *ferment.State, n int, total float64) []string {
	if b.VolumeL > 0 && total > b.VolumeL {
		return []string{fmt.Sprintf("%s: the book has %s, not %s", Title(b.Name), s.Volume(b.VolumeL), s.Volume(total)), "Nothing changed"}
	}
	return []string{fmt.Sprintf("%s: %d parts are too many", Title(b.Name), n), "Six at most; nothing changed"}
}

// SplitBack answers the undo of a split.
func SplitBack(name string) []string {
	return []string{Title(name) + ": one again, the split is taken back"}
}
