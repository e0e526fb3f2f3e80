package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestBooks(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error { return tx.ClaimBook(w.a.ID) })
	w.view(func(tx *Tx) error {
		bs, err := tx.Books()
		claimed := w.a
		claimed.Claimed = true
		if d := cmp.Diff([]Book{claimed, w.b}, bs); d != "" {
			t.Error(d)
		}
		one, err2 := tx.Book(w.b.ID)
		if one != w.b {
			t.Errorf("got %+v", one)
		}
		_, err3 := tx.Book(99)
		wants(t, "a missing book", err3, ErrNotFound)
		if err != nil {
			return err
		}
		return err2
	})
	wants(t, "claiming a missing book", w.db.Update(ctx, func(tx *Tx) error { return tx.ClaimBook(99) }), ErrNotFound)
}

func TestMembers(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		got, err := tx.Members(w.a.ID)
		if d := cmp.Diff([]Member{w.nora, w.tom}, got); d != "" {
			t.Error(d)
		}
		if err != nil {
			return err
		}
		gone := w.tom
		gone.Name, gone.Left = "thomas", noon.Add(time.Hour)
		if err := tx.SetMember(gone); err != nil {
			return err
		}
		back, err := tx.Member(w.a.ID, w.tom.ID) // gone, but his entries still name him
		if d := cmp.Diff(gone, back); d != "" {
			t.Error(d)
		}
		if got, _ := tx.Members(w.a.ID); len(got) != 1 {
			t.Errorf("%d present", len(got))
		}
		_, err2 := tx.MemberByUser(72)
		wants(t, "the user of one who left", err2, ErrNotFound)
		_, err2 = tx.MemberByUser(0)
		wants(t, "no user", err2, ErrNotFound)
		nora, err2 := tx.MemberByUser(71)
		if nora.ID != w.nora.ID {
			t.Errorf("user 71 is %+v", nora)
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestMeta(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		if v, ok := tx.Meta("k"); ok {
			t.Errorf("found %q", v)
		}
		for _, v := range []string{"one", ""} {
			if err := tx.SetMeta("k", v); err != nil {
				return err
			}
			if got, ok := tx.Meta("k"); !ok || got != v {
				t.Errorf("got %q %v, want %q", got, ok, v)
			}
		}
		return nil
	})
}

func TestInvites(t *testing.T) {
	w := mustWorld(t)
	ends := noon.Add(24 * time.Hour)
	w.update(func(tx *Tx) error {
		for _, hash := range []string{"one", "two"} {
			if err := tx.AddInvite([]byte(hash), w.a.ID, "join", ends, w.nora.ID); err != nil {
				return err
			}
		}
		wants(t, "the same hash", tx.AddInvite([]byte("one"), w.b.ID, "join", ends, w.eve.ID), ErrTwice)
		book, kind, by, err := tx.UseInvite([]byte("one"), ends) // the last instant still counts
		if book != w.a.ID || kind != "join" || by != w.nora.ID {
			t.Errorf("got book %d, kind %q, by %d", book, kind, by)
		}
		if err != nil {
			return err
		}
		_, _, _, err = tx.UseInvite([]byte("one"), noon)
		wants(t, "used before", err, ErrNotFound)
		_, _, _, err = tx.UseInvite([]byte("two"), ends.Add(time.Millisecond))
		wants(t, "too late", err, ErrExpired)
		return nil
	})
}
