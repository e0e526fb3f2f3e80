package main

import (
	"context"
	"fmt"
	"time"

	"mustbook/store"
)

// replies measures a reply's own work (parse, fold, decide, render, write) without
// the forecast and without the commit, which path measures: a message is timed
// within its transaction. Each household has been silent for a while, so that its
// first message finds nothing remembered.
func replies(ctx context.Context, b *bench) error {
	homes, each := b.size(40, 3), b.size(25, 5)
	for i, c := range []struct{ batches, readings int }{{1, 100}, {5, 100}, {1, 0}} {
		db, err := b.open(ctx, fmt.Sprintf("reply%d.db", i))
		if err != nil {
			return err
		}
		all, first, err := replying(ctx, db, homes, each, c.batches, c.readings)
		db.Close()
		if err != nil {
			return err
		}
		switch i {
		case 0:
			b.add("reply's own work, batch of 100 readings", all.String(), "median ≤ 1 ms, p99 ≤ 5 ms", "")
			b.add("  first message after a silence", first.String(), "", "")
		case 1:
			b.add("  five batches of 100 readings", all.String(), "", "")
		case 2:
			b.rows[len(b.rows)-3].baseline = "batch without readings: " + all.String()
			b.rows[len(b.rows)-2].baseline = "the same: " + first.String()
		}
	}
	return nil
}

// spoken are plain messages that are kept, in turn.
var spoken = []string{"winea ph 3.4", "winea 1.0490 20c", "winea stirred", "winea temp 19c", "note winea smells of cherries"}

func replying(ctx context.Context, db *store.DB, homes, each, batches, readings int) (all, first times, err error) {
	at := time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)
	talk := newBot()
	var hs []*household
	err = db.Update(ctx, func(tx *store.Tx) error {
		for i := range homes {
			h, err := moveIn(tx, int64(i+1), at)
			if err != nil {
				return err
			}
			for k := range batches {
				if err := h.fill(tx, "wine"+string(rune('a'+k)), readings, at); err != nil {
					return err
				}
			}
			hs = append(hs, h)
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	for _, h := range hs {
		for i := range each {
			err := db.UpdateBehind(ctx, func(tx *store.Tx) error {
				begin := time.Now()
				err := h.say(ctx, tx, talk, spoken[i%len(spoken)], at.AddDate(0, 0, 26).Add(time.Duration(i)*25*time.Hour))
				if _, e := tx.PendingInbox(); e != nil { // a read waits for what is written behind
					return e
				}
				took := time.Since(begin)
				all = append(all, took)
				if i == 0 {
					first = append(first, took)
				}
				return err
			})
			if err != nil {
				return nil, nil, err
			}
		}
	}
	return all, first, nil
}
