package schedule

import (
	"time"

	"mustbook/ferment"
)

// stirredAt is the newest stirring, the pitch counting as one: whoever put the yeast
// in has just had the fruit under.
func stirredAt(st *ferment.State) time.Time {
	at, _ := pitch(st)
	if d, ok := newestOf(st, ferment.DeedStirred, ferment.DeedPunched); ok {
		at = later(at, d.At)
	}
	return at
}

// Limits of the stirring nudge.
const (
	justStirred   = 6 * hour
	unstirred     = 14 * hour
	stirEveryTime = 72 * hour
)

// stir is R06: push the fruit under, at the hours of the house.
//
// The cap dries and turns to vinegar where it stands out, so for three days it is
// asked for twice a day; after that only where nobody stirred for long. A slot is
// judged by its own time: one that was moot then does not come back later. Two in a
// row without an answer end it, for a household that does not stir by the phone.
func stir(v *view) []nudge {
	st := v.st
	if !st.OnPulp || st.Stage != ferment.Lag && st.Stage != ferment.Primary {
		return nil
	}
	at, root := pitch(st)
	last := stirredAt(st)
	if v.ignored("R06", root, 2, last) || v.answered("R06", root, "Stop these") {
		return nil
	}
	for days := 0; days <= 9; days++ {
		for i, slot := range v.stirSlots(later(at, v.now.Add(-day)), days) {
			step := daysBetween(at, slot, v.loc)*10 + i
			if slot.Before(at) || v.now.Sub(slot) > ruleOf("R06").Keep || v.madeStep("R06", root, step) {
				continue
			}
			gap := slot.Sub(last)
			if gap < justStirred || slot.Sub(at) > stirEveryTime && gap < unstirred || v.overBudget(stirBudget, slot) {
				continue
			}
			return []nudge{{anchor: root, step: step, wanted: slot, args: args()}}
		}
	}
	return nil
}

// stirSlots returns the stirring hours of a day: the house's two, or every so many
// hours from the first where the household set an interval, the quiet ones left out.
func (v *view) stirSlots(from time.Time, days int) []time.Time {
	var out []time.Time
	if !v.set("R06") {
		for _, m := range v.h.stirAt() {
			out = append(out, atClock(from, days, m, v.loc))
		}
		return out
	}
	gap := int(max(v.every("R06", day), ruleOf("R06").Min) / minute)
	for m := v.h.stirAt()[0]; m < 24*60; m += gap {
		if t := atClock(from, days, m, v.loc); !v.h.isQuiet(t) {
			out = append(out, t)
		}
	}
	return out
}

// madeStep reports that a step of a rule was told, whatever became of it.
func (v *view) madeStep(rule string, anchor int64, step int) bool {
	for _, s := range v.rows(rule, anchor) {
		if s.Step() == step {
			return true
		}
	}
	return false
}
