package store

import (
	"errors"
	"runtime"
	"strings"
	"testing"
)

// TestAheadIsUpdate: a row of transactions, each begun while the one before is under way,
// leaves the file that they leave one after another, and each reads what those before
// wrote.
func TestAheadIsUpdate(t *testing.T) {
	var dumps [][]byte
	for _, ahead := range []bool{false, true} {
		w := mustWorld(t)
		w.db.opt.Rand = strings.NewReader(strings.Repeat("not so random", 200))
		var before *Landing
		for i := range 5 {
			f := func(tx *Tx) error {
				if err := evening(w, tx); err != nil {
					return err
				}
				es, err := tx.Entries(w.a.ID, w.damson)
				if err != nil || len(es) != 30*(i+1) {
					t.Errorf("evening %d: %d entries, %v", i, len(es), err)
				}
				m, err := tx.NewestOf(w.a.ID, w.nora.ID, noon)
				if err != nil || m.ID != int64(30*(i+1)) {
					t.Errorf("evening %d: the newest message is %d, %v", i, m.ID, err)
				}
				return nil
			}
			var err error
			if ahead {
				before, err = w.db.UpdateAhead(ctx, before, f)
			} else {
				err = w.db.Update(ctx, f)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if ahead {
			if err := before.Wait(); err != nil {
				t.Fatal(err)
			}
		}
		dumps = append(dumps, migrated.ReplaceAll(mustDumpAll(t, w.db), nil))
	}
	if d := diffLines(dumps[0], dumps[1]); d != "" {
		t.Error(d)
	}
}

// held begins a transaction that stays under way until its landing is let go.
func held(t *testing.T, w *world, f func(*Tx) error) (l *Landing, let chan struct{}) {
	t.Helper()
	let = make(chan struct{})
	l, err := w.db.UpdateAhead(ctx, nil, func(tx *Tx) error {
		tx.OnCommit(func() { <-let })
		return f(tx)
	})
	if err != nil {
		t.Fatal(err)
	}
	return l, let
}

// TestAheadFails: where one is undone those behind it are too, and what is written then
// rests on the file alone.
func TestAheadFails(t *testing.T) {
	for name, third := range map[string]func(*world, *Tx) error{
		"goes well": evening,
		"reads":     func(w *world, tx *Tx) error { _, err := tx.Message(w.a.ID, 1); return err },
		"errs":      func(*world, *Tx) error { return errMine },
	} {
		t.Run(name, func(t *testing.T) {
			w := mustWorld(t)
			for range 2 { // the first time statements are only prepared
				w.update(func(tx *Tx) error { return evening(w, tx) })
			}
			first, let := held(t, w, func(tx *Tx) error { return evening(w, tx) })
			second, err := w.db.UpdateAhead(ctx, first, func(tx *Tx) error {
				return tx.exec("INSERT INTO nowhere VALUES (1)")
			})
			if err != nil {
				t.Fatalf("before its writes could be carried out: %v", err)
			}
			done := make(chan error)
			go func() {
				l, err := w.db.UpdateAhead(ctx, second, func(tx *Tx) error { return third(w, tx) })
				if err == nil {
					err = l.Wait()
				}
				done <- err
			}()
			close(let)
			if err := first.Wait(); err != nil {
				t.Fatal(err)
			}
			if err := second.Wait(); err == nil || errors.Is(err, errBefore) {
				t.Errorf("the second: %v", err)
			}
			wants(t, "the third", <-done, errBefore)
			dump := mustDumpAll(t, w.db)
			if n := strings.Count(string(dump), "INSERT INTO message "); n != 90 {
				t.Errorf("%d messages", n)
			}
			w.update(func(tx *Tx) error {
				es, err := tx.Entries(w.a.ID, w.damson)
				if err != nil || len(es) != 90 {
					t.Errorf("%d entries, %v", len(es), err)
				}
				return evening(w, tx)
			})
		})
	}
}

// TestAheadLetsOthers: who waits to write comes before the next of the row.
func TestAheadLetsOthers(t *testing.T) {
	w := mustWorld(t)
	first, let := held(t, w, func(tx *Tx) error { return tx.SetMeta("k", "first") })
	other := make(chan error)
	go func() {
		other <- w.db.Update(ctx, func(tx *Tx) error {
			if v, _ := tx.Meta("k"); v != "first" {
				t.Errorf("the other found %q", v)
			}
			return tx.SetMeta("k", "other")
		})
	}()
	for w.db.waiting.Load() == 0 {
		runtime.Gosched()
	}
	second := make(chan error)
	go func() {
		second <- func() error {
			l, err := w.db.UpdateAhead(ctx, first, func(tx *Tx) error {
				if v, _ := tx.Meta("k"); v != "other" {
					t.Errorf("the second found %q", v)
				}
				return nil
			})
			if err != nil {
				return err
			}
			return l.Wait()
		}()
	}()
	close(let)
	for _, c := range []chan error{other, second} {
		if err := <-c; err != nil {
			t.Error(err)
		}
	}
}

// TestAheadPanic: a panic behind a landing goes on, and the next can write.
func TestAheadPanic(t *testing.T) {
	w := mustWorld(t)
	first, let := held(t, w, func(tx *Tx) error { return evening(w, tx) })
	close(let)
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		w.db.UpdateAhead(ctx, first, func(tx *Tx) error { w.say(tx, "sg 1.050", noon); panic("bad") })
	}()
	if err := first.Wait(); err != nil {
		t.Error(err)
	}
	w.update(func(tx *Tx) error {
		if _, err := tx.Message(w.a.ID, 31); !errors.Is(err, ErrNotFound) {
			t.Errorf("a panic left a message: %v", err)
		}
		return evening(w, tx)
	})
}
