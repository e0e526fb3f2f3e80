package schedule

import "time"

// at returns the instant of a clock time on a day. Where the clock skips that time
// it lies as far behind the gap, never on the day before; where it comes twice, it
// is the first.
func at(y int, m time.Month, d, minutes int, loc *time.Location) time.Time {
	t := time.Date(y, m, d, minutes/60, minutes%60, 0, 0, loc)
	wall := time.Date(y, m, d, minutes/60, minutes%60, 0, 0, time.UTC)
	if short := wall.Sub(wallOf(t)); short > 0 {
		return t.Add(short) // in a gap the library may answer with either side of it
	}
	return t
}

// wallOf is what the clock on the wall shows at t, as if it were UTC.
func wallOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.UTC)
}

// atClock returns the instant of a clock time on the day of t, days later.
func atClock(t time.Time, days, minutes int, loc *time.Location) time.Time {
	y, m, d := t.In(loc).Date()
	return at(y, m, d+days, minutes, loc)
}

// addDays adds calendar days: the same clock time on a later day, which is 23 or 25
// hours off where the clocks change.
func addDays(t time.Time, days int, loc *time.Location) time.Time {
	l := t.In(loc)
	day := atClock(t, days, l.Hour()*60+l.Minute(), loc)
	return day.Add(time.Duration(l.Second())*time.Second + time.Duration(l.Nanosecond()))
}

// after adds an interval: two days and more by the calendar, where they are whole;
// what is shorter by the clock, since yeast counts hours.
func after(t time.Time, d time.Duration, loc *time.Location) time.Time {
	if d >= 48*time.Hour && d%(24*time.Hour) == 0 {
		return addDays(t, int(d/(24*time.Hour)), loc)
	}
	return t.Add(d)
}

// dayNumber counts the days of the calendar, whatever the zone: 1 January 1970 is 0.
func dayNumber(t time.Time, loc *time.Location) int {
	y, m, d := t.In(loc).Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / (24 * 3600))
}

// daysBetween counts the midnights from a to b.
func daysBetween(a, b time.Time, loc *time.Location) int {
	return dayNumber(b, loc) - dayNumber(a, loc)
}

// minuteOf is what the clock on the wall shows, in minutes after midnight.
func minuteOf(t time.Time, loc *time.Location) int {
	l := t.In(loc)
	return l.Hour()*60 + l.Minute()
}

// isQuiet reports whether an instant lies in the quiet hours.
func (h *House) isQuiet(t time.Time) bool {
	from, to := h.quiet()
	m := minuteOf(t, h.zone())
	if from <= to {
		return from <= m && m < to
	}
	return m >= from || m < to
}

// awake moves an instant out of the quiet hours, to their end: never back, which in
// the repeated hour of autumn takes some care.
func (h *House) awake(t time.Time) time.Time {
	if !h.isQuiet(t) {
		return t
	}
	_, to := h.quiet()
	loc := h.zone()
	end := atClock(t, 0, to, loc)
	for days := 1; end.Before(t); days++ {
		// In the repeated hour of autumn the same clock time comes once more.
		if again := end.Add(time.Hour); !again.Before(t) && minuteOf(again, loc) == to {
			return again
		}
		end = atClock(t, days, to, loc)
	}
	return end
}

// together is how long after the bundle a thing may fall due and still go with
// it, on the same day.
const together = 4 * time.Hour

// bundleFor returns the bundle that a thing goes with: that of the day it falls
// due, where it falls due no more than four hours after it; else the next day's.
func (h *House) bundleFor(wanted time.Time) time.Time {
	b := atClock(wanted, 0, h.bundle(), h.zone())
	if wanted.After(b.Add(together)) {
		b = atClock(wanted, 1, h.bundle(), h.zone())
	}
	return b
}

// nextBundle returns the first bundle that is not before t.
func (h *House) nextBundle(t time.Time) time.Time {
	b := atClock(t, 0, h.bundle(), h.zone())
	if b.Before(t) {
		b = atClock(t, 1, h.bundle(), h.zone())
	}
	return b
}

// place returns when a reminder may be sent that falls due at wanted. One for the
// bundle that the book did not know of before it last changed, at known, goes with
// the next: there is one bundle a day.
func (h *House) place(w Weight, wanted, known time.Time) time.Time {
	switch {
	case w == Urgent && h.UrgentBreaksQuiet:
		return wanted
	case w != Normal:
		return h.awake(wanted)
	}
	b := h.bundleFor(wanted)
	if b.Before(known) {
		b = h.nextBundle(known)
	}
	return h.awake(b)
}
