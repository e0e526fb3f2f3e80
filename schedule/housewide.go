package schedule

import (
	"time"

	"mustbook/ferment"
)

// airlocks is R28: all jars in one, some time after the last look at one.
func airlocks(v *view) []nudge {
	asked, unanswered := v.askedAirlocks()
	var names []string
	var due time.Time
	gap := v.every("R28", 2*week)
	type jar struct {
		name string
		due  time.Time
		look time.Time
	}
	var jars []jar
	for _, st := range v.states {
		look, ok := lookAt(st)
		if !ok || muted(st.Plan.Muted, "R28") {
			continue
		}
		if unanswered >= 2 && !look.After(asked) {
			continue
		}
		d := after(later(look, asked), gap, v.loc)
		jars = append(jars, jar{st.Name, d, look})
		if due.IsZero() || d.Before(due) {
			due = d
		}
	}
	for _, j := range jars {
		if later(due, v.now).Sub(j.look) >= 10*day {
			names = append(names, j.name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []nudge{{step: dayNumber(due, v.loc), wanted: due, args: args("list", list(names))}}
}

// askedAirlocks returns when R28 last spoke, or was last answered, and how many of
// its newest askings got no answer.
func (v *view) askedAirlocks() (at time.Time, unanswered int) {
	for _, s := range v.said {
		if s.Rule != "R28" {
			continue
		}
		at = later(at, later(s.MadeAt, s.AnsweredAt))
		unanswered++
		if !s.AnsweredAt.IsZero() || !s.SnoozedTo.IsZero() {
			unanswered = 0
		}
	}
	return at, unanswered
}

// lookAt is when a jar under airlock was last looked at; false where it is in no
// jar, or R16 asks after its airlock.
func lookAt(st *ferment.State) (time.Time, bool) {
	if len(st.Racked) == 0 || !kept(st) {
		return time.Time{}, false
	}
	look := later(lastRacked(st), st.Stop.Shown)
	if d, ok := newestOf(st, ferment.DeedAirlock, ferment.DeedToppedUp); ok {
		look = later(look, d.At)
	}
	return look, true
}

// handover is R42: who minds what is due while the household is away; when it is
// typed, and two days before.
func handover(v *view) []nudge {
	var out []nudge
	for _, a := range v.h.Away {
		if a.Minder != "" || a.Pause || !v.now.Before(a.From) {
			continue
		}
		names := v.dueWithin(a.From, a.To)
		if names == "" {
			continue
		}
		before := addDays(a.From, -2, v.loc)
		fill := args("from", a.From, "to", a.To, "list", names)
		switch {
		case v.now.Before(before) && !v.wasSaid("R42", a.Root):
			out = append(out, nudge{anchor: a.Root, wanted: a.Typed, atOnce: true, args: fill})
		case !before.Before(a.Typed):
			out = append(out, nudge{anchor: a.Root, step: 1, wanted: before, args: fill})
		case !v.wasSaid("R42", a.Root):
			out = append(out, nudge{anchor: a.Root, wanted: a.Typed, atOnce: true, args: fill})
		}
	}
	return out
}

// dueWithin names the batches that want something in a span of time.
func (v *view) dueWithin(from, to time.Time) string {
	var names []string
	h := *v.h
	h.Away = nil
	for _, st := range v.states {
		for _, it := range Plan(st, nil, h, nil, v.now) {
			if it.Due.Before(to) && (!it.Due.Before(from) || working(st)) {
				names = append(names, st.Name)
				break
			}
		}
	}
	return list(names)
}

// welcome is R43: the morning after a holiday, what to read first.
func welcome(v *view) []nudge {
	var out []nudge
	for _, a := range v.h.Away {
		var names []string
		for _, st := range v.states {
			if working(st) && !st.Pitched.IsZero() && (st.Last == nil || st.Last.At.Before(a.To)) {
				names = append(names, st.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, nudge{anchor: a.Root, wanted: v.nextMorning(a.To, 1), args: args("list", list(names))})
		}
	}
	return out
}

// yearTotal is R46: from four fifths of a set limit, once a year.
func yearTotal(v *view) []nudge {
	if v.h.YearLimitL <= 0 || v.h.YearMadeL < 0.8*v.h.YearLimitL {
		return nil
	}
	return []nudge{{step: v.now.In(v.loc).Year(), wanted: v.known(), args: args("made", v.h.YearMadeL, "limit", v.h.YearLimitL)}}
}

// instruments is R47: at the first reading of a season, and when two disagree.
func instruments(v *view) []nudge {
	var out []nudge
	for _, in := range v.h.Instruments {
		first := in.FirstUse
		if in.Disagree.After(first) && in.Disagree.After(in.Checked) {
			first = in.Disagree
		}
		if first.IsZero() || !in.Checked.Before(first) {
			continue
		}
		out = append(out, nudge{anchor: in.Root, step: dayNumber(first, v.loc), wanted: first, subject: Subject{InstrumentKind, in.N}, args: args()})
	}
	return out
}

// tubs is R48: sulphite and sorbate lose strength.
func tubs(v *view) []nudge {
	var out []nudge
	for _, t := range v.h.Tubs {
		out = append(out, nudge{anchor: t.Root, wanted: v.from(t.Opened, "R48"), subject: Subject{TubKind, t.N}, args: args("what", t.What)})
	}
	return out
}

// houseOwn is R50 of no batch.
func houseOwn(v *view) []nudge {
	var out []nudge
	for _, o := range v.h.Own {
		if o.Batch == 0 {
			out = append(out, v.ownNudge(o))
		}
	}
	return out
}

// roundUp is the weekly round-up: Sunday, in place of the bundle.
func roundUp(v *view) []nudge {
	if v.h.NoRoundUp || len(v.states) == 0 {
		return nil
	}
	for days := -1; days <= 14; days++ {
		b := atClock(v.now, days, v.h.bundle(), v.loc)
		step := dayNumber(b, v.loc)
		if b.In(v.loc).Weekday() != time.Sunday || b.Before(v.oldest()) || v.madeStep(WeeklyID, 0, step) || days < 0 && v.now.Sub(b) > day {
			continue
		}
		return []nudge{{step: step, wanted: b, args: args()}}
	}
	return nil
}

// oldest is when the first of the batches began: no round-up looks back beyond it.
func (v *view) oldest() time.Time {
	var t time.Time
	for _, st := range v.states {
		if b := vintage(st); t.IsZero() || b.Before(t) {
			t = b
		}
	}
	return t
}
