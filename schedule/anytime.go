package schedule

import (
	"mustbook/ferment"
)

// silent is R41: nothing noted for weeks in fermentation, months in ageing. Its step
// is the day of the last look, so that an edit of old entries does not ask again.
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

// ventilate is R45: once a batch, when it works with enough litres in one place, its
// own or all batches there together. Carbon dioxide has no smell.
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

// own is R50 of a batch: what somebody asked to be reminded of, until the deed it
// speaks of is in the book.
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

// ownNudge places an own reminder; a day without an hour is told in its morning.
func (v *view) ownNudge(o Own) nudge {
	due := o.At
	if o.DayOnly {
		due = atClock(o.At, 0, dayAloneAt, v.loc)
	}
	return nudge{anchor: o.Root, wanted: due, args: args("what", o.What)}
}
