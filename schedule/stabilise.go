package schedule

import (
	"time"

	"mustbook/ferment"
)

// rootAt returns the root of the reading taken at an instant: what proves the stop is
// an instant in the state, and a reminder hangs on the entry behind it.
func rootAt(st *ferment.State, at time.Time) int64 {
	for _, r := range st.Readings {
		if r.Counts && r.At.Equal(at) {
			return r.Entry.Root
		}
	}
	return 0
}

// stabilise is R19: the day after it was shown to have stopped. Where malolactic is
// likely and nobody has said, it asks that first, once; sorbate is named only where
// it has a place. A wine meant fizzy needs its yeast, one on its lees its rest.
func stabilise(v *view) []nudge {
	st := v.st
	if !kept(st) || !st.Stop.Proven() || stabilised(st) || st.Plan.MeantFizzy || st.Plan.Flags["ages on lees"] || !noMLF(st) || st.Plan.MLF == "wanted" {
		return nil // after malolactic R25 asks for the sulphite
	}
	n := nudge{anchor: rootAt(st, st.Stop.Shown), wanted: v.nextDay(st.Stop.Shown, "R19"),
		args: args("sg", st.Stop.SG, "v", st.VolumeL)}
	if lastRacked(st).After(st.Stop.Shown) {
		n.args["racked"] = "racked" // nobody racks twice in a week
	}
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

// secondSubstance is R20: a sweet wine needs both, sorbate to hold the yeast and
// sulphite to keep bacteria off the sorbate. It says which of the two is missing.
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

// newestAfter returns the newest addition, if it is after an instant.
func newestAfter(adds []ferment.Addition, from time.Time) *ferment.Addition {
	if n := len(adds); n > 0 && adds[n-1].At.After(from) {
		return &adds[n-1]
	}
	return nil
}

// sulphiteTest is R29: some weeks after the last test or addition, whichever is newer.
// Free SO2 binds and fades; what was added is not what protects.
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

// phUnknown is R30: it goes with R19 or R29, once, since only there a pH changes what
// is weighed.
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
