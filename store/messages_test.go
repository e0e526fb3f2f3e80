package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestMessageKeepsEveryField(t *testing.T) {
	w := mustWorld(t)
	m := Message{Book: w.a.ID, Chat: w.cellar.ID, Member: w.nora.ID, OriginChat: -1, PlatformMessage: 500, Text: "sg <1.049>", At: noon,
		EditDate: noon, ReplyTo: 4, Thread: 5, Kind: "photo"}
	w.update(func(tx *Tx) error {
		kept, dup, err := tx.AddMessage(m)
		if dup {
			t.Error("new, but called a double")
		}
		m.ID = kept.ID
		for _, name := range zeroFields(m) {
			t.Errorf("field %s is not set in this test", name)
		}
		again, dup, err2 := tx.AddMessage(Message{Book: w.a.ID, Chat: w.cellar.ID, OriginChat: -1, PlatformMessage: 500, Text: "other", At: noon})
		m.EditDate = time.Time{} // a new message has not been edited, whatever it says
		if d := cmp.Diff(m, again); !dup || d != "" {
			t.Errorf("redelivered: dup %v %s", dup, d)
		}
		if err != nil {
			return err
		}
		return err2
	})
}

func TestEditKeepsTheOldText(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		m := w.say(tx, "sg 1.049", noon)
		later := noon.Add(time.Minute)
		for i, text := range []string{"sg 1.048", "sg 1.047"} {
			if err := tx.UpdateMessageText(w.a.ID, m.ID, text, later.Add(time.Duration(i)*time.Minute)); err != nil {
				return err
			}
		}
		got, err := tx.Message(w.a.ID, m.ID)
		if got.Text != "sg 1.047" || !got.EditDate.Equal(later.Add(time.Minute)) {
			t.Errorf("got %+v", got)
		}
		old, err2 := tx.EditsOf(w.a.ID, m.ID)
		if d := cmp.Diff([]Edit{{"sg 1.049", later}, {"sg 1.048", later.Add(time.Minute)}}, old); d != "" {
			t.Error(d)
		}
		if err != nil {
			return err
		}
		return err2
	})
}

// TestDroppedIdIsNotReused: the key of the answer to a message holds its id, so
// that a second message with that id would never be answered.
func TestDroppedIdIsNotReused(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		first := w.say(tx, "what's for lunch", noon)
		if err := tx.DropMessage(first.ID); err != nil {
			return err
		}
		_, err := tx.Message(w.a.ID, first.ID)
		wants(t, "a dropped message", err, ErrNotFound)
		if second := w.say(tx, "sg 1.049", noon); second.ID == first.ID {
			t.Error("the id of a dropped message came back")
		}
		return nil
	})
}

func TestDropKeepsWhatMadeAnEntry(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		e := w.log(tx, 1.049, noon)
		if err := tx.VoidRoots(w.a.ID, []int64{e.Root}, w.nora.ID, noon); err != nil {
			return err
		}
		if err := tx.DropMessage(e.Message); err != nil {
			return err
		}
		_, err := tx.Message(w.a.ID, e.Message) // taken back is not unsaid
		return err
	})
}

func TestNewest(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		first := w.log(tx, 1.049, noon)
		second := w.log(tx, 1.048, noon) // the same minute: the later id is newer
		w.say(tx, "hello", noon.Add(time.Minute))
		newest := func(member int64, since time.Time) int64 {
			m, err := tx.NewestOf(w.a.ID, member, since)
			if err != nil {
				wants(t, "newest", err, ErrNotFound)
			}
			return m.ID
		}
		if got := newest(w.nora.ID, noon); got != second.Message {
			t.Errorf("newest is message %d, want %d", got, second.Message)
		}
		if err := tx.VoidRoots(w.a.ID, []int64{second.Root}, w.nora.ID, noon); err != nil {
			return err
		}
		if got := newest(w.nora.ID, noon); got != first.Message {
			t.Errorf("after an undo it is %d, want %d", got, first.Message)
		}
		if got := newest(w.nora.ID, noon.Add(time.Second)); got != 0 {
			t.Errorf("since a second later it is %d", got)
		}
		if got := newest(w.tom.ID, noon); got != 0 {
			t.Errorf("tom's is %d", got)
		}
		m, err := tx.NewestOfAll(w.a.ID, noon)
		if m.ID != first.Message {
			t.Errorf("of all: %d", m.ID)
		}
		return err
	})
}
