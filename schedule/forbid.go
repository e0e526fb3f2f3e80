package schedule

import "mustbook/ferment"

// highestRack is the gravity above which nothing urges to rack: the yeast would
// stay behind.
const highestRack = 1030

// allowed keeps opposite reminders apart, whatever a rule found: no sulphite while
// malolactic is open, no sorbate with it ever, no stabilising and no bottling
// before it has stopped, no racking above 1.030, cold before stuck.
func (v *view) allowed(r *Rule, found []nudge) []nudge {
	if len(found) == 0 || v.forbidden(r.ID) {
		return nil
	}
	return found
}

// forbidden is the last word on a rule. The rules keep most of this themselves; it
// stands here once more, in one place, because a slip would spoil a wine or burst
// bottles.
func (v *view) forbidden(rule string) bool {
	st := v.st
	switch rule {
	case "R19":
		return st.MLFOpen() || !st.Stop.Proven()
	case "R20":
		return v.mlfOpen() || !noMLF(st) || !st.Stop.Proven()
	case "R25":
		return st.MLFOpen() || !st.Stop.Proven()
	case "R29":
		return v.mlfOpen()
	case "R34": // what was sweetened or blended shows first whether it is steady
		return v.mlfOpen() || !st.Stop.Proven() || len(afterSweetening(v)) > 0 || len(afterBlending(v)) > 0
	case "R26": // the yeast of a stuck wine is needed yet
		return points(sg(st)) > highestRack || st.Has(ferment.Stuck)
	case "R10", "R23":
		return points(sg(st)) > highestRack
	case "R15":
		return len(coldFirst(v)) > 0
	case "R36": // what may burst is not carried about
		return st.Has(ferment.Unsafe)
	}
	return false
}
