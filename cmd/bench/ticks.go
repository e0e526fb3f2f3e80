package main

import (
	"context"
	"fmt"
	"time"

	"mustbook/schedule/runner"
	"mustbook/store"
)

// lets is how many messages a second the platform lets a bot send to all its chats.
const lets = 30

// ticks look for what is due: nothing; households handed to nobody; a thousand long
// silent ones to which the conversation says what three years have left unsaid; the
// same on the evenings after; and a few of which everything is remembered.
func (t *town) ticks(ctx context.Context) error {
	now := t.now.Add(time.Hour)
	all := t.distinct * t.copies
	if err := t.putOff(ctx, now.AddDate(1, 0, 0)); err != nil {
		return err
	}
	due := min(1000, all)
	var same []int64
	anew := func(int) ([]int64, time.Time) { same = t.some(due); return same, now }
	later := func(i int) ([]int64, time.Time) { return same, now.AddDate(0, 0, i+1).Add(6 * time.Hour) }
	few := t.some(min(32, all))
	again := func(i int) ([]int64, time.Time) { return few, now.Add(time.Duration(i+1) * time.Minute) }
	for _, c := range []struct {
		what, aim string
		n         int
		who       func(i int) ([]int64, time.Time)
		hand      runner.Hand
	}{
		{"tick, nothing due", like, t.b.size(200, 5), func(int) ([]int64, time.Time) { return nil, now }, t.nobody},
		{fmt.Sprintf("tick, %d households due, handed on", due), "≤ 250 ms", t.b.size(10, 2), anew, t.nobody},
		{fmt.Sprintf("  three years' reminders made, %d households, %d batches each", due, perHousehold), "", t.b.size(3, 1), anew, t.remind},
		{fmt.Sprintf("  an evening's reminders made, %d households", due), "", t.b.size(5, 1), later, t.remind},
		{fmt.Sprintf("  looked at again from memory, %d households", len(few)), "", t.b.size(20, 2), again, t.remind},
	} {
		before := held()
		if err := t.tick(ctx, c.what, c.aim, c.n, c.who, c.hand); err != nil {
			return err
		}
		t.b.add("  heap kept after it", fmt.Sprintf("%+.1f MiB", (float64(held())-float64(before))/(1<<20)), "flat", "")
	}
	return nil
}

// putOff has nobody of either file be due before an instant: only who is measured is.
func (t *town) putOff(ctx context.Context, until time.Time) error {
	for db, books := range map[*store.DB]int{t.large: t.distinct * t.copies, t.small: 1} {
		err := db.Update(ctx, func(tx *store.Tx) error {
			for book := int64(1); book <= int64(books); book++ {
				if err := tx.SetNextDue(store.Subject{Book: book, Kind: "book", N: book, NextDue: until}); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// tick runs ticks at which the households of who are due; the small file's one is
// every time. It tells what one household of the large file costs and what was said.
func (t *town) tick(ctx context.Context, what, aim string, n int, who func(int) ([]int64, time.Time), hand runner.Hand) error {
	var due []int64
	var now time.Time
	var took, busy time.Duration // of the large file
	handed, messages := 0, 0
	err := t.compare(what, aim, n, func(db *store.DB, i int) (time.Duration, error) {
		if db == t.large {
			due, now = who(i)
		}
		books := due
		if db == t.small && len(due) > 0 {
			books = []int64{1}
		}
		err := db.Update(ctx, func(tx *store.Tx) error {
			for _, book := range books {
				if err := tx.SetNextDue(store.Subject{Book: book, Kind: "book", N: book, NextDue: now.Add(-time.Minute)}); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return 0, err
		}
		n := 0
		r, err := runner.New(db, runner.Options{Now: func() time.Time { return now },
			Hand: func(ctx context.Context, tx *store.Tx, book int64, due []store.Subject, at time.Time) error {
				n++
				return hand(ctx, tx, book, due, at)
			}})
		if err != nil {
			return 0, err
		}
		begin, before := time.Now(), worked()
		err = r.Tick(ctx, now)
		one := time.Since(begin)
		if err == nil && db == t.large {
			took, busy, handed = took+one, busy+worked()-before, handed+n
			n, err = saidAt(ctx, db, books, now)
			messages += n
		}
		return one, err
	})
	if err != nil || len(due) == 0 {
		return err
	}
	each := func(d time.Duration) string { return ms(d / time.Duration(max(1, handed))) }
	figure, baseline := each(took)+", processor "+each(busy), ""
	if messages > 0 {
		figure += fmt.Sprintf(", %.1f messages", float64(messages)/float64(handed))
		baseline = fmt.Sprintf("the platform takes %d s for the %s messages of a tick", messages/n/lets, thousands(int64(messages/n)))
	}
	t.b.add("  a household of it", figure, "", baseline)
	return nil
}

// saidAt counts the messages that were written to some households at an instant.
func saidAt(ctx context.Context, db *store.DB, books []int64, now time.Time) (n int, err error) {
	err = db.View(ctx, func(tx *store.Tx) error {
		for _, book := range books {
			cs, err := tx.Chats(book)
			if err != nil {
				return err
			}
			for _, c := range cs {
				outs, err := tx.RecentOut(c.ID, 50)
				if err != nil {
					return err
				}
				for _, o := range outs {
					if o.Created.Equal(now) {
						n++
					}
				}
			}
		}
		return nil
	})
	return n, err
}

// some are so many different households at places all over the large file.
func (t *town) some(n int) []int64 {
	all := t.distinct * t.copies
	first, step := t.r.IntN(all), all/n
	out := make([]int64, n)
	for k := range out {
		out[k] = int64(1 + (first+k*step)%all)
	}
	return out
}

// nobody takes what is due and does nothing about it.
func (t *town) nobody(_ context.Context, tx *store.Tx, _ int64, due []store.Subject, at time.Time) error {
	for _, s := range due {
		s.NextDue = at.Add(30 * 24 * time.Hour)
		if err := tx.SetNextDue(s); err != nil {
			return err
		}
	}
	return nil
}

func (t *town) remind(ctx context.Context, tx *store.Tx, book int64, _ []store.Subject, at time.Time) error {
	return t.talk.Remind(ctx, tx, book, at)
}
