package schedule

import (
	"mustbook/ferment"
)

// primaryReading is R07: how it is going, some time after the last gravity. A red on
// skins, a warm must and a forecast in doubt move fast enough for a day; the rest
// for two. It rests while the readings of the stop rule are awaited, which are the
// same readings, and gives way in a week that had its share of messages.
func primaryReading(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Primary || st.Plan.BySheet || st.Last == nil || len(stillness(v)) > 0 {
		return nil
	}
	base, anchor := st.Last.At, st.Last.Entry.Root
	if at, root := pitch(st); at.After(base) {
		base, anchor = at, root
	}
	gap := v.every("R07", ruleOf("R07").Default)
	if !v.set("R07") && (st.Kind == ferment.Red && st.OnPulp || v.warm(26) || v.fc.Watch()) {
		gap = day
	}
	due := v.thrifty(after(base, gap, v.loc))
	return one(anchor, due, args("sg", st.Last.SG, "day", st.Last.At))
}

// warm reports that the newest temperature of the must, of the last two days, is
// above a limit in °C. An older one says nothing of the must of now.
func (v *view) warm(limit float64) bool {
	t, ok := mustTemp(v.st)
	return ok && t.C > limit && v.now.Sub(t.At) < 48*hour
}

// primaryCheck is R09, the check of the first week: by the household's interval, the
// kit's or the household's day; else when the forecast sees the rack point, from day
// 3 to day 10; else by the kind. Once the rack point is reached R10 says more.
func primaryCheck(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Lag && st.Stage != ferment.Primary && !strainedOnly(st) || len(st.Racked) > 0 || len(readyToRack(v)) > 0 {
		return nil
	}
	at, root := pitch(st)
	for _, s := range v.rows("R09", root) {
		if st.Last != nil && st.Last.At.After(s.MadeAt) {
			return nil // read since: R07 asks for the next
		}
	}
	due := addDays(at, st.Plan.CheckDay, v.loc)
	switch {
	case v.set("R09"):
		due = v.from(at, "R09")
	case st.Plan.CheckFrom != "default":
	case v.fc != nil && !v.fc.RackMedian.IsZero():
		due = v.fc.RackMedian
		if first := addDays(at, 3, v.loc); due.Before(first) {
			due = first
		}
		if last := addDays(at, 10, v.loc); due.After(last) {
			due = last
		}
	}
	if st.Last != nil && daysBetween(due, st.Last.At, v.loc) >= 0 {
		return nil // read that very day, or since
	}
	return one(root, due, args("d", daysBetween(st.Pitched, later(due, v.now), v.loc), "rack_sg", st.Plan.RackAt))
}

// strainedOnly tells a batch off the pulp whose gross lees are still under it: it has
// left primary by its stage, and still waits to be racked.
func strainedOnly(st *ferment.State) bool {
	return st.Stage == ferment.Secondary && !st.Strained.IsZero() && len(st.Racked) == 0 && st.Kind != ferment.Red
}

// readyToRack is R10: the gravity reached the rack point, and stayed there. On the
// pulp it waits for the day after R11 spoke: what is strained first is racked after,
// and two voices on one evening would be one too many.
func readyToRack(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Primary && !strainedOnly(st) || len(st.Racked) > 0 || st.Last == nil {
		return nil
	}
	_, root := pitch(st)
	if st.OnPulp && !v.wasSaid("R11", root) {
		return nil
	}
	limit := int(st.Plan.RackAt*1000 + 0.5)
	var first *ferment.Reading
	rs := readings(st)
	for i := range rs {
		switch {
		case points(rs[i].SG) > limit:
			first = nil
		case first == nil:
			first = &rs[i]
		}
	}
	if first == nil {
		return nil
	}
	due := v.nextDay(first.At, "R10")
	if st.OnPulp {
		for _, s := range v.rows("R11", root) {
			due = later(due, v.nextMorning(s.MadeAt, 1))
		}
	}
	return one(first.Entry.Root, due, args("sg", st.Last.SG, "rack_sg", st.Plan.RackAt))
}

// strain is R11: off the pulp or the skins, by the day or by the gravity, whichever
// comes first; an interval that the household set stands alone.
func strain(v *view) []nudge {
	st := v.st
	if !st.OnPulp || st.Stage != ferment.Lag && st.Stage != ferment.Primary {
		return nil
	}
	at, root := pitch(st)
	days, limit := 5*day, 1020
	if st.Kind == ferment.Red {
		days, limit = 10*day, 1000
	}
	due := after(at, v.every("R11", days), v.loc)
	for _, r := range readings(st) {
		if points(r.SG) <= limit && r.At.Before(due) && !v.set("R11") {
			due = r.At
			break
		}
	}
	return one(root, due, args("d", daysBetween(at, later(due, v.now), v.loc), "sg", sg(st)))
}
