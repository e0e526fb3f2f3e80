package schedule

import (
	"time"

	"mustbook/ferment"
)

// vintage is when a batch began, which gives it its year.
func vintage(st *ferment.State) time.Time {
	if !st.Began.IsZero() {
		return st.Began
	}
	return st.Pitched
}

// ages is when a wine may first be looked at, in days, and how long it is at its
// best, in months (common practice, no source).
type ages struct{ first, best int }

func agesOf(st *ferment.State) ages {
	switch {
	case named(st, "elder", "damson", "sloe") && st.Kind != ferment.Cider && st.Kind != ferment.Mead:
		return ages{365, 60}
	case st.Kind == ferment.White, st.Kind == ferment.Rose, st.Kind == ferment.Kit && named(st, "white", "rosé", "rose", "blanc"):
		return ages{60, 18}
	case st.Kind == ferment.Kit, st.Kind == ferment.Red:
		return ages{240, 42}
	case st.Kind == ferment.Mead:
		return ages{270, 60}
	case st.Kind == ferment.Cider:
		return ages{45, 18}
	}
	return ages{180, 24}
}

// firstTasting is R39. Nobody is urged to drink: it comes once, is off where minors
// read, and a bottle opened before has answered it.
func firstTasting(v *view) []nudge {
	st := v.st
	d, ok := inBottle(st)
	if !ok || v.h.Minors || st.Plan.Flags["minors"] {
		return nil
	}
	if t, ok := newestOf(st, ferment.DeedTasted, ferment.DeedOpened); ok && t.At.After(d.At) {
		return nil
	}
	first := time.Duration(agesOf(st).first) * day
	due := after(d.At, v.every("R39", first), v.loc)
	return one(d.Root, due, args("months", max(1, daysBetween(d.At, later(due, v.now), v.loc)/30), "left", st.BottlesLeft))
}

// atItsBest is R40: at the end of the best time, then yearly, while bottles are left.
func atItsBest(v *view) []nudge {
	st := v.st
	d, ok := inBottle(st)
	if !ok || v.h.Minors || st.Plan.Flags["minors"] {
		return nil
	}
	end := addMonths(d.At, agesOf(st).best, v.loc)
	times := func(k int) (time.Time, bool) { return addMonths(end, 12*k, v.loc), true }
	return v.series("R40", d.Root, times, nil, args("left", st.BottlesLeft, "year", end.In(v.loc).Year()))
}
