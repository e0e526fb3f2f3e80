package schedule

import (
	"sort"
	"time"

	"mustbook/ferment"
)

// nudge is what a rule finds: not moot in the book as it stands.
type nudge struct {
	anchor  int64
	step    int
	wanted  time.Time
	atOnce  bool // set off by a message, where the rule is not always
	subject Subject
	args    map[string]string
}

// finder is what a rule counts from and when it is moot.
type finder struct {
	id   string
	find func(*view) []nudge
}

// view is all that a rule may look at. For a rule of the whole house st is nil
// and states holds the batches.
type view struct {
	st     *ferment.State
	states []*ferment.State
	fc     *Forecast
	h      *House
	said   []Said
	now    time.Time
	loc    *time.Location
}

// Plan returns every reminder of a batch that is due, will be due as the book
// stands, or was made and is still open; the soonest first, the most pressing
// first among those. fc may be nil. An empty or deleted batch has none.
//
// It is pure: the same arguments give the same answer. said holds what was made
// for this batch.
func Plan(st *ferment.State, fc *Forecast, h House, said []Said, now time.Time) []Item {
	if st == nil || !st.Deleted.IsZero() || st.Stage == ferment.Empty {
		return nil
	}
	v := &view{st: st, fc: fc, h: &h, said: said, now: now, loc: h.zone()}
	var out []Item
	for _, f := range batchRules {
		r := ruleOf(f.id)
		if muted(h.Muted, r.ID) || muted(st.Plan.Muted, r.ID) || v.paused(r) {
			continue
		}
		for _, n := range v.allowed(r, f.find(v)) {
			if n.subject.Kind == "" {
				n.subject = Subject{BatchKind, int64(st.N)}
			}
			n.args["batch"] = st.Name
			out = v.tell(out, r, n)
		}
	}
	return order(out)
}

// PlanHouse returns the reminders whose subject is the book, an instrument or a
// tub: heat-wave watch, airlocks, holidays, year total, own reminders of no batch,
// and the weekly round-up. said holds what was made for those subjects.
func PlanHouse(states []*ferment.State, h House, said []Said, now time.Time) []Item {
	v := &view{states: living(states), h: &h, said: said, now: now, loc: h.zone()}
	var out []Item
	for _, f := range houseRules {
		r := ruleOf(f.id)
		if muted(h.Muted, r.ID) {
			continue
		}
		for _, n := range f.find(v) {
			if n.subject.Kind == "" {
				n.subject = Subject{Kind: BookKind}
			}
			out = v.tell(out, r, n)
		}
	}
	return order(out)
}

func living(states []*ferment.State) []*ferment.State {
	var out []*ferment.State
	for _, st := range states {
		if st != nil && st.Deleted.IsZero() && st.Stage != ferment.Empty {
			out = append(out, st)
		}
	}
	return out
}

// Due returns the reminders of a batch that are to be made now. What is moot now
// is not among them, whatever was planned before.
func Due(st *ferment.State, fc *Forecast, h House, said []Said, now time.Time) []Item {
	return dueOf(Plan(st, fc, h, said, now), now)
}

// DueHouse is Due for PlanHouse.
func DueHouse(states []*ferment.State, h House, said []Said, now time.Time) []Item {
	return dueOf(PlanHouse(states, h, said, now), now)
}

// AtOnce returns the reminders that the newest message set off: they are part of
// its answer, in that chat, at any hour.
func AtOnce(st *ferment.State, fc *Forecast, h House, said []Said, now time.Time) []Item {
	return atOnce(Plan(st, fc, h, said, now), now)
}

// AtOnceHouse is AtOnce for PlanHouse: a holiday that was just typed.
func AtOnceHouse(states []*ferment.State, h House, said []Said, now time.Time) []Item {
	return atOnce(PlanHouse(states, h, said, now), now)
}

func atOnce(items []Item, now time.Time) []Item {
	var out []Item
	for _, it := range items {
		if it.AtOnce && !it.Open && !it.Repeat && !it.Wanted.After(now) {
			it.Bundle, it.Late, it.Was, it.Due = false, false, time.Time{}, now
			delete(it.Args, "was")
			out = append(out, it)
		}
	}
	return out
}

// NextDue returns the next instant at which a tick must look at the batch; false
// where nothing is to come as the book stands.
func NextDue(st *ferment.State, fc *Forecast, h House, said []Said, now time.Time) (time.Time, bool) {
	return nextOf(Plan(st, fc, h, said, now))
}

// NextDueHouse is NextDue for PlanHouse.
func NextDueHouse(states []*ferment.State, h House, said []Said, now time.Time) (time.Time, bool) {
	return nextOf(PlanHouse(states, h, said, now))
}

// NextDueItems is NextDue for items that are at hand.
func NextDueItems(items []Item) (time.Time, bool) { return nextOf(items) }

func dueOf(items []Item, now time.Time) []Item {
	var out []Item
	for _, it := range items {
		if !it.Open && !it.Due.After(now) {
			out = append(out, it)
		}
	}
	return out
}

func nextOf(items []Item) (next time.Time, ok bool) {
	for _, it := range items {
		if !it.Open && (!ok || it.Due.Before(next)) {
			next, ok = it.Due, true
		}
	}
	return next, ok
}

// lateAfter is how long after its time a reminder counts as late: the bot was off.
const lateAfter = 15 * time.Minute

// tell adds what a nudge comes to, given what was said of it before: the first
// telling, one after a snooze, the one repeat, an open one, or nothing.
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
	case r.Repeat > 0 && repeats == 0 && !v.overBudget(readBudget, v.now):
		it.Occurrence, it.Wanted, it.Repeat = last.Occurrence+1, after(last.MadeAt, r.Repeat, v.loc), true
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

// sendAt places an item: by its weight, after a pause.
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

// paused reports that somebody paused this batch.
func (v *view) paused(r *Rule) bool {
	return v.st.Plan.Flags["paused"] && !neverPaused(r.ID, r.Weight)
}

// known is when the book last changed: what falls due before that could not have
// been said then.
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

// stale reports that it is too late for it to matter.
func (v *view) stale(r *Rule, it Item) bool {
	return r.Keep > 0 && !it.Repeat && later(v.now, it.Due).Sub(it.Wanted) > r.Keep
}

// order sorts by time, the most pressing first where two are due together.
func order(items []Item) []Item {
	sort.SliceStable(items, func(i, j int) bool {
		a, b := items[i], items[j]
		if !a.Due.Equal(b.Due) {
			return a.Due.Before(b.Due)
		}
		return pressing(a) < pressing(b)
	})
	return items
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
