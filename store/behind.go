package store

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
)

// UpdateBehind is Update for work that writes much and reads little: what f writes is
// carried out beside it, in order, while f goes on. A write that fails is told at the
// next read or after f, and then all is undone, as by any error of f's; so f must not
// need to know how its writes fared, as one does that may meet a key for the second
// time. Whatever f reads it finds as it wrote it.
func (db *DB) UpdateBehind(ctx context.Context, f func(*Tx) error) error {
	l, err := db.UpdateAhead(ctx, nil, f)
	if err != nil {
		return err
	}
	return l.Wait()
}

// errBehind is what f sees of a write of its own that failed some time ago: not the
// cause, which it would take for that of what it does now.
var errBehind = errors.New("an earlier write failed")

// late is a write that waits for its turn; one without a query is a place in the queue
// that somebody waits for.
type late struct {
	query  string
	args   []any
	made   func() []any // gives the arguments, where making them ready is work too
	passed chan<- struct{}
}

// Behind is how many writes wait to be carried out.
func (tx *Tx) Behind() int {
	if tx.behind == nil {
		return 0
	}
	return len(tx.behind.queue)
}

// lateAtMost bounds the queue: who is further ahead waits.
const lateAtMost = 256

// behind carries out the writes of one transaction on a goroutine of its own. Nothing
// else touches the connection before caughtUp.
type behind struct {
	queue chan late
	err   atomic.Pointer[error] // the first failure; what follows it is let be
}

// begin starts to carry out what is put; ready comes before it, if it is not nil, and end
// when all is done.
func begin(tx *Tx, ready func() error, end func(cause error)) *behind {
	b := &behind{queue: make(chan late, lateAtMost)}
	go func() {
		if ready != nil {
			if err := ready(); err != nil {
				b.fail(err)
			}
		}
		for l := range b.queue {
			b.carryOut(tx, l)
		}
		end(b.cause())
	}()
	return b
}

func (b *behind) carryOut(tx *Tx, l late) {
	defer func() {
		if p := recover(); p != nil { // it must not end the program, as it would not where it was asked for
			b.fail(fmt.Errorf("panic: %v", p))
		}
	}()
	if l.passed != nil {
		close(l.passed)
		return
	}
	if b.failed() != nil {
		return
	}
	if l.made != nil {
		l.args = l.made()
	}
	if _, err := tx.now(l.query, l.args); err != nil {
		b.fail(classify(err))
	}
}

func (b *behind) fail(err error) { b.err.CompareAndSwap(nil, &err) }

func (b *behind) cause() error {
	if err := b.err.Load(); err != nil {
		return *err
	}
	return nil
}

func (b *behind) failed() error {
	if b.err.Load() != nil {
		return errBehind
	}
	return nil
}

func (b *behind) put(l late) error {
	b.queue <- l
	return b.failed()
}

// caughtUp waits until all that was put is carried out.
func (b *behind) caughtUp() error {
	passed := make(chan struct{})
	b.queue <- late{passed: passed}
	<-passed
	return b.failed()
}

// close lets the goroutine end once all is carried out.
func (b *behind) close() { close(b.queue) }
