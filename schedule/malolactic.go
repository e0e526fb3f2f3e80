package schedule

import (
	"mustbook/ferment"
)

// noMLF reports that a wine has not been through malolactic, nor may go.
func noMLF(st *ferment.State) bool {
	return !st.MLFOpen() && st.MLFStarted.IsZero() && st.MLFDone.IsZero()
}

// malolacticTest is R24: three weeks after the start, then every two, until it was
// found done twice or sulphite has closed it. A test can be wrong once.
func malolacticTest(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedMLFStarted)
	if !ok || !st.Bottled.IsZero() || st.MLFDoneN >= 2 || st.Sulphited.After(st.MLFDone) && !st.MLFDone.IsZero() ||
		v.answered("R24", d.Root, "No test kit") {
		return nil
	}
	return v.series("R24", d.Root, v.weekly(v.from(d.At, "R24"), 14*day), nil, args())
}

// malolacticDone is R25: sulphite the day after, and not before the yeast is through,
// which sulphite would stop half way.
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

// mlfOpen reports malolactic running, wanted, or unknown where likely until R19
// has asked for it once.
func (v *view) mlfOpen() bool {
	st := v.st
	if st.MLFOpen() {
		return true
	}
	return st.MLFUnknown() && !v.wasSaid("R19", rootAt(st, st.Stop.Shown))
}
