package telegram

import (
	"context"
	"time"

	"mustbook/store"
)

// arrival is what one poll or one call of the webhook brought, on its way to the disk.
type arrival struct {
	rows   []store.InRow
	offset int64 // the next to ask for
	at     time.Time
	stored chan error // has what became of it; holds one
}

// bring has an arrival put into the inbox and waits for the commit. The worker does it,
// in the commit of the messages that it has in hand, if it has any: two that write in
// turn would each wait for the other's flush of the disk. Where the worker has ended it
// is done here. To store it twice does no harm.
func (b *tg) bring(ctx context.Context, a *arrival) error {
	select {
	case b.arrivals <- a:
	case <-b.ended:
		return b.takeIn(ctx, a)
	}
	select {
	case err := <-a.stored:
		return err
	case <-b.ended:
	}
	select {
	case err := <-a.stored:
		return err
	default:
		return b.takeIn(ctx, a)
	}
}

// takeIn puts an arrival into the inbox in a commit of its own.
func (b *tg) takeIn(ctx context.Context, a *arrival) error {
	// A stop must not undo a commit that is under way: the batch would come again,
	// harmlessly, but after a webhook's 200 it would not.
	err := b.cfg.DB.Update(context.WithoutCancel(ctx), func(tx *store.Tx) error {
		if err := tx.PutInbox(a.rows, a.offset); err != nil {
			return err
		}
		return b.notePoll(tx, a.at)
	})
	passed("after inbox commit")
	return err
}

// rest waits until there may be something to do: something in the inbox, quiet, or after
// a failure the time to try again. What arrives meanwhile is stored.
func (b *tg) rest(ctx context.Context, quiet, again <-chan time.Time) {
	select {
	case a := <-b.arrivals:
		a.stored <- b.takeIn(ctx, a)
	case <-quiet:
		b.tidy(ctx)
	case <-again:
	case <-ctx.Done():
	}
}

// board takes what has arrived into the commit of the messages in hand.
func (t *batch) board(tx *store.Tx) error {
	select {
	case a := <-t.b.arrivals:
		return t.aboard(tx, a)
	default:
		return nil
	}
}

func (t *batch) aboard(tx *store.Tx, a *arrival) error {
	t.arrived = append(t.arrived, a)
	rows, err := tx.BoardInbox(a.rows, a.offset)
	if err != nil {
		return err
	}
	t.next = append(t.next, rows...)
	return t.b.notePoll(tx, a.at)
}

// awaited waits a moment for what must be about to come, while the writes are still being
// carried out: it saves a commit of its own.
func (t *batch) awaited(tx *store.Tx) error {
	if len(t.arrived) > 0 || !t.b.full.Load() {
		return nil
	}
	soon := time.NewTimer(gathering)
	defer soon.Stop()
	select {
	case a := <-t.b.arrivals:
		return t.aboard(tx, a)
	case <-soon.C:
		return nil
	}
}

// landed tells those who wait that what they brought is stored; where the commit failed
// each is stored by itself.
func (t *batch) landed(committed bool) {
	for _, a := range t.arrived {
		var err error
		if !committed {
			err = t.b.takeIn(t.ctx, a)
		}
		a.stored <- err
	}
	t.arrived = nil
}
