package telegram

import (
	"time"

	"mustbook/store"
)

// ride is a round of sends that shares the commit of a round of messages: the answers
// to these are written down as being sent as soon as they are made.
type ride struct {
	s      *flight
	aboard bool
	p      picked
	now    time.Time
}

// mark does within tx what a round of the sender does. Where the sender is in a round
// of its own it does nothing.
func (r *ride) mark(tx *store.Tx) error {
	if !r.s.mu.TryLock() {
		return nil
	}
	r.aboard = true
	r.p, r.now = picked{next: tick}, r.s.b.cfg.Now()
	if r.s.ending {
		return nil
	}
	r.s.drain()
	if err := r.s.pick(tx, r.now, &r.p); err != nil {
		return err
	}
	return r.s.mark(tx, r.p, r.now)
}

// end lets the sends go, or where the commit failed leaves all as it was.
func (r *ride) end(committed bool) {
	if !r.aboard {
		return
	}
	if committed && !r.s.ending {
		r.s.launch(r.p, r.now)
	}
	r.aboard = false
	r.s.mu.Unlock()
}
