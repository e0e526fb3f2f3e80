package store

import (
	"context"
	"errors"
	"sync"
)

// Landing is a transaction whose work is done and whose commit is under way.
type Landing struct {
	db   *DB
	mu   sync.Mutex
	next bool // another has begun behind it, and writes next
	over bool
	err  error
	done chan struct{}
}

// Wait waits for the commit and gives what became of it. A nil one has landed.
func (l *Landing) Wait() error {
	if l == nil {
		return nil
	}
	<-l.done
	return l.err
}

// errBefore says that the transaction before, on which this one rests, did not land.
var errBefore = errors.New("the commit before failed")

// errOthers says that somebody else wrote in between.
var errOthers = errors.New("the file was written by another")

// UpdateAhead is UpdateBehind that does not wait for its commit: where f went well the
// landing tells how that ends, and what OnCommit was given is called then, on another
// goroutine. The next one may begin before it has landed, and has it as before: its f
// reads what both wrote, and where the one before fails it is undone too. An error says
// that all is undone and nothing is under way. Whoever else waits to write comes between.
func (db *DB) UpdateAhead(ctx context.Context, before *Landing, f func(*Tx) error) (l *Landing, err error) {
	if db.write == nil {
		return nil, ErrReadOnly
	}
	tx := &Tx{db: db, on: db.write, ctx: ctx, shelf: &db.shelf}
	var ready func() error
	switch {
	case before.keepTurn():
		ready = func() error {
			if before.Wait() != nil {
				return errBefore
			}
			return tx.follow()
		}
	case before.Wait() != nil:
		return nil, errBefore
	default:
		if err := db.takeTurn(ctx); err != nil {
			return nil, err
		}
		if err := tx.open(nil); err != nil {
			<-db.turn
			return nil, err
		}
	}
	l = &Landing{db: db, done: make(chan struct{})}
	kept := false
	tx.behind = begin(tx, ready, func(cause error) { l.land(tx.end(kept, cause)) })
	defer func() { // a panic goes on to whoever called
		if tx.behind != nil {
			tx.behind.close()
			<-l.done
		}
	}()
	err = f(tx)
	b := tx.behind
	tx.behind = nil
	kept = err == nil && b.failed() == nil
	b.close()
	if kept {
		return l, nil
	}
	<-l.done
	if cause := b.cause(); cause != nil {
		return nil, cause
	}
	return nil, classify(err)
}

// keepTurn lets the one behind a landing write next; false where it has landed, or where
// others wait or statements are to be prepared.
func (l *Landing) keepTurn() bool {
	if l == nil {
		return false
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.next = !l.over && l.db.waiting.Load() == 0 && !l.db.write.curious()
	return l.next
}

// land tells how it ended. What stands on the shelf may be read by the one behind just
// now, so it is not mended here: whoever writes next clears it.
func (l *Landing) land(err error) {
	if err != nil {
		l.db.torn.Store(true)
	}
	l.mu.Lock()
	l.over, l.err = true, err
	if !l.next {
		<-l.db.turn
	}
	l.mu.Unlock()
	close(l.done)
}

// end commits what was carried out; or undoes it, where it is not to be kept or something
// of it failed.
func (tx *Tx) end(keep bool, failed error) error {
	if tx.tx == nil {
		return failed
	}
	if keep && failed == nil {
		if failed = classify(tx.tx.Commit()); failed == nil {
			for _, f := range tx.after {
				f()
			}
			return nil
		}
	}
	tx.tx.Rollback()
	if failed == nil {
		return errUndone
	}
	return failed
}

// errUndone is how a transaction ends whose work did not go well.
var errUndone = errors.New("undone")
