package schedule

import (
	"time"
)

// nth gives the time of a step; false after the last.
type nth func(k int) (time.Time, bool)

// weekly is a series without end: first, then every gap.
func (v *view) weekly(first time.Time, gap time.Duration) nth {
	return func(k int) (time.Time, bool) { return after(first, time.Duration(k)*gap, v.loc), true }
}

// days is a series at so many days after an instant.
func (v *view) days(from time.Time, days ...int) nth {
	return func(k int) (time.Time, bool) {
		if k >= len(days) {
			return time.Time{}, false
		}
		return addDays(from, days[k], v.loc), true
	}
}

// seriesEnd bounds the search for a step: four years of weeks.
const seriesEnd = 208

// series finds the step of a rule that comes several times: the newest whose time
// has come, else the next. A step that was made and not snoozed is over; skip names
// steps that are moot. The series ends once two in a row got no answer.
func (v *view) series(rule string, anchor int64, times nth, skip func(due time.Time) bool, a map[string]string) []nudge {
	if v.ignored(rule, anchor, 2, v.st.LastLook) {
		return nil
	}
	for k := 0; k < seriesEnd; k++ {
		due, ok := times(k)
		if !ok {
			return nil
		}
		if next, more := times(k + 1); more && !v.h.place(ruleOf(rule).Weight, next, time.Time{}).After(v.now) {
			continue
		}
		if v.overStep(rule, anchor, k) || skip != nil && skip(due) {
			continue
		}
		return []nudge{{anchor: anchor, step: k, wanted: due, args: a}}
	}
	return nil
}

// overStep reports that a step was made and not put off.
func (v *view) overStep(rule string, anchor int64, step int) bool {
	var last *Said
	for _, s := range v.rows(rule, anchor) {
		if s.Step() == step {
			last = &s
		}
	}
	return last != nil && last.SnoozedTo.IsZero()
}
