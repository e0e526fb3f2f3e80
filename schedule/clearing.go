package schedule

import (
	"strings"

	"mustbook/ferment"
)

// degasAgain is R21: up to three times, until no gas is left or it is fined. Finings
// do not settle in a gassy wine; after them stirring undoes them.
func degasAgain(v *view) []nudge {
	st := v.st
	if !kept(st) || st.Degassed.IsZero() || st.Fined.After(st.Degassed) {
		return nil
	}
	times := 0
	for _, d := range st.Deeds {
		if d.What != ferment.DeedDegassed {
			continue
		}
		times++
		if v.answered("R21", d.Root, "No gas left") {
			return nil
		}
	}
	d, ok := st.Did(ferment.DeedDegassed)
	if !ok || times > 3 {
		return nil
	}
	return one(d.Root, v.from(d.At, "R21"), args("n", times))
}

// firstParts name the first of a pair of finings, as packets are marked.
var firstParts = []string{"kieselsol", "part 1", "part one", "part a", "first", "one of two", "fining 1", "finings 1"}

// secondFining is R22: the second part after the first. Which is the first is told by
// its name alone: the two parts bear opposite charges, and their order matters.
func secondFining(v *view) []nudge {
	st := v.st
	adds := additionsOf(st, ferment.FiningClass)
	if len(adds) == 0 || st.Pitched.IsZero() || !st.Bottled.IsZero() {
		return nil
	}
	last := adds[len(adds)-1]
	name := strings.ToLower(last.Material)
	for _, part := range firstParts {
		if strings.Contains(name, part) {
			return one(last.Root, v.from(last.At, "R22"), args())
		}
	}
	return nil
}

// isItClear is R23. Clay that went in before the stop is no fining in this sense.
func isItClear(v *view) []nudge {
	st := v.st
	if !kept(st) || !st.Fined.After(st.Stop.From) || lastRacked(st).After(st.Fined) {
		return nil
	}
	root := finedRoot(st)
	return one(root, v.from(st.Fined, "R23"), args("d", daysBetween(st.Fined, v.now, v.loc)))
}

// finedRoot is the root of the newest fining: the addition, or the deed alone.
func finedRoot(st *ferment.State) int64 {
	for i := len(st.Additions) - 1; i >= 0; i-- {
		if a := st.Additions[i]; a.At.Equal(st.Fined) && ferment.ClassOf(a.Material) == ferment.FiningClass {
			return a.Root
		}
	}
	d, _ := st.Did(ferment.DeedFined)
	return d.Root
}
