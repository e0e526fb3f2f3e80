package schedule

import (
	"mustbook/ferment"
)

// rackAgain is R26: six weeks after the first racking, then every eleven, while it
// drops lees.
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

// topUp is R27: air above a wine that has stopped.
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

// outOfTheCold is R31.
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

// afterBlending is R33; a later reading settles it.
func afterBlending(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedBlended)
	if !ok || !st.Bottled.IsZero() || st.Last != nil && st.Last.At.Sub(d.At) >= week {
		return nil
	}
	due := v.from(d.At, "R33")
	return one(d.Root, due, args("d", daysBetween(d.At, later(due, v.now), v.loc)))
}

// oak is R49: two weeks, then weekly; it never gets less.
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

// afterSweetening is R32: does it work again? A reading some days later settles it.
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

// silent is R41: nothing noted for weeks in fermentation, months in ageing.
func silent(v *view) []nudge {
	st := v.st
	if st.LastLook.IsZero() || !st.Bottled.IsZero() {
		return nil
	}
	gap := 90 * day
	if !kept(st) {
		gap = 21 * day
	}
	due := after(st.LastLook, v.every("R41", gap), v.loc)
	n := nudge{wanted: due, step: dayNumber(st.LastLook, v.loc), args: args("d", daysBetween(st.LastLook, later(due, v.now), v.loc))}
	return []nudge{n}
}

// guests is R44: what a gift carries, at each giving, once a person.
func guests(v *view) []nudge {
	st := v.st
	d, ok := st.Did(ferment.DeedGiven)
	if !ok || len(st.Allergens) == 0 {
		return nil
	}
	for _, e := range st.Deeds {
		if e.What == ferment.DeedGiven && e.Root != d.Root && e.Text != "" && e.Text == d.Text && v.wasSaid("R44", e.Root) {
			return nil
		}
	}
	return one(d.Root, d.At, args("allergens", list(st.Allergens)))
}

// muchAtWork is how many litres at work in one place call for air.
const muchAtWork = 10.0

// ventilate is R45: once a batch, when it works with enough litres in one place.
func ventilate(v *view) []nudge {
	st := v.st
	if st.Started.IsZero() || !working(st) || st.Plan.Flags["airy"] || st.Plan.Flags["outdoors"] || st.Plan.Flags["large room"] {
		return nil
	}
	if max(st.VolumeL, v.h.PlaceL[st.Place]) < muchAtWork {
		return nil
	}
	return one(0, st.Started, args())
}

// own is R50 of a batch.
func own(v *view) []nudge {
	var out []nudge
	for _, o := range v.h.Own {
		if o.Batch != v.st.N || v.deedDone(o) {
			continue
		}
		out = append(out, v.ownNudge(o))
	}
	return out
}

// deedDone reports that what somebody wanted to be reminded of is in the book.
func (v *view) deedDone(o Own) bool {
	if o.Deed == "" {
		return false
	}
	d, ok := v.st.Did(o.Deed)
	return ok && d.At.After(o.Made)
}

// dayAloneAt is the hour of a reminder for a day without one.
const dayAloneAt = 10 * 60

func (v *view) ownNudge(o Own) nudge {
	due := o.At
	if o.DayOnly {
		due = atClock(o.At, 0, dayAloneAt, v.loc)
	}
	return nudge{anchor: o.Root, wanted: due, args: args("what", o.What)}
}

func list(xs []string) string {
	out := ""
	for i, x := range xs {
		if i > 0 {
			out += ", "
		}
		out += x
	}
	return out
}
