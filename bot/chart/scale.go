package chart

import (
	"fmt"
	"math"
	"strconv"
	"time"
)

// span is the stretch of an axis: days, or gravities.
type span struct{ low, high float64 }

// tick is a figure beside an axis.
type tick struct {
	at   float64
	text string
}

// dry is the foot of the gravity axis: below it only few wines end.
const dry = 0.990

// spanY reaches from dry, or lower where read lower, to a little above the must.
func spanY(cs []curve) span {
	s := span{dry, 1.005}
	for _, c := range cs {
		for _, p := range c.points {
			s.low, s.high = math.Min(s.low, p.sg-0.002), math.Max(s.high, p.sg+0.003)
		}
		for _, b := range c.band {
			s.low, s.high = math.Min(s.low, b.low), math.Max(s.high, b.high)
		}
	}
	return s
}

// spanX holds readings and forecast; doings may lengthen it by three days before
// them, and by half after them. What was done later, such as bottling after a year, would press the curve to the edge.
func spanX(cs []curve) span {
	s := span{0, 3}
	for _, c := range cs {
		s.low, s.high = math.Min(s.low, math.Floor(c.points[0].day)), math.Max(s.high, c.last().day)
		if n := len(c.band); n > 0 {
			s.high = math.Max(s.high, c.band[n-1].day)
		}
	}
	if len(cs) == 1 {
		earliest, latest := s.low-3, s.high+(s.high-s.low)/2
		for _, d := range cs[0].doings(nil) {
			if d.day >= earliest && d.day <= latest {
				s.low, s.high = math.Min(s.low, math.Floor(d.day)), math.Max(s.high, d.day)
			}
		}
	}
	margin := 0.03
	if len(cs) > 1 {
		margin = 0.15                    // room for the names
		s.low -= (s.high - s.low) * 0.02 // marks of day 0 stand clear of the axis
	}
	s.high += (s.high - s.low) * margin
	return s
}

// gravityStep lists the steps of the gravity axis in thousandths.
var gravityStep = []int{2, 5, 10, 20, 50, 100, 200}

// gravities are the figures of the gravity axis: at most eleven, on round
// thousandths, always three decimals.
func gravities(s span) []tick {
	const room = 11
	low, high := s.low*1000, s.high*1000
	for _, step := range gravityStep {
		first := int(math.Ceil(low/float64(step)-1e-6)) * step
		var ts []tick
		for v := first; float64(v) <= high && len(ts) <= room; v += step {
			ts = append(ts, tick{float64(v) / 1000, strconv.FormatFloat(float64(v)/1000, 'f', 3, 64)})
		}
		if len(ts) <= room {
			return ts
		}
	}
	return nil
}

// dayStep lists the steps of the day axis.
var dayStep = []int{1, 2, 4, 7, 14, 28, 56, 91, 182, 364}

// stepDays is the smallest step that leaves room for so many figures.
func stepDays(s span, room int) int {
	days := s.high - s.low
	for _, step := range dayStep {
		if days/float64(step) < float64(room) {
			return step
		}
	}
	return 364 * int(math.Ceil(days/364/float64(room)))
}

// dates are the figures of a calendar axis, each at its midnight: the clock
// change makes a day of 23 hours, so the calendar is walked, not the hours.
func dates(s span, origin time.Time) []tick {
	const room = 8
	step := stepDays(s, room)
	layout := "2 Jan"
	if s.high-s.low > 300 {
		layout = "Jan 06"
	}
	var ts []tick
	for n := int(math.Ceil(s.low)); len(ts) <= room; n += step {
		t := origin.AddDate(0, 0, n)
		at := t.Sub(origin).Hours() / 24
		if at > s.high {
			break
		}
		ts = append(ts, tick{at, t.Format(layout)})
	}
	return ts
}

// days are the figures of an axis of days since the yeast.
func days(s span) []tick {
	const room = 9
	step := stepDays(s, room)
	var ts []tick
	for n := int(math.Floor(s.low/float64(step))) * step; float64(n) <= s.high; n += step {
		if float64(n) >= s.low {
			ts = append(ts, tick{float64(n), fmt.Sprintf("%d", n)})
		}
	}
	return ts
}
