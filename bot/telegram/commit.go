package telegram

import (
	"context"
	"errors"

	"mustbook/store"
)

// follow handles the rows of a round in one commit. Where nothing else waits but what that
// commit takes into the inbox, the next round begins with these at once, while the disk
// is still at it: a fifth of a backlog's time would go by waiting for the disk. Nothing is
// told to anybody before it has landed.
func (b *tg) follow(ctx context.Context, t *batch) error {
	err := t.run(b.cfg.DB, b.air)
	undone, wrong := b.land(ctx)
	switch {
	case undone:
		t.drop() // its rows were stored anew with those of the round before
		return wrong
	case err != nil:
		return errors.Join(wrong, t.redo(ctx))
	}
	b.air = t
	if wrong == nil && t.all && len(t.next) > 0 && len(t.next) <= share {
		b.hand = t.next
		return nil
	}
	_, err = b.land(ctx)
	return errors.Join(wrong, err)
}

// land waits for the commit that is under way, if any, and settles its rows. Where it
// failed it is undone and begun anew, and what it took into the inbox is stored anew: rows
// in hand are not those that stand there.
func (b *tg) land(ctx context.Context) (undone bool, err error) {
	t := b.air
	if t == nil {
		return false, nil
	}
	b.air = nil
	if t.landing.Wait() != nil {
		b.hand = nil
		return true, t.redo(ctx)
	}
	return false, b.settle(ctx, t, make([]error, len(t.jobs)))
}

// run handles the rows in one commit and comes back when that is under way. Mostly all
// goes well, and a savepoint a row makes SQLite copy aside every page that the row
// touches; so they go without, and the sends ride along.
func (t *batch) run(db *store.DB, before *batch) (err error) {
	road := t.b.flight.road
	defer road.close(false)
	var after *store.Landing
	if before != nil {
		after = before.landing
	}
	t.landing, err = db.UpdateAhead(t.ctx, after, func(tx *store.Tx) error {
		tx.OnCommit(t.committed)
		for _, j := range t.jobs {
			if err := t.board(tx); err != nil {
				return err
			}
			if err := t.one(tx, j); err != nil {
				return err
			}
			road.close(tx.Behind() > writesFirst)
		}
		road.close(false)
		if err := t.awaited(tx); err != nil {
			return err
		}
		if err := t.finish(tx); err != nil {
			return err
		}
		if err := after.Wait(); err != nil { // its sends are let go first
			return err
		}
		return t.ride.mark(tx)
	})
	return err
}

// committed lets everybody know who waits for the disk.
func (t *batch) committed() {
	if len(t.arrived) > 0 {
		passed("after inbox commit")
	}
	t.landed(true)
	passed("after work commit")
	t.ride.end(true)
}

// redo begins anew what failed, with a savepoint for each row and without the sends,
// whose fault is no message's; so that the failure undoes the row alone.
func (t *batch) redo(ctx context.Context) error {
	t.drop()
	clear(t.failed)
	t.ended, t.next = nil, nil
	errs := t.b.cfg.DB.Batch(ctx, t.funcs(), t.finish)
	passed("after work commit")
	return t.b.settle(ctx, t, errs)
}

// drop is for a commit that failed: what came with it is stored by itself, and the sends
// stay as they were.
func (t *batch) drop() {
	t.landed(false)
	t.ride.end(false)
}
