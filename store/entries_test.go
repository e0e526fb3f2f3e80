package store

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"mustbook/ferment"
)

// full has every field set, so that a column left out of a query shows.
func full(m Message, batch int) ferment.Entry {
	return ferment.Entry{Message: m.ID, Ordinal: 3, Batch: batch, Quantity: ferment.QAddition, Value: 1.5, Has: true, Unit: "kg", Typed: "1,5",
		Deed: "addition", Material: "sugar", Basis: "per batch", By: "tom", Text: "in syrup", Instrument: "jug", Type: "must", Key: "k",
		Other: 7, Of: 9, Approx: true, At: noon.Add(time.Hour), DayOnly: true, Author: m.Member, AuthorName: "nora", TypedAt: noon}
}

func TestEntryComesBackAsTyped(t *testing.T) {
	w := mustWorld(t)
	var want ferment.Entry
	w.update(func(tx *Tx) error {
		es, err := tx.AddEntries(w.a.ID, []ferment.Entry{full(w.say(tx, "1,5 kg sugar", noon), w.damson)})
		want = es[0]
		return err
	})
	w.view(func(tx *Tx) error {
		got, err := tx.Entries(w.a.ID, w.damson)
		if d := cmp.Diff([]ferment.Entry{want}, got); d != "" {
			t.Error(d)
		}
		return err
	})
	if want.ID == 0 || want.Root != want.ID {
		t.Errorf("id %d, root %d: a first row is its own root", want.ID, want.Root)
	}
}

// TestEntryHasEveryField fails when ferment.Entry grows a field that full, and so
// perhaps the table, does not know.
func TestEntryHasEveryField(t *testing.T) {
	e := full(Message{ID: 1, Member: 1}, 1)
	e.ID, e.Root = 1, 1
	for _, name := range zeroFields(e) {
		t.Errorf("field %s is not set in full(): add it there, to the table and to the queries", name)
	}
}

func TestSupersession(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		first := w.log(tx, 1.049, noon)
		m := w.say(tx, "no, 1.026", noon.Add(time.Minute))
		repair := gravity(m, w.damson, 0, 1.026)
		repair.Root = first.Root
		es, err := tx.AddEntries(w.a.ID, []ferment.Entry{repair})
		if err != nil {
			return err
		}
		if es[0].Root != first.Root || es[0].ID == first.ID {
			t.Errorf("repair has id %d root %d, first has id %d root %d", es[0].ID, es[0].Root, first.ID, first.Root)
		}
		live, err := tx.Entries(w.a.ID, w.damson)
		if len(live) != 1 || live[0].Value != 1.026 {
			t.Errorf("live: %+v", live)
		}
		chain, err2 := tx.Chain(w.a.ID, first.Root)
		if len(chain) != 2 || chain[0].Live || chain[0].Value != 1.049 || chain[1].Supersedes != first.ID {
			t.Errorf("chain: %+v", chain)
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestRepairMovesAnEntryToAnotherBatch(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		gorse, err := tx.NewBatch(w.a.ID, noon)
		if err != nil {
			return err
		}
		e := w.log(tx, 1.049, noon)
		e.Batch = gorse
		if _, err := tx.AddEntries(w.a.ID, []ferment.Entry{e}); err != nil {
			return err
		}
		old, err := tx.Entries(w.a.ID, w.damson)
		now, err2 := tx.Entries(w.a.ID, gorse)
		if len(old) != 0 || len(now) != 1 {
			t.Errorf("%d left behind, %d arrived", len(old), len(now))
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestVoidAndRevive(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		e := w.log(tx, 1.049, noon)
		roots := []int64{e.Root}
		live := func(want int, when string) {
			es, err := tx.Entries(w.a.ID, w.damson)
			if err != nil || len(es) != want {
				t.Errorf("%s: %d live entries, want %d (%v)", when, len(es), want, err)
			}
		}
		for _, again := range []string{"first", "said twice"} {
			if err := tx.VoidRoots(w.a.ID, roots, w.tom.ID, noon); err != nil {
				return err
			}
			live(0, "taken back, "+again)
		}
		_, err := tx.Entry(w.a.ID, e.Root)
		wants(t, "an entry taken back", err, ErrNotFound)
		for _, again := range []string{"first", "said twice"} {
			if err := tx.ReviveRoots(w.a.ID, roots); err != nil {
				return err
			}
			live(1, "put back, "+again)
		}
		back, err := tx.Entry(w.a.ID, e.Root)
		e.ID = back.ID // a revival is a new row; nothing else differs
		if d := cmp.Diff(e, back); d != "" {
			t.Error(d)
		}
		rows, err2 := tx.AllEntries(w.a.ID, w.damson)
		if len(rows) != 3 || !rows[1].Void || rows[1].Author != w.tom.ID {
			t.Errorf("history: %+v", rows)
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestMessageCannotAddTwice(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		m := w.say(tx, "sg 1.049", noon)
		if _, err := tx.AddEntries(w.a.ID, []ferment.Entry{gravity(m, w.damson, 0, 1.049)}); err != nil {
			return err
		}
		_, err := tx.AddEntries(w.a.ID, []ferment.Entry{gravity(m, w.damson, 0, 1.049)})
		wants(t, "the same ordinal again", err, ErrTwice)
		_, err = tx.AddEntries(w.a.ID, []ferment.Entry{gravity(m, w.damson, 1, 1.049)})
		return err
	})
}

func TestEntriesWithoutMessageMayRepeat(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { // as an import or a first start makes them
		e := gravity(Message{At: noon}, 0, 0, 1.049)
		_, err := tx.AddEntries(w.a.ID, []ferment.Entry{e, e})
		return err
	})
}

func TestEntryRefusals(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		m := w.say(tx, "sg 1.049", noon)
		of := w.sayIn(tx, w.shed, w.eve, "sg 1.060", noon)
		strange, err := tx.AddEntries(w.b.ID, []ferment.Entry{gravity(of, w.quince, 0, 1.060)})
		if err != nil {
			return err
		}
		superseding := gravity(m, w.damson, 0, 1.049)
		superseding.Root = strange[0].Root
		year := gravity(m, w.damson, 0, 1.049)
		year.At = time.Date(12026, 1, 1, 0, 0, 0, 0, time.UTC)
		for _, c := range []struct {
			name string
			e    ferment.Entry
			want error
		}{
			{"a root of another book", superseding, ErrNotFound},
			{"a message of another book", gravity(of, w.damson, 1, 1.049), ErrNotFound},
			{"a batch that was never begun", gravity(m, 99, 0, 1.049), ErrNotFound},
			{"not a number", gravity(m, w.damson, 0, math.NaN()), ErrNumber},
			{"infinity", gravity(m, w.damson, 0, math.Inf(1)), ErrNumber},
		} {
			_, err := tx.AddEntries(w.a.ID, []ferment.Entry{c.e})
			wants(t, c.name, err, c.want)
		}
		if _, err := tx.AddEntries(w.a.ID, []ferment.Entry{year}); err == nil {
			t.Error("a year of five digits was kept; it would sort before all others")
		}
		return nil
	})
}

func TestBatchNumbersAreNotReused(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		n, err := tx.NewBatch(w.a.ID, noon)
		if n != 2 {
			t.Errorf("second batch is %d", n)
		}
		nums, err2 := tx.BatchNumbers(w.a.ID)
		if d := cmp.Diff([]int{1, 2}, nums); d != "" {
			t.Error(d)
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestEachEntryStopsAtAnError(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { w.log(tx, 1.049, noon); w.log(tx, 1.048, noon); return nil })
	w.view(func(tx *Tx) error {
		n := 0
		err := tx.EachEntry(w.a.ID, func(EntryRow) error { n++; return ErrHeld })
		wants(t, "the error of f", err, ErrHeld)
		if n != 1 {
			t.Errorf("f was called %d times", n)
		}
		n = 0
		err = tx.EachEntry(w.a.ID, func(EntryRow) error { n++; return nil })
		if n != 2 {
			t.Errorf("f was called %d times for 2 rows", n)
		}
		return err
	})
}
