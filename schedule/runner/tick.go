package runner

import (
	"context"
	"errors"
	"fmt"
	"time"

	"mustbook/store"
)

const (
	page  = 2048             // subjects read at a time: memory stays flat
	share = 16               // books that share a commit; messages wait as long as it takes, some 50 ms
	retry = 10 * time.Minute // a book that failed is left alone so long
)

// Tick hands on what is due at now, each household in a savepoint of its own: a
// failure or panic undoes that household alone, is reported, and is tried again
// ten minutes later. A tick that comes twice finds nothing the second time.
func (r *Runner) Tick(ctx context.Context, now time.Time) error {
	var failed []error
	seen := map[store.Subject]bool{}
	for {
		due, err := r.due(ctx, now)
		if err != nil {
			return errors.Join(append(failed, err)...)
		}
		fresh := unseen(due, seen)
		if len(fresh) == 0 {
			return errors.Join(failed...)
		}
		failed = append(failed, r.handOn(ctx, byBook(fresh), now)...)
		if len(due) < page {
			return errors.Join(failed...)
		}
	}
}

func (r *Runner) due(ctx context.Context, now time.Time) (due []store.Subject, err error) {
	err = r.db.View(ctx, func(tx *store.Tx) error {
		due, err = tx.DueSubjects(now, page)
		return err
	})
	return due, err
}

// unseen leaves the subjects that this tick has not handed on yet, and remembers
// them in the place of the page before: one that stays due must not hold the tick.
func unseen(due []store.Subject, seen map[store.Subject]bool) []store.Subject {
	key := func(s store.Subject) store.Subject { s.NextDue = time.Time{}; return s }
	var fresh []store.Subject
	for _, s := range due {
		if !seen[key(s)] {
			fresh = append(fresh, s)
		}
	}
	clear(seen)
	for _, s := range due {
		seen[key(s)] = true
	}
	return fresh
}

// household is the due subjects of one book.
type household struct {
	book int64
	due  []store.Subject
}

// byBook gathers subjects by book, the book with the longest due first.
func byBook(due []store.Subject) []household {
	var out []household
	at := map[int64]int{}
	for _, s := range due {
		i, ok := at[s.Book]
		if !ok {
			i = len(out)
			at[s.Book] = i
			out = append(out, household{book: s.Book})
		}
		out[i].due = append(out[i].due, s)
	}
	return out
}

// handOn hands households on, several in a commit, and puts off those that fail.
func (r *Runner) handOn(ctx context.Context, all []household, now time.Time) (failed []error) {
	for len(all) > 0 {
		n := min(share, len(all))
		fs := make([]func(*store.Tx) error, n)
		for i, h := range all[:n] {
			fs[i] = func(tx *store.Tx) error { return r.o.Hand(ctx, tx, h.book, h.due, now) }
		}
		for i, err := range r.db.Batch(ctx, fs) {
			if err != nil {
				failed = append(failed, fmt.Errorf("book %d: %w", all[i].book, err), r.putOff(ctx, all[i], now))
			}
		}
		all = all[n:]
	}
	return failed
}

// putOff moves a failed household on, so that it neither holds the others nor is
// tried each minute.
func (r *Runner) putOff(ctx context.Context, h household, now time.Time) error {
	return r.db.Update(ctx, func(tx *store.Tx) error {
		for _, s := range h.due {
			s.NextDue = now.Add(retry)
			if err := tx.SetNextDue(s); err != nil {
				return err
			}
		}
		return nil
	})
}
