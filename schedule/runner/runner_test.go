package runner

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"mustbook/store"
)

var noon = time.Date(2026, 9, 12, 12, 0, 0, 0, time.UTC)

func mustOpen(t testing.TB) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "m.db"), store.Options{
		Now: func() time.Time { return noon }, Rand: rand.Reader})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

// mustBooks makes books with so many batches each, all due at an instant.
func mustBooks(t testing.TB, db *store.DB, books, batches int, due time.Time) []int64 {
	t.Helper()
	var ids []int64
	err := db.Update(context.Background(), func(tx *store.Tx) error {
		for range books {
			b, err := tx.CreateBook("house", noon)
			if err != nil {
				return err
			}
			ids = append(ids, b.ID)
			for n := range batches {
				if err := tx.SetNextDue(store.Subject{Book: b.ID, Kind: "batch", N: int64(n + 1), NextDue: due}); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return ids
}

// settle is a hand that notes what it got and puts each subject a day off.
type settle struct{ got []string }

func (s *settle) hand(_ context.Context, tx *store.Tx, book int64, due []store.Subject, now time.Time) error {
	line := fmt.Sprintf("book %d:", book)
	for _, d := range due {
		line += fmt.Sprintf(" %s %d", d.Kind, d.N)
		d.NextDue = now.Add(24 * time.Hour)
		if err := tx.SetNextDue(d); err != nil {
			return err
		}
	}
	s.got = append(s.got, line)
	return nil
}

func mustRunner(t testing.TB, db *store.DB, o Options) *Runner {
	t.Helper()
	if o.Now == nil {
		o.Now = func() time.Time { return noon }
	}
	r, err := New(db, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestTickHandsOnEachHouseholdWhole(t *testing.T) {
	db := mustOpen(t)
	ids := mustBooks(t, db, 2, 3, noon.Add(-time.Minute))
	mustBooks(t, db, 1, 1, noon.Add(time.Minute)) // not due yet
	var s settle
	r := mustRunner(t, db, Options{Hand: s.hand})
	if err := r.Tick(context.Background(), noon); err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf("book %d: batch 1 batch 2 batch 3\nbook %d: batch 1 batch 2 batch 3", ids[0], ids[1])
	if got := strings.Join(s.got, "\n"); got != want {
		t.Errorf("handed on:\n%s\nwant:\n%s", got, want)
	}
	if err := r.Tick(context.Background(), noon); err != nil || len(s.got) != 2 {
		t.Errorf("the second tick handed on %v, error %v", s.got[2:], err)
	}
}

func TestManyMoreThanAPage(t *testing.T) {
	db := mustOpen(t)
	mustBooks(t, db, 3*page/100, 110, noon)
	var s settle
	if err := mustRunner(t, db, Options{Hand: s.hand}).Tick(context.Background(), noon); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, l := range s.got {
		n += strings.Count(l, "batch")
	}
	if want := 3 * page / 100 * 110; n != want {
		t.Errorf("%d subjects handed on, want %d", n, want)
	}
}

// One household's failure or panic undoes that household alone, and is tried again
// later, not each minute.
func TestAFailureIsItsOwn(t *testing.T) {
	db := mustOpen(t)
	ids := mustBooks(t, db, 3, 1, noon)
	var s settle
	calls := 0
	r := mustRunner(t, db, Options{Hand: func(ctx context.Context, tx *store.Tx, book int64, due []store.Subject, now time.Time) error {
		if err := s.hand(ctx, tx, book, due, now); err != nil {
			return err
		}
		switch book {
		case ids[0]:
			calls++
			return errors.New("no chat")
		case ids[1]:
			panic("a bug")
		}
		return nil
	}})
	err := r.Tick(context.Background(), noon)
	if err == nil || !strings.Contains(err.Error(), "no chat") || !strings.Contains(err.Error(), "a bug") {
		t.Errorf("the tick reports %v", err)
	}
	if err := r.Tick(context.Background(), noon.Add(retry-time.Second)); err != nil || calls != 1 {
		t.Errorf("tried %d times before its time, error %v", calls, err)
	}
	if err := r.Tick(context.Background(), noon.Add(retry)); err == nil || calls != 2 {
		t.Errorf("tried %d times in all, error %v", calls, err)
	}
}

// A hand that leaves its subjects due does not hold the tick for ever.
func TestATickEnds(t *testing.T) {
	db := mustOpen(t)
	mustBooks(t, db, 1, page+10, noon)
	calls := 0
	r := mustRunner(t, db, Options{Hand: func(context.Context, *store.Tx, int64, []store.Subject, time.Time) error {
		calls++
		return nil
	}})
	if err := r.Tick(context.Background(), noon); err != nil || calls != 1 {
		t.Errorf("%d calls, error %v", calls, err)
	}
}

func TestNewNeedsAClockAndAHand(t *testing.T) {
	if _, err := New(nil, Options{}); err == nil {
		t.Error("a runner without a clock")
	}
}

// The ticks come each minute, and a panic in one neither ends them nor the program.
func TestTicksGoOnAfterAPanic(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		db := mustOpen(t)
		var logged bytes.Buffer
		ticks := 0
		r := mustRunner(t, db, Options{Log: slog.New(slog.NewTextHandler(&logged, nil)),
			Hand: (&settle{}).hand,
			Now: func() time.Time {
				ticks++
				if ticks == 3 {
					panic("a bug in the clock")
				}
				return time.Now()
			}})
		if err := r.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		time.Sleep(5*time.Minute + time.Second)
		synctest.Wait()
		r.Stop()
		if ticks != 6 { // one at the start, then five minutes
			t.Errorf("%d ticks, want 6", ticks)
		}
		if !strings.Contains(logged.String(), "a bug in the clock") {
			t.Errorf("the panic is not logged: %s", &logged)
		}
		db.Close()
	})
}

func TestStopBeforeStart(t *testing.T) {
	mustRunner(t, mustOpen(t), Options{Hand: (&settle{}).hand}).Stop()
}
