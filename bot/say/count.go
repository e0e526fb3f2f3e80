package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
)

// AllDone ends a running count of bottles.
const AllDone = "All done"

// InTheirs says that one's own bottles were in somebody else's count.
func InTheirs(by string) string { return "Mine was in " + Clip(by, 14) + "'s" }

// tooMuch is how far what is bottled may exceed what the book has of a wine before it is
// likelier counted twice: litres are read off a jar.
const tooMuch = 1.15

// Counting answers bottles while people count them: the sum, by whom, how much of the wine.
func (s Style) Counting(b *ferment.State, group bool) []string {
	lines := []string{fmt.Sprintf("%s: %s so far", Title(b.Name), plural(b.BottlesMade, "bottle"))}
	who := counters(b)
	if len(who) > 1 {
		lines = append(lines, Clip(strings.Join(who, ", "), Width))
	}
	switch {
	case b.VolumeL > 0 && b.BottledL() > tooMuch*b.VolumeL:
		lines = append(lines, fmt.Sprintf("%s from %s: counted twice?", s.Volume(b.BottledL()), s.Volume(b.VolumeL)))
	case b.VolumeL > 0:
		lines = append(lines, fmt.Sprintf("%s of %s. More?", s.Volume(b.BottledL()), s.Volume(b.VolumeL)))
	default:
		lines = append(lines, "More?")
	}
	if group {
		lines = append(lines, "Reply with your count")
	}
	return lines
}

// BottlesCounted answers the end of the count.
func (s Style) BottlesCounted(b *ferment.State) []string {
	lines := []string{fmt.Sprintf("%s: %s in all", Title(b.Name), plural(b.BottlesMade, "bottle"))}
	if b.BottlesLeft != b.BottlesMade {
		lines = append(lines, fmt.Sprintf("%d left", b.BottlesLeft))
	}
	return append(lines, "Stand them up some days, then lay down")
}

// counters are who counted how many, in the order of their first count.
func counters(b *ferment.State) []string {
	var names []string
	n := map[string]int{}
	for _, c := range b.Counts {
		if _, ok := n[c.By]; !ok {
			names = append(names, c.By)
		}
		n[c.By] += c.N
	}
	for i, name := range names {
		names[i] = fmt.Sprintf("%s %d", Clip(name, 12), n[name])
	}
	return names
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
