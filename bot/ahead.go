package bot

import (
	"time"

	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// lookout is when a batch is due next, with all that this rests on: a message moves
// the reminders of one batch, and the others need not be planned again. While that is
// the same and the instant is not there yet, planning anew would give it again.
type lookout struct {
	basis basis
	next  time.Time // zero: never
}

func (lookout) weight() int { return 1 }

// basis is all that the plan of a batch depends on but the time.
type basis struct {
	own, house, said uint64 // versions
	outlook          bool   // the forecast was there
	placeL, yearL    float64
}

// basis tells what the plan of a batch rests on now; false where nothing is
// remembered in this transaction.
func (r *reminding) basis(s *ferment.State, f *schedule.Forecast) (basis, bool, error) {
	_, said, err := r.tx.SaidAs(r.bk.id, schedule.BatchKind, int64(s.N))
	own := r.bk.versions[s.N]
	return basis{own, r.bk.versions[0], said, f != nil, r.house.PlaceL[s.Place], r.house.YearMadeL}, own != 0, err
}

// nextOf is when a batch is due next, with its plan where that had to be made.
func (r *reminding) nextOf(s *ferment.State, again time.Duration) (next time.Time, items []schedule.Item, err error) {
	f := r.b.expects(r.tx, r.bk, s)
	on, remember, err := r.basis(s, f)
	if err != nil {
		return next, nil, err
	}
	k := foldKey{r.bk.id, s.N}
	if x, ok := r.b.ahead.get(k); ok && remember && x.basis == on && (x.next.IsZero() || x.next.After(r.now)) {
		return x.next, nil, nil
	}
	if items, err = r.planWith(s, f); err != nil {
		return next, nil, err
	}
	next = soonest(time.Time{}, items, r.now, again)
	if remember {
		r.b.ahead.put(k, lookout{on, next})
	}
	return next, items, nil
}

// soonest is the earlier of an instant and the first at which one of the items is
// worth a look; zero: never.
func soonest(next time.Time, items []schedule.Item, now time.Time, again time.Duration) time.Time {
	for _, it := range items {
		due := it.Due
		if it.Open {
			continue
		}
		if !due.After(now) { // not made yet: it waits for a tick, or for something else
			due = now.Add(again)
		}
		next = earlier(next, due)
	}
	return next
}

// earlier is the earlier of two instants, of which zero is never.
func earlier(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

// lookNext writes the instant at which a tick must look at the book again. What
// would go to a silent chat costs no look until somebody writes in it.
func (r *reminding) lookNext(again time.Duration) error {
	silent, err := r.anySilent()
	if err != nil {
		return err
	}
	var next time.Time
	for _, s := range r.bk.open() {
		due, items, err := time.Time{}, []schedule.Item(nil), error(nil)
		if silent {
			if items, err = r.plan(s); err == nil {
				due, err = r.soonestHeard(items, again)
			}
		} else {
			due, _, err = r.nextOf(s, again)
		}
		if err != nil {
			return err
		}
		next = earlier(next, due)
	}
	items, err := r.planHouse()
	if err != nil {
		return err
	}
	due, err := r.soonestHeard(items, again)
	if err != nil {
		return err
	}
	return r.tx.SetNextDue(store.Subject{Book: r.bk.id, Kind: schedule.BookKind, N: r.bk.id, NextDue: earlier(next, due)})
}

// soonestHeard is soonest of the items that would go to a chat that is not silent.
func (r *reminding) soonestHeard(items []schedule.Item, again time.Duration) (time.Time, error) {
	var heard []schedule.Item
	for _, it := range items {
		_, ok, err := r.chatFor(it)
		if err != nil {
			return time.Time{}, err
		}
		if ok {
			heard = append(heard, it)
		}
	}
	return soonest(time.Time{}, heard, r.now, again), nil
}

// anySilent reports a chat of the book to which nothing can be sent, or none at all.
func (r *reminding) anySilent() (bool, error) {
	if err := r.meet(); err != nil {
		return false, err
	}
	for _, c := range r.order {
		if c.Silent {
			return true, nil
		}
	}
	return len(r.order) == 0, nil
}
