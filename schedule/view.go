package schedule

import (
	"strings"
	"time"
)

// every returns a rule's interval: the batch's, the house's, else the default.
// The fold of a batch has put the household's word over the kit's sheet already.
// An interval of nothing is one: "rack at once" instead of the next morning.
func (v *view) every(rule string, def time.Duration) time.Duration {
	if d, ok := v.setTo(rule); ok {
		return d
	}
	return def
}

// set reports whether somebody set a rule's interval.
func (v *view) set(rule string) bool { _, ok := v.setTo(rule); return ok }

func (v *view) setTo(rule string) (time.Duration, bool) {
	if v.st != nil {
		if d, ok := v.st.Plan.Intervals[rule]; ok && d >= 0 {
			return d, true
		}
	}
	d, ok := v.h.Intervals[rule]
	return d, ok && d >= 0
}

// from adds a rule's own interval to an instant.
func (v *view) from(t time.Time, rule string) time.Time {
	return after(t, v.every(rule, ruleOf(rule).Default), v.loc)
}

// nextMorning is the morning after t, days later.
func (v *view) nextMorning(t time.Time, days int) time.Time {
	return atClock(t, days, morning, v.loc)
}

// nextDay adds a rule's interval of whole days and means the morning of that day:
// "next day", not 24 hours on.
func (v *view) nextDay(t time.Time, rule string) time.Time {
	d := v.every(rule, ruleOf(rule).Default)
	if d%day != 0 {
		return t.Add(d)
	}
	if d == 0 {
		return t
	}
	return v.nextMorning(t, int(d/day))
}

// rows returns what was said under a rule, of one anchor, in the order it was made.
func (v *view) rows(rule string, anchor int64) []Said {
	var out []Said
	for _, s := range v.said {
		if s.Rule == rule && s.Anchor == anchor {
			out = append(out, s)
		}
	}
	return out
}

// wasSaid reports whether a rule spoke for an anchor.
func (v *view) wasSaid(rule string, anchor int64) bool { return len(v.rows(rule, anchor)) > 0 }

// answered reports whether a reminder of a rule and anchor got one of the answers.
func (v *view) answered(rule string, anchor int64, answers ...string) bool {
	for _, s := range v.rows(rule, anchor) {
		for _, a := range answers {
			if strings.EqualFold(s.Answer, a) {
				return true
			}
		}
	}
	return false
}

// ignored reports that the last n tellings of a rule and anchor got no answer, and
// that nothing was done since the first of them.
func (v *view) ignored(rule string, anchor int64, n int, done time.Time) bool {
	rows := v.rows(rule, anchor)
	if len(rows) < n {
		return false
	}
	for _, s := range rows[len(rows)-n:] {
		if !s.AnsweredAt.IsZero() || !s.SnoozedTo.IsZero() || !done.Before(s.MadeAt) {
			return false
		}
	}
	return true
}
