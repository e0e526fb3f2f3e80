package schedule

import (
	"sort"
	"time"

	"mustbook/ferment"
)

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
		if muted(h.Muted, r.ID) || h.Paused && !neverPaused(r.ID, r.Weight) {
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

// living leaves out what is empty or deleted.
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

// DueItems is Due for items that are at hand.
func DueItems(items []Item, now time.Time) []Item { return dueOf(items, now) }

// DueHouse is Due for PlanHouse.
func DueHouse(states []*ferment.State, h House, said []Said, now time.Time) []Item {
	return dueOf(PlanHouse(states, h, said, now), now)
}

// AtOnce returns the reminders that the newest message set off: they are part of
// its answer, in that chat, at any hour.
func AtOnce(st *ferment.State, fc *Forecast, h House, said []Said, now time.Time) []Item {
	return atOnce(Plan(st, fc, h, said, now), now)
}

// AtOnceItems is AtOnce for items that are at hand.
func AtOnceItems(items []Item, now time.Time) []Item { return atOnce(items, now) }

// AtOnceHouse is AtOnce for PlanHouse: a holiday that was just typed.
func AtOnceHouse(states []*ferment.State, h House, said []Said, now time.Time) []Item {
	return atOnce(PlanHouse(states, h, said, now), now)
}

// atOnce leaves what the newest message set off, as part of its answer: neither
// bundled nor late.
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

// dueOf leaves what is to be made at now.
func dueOf(items []Item, now time.Time) []Item {
	var out []Item
	for _, it := range items {
		if !it.Open && !it.Due.After(now) {
			out = append(out, it)
		}
	}
	return out
}

// nextOf returns the soonest instant among items that are still to be made. It is
// what the index of subjects holds: a tick looks at a batch no sooner, so an item
// that only time brings about must be in the plan before its time.
func nextOf(items []Item) (next time.Time, ok bool) {
	for _, it := range items {
		if !it.Open && (!ok || it.Due.Before(next)) {
			next, ok = it.Due, true
		}
	}
	return next, ok
}

// Order sorts items of several batches as Plan does.
func Order(items []Item) []Item { return order(items) }

// order sorts by time, the most pressing first where two are due together, so that
// a reader of the list meets them as they would be sent.
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
