package store

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"mustbook/ferment"
)

const chatter = "Zwetschgenkuchen"

// found lists the files of a folder that hold a text anywhere.
func found(t testing.TB, dir, text string) (names []string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		b, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(b, []byte(text)) {
			names = append(names, f.Name())
		}
	}
	return names
}

// TestIgnoredTalkIsGone sends talk of many lengths, so that pages split and rows
// overflow, ends it, and looks for it in the database, its log and a backup.
func TestIgnoredTalkIsGone(t *testing.T) {
	w := mustWorld(t)
	dir := filepath.Dir(w.db.path)
	w.update(func(tx *Tx) error {
		var rows []InRow
		for n := range int64(300) {
			r := inRow(n)
			r.Raw = []byte(fmt.Sprintf(`{"text":"%s %s"}`, bytes.Repeat([]byte("x"), int(n*n%7000)), chatter))
			rows = append(rows, r)
		}
		return tx.PutInbox(rows, 301)
	})
	if len(found(t, dir, chatter)) == 0 {
		t.Fatal("the test looks in the wrong place: nothing was found while it waited")
	}
	w.update(func(tx *Tx) error {
		rows, err := tx.NextInbox(1000)
		for i, r := range rows {
			m := w.say(tx, "and "+chatter, noon) // what the handling of each makes in passing
			if err := tx.DropMessage(m.ID); err != nil {
				return err
			}
			if i%10 == 0 {
				w.log(tx, 1.049, noon)
			}
			if err := tx.FinishInbox(false, r.Seq); err != nil {
				return err
			}
		}
		return err
	})
	if err := w.db.Checkpoint(ctx); err != nil {
		t.Fatal(err)
	}
	if _, err := w.db.Backup(ctx, filepath.Join(dir, "copy.db")); err != nil {
		t.Fatal(err)
	}
	if names := found(t, dir, chatter); len(names) != 0 {
		t.Errorf("still in %v", names)
	}
	if len(found(t, dir, "m-1/299")) == 0 {
		t.Error("the keys must stay for 48 h, or it would be read again")
	}
	w.update(func(tx *Tx) error { return tx.PruneInbox(noon.AddDate(0, 0, 2)) })
	if err := w.db.Checkpoint(ctx); err != nil {
		t.Fatal(err)
	}
	if n := names(found(t, dir, "m-1/299")); n != "copy.db" {
		t.Errorf("after the pruning the key is in %q", n)
	}
}

// size of the main file, with its log brought in.
func size(t testing.TB, path string) int64 {
	t.Helper()
	st, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return st.Size()
}

func names(list []string) string { return fmt.Sprint(list)[1 : len(fmt.Sprint(list))-1] }

// TestForgottenIsGone fills a book with a word in every text there is, forgets it,
// and looks for the word on the disk. The other book loses nothing.
func TestForgottenIsGone(t *testing.T) {
	w := mustWorld(t)
	dir := filepath.Dir(w.db.path)
	nightly := filepath.Join(t.TempDir(), "nightly")
	w.update(func(tx *Tx) error { w.fillWith(tx, chatter); return nil })
	var south []ferment.Entry
	w.update(func(tx *Tx) (err error) {
		m := w.sayIn(tx, w.shed, w.eve, "sg 1.060", noon)
		south, err = tx.AddEntries(w.b.ID, []ferment.Entry{gravity(m, w.quince, 0, 1.060)})
		return err
	})
	if _, err := w.db.BackupNightly(ctx, nightly, noon); err != nil {
		t.Fatal(err)
	}
	w.update(func(tx *Tx) error {
		if err := tx.Forget(w.a.ID); err != nil {
			return err
		}
		if held, err := tx.Holds(w.a.ID); err != nil || held {
			t.Errorf("still holds %v, %v", held, err)
		}
		wants(t, "a book that is not there", tx.Forget(99), ErrNotFound)
		// It must be told, and may begin anew.
		if _, _, err := tx.Enqueue(Out{Book: w.a.ID, Chat: w.private.ID, Source: "told", Kind: "reply", Created: noon}); err != nil {
			return err
		}
		if n, err := tx.NewBatch(w.a.ID, noon); err != nil || n != 1 {
			t.Errorf("first batch anew is %d, %v", n, err)
		}
		e, err := tx.Entry(w.b.ID, south[0].Root)
		if e.Value != 1.060 {
			t.Errorf("the other book's reading: %+v", e)
		}
		return err
	})
	if err := w.db.Checkpoint(ctx); err != nil {
		t.Fatal(err)
	}
	full := size(t, w.db.path)
	for _, want := range []bool{true, false} { // the second finds nothing to do
		if err := w.db.Tidy(ctx); err != nil {
			t.Fatal(err)
		}
		if now := size(t, w.db.path); now < full != want {
			t.Errorf("the file had %d bytes and has %d, rewritten is to be %v", full, now, want)
		}
		full = size(t, w.db.path)
	}
	if names := found(t, dir, chatter); len(names) != 0 {
		t.Errorf("still in %v", names)
	}
	forgetBackups(t, w, nightly)
}

func forgetBackups(t *testing.T, w *world, dir string) {
	t.Helper()
	for _, want := range []int{1, 0} {
		holding, err := HoldingBackups(ctx, dir, w.a.ID)
		if err != nil || len(holding) != want {
			t.Fatalf("%d backups hold it, want %d (%v)", len(holding), want, err)
		}
		for _, p := range holding {
			if err := ForgetInBackup(ctx, p, w.a.ID); err != nil {
				t.Fatal(err)
			}
			if err := ForgetInBackup(ctx, p, 99); err != nil {
				t.Errorf("a book that the backup never had: %v", err)
			}
		}
	}
	if names := found(t, dir, chatter); len(names) != 0 {
		t.Errorf("still in the backups %v", names)
	}
	if holding, err := HoldingBackups(ctx, dir, w.b.ID); err != nil || len(holding) != 1 {
		t.Errorf("the other book is in %v, %v", holding, err)
	}
}

// fillWith puts a word into every text and blob of the first book.
func (w *world) fillWith(tx *Tx, word string) {
	w.t.Helper()
	raw := []byte(word)
	m := w.say(tx, word, noon)
	e := full(m, w.damson)
	e.Text, e.Material, e.Typed, e.By = word, word, word, word
	_, err := tx.AddEntries(w.a.ID, []ferment.Entry{e})
	_, _, err2 := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "1", Kind: "reply", Text: word, Render: word, Created: noon,
		Buttons: []Button{{Label: word, Action: raw, Expires: noon}}})
	sent, _, err3 := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "2", Kind: "reply", Text: word, Render: word, Created: noon})
	_, err4 := tx.PutQuestion(Question{Book: w.a.ID, Chat: w.cellar.ID, Member: w.tom.ID, Kind: word, Payload: raw, Asked: noon})
	_, err5 := tx.AddPhoto(Photo{Book: w.a.ID, Batch: 1, FileID: word, JPEG: bytes.Repeat(raw, 5000), Barcode: word, At: noon})
	_, _, err6 := tx.AddSaid(SaidRow{Book: w.a.ID, Rule: "R0", Kind: "batch", N: 1, Answer: word, MadeAt: noon, Due: noon})
	in := inRow(1)
	in.Raw = raw
	for _, err := range []error{err, err2, err3, err4, err5, err6, tx.MarkSent(sent, 5, noon), tx.UpdateMessageText(w.a.ID, m.ID, word+"!", noon),
		tx.PutForecast(w.a.ID, 1, 1, raw), tx.PutInbox([]InRow{in}, 2), tx.FinishInbox(true, 1), tx.SetNextDue(Subject{w.a.ID, "batch", 1, noon}),
		tx.SetFocus(w.cellar.ID, w.nora.ID, 1, noon)} {
		if err != nil {
			w.t.Fatal(err)
		}
	}
}
