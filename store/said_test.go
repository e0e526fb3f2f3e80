package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestDueSubjects(t *testing.T) {
	w := mustWorld(t)
	at := func(minutes int) time.Time { return noon.Add(time.Duration(minutes) * time.Minute) }
	w.update(func(tx *Tx) error {
		for _, s := range []Subject{
			{w.a.ID, "batch", 1, at(5)}, {w.a.ID, "book", 0, at(0)}, {w.b.ID, "batch", 1, at(-5)}, {w.a.ID, "tub", 2, time.Time{}},
			{w.a.ID, "member", 3, at(-9)}, {w.a.ID, "member", 3, at(60)}, // rewritten
		} {
			if err := tx.SetNextDue(s); err != nil {
				return err
			}
		}
		got, err := tx.DueSubjects(noon, 10) // an instant is due at that instant
		if d := cmp.Diff([]Subject{{w.b.ID, "batch", 1, at(-5)}, {w.a.ID, "book", 0, at(0)}}, got); d != "" {
			t.Error(d)
		}
		if err != nil {
			return err
		}
		if err := tx.SetNextDue(Subject{w.b.ID, "batch", 1, time.Time{}}); err != nil {
			return err
		}
		got, err = tx.DueSubjects(at(1000), 2)
		if d := cmp.Diff([]Subject{{w.a.ID, "book", 0, at(0)}, {w.a.ID, "batch", 1, at(5)}}, got); d != "" {
			t.Error(d)
		}
		return err
	})
}

func TestSaid(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		r := SaidRow{Book: w.a.ID, Rule: "R14", Kind: "batch", N: 1, Anchor: 5, Occurrence: 2, MadeAt: noon, Due: noon.Add(-time.Hour),
			AnsweredAt: noon, SnoozedTo: noon.Add(time.Hour), Answer: "later", Muted: true, Out: 8}
		id, dup, err := tx.AddSaid(r)
		if err != nil || dup {
			t.Fatal(dup, err)
		}
		r.ID = id
		got, err := tx.Said(w.a.ID, "batch", 1)
		if d := cmp.Diff([]SaidRow{r}, got); d != "" {
			t.Error(d)
		}
		for _, name := range zeroFields(r) {
			t.Errorf("field %s is not set in this test", name)
		}
		if err != nil {
			return err
		}
		if _, dup, err := tx.AddSaid(r); err != nil || !dup {
			t.Errorf("the same occurrence: dup %v, %v", dup, err)
		}
		for name, change := range map[string]func(*SaidRow){
			"rule": func(r *SaidRow) { r.Rule = "R15" }, "subject": func(r *SaidRow) { r.N = 2 }, "kind": func(r *SaidRow) { r.Kind = "tub" },
			"anchor": func(r *SaidRow) { r.Anchor = 6 }, "occurrence": func(r *SaidRow) { r.Occurrence = 3 },
		} {
			other := r
			change(&other)
			if _, dup, err := tx.AddSaid(other); err != nil || dup {
				t.Errorf("another %s: dup %v, %v", name, dup, err)
			}
		}
		r.Answer, r.Muted, r.SnoozedTo = "working", false, time.Time{}
		if err := tx.UpdateSaid(r); err != nil {
			return err
		}
		got, err = tx.Said(w.a.ID, "batch", 1)
		if d := cmp.Diff(r, got[0]); d != "" {
			t.Error(d)
		}
		return err
	})
}

func TestForecasts(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		_, _, err := tx.Forecast(w.a.ID, 1)
		wants(t, "none yet", err, ErrNotFound)
		for entry := int64(3); entry < 5; entry++ {
			if err := tx.PutForecast(w.a.ID, 1, entry, []byte{byte(entry)}); err != nil {
				return err
			}
		}
		entry, blob, err := tx.Forecast(w.a.ID, 1)
		if entry != 4 || string(blob) != "\x04" {
			t.Errorf("entry %d, blob %v", entry, blob)
		}
		return err
	})
}

func TestPhotos(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		p := Photo{Book: w.a.ID, Batch: 1, Message: 2, FileID: "f", FileUnique: "u", At: noon}
		id, err := tx.AddPhoto(p)
		if err != nil {
			return err
		}
		p.ID = id
		wait, err := tx.PhotosToFetch(5)
		if d := cmp.Diff([]Photo{p}, wait); d != "" {
			t.Error(d)
		}
		if err != nil {
			return err
		}
		p.JPEG, p.Barcode = []byte("jpeg"), "2000000000015"
		if err := tx.SetPhoto(id, p.JPEG, p.Barcode); err != nil {
			return err
		}
		got, err := tx.Photo(w.a.ID, id)
		if d := cmp.Diff(p, got); d != "" {
			t.Error(d)
		}
		of, err2 := tx.Photos(w.a.ID, 1)
		if len(of) != 1 {
			t.Errorf("%d photos", len(of))
		}
		if wait, _ := tx.PhotosToFetch(5); len(wait) != 0 {
			t.Error("fetched, and still to fetch")
		}
		if err != nil {
			return err
		}
		return err2
	})
}
