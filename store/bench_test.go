package store

import (
	"database/sql"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"mustbook/ferment"
)

// BenchmarkBaseline is what the driver does by itself with the same pragmas: one
// row of an entry's size, one commit. The others are measured against it.
func BenchmarkBaseline(b *testing.B) {
	d, err := sql.Open("sqlite", dsn(filepath.Join(b.TempDir(), "plain.db"), Options{}, writing))
	if err != nil {
		b.Fatal(err)
	}
	defer d.Close()
	d.SetMaxOpenConns(1)
	if _, err := d.Exec("CREATE TABLE reading (id INTEGER PRIMARY KEY, batch INTEGER, at TEXT, value REAL, unit TEXT, typed TEXT) STRICT"); err != nil {
		b.Fatal(err)
	}
	s, err := d.Prepare("INSERT INTO reading (batch, at, value, unit, typed) VALUES (?,?,?,?,?)")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := s.Exec(1, toText(noon), 1.049, "sg", "1.049"); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "commits/s")
}

// BenchmarkGroupCommit keeps 100 messages with 3 entries, an answer and two buttons
// each in one commit, every one under its own savepoint. One step is 100 messages.
func BenchmarkGroupCommit(b *testing.B) {
	w := mustWorld(b)
	const messages = 100
	handle := func(tx *Tx) error {
		m := w.say(tx, "sg 1.049 at 21c", noon)
		es := []ferment.Entry{gravity(m, w.damson, 0, 1.049), gravity(m, w.damson, 1, 1.048), gravity(m, w.damson, 2, 1.047)}
		if _, err := tx.AddEntries(w.a.ID, es); err != nil {
			return err
		}
		if err := tx.SetNextDue(Subject{w.a.ID, "batch", int64(w.damson), noon}); err != nil {
			return err
		}
		_, _, err := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: fmt.Sprint("m", m.ID), Kind: "reply", Text: "damson 26, day 4: 1.049",
			Message: m.ID, Created: noon, Buttons: []Button{{Label: "More", Action: []byte("{}"), Expires: noon}, {Label: "Undo", Action: []byte("{}"), Expires: noon}}})
		return err
	}
	fs := make([]func(*Tx) error, messages)
	for i := range fs {
		fs[i] = handle
	}
	for b.Loop() {
		for _, err := range w.db.Batch(ctx, fs) {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(messages*b.N)/b.Elapsed().Seconds(), "messages/s")
}

// BenchmarkOneMessage is the same for a message that comes alone.
func BenchmarkOneMessage(b *testing.B) {
	w := mustWorld(b)
	for b.Loop() {
		w.update(func(tx *Tx) error { w.log(tx, 1.049, noon); return nil })
	}
}

// BenchmarkEntries reads a batch of 100 readings from a file with 300 other batches.
func BenchmarkEntries(b *testing.B) {
	w := mustWorld(b)
	w.update(func(tx *Tx) error {
		for range 300 {
			n, err := tx.NewBatch(w.a.ID, noon)
			if err != nil {
				return err
			}
			m := w.say(tx, "many", noon)
			var es []ferment.Entry
			for i := range 100 {
				es = append(es, gravity(m, n, i, 1.049))
			}
			if _, err := tx.AddEntries(w.a.ID, es); err != nil {
				return err
			}
		}
		return nil
	})
	for b.Loop() {
		w.view(func(tx *Tx) error {
			es, err := tx.Entries(w.a.ID, 150)
			if len(es) != 100 {
				b.Fatal(len(es))
			}
			return err
		})
	}
}

// BenchmarkDueSubjects looks for what is due among 100,000 subjects, 100 of them
// due.
func BenchmarkDueSubjects(b *testing.B) {
	w := mustWorld(b)
	w.update(func(tx *Tx) error {
		for n := range int64(100_000) {
			at := noon.Add(time.Duration(n+1) * time.Minute)
			if n%1000 == 0 {
				at = noon.Add(-time.Minute)
			}
			if err := tx.SetNextDue(Subject{w.a.ID, "batch", n, at}); err != nil {
				return err
			}
		}
		return nil
	})
	for b.Loop() {
		w.view(func(tx *Tx) error {
			got, err := tx.DueSubjects(noon, 1000)
			if len(got) != 100 {
				b.Fatal(len(got))
			}
			return err
		})
	}
}

// BenchmarkOpen is the store's share of a start.
func BenchmarkOpen(b *testing.B) {
	w := mustWorld(b)
	w.db.Close()
	for b.Loop() {
		db, err := Open(ctx, w.db.path, Options{})
		if err != nil {
			b.Fatal(err)
		}
		db.Close()
	}
}
