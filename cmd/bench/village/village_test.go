package village

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

var now = time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC)

func mustSettle(t *testing.T, seed uint64, s Size) (*store.DB, Tally) {
	t.Helper()
	dir := t.TempDir()
	v, err := New(t.Context(), dir, seed)
	if err != nil {
		t.Fatal(err)
	}
	db, err := store.Open(t.Context(), filepath.Join(dir, "village.db"), store.Options{Rand: rand.NewChaCha8([32]byte{9})})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	tally, err := v.Settle(t.Context(), db, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return db, tally
}

func TestFallIsAFermentation(t *testing.T) {
	f := fall{og: 1.090, fg: 0.994, middle: 5, rate: 0.8}
	last := f.at(0)
	if last != 1.090 {
		t.Errorf("begins at %v", last)
	}
	for d := 0.5; d < 40; d += 0.5 {
		if sg := f.at(d); sg >= last || sg < 0.994 {
			t.Fatalf("day %v: %v after %v", d, sg, last)
		} else {
			last = sg
		}
	}
	if last > 0.9941 {
		t.Errorf("after 40 days still %v", last)
	}
}

// TestPlausibleLives folds every batch: they stand where batches of their age
// stand, and a dry wine of 1.070 to 1.100 has 9 to 15 % vol in any table of
// potential alcohol.
func TestPlausibleLives(t *testing.T) {
	if underRace {
		t.Skip("one goroutine: the plain run judges")
	}
	db, tally := mustSettle(t, 1, Size{Households: 30, Batches: 6, Now: now})
	stages := map[ferment.Stage]int{}
	err := db.View(t.Context(), func(tx *store.Tx) error {
		for _, book := range tally.Books {
			for n := 1; n <= 6; n++ {
				es, err := tx.Entries(book, n)
				if err != nil {
					return err
				}
				s := ferment.Fold(ferment.Input{N: n, Entries: es, Zone: time.UTC, Now: now})
				stages[s.Stage]++
				if s.Stage == ferment.Bottled && (len(es) < 16 || !s.ABVKnown || s.ABV < 9 || s.ABV > 15) {
					t.Errorf("book %d batch %d: %d entries, %.1f %% vol", book, n, len(es), float64(s.ABV))
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if tally.Batches != 180 || stages[ferment.Bottled] < 100 || len(stages) < 4 {
		t.Errorf("%d batches, stages %v", tally.Batches, stages)
	}
	if per := float64(tally.Entries) / float64(tally.Batches); per < 17 || per > 23 {
		t.Errorf("%.1f entries a batch", per)
	}
	db.Close()
	report, err := store.Verify(t.Context(), db.Path())
	if err != nil || !report.Sound() || report.Entries != int64(tally.Entries) {
		t.Errorf("%+v, %v; %d entries were written", report, err, tally.Entries)
	}
}

func TestSameSeedSameVillage(t *testing.T) {
	if underRace {
		t.Skip("one goroutine: the plain run judges")
	}
	lines := func(seed uint64) string {
		db, _ := mustSettle(t, seed, Size{Households: 3, Batches: 2, Talk: true, Now: now})
		var all []string
		err := db.View(t.Context(), func(tx *store.Tx) error {
			for _, table := range []string{"entries", "outbox"} {
				got, err := tx.Dump(table, time.UTC)
				if err != nil {
					return err
				}
				all = append(all, got...)
			}
			return nil
		})
		if err != nil || len(all) < 100 {
			t.Fatalf("%d lines, %v", len(all), err)
		}
		return fmt.Sprint(all)
	}
	first := lines(1)
	if lines(1) != first {
		t.Error("the same seed gave two villages")
	}
	if lines(2) == first {
		t.Error("two seeds gave one village")
	}
}

// TestCopiesAreHouseholds grows a village and compares each copy with its first.
func TestCopiesAreHouseholds(t *testing.T) {
	dir := t.TempDir()
	v, err := New(t.Context(), dir, 1)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "village.db")
	o := store.Options{Rand: rand.NewChaCha8([32]byte{9})}
	tally, err := v.Grow(t.Context(), path, o, Size{Households: 4, Batches: 3, Talk: true, Now: now}, 5, nil)
	if err != nil {
		t.Fatal(err)
	}
	report, err := store.Verify(t.Context(), path)
	if err != nil || !report.Sound() || report.Batches != 60 || report.Entries != int64(tally.Entries) || len(tally.Books) != 20 {
		t.Fatalf("%+v, %v; %+v", report, err, tally)
	}
	db, err := store.Open(t.Context(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	told := func(tx *store.Tx, book int64) string {
		var lines []string
		for n := 1; n <= 3; n++ {
			es, err := tx.Entries(book, n)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range es {
				m, err := tx.Message(book, e.Message)
				if err != nil {
					t.Fatal(err)
				}
				author, err := tx.Member(book, e.Author)
				if err != nil {
					t.Fatal(err)
				}
				out, err := tx.OutOf(m.ID)
				if err != nil {
					t.Fatal(err)
				}
				lines = append(lines, fmt.Sprint(n, e.At, e.Quantity, e.Value, m.Text, author.Name, out.Text, len(out.Buttons), e.Root-es[0].Root))
			}
		}
		return fmt.Sprint(lines)
	}
	err = db.View(t.Context(), func(tx *store.Tx) error {
		for i, book := range tally.Books {
			if got := told(tx, book); got != told(tx, tally.Books[i%4]) || len(got) < 1000 {
				t.Errorf("household %d is not like household %d:\n%s", i+1, i%4+1, got)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
