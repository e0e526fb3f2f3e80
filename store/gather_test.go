package store

import (
	"testing"

	"mustbook/ferment"

	"github.com/google/go-cmp/cmp"
)

// odd are entries whose texts could be taken for something else on their way from the
// file, with values that lose digits where they are written as text.
func odd(m Message) []ferment.Entry {
	full := ferment.Entry{Quantity: ferment.QSG, Value: 1.0499999999999998, Has: true, Unit: "sg", Typed: "1.050", Deed: "read", Material: "sugar",
		Basis: "must", By: "tom", Text: "cloudy", Instrument: "the long one", Type: "country", Key: "k", Other: 3, Of: 7, Approx: true, DayOnly: true,
		AuthorName: "nora"}
	none := ferment.Entry{Quantity: ferment.QEvent}
	tiny, parted, crowded, zero := full, full, none, full
	tiny.Value, tiny.Text = 5e-324, "'; DROP TABLE entry; --"
	parted.Text, parted.Typed = "one\x1ftwo", "1\x1f050"
	crowded.AuthorName = "\x1f\x1f\x1f"
	zero.Value, zero.Text, zero.Other = 0, "nul \x00 behind, ü, \u202e", -4
	es := []ferment.Entry{full, none, tiny, zero, parted, crowded}
	for i := range es {
		es[i].Message, es[i].Ordinal, es[i].Author, es[i].At, es[i].TypedAt = m.ID, i, m.Member, m.At, m.At.Add(1e6)
	}
	return es
}

// TestLiveIsTheRows reads entries packed and column by column: with a parting character
// of somebody's among them and without.
func TestLiveIsTheRows(t *testing.T) {
	for _, n := range []int{4, 5, 6} {
		w := mustWorld(t)
		var written []ferment.Entry
		w.update(func(tx *Tx) (err error) {
			es := odd(w.say(tx, "odd", noon))[:n]
			for i := range es {
				es[i].Batch = w.damson
			}
			written, err = tx.AddEntries(w.a.ID, es)
			return err
		})
		read := func(tx *Tx) error {
			got, err := tx.Entries(w.a.ID, w.damson)
			if d := cmp.Diff(written, got); d != "" {
				t.Errorf("%d entries (-written +read): %s", n, d)
			}
			return err
		}
		w.view(read)
		w.update(func(tx *Tx) error {
			tx.wroteMuch()
			if err := tx.Gather(w.a.ID); err != nil {
				return err
			}
			return read(tx)
		})
	}
}

// TestGatherIsTheFile: a household that nothing is remembered of reads after it just
// as it stands in the file, and nothing has to be asked of the file any more.
func TestGatherIsTheFile(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		for _, n := range []int64{1, 1, 2} {
			for _, kind := range []string{"batch", "book", "tub"} {
				if _, _, err := tx.AddSaid(SaidRow{Book: w.a.ID, Rule: "R" + kind, Kind: kind, N: n, Occurrence: len(tx.written), MadeAt: noon, Due: noon}); err != nil {
					return err
				}
			}
			e := w.log(tx, 1.05, noon)
			if err := tx.PutForecast(w.a.ID, int(n), e.ID, []byte("f")); err != nil {
				return err
			}
		}
		_, err := tx.NewBatch(w.a.ID, noon) // with nothing in it
		return err
	})
	var fresh, kept []any
	w.view(func(tx *Tx) error { fresh = everything(w, tx); return nil })
	w.update(func(tx *Tx) error {
		tx.wroteMuch()
		if err := tx.Gather(w.a.ID); err != nil {
			return err
		}
		for _, k := range []shelfKey{{w.a.ID, 0, 0}, {w.a.ID, 1, 0}, {w.a.ID, 2, 0}} {
			for _, of := range []string{shelfEntries, shelfSaid + "batch", shelfForecast} {
				if _, known := tx.shelf.get(of, k); !known && (k.n > 0 || of == shelfEntries) {
					t.Errorf("%s of batch %d is not known", of, k.n)
				}
			}
		}
		kept = everything(w, tx)
		return nil
	})
	if d := cmp.Diff(fresh, kept); d != "" {
		t.Errorf("(-file +gathered): %s", d)
	}
}

// TestGatherKeepsVersions: what was known stays the same, so that what was folded of it
// stays right.
func TestGatherKeepsVersions(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		w.log(tx, 1.05, noon)
		_, before, err := tx.Live(w.a.ID, w.damson)
		if err != nil {
			return err
		}
		if err := tx.Gather(w.a.ID); err != nil {
			return err
		}
		if _, after, err := tx.Live(w.a.ID, w.damson); err != nil || after != before || before == 0 {
			t.Errorf("version %d, then %d, %v", before, after, err)
		}
		return nil
	})
}
