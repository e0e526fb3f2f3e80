package store

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestFocus(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		for i, m := range []Member{w.nora, w.tom, w.nora} {
			if err := tx.SetFocus(w.cellar.ID, m.ID, i+1, noon.Add(time.Duration(i)*time.Minute)); err != nil {
				return err
			}
		}
		got, err := tx.Focuses(w.cellar.ID)
		want := []Focus{{w.nora.ID, 3, noon.Add(2 * time.Minute)}, {w.tom.ID, 2, noon.Add(time.Minute)}}
		if d := cmp.Diff(want, got); d != "" {
			t.Error(d)
		}
		return err
	})
}

func TestQuestions(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		q := Question{Book: w.a.ID, Chat: w.cellar.ID, Member: w.nora.ID, Message: 3, Kind: "temp", Payload: []byte(`{"n":1}`), Asked: noon}
		if _, err := tx.PutQuestion(q); err != nil {
			return err
		}
		q.Message, q.Kind = 4, "batch"
		id, err := tx.PutQuestion(q)
		if err != nil {
			return err
		}
		q.ID = id
		got, err := tx.OpenQuestion(w.cellar.ID, w.nora.ID)
		if d := cmp.Diff(q, got); d != "" {
			t.Error(d)
		}
		_, err2 := tx.OpenQuestion(w.cellar.ID, w.tom.ID)
		wants(t, "somebody else's", err2, ErrNotFound)
		if err := tx.CloseQuestion(w.b.ID, 4); err != nil {
			return err
		}
		if _, err := tx.OpenQuestion(w.cellar.ID, w.nora.ID); err != nil {
			t.Errorf("closed from another book: %v", err)
		}
		if err := tx.CloseQuestion(w.a.ID, 4); err != nil {
			return err
		}
		_, err2 = tx.OpenQuestion(w.cellar.ID, w.nora.ID)
		wants(t, "a closed one", err2, ErrNotFound)
		return err
	})
}

func TestButtons(t *testing.T) {
	w := mustWorld(t)
	ends := noon.Add(time.Hour)
	labels := []string{"Undo", "More", "18 °C"}
	w.update(func(tx *Tx) error {
		o := Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "m1", Kind: "reply", Created: noon}
		for _, l := range labels {
			o.Buttons = append(o.Buttons, Button{Label: l, Action: []byte(l), Expires: ends})
		}
		id, _, err := tx.Enqueue(o)
		if err != nil {
			return err
		}
		kept, err := tx.Out(id)
		if err != nil {
			return err
		}
		bs := kept.Buttons
		seen := map[string]bool{}
		for i, b := range bs {
			if b.Label != labels[i] || b.Book != w.a.ID || b.Chat != w.cellar.ID || b.Out != id || string(b.Action) != labels[i] {
				t.Errorf("button %d: %+v", i, b)
			}
			// 64 bytes is the platform's limit for a button's data.
			if len(b.Key) > 64 || len(b.Key) < 16 || strings.Trim(b.Key, "0123456789ABCDEFGHIJKLMNOPQRSTUV") != "" || seen[b.Key] {
				t.Errorf("key %q", b.Key)
			}
			seen[b.Key] = true
			got, err := tx.Button(b.Key, ends)
			if d := cmp.Diff(b, got); err != nil || d != "" {
				t.Errorf("%v %s", err, d)
			}
		}
		if len(bs) != len(labels) {
			t.Errorf("%d buttons", len(bs))
		}
		_, err = tx.Button(bs[0].Key, ends.Add(time.Millisecond))
		wants(t, "too late", err, ErrExpired)
		_, err = tx.Button("NOSUCHKEY", noon)
		wants(t, "a key that was never made", err, ErrNotFound)
		return nil
	})
}

func TestPressOnce(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		for _, want := range []bool{true, false, false} {
			if first, err := tx.PressOnce("cb1"); err != nil || first != want {
				t.Errorf("first %v, want %v (%v)", first, want, err)
			}
		}
		return nil
	})
}
