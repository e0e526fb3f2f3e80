package schedule

import (
	"time"

	"mustbook/ferment"
)

// nudge is what a rule finds in the book as it stands: due now or later, and not
// moot. What was said of it before is no concern of the rule that found it.
type nudge struct {
	anchor  int64
	step    int
	wanted  time.Time
	atOnce  bool // set off by a message, where the rule is not always
	subject Subject
	args    map[string]string
}

// finder is the one function that holds what a rule counts from and when it is
// moot. There is no second place for "moot": a rule that finds nothing says nothing,
// whatever was planned before.
type finder struct {
	id   string
	find func(*view) []nudge
}

// view is all that a rule may look at. For a rule of the whole house st is nil
// and states holds the batches. It is made anew for each question, so that nothing
// is remembered between two of them: the book is the only memory.
type view struct {
	st     *ferment.State
	states []*ferment.State
	fc     *Forecast
	h      *House
	said   []Said
	now    time.Time
	loc    *time.Location
}

// lateAfter is how long after its time a reminder counts as late: the bot was off.
const lateAfter = 15 * time.Minute

// tell adds what a nudge comes to, given what was said of it before: the first
// telling, one after a snooze, the one repeat, an open one, or nothing.
//
// The order of the cases is the rule: a mute ends it, a snooze outlives an answer
// (it is one), an answer settles it, and silence brings one repeat and no more.
func (v *view) tell(out []Item, r *Rule, n nudge) []Item {
	it := Item{Key: Key{r.ID, n.subject, n.anchor, n.step * tellings}, Wanted: n.wanted,
		Weight: r.Weight, AtOnce: r.AtOnce || n.atOnce, Args: n.args}
	last, repeats := v.newest(it.Key)
	switch {
	case last == nil:
	case last.Muted:
		return out
	case !last.SnoozedTo.IsZero():
		it.Occurrence, it.Wanted = last.Occurrence+1, last.SnoozedTo
	case !last.AnsweredAt.IsZero():
		return out
	case r.Repeat > 0 && repeats == 0:
		it.Occurrence, it.Wanted, it.Repeat = last.Occurrence+1, v.thrifty(after(last.MadeAt, r.Repeat, v.loc)), true
	case r.Keep > 0 && v.now.Sub(last.MadeAt) > r.Keep:
		return out // nobody waits for the answer any more
	default:
		it.Key, it.Due, it.Open = last.Key, last.Due, true
		return append(out, it)
	}
	if it.Due = v.sendAt(it); v.stale(r, it) {
		return out
	}
	v.ifLate(&it)
	it.Bundle = it.Weight == Normal || it.Late && it.Weight != Urgent
	return append(out, it)
}

// ifLate marks what should have been made while the bot was off. It goes now, with
// whatever else is late, but never in the quiet hours.
func (v *view) ifLate(it *Item) {
	if it.Due.After(v.now) {
		return
	}
	if v.now.Sub(it.Due) > lateAfter {
		it.Late, it.Was = true, it.Due
		it.Args["was"] = argOf(it.Due)
		it.Due = v.now
	}
	if v.h.isQuiet(v.now) && !(it.Weight == Urgent && v.h.UrgentBreaksQuiet) {
		it.Due = v.h.awake(v.now)
	}
}

// newest returns the newest telling of a step and how many tellings before it
// were not asked for by a snooze; a muted one counts for all steps of its anchor.
// A snooze is the household's own wish and takes nothing from the one repeat.
func (v *view) newest(k Key) (last *Said, repeats int) {
	for i := range v.said {
		s := &v.said[i]
		if s.Rule != k.Rule || s.Subject != k.Subject || s.Anchor != k.Anchor {
			continue
		}
		if s.Muted {
			return s, 0
		}
		if s.Step() != k.Step() {
			continue
		}
		if s.SnoozedTo.IsZero() {
			repeats++
		}
		if last == nil || s.Occurrence > last.Occurrence {
			last = s
		}
	}
	if last != nil && last.SnoozedTo.IsZero() {
		repeats--
	}
	return last, repeats
}

// sendAt places an item: by its weight, and after a holiday on which everything
// rests. What a pause holds goes out when the household is back; whether it still
// matters is judged then.
func (v *view) sendAt(it Item) time.Time {
	due := v.h.place(it.Weight, it.Wanted, v.known())
	if neverPaused(it.Rule, it.Weight) {
		return due
	}
	if a, ok := v.h.awayAt(due); ok && a.Pause {
		return v.h.place(it.Weight, a.To, a.To)
	}
	return due
}

// neverPaused tells what no pause holds: urgent ones, the look for bottles that
// may burst, and the holiday's own.
func neverPaused(rule string, w Weight) bool {
	return w == Urgent || rule == "R37" || rule == "R42"
}

// paused reports that somebody paused this batch, or all. What can hurt somebody is not
// held by it.
func (v *view) paused(r *Rule) bool {
	return (v.h.Paused || v.st.Plan.Flags["paused"]) && !neverPaused(r.ID, r.Weight)
}

// known is when the book last changed. What goes with the bundle and fell due before
// that may not have been in the book at the hour of the bundle; it goes with the
// next, so that a message in the evening sets off no second bundle.
func (v *view) known() time.Time {
	if !v.h.Changed.IsZero() {
		return v.h.Changed
	}
	if v.st != nil {
		return v.st.NewestAt
	}
	var t time.Time
	for _, st := range v.states {
		t = later(t, st.NewestAt)
	}
	return t
}

// stale reports that it is too late for it to matter: the stirring of yesterday, a
// nutrient step the next one has overtaken. A repeat comes late by its nature.
func (v *view) stale(r *Rule, it Item) bool {
	return r.Keep > 0 && !it.Repeat && later(v.now, it.Due).Sub(it.Wanted) > r.Keep
}

// later is the later of two instants.
func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
