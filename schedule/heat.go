package schedule

import (
	"math"
	"time"

	"mustbook/ferment"
)

// Limits of heat, °C: common practice, settable by the household.
const (
	rising   = 4.0
	hotRoom  = 27.0
	coolRoom = 25.0
	fast     = 25.0 // points a day
)

// ofMust tells temperatures of the must from those of a glass or a room.
func ofMust(t ferment.Temperature) bool { return t.From != "room" && t.From != "sample" }

// mustTemp returns the newest temperature of the must.
func mustTemp(st *ferment.State) (ferment.Temperature, bool) {
	for i := len(st.Temps) - 1; i >= 0; i-- {
		if ofMust(st.Temps[i]) {
			return st.Temps[i], true
		}
	}
	return ferment.Temperature{}, false
}

// hotLimit is the house's own limit, else that of the kind.
func (v *view) hotLimit() float64 {
	if v.h.HotC > 0 {
		return v.h.HotC
	}
	return v.st.HotAt()
}

// hot is R12a: the newest temperature of the must is hot for it. Every hot reading is
// told anew: it is read again after four hours, and the answer may be worse. One
// that turns out to be the room's is dropped with a tap.
func hot(v *view) []nudge {
	t, ok := mustTemp(v.st)
	if !ok || !working(v.st) || t.C < v.hotLimit() || v.notMust(t.Root) {
		return nil
	}
	return one(t.Root, t.At, args("temp", t.C))
}

// notMust reports that a temperature was said to be the room's.
func (v *view) notMust(root int64) bool {
	return v.answered("R12a", root, "Room, not must") || v.answered("R12b", root, "Room, not must")
}

// heating is R12b: it heats itself, not hot yet. Only temperatures of the same sort
// are compared, of the last twelve hours; beside R12a it would be noise.
func heating(v *view) []nudge {
	st := v.st
	t, ok := mustTemp(st)
	if !ok || !working(st) || t.C >= v.hotLimit() || v.saidWithin("R12a", 12*hour) || v.notMust(t.Root) {
		return nil
	}
	low, at := math.Inf(1), t.At
	for _, u := range st.Temps {
		if ofMust(u) && u.From == t.From && !u.At.After(t.At) && t.At.Sub(u.At) <= 12*hour && u.C < low {
			low, at = u.C, u.At
		}
	}
	limit := rising
	if v.h.RiseC > 0 {
		limit = v.h.RiseC
	}
	if t.C-low < limit-1e-9 {
		return nil
	}
	return one(t.Root, t.At, args("temp", t.C, "rise", t.C-low, "h", max(1, int(t.At.Sub(at).Hours()+0.5))))
}

// saidWithin reports whether a rule spoke of this batch a short while ago.
func (v *view) saidWithin(rule string, d time.Duration) bool {
	for _, s := range v.said {
		if s.Rule == rule && v.now.Sub(s.MadeAt) < d {
			return true
		}
	}
	return false
}

// tooFast is R12c, once a pitch; never for reds, which may do as much in health. Two
// readings less than half a day apart say more of the stem than of the must.
func tooFast(v *view) []nudge {
	st := v.st
	rs := readings(st)
	if st.Kind == ferment.Red || !working(st) || len(rs) < 2 || len(hot(v)) > 0 || len(heating(v)) > 0 ||
		v.saidWithin("R12a", day) || v.saidWithin("R12b", day) {
		return nil
	}
	a, b := rs[len(rs)-2], rs[len(rs)-1]
	gap := b.At.Sub(a.At)
	limit := fast
	if v.h.FastPoints > 0 {
		limit = v.h.FastPoints
	}
	if gap < 12*hour { // two readings close together say more of the stem than of the must
		return nil
	}
	perDay := float64(a.SG-b.SG) * 1000 / (gap.Hours() / 24)
	if perDay <= limit {
		return nil
	}
	_, root := pitch(st)
	return one(root, b.At, args("p", int(perDay+0.5)))
}
