package schedule

import (
	"mustbook/ferment"
)

// rackAgain is R26: six weeks after the first racking, then every eleven, while it
// drops lees. A wine that was said to be clear, or to drop none, is left alone.
func rackAgain(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedRacked)
	if !ok || !kept(st) && st.Stage != ferment.Secondary || st.Plan.NoLees || st.Plan.Flags["clear"] || v.answered("R26", d.Root, "No lees") {
		return nil
	}
	gap := 42 * day
	if len(st.Racked) > 1 {
		gap = 75 * day
	}
	due := after(d.At, v.every("R26", gap), v.loc)
	return one(d.Root, due, args("n", daysBetween(d.At, later(due, v.now), v.loc)/7))
}

// headShare is the share of air above which a jar is to be topped up.
const headShare = 0.03

// topUp is R27: air above a wine that has stopped, which has no gas of its own left
// to keep it off. While it works the room is wanted.
func topUp(v *view) []nudge {
	st := v.st
	if !kept(st) || st.VesselL <= 0 || st.VolumeL <= 0 || (st.VesselL-st.VolumeL)/st.VesselL <= headShare {
		return nil
	}
	d, ok := st.Did(ferment.DeedRacked)
	if !ok || v.answered("R27", d.Root, "Still fizzing") {
		return nil
	}
	if t, ok := st.Did(ferment.DeedToppedUp); ok && t.At.After(d.At) {
		return nil
	}
	return one(d.Root, v.nextDay(later(d.At, st.Stop.Shown), "R27"), args("air", st.VesselL-st.VolumeL))
}

// outOfTheCold is R31. The temperature it warns of is −(alcohol ÷ 4) °C, common
// practice, above the point at which the wine freezes.
func outOfTheCold(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedColdStart)
	if st.Cold.IsZero() || !ok || !st.Bottled.IsZero() {
		return nil
	}
	a := args()
	if st.ABVKnown { // −(alcohol ÷ 4) °C, common practice
		a = args("abv", float64(st.ABV), "temp", -float64(st.ABV)/4)
	}
	return one(d.Root, v.from(d.At, "R31"), a)
}

// afterBlending is R33; a reading from a week on settles it. Haze and gas of a blend
// take their time to show.
func afterBlending(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedBlended)
	if !ok || !st.Bottled.IsZero() || st.Last != nil && st.Last.At.Sub(d.At) >= week {
		return nil
	}
	due := v.from(d.At, "R33")
	return one(d.Root, due, args("d", daysBetween(d.At, later(due, v.now), v.loc)))
}

// oak is R49: two weeks, then weekly; the taste of it never gets less. A racking
// leaves the oak behind and ends it.
func oak(v *view) []nudge {
	st := v.st
	if st.Oak.IsZero() || !st.Bottled.IsZero() || lastRacked(st).After(st.Oak) {
		return nil
	}
	root := int64(0)
	if d, ok := st.Did(ferment.DeedOakIn); ok {
		root = d.Root
	} else if a := additionsOf(st, ferment.OakClass); len(a) > 0 {
		root = a[len(a)-1].Root
	}
	return v.series("R49", root, v.weekly(v.from(st.Oak, "R49"), week), nil, args("d", max(14, daysBetween(st.Oak, v.now, v.loc))))
}

// afterSweetening is R32: does it work again? A reading from about a week on settles
// it, one on the day itself does not.
func afterSweetening(v *view) []nudge {
	st := v.st
	if st.Sweetened.IsZero() || !st.Bottled.IsZero() || st.Plan.Flags["drunk at once"] {
		return nil
	}
	if st.Last != nil && st.Last.At.Sub(st.Sweetened) >= week-12*hour {
		return nil
	}
	due := v.from(st.Sweetened, "R32")
	return one(st.SweetRoot, due, args("d", daysBetween(st.Sweetened, later(due, v.now), v.loc), "sg", sg(st)))
}
