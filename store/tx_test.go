package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
)

var errMine = errors.New("mine")

func TestUpdateIsAllOrNothing(t *testing.T) {
	w := mustWorld(t)
	err := w.db.Update(ctx, func(tx *Tx) error {
		if err := tx.SetMeta("k", "v"); err != nil {
			return err
		}
		return errMine
	})
	wants(t, "the error of f", err, errMine)
	w.view(func(tx *Tx) error {
		if _, ok := tx.Meta("k"); ok {
			t.Error("a failed update left something")
		}
		return nil
	})
}

func TestUpdatePanicLetsGo(t *testing.T) {
	w := mustWorld(t)
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		w.db.Update(ctx, func(tx *Tx) error { tx.SetMeta("k", "v"); panic("bad") })
	}()
	w.update(func(tx *Tx) error { // the one writing connection is free again
		if _, ok := tx.Meta("k"); ok {
			t.Error("a panic left something")
		}
		return nil
	})
}

func TestBatchUndoesOnlyItsOwn(t *testing.T) {
	w := mustWorld(t)
	set := func(key string, then func(*Tx) error) func(*Tx) error {
		return func(tx *Tx) error {
			if err := tx.SetMeta(key, "v"); err != nil {
				return err
			}
			return then(tx)
		}
	}
	fine := func(*Tx) error { return nil }
	errs := w.db.Batch(ctx, []func(*Tx) error{
		set("a", fine),
		set("b", func(*Tx) error { return errMine }),
		set("c", func(*Tx) error { panic("bad") }),
		set("d", func(tx *Tx) error { _, err := tx.Book(99); return err }),
		set("e", func(tx *Tx) error { _, err := tx.NewBatch(99, noon); return err }), // a foreign key
		set("f", func(tx *Tx) error { // a panic amid the rows of a query
			return tx.EachEntry(w.a.ID, func(EntryRow) error { panic("amid") })
		}),
		set("g", fine),
	})
	for i, want := range []bool{true, false, false, false, false, true, true} {
		if (errs[i] == nil) != want {
			t.Errorf("member %d: %v", i, errs[i])
		}
	}
	wants(t, "an error", errs[1], errMine)
	wants(t, "a missing row", errs[3], ErrNotFound)
	if !strings.Contains(errs[2].Error(), "bad") {
		t.Errorf("the panic's value is lost: %v", errs[2])
	}
	w.view(func(tx *Tx) error {
		for i, key := range strings.Split("abcdefg", "") {
			if _, ok := tx.Meta(key); ok != (errs[i] == nil) {
				t.Errorf("%s: in the file %v, error %v", key, ok, errs[i])
			}
		}
		return nil
	})
}

func TestBatchPanicAmidRows(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { w.log(tx, 1.049, noon); w.log(tx, 1.048, noon); return nil })
	errs := w.db.Batch(ctx, []func(*Tx) error{
		func(tx *Tx) error {
			if err := tx.SetMeta("a", "v"); err != nil {
				return err
			}
			return tx.EachEntry(w.a.ID, func(EntryRow) error { panic("amid") })
		},
		func(tx *Tx) error { return tx.SetMeta("b", "v") },
	})
	if errs[0] == nil || errs[1] != nil {
		t.Fatal(errs)
	}
	w.view(func(tx *Tx) error {
		if _, ok := tx.Meta("a"); ok {
			t.Error("the panicking member left something")
		}
		if _, ok := tx.Meta("b"); !ok {
			t.Error("the next member is lost")
		}
		return nil
	})
}

func TestBatchTornByTheDriver(t *testing.T) {
	w := mustWorld(t)
	errs := w.db.Batch(ctx, []func(*Tx) error{
		func(tx *Tx) error { return tx.SetMeta("a", "v") },
		func(tx *Tx) error { // what SQLite does by itself on a failing disk
			tx.exec("ROLLBACK")
			return errMine
		},
		func(tx *Tx) error { return tx.SetMeta("c", "v") },
	})
	for i, err := range errs {
		if err == nil {
			t.Errorf("member %d was told kept, but nothing was", i)
		}
	}
	w.view(func(tx *Tx) error {
		for _, key := range []string{"a", "c"} {
			if _, ok := tx.Meta(key); ok {
				t.Errorf("%s was kept outside the transaction", key)
			}
		}
		return nil
	})
	w.update(func(tx *Tx) error { return tx.SetMeta("after", "v") })
}

// TestBatchLast: what runs last is in the same commit, and its failure undoes all.
func TestBatchLast(t *testing.T) {
	w := mustWorld(t)
	one := func(key string) func(*Tx) error { return func(tx *Tx) error { return tx.SetMeta(key, "v") } }
	seen := func(keys ...string) (n int) {
		w.view(func(tx *Tx) error {
			for _, k := range keys {
				if _, ok := tx.Meta(k); ok {
					n++
				}
			}
			return nil
		})
		return n
	}
	if errs := w.db.Batch(ctx, []func(*Tx) error{one("a"), func(*Tx) error { return errMine }}, one("last")); errs[0] != nil || errs[1] == nil || seen("a", "last") != 2 {
		t.Error(errs, seen("a", "last"))
	}
	errs := w.db.Batch(ctx, []func(*Tx) error{one("b"), one("c")}, func(tx *Tx) error { return errMine })
	for _, err := range errs {
		wants(t, "a member", err, errMine)
	}
	if n := seen("b", "c"); n != 0 {
		t.Errorf("%d stayed of what was undone", n)
	}
}

// TestOnCommit: it is called after the commit, and never where there was none.
func TestOnCommit(t *testing.T) {
	w := mustWorld(t)
	var told []string
	say := func(word string, then error) func(*Tx) error {
		return func(tx *Tx) error {
			tx.OnCommit(func() { told = append(told, word) })
			return errors.Join(tx.SetMeta(word, "v"), then)
		}
	}
	w.update(func(tx *Tx) error {
		err := say("kept", nil)(tx)
		if len(told) != 0 {
			t.Error("told before the commit")
		}
		return err
	})
	wants(t, "undone", w.db.Update(ctx, say("undone", errMine)), errMine)
	w.db.Batch(ctx, []func(*Tx) error{say("together", nil)}, func(*Tx) error { return errMine })
	if !slices.Equal(told, []string{"kept"}) {
		t.Errorf("told %q", told)
	}
}

func TestBatchOfNone(t *testing.T) {
	w := mustWorld(t)
	if errs := w.db.Batch(ctx, nil); len(errs) != 0 {
		t.Error(errs)
	}
}

func TestCancelledContext(t *testing.T) {
	w := mustWorld(t)
	c, cancel := context.WithCancel(ctx)
	err := w.db.Update(c, func(tx *Tx) error {
		cancel()
		return tx.SetMeta("k", "v")
	})
	if err == nil {
		t.Error("a cancelled update was committed")
	}
	w.update(func(tx *Tx) error { return tx.SetMeta("after", "v") })
}

// TestStatementsAreLearnt runs the same queries often enough that both forms, the
// direct and the prepared one, are used, and looks that they agree.
func TestStatementsAreLearnt(t *testing.T) {
	w := mustWorld(t)
	for i := range 4 {
		w.update(func(tx *Tx) error { w.log(tx, 1.050-float64(i)/1000, noon); return nil })
		w.view(func(tx *Tx) error {
			es, err := tx.Entries(w.a.ID, w.damson)
			if len(es) != i+1 {
				t.Errorf("round %d: %d entries", i, len(es))
			}
			return err
		})
	}
	if len(w.db.write.stmts) == 0 || len(w.db.read.stmts) == 0 {
		t.Error("nothing was prepared")
	}
}

// TestEight writes and reads from eight goroutines at once: no transaction may
// fail, none may see half of another.
func TestEight(t *testing.T) {
	w := mustWorld(t)
	const each = 30
	var wg sync.WaitGroup
	errs := make(chan error, 64)
	for g := range 8 {
		wg.Go(func() {
			for i := range each {
				key := fmt.Sprint(g)
				err := w.db.Update(ctx, func(tx *Tx) error { // read, then write
					v, _ := tx.Meta(key)
					if err := tx.SetMeta(key, v+"x"); err != nil {
						return err
					}
					return tx.SetMeta(key+"'", v+"x")
				})
				if err == nil && i%3 == 0 {
					err = w.db.View(ctx, func(tx *Tx) error {
						a, _ := tx.Meta(key)
						b, _ := tx.Meta(key + "'")
						if a != b {
							return fmt.Errorf("half a transaction: %q, %q", a, b)
						}
						return nil
					})
				}
				if err != nil {
					errs <- err
					return
				}
			}
		})
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		t.Error(err)
	}
	w.view(func(tx *Tx) error {
		for g := range 8 {
			if v, _ := tx.Meta(fmt.Sprint(g)); len(v) != each {
				t.Errorf("goroutine %d: %d of %d", g, len(v), each)
			}
		}
		return nil
	})
}
