package schedule

import (
	"strings"
	"time"

	"mustbook/ferment"
)

// rootAt returns the root of the reading taken at an instant.
func rootAt(st *ferment.State, at time.Time) int64 {
	for _, r := range st.Readings {
		if r.Counts && r.At.Equal(at) {
			return r.Entry.Root
		}
	}
	return 0
}

// stabilise is R19: the day after it was shown to have stopped. Where malolactic
// is likely and nobody has said, it asks that first, once.
func stabilise(v *view) []nudge {
	st := v.st
	if !kept(st) || !st.Stop.Proven() || stabilised(st) || st.Plan.MeantFizzy || st.Plan.Flags["ages on lees"] || st.MLFOpen() {
		return nil
	}
	n := nudge{anchor: rootAt(st, st.Stop.Shown), wanted: v.nextDay(st.Stop.Shown, "R19"),
		args: args("sg", st.Stop.SG, "v", st.VolumeL)}
	switch {
	case st.MLFUnknown():
		n.args["ask"] = "1"
	case sorbateFits(st):
		n.args["sorbate"] = "1"
	}
	return []nudge{n}
}

// sorbateFits reports a sweet wine in which sorbate has a place: never with
// malolactic, done, running, wanted or not yet ruled out where likely.
func sorbateFits(st *ferment.State) bool {
	return st.IsSweet() && st.Plan.Sorbate != "unwanted" && noMLF(st) && !st.MLFUnknown()
}

// noMLF reports that a wine has not been through malolactic, nor may go.
func noMLF(st *ferment.State) bool {
	return !st.MLFOpen() && st.MLFStarted.IsZero() && st.MLFDone.IsZero()
}

// secondSubstance is R20: a sweet wine needs both.
func secondSubstance(v *view) []nudge {
	st := v.st
	if !kept(st) || !st.Stop.Proven() || !st.Stabilised.IsZero() || !sorbateFits(st) {
		return nil
	}
	sulphite := newestAfter(additionsOf(st, ferment.SulphiteClass), st.Stop.From)
	sorbate := newestAfter(additionsOf(st, ferment.SorbateClass), st.Stop.From)
	switch {
	case (sulphite == nil) == (sorbate == nil):
		return nil
	case sorbate == nil:
		return one(sulphite.Root, v.from(sulphite.At, "R20"), args())
	}
	return one(sorbate.Root, v.from(sorbate.At, "R20"), args("missing", "sulphite"))
}

func newestAfter(adds []ferment.Addition, from time.Time) *ferment.Addition {
	if n := len(adds); n > 0 && adds[n-1].At.After(from) {
		return &adds[n-1]
	}
	return nil
}

// degasAgain is R21: up to three times, until no gas is left or it is fined.
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

// secondFining is R22: the second part after the first.
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

// isItClear is R23.
func isItClear(v *view) []nudge {
	st := v.st
	if !kept(st) || !st.Fined.After(st.Stop.From) || lastRacked(st).After(st.Fined) {
		return nil
	}
	root := finedRoot(st)
	return one(root, v.from(st.Fined, "R23"), args("d", daysBetween(st.Fined, v.now, v.loc)))
}

func finedRoot(st *ferment.State) int64 {
	for i := len(st.Additions) - 1; i >= 0; i-- {
		if a := st.Additions[i]; a.At.Equal(st.Fined) && ferment.ClassOf(a.Material) == ferment.FiningClass {
			return a.Root
		}
	}
	d, _ := st.Did(ferment.DeedFined)
	return d.Root
}

// malolacticTest is R24: three weeks after the start, then every two, until it was
// found done twice.
func malolacticTest(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedMLFStarted)
	if !ok || !st.Bottled.IsZero() || st.MLFDoneN >= 2 || st.Sulphited.After(st.MLFDone) && !st.MLFDone.IsZero() ||
		v.answered("R24", d.Root, "No test kit") {
		return nil
	}
	return v.series("R24", d.Root, v.weekly(v.from(d.At, "R24"), 14*day), nil, args())
}

// malolacticDone is R25: sulphite the day after.
func malolacticDone(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedMLFDone)
	if !ok || st.MLFOpen() || !kept(st) || st.Sulphited.After(st.MLFDone) || stabilised(st) && st.Stabilised.After(st.MLFDone) {
		return nil
	}
	a := args()
	if st.PH != nil {
		a = args("ph", st.PH.Value)
	}
	return one(d.Root, v.nextDay(later(d.At, st.Stop.Shown), "R25"), a)
}

// sulphiteTest is R29: some weeks after the last test or addition.
func sulphiteTest(v *view) []nudge {
	st := v.st
	if !kept(st) || !stabilised(st) || st.MLFOpen() || st.Plan.Flags["no so2 kit"] {
		return nil
	}
	var at time.Time
	var root int64
	if a := additionsOf(st, ferment.SulphiteClass); len(a) > 0 {
		at, root = a[len(a)-1].At, a[len(a)-1].Root
	}
	a := args()
	if f := st.FreeSO2; f != nil {
		a = args("so2", f.Value, "day", f.At)
		if f.At.After(at) {
			at, root = f.At, f.Root
		}
	}
	if at.IsZero() || v.answered("R29", root, "No kit") {
		return nil
	}
	if st.PH != nil {
		a["ph"] = argOf(st.PH.Value)
	}
	return one(root, v.from(at, "R29"), a)
}

// phUnknown is R30: it goes with R19 or R29, once.
func phUnknown(v *view) []nudge {
	st := v.st
	if st.PH != nil || st.Plan.NoMeter || !kept(st) {
		return nil
	}
	with := append(v.allowed(ruleOf("R19"), stabilise(v)), v.allowed(ruleOf("R29"), sulphiteTest(v))...)
	if len(with) == 0 {
		return nil
	}
	return one(0, with[0].wanted, args())
}
