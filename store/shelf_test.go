package store

import (
	"errors"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// everything reads what the shelf may hold of the world's first household, each
// answer with its error.
func everything(w *world, tx *Tx) []any {
	var out []any
	add := func(v any, err error) { out = append(out, v, fmt.Sprint(err)) }
	for _, n := range []int{0, 1, 2} {
		es, err := tx.Entries(w.a.ID, n)
		add(fmt.Sprintf("%+v", es), err)
		entry, body, err := tx.Forecast(w.a.ID, n)
		add(fmt.Sprint(entry, string(body)), err)
		said, err := tx.Said(w.a.ID, "batch", int64(n))
		add(fmt.Sprintf("%+v", said), err)
	}
	ns, err := tx.BatchNumbers(w.a.ID)
	add(fmt.Sprint(ns), err)
	ms, err := tx.Members(w.a.ID)
	add(fmt.Sprintf("%+v", ms), err)
	fs, err := tx.Focuses(w.cellar.ID)
	add(fmt.Sprintf("%+v", fs), err)
	for _, m := range []int64{w.nora.ID, w.tom.ID} {
		q, err := tx.OpenQuestion(w.cellar.ID, m)
		add(fmt.Sprintf("%+v", q), err)
	}
	for _, id := range []int64{w.cellar.PlatformID, w.cellar.PlatformID - 1} {
		c, err := tx.ChatByPlatform(w.cellar.Platform, id)
		add(fmt.Sprintf("%+v", c), err)
	}
	cs, err := tx.Chats(w.a.ID)
	add(fmt.Sprintf("%+v", cs), err)
	v, ok := tx.Meta("k")
	add(fmt.Sprint(v, ok), nil)
	return out
}

// TestShelfIsTheFile writes at random, with failures of one message and of the whole
// commit in between, and looks each time that the writing connection reads just what
// a fresh one does. The instants have no finer parts than the file keeps.
func TestShelfIsTheFile(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { _, err := tx.NewBatch(w.a.ID, noon); return err })
	rapid.Check(t, func(r *rapid.T) {
		one := func(tx *Tx) error { return scribble(r, w, tx) }
		switch rapid.IntRange(0, 5).Draw(r, "how") {
		case 0:
			w.db.Update(ctx, func(tx *Tx) error {
				everything(w, tx) // what is read before a failure must not outlive it
				one(tx)
				everything(w, tx)
				return errMine
			})
		case 1:
			w.db.Batch(ctx, []func(*Tx) error{one, func(tx *Tx) error { one(tx); everything(w, tx); panic("after the work") }, one})
		case 2:
			w.db.UpdateBehind(ctx, func(tx *Tx) error { one(tx); everything(w, tx); one(tx); return errMine })
		case 3:
			w.db.UpdateBehind(ctx, func(tx *Tx) error { everything(w, tx); one(tx); return one(tx) })
		default:
			w.db.Update(ctx, func(tx *Tx) error { everything(w, tx); return one(tx) })
		}
		var fresh, kept []any
		w.view(func(tx *Tx) error { fresh = everything(w, tx); return nil })
		w.update(func(tx *Tx) error { kept = everything(w, tx); return nil })
		if d := cmp.Diff(fresh, kept); d != "" {
			r.Fatalf("the shelf differs from the file (-file +shelf): %s", d)
		}
	})
}

// scribble makes one write that the shelf must hear of.
func scribble(r *rapid.T, w *world, tx *Tx) error {
	at := noon.Add(time.Duration(rapid.IntRange(0, 1000).Draw(r, "minutes")) * time.Minute)
	n := rapid.IntRange(1, 2).Draw(r, "batch")
	m := rapid.SampledFrom([]int64{w.nora.ID, w.tom.ID}).Draw(r, "member")
	if rapid.Bool().Draw(r, "gathered") {
		if rapid.Bool().Draw(r, "forgotten") {
			tx.wroteMuch()
		}
		if err := tx.Gather(w.a.ID); err != nil {
			return err
		}
	}
	switch rapid.IntRange(0, 10).Draw(r, "what") {
	case 0:
		w.log(tx, 1.050, at)
	case 1:
		es, err := tx.Entries(w.a.ID, 1)
		if err != nil || len(es) == 0 {
			return err
		}
		return tx.VoidRoots(w.a.ID, []int64{es[len(es)-1].Root}, m, at)
	case 2:
		return tx.PutForecast(w.a.ID, n, int64(n), []byte(fmt.Sprint(at)))
	case 3:
		return tx.SetMeta("k", fmt.Sprint(at))
	case 4:
		_, _, err := tx.AddSaid(SaidRow{Book: w.a.ID, Rule: "R1", Kind: "batch", N: int64(n), Occurrence: int(at.Unix() % 50), MadeAt: at, Due: at})
		return err
	case 5:
		said, err := tx.Said(w.a.ID, "batch", int64(n))
		if err != nil || len(said) == 0 {
			return err
		}
		x := said[0]
		x.Answer, x.AnsweredAt = fmt.Sprint(at), at
		return tx.UpdateSaid(x)
	case 6:
		ms, err := tx.Members(w.a.ID)
		if err != nil || len(ms) == 0 {
			return err
		}
		ms[0].Name = fmt.Sprint("nora ", at.Minute())
		return tx.SetMember(ms[0])
	case 7:
		return tx.SetFocus(w.cellar.ID, m, n, at)
	case 8:
		_, err := tx.PutQuestion(Question{Book: w.a.ID, Chat: w.cellar.ID, Member: m, Message: int64(at.Minute()), Kind: "unit", Asked: at})
		return err
	case 9:
		q, err := tx.OpenQuestion(w.cellar.ID, m)
		if errors.Is(err, ErrNotFound) {
			return nil
		}
		if err != nil {
			return err
		}
		return tx.CloseQuestion(w.a.ID, q.Message)
	case 10:
		c := w.cellar
		c.Title, c.Silent = fmt.Sprint(at), at.Minute()%2 == 0
		_, err := tx.PutChat(c)
		return err
	}
	return nil
}

// TestShelfHearsOfOthers: what another connection commits is seen.
func TestShelfHearsOfOthers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "m.db")
	a, b := mustOpen(t, path), mustOpen(t, path)
	mustUpdate(t, a, func(tx *Tx) error { return tx.SetMeta("k", "first") })
	for i := range 3 {
		want := fmt.Sprint("round ", i)
		mustUpdate(t, b, func(tx *Tx) error { tx.Meta("k"); return tx.SetMeta("k", want) })
		mustUpdate(t, a, func(tx *Tx) error {
			if got, _ := tx.Meta("k"); got != want {
				t.Errorf("%q, want %q", got, want)
			}
			return nil
		})
	}
}

// TestShelfIsBounded: however much is read, little is kept.
func TestShelfIsBounded(t *testing.T) {
	var s shelf
	for i := range int64(3 * shelfHolds / 100) {
		s.put(shelfEntries, shelfKey{i, 1, 0}, i, 100)
		if s.weight > shelfHolds {
			t.Fatalf("%d rows are kept", s.weight)
		}
	}
	n := 0
	for k, x := range s.kept[shelfEntries] {
		n++
		if x.value != k.book {
			t.Errorf("%v holds %v", k, x.value)
		}
	}
	if n == 0 || n*100 != s.weight {
		t.Errorf("%d kept, weight %d", n, s.weight)
	}
}
