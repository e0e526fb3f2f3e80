package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"mustbook/ferment"
)

func TestChats(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		got, err := tx.Chats(w.a.ID)
		if d := cmp.Diff([]Chat{w.cellar, w.private}, got); d != "" {
			t.Error(d)
		}
		if err != nil {
			return err
		}
		changed := w.cellar
		changed.ID, changed.Title, changed.Silent, changed.PrivacyHidden = 0, "Cellar and attic", true, true
		changed, err = tx.PutChat(changed)
		if changed.ID != w.cellar.ID {
			t.Errorf("a second row %d for one chat", changed.ID)
		}
		again, err2 := tx.ChatByPlatform("script", -1)
		if d := cmp.Diff(changed, again); d != "" {
			t.Error(d)
		}
		_, err3 := tx.ChatByPlatform("telegram", -1)
		wants(t, "the same id on another platform", err3, ErrNotFound)
		if !w.cellar.Group() || w.private.Group() {
			t.Error("which chat is a group?")
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestSeenInChat(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		for range 2 {
			if err := tx.SeeInChat(w.cellar.ID, w.tom.ID, noon); err != nil {
				return err
			}
		}
		got, err := tx.MembersOf(w.cellar.ID)
		if d := cmp.Diff([]Member{w.tom}, got); d != "" {
			t.Error(d)
		}
		return err
	})
}

// TestMigrateChat plays the two signals of one change in every order, and twice.
func TestMigrateChat(t *testing.T) {
	for _, strange := range []bool{false, true} { // a chat made under the new id meanwhile
		w := mustWorld(t)
		w.update(func(tx *Tx) error {
			root := w.log(tx, 1.049, noon).Root
			var there Chat
			if strange {
				var err error
				if there, err = tx.PutChat(Chat{Book: w.a.ID, Platform: "script", PlatformID: -100, Kind: "group", Admitted: true}); err != nil {
					return err
				}
				w.fill(tx, there)
			}
			for range 2 {
				if err := tx.MigrateChat("script", -1, -100); err != nil {
					return err
				}
				for _, id := range []int64{-1, -100} {
					c, err := tx.ChatByPlatform("script", id)
					if err != nil || c.ID != w.cellar.ID || c.PlatformID != -100 {
						t.Errorf("id %d: %+v, %v", id, c, err)
					}
				}
			}
			if _, err := tx.Entry(w.a.ID, root); err != nil {
				t.Errorf("an entry is lost: %v", err)
			}
			if strange {
				w.checkMoved(tx, there)
			}
			wants(t, "a chat nobody knows", tx.MigrateChat("script", -55, -56), ErrNotFound)
			return nil
		})
	}
}

// fill puts one of everything into a chat.
func (w *world) fill(tx *Tx, c Chat) {
	w.t.Helper()
	m := w.sayIn(tx, c, w.tom, "sg 1.048", noon)
	_, err := tx.AddEntries(w.a.ID, []ferment.Entry{gravity(m, w.damson, 0, 1.048)})
	_, _, err2 := tx.Enqueue(Out{Book: w.a.ID, Chat: c.ID, Source: "fill", Kind: "reply", Created: noon, Buttons: []Button{{Label: "Undo", Expires: noon}}})
	_, err3 := tx.PutQuestion(Question{Book: w.a.ID, Chat: c.ID, Member: w.tom.ID, Message: m.ID, Kind: "temp", Payload: []byte("{}"), Asked: noon})
	for _, err := range []error{err, err2, err3, tx.SetFocus(c.ID, w.tom.ID, w.damson, noon), tx.SeeInChat(c.ID, w.tom.ID, noon)} {
		if err != nil {
			w.t.Fatal(err)
		}
	}
}

func (w *world) checkMoved(tx *Tx, from Chat) {
	w.t.Helper()
	_, err := tx.Chat(from.ID)
	wants(w.t, "the chat of the meantime", err, ErrNotFound)
	m, err := tx.MessageByKey(-100, w.next)
	if err != nil || m.Chat != w.cellar.ID {
		w.t.Errorf("its message: %+v, %v", m, err)
	}
	outs, err := tx.RecentOut(w.cellar.ID, 9)
	if err != nil || len(outs) != 1 {
		w.t.Errorf("its answers: %d, %v", len(outs), err)
	}
	if bs := outs[0].Buttons; len(bs) != 1 || bs[0].Chat != w.cellar.ID {
		w.t.Errorf("its buttons: %+v", bs)
	}
	if _, err := tx.OpenQuestion(w.cellar.ID, w.tom.ID); err != nil {
		w.t.Errorf("its question: %v", err)
	}
	if fs, err := tx.Focuses(w.cellar.ID); err != nil || len(fs) != 1 {
		w.t.Errorf("its focus: %+v, %v", fs, err)
	}
	if ms, err := tx.MembersOf(w.cellar.ID); err != nil || len(ms) != 1 {
		w.t.Errorf("its people: %+v, %v", ms, err)
	}
}

// TestMergeKeepsTheFirst: where both chats have the same thing once a member, the
// old chat's stays and nothing clashes.
func TestMergeKeepsTheFirst(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		there, err := tx.PutChat(Chat{Book: w.a.ID, Platform: "script", PlatformID: -100, Kind: "group", Admitted: true})
		if err != nil {
			return err
		}
		for i, c := range []Chat{w.cellar, there} {
			if err := tx.SetFocus(c.ID, w.tom.ID, i+1, noon.Add(time.Duration(i)*time.Hour)); err != nil {
				return err
			}
			if _, err := tx.PutQuestion(Question{Book: w.a.ID, Chat: c.ID, Member: w.tom.ID, Kind: c.Title, Payload: []byte("{}"), Asked: noon}); err != nil {
				return err
			}
		}
		if err := tx.MigrateChat("script", -1, -100); err != nil {
			return err
		}
		fs, err := tx.Focuses(w.cellar.ID)
		if len(fs) != 1 || fs[0].Batch != 1 {
			t.Errorf("focus %+v", fs)
		}
		q, err2 := tx.OpenQuestion(w.cellar.ID, w.tom.ID)
		if q.Kind != "Cellar" {
			t.Errorf("question %+v", q)
		}
		if err != nil {
			return err
		}
		return err2
	})
}
