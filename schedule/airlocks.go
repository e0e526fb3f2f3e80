package schedule

import (
	"time"

	"mustbook/ferment"
)

// airlocks is R28: all jars in one, some time after the last look at one. Asking
// counts as a look for the next date, answered or not, or one forgotten jar would
// hold up the rest; two askings in silence end it until somebody looks.
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
