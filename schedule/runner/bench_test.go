package runner

import (
	"context"
	"testing"
	"time"

	"mustbook/store"
)

// BenchmarkTick is a tick with a million open batches, a thousand of them due, in
// a thousand books: each is handed on and gets its next instant.
func BenchmarkTick(b *testing.B) {
	const books, open, due = 1000, 1_000_000, 1000
	db := mustOpen(b)
	ctx := context.Background()
	ids := mustBooks(b, db, books, 0, noon)
	for i := 0; i < open; i += 50_000 {
		err := db.Update(ctx, func(tx *store.Tx) error {
			for j := i; j < i+50_000; j++ {
				at := noon.Add(time.Duration(j+1) * time.Hour)
				if j < due {
					at = noon
				}
				if err := tx.SetNextDue(store.Subject{Book: ids[j%books], Kind: "batch", N: int64(j), NextDue: at}); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	now := noon
	r := mustRunner(b, db, Options{Hand: func(_ context.Context, tx *store.Tx, _ int64, due []store.Subject, _ time.Time) error {
		for _, s := range due {
			s.NextDue = now.Add(time.Second)
			if err := tx.SetNextDue(s); err != nil {
				return err
			}
		}
		return nil
	}})
	b.ReportAllocs()
	for b.Loop() {
		if err := r.Tick(ctx, now); err != nil {
			b.Fatal(err)
		}
		now = now.Add(time.Second)
	}
}
