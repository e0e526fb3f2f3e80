package schedule

import (
	"sort"
	"time"

	"mustbook/ferment"
)

// heatWave is R13, for the whole house: morning and evening while it is hot and
// something works. Each slot has its own key, so that a tick that comes twice tells
// it once.
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

// roomTemps returns the temperatures of the house's rooms in order of time; which
// batch they were typed beside does not matter.
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
