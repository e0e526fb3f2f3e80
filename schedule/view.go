package schedule

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
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

// args pairs names and values for a text. Floats keep four decimals, times RFC
// 3339; what is zero is not known and left out.
func args(pairs ...any) map[string]string {
	m := make(map[string]string, len(pairs)/2+1)
	for i := 0; i+1 < len(pairs); i += 2 {
		if t := argOf(pairs[i+1]); strings.Trim(t, "0.") != "" && t != unknownTime {
			m[pairs[i].(string)] = t
		}
	}
	return m
}

var unknownTime = argOf(time.Time{})

func argOf(x any) string {
	switch x := x.(type) {
	case string:
		return x
	case int:
		return strconv.Itoa(x)
	case float64:
		return strconv.FormatFloat(x, 'f', 6, 64)
	case liquid.Gravity:
		return strconv.FormatFloat(float64(x), 'f', 6, 64)
	case time.Time:
		return x.Format(time.RFC3339)
	}
	return fmt.Sprint(x)
}

func one(anchor int64, wanted time.Time, a map[string]string) []nudge {
	return []nudge{{anchor: anchor, wanted: wanted, args: a}}
}

// rows returns what was said under a rule, of one anchor, in order.
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

// pitch returns the newest pitch and its root.
func pitch(st *ferment.State) (time.Time, int64) {
	if !st.Repitched.IsZero() {
		return st.Repitched, st.RepitchRoot
	}
	return st.Pitched, st.PitchRoot
}

// readings returns the gravities on the curve since the newest pitch.
func readings(st *ferment.State) []ferment.Reading {
	from, _ := pitch(st)
	var out []ferment.Reading
	for _, r := range st.Readings {
		if r.Counts && !r.At.Before(from) {
			out = append(out, r)
		}
	}
	return out
}

func points(g liquid.Gravity) int { return int(math.Round(float64(g) * 1000)) }

func working(st *ferment.State) bool {
	return st.Stage == ferment.Lag || st.Stage == ferment.Primary || st.Stage == ferment.Secondary
}

// kept tells a wine that has stopped and is not in bottles yet.
func kept(st *ferment.State) bool {
	switch st.Stage {
	case ferment.Stopped, ferment.Stabilised, ferment.Clearing, ferment.Ageing:
		return true
	}
	return false
}

// stabilised reports that sulphite, and sorbate where sweet, is in, or the word.
func stabilised(st *ferment.State) bool {
	if !st.Stabilised.IsZero() {
		return true
	}
	if st.Stop.Shown.IsZero() || !st.Sulphited.After(st.Stop.From) {
		return false
	}
	return !st.IsSweet() || st.Sorbated.After(st.Stop.From)
}

// newestOf returns the newest deed among several and whether there is one.
func newestOf(st *ferment.State, deeds ...string) (ferment.Deed, bool) {
	for i := len(st.Deeds) - 1; i >= 0; i-- {
		for _, d := range deeds {
			if st.Deeds[i].What == d {
				return st.Deeds[i], true
			}
		}
	}
	return ferment.Deed{}, false
}

// additionsOf returns the additions of a class, in order.
func additionsOf(st *ferment.State, c ferment.Class) []ferment.Addition {
	var out []ferment.Addition
	for _, a := range st.Additions {
		if ferment.ClassOf(a.Material) == c {
			out = append(out, a)
		}
	}
	return out
}

func lastRacked(st *ferment.State) time.Time {
	if n := len(st.Racked); n > 0 {
		return st.Racked[n-1]
	}
	return time.Time{}
}

// sg returns the newest gravity, 0 where none.
func sg(st *ferment.State) liquid.Gravity {
	if st.Last == nil {
		return 0
	}
	return st.Last.SG
}

// named reports whether a batch's name holds one of the words.
func named(st *ferment.State, words ...string) bool {
	name := strings.ToLower(st.Name)
	for _, w := range words {
		if strings.Contains(name, w) {
			return true
		}
	}
	return false
}
