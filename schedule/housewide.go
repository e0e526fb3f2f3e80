package schedule

import (
	"time"
)

// handover is R42: who minds what is due while the household is away; when it is
// typed, and two days before. With a minder or a pause set there is nothing to ask.
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
		fill := args("from", a.From, "to", a.To.Add(-time.Second), "list", names)
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

// welcome is R43: the morning after a holiday, what to read first; not what was read
// since.
func welcome(v *view) []nudge {
	var out []nudge
	for _, a := range v.h.Away {
		var names []string
		for _, st := range v.states {
			if working(st) && !st.Pitched.IsZero() && st.Pitched.Before(a.To) && (st.Last == nil || st.Last.At.Before(a.To)) {
				names = append(names, st.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, nudge{anchor: a.Root, wanted: v.nextMorning(a.To.Add(-time.Second), 1), args: args("list", list(names))})
		}
	}
	return out
}

// yearTotal is R46: from four fifths of a limit that the household set, once a year.
// The program knows no law and sets no limit of its own.
func yearTotal(v *view) []nudge {
	if v.h.YearLimitL <= 0 || v.h.YearMadeL < 0.8*v.h.YearLimitL {
		return nil
	}
	return []nudge{{step: v.now.In(v.loc).Year(), wanted: v.known(), args: args("made", v.h.YearMadeL, "limit", v.h.YearLimitL)}}
}

// instruments is R47: at the first reading of a season, and when two disagree. A water
// test since then has answered it.
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

// tubs is R48: sulphite and sorbate lose strength once opened.
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

// roundUp is the weekly round-up: Sunday, in place of the bundle. One that was missed
// by more than a day is dropped: the next is near.
func roundUp(v *view) []nudge {
	if v.h.NoRoundUp || len(v.states) == 0 || v.toldTwice() {
		return nil
	}
	for days := -1; days <= 14; days++ {
		b := atClock(v.now, days, v.h.bundle(), v.loc)
		step := dayNumber(b, v.loc)
		if b.In(v.loc).Weekday() != time.Sunday || b.Before(addDays(v.oldest(), youngest, v.loc)) || v.madeStep(WeeklyID, 0, step) || days < 0 && v.now.Sub(b) > day {
			continue
		}
		return []nudge{{step: step, wanted: b, args: args()}}
	}
	return nil
}

// toldTwice reports that nothing was entered since the round-up before the last: a
// third one would tell the same.
func (v *view) toldTwice() bool {
	rows := v.rows(WeeklyID, 0)
	n := len(rows)
	return n >= 2 && !v.known().After(rows[n-2].MadeAt)
}

// youngest is how many days the oldest batch must have for a round-up: of a batch
// just begun it has nothing to tell.
const youngest = 3

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
