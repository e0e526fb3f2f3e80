package schedule

import (
	"time"

	"mustbook/ferment"
)

// Limits of the stop rule: common practice. Without an original gravity 1.005
// stands in for 20 g/L of sugar left.
const (
	littleSG = 1005
	cold     = 18.0 // °C, below it cold comes first
)

// little reports that no more than 20 g/L of sugar is left: from there on a gravity
// that stands may be the end, and above it only a halt.
func little(st *ferment.State) bool {
	if st.SugarKnown {
		return st.SugarLeft <= ferment.StuckLeft
	}
	return points(sg(st)) <= littleSG
}

// run returns the newest readings that lie within 0.001 of each other: what a
// hydrometer can tell apart is not much finer.
func run(rs []ferment.Reading) []ferment.Reading {
	if len(rs) == 0 {
		return nil
	}
	low := points(rs[len(rs)-1].SG)
	high := low
	i := len(rs) - 1
	for ; i >= 0; i-- {
		p := points(rs[i].SG)
		low, high = min(low, p), max(high, p)
		if high-low > 1 {
			break
		}
	}
	return rs[i+1:]
}

// watched tells a batch in which a stop may be under way.
func watched(st *ferment.State) bool {
	return (st.Stage == ferment.Primary || st.Stage == ferment.Secondary) && st.Stop.Shown.IsZero() && st.Last != nil
}

// secondReading is R17: one more, some days after the first reading with little sugar
// left, or after a first pair that agrees above that. A gravity that moved makes
// the newest reading the first again: the clock restarts by itself.
func secondReading(v *view) []nudge {
	st := v.st
	if !watched(st) {
		return nil
	}
	r := run(readings(st))
	switch {
	case len(r) == 0, len(r) > 1 && little(st):
		return nil
	case len(r) == 1 && !little(st):
		return nil
	case len(r) > 2, len(r) == 2 && daysBetween(r[0].At, r[1].At, v.loc) < 1:
		return nil
	}
	last := r[len(r)-1]
	return one(last.Entry.Root, v.from(last.At, "R17"), args("sg", last.SG, "day", last.At))
}

// closingReading is R18: one more after two that agree; first and last must be three
// days apart, so a pair of the same day waits longer. It hangs on the first of the
// run: readings that go on agreeing do not ask again.
func closingReading(v *view) []nudge {
	st := v.st
	if !watched(st) {
		return nil
	}
	r := run(readings(st))
	if len(r) < 2 || len(r) == 2 && !little(st) {
		return nil
	}
	due := later(v.from(r[1].At, "R18"), addDays(r[0].At, 3, v.loc))
	return one(r[0].Entry.Root, due, args("sg", st.Last.SG, "day", st.Last.At))
}

// stillness returns R17 or R18, whichever is pending.
func stillness(v *view) []nudge { return append(secondReading(v), closingReading(v)...) }

// meantSweet reports that sugar left is what the household wants.
func meantSweet(st *ferment.State) bool { return st.Plan.MeantSweet || !st.Sweetened.IsZero() }

// coldFirst is R14: hardly moved in three days, sugar left, and cold. It is told once
// a pitch and keeps R15 away: what is cold is not known to be stuck.
func coldFirst(v *view) []nudge {
	st := v.st
	if !watchedOrStuck(st) || meantSweet(st) || little(st) {
		return nil
	}
	rs := readings(st)
	last := rs[len(rs)-1]
	t, ok := coolest(st)
	if !ok || t.C >= cold {
		return nil
	}
	for i := len(rs) - 2; i >= 0; i-- {
		d := daysBetween(rs[i].At, last.At, v.loc)
		if d < 3 {
			continue
		}
		if diff := points(rs[i].SG) - points(last.SG); diff >= 2 || diff <= -2 {
			return nil
		}
		_, root := pitch(st)
		return one(root, last.At, args("sg", last.SG, "d", d, "temp", t.C))
	}
	return nil
}

// watchedOrStuck tells a working batch with readings since the pitch.
func watchedOrStuck(st *ferment.State) bool {
	return (st.Stage == ferment.Primary || st.Stage == ferment.Secondary) && len(readings(st)) > 0 && started(st)
}

// coolest returns the newest temperature that speaks for the ferment: of the must,
// else of the room.
func coolest(st *ferment.State) (ferment.Temperature, bool) {
	if t, ok := mustTemp(st); ok {
		return t, true
	}
	if n := len(st.Temps); n > 0 {
		return st.Temps[n-1], true
	}
	return ferment.Temperature{}, false
}

// stuck is R15: not finished, though it hardly moves; on the stop rule's word, or the
// forecast's at two readings running. Cold comes first: R14 speaks while it is cold,
// and R15 only once it has been warm for days, since warmth may be all it wanted.
func stuck(v *view) []nudge {
	st := v.st
	if !watchedOrStuck(st) || meantSweet(st) || little(st) && !v.fc.Alarm() {
		return nil
	}
	if st.Stop.Verdict != ferment.StopStuck && (!v.fc.Alarm() || falling(st)) || len(coldFirst(v)) > 0 {
		return nil
	}
	_, root := pitch(st)
	due := st.Last.At
	if since, coldBefore := warmSince(st); coldBefore {
		if t, _ := coolest(st); t.C < cold {
			return nil
		}
		due = later(due, addDays(since, int(v.every("R15", 3*day)/day), v.loc))
	}
	return one(root, due, args("sg", st.Last.SG))
}

// falling reports that the newest reading lies 0.003 and more under the one before, by a
// point a day at least: slow, perhaps, but nothing that hardly moves.
func falling(st *ferment.State) bool {
	rs := readings(st)
	if len(rs) < 2 {
		return false
	}
	last, before := rs[len(rs)-1], rs[len(rs)-2]
	fell := points(before.SG) - points(last.SG)
	return fell >= 3 && float64(fell) >= last.At.Sub(before.At).Hours()/24
}

// warmSince returns the first temperature at or above 18 °C after the newest one
// below it; false where it never was cold.
func warmSince(st *ferment.State) (since time.Time, coldBefore bool) {
	for i := len(st.Temps) - 1; i >= 0; i-- {
		t := st.Temps[i]
		if t.From == "sample" {
			continue
		}
		if t.C < cold {
			return since, true
		}
		since = t.At
	}
	return since, false
}

// secondaryReading is R16: a week in the jar, racked or pressed into it, then weekly. A reading in the half week
// before a slot has answered it. When the stop rule wants readings, R17 and R18 ask
// for them on better days.
func secondaryReading(v *view) []nudge {
	st := v.st
	if st.Stage != ferment.Secondary || !st.Stop.Shown.IsZero() || len(stillness(v)) > 0 {
		return nil
	}
	racked, ok := st.Did(ferment.DeedRacked)
	if !ok {
		racked, ok = st.Did(ferment.DeedPressed) // a red goes from the press into the jar
	}
	if !ok {
		return nil
	}
	read := func(due time.Time) bool {
		return st.Last != nil && st.Last.At.After(racked.At) && due.Sub(st.Last.At) < v.every("R16", week)/2
	}
	gap := v.every("R16", week)
	return v.series("R16", racked.Root, v.weekly(after(racked.At, gap, v.loc), gap), read, args("sg", sg(st)))
}
