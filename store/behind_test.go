package store

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"mustbook/ferment"
)

// evening is what a household writes in one commit: messages, entries, answers with
// buttons, and in between it reads what it wrote.
func evening(w *world, tx *Tx) error {
	for i := range 30 {
		at := noon.Add(time.Duration(i) * time.Hour)
		m := w.say(tx, fmt.Sprint("sg ", 1090-i), at)
		es, err := tx.AddEntries(w.a.ID, []ferment.Entry{gravity(m, w.damson, 0, float64(1090-i)/1000)})
		if err != nil {
			return err
		}
		out, dup, err := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: fmt.Sprint("m", m.ID), Kind: "reply", Text: "noted",
			Message: m.ID, Created: at, Buttons: []Button{{Label: "Undo", Expires: at}}})
		if err != nil || dup {
			return errors.Join(err, fmt.Errorf("dup %v", dup))
		}
		if i%7 != 0 {
			continue
		}
		found, err := tx.Entry(w.a.ID, es[0].Root)
		if err != nil || found.Value != es[0].Value {
			return errors.Join(err, fmt.Errorf("%v is not there: %v", es[0].Value, found))
		}
		if o, err := tx.Out(out); err != nil || len(o.Buttons) != 1 {
			return errors.Join(err, fmt.Errorf("%d buttons", len(o.Buttons)))
		}
	}
	return tx.SetMeta("k", "v")
}

// migrated are the rows that tell by the clock when a file was made.
var migrated = regexp.MustCompile(`(?m)^INSERT INTO goose_.*$`)

// TestBehindIsUpdate: the file is the same, and what is written is there when it is
// read.
func TestBehindIsUpdate(t *testing.T) {
	var dumps [][]byte
	for _, behind := range []bool{false, true} {
		w := mustWorld(t)
		w.db.opt.Rand = strings.NewReader(strings.Repeat("not so random", 100))
		run := w.db.Update
		if behind {
			run = w.db.UpdateBehind
		}
		for range 2 { // statements are prepared after their first use
			if err := run(ctx, func(tx *Tx) error { return evening(w, tx) }); err != nil {
				t.Fatal(err)
			}
		}
		dumps = append(dumps, migrated.ReplaceAll(mustDumpAll(t, w.db), nil))
	}
	if d := diffLines(dumps[0], dumps[1]); d != "" {
		t.Error(d)
	}
	if n := strings.Count(string(dumps[1]), "INSERT INTO entry "); n != 60 {
		t.Errorf("%d entries", n)
	}
}

// TestBehindFails: a write that fails undoes all, whoever learns of it, and what stands
// on the shelf is the file's.
func TestBehindFails(t *testing.T) {
	twice := func(w *world, tx *Tx) error {
		_, err := tx.AddEntries(w.a.ID, []ferment.Entry{gravity(Message{ID: 1, At: noon}, w.damson, 0, 1.050)})
		return err
	}
	for name, then := range map[string]func(*world, *Tx) error{
		"at the end": func(*world, *Tx) error { return nil },
		"at a read": func(w *world, tx *Tx) error {
			_, err := tx.Entry(w.a.ID, 1)
			if errors.Is(err, ErrTwice) || err == nil {
				t.Errorf("a read after it: %v", err)
			}
			return err
		},
		"behind more": func(_ *world, tx *Tx) error {
			for i := range 3 * lateAtMost {
				if err := tx.SetMeta(fmt.Sprint(i), "v"); errors.Is(err, ErrTwice) {
					t.Errorf("a write after it: %v", err)
				}
			}
			return nil
		},
		"behind an error": func(*world, *Tx) error { return errMine },
	} {
		t.Run(name, func(t *testing.T) {
			w := mustWorld(t)
			w.update(func(tx *Tx) error { w.log(tx, 1.060, noon); return nil })
			before := mustDumpAll(t, w.db)
			err := w.db.UpdateBehind(ctx, func(tx *Tx) error {
				if err := evening(w, tx); err != nil {
					return err
				}
				if err := twice(w, tx); err != nil {
					return err
				}
				return then(w, tx)
			})
			wants(t, "an ordinal of a message for the second time", err, ErrTwice)
			if d := diffLines(before, mustDumpAll(t, w.db)); d != "" {
				t.Error(d)
			}
			w.update(func(tx *Tx) error { return evening(w, tx) }) // and its ids are new ones
		})
	}
}

// TestBehindPanic: it goes on to whoever called, and the connection is free again.
func TestBehindPanic(t *testing.T) {
	w := mustWorld(t)
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		w.db.UpdateBehind(ctx, func(tx *Tx) error { w.say(tx, "sg 1.050", noon); panic("bad") })
	}()
	w.update(func(tx *Tx) error {
		if _, err := tx.Message(w.a.ID, 1); !errors.Is(err, ErrNotFound) {
			t.Errorf("a panic left a message: %v", err)
		}
		return evening(w, tx)
	})
}
