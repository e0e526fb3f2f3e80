package schedule

import (
	"math"
	"sort"
	"time"

	"mustbook/ferment"
)

// Limits of heat, °C: common practice, settable by the household.
const (
	hotMust  = 30.0
	hotSkins = 32.0
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

func (v *view) hotLimit() float64 {
	if v.h.HotC > 0 {
		return v.h.HotC
	}
	if v.st.Kind == ferment.Red && v.st.OnPulp {
		return hotSkins
	}
	return hotMust
}

// hot is R12a: the newest temperature of the must is hot for it.
func hot(v *view) []nudge {
	t, ok := mustTemp(v.st)
	if !ok || !working(v.st) || t.C < v.hotLimit() || v.notMust(t.Root) {
		return nil
	}
	return one(t.Root, t.At, args("temp", t.C))
}

func (v *view) notMust(root int64) bool {
	return v.answered("R12a", root, "Room, not must") || v.answered("R12b", root, "Room, not must")
}

// heating is R12b: it heats itself, not hot yet.
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

// tooFast is R12c, once a pitch; never for reds.
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

// heatWave is R13, for the whole house: morning and evening while it is hot.
func heatWave(v *view) []nudge {
	since, root, warm := v.heat()
	n := 0
	for _, st := range v.states {
		if working(st) && !st.Pitched.IsZero() {
			n++
		}
	}
	if n == 0 || !warm || v.ignored("R13", root, 2, since) || v.allCool(root) {
		return nil
	}
	for days := -1; days < 3; days++ {
		for i, m := range []int{7*60 + 30, 19*60 + 30} {
			slot := atClock(v.now, days, m, v.loc)
			step := daysBetween(since, slot, v.loc)*10 + i
			if slot.Before(since) || v.now.Sub(slot) > ruleOf("R13").Keep || v.madeStep("R13", root, step) {
				continue
			}
			return []nudge{{anchor: root, step: step, wanted: slot, args: args("n", n)}}
		}
	}
	return nil
}

// allCool reports that the last two askings were answered with that.
func (v *view) allCool(root int64) bool {
	rows := v.rows("R13", root)
	n := len(rows)
	return n >= 2 && rows[n-1].Answer == "All cool" && rows[n-2].Answer == "All cool"
}

// heatHolds is how long a report of heat speaks for the weather.
const heatHolds = week

// heat returns since when the house is hot: a report, or a room of 27 °C and more;
// over once a room was below 25 °C twice running, or a week after the last sign.
func (v *view) heat() (since time.Time, root int64, warm bool) {
	last := v.h.HeatAt
	since, root, warm = v.h.HeatAt, v.h.HeatRoot, !v.h.HeatAt.IsZero()
	cool := 0
	for _, t := range v.roomTemps() {
		switch {
		case t.At.Before(v.h.HeatAt):
		case t.C >= hotRoom:
			if !warm {
				since, root, warm = t.At, t.Root, true
			}
			last, cool = t.At, 0
		case t.C < coolRoom:
			if cool++; cool >= 2 {
				warm = false
			}
		default:
			cool = 0
		}
	}
	return since, root, warm && v.now.Sub(last) < heatHolds
}

// roomTemps returns the temperatures of the house's rooms in order of time.
func (v *view) roomTemps() []ferment.Temperature {
	var out []ferment.Temperature
	for _, st := range v.states {
		for _, t := range st.Temps {
			if t.From == "room" {
				out = append(out, t)
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].At.Before(out[j].At) })
	return out
}
