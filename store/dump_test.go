package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"mustbook/ferment"
)

func TestDump(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		e := w.log(tx, 1.049, noon)
		w.log(tx, 1.048, noon.Add(time.Hour))
		m := w.say(tx, "racked", noon)
		deed := ferment.Entry{Message: m.ID, Batch: w.damson, Quantity: ferment.QEvent, Deed: "racked", At: noon, TypedAt: noon}
		if _, err := tx.AddEntries(w.a.ID, []ferment.Entry{deed}); err != nil {
			return err
		}
		if err := tx.VoidRoots(w.a.ID, []int64{e.Root}, w.nora.ID, noon); err != nil {
			return err
		}
		if _, _, err := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "1", Kind: "reply", Text: "one\ntwo", Created: noon}); err != nil {
			return err
		}
		_, _, err := tx.AddSaid(SaidRow{Book: w.a.ID, Rule: "R3", Kind: "batch", N: 1, MadeAt: noon, Due: noon})
		return err
	})
	summer := time.FixedZone("summer", 2*3600)
	for table, want := range map[string][]string{
		"readings": {"batch  at  quantity  value", "1  2026-10-13 15:00  sg  1.048 sg"},
		"entries":  {"batch  at  quantity  typed  unit  deed  material  text", "1  2026-10-13 14:00  event      racked", "1  2026-10-13 15:00  sg  1.048  sg"},
		"members":  {"name  joined  rights", "nora  2026-10-13 14:00  host", "tom  2026-10-13 14:00  member", "eve  2026-10-13 14:00  keeper"},
		"chats":    {"kind  title  admitted", "group  Cellar  admitted", "private    admitted", "group  Shed  admitted"},
		"outbox":   {"kind  created  state  text", "reply  2026-10-13 14:00  due  one / two"},
		"said":     {"rule  due  subject  n  occurrence  answer", "R3  2026-10-13 14:00  batch  1  0"},
	} {
		w.view(func(tx *Tx) error {
			got, err := tx.Dump(table, summer)
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s: %s", table, d)
			}
			return err
		})
	}
	wants(t, "an unknown table", w.db.View(ctx, func(tx *Tx) error { _, err := tx.Dump("batches", summer); return err }), ErrNotFound)
}
